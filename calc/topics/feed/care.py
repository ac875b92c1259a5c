"""What to watch: the acid counted on, the crops, the source water, and how salts are handled."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ... import units
from ...data import salts as salt_data
from ...data import targets as target_data
from ...data.salts import WORDS
from .advise import other_acids
from .choices import ACID_TAKEN, BOTTLES, SALTS
from .mix import tap_brought, wanted_of, water_brought, water_counted

if TYPE_CHECKING:
    from ...sheet import Sheet


def counts_on_acid(sheet: Sheet) -> None:
    """Say that the weights stand on an acid, where it brings much of an element: without it the mix is another."""
    counted, wanted = water_counted(sheet, wanted_of(sheet)), wanted_of(sheet)
    tap = tap_brought(sheet)
    brought = [f"{sheet.shown_as('acidity.nutrient_p', amount)} of {WORDS[element].lower()}"
               for element in ("P", "N") if element in wanted
               and (amount := counted.get(element, 0.0) - tap.get(element, 0.0)) >= 1.0]
    product, volume = sheet.result_if_any("acidity.product", str), sheet.result_if_any("acidity.volume")
    # A bottle's dose is the same with the acid and without it.
    if not brought or product is None or volume is None or sheet.text("feed.way") == BOTTLES:
        return
    sheet.caution("feed-acid", "warning",
                  f"Weights: they count on {sheet.shown_as('acidity.volume', ACID_TAKEN * volume)} of {product}, "
                  f"which brings {' and '.join(brought)}: three quarters of the dose, since the meter often says stop "
                  "before the last. With another acid, or none, say so under pH, or the nutrients fall short.",
                  lead="Counts on acid",
                  brief=f"The weights count on {sheet.shown_as('acidity.volume', ACID_TAKEN * volume)} of acid: say "
                        "so if you use none.")
    passing = other_acids(sheet)
    if passing:
        sheet.caution("feed-acid-passes", "warning", f"Acid: {passing[0]}", lead="Acid brings too much",
                      brief="It brings more of a nutrient than the formula asks for: use two acids.")


def suits_crops(sheet: Sheet) -> None:
    """Whether the fresh feed is as strong as the crops chosen like it."""
    low, high = sheet.result_if_any("crops.ec_low"), sheet.result_if_any("crops.ec_high")
    ec = sheet.result("feed.ec")
    # A prediction within a tenth of the band says nothing against it.
    if low is None or high is None or 0.9 * low <= ec <= 1.1 * high:
        return
    def say(value: float) -> str:
        return sheet.shown_as("feed.ec", value)
    what = "thinner" if ec < low else "stronger"
    sheet.caution("feed-crops", "warning", f"Nutrients: {say(ec)} is {what} than the {say(low)} to {say(high)} that "
                  "suits "
                  f"{sheet.result('crops.names', str)}. Change the strength or the formula, or choose other crops.",
                  lead="Nutrients and crops",
                  brief=f"{say(ec)} is {what} than the {say(low)} to {say(high)} that suits your crops.")


def source_water(sheet: Sheet) -> None:
    """Water that brings too much of what gathers."""
    water = water_brought(sheet)
    for element, limit, source in target_data.WATER_LIMITS:
        if water.get(element, 0.0) > limit:
            sheet.caution(f"feed-water-{element.lower()}", "warning",
                          f"Source water: {WORDS[element].lower()} of {units.number(water[element])} mg/L is above "
                          f"the {units.number(limit)} that is advised at most ({source}). Thin it with rain or "
                          "filtered water.", lead=f"{WORDS[element]} in tap water",
                          brief=f"{units.number(water[element])} mg/L, and {units.number(limit)} is advised at most: "
                                "thin it with reverse-osmosis water.")


def chlorine(sheet: Sheet) -> None:
    """Chlorine of the tap, which burns roots before the salts have used it up, and how to be rid of it."""
    found = sheet.optional("feed.water_chlorine")
    if found is None or found < target_data.CHLORINE_HARMS_MG_L:
        return
    tried, lost = max(pair for pair in target_data.CHLORINE_LOSSES if pair[0] <= found)
    sheet.caution("feed-chlorine", "warning",
                  f"Chlorine: {sheet.shown('feed.water_chlorine')} in your water before the salts. In a trial lettuce "
                  f"lost {lost:.0%} of its leaf at {units.number(tried)} mg/L ({target_data.CHLORINE_SOURCE}). "
                  f"{target_data.CHLORINE_GOES} Measure again before you plant. The same holds for every top-up.",
                  lead="Chlorine in tap water",
                  brief=f"{sheet.shown('feed.water_chlorine')} burns roots: let it stand in air, or filter it.")


def handling(sheet: Sheet) -> None:
    """Cautions that belong to what is weighed."""
    sheet.caution("feed-food", "note", "Food: use drinking water, clean tools and fertilizer sold for food "
                  "crops; keep these tools for the bath alone, and wash hands before you touch leaves.",
                  lead="Clean tools",
                  brief="Drinking water and fertilizer sold for food crops; tools for the bath alone.")
    sheet.caution("feed-concentrate", "warning", "Concentrates: never pour A and B together undiluted; calcium meets "
                  "sulfate and phosphate and turns to grit that no stirring brings back. Water first, then one, "
                  "then the other.", lead="Never A into B",
                  brief="Undiluted they turn to grit: water first, then one, then the other.")
    sheet.caution("feed-labels", "warning", "Children: keep salts and bottles locked away and labeled with name and "
                  "date, never in bottles made for drinks. Weigh with goggles, gloves and no wind; raise no dust.",
                  lead="Locked and labeled",
                  brief="Salts and bottles locked away from children, never in drink bottles.")
    if sheet.text("feed.way") != SALTS:
        sheet.caution("feed-sheet", "warning", "Products: read the safety data sheet of each. Powders with nitrate "
                      "make a fire fiercer: keep them dry, away from heat, fuel, sawdust and foam scraps.",
                      lead="Safety data sheets",
                      brief="Read the sheet of each product; keep nitrate dry and away from fuel.")
        return
    used = [salt_data.BY_KEY[row["key"]] for row in sheet.result_rows("feed.masses")]
    fiery = [salt.name for salt in used if "oxidizer" in salt.hazard]
    if fiery:
        sheet.caution("feed-oxidiser", "danger", f"Oxidizers ({', '.join(fiery)}) make any fire fiercer. Keep them "
                      "dry, away from heat, fuel, sawdust, sugar and foam scraps; follow the safety data sheet and "
                      "local law.", lead="Oxidizing salts",
                      brief="They make any fire fiercer: dry, away from heat, fuel, sawdust and foam.", standing=True)
    if any(salt_data.BORON in salt.hazard for salt in used):
        sheet.caution("feed-boron", "danger", "Boric acid and borax may harm fertility and the unborn child. Gloves, "
                      "no dust; who is or may be pregnant leaves them to others. A ready trace mix avoids weighing "
                      "them.", lead="Boric acid",
                      brief="May harm the unborn child: gloves, no dust; pregnant people leave it to others.",
                      standing=True)
    named = [salt_data.BY_KEY[row["name"]] for row in sheet.rows("feed.salts")]
    held = [salt for salt in named if salt.restricted]
    if held:
        left = "" if sheet.yes("feed.allow_restricted") else " It is left out of the mix."
        sheet.caution("feed-restricted", "danger", f"{held[0].name}: {held[0].restricted}. Ask your authority before "
                      f"you buy or keep it.{left}", lead="Restricted by law",
                      brief=f"{held[0].name}: ask your authority before you buy or keep it.")
