"""Where the pH goes in a day as plants eat and as tap water tops the bath up; worked out once the use is known."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..data import acids as data
from ..declare import Row
from ..errors import Unanswered
from ..relations import acidity as physics
from . import acidity

if TYPE_CHECKING:
    from ..sheet import Sheet

LITRES = 1e3


def ph_drift(sheet: Sheet) -> None:
    """What eating nitrate and ammonium and topping up do to the pH in a day: a wide band, said as one."""
    target, temperature = sheet["acidity.target_ph"], sheet["water.temperature"]
    co2_atm = sheet["acidity.air_co2"] * 1e-6 * sheet.result("place.air_pressure") / physics.ATMOSPHERE_PA
    typed = sheet.optional("acidity.ammonium_share")
    share = sheet.result("feed.ammonium_share") if typed is None else typed
    litres = sheet.result("water.working_volume") * LITRES
    nitrogen = physics.nitrogen_taken(plants=sheet.result("oxygen.plant_count"),
                                      uptake_kg_d=sheet["acidity.nitrogen_uptake"], water_l=litres)
    topped_up = sheet.result("acidity.alkalinity_charge") * sheet.result("use.per_day") * LITRES
    sheet.put("acidity.topup_charge", topped_up, note="Alkalinity of your water in meq/L times the water used in a "
              "day. It falls away where the top-up water is brought to the pH first.")
    acid = data.ACIDS["phosphoric"]
    pks = [physics.pk_at(pk_25=pk, heat_j_mol=heat, temperature_c=temperature)
           for pk, heat in zip(acid.pks, acid.heats, strict=True)]
    held = (physics.alkalinity_in_air(ph=target, co2_atm=co2_atm, temperature_c=temperature)
            + data.FEED_PHOSPHATE_MMOL_L * physics.hydrogen_given(target, *pks))
    down = _acid_if_any(sheet)
    rows: list[Row] = []
    for words, given in zip(("low", "likely", "high"), data.HYDROXIDE_PER_NITRATE, strict=True):
        eaten = physics.alkalinity_from_roots(
            nitrogen_mmol_l=nitrogen, ammonium_share=share, hydroxide_per_nitrate=given,
            hydrogen_per_ammonium=data.HYDROGEN_PER_AMMONIUM)
        charge = eaten + topped_up / litres
        rows.append({"case": words, "eaten": eaten * litres, "charge": charge, "all": charge * litres,
                     "ph": physics.ph_in_air(
                         alkalinity_meq_l=held + charge, acid_mmol_l=data.FEED_PHOSPHATE_MMOL_L, pk1=pks[0], pk2=pks[1],
                         pk3=pks[2], co2_atm=co2_atm, temperature_c=temperature),
                     "volume": None if down is None else physics.product_volume(
                         water_m3=litres / LITRES, strength_mol_l=down.strength,
                         amount_mmol_l=max(charge, 0.0) / physics.hydrogen_given(target, *down.pks))})
    sheet.put("acidity.drift", rows, note="Charges that roots give off for the nitrogen they take up, and the "
              "alkalinity of the water that tops up, in water settled with the air that holds 1 mmol/L of phosphate.",
              source=data.DRIFT_SOURCE)
    likely = rows[1]["charge"]
    word = "stays about where it is" if likely == 0.0 else ("rises" if likely > 0.0 else "falls")
    sure = "" if rows[0]["charge"] * rows[2]["charge"] > 0.0 else "; which way is not certain"
    sheet.put("acidity.drift_kind", f"likely {word}{sure}", note="Nitrate eaten raises the pH, ammonium eaten lowers "
              "it, and the alkalinity of top-up water raises it.", source=data.DRIFT_SOURCE)


def _acid_if_any(sheet: Sheet) -> acidity.Pourable | None:
    """The plan's acid; ``None`` where the plan raises the pH or the label does not say how strong it is."""
    if sheet["acidity.target_ph"] > sheet["acidity.start_ph"]:
        return None
    try:
        return acidity.acid_at(sheet, sheet["water.temperature"])
    except Unanswered:
        return None
