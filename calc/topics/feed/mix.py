"""What goes into the mix: the wanted elements, the sources at hand, and the grams that come nearest."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ...data import salts as salt_data
from ...data import targets as target_data
from ...data.salts import NH4, NO3, WORDS
from ...declare import Row
from ...errors import Unanswered
from ...models import recipe
from ...relations.acidity import alkalinity_charge
from ...relations.base import MEMORY
from .choices import (
    ACID_COUNTS_FROM,
    ACID_TAKEN,
    BOTTLES,
    OWN,
    OXIDES_OF,
    PERCENTS,
    POWDERS,
    SALTS,
)

if TYPE_CHECKING:
    from ...sheet import Sheet


# Less nitrogen than this share of the formula's is no feed at all.
NO_FEED = 0.1


def tap_brought(sheet: Sheet) -> dict[str, float]:
    """What the water alone brings, in mg/L."""
    return {element: sheet[f"feed.water_{element.lower()}"] for element in ("Ca", "Mg", "Na", "Cl", "S")}


def water_brought(sheet: Sheet) -> dict[str, float]:
    """What water and acid bring, in mg/L, of the acid as much as is sure to be poured before the meter says stop."""
    found = tap_brought(sheet)
    brought = {part: acid_brought(sheet, part) for part in ("n", "p", "s", "k", "cl")}
    for element, amount in (("N", brought["n"]), (NO3, brought["n"]), ("P", brought["p"]), ("S", brought["s"]),
                            ("K", brought["k"]), ("Cl", brought["cl"])):
        found[element] = found.get(element, 0.0) + amount
    return {element: amount for element, amount in found.items() if amount > 0.0}


def acid_brought(sheet: Sheet, part: str) -> float:
    """What the first fill's acid (or pH-up) brings of an element in mg/L, as much as is sure to be poured."""
    return ACID_TAKEN * (sheet.result_if_any(f"acidity.nutrient_{part}") or 0.0)


def water_counted(sheet: Sheet, wanted: dict[str, float]) -> dict[str, float]:
    """What water and acid bring, in mg/L, without an acid that brings too little to weigh salts by."""
    found = water_brought(sheet)
    for element, part in (("N", "n"), ("P", "p"), ("S", "s"), ("K", "k")):
        little = acid_brought(sheet, part)
        if 0.0 < little < ACID_COUNTS_FROM * wanted.get(element, 0.0):
            found[element] -= little
            if element == "N":
                found[NO3] -= little
    return {element: amount for element, amount in found.items() if amount > 1e-9}


def alkalinity(sheet: Sheet) -> float:
    """Bicarbonate of the source water in mmol/L, before acid; the acidity topic asks for it."""
    try:
        return alkalinity_charge(alkalinity_mg_l=sheet.optional("acidity.alkalinity") or 0.0)
    except Unanswered:
        return 0.0


def wanted_of(sheet: Sheet) -> dict[str, float]:
    """The formula at its strength, in mg/L."""
    if sheet.text("feed.target") != OWN:
        whole = target_data.BY_KEY[sheet.text("feed.target")].mg_l
    else:
        whole = {}
        for row in sheet.rows("feed.own_target"):
            if row["element"] in whole:
                sheet.fault("feed.own_target", f"Your own formula lists {WORDS[row['element']].lower()} twice: keep "
                                               "one row of the two.")
            whole[row["element"]] = row["amount"]
        if not whole:
            sheet.fault("feed.own_target", "Your own formula is empty: add a row with an element and its mg/L.")
    return {element: amount * sheet["feed.strength"] for element, amount in whole.items()}


