"""The problems of the worksheet: which results of a plan they ask for, by level, in words with the plan's own numbers.

In a text ``{key}`` is a question or a result as the page shows it and ``{key:4}`` with so many digits; ``{@key}`` is
the answer to an earlier problem, or its number where the sheet has no such problem; ``{=name unit}`` is a number that
the result was worked out from. ``[us:...]``, ``[metric:...]`` and ``[several:...]`` are for readers of one system of
units, and for plans of several baths.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from ... import units
from ...figures import written_out
from ...plan import FIELDS
from ...solve import SPECS, Design

_PLACE = re.compile(r"\{(?:@(?P<answer>[\w.]+)|=(?P<input>\w+) (?P<unit>[^}]+)|(?P<key>[\w.]+)(?::(?P<digits>\d))?)\}")
_ONLY = re.compile(r"\[(us|metric|several):([^\]]*)\]")
# Digits of a number that a reader only carries on with.
CARRIED = 4


@dataclass(frozen=True)
class Problem:
    """One problem: the result it asks for, its text, how many blank lines its sum takes, and the unit of an answer
    whose result has none."""

    key: str
    text: str
    lines: int = 2
    unit: str = ""


@dataclass(frozen=True)
class Level:
    """A third of the worksheet: its title, what one may need to know, for US and metric readers, and its problems."""

    name: str
    title: str
    us: tuple[str, ...]
    metric: tuple[str, ...]
    problems: tuple[Problem, ...]

    def helps(self, system: str) -> tuple[str, ...]:
        """Conversions in the reader's units."""
        return self.metric if system == "metric" else self.us


