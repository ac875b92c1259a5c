"""What the mix comes to: elements reached, what is missing or too much, whose doing it is, and what would mend it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ... import units
from ...data import acids
from ...data import salts as salt_data
from ...data.salts import CHELATES, ELEMENTS, NH4, NO3, WORDS
from ...declare import Row
from ...models import recipe
from ...relations import acidity as physics
from .choices import ACID_TAKEN, BOTTLES, IRON_MG_L, JUDGMENT, NO_TRACE_MG_L, OWN, SALTS
from .lime import falls_out
from .mix import (
    acid_brought,
    aim_of,
    mixture,
    sources_of,
    tap_brought,
    wanted_of,
    water_brought,
    water_counted,
)

if TYPE_CHECKING:
    from ...sheet import Sheet

# What brings an element that a formula leaves out.
BRINGERS = {"B": "boric acid", "Mo": "sodium molybdate", "Mn": "manganese sulfate", "Zn": "zinc sulfate",
            "Cu": "copper sulfate", "Mg": "Epsom salt", "Ca": "calcium nitrate", "K": "potassium nitrate",
            "P": "monopotassium phosphate", "N": "calcium nitrate"}
# Acids offered where one brings too much, sold dilute; each with the strength that is spoken of.
OFFERED, OFFERED_SHARE = {"P": ("sulfuric", "citric"), "N": ("phosphoric", "sulfuric")}, 0.10


def _too_much(sheet: Sheet, element: str, wanted: float, way: str) -> str:
    """Whose doing it is that there is more than wanted: the water's, the acid's, or that of the rest of the mix."""
    part = element.lower()
    acid = acid_brought(sheet, part) if part in ("n", "p", "s", "k") else 0.0
    tap = tap_brought(sheet).get(element, 0.0)
    if tap > wanted:
        return "your water alone brings more"
    if acid > 0.0 and tap + acid > wanted:
        return f"the acid brings {units.number(acid)} mg/L of it, and not your water"
    return "it comes along with the others" if way != BOTTLES else "by the label"


def _unnamed(sheet: Sheet, reached: dict[str, float]) -> list[Row]:
    """A formula that names no aim for an element that plants need says so; for iron a chelate is offered."""
    wanted = wanted_of(sheet)
    rows = []
    for element in ELEMENTS:
        if element in wanted or element == "S" or reached.get(element, 0.0) > NO_TRACE_MG_L:
            continue
        whose = "your formula" if sheet.text("feed.target") == OWN else "this formula"
        words = f"{WORDS[element]}: {whose} names none, so this mix brings none, and plants need it."
        words += _chelate(sheet) if element == "Fe" else f" {BRINGERS[element].capitalize()} would bring it."
        rows.append({"about": WORDS[element], "words": words})
    if any(row["about"] == "Iron" for row in rows):
        sheet.caution("feed-no-iron", "warning", "Nutrients: this formula has no iron; leaves turn yellow without it."
                      + _chelate(sheet), lead="No iron",
                      brief="This formula brings no iron, and leaves turn yellow without it.")
    return rows


def _chelate(sheet: Sheet) -> str:
    """An iron chelate with its grams for this feed: one that the reader has, or the one that holds up to pH 7."""
    owned = [row["name"] for row in sheet.rows("feed.salts")] if sheet.text("feed.way") == SALTS else []
    key = next((one for one in CHELATES if one in owned), CHELATES[0])
    salt = salt_data.BY_KEY[key]
    kilograms = IRON_MG_L * sheet.result("feed.batch") * 1e-3 / salt_data.shares(key)["Fe"]
    return (f" Add {sheet.show(kilograms, 'mass', 'g', 'g')} of {salt.name} for {IRON_MG_L:g} mg/L (what lettuce "
            f"formulas carry: {JUDGMENT}), or put iron into a formula of your own.")


def other_acids(sheet: Sheet) -> list[str]:
    """Where the acid brings more of an element than the formula wants: how much of it to take, and another for
    the rest."""
    wanted, tap = wanted_of(sheet), tap_brought(sheet)
    needed, name = sheet.result_if_any("acidity.acid_needed") or 0.0, sheet.input_if_any("acidity.acid", str)
    volume, water = sheet.result_if_any("acidity.volume"), sheet.result_if_any("acidity.water")
    found = []
    for element, part in (("P", "p"), ("N", "n")):
        brought = acid_brought(sheet, part) / ACID_TAKEN
        room = wanted.get(element, 0.0) - tap.get(element, 0.0)
        if element not in wanted or brought <= room or name not in acids.ACIDS or not volume or not water:
            continue
        share = max(room, 0.0) / brought
        others = " or ".join(f"{sheet.shown_as('acidity.volume', _rest(sheet, other, needed * (1.0 - share), water))} "
                             f"of {OFFERED_SHARE * 100:g} % {acids.ACIDS[other].words.lower()}"
                             for other in OFFERED[element])
        found.append(
            f"{acids.ACIDS[name].words} for all the work would bring {units.number(brought)} mg/L of "
            f"{WORDS[element].lower()} where {units.number(wanted[element])} is wanted. That is the acid's doing, "
            "not your water's. A blend: "
            f"{sheet.shown_as('acidity.volume', volume * share)} of it, and {others} for the rest (sold dilute; citric "
            "does not last). Or mix the water with reverse-osmosis water.")
    return found


def _rest(sheet: Sheet, name: str, hydrogen_mmol_l: float, water_m3: float) -> float:
    """Another acid in m3 that gives the rest of the hydrogen at the pH wanted."""
    acid = acids.ACIDS[name]
    temperature = sheet["water.temperature"]
    pks = [pk if pk == acids.NONE else physics.pk_at(pk_25=pk, heat_j_mol=heat, temperature_c=temperature)
           for pk, heat in zip(acid.pks, acid.heats, strict=True)]
    strength = physics.strength(mass_share=OFFERED_SHARE, density_kg_m3=acid.density(OFFERED_SHARE),
                                molar_mass_g_mol=acid.molar_mass)
    return physics.product_volume(water_m3=water_m3, strength_mol_l=strength, amount_mmol_l=hydrogen_mmol_l
                                  / physics.hydrogen_given(sheet["acidity.target_ph"], *pks))


def reached(sheet: Sheet) -> None:
    """Each element wanted and reached."""
    found, wanted, water, gone = mixture(sheet), wanted_of(sheet), water_brought(sheet), falls_out(sheet)
    names = [element for element in (*ELEMENTS, NO3, NH4, "Na", "Cl")
             if element in wanted or found.reached.get(element, 0.0) > 0.0]
    sheet.put("feed.reached", [{"element": element, "target": wanted.get(element),
                                "reached": found.reached.get(element, 0.0) - gone.get(element, 0.0),
                                "water": water.get(element, 0.0), "falls": gone.get(element, 0.0)}
                               for element in names],
              note="Grams per liter times the share of each element, added to what water and acid bring, less what can "
                   "fall out as calcium phosphate at the highest pH.",
              source=salt_data.MASS_SOURCE if sheet.text("feed.way") == SALTS else "your labels")
    nitrogen = found.reached.get("N", 0.0)
    if nitrogen > 0.0:
        sheet.put("feed.ammonium_share", found.reached.get(NH4, 0.0) / nitrogen,
                  note="Ammonium nitrogen over all nitrogen, from the water, the acid and the salts.")


def advice(sheet: Sheet) -> None:
    """Say plainly what cannot be reached, which salt would mend it, and whether another mix is as good."""
    found, sources, way = mixture(sheet), sources_of(sheet), sheet.text("feed.way")
    aim = aim_of(sheet, water_counted(sheet, wanted_of(sheet)))
    rows = []
    for element, wanted, got in recipe.missed(found, aim):
        word = WORDS[element]
        if got > wanted:
            why = _too_much(sheet, element, wanted, way)
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
    rows += _unnamed(sheet, found.reached)
    rows += [{"about": "Acid", "words": words} for words in other_acids(sheet)]
    sheet.put("feed.advice", rows, note="Short by more than 3 % or over by more than 5 % is told.")
    short = [WORDS[element].lower() for element, wanted, got in recipe.missed(found, aim) if got < 0.9 * wanted]
    if short:
        sheet.caution("feed-short", "warning", f"Nutrients: more than a tenth short of {', '.join(short)}. The table "
                      "says "
                                               "by how much, and what would mend it.", lead="Nutrients short",
                      brief=f"More than a tenth short of {short[0]}{' and others' if len(short) > 1 else ''}.")
    share = found.reached.get(NH4, 0.0) / found.reached["N"] if found.reached.get("N") else 0.0
    if "ammonium" in found.broken or (way == BOTTLES and share > sheet["feed.ammonium_ceiling"]):
        sheet.caution("feed-ammonium", "warning", f"Ammonium: {share:.0%} of the nitrogen, above the most that you "
                      "allow. In water much ammonium burns roots, most of all in cold and dull weather.",
                      lead="Much ammonium",
                      brief=f"{share:.0%} of the nitrogen is ammonium, more than you allow: it burns roots.")
