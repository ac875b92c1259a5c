"""What to grow together: how far apart, and whether one bath can suit every crop on the raft."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import combinations
from operator import attrgetter
from typing import TYPE_CHECKING

from ..data import crops as data
from ..data import roots
from ..declare import Choice, Field, Result, Row, Table, Verdict
from . import scheme
from .verdicts.crops import judge

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "crops"
TITLE = "Crops"
QUESTION = "What shall I grow, and does one bath suit it all?"
VERDICT = Verdict("Crops", {"fits": "The crops go together.", "tight": "The crops part.", "fails": "Not on a raft.",
                            "open": "The crops need an answer."})

MOST_CROPS = 8

SMALL, MIDDLE, LARGE = "small", "middle", "large"
FLOATS, RESTS, FIXED = "floats", "rests", "fixed"
# What of a head is left where the board sinks with the water of a still bath, beside one that stays up.
SITTING = {FLOATS: 0.81, RESTS: 0.93, FIXED: 1.0}
SITTING_SOURCE = ("Growing lettuce in non-aerated, non-circulated hydroponic systems (University of Hawaii), abstract: "
                  "19 % less where the board floats, 7 % less where it comes to rest, seven crops of a year")

FIELDS = (
    Field("crops.heads", "choice", "Size at harvest", (MIDDLE, MIDDLE), choices=(
        Choice(SMALL, "Small: the low end, cut young or in poor light"), Choice(MIDDLE, "Middling: halfway"),
        Choice(LARGE, "Large: the high end, long and bright")),
        help="weight, drink and load follow it", why="the middle of what sources give; your own scale is better"),
    Field("crops.board_sits", "choice", "Board as the water falls", (FLOATS, FLOATS), choices=(
        Choice(FLOATS, "Floats down with it"), Choice(RESTS, "Floats, then rests on supports"),
        Choice(FIXED, "Stays up on the frame")),
        help="roots in moist air under a board that stays up get more oxygen",
        why=f"a raft floats; heads are then smaller: {SITTING_SOURCE}", when=((scheme.KEY, (scheme.STILL,)),)),
)
TABLES = (
    Table("crops.rows", "Crops on the raft", (
        Field("crop", "choice", "Crop", choices=tuple(
            Choice(one.key, one.name, f"on a raft: {data.FITNESS[one.fitness.text]}") for one in data.CROPS)),
        Field("share", "ratio", "Share of the sites", minimum=0.0, maximum=1.0, us="%", metric="%", optional=True,
              help="empty: an equal part of what the others leave"),
        Field("sites", "whole", "Or number of sites", minimum=1, maximum=100000, optional=True,
              help="in all baths; for every crop or for none"),
        Field("nursery_days", "whole", "Your own days in the nursery", minimum=1, maximum=200, optional=True,
              help="from seed or cutting to the raft; empty: from the crop table"),
        Field("raft_days", "whole", "Your own days on the raft", minimum=1, maximum=200, optional=True,
              help="from the raft's hole to the first cut; empty: from the crop table"),
    ), rows=({"crop": "leaf lettuce"},), identity="crop", max_rows=MOST_CROPS,
        help="one crop is the easiest bath to run; all that share it need alike",
        why="leaf lettuce: quick, forgiving and at home on a raft; common practice, no published source"),
)

RESULTS = (
    Result("crops.names", "text", "Crops"),
    Result("crops.spacing", "length", "Spacing that gives every crop room", "in", "mm", 16),
    Result("crops.ec_low", "conductivity", "EC that suits all, from", "mS/cm", "mS/cm"),
    Result("crops.ec_high", "conductivity", "EC that suits all, to", "mS/cm", "mS/cm"),
    Result("crops.ph_low", "number", "pH that suits all, from"),
    Result("crops.ph_high", "number", "pH that suits all, to"),
    Result("crops.root_low", "temperature", "Water temperature that suits all, from", "F", "C"),
    Result("crops.root_high", "temperature", "Water temperature that suits all, to", "F", "C"),
    Result("crops.dli_low", "daily_light", "Light of a day that suits all, from", "mol/m2/d", "mol/m2/d"),
    Result("crops.dli_high", "daily_light", "Light of a day that suits all, to", "mol/m2/d", "mol/m2/d"),
    Result("crops.water_low", "volume", "Water a plant drinks in a day late in the crop, from", "fl oz", "L"),
    Result("crops.water_high", "volume", "Water a plant drinks in a day late in the crop, to", "fl oz", "L"),
    Result("crops.fresh_mass", "mass", "Harvest of one plant", "oz", "g"),
    Result("crops.root_stage", "text", "Roots counted as"),
    Result("crops.conflicts", "rows", "Where two crops part"),
    Result("crops.table", "rows", "The crops you chose, with sources"),
)


WHERE = {SMALL: "low end of the range", MIDDLE: "middle between low and high", LARGE: "high end of the range"}


@dataclass(frozen=True)
class Need:
    """One need that all plants of a bath share: the crop's cell, its result keys, its name and its kind of quantity."""

    cell: str
    key: str
    name: str
    kind: str
    us: str
    metric: str
    advice: str


