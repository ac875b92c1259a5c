"""How strong the mix is: conductivity of plain water and solution, and whether charges balance."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...models import recipe
from ...relations import feed as physics
from ...relations.base import MEMORY
from .choices import ACID_TAKEN, BALANCED, GOOD_EC, PPM_SCALES, SALTS
from .mix import alkalinity, mixture, mixture_without_acid, tap_brought

if TYPE_CHECKING:
    from ...sheet import Sheet


def _ions(sheet: Sheet, mg_l: dict[str, float], acid_taken: bool) -> dict[str, float]:
    bicarbonate = alkalinity(sheet)
    if acid_taken:
        bicarbonate = max(bicarbonate - ACID_TAKEN * (sheet.result_if_any("acidity.acid_needed") or 0.0), 0.0)
        bicarbonate += ACID_TAKEN * (sheet.result_if_any("acidity.base_needed") or 0.0)
    return recipe.charges(mg_l, bicarbonate)


def plain_water(sheet: Sheet) -> None:
    """Conductivity of the source water: measured, or from its analysis."""
    measured = sheet.optional("feed.water_ec")
    if measured is not None:
        sheet.put("feed.water_conductivity", measured, note="As you measured it.")
        return
    plain = {element: sheet[f"feed.water_{element.lower()}"] for element in ("Ca", "Mg", "Na", "Cl", "S")}
    sheet.work("feed.water_conductivity", physics.conductivity_25, **_ions(sheet, plain, False))


def full_dose(sheet: Sheet) -> tuple[recipe.Fit, float, float]:
    """The feed for a bath that runs: what it reaches, its conductivity, and what a full dose adds to plain water."""
    fit = mixture_without_acid(sheet)
    tap = {element: amount for element, amount in tap_brought(sheet).items() if amount > 0.0}
    whole = physics.conductivity_25(**recipe.charges(fit.reached))
    return fit, whole, whole - physics.conductivity_25(**recipe.charges(tap))


def conductivity(sheet: Sheet) -> None:
    """What a meter will read in the feed, in mS/cm and on the three ppm scales."""
    ions = _ions(sheet, mixture(sheet).reached, True)
    measured = sheet.optional("feed.water_ec")
    if measured is None:
        found = sheet.work("feed.ec", physics.conductivity_25, **ions)
    else:
        plain = {element: sheet[f"feed.water_{element.lower()}"] for element in ("Ca", "Mg", "Na", "Cl", "S")}
        known = physics.conductivity_25(**_ions(sheet, plain, False))
        found = physics.conductivity_25(**ions) + max(measured - known, 0.0)
        sheet.put("feed.ec", found, note="From the ions of the solution, plus what your meter shows in the plain water "
                  "beyond what its analysis explains.", source=physics.conductivity_25.relation.source)
    for key, share in (("feed.ec_low", 1.0 - GOOD_EC), ("feed.ec_high", 1.0 + GOOD_EC)):
        sheet.put(key, found * share, note="A tenth either way: a prediction within that is a good one.")
    for name, scale in PPM_SCALES.items():
        sheet.work(f"feed.{name}", physics.meter_ppm, conductivity_ms_cm=found, scale=scale)


def balance(sheet: Sheet) -> None:
    """Whether the charges balance: a test of labels and analyses."""
    reached_mg_l = mixture(sheet).reached
    ions = _ions(sheet, reached_mg_l, True)
    plus, minus = recipe.trace_charges(reached_mg_l)
    for name, amount in ions.items():
        charge = physics.IONS[name][0]
        if charge > 0:
            plus += charge * amount
        else:
            minus -= charge * amount
    if plus + minus <= 0.0:
        return
    sheet.put("feed.cations", plus, note="Potassium, calcium, magnesium, sodium, ammonium and trace metals.")
    sheet.put("feed.anions", minus, note="Nitrate, phosphate, sulfate, chloride, bicarbonate and trace anions.")
    off = sheet.work("feed.imbalance", physics.charge_imbalance, cations=plus, anions=minus)
    sheet.work("feed.ec_rule", physics.conductivity_by_cations, cations=plus)
    if off > BALANCED:
        whose = "the water's analysis" if sheet.text("feed.way") == SALTS else "the labels or the water's analysis"
        sheet.caution("feed-balance", "note", f"Charges: plus and minus differ by {off:.0%}; 5 % is usual at most "
                      f"({MEMORY}). Something is missing in {whose}, so EC is less sure.",
                      lead="Charges unequal",
                      brief=f"Plus and minus differ by {off:.0%}: something is missing, so EC is less sure.")
