"""Calcium phosphate: whether the mix at its highest pH can turn cloudy, and what falls out if it does."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...data.salts import ATOMIC_MASS
from ...errors import OutOfRange
from ...models import recipe
from ...numeric.bracket import narrow
from ...relations import feed as feed_physics
from ...relations import phosphate as physics
from .mix import mixture

if TYPE_CHECKING:
    from ...sheet import Sheet

LOWEST_PH, HIGHEST_PH = 3.0, 10.0


def highest_ph(sheet: Sheet) -> float | None:
    """The highest pH that the mix stands at for days: the aim, or where the pH climbs back to without more acid."""
    aim, settled = sheet.input_if_any("acidity.target_ph"), sheet.result_if_any("acidity.rebound_ph")
    known = [ph for ph in (aim, settled) if ph is not None]
    return min(max(max(known), LOWEST_PH), HIGHEST_PH) if known else None


def _salts(sheet: Sheet, reached: dict[str, float], ph: float) -> dict[str, float]:
    """The arguments of the relation for a mix in mg/L."""
    ions = recipe.charges(reached)
    return {"ph": ph, "calcium_mmol_l": ions["calcium"], "magnesium_mmol_l": ions["magnesium"],
            "phosphate_mmol_l": ions["phosphate"], "sulfate_mmol_l": ions["sulfate"],
            "ionic_strength_mol_l": min(feed_physics.ionic_strength(**ions), 0.1),
            "temperature_c": sheet["water.temperature"]}


def falls_out(sheet: Sheet) -> dict[str, float]:
    """Calcium and phosphorus in mg/L that can fall out at the highest pH; empty where none can."""
    reached, ph = mixture(sheet).reached, highest_ph(sheet)
    if ph is None or reached.get("Ca", 0.0) <= 0.0 or reached.get("P", 0.0) <= 0.0:
        return {}
    salts = _salts(sheet, reached, ph)
    try:
        if physics.dicalcium_phosphate_index(**salts) <= 0.0:
            return {}
    except OutOfRange:
        return {}

    def index(gone: float) -> float:
        return physics.dicalcium_phosphate_index(**{**salts, "calcium_mmol_l": salts["calcium_mmol_l"] - gone,
                                                    "phosphate_mmol_l": salts["phosphate_mmol_l"] - gone})
    most = 0.999999 * min(salts["calcium_mmol_l"], salts["phosphate_mmol_l"])
    low, high = narrow(index, 0.0, most, index(0.0), index(most), 1e-6)[:2]
    gone = 0.5 * (low + high)
    return {"Ca": gone * ATOMIC_MASS["Ca"], "P": gone * ATOMIC_MASS["P"]}


def calcium_phosphate(sheet: Sheet) -> None:
    """How near calcium phosphate is to falling out at the highest pH, and a warning where it can."""
    reached, ph = mixture(sheet).reached, highest_ph(sheet)
    if ph is None or reached.get("Ca", 0.0) <= 0.0 or reached.get("P", 0.0) <= 0.0:
        return
    sheet.put("feed.calcium_phosphate_ph", ph, note="The pH you want, or where it climbs to as carbon dioxide leaves "
              "if no more acid is given, whichever is higher.")
    index = sheet.work("feed.calcium_phosphate_index", physics.dicalcium_phosphate_index,
                       **_salts(sheet, reached, ph))
    if index <= 0.0:
        return
    gone = falls_out(sheet)
    sheet.caution("feed-lime", "warning", f"Calcium phosphate: at pH {ph:.1f}, where this mix may come to stand, up to "
                  f"{sheet.shown_as('acidity.nutrient_p', gone['P'])} of phosphorus and "
                  f"{sheet.shown_as('acidity.nutrient_p', gone['Ca'])} of calcium can fall out as a white haze. "
                  "Keep the pH down with small doses of acid in the first days, or take an acid without phosphorus.",
                  lead="White haze", brief=f"At pH {ph:.1f} calcium phosphate can fall out: keep the pH down.")