NEEDS = (
    Need("ec", "ec", "EC", "conductivity", "mS/cm", "mS/cm", "Grow them in two baths, or choose one of them."),
    Need("ph", "ph", "pH", "number", "", "", "Grow them in two baths, or choose one of them."),
    Need("root", "root", "Water temperature", "temperature", "F", "C",
         "Grow the cool one in the cool season or in a bath of its own."),
    Need("dli", "dli", "Light", "daily_light", "mol/m2/d", "mol/m2/d",
         "Put the one that uses more under the lamp's middle, or light two rafts apart."),
)


@dataclass(frozen=True)
class Chosen:
    """A crop with its part of the raft: ``share`` of all sites (0 to 1), or a number of ``sites``; days where typed."""

    crop: data.Crop
    share: float
    sites: int | None
    nursery_days: int | None
    raft_days: int | None


def common(cells: Sequence[data.Cell]) -> tuple[float, float] | None:
    """The range inside every cell's range, or ``None`` where there is none."""
    low, high = max(one.low for one in cells), min(one.high for one in cells)
    return (low, high) if low <= high else None


def chosen(sheet: Sheet) -> list[Chosen]:
    """The crops with their shares; a fault where the rows contradict each other."""
    rows = sheet.rows("crops.rows")
    if not rows:
        sheet.fault("crops.rows", "Crops on the raft: choose at least one crop.")
    crops = [data.BY_KEY[row["crop"]] for row in rows]
    for number, crop in enumerate(crops):
        if crop in crops[:number]:
            sheet.fault("crops.rows", f"Crops on the raft: {crop.name} stands here twice; keep one row and give it the "
                        "whole share.")
    counted = [row["sites"] for row in rows]
    if any(count is not None for count in counted):
        shares = _by_count(sheet, rows, counted)
    else:
        shares = _by_share(sheet, rows, crops)
    return [Chosen(crop, share, row["sites"], row["nursery_days"], row["raft_days"])
            for crop, share, row in zip(crops, shares, rows, strict=True)]


def _by_count(sheet: Sheet, rows: list[Row], counted: list[int | None]) -> list[float]:
    sites = [count for count in counted if count is not None]
    if len(sites) < len(counted) or any(row["share"] is not None for row in rows):
        sheet.fault("crops.rows", "Crops on the raft: give every crop a number of sites, or give none of them one; "
                    "and no share beside a number.")
    return [count / sum(sites) for count in sites]


def _by_share(sheet: Sheet, rows: list[Row], crops: list[data.Crop]) -> list[float]:
    typed = [row["share"] for row in rows]
    given = sum(share for share in typed if share is not None)
    open_rows = sum(share is None for share in typed)
    if given > 1.0 + 1e-9:
        sheet.fault("crops.rows", f"Crops on the raft: the shares come to {sheet.show(given, 'ratio', '%', '%')}; "
                    "together they may be 100 % at most.")
    each = (1.0 - given) / open_rows if open_rows else 0.0
    shares = [each if share is None else share for share in typed]
    for crop, share in zip(crops, shares, strict=True):
        if share <= 1e-9:
            sheet.fault("crops.rows", f"Crops on the raft: no share is left for {crop.name}; give it more than 0 %, or "
                        "remove its row.")
    return shares


