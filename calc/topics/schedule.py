"""When to sow, move and cut so that the harvest comes week by week and the raft is never asked for a site it lacks."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from math import ceil, floor
from typing import TYPE_CHECKING

from ..data import crops as data
from ..data import roots
from ..declare import Choice, Field, Result, Row, Verdict
from ..relations import schedule as counting
from ..relations.base import MEMORY, PRACTICE
from . import crops as growing, growing_room
from .verdicts import counted
from .verdicts.schedule import judge

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "schedule"
TITLE = "Calendar"
QUESTION = "When do I sow, move and cut, so that every week has its harvest?"
VERDICT = Verdict("Harvests", {"fits": "The sites are enough.", "tight": "Many sites stay empty.",
                               "fails": "Too few sites.", "open": "The calendar needs an answer."})

HAIR = 1e-9
SITES, HEADS, ONE, TWO = "sites", "heads", "one", "two"
SPLIT_OFF = 0.05
CLOSE = (("schedule.stages", (TWO,)),)
INVENTED = "an invented example"
JUDGMENT = "engineering judgment, no source"

FIELDS = (
    Field("schedule.aim", "choice", "The calendar works from", (SITES, SITES), choices=(
        Choice(SITES, "The sites I have: fill my raft"), Choice(HEADS, "The heads I want each week")),
        help="either way it never uses more sites than your boards have", why="most people build the raft first"),
    Field("schedule.heads", "whole", "Heads wanted each week", ("5", "5"), 1, 20000,
          help="all crops together; a cut bunch counts as a head", why=INVENTED,
          when=(("schedule.aim", (HEADS,)),)),
    Field("schedule.sites", "whole", "Sites for this calendar", ("", ""), 1, 100000, optional=True,
          help="left empty, every site of every bath", why="empty: the whole raft"),
    Field("schedule.start", "date", "First day of sowing", ("2027-03-01", "2027-03-01"),
          help="year-month-day; all other dates are counted from it",
          why="an invented example: a Monday at the beginning of spring in the north; a fixed day, so that the page "
              "says the same whenever it is read"),
    Field("schedule.weeks", "whole", "Weeks of sowing", ("16", "16"), 1, 60,
          help="sowing stops after these; the last batches still grow on", why="a guess: about a season"),
    Field("schedule.every", "whole", "Days between sowings", ("7", "7"), 1, 60,
          help="7 is the same weekday every week", why=f"one weekday for sowing, moving and cutting; {PRACTICE}"),
    Field("schedule.pace", "choice", "How fast crops grow here", ("slow", "slow"), choices=(
        Choice("slow", "Slow: the long end of each range"), Choice("middle", "Middling: halfway"),
        Choice("fast", "Fast: the short end, bright and warm")),
        help="the crop table gives ranges; your own notes are better",
        why="the long end: a batch that is late would stand in the next one's holes"),
    Field("schedule.germination", "ratio", "Seeds that come up", ("85 %", "85 %"), 0.05, 1.0, "%", "%",
          help="or cuttings that root; the packet or your last tray tells",
          why=f"10 to 15 % do not come up; {MEMORY}"),
    Field("schedule.culls", "ratio", "Seedlings thrown out as weak", ("5 %", "5 %"), 0.0, 0.95, "%", "%",
          help="when you move to the raft, keep only the even ones", why=MEMORY),
    Field("schedule.raft_loss", "ratio", "Plants lost on the raft", ("0 %", "0 %"), 0.0, 0.9, "%", "%",
          help="they hold a site and give no harvest", why="0: the weak ones are out already; enter your own"),
    Field("schedule.turnaround", "whole", "Rest between two plants", ("0", "0"), 0, 60,
          help="days a site stands empty for a scrub; 0: planted at once",
          why="the usual way; a rest costs sites"),
    Field("schedule.stages", "choice", "Spacing on the raft", (ONE, ONE), choices=(
        Choice(ONE, "One spacing from first day to last"), Choice(TWO, "Close at first, then moved apart")),
        help="young plants need less room; moving takes a second board", why="the least work"),
    Field("schedule.close_spacing", "length", "Close spacing", ("4 in", "100 mm"), 0.02, 3.0, "in",
          "mm", help="center to center, of the board for young plants",
          why=f"97 plants to a square meter: Cornell CEA lettuce handbook, {MEMORY}", when=CLOSE),
    Field("schedule.close_days", "whole", "Days at close spacing", ("10", "10"), 1, 100,
          help="after the nursery, before they are moved apart",
          why=f"Cornell CEA lettuce handbook, {MEMORY}", when=CLOSE),
    *growing_room.FIELDS,
)
TABLES = ()

RESULTS = (
    Result("schedule.sites_available", "count", "Sites for this calendar, in all baths"),
    Result("schedule.sites_needed", "count", "Sites that your wish needs, in all"),
    Result("schedule.fits", "yesno", "The wish fits"),
    Result("schedule.sites_used", "count", "Sites used in the fullest week, in all baths"),
    Result("schedule.heads_per_week", "number", "Heads a week, as planned, from all baths"),
    Result("schedule.most_heads", "number", "Heads a week from all baths if no site ever stood empty"),
    Result("schedule.heads_per_batch", "count", "Heads from one sowing, in all baths"),
    Result("schedule.seeds_per_batch", "count", "Seeds or cuttings for one sowing, for all baths"),
    Result("schedule.nursery_cells", "count", "Cells in the nursery at its fullest, for all baths"),
    Result("schedule.close_places", "count", "Places at close spacing at the fullest, for all baths"),
    *growing_room.RESULTS,
    Result("schedule.sowings", "count", "Sowings in the calendar"),
    Result("schedule.seeds_total", "count", "Seeds or cuttings in all"),
    Result("schedule.first_harvest", "date", "First harvest"),
    Result("schedule.last_harvest", "date", "Last harvest"),
    Result("schedule.per_crop", "rows", "Each crop's part"),
    Result("schedule.batches", "rows", "Sowings with their dates"),
    Result("schedule.busy", "rows", "Sites busy by week"),
    Result("schedule.grown_plants", "number", "Roots in the heaviest week, as full-grown plants in all baths"),
)


@dataclass(frozen=True)
class Stay:
    """How long one crop takes: days in the nursery, close and wide on the raft (wide with its rest), and ``early``, the
    days by which the harvest may come sooner; ``room`` is the part of a site that a close place takes, ``again`` the
    days on the raft after the first cut."""

    nursery: int
    close: int
    wide: int
    rest: int
    early: int
    room: float
    again: int = 0

    @property
    def site_days(self) -> float:
        """Days of one whole site that a plant costs."""
        return self.close * self.room + self.wide + self.rest

    def sites(self, plants: int, every: int) -> int:
        """Most sites busy at once with so many plants in a batch; never falls as ``plants`` grows."""
        close = counting.overlapping_batches(days=self.close, every_days=every) if self.close else 0
        wide = counting.overlapping_batches(days=self.wide + self.rest, every_days=every)
        return ceil(self.room * close * plants - HAIR) + wide * plants

    def most_plants(self, sites: int, every: int) -> int:
        """Largest batch that these sites can hold, 0 where not even one plant fits."""
        if sites < 1:
            return 0
        plants = floor(sites / max(self.sites(1000, every) / 1000.0, HAIR)) + 1
        while plants and self.sites(plants, every) > sites:
            plants -= 1
        while self.sites(plants + 1, every) <= sites:
            plants += 1
        return plants


@dataclass(frozen=True)
class Part:
    """One crop's place in the calendar: plants that each batch sets on the raft, and what they start from."""

    crop: data.Crop
    stay: Stay
    plants: int
    heads: int
    cells: int
    seeds: int
    wanted: int
    needed: int
    quota: int


