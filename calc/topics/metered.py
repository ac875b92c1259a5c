"""A reading of dissolved oxygen: what it says of stones and roots, and of the hottest hour."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ..declare import Field, Over, Result
from ..models import calibration
from ..models.balance import M3_S_IN_L_H, Bath, Guess, air_needed, limits
from ..relations.base import MEMORY
from ..relations.reading import reading_weight
from . import scheme
from .breathing import bath_of, guesses_of, hottest

if TYPE_CHECKING:
    from ..sheet import Sheet

READ = (("oxygen.reading", Over(0)),)

FIELDS = (
    Field("oxygen.reading", "concentration", "Oxygen by your meter", ("", ""), 0.01, 25.0, "mg/L", "mg/L",
          help="in the bath, pumps running, an hour after any change", optional=True,
          why="empty: nobody measured yet, and the guesses stand"),
    Field("oxygen.reading_temperature", "temperature", "Water when you measured", ("", ""), 0.5, 40.0, "F", "C",
          help="the meter shows it; empty: the water temperature", why="empty: the plan's water", optional=True,
          when=READ),
    Field("oxygen.reading_plants", "number", "Full-grown plants then", ("", ""), 0.0, 100000.0, optional=True,
          help="as many heads as their roots make up; empty: as planned",
          why="empty: as many as the plan counts", when=READ),
    Field("oxygen.reading_error", "concentration", "The meter may be off by", ("0.3 mg/L", "0.3 mg/L"), 0.05, 3.0,
          "mg/L", "mg/L", help="from its handbook, after calibration in damp air",
          why=f"0.2 to 0.4 mg/L is what handbooks of field meters claim: {MEMORY}", when=READ),
)
RESULTS = (
    Result("oxygen.metered_weight", "ratio", "How far the reading is followed", "%", "%"),
    Result("oxygen.metered_transfer", "ratio", "By your reading: what stones give, of our guess", "%", "%"),
    Result("oxygen.metered_demand", "ratio", "By your reading: what is breathed, of our guess", "%", "%"),
    Result("oxygen.metered_low", "concentration", "By your reading: oxygen in the bath, low", "mg/L", "mg/L"),
    Result("oxygen.metered", "concentration", "By your reading: oxygen in the bath, likely", "mg/L", "mg/L"),
    Result("oxygen.metered_high", "concentration", "By your reading: oxygen in the bath, high", "mg/L", "mg/L"),
    Result("oxygen.metered_hottest", "concentration", "By your reading: oxygen in the hottest hour", "mg/L", "mg/L"),
    Result("oxygen.metered_air", "flow", "By your reading: air needed in the hottest hour, with margin", "L/min",
           "L/min"),
)
# Standard deviations from which on a reading is no longer chance.
FAR = 3.0
BOTH = ("Stones and roots are both only guesses, and a reading shows their difference. Each is moved as far as it may "
        "be off: the surer of them less.")


def metered(sheet: Sheet) -> None:
    """What one reading makes of the guesses, and of the band of oxygen."""
    reading = sheet.optional("oxygen.reading")
    if reading is None:
        return
    typed, plants = sheet.optional("oxygen.reading_temperature"), sheet.optional("oxygen.reading_plants")
    then = bath_of(sheet, sheet["water.temperature"] if typed is None else typed)
    if plants is not None:
        then = replace(then, plants=plants)
    holds, error = max(limits(then)), sheet["oxygen.reading_error"]
    if reading > holds + error:
        most = sheet.shown_as("oxygen.reading", holds)
        sheet.fault("oxygen.reading", f"Oxygen by your meter is more than such water can hold, {most}: calibrate the "
                    "meter in damp air, or correct its temperature, and enter that or less.",
                    {"oxygen.reading_temperature": f"Water when you measured could hold only {most} of oxygen: read "
                     "both again."})
    air = scheme.air_m3_s(sheet) * M3_S_IN_L_H
    ends = guesses_of(sheet, then)
    found = calibration.calibrate(ends, calibration.Measured(reading, error, then, air))
    if found.surprise > FAR:
        sheet.caution("oxygen-reading-far", "warning", f"Oxygen: your meter read {sheet.shown('oxygen.reading')}, and "
                      "that is farther from what plants, stones and water of this plan can do than one bath in several "
                      "hundred. Calibrate the meter, and see that plants, pumps and temperature were as you typed.",
                      lead="The meter surprises", brief="Far from what this plan can do: calibrate it, measure again.")
        sheet.verdict("tight", f"Your meter read {sheet.shown('oxygen.reading')}, far from what this plan can do. "
                      "Calibrate it, and see that plants, pumps and temperature were as you typed.",
                      sheet.shown("oxygen.reading"), "The meter surprises.")
    sheet.put("oxygen.metered_weight", calibration.weight(found), reading_weight,
              {"guess_spread": found.seen, "reading_spread": found.error},
              note="100 % would be a meter without error beside a guess that is worth nothing.")
    transfer, demand = calibration.factors(ends, found, then)
    if scheme.has_air(sheet):
        sheet.put("oxygen.metered_transfer", transfer, note=BOTH)
    sheet.put("oxygen.metered_demand", demand, note=BOTH)
    low, likely, high = calibration.band(found, bath_of(sheet, sheet["water.temperature"]), air)
    for key, value, words in (("_low", low, "One bath in twenty has less. "), ("", likely, ""),
                              ("_high", high, "One bath in twenty has more. ")):
        sheet.put(f"oxygen.metered{key}", value, note=f"{words}The same balance, with the guesses as the reading left "
                  "them, at the plan's temperature and plants.", source=reading_weight.relation.source)
    hot = bath_of(sheet, hottest(sheet))
    sheet.put("oxygen.metered_hottest", calibration.band(found, hot, air)[1], note="The same, in the hottest hour.")
    _air(sheet, found.likely, hot)


def _air(sheet: Sheet, likely: Guess, hot: Bath) -> None:
    """The air that the reading asks for, beside what is blown."""
    if not scheme.has_air(sheet):
        return
    needed = air_needed(hot, likely, sheet["oxygen.target"])
    if needed is None:
        return
    sheet.put("oxygen.metered_air", needed * sheet["oxygen.safety"] / M3_S_IN_L_H,
              note="Air that just holds the aim in the hottest hour, times the safety factor.")


STEPS = (metered,)