def labelled(sheet: Sheet, table: str) -> list[tuple[recipe.Source, Row]]:
    """The rows of a label table as sources."""
    found = []
    for number, row in enumerate(sheet.rows(table), 1):
        percent = {element: 100.0 * (row.get(key) or 0.0) for key, element in PERCENTS}
        if sum(percent.values()) - percent[NH4] > 100.0:
            sheet.fault(table, f"{row['name']}: its label adds up to more than 100 %.")
        if percent[NH4] > percent["N"]:
            sheet.fault(table, f"{row['name']}: it has more ammonium nitrogen than nitrogen in all.")
        percent[NO3] = percent["N"] - percent[NH4]
        brings = {element: share for element, share in percent.items() if share > 0.0}
        found.append((recipe.label_source(f"{table}-{number}", row["name"], brings,
                                          OXIDES_OF[sheet.text("feed.label")]), row))
    if not found:
        sheet.fault(table, "List at least one product with its label.")
    return found


def salt_keys(sheet: Sheet) -> tuple[str, ...]:
    listed = tuple(dict.fromkeys(row["name"] for row in sheet.rows("feed.salts")))
    allowed = tuple(key for key in listed
                    if sheet.yes("feed.allow_restricted") or not salt_data.BY_KEY[key].restricted)
    if not allowed:
        sheet.fault("feed.salts", "List at least one salt that may be used.")
    return allowed


def chelate_source(sheet: Sheet, key: str) -> recipe.Source:
    """A salt of the table as a source; an iron chelate by the percentage on the reader's own label, where one is."""
    found = recipe.salt_source(key)
    own = sheet.optional("feed.chelate_iron") if key in salt_data.CHELATES else None
    usual = found.brings.get("Fe")
    if own is None or not usual:
        return found
    name = f"{found.name.rpartition(',')[0]}, {own * 100:.3g} % by your label"
    return replace(found, name=name, shares=tuple((element, share * own / usual) for element, share in found.shares))


def sources_of(sheet: Sheet) -> tuple[recipe.Source, ...]:
    if sheet.text("feed.way") == SALTS:
        return tuple(chelate_source(sheet, key) for key in salt_keys(sheet))
    return tuple(source for source, _ in labelled(sheet, f"feed.{sheet.text('feed.way')}"))


def aim_of(sheet: Sheet, water: dict[str, float]) -> recipe.Aim:
    way = sheet.text("feed.way")
    # A powder brings its trace elements in a fixed share, so they may not steer how much of it is taken.
    return recipe.Aim(tuple(wanted_of(sheet).items()), tuple(water.items()),
                      sheet["feed.sulfur_floor"] if way != BOTTLES else 0.0, sheet["feed.ammonium_ceiling"],
                      1.0 if way == SALTS else 0.1)


def mixture(sheet: Sheet) -> recipe.Fit:
    """Grams per litre and what they reach, for a first fill with its acid."""
    found, water = _mixture(sheet, water_counted(sheet, wanted_of(sheet))), water_brought(sheet)
    return replace(found, reached=recipe.bring(sources_of(sheet), found.grams_l, water))


def mixture_without_acid(sheet: Sheet) -> recipe.Fit:
    """The same for a bath that runs: its first acid is long spent, and counts for nothing."""
    return _mixture(sheet, {element: amount for element, amount in tap_brought(sheet).items() if amount > 0.0})


def _mixture(sheet: Sheet, water: dict[str, float]) -> recipe.Fit:
    if sheet.text("feed.way") != BOTTLES:
        aim, at_hand = aim_of(sheet, water), sources_of(sheet)
        fitted = recipe.fit(aim, at_hand)
        if sheet.text("feed.way") == POWDERS:
            _refuse_ammonium(sheet, aim, at_hand, fitted)
        return fitted
    grams, sources = {}, []
    for source, row in labelled(sheet, "feed.bottles"):
        # mL/L times kg/L is g/L.
        grams[source.key] = row["dose"] * sheet["feed.strength"] * (row["density"] or 1000.0) / 1000.0
        sources.append(source)
    return recipe.Fit(grams, recipe.bring(sources, grams, water), 0.0)