def pick(cell: data.Cell, own: int | None, pace: str) -> tuple[int, int]:
    """(days planned, days by which it may come sooner) for a cell of days, the reader's own number first."""
    if own is not None:
        return own, 0
    days = {"slow": cell.high, "middle": ceil((cell.low + cell.high) / 2), "fast": cell.low}[pace]
    return int(days), int(days - cell.low)


def stays(sheet: Sheet, found: list[growing.Chosen], pace: str) -> list[Stay]:
    """The days of each crop; a fault where the close stage does not fit in."""
    longer = growing_room.again_days(sheet)
    days = [(pick(one.crop.nursery, one.nursery_days, pace)[0], *pick(one.crop.raft, one.raft_days, pace))
            for one in found]
    again = [longer if one.crop.key in data.REPEAT else 0 for one in found]
    close, room = 0, 0.0
    if sheet.text("schedule.stages") == TWO:
        close, room = sheet.whole("schedule.close_days"), _close_room(sheet)
        shortest = min(raft for _, raft, _ in days)
        if close >= shortest:
            sheet.fault("schedule.close_days", f"Days at close spacing must end before the harvest: the shortest stay "
                        f"on the raft is {shortest} days, so enter {shortest - 1} or less."
                        if shortest > 1 else "Days at close spacing must end before the harvest, and a crop of yours "
                        "stays on the raft for 1 day only: choose one spacing.")
    return [Stay(nursery, close, raft - close + more, sheet.whole("schedule.turnaround"), min(early, raft - close),
                 room, more) for (nursery, raft, early), more in zip(days, again, strict=True)]


