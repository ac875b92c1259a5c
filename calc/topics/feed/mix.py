"""What goes into the mix: the wanted elements, the sources at hand, and the grams that come nearest."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ... import units
from ...data import salts as salt_data
from ...data import targets as target_data
from ...data.salts import ELEMENTS, NH4, NO3, WORDS
from ...errors import Unanswered
from ...models import recipe
from ...relations.base import MEMORY
from .choices import BOTTLES, MG_CACO3_IN_MMOL, OWN, OXIDES_OF, PERCENTS, SALTS

if TYPE_CHECKING:
    from ...sheet import Sheet


def water_brought(sheet: Sheet) -> dict[str, float]:
    """What water and acid bring, in mg/L."""
    found = {element: sheet[f"feed.water_{element.lower()}"] for element in ("Ca", "Mg", "Na", "Cl", "S")}
    brought = {part: sheet.result_if_any(f"acidity.nutrient_{part}") or 0.0 for part in ("n", "p", "s", "k", "cl")}
    for element, amount in (("N", brought["n"]), (NO3, brought["n"]), ("P", brought["p"]), ("S", brought["s"]),
                            ("K", brought["k"]), ("Cl", brought["cl"])):
        found[element] = found.get(element, 0.0) + amount
    return {element: amount for element, amount in found.items() if amount > 0.0}


def alkalinity(sheet: Sheet) -> float:
    """Bicarbonate of the source water in mmol/L, before acid; the acidity topic asks for it."""
    try:
        return (sheet.optional("acidity.alkalinity") or 0.0) / MG_CACO3_IN_MMOL
    except Unanswered:
        return 0.0


def _wanted(sheet: Sheet) -> dict[str, float]:
    """The formula at its strength, in mg/L."""
    if sheet["feed.target"] != OWN:
        whole = target_data.BY_KEY[sheet["feed.target"]].mg_l
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


def labelled(sheet: Sheet, table: str) -> list[tuple[recipe.Source, dict]]:
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
                                          OXIDES_OF[sheet["feed.label"]]), row))
    if not found:
        sheet.fault(table, "List at least one product with its label.")
    return found


def salt_keys(sheet: Sheet) -> tuple[str, ...]:
    listed = tuple(dict.fromkeys(row["name"] for row in sheet.rows("feed.salts")))
    allowed = tuple(key for key in listed
                    if sheet["feed.allow_restricted"] or not salt_data.BY_KEY[key].restricted)
    if not allowed:
        sheet.fault("feed.salts", "List at least one salt that may be used.")
    return allowed


def sources_of(sheet: Sheet) -> tuple[recipe.Source, ...]:
    if sheet["feed.way"] == SALTS:
        return tuple(recipe.salt_source(key) for key in salt_keys(sheet))
    return tuple(source for source, _ in labelled(sheet, f"feed.{sheet['feed.way']}"))


def _aim(sheet: Sheet) -> recipe.Aim:
    way = sheet["feed.way"]
    # A powder brings its trace elements in a fixed share, so they may not steer how much of it is taken.
    return recipe.Aim(tuple(_wanted(sheet).items()), tuple(water_brought(sheet).items()),
                      sheet["feed.sulfur_floor"] if way != BOTTLES else 0.0, sheet["feed.ammonium_ceiling"],
                      1.0 if way == SALTS else 0.1)


def mixture(sheet: Sheet) -> recipe.Fit:
    """Grams per litre and what they reach."""
    if sheet["feed.way"] != BOTTLES:
        return recipe.fit(_aim(sheet), sources_of(sheet))
    grams, sources = {}, []
    for source, row in labelled(sheet, "feed.bottles"):
        # mL/L times kg/L is g/L.
        grams[source.key] = row["dose"] * sheet["feed.strength"] * (row["density"] or 1000.0) / 1000.0
        sources.append(source)
    return recipe.Fit(grams, recipe.bring(sources, grams, water_brought(sheet)), 0.0)


def batch(sheet: Sheet) -> None:
    """How much feed to mix."""
    typed = sheet.optional("feed.volume")
    sheet.put("feed.batch", sheet.result("water.working_volume") if typed is None else typed,
              note="All the working water of the plan." if typed is None else "As you put it in.")


def formula(sheet: Sheet) -> None:
    """The formula with its source and status: none is shown firmer than it is."""
    key = sheet["feed.target"]
    if key == OWN:
        sheet.put("feed.formula", "your own", note="As you put it in.")
        return
    target = target_data.BY_KEY[key]
    sheet.put("feed.formula", f"{target.name}: {target.status}", note=f"For {target.use}.", source=target.source)
    if MEMORY.split(",")[0] in target.status:
        sheet.caution("feed-formula-memory", "note",
                      f"Formula: the numbers of “{target.name}” were written down {target.status}. Compare them with "
                      f"the source before a whole season rests on them: {target.source}.")


def masses(sheet: Sheet) -> None:
    """What to weigh, for the whole batch."""
    found, litres = mixture(sheet), sheet.result("feed.batch") * 1000.0
    rows = []
    for source in sources_of(sheet):
        grams = found.grams_l[source.key] * litres
        if grams > 0.0:
            rows.append({"salt": source.name, "mass": grams / 1000.0, "key": source.key, "micro": source.is_micro})
    if sheet["feed.way"] == BOTTLES:
        for row, given in zip(rows, [one for one in sheet.rows("feed.bottles") if one["dose"] > 0.0], strict=True):
            row["volume"] = given["dose"] * sheet["feed.strength"] * litres * 1e-6
    sheet.put("feed.masses", rows, note="The mix that comes nearest the formula, each element's miss counted as a "
              "share of what is wanted, none below nothing, the fewest salts where several mixes are as good.",
              source="Lawson & Hanson (1974), Solving Least Squares Problems, chapter 23")
    sheet.put("feed.total_mass", sum(row["mass"] for row in rows), note="The masses added up.")


def reached(sheet: Sheet) -> None:
    """Each element wanted and reached."""
    found, wanted, water = mixture(sheet), _wanted(sheet), water_brought(sheet)
    names = [element for element in (*ELEMENTS, NO3, NH4, "Na", "Cl")
             if element in wanted or found.reached.get(element, 0.0) > 0.0]
    sheet.put("feed.reached", [{"element": element, "target": wanted.get(element),
                                "reached": found.reached.get(element, 0.0), "water": water.get(element, 0.0)}
                               for element in names],
              note="Grams per litre times the share of each element, added to what water and acid bring.",
              source=salt_data.MASS_SOURCE if sheet["feed.way"] == SALTS else "your labels")
    nitrogen = found.reached.get("N", 0.0)
    if nitrogen > 0.0:
        sheet.put("feed.ammonium_share", found.reached.get(NH4, 0.0) / nitrogen,
                  note="Ammonium nitrogen over all nitrogen, from the water, the acid and the salts.")


def advice(sheet: Sheet) -> None:
    """Say plainly what cannot be reached, which salt would mend it, and whether another mix is as good."""
    found, aim, sources, way = mixture(sheet), _aim(sheet), sources_of(sheet), sheet["feed.way"]
    water = dict(aim.water)
    rows = []
    for element, wanted, got in recipe.missed(found, aim):
        word = WORDS[element]
        if got > wanted:
            brought = water.get(element, 0.0)
            why = ("your water alone brings more" if brought > wanted else
                   "it comes along with the others" if way != BOTTLES else "by the label")
            words = f"{word}: {units.number(got)} mg/L where {units.number(wanted)} is wanted; {why}."
        else:
            words = (f"{word}: {units.number(got)} mg/L where {units.number(wanted)} is wanted, "
                     f"{1 - got / wanted:.0%} short.")
            if way != BOTTLES:
                salt = recipe.remedy(element, aim, sources)
                words += f" {salt} would mend it." if salt else " No single salt of the table mends it."
        rows.append({"about": word, "words": words})
    if "sulfur" in found.broken:
        rows.append({"about": "Sulfur", "words": "Sulfur: nothing you list can bring the least amount; Epsom salt or "
                                                 "potassium sulfate would."})
    if found.others:
        rows.append({"about": "Choice", "words": f"Other mixes come as near: {', '.join(found.others)} could stand in "
                                                 "for some of these. This one uses few salts."})
    sheet.put("feed.advice", rows, note="Short by more than 3 % or over by more than 5 % is told.")
    short = [WORDS[element].lower() for element, wanted, got in recipe.missed(found, aim) if got < 0.9 * wanted]
    if short:
        sheet.caution("feed-short", "warning", f"Feed: more than a tenth short of {', '.join(short)}. The table says "
                                               "by how much, and what would mend it.")
    share = found.reached.get(NH4, 0.0) / found.reached["N"] if found.reached.get("N") else 0.0
    if "ammonium" in found.broken or (way == BOTTLES and share > sheet["feed.ammonium_ceiling"]):
        sheet.caution("feed-ammonium", "warning", f"Ammonium: {share:.0%} of the nitrogen, above the most that you "
                      "allow. In water much ammonium burns roots, most of all in cold and dull weather.")