def _refuse_ammonium(sheet: Sheet, aim: recipe.Aim, sources: tuple[recipe.Source, ...], found: recipe.Fit) -> None:
    """Powders whose nitrogen is mostly ammonium: the ceiling leaves next to none of them, and no mix is better said."""
    wanted = dict(aim.wanted).get("N", 0.0)
    if found.reached.get("N", 0.0) >= NO_FEED * wanted:
        return
    free = recipe.fit(replace(aim, ammonium_ceiling=1.0), sources)
    if free.reached.get("N", 0.0) < NO_FEED * wanted:
        return
    worst = max(sources, key=lambda one: free.grams_l[one.key] * one.brings.get(NH4, 0.0))
    rich = sheet.shown_as("feed.ammonium_share", worst.brings[NH4] / worst.brings["N"])
    sheet.fault("feed.powders", f"{worst.name}: {rich} of its nitrogen is ammonium or urea, and you allow "
                f"{sheet.shown('feed.ammonium_ceiling')}, so next to nothing of it may go in. In water that much "
                "harms roots: take a powder made for hydroponics, whose nitrogen is mostly nitrate, or add one with "
                "calcium nitrate.",
                {"feed.ammonium_ceiling": f"Most ammonium leaves next to nothing of {worst.name}, in which it is "
                 f"{rich} of the nitrogen: choose another powder. More ammonium than 15 % harms roots."})


def batch(sheet: Sheet) -> None:
    """How much feed to mix."""
    typed = sheet.optional("feed.volume")
    sheet.put("feed.batch", sheet.result("water.working_volume") if typed is None else typed,
              note="All the working water of the plan." if typed is None else "As you put it in.")


def formula(sheet: Sheet) -> None:
    """The formula with its source and status: none is shown firmer than it is."""
    key = sheet.text("feed.target")
    if key == OWN:
        sheet.put("feed.formula", "your own", note="As you put it in.")
        return
    target = target_data.BY_KEY[key]
    sheet.put("feed.formula", f"{target.name}: {target.words}", note=f"For {target.use}.", source=target.source)
    # A bottle's dose does not follow the formula: it only stands beside it.
    remembered = [element for element in target.mg_l if MEMORY in target.status_of(element)]
    if remembered and sheet.text("feed.way") != BOTTLES:
        sheet.caution("feed-formula-memory", "note",
                      f"Formula: {len(remembered)} of the {len(target.mg_l)} numbers of “{target.name}” were written "
                      f"down {MEMORY}. Compare them with the source before a whole season rests on them: "
                      f"{target.source}.",
                      lead="Formula from memory",
                      brief="Compare its numbers with the source before a season rests on them.")


def masses(sheet: Sheet) -> None:
    """What to weigh, for the whole batch."""
    found, litres = mixture(sheet), sheet.result("feed.batch") * 1000.0
    rows: list[Row] = []
    for source in sources_of(sheet):
        grams = found.grams_l[source.key] * litres
        if grams > 0.0:
            rows.append({"salt": source.name, "mass": grams / 1000.0, "key": source.key, "micro": source.is_micro})
    if sheet.text("feed.way") == BOTTLES:
        for row, given in zip(rows, [one for one in sheet.rows("feed.bottles") if one["dose"] > 0.0], strict=True):
            row["volume"] = given["dose"] * sheet["feed.strength"] * litres * 1e-6
    sheet.put("feed.masses", rows, note="The mix that comes nearest the formula, each element's miss counted as a "
              "share of what is wanted, none below nothing, the fewest salts where several mixes are as good.",
              source="Lawson & Hanson (1974), Solving Least Squares Problems, chapter 23")
    if sheet.text("feed.way") == BOTTLES:
        sheet.put("feed.pour", _pour(sheet, rows), note="Each bottle's dose, times the strength and all the water.")
    else:
        sheet.put("feed.total_mass", sum(row["mass"] for row in rows), note="The masses added up.")


def _pour(sheet: Sheet, rows: list[Row]) -> str:
    """What to pour of each bottle; two bottles of one dose are said once."""
    volumes = [sheet.shown_as("feed.micro_dose", row["volume"]) for row in rows]
    if len(set(volumes)) == 1 and len(volumes) > 1:
        return f"{volumes[0]} of each bottle"
    names = [str(row["salt"]).removesuffix(" (invented)") for row in rows]
    return ", ".join(f"{volume} of {name}" for volume, name in zip(volumes, names, strict=True))