def _weighted(found: list[Chosen], of: Callable[[data.Crop], float]) -> float:
    """Mean over all plants; the shares may leave a part of the raft empty."""
    return sum(one.share * of(one.crop) for one in found) / sum(one.share for one in found)


def _sources(found: list[Chosen], *cells: str) -> str:
    parts = dict.fromkeys(f"{one.source} ({one.status})" for item in found
                          for one in (getattr(item.crop, cell) for cell in cells))
    return "; ".join(parts)


def _entry(crop: data.Crop, name: str) -> Row:
    cell = getattr(crop, name)
    return {"low": cell.low, "high": cell.high, "source": cell.source, "status": cell.status, "note": cell.note}


def names(sheet: Sheet) -> None:
    """Which crops, how far apart, and what their roots count as."""
    found = chosen(sheet)
    sheet.put("crops.names", ", ".join(one.crop.name for one in found), note="As you chose them.")
    widest = max(found, key=lambda one: one.crop.spacing_for(sheet.system)).crop
    several = " The crops need different spacings; this is the widest of them." if len(found) > 1 else ""
    sheet.put("crops.spacing", widest.spacing_for(sheet.system),
              note=f"A round figure within the range for {widest.name}.{several}",
              source=f"{widest.spacing.source} ({widest.spacing.status}); round figure: "
                     f"{widest.planned_spacing.status}")
    narrow = min(one.crop.spacing_for(sheet.system) for one in found)
    if narrow < 0.8 * widest.spacing_for(sheet.system):
        sheet.caution("crops-spacing", "note",
                      f"Spacing: one board is drilled for the widest, {widest.name}; the smaller crops then get more "
                      "room than they need. Two boards, one drilled closer, hold more.", lead="One spacing",
                      brief=f"One board is drilled for the widest crop, {widest.name}.")
    stage = max((one.crop.stage.text for one in found), key=lambda key: roots.ROOT_MASS_G[key].likely)
    sheet.put("crops.root_stage", stage, note=f"{roots.ROOT_WORDS[stage]}: the largest roots among your crops at "
              "harvest.", source=_sources(found, "stage"))
    sheet.put("crops.table", [_row(one, sheet.system) for one in found],
              note="Ranges as the sources give them; none is sharp.")


def _row(one: Chosen, system: str) -> Row:
    crop = one.crop
    row = {"crop": crop.key, "name": crop.name, "share": one.share, "sites": one.sites,
           "spacing_planned": crop.spacing_for(system), **{name: _entry(crop, name) for name in data.CELLS}}
    for name in data.WORDS:
        words = getattr(crop, name)
        row[name] = {"text": words.text, "source": words.source, "status": words.status, "note": words.note}
    return row


def _show(sheet: Sheet, value: float, need: Need) -> str:
    return sheet.show(value, need.kind, need.us, need.metric)


def _range(sheet: Sheet, cell: data.Cell, need: Need) -> str:
    low, high = _show(sheet, cell.low, need), _show(sheet, cell.high, need)
    return low if low == high else f"{low} to {high}"


def needs(sheet: Sheet) -> None:
    """The range inside every crop's range, for each need of the shared water and light; or where they part."""
    found = chosen(sheet)
    rows = []
    for need in NEEDS:
        cells = [getattr(one.crop, need.cell) for one in found]
        both = common(cells)
        if both:
            for end, value in zip(("low", "high"), both, strict=True):
                sheet.put(f"crops.{need.key}_{end}", value, source=_sources(found, need.cell),
                          note="The part that the ranges of all your crops share." if len(found) > 1 else
                          "The range of your crop.")
            if len(found) > 1 and both[0] == both[1]:
                sheet.caution(f"crops-{need.key}", "note",
                              f"{need.name}: the usual ranges of your crops only just meet, at "
                              f"{_show(sheet, both[0], need)}. Expect one or the other to sulk.",
                              lead=f"{need.name} of crops",
                              brief=f"The usual ranges of your crops only just meet, at {_show(sheet, both[0], need)}.")
            continue
        clashes = [_conflict(need, *pair) for pair in combinations((one.crop for one in found), 2)]
        pairs = sorted((pair for pair in clashes if pair), key=lambda pair: -pair["gap"])
        rows += pairs
        _warn(sheet, need, pairs[0])
    sheet.put("crops.conflicts", rows, note="Pairs of crops whose usual ranges do not meet.")