def _close_room(sheet: Sheet) -> float:
    close, full, pot = sheet["schedule.close_spacing"], sheet.result("board.spacing_used"), sheet["board.pot"]

    def length(value: float) -> str:
        return sheet.shown_as("schedule.close_spacing", value)
    if not pot < close < full:
        sheet.fault("schedule.close_spacing", f"Close spacing must be wider than the pot, {length(pot)}, and closer "
                    f"than the full spacing, {length(full)}.", {"board.pot": "", "board.spacing": ""})
    return counting.close_room(close_spacing_m=close, spacing_m=full)


def split(whole: int, parts: list[float]) -> list[int]:
    """Whole numbers in the proportion of the parts that never sum to more than ``whole``; leftovers to the largest
    remainders."""
    total = sum(parts)
    if total <= 0.0:
        return [0] * len(parts)
    exact = [whole * part / total for part in parts]
    found = [floor(one + HAIR) for one in exact]
    order = sorted(range(len(parts)), key=lambda place: (found[place] - exact[place], place))
    for place in order[:max(whole - sum(found), 0)]:
        found[place] += 1
    return found


def available(sheet: Sheet) -> None:
    """The sites that may be used: the reader's number, at most what the boards have."""
    there = sheet.result("board.sites", int) * sheet.whole("bath.count")
    own = sheet.optional("schedule.sites", int)
    if own is not None and own > there:
        sheet.fault("schedule.sites", f"Sites for this calendar: your boards have {there:,} in all baths; enter that "
                    "or less, or leave it empty.")
    sheet.put("schedule.sites_available", there if own is None else own,
              note="Sites of one bath, times the baths." if own is None else "Your own number.")


def _quotas(sheet: Sheet, found: list[growing.Chosen], sites: int) -> list[int]:
    """Sites of each crop by its share or its own number; scaled down, and said, where there are too few."""
    wanted = [one.sites for one in found if one.sites is not None]
    if len(wanted) < len(found):
        used = min(sum(one.share for one in found), 1.0)
        return split(floor(sites * used + HAIR), [one.share for one in found])
    if sum(wanted) <= sites:
        return wanted
    sheet.caution("schedule-crop-sites", "warning",
                  f"Calendar: your crops ask for {sum(wanted):,} sites and there are {sites:,}. Each crop is planned "
                  "with its fair part; give fewer sites to your crops, or build more.", lead="Crops exceed sites",
                  brief=f"Your crops ask for {sum(wanted):,} sites and there are {sites:,}.")
    return split(sites, [float(count) for count in wanted])


def _seedlings(sheet: Sheet, crop: data.Crop, plants: int) -> tuple[int, int]:
    """(cells, seeds) for so many plants; a cell with several seeds hardly ever stays empty."""
    each = round((crop.per_cell.low + crop.per_cell.high) / 2)
    germination = sheet["schedule.germination"] if each == 1 else 1.0
    cells = counting.seeds_needed(plants=plants, germination=germination, culls=sheet["schedule.culls"])
    return cells, cells * each


