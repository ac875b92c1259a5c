"""A running bath whose conductivity is off: what to add, thin or replace."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...errors import OutOfRange
from ...relations import feed as physics
from .choices import PPM_SCALES, SALTS, STOCK
from .mix import sources_of
from .strength import full_dose

if TYPE_CHECKING:
    from ...sheet import Sheet


def _reading(sheet: Sheet, raw: float) -> float:
    scale = sheet.text("feed.meter_scale")
    shown = raw / PPM_SCALES[scale] if scale in PPM_SCALES else raw / 1000.0 if scale == "us" else raw
    if shown > 20.0:
        sheet.fault("feed.meter_reading", "Running bath: meter reads must be 20 mS/cm or less; check what the "
                                          "meter shows, mS/cm, µS/cm or ppm.")
    return shown


def mend(sheet: Sheet) -> None:
    """A running bath: concentrate to add, water to add, or solution to replace."""
    raw = sheet.optional("feed.meter_reading")
    if raw is None:
        return
    shown = _reading(sheet, raw)
    if sheet.yes("feed.meter_compensates"):
        sheet.put("feed.bath_ec", shown, note="As your meter shows it, in mS/cm.")
    else:
        shown = sheet.work("feed.bath_ec", physics.conductivity_to_25, conductivity_ms_cm=shown,
                           temperature_c=sheet["water.temperature"])
    plain, fresh = sheet.result("feed.water_conductivity"), sheet.result("feed.ec")
    wanted = sheet.optional("feed.wanted_ec") or fresh
    volume_l = sheet.result("feed.batch") * 1000.0
    if shown < wanted:
        _strengthen(sheet, volume_l, shown, wanted)
    elif shown > wanted:
        if wanted <= plain:
            sheet.fault("feed.wanted_ec", "EC wanted in the bath must be more than the EC of your plain water.")
        numbers = {"volume_l": volume_l, "reads_ms_cm": shown, "wanted_ms_cm": wanted, "water_ms_cm": plain}
        for key, function in (("feed.correct_water", physics.water_to_add),
                              ("feed.correct_replace", physics.solution_to_replace)):
            sheet.put(key, function(**numbers) / 1000.0, relation=function, inputs=numbers,
                      note="The formula gives liters.")


def _strengthen(sheet: Sheet, volume_l: float, shown: float, wanted: float) -> None:
    fit, _, full = full_dose(sheet)
    if full <= 0.0:
        raise OutOfRange("What a full dose adds must be more than 0 mS/cm to mend a bath.")
    share = (wanted - shown) / full
    stocked = {row["key"] for row in sheet.rows_if_any("feed.micro_stock")}
    poured = {row["key"]: row["volume"] for row in sheet.result_rows("feed.masses") if "volume" in row}
    rows = [{"what": source.name, "mass": fit.grams_l[source.key] * volume_l / 1e3 * share,
             "volume": poured[source.key] * share if source.key in poured else None} for source in sources_of(sheet)
            if source.key not in stocked and fit.grams_l[source.key] > 0.0]
    if stocked:
        rows.append({"what": STOCK, "mass": None, "volume": sheet.result("feed.micro_dose") * share})
    sheet.put("feed.correct_rows", rows, note="The whole batch without the acid of its first fill, times the missing "
              "part of its EC. Add two thirds, let it mix, measure, then add the rest: EC "
              "does not add up exactly.")
    if sheet.text("feed.way") == SALTS:
        numbers = {"volume_l": volume_l, "reads_ms_cm": shown, "wanted_ms_cm": wanted, "full_ms_cm": full,
                   "dose_ml_l": sheet.result("feed.concentrate_dose")}
        sheet.put("feed.correct_each", physics.concentrate_to_add(**numbers) * 1e-6,
                  relation=physics.concentrate_to_add, inputs=numbers, note="The formula gives milliliters. Add two "
                  "thirds, let it mix, measure, then add the rest.")