LEVELS = (
    Level(
        "volume", "Level 1: volume and mass",
        ("1 gal = 231 cubic inches", "1 square foot = 144 square inches", "1 cubic foot = 1,728 cubic inches"),
        ("1 L = 1,000 cubic centimeters", "1 square meter = 10,000 square centimeters",
         "1 cubic meter = 1,000 L", "1 kg presses down with 9.807 newtons",
         "1 kPa = 1,000 newtons on a square meter"),
        (Problem("water.bath_volume", "A bath is {bath.length} long and {bath.width} wide inside. The water in it is "
                 "{bath.water_depth} deep. How much water is that?"),
         Problem("water.surface_area", "How large is the surface of the water? The bath is {bath.length} long and "
                 "{bath.width} wide inside."),
         Problem("water.working_volume", "Take the water of one bath ({@water.bath_volume}).[several: There are "
                 "{bath.count} baths.] The reservoir holds {water.reservoir_volume:4} more. How much water is there in "
                 "all?", 1),
         Problem("water.reservoir_headroom", "Full to the rim, the reservoir holds {water.reservoir_capacity:4}. With "
                 "the pump running it holds {water.reservoir_volume:4}. How much room is left?", 1),
         Problem("water.mass", "The water weighs {water.density:4}. How heavy is all of it ({@water.working_volume})? "
                 "Find first what one [us:gallon][metric:liter] weighs."),
         Problem("water.bath_mass", "The empty bath weighs {bath.tank_mass}. How heavy is it with its water "
                 "({@water.bath_volume})? The water weighs {water.density:4}.", 3),
         Problem("water.floor_pressure", "The full bath ({@water.bath_mass}) stands on {water.footprint:4} of floor. "
                 "How hard does it press on it?"))),
    Level(
        "air", "Level 2: air, pumps, cost",
        ("1 hour = 60 minutes = 3,600 seconds", "150 % = 1.5", "1 kWh = 1,000 W for one hour",
         "1 year = 365 days of 24 hours", "Opening of a round hose = 3.1416 / 4 x bore x bore",
         "1 gal = 231 cubic inches", "1 foot = 12 inches"),
        ("1 hour = 60 minutes = 3,600 seconds", "150 % = 1.5", "1 kWh = 1,000 W for one hour",
         "1 year = 365 days of 24 hours", "Opening of a round hose = 3.1416 / 4 x bore x bore",
         "1 L = 1,000 cubic centimeters", "1 m = 100 cm", "1 gal = 3.785 L"),
        (Problem("circulation.target_flow", "The water of a bath ({@water.bath_volume}) is to go round so many times "
                 "an hour: {circulation.turnover_wanted}.[several: There are {bath.count} baths.] How much must the "
                 "pump move?", 1),
         Problem("circulation.turnover", "The pump really moves {circulation.flow:4}.[several: There are {bath.count} "
                 "baths.] How often an hour does the water of a bath ({@water.bath_volume}) go round?", 1),
         Problem("circulation.velocity", "The pump moves {circulation.flow:4} through a hose with a bore of "
                 "{circulation.hose_bore}. How fast does the water run in it?", 3),
         Problem("air.stone_depth", "The water in the bath is {bath.water_depth} deep. Air stones {air.stone_height} "
                 "high lie on its floor. How much water stands over them?", 1),
         Problem("air.back_pressure", "An air pump pushes against the water over the stone ({air.water_pressure:4}), "
                 "the wet stone ({air.stone_pressure:4}) and the hose ({air.hose_pressure:4}). How much is that "
                 "together?", 1),
         Problem("air.oxygen_need", "The roots need {air.oxygen_likely:4} of air in the hottest hour. Take "
                 "{oxygen.safety} of it, to be safe. How much is that?", 1),
         Problem("air.optimum_per_hour", "Some growers reckon 28 L of air an hour for each gallon of water. That is "
                 "common practice, and no published source is known. The water is {air.water:4}. How many L/min would "
                 "that be?"),
         Problem("energy.power", "The air pumps draw {air.power:4}, the water pump {circulation.power:4}, and other "
                 "loads that always run {energy.other_power}. How much is that together?", 1),
         Problem("energy.per_year", "All that power ({@energy.power}) is on all day, all year. How much energy is "
                 "that?"),
         Problem("energy.cost_per_year", "The energy of a year ({@energy.per_year}) costs {energy.price_read}. What "
                 "does the year cost?", 1))),
    Level(
        "water", "Level 3: oxygen, pH, nutrients",
        ("1 gal = 3.785 L", "1 L = 1,000 mL", "1 g = 1,000 mg",
         "50.04 mg/L of alkalinity (as CaCO3) takes 1 mmol/L of acid", "1 mol/L = 1 mmol/mL", "30 % = 0.3",
         "Meters show 1 mS/cm as 500 ppm or as 700 ppm, by their scale"),
        ("1 gal = 3.785 L", "1 L = 1,000 mL", "1 g = 1,000 mg",
         "50.04 mg/L of alkalinity (as CaCO3) takes 1 mmol/L of acid", "1 mol/L = 1 mmol/mL", "30 % = 0.3",
         "Meters show 1 mS/cm as 500 ppm or as 700 ppm, by their scale"),
        (Problem("oxygen.delivered_over_need", "The air pumps bring {air.delivered:4} down to the stones. The bath "
                 "needs {air.oxygen_need:4}. How many times as much is that?", 1),
         Problem("oxygen.per_kwh", "The bubbles bring {oxygen.brought:4} of oxygen. The air pumps draw {air.power:4}. "
                 "How many grams of oxygen is that for one kWh?"),
         Problem("acidity.alkalinity_charge", "The alkalinity of the water is {acidity.alkalinity}. How much acid does "
                 "it take?", 1),
         Problem("acidity.volume", "On paper only: to bring the pH from {acidity.start_ph} to {acidity.target_ph}, a "
                 "liter takes {=amount_mmol_l mmol} of acid. The bottle holds {=strength_mol_l mol/L}. There are "
                 "{acidity.water:4} of water. How many mL is the first dose?", 3),
         Problem("feed.ppm500", "The solution has an EC of {feed.ec:4}. What does a ppm meter with the scale of 500 "
                 "show?", 1, "ppm"),
         Problem("feed.ppm700", "And one with the scale of 700, in the same solution of {feed.ec:4}?", 1, "ppm"),
         Problem("feed.concentrate_each", "Concentrates A and B are made {feed.stock_strength} times as strong as the "
                 "solution. How many mL of A does it take for {feed.batch:4}?"),
         Problem("use.usable", "The reservoir holds {water.reservoir_volume:4}. At least {use.least} of it must stay. "
                 "How much may be used before a top-up?", 1),
         Problem("use.days_to_top_up", "{use.gone:4} of water goes in a day, drunk and evaporated. For how many "
                 "days does the water last that may be used ({@use.usable})?", 1))),
)


def precise(key: str, design: Design, digits: int = CARRIED) -> str:
    """A question or a result with so many digits, in the unit that the reader sees it in."""
    spec = SPECS.get(key) or FIELDS[key]
    value = design.value(key)
    if isinstance(value, bool) or not isinstance(value, (int, float)) or spec.kind not in units.KINDS:
        return design.shown(key)
    kind = units.KINDS[spec.kind]
    unit = (spec.metric or kind.metric) if design.system == "metric" else (spec.us or kind.us)
    return f"{written_out(units.convert(value, spec.kind, unit), digits)} {units.written(unit)}".rstrip()


def text(problem: Problem, design: Design, numbered: Mapping[str, int]) -> str:
    """The problem in words with the numbers of a plan; ``numbered`` are the problems of this sheet by their results."""
    def put(found: re.Match[str]) -> str:
        if found["answer"]:
            number = numbered.get(found["answer"])
            return f"your answer to problem {number}" if number else precise(found["answer"], design)
        if found["input"]:
            value = design.answers[problem.key].inputs[found["input"]]
            return f"{written_out(value, CARRIED) if isinstance(value, float) else value} {found['unit']}"
        return precise(found["key"], design, int(found["digits"])) if found["digits"] else design.shown(found["key"])
    meant = {"metric" if design.system == "metric" else "us"}
    if (design.value("bath.count") or 1) > 1:
        meant.add("several")
    return _PLACE.sub(put, _ONLY.sub(lambda found: found[2] if found[1] in meant else "", problem.text))