def _wanted(sheet: Sheet, found: list[growing.Chosen]) -> list[int]:
    """Plants that each crop's batch must set on the raft for the heads wanted."""
    loss, every = sheet["schedule.raft_loss"], sheet.whole("schedule.every")
    total = sum(one.share for one in found)
    wanted = sheet.whole("schedule.heads")
    heads = [ceil(wanted * one.share / total * every / counting.WEEK_DAYS - HAIR) for one in found]
    return [ceil(count / (1.0 - loss) - HAIR) for count in heads]


def _parts(sheet: Sheet) -> list[Part]:
    """How large each crop's batch is, within the sites there are."""
    found = growing.chosen(sheet)
    sites, every = sheet.result("schedule.sites_available", int), sheet.whole("schedule.every")
    stay = stays(sheet, found, sheet.text("schedule.pace"))
    if sheet.text("schedule.aim") == HEADS:
        wanted = _wanted(sheet, found)
        needed = [one.sites(plants, every) for one, plants in zip(stay, wanted, strict=True)]
        quotas = needed if sum(needed) <= sites else split(sites, [float(count) for count in needed])
        plants = _fill(stay, wanted, quotas, sites, every)
    else:
        quotas = _quotas(sheet, found, sites)
        plants = wanted = [one.most_plants(quota, every) for one, quota in zip(stay, quotas, strict=True)]
        needed = [one.sites(count or 1, every) for one, count in zip(stay, plants, strict=True)]
    kept = 1.0 - sheet["schedule.raft_loss"]
    return [Part(one.crop, days, count, floor(count * kept + HAIR), *_seedlings(sheet, one.crop, count), want, need,
                 quota)
            for one, days, count, want, need, quota in zip(found, stay, plants, wanted, needed, quotas, strict=True)]


def _fill(stay: list[Stay], wanted: list[int], quotas: list[int], sites: int, every: int) -> list[int]:
    """Plants of each batch: by the quotas, then one more in turn as long as all of them still fit together."""
    plants = [min(want, one.most_plants(quota, every)) for want, one, quota in zip(wanted, stay, quotas, strict=True)]
    used = [one.sites(count, every) for one, count in zip(stay, plants, strict=True)]
    more = True
    while more:
        more = False
        for place, one in enumerate(stay):
            grown = one.sites(plants[place] + 1, every)
            if plants[place] < wanted[place] and sum(used) - used[place] + grown <= sites:
                plants[place], used[place], more = plants[place] + 1, grown, True
    return plants


def _number_text(value: float) -> str:
    return f"{value:,.1f}".removesuffix(".0")


def _rate(parts: list[Part], every: int) -> float:
    return sum(one.heads for one in parts) * counting.WEEK_DAYS / every


def sizes(sheet: Sheet) -> None:
    """Sites, heads and seeds of a batch; what does not fit is said, with what would."""
    parts, sites, every = _parts(sheet), sheet.result("schedule.sites_available", int), sheet.whole("schedule.every")
    needed, used = sum(one.needed for one in parts), sum(one.stay.sites(one.plants, every) for one in parts)
    fits = needed <= sites and all(one.plants for one in parts)
    sheet.put("schedule.sites_needed", needed, note="Batches that stand side by side at the fullest, times the plants "
              "of each; close places counted by their room.", source=counting.overlapping_batches.relation.source)
    sheet.put("schedule.fits", fits, note="Whether the sites needed are there.")
    sheet.put("schedule.heads_per_week", _rate(parts, every), note="Heads from one sowing, times 7, over the days "
              "between sowings.")
    _most_heads(sheet, parts, sites)
    for key, value, note in (
            ("heads_per_batch", sum(one.heads for one in parts), "Plants set on the raft, less those lost there."),
            ("seeds_per_batch", sum(one.seeds for one in parts), "More than the plants wanted: some seeds do not come "
             "up and weak seedlings are thrown out. Crops sown several to a cell are counted seed by seed."),
            ("nursery_cells", sum(one.cells * counting.overlapping_batches(days=one.stay.nursery, every_days=every)
                                  for one in parts), "Cells sown at a time, times the batches raised at once.")):
        sheet.put(f"schedule.{key}", value, note=note)
    if sheet.text("schedule.stages") == TWO:
        sheet.put("schedule.close_places",
                  sum(one.plants * counting.overlapping_batches(days=one.stay.close, every_days=every)
                      for one in parts), note="Plants of all batches that stand close at one time: the holes that the "
                  "close board needs.")
    growing_room.harvest_factor(sheet, [(one.heads, one.crop.key in data.REPEAT) for one in parts])
    growing_room.room(sheet, sum(one.plants * counting.overlapping_batches(
        days=one.stay.wide + one.stay.rest, every_days=every) for one in parts))
    sheet.put("schedule.per_crop", [_part_row(one, every) for one in parts], note="Days as the crop table or you give "
              "them, at the pace chosen.")
    _say_split(sheet, parts)
    if sheet.text("schedule.aim") == HEADS and not fits:
        _say_what_fits(sheet, parts, sites, needed)
    elif not fits:
        _say_too_few(sheet, parts, every)
    elif sites - used > 0 and sheet.text("schedule.aim") == SITES:
        sheet.caution("schedule-idle", "note",
                      f"Calendar: {sites - used:,} of {sites:,} sites stay empty even in the fullest week, because "
                      "batches are of one size and come on fixed days. Sow a spare plant, or sow more often.",
                      lead="Empty sites",
                      brief=f"{sites - used:,} of {sites:,} sites stay empty even in the fullest week.")