def _conflict(need: Need, one: data.Crop, other: data.Crop) -> Row | None:
    less, more = sorted((one, other), key=lambda crop: getattr(crop, need.cell).high)
    lower, upper = getattr(less, need.cell), getattr(more, need.cell)
    if upper.low <= lower.high:
        return None
    return {"what": need.name, "less": less.key, "less_low": lower.low, "less_high": lower.high, "more": more.key,
            "more_low": upper.low, "more_high": upper.high, "gap": upper.low - lower.high}


def _warn(sheet: Sheet, need: Need, pair: Row) -> None:
    less, more = data.BY_KEY[pair["less"]], data.BY_KEY[pair["more"]]
    text = (f"{need.name}: {less.name} is usually kept at {_range(sheet, getattr(less, need.cell), need)}, {more.name} "
            f"at {_range(sheet, getattr(more, need.cell), need)}. No one setting suits both, so none is given here. ")
    trial = next((crop for crop in (less, more) if crop.ec_trial), None)
    if need.cell == "ec" and trial and trial.ec_trial:
        other = more if trial is less else less
        text += (f"{trial.name} grew alike from {_range(sheet, trial.ec_trial, need)} in a trial "
                 f"({trial.ec_trial.source}), so mix it as {other.name} asks.")
    else:
        text += need.advice
    sheet.caution(f"crops-{need.key}", "warning", text, lead=f"{need.name} of crops",
                  brief=f"No one setting suits both {less.name} and {more.name}.")


def drink(sheet: Sheet) -> None:
    """What a plant drinks and weighs, averaged over the raft."""
    found = chosen(sheet)
    mean = ", averaged by their shares" if len(found) > 1 else ""
    for end in ("low", "high"):
        sheet.put(f"crops.water_{end}", _weighted(found, attrgetter(f"water.{end}")),
                  note=f"The {end} end of the planning figures{mean}. Only for lettuce and basil was anything "
                  "published found.", source=_sources(found, "water"))
    size, source = sheet.text("crops.heads"), _sources(found, "mass")
    # The middle of a range, or one of its ends.
    place = {SMALL: 0.0, MIDDLE: 0.5, LARGE: 1.0}[size]
    mass = _weighted(found, lambda crop: crop.mass.low + place * (crop.mass.high - crop.mass.low))
    note = f"The {WHERE[size]}{mean}."
    if sheet.text(scheme.KEY) == scheme.STILL:
        share = SITTING[sheet.text("crops.board_sits")]
        mass *= share
        if share < 1.0:
            note = (f"{note.rstrip('.')}, less {1.0 - share:.0%}, as lettuce lost where the board went down with the "
                    "water.")
            source = f"{source}; {SITTING_SOURCE}"
    sheet.put("crops.fresh_mass", mass, note=note, source=source)


def fitness(sheet: Sheet) -> None:
    """Crops that a raft does not suit, and those that can hurt someone."""
    found = [one.crop for one in chosen(sheet)]
    for crop in found:
        if crop.fitness.text in ("risky", "poor", "no"):
            level = "note" if crop.fitness.text == "risky" else "warning"
            sheet.caution(f"crops-fit-{crop.key.replace(' ', '-')}", level,
                          f"{crop.name}: {data.FITNESS[crop.fitness.text]}; {crop.fitness.note}.",
                          lead=f"{crop.name} on rafts", brief=f"{data.FITNESS[crop.fitness.text].capitalize()}.")
    keys = {crop.key for crop in found}
    if "mint" in keys and len(keys) > 1:
        sheet.caution("crops-mint", "note", "Mint: its roots grow into every other pot. Give it a raft of its own.",
                      lead="Mint spreads", brief="Its roots grow into every other pot: give it a raft of its own.")
    if "watercress" in keys:
        sheet.caution("crops-watercress", "danger",
                      "Watercress: grow it only in drinking water, and never take plants or water from streams or "
                      "grazing land. Liver fluke gets into people that way, and washing does not remove it.",
                      lead="Watercress and fluke",
                      brief="Only drinking water, never wild plants: liver fluke is not washed off.")


STEPS = (names, needs, drink, fitness, judge)