def _say_split(sheet: Sheet, parts: list[Part]) -> None:
    """Say so where whole batches turn the shares asked for into others."""
    asked = {row["crop"]: row["share"] for row in sheet.result_rows("crops.table")}
    used = {row["crop"]: row["sites_used"] for row in sheet.result_rows("schedule.per_crop")}
    total = sum(used.values())
    if len(parts) < 2 or total <= 0 or sheet.text("schedule.aim") != SITES:
        return
    off = max(abs(used.get(crop, 0) / total - (share or 0.0)) for crop, share in asked.items())
    if off > SPLIT_OFF:
        words = ", ".join(f"{row['name']} {used.get(row['crop'], 0)}" for row in sheet.result_rows("crops.table"))
        sheet.caution("schedule-split", "note", f"Calendar: the sites come out as {words}, not in the shares asked "
                      "for, because a batch has whole plants. A larger raft, or sowing less often, comes nearer.",
                      lead="Shares rounded", brief="Whole batches cannot hold the shares you asked for.")


def _mean_days(parts: list[Part]) -> float:
    """Days of a site that a plant costs, averaged over the plants wanted."""
    if len(parts) == 1:
        return parts[0].stay.site_days
    return sum(one.wanted * one.stay.site_days for one in parts) / sum(one.wanted for one in parts)


def _most_heads(sheet: Sheet, parts: list[Part], sites: int) -> None:
    """Little's law beside whole batches; for heads wanted, the crops keep the proportion they are wanted in."""
    if len(parts) == 1 or sheet.text("schedule.aim") == HEADS:
        days = _mean_days(parts)
        there = parts[0].quota if sheet.text("schedule.aim") == SITES else sites
        sheet.work("schedule.most_heads", counting.rate_from_sites, sites=there, days=days)
        return
    sheet.put("schedule.most_heads",
              sum(counting.rate_from_sites(sites=one.quota, days=one.stay.site_days) for one in parts),
              note="Each crop's sites, times 7, over the days a plant holds one; added up.", source=counting.LITTLE)


def _part_row(one: Part, every: int) -> Row:
    return {"crop": one.crop.key, "name": one.crop.name, "sites_used": one.stay.sites(one.plants, every),
            "plants": one.plants, "heads": one.heads, "cells": one.cells, "seeds": one.seeds,
            "nursery_days": one.stay.nursery, "raft_days": one.stay.close + one.stay.wide,
            "early_days": one.stay.early}


def _say_what_fits(sheet: Sheet, parts: list[Part], sites: int, needed: int) -> None:
    every, rate = sheet.whole("schedule.every"), _rate(parts, sheet.whole("schedule.every"))
    text = (f"Calendar: {sheet.whole('schedule.heads'):,} heads a week need {needed:,} sites and there are {sites:,}. "
            f"The dates below are for what fits, {_number_text(rate)} a week. To have it all, build "
            f"{needed - sites:,} more {'site' if needed - sites == 1 else 'sites'}, or")
    young = stays(sheet, growing.chosen(sheet), "fast")
    fewer = sum(stay.sites(one.wanted, every) for stay, one in zip(young, parts, strict=True))
    if fewer < needed:
        text += f" cut as young as the crop table allows, which needs {fewer:,}, or"
    if sheet.text("schedule.stages") == ONE:
        text += " start the plants on a closer board, or"
    sheet.caution("schedule-too-many", "warning", text + " ask for fewer heads.", lead="Too many heads",
                  brief=f"{sheet.whole('schedule.heads'):,} a week need {needed:,} sites and there are {sites:,}.")
    _say_too_few(sheet, parts, every)


def _say_too_few(sheet: Sheet, parts: list[Part], every: int) -> None:
    for one in parts:
        if one.plants:
            continue
        few = counted(one.quota, "site is", "sites are")
        days = one.stay.close + one.stay.wide + one.stay.rest
        rarer = next((gap for gap in range(every + 1, 61) if one.stay.sites(1, gap) <= one.quota), None)
        hint = f"sow every {rarer} days instead" if rarer else "build more"
        sheet.caution(f"schedule-none-{one.crop.key.replace(' ', '-')}", "warning",
                      f"{one.crop.name}: {few} too few to set even one plant every {counted(every, 'day')}: each stays "
                      f"{counted(days, 'day')}. Give it {one.stay.sites(1, every):,} sites, or {hint}. It is left out "
                      "of the dates.", lead=f"Too few for {one.crop.name.lower()}",
                      brief=f"{few} too few for one plant every {counted(every, 'day')}.")


def batch_days(sown: int, stay: Stay) -> dict[str, int]:
    """Day numbers of one batch, counted from the first sowing: sow, transplant, apart, ready, harvest, free."""
    moved = sown + stay.nursery
    harvest = moved + stay.close + stay.wide
    return {"sow": sown, "transplant": moved, "apart": moved + stay.close, "ready": harvest - stay.early,
            "harvest": harvest, "free": harvest + stay.rest}


def calendar(sheet: Sheet) -> None:
    """Every sowing with its dates, and how many sites are busy in each week."""
    parts = [one for one in _parts(sheet) if one.plants]
    start = sheet.input("schedule.start", date)
    every, weeks = sheet.whole("schedule.every"), sheet.whole("schedule.weeks")
    sown = range(0, weeks * 7, every)
    found = [(days, number, one) for one in parts for number, days in enumerate(sown, 1)]
    found.sort(key=lambda item: item[0])
    close_used = sheet.text("schedule.stages") == TWO
    last = max((batch_days(days, one.stay)["free"] for days, _, one in found), default=0)
    written = [(start + timedelta(day)).isoformat() for day in range(last + 1)]
    rows = [_batch_row(written, batch_days(days, one.stay), number, one, close_used) for days, number, one in found]
    sheet.put("schedule.batches", rows, note="Counted in whole days from the first sowing. The harvest is the day by "
              "which the site must be free; it may be ready some days before.")
    sheet.put("schedule.sowings", len(rows), note="One for each crop and sowing day.")
    sheet.put("schedule.seeds_total", sum(row["seeds"] for row in rows), note="All sowings.")
    busy = _busy(found, written, sheet.result("schedule.sites_available", int))
    sheet.put("schedule.busy", busy, note="The fullest day of each week, weeks counted from the first sowing.")
    sheet.put("schedule.sites_used", max((row["sites"] for row in busy), default=0), note="The fullest week below.")
    sheet.put("schedule.grown_plants", grown_plants(found, sheet.result("crops.root_stage", str)),
              note="On the day when all the roots on the raft together are largest, as so many full-grown plants. Each "
                   "grows evenly on a logarithmic scale, from its first week on the raft to its harvest.",
              source=f"root masses: {roots.ROOT_MASS_G['young'].source}; growth: {JUDGMENT}")
    if rows:
        sheet.put("schedule.first_harvest", date.fromisoformat(min(row["harvest"] for row in rows)),
                  note="First sowing, nursery and days on the raft.")
        sheet.put("schedule.last_harvest", date.fromisoformat(max(row["harvest"] for row in rows)),
                  note="When the last batch leaves.")
    _remarks(sheet, parts)


def _batch_row(written: list[str], days: dict[str, int], number: int, one: Part, close_used: bool) -> Row:
    return {"batch": number, "crop": one.crop.key, "name": one.crop.name, "begins": one.crop.begins.text,
            "seeds": one.seeds, "cells": one.cells, "plants": one.plants, "heads": one.heads,
            **{name: written[day] for name, day in days.items()}, **({} if close_used else {"apart": ""})}


def _busy(found: list[tuple[int, int, Part]], written: list[str], there: int) -> list[Row]:
    """Sites busy on the fullest day of each week, from the first sowing until the raft is empty again."""
    if not found:
        return []
    last = len(written) - 1
    close, wide = [0.0] * (last + 2), [0] * (last + 2)
    for sown, _, one in found:
        days = batch_days(sown, one.stay)
        close[days["transplant"]] += one.plants * one.stay.room
        close[days["apart"]] -= one.plants * one.stay.room
        wide[days["apart"]] += one.plants
        wide[days["free"]] -= one.plants
    daily, young, grown = [], 0.0, 0
    for near, far in zip(close, wide, strict=True):
        young, grown = young + near, grown + far
        daily.append(max(ceil(young - 1e-6), 0) + grown)
    rows = []
    for week, first in enumerate(range(0, last + 1, 7), 1):
        sites = max(daily[first:first + 7])
        rows.append({"week": week, "from": written[first], "sites": sites, "free": there - sites})
    return rows


def grown_plants(found: list[tuple[int, int, Part]], stage: str) -> float:
    """The most root mass that stands on the raft on one day, in full-grown plants of a stage of the root masses.

    ``found`` holds (day of sowing, number, part) of each batch. Crops that are cut again are followed to the first cut.
    """
    if not found:
        return 0.0
    last = max(batch_days(sown, one.stay)["harvest"] for sown, _, one in found)
    daily = [0.0] * (last + 1)
    for sown, _, one in found:
        days = batch_days(sown, one.stay)
        for day, mass in zip(range(days["transplant"], days["harvest"]), _root_masses(one), strict=True):
            daily[day] += one.plants * mass
    return max(daily) / roots.ROOT_MASS_G[stage].likely


@lru_cache(maxsize=256)
def _grown(young_g: float, full_g: float, stay_days: int) -> tuple[float, ...]:
    """Dry root mass in g of one plant on each day of its stay, the last one full-grown."""
    return tuple(young_g * (full_g / young_g) ** ((day + 1) / stay_days) for day in range(stay_days))


def _root_masses(one: Part) -> tuple[float, ...]:
    full = roots.ROOT_MASS_G[one.crop.stage.text].likely
    # After its first cut a plant keeps its roots.
    first = one.stay.close + one.stay.wide - one.stay.again
    return _grown(min(roots.ROOT_MASS_G["young"].likely, full), full, first) + (full,) * one.stay.again


def _remarks(sheet: Sheet, parts: list[Part]) -> None:
    growing_room.say_again(sheet, [(one.crop.name, one.stay.close + one.stay.wide - one.stay.again)
                                   for one in parts if one.crop.key in data.REPEAT])
    raised = [one.crop.name for one in parts if one.crop.begins.text != "seed"]
    if raised:
        sheet.caution("schedule-raised", "note", f"{', '.join(raised)}: raised from cuttings or bought plugs, so read "
                      "those where the calendar says seeds.", lead="Not from seed",
                      brief="Raised from cuttings or plugs: read those where the calendar says seeds.")
    if any("lettuce" in one.crop.key or one.crop.key in ("butterhead", "romaine") for one in parts):
        sheet.caution("schedule-warm-seed", "note",
                      "Lettuce seed: it comes up best at 59 to 72 °F (15 to 22 °C) and sleeps above 78 to 91 °F (26 to "
                      "33 °C) by its kind, butterheads soonest, so germinate it in a cool place in summer (22 sorts: "
                      "Journal of Horticultural Science 1975, 50(4):349-361, abstract).", lead="Cool for lettuce seed",
                      brief=f"It sleeps above about {sheet.show(26.0, 'temperature', 'F', 'C')}: germinate it in a "
                            "cool place.")


STEPS = (available, sizes, calendar, judge)
