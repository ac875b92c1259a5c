"""The worked cases of the guides are those of the planner: a number told in a story is what the same plan answers."""

from __future__ import annotations

import re

import pytest
from tools import guides

from calc import Plan, solve
from calc.solve import Design

FULL = {"oxygen.crop": "head", "oxygen.plants": "18"}
HOT = {**FULL, "oxygen.hottest": "77 F"}
GARAGE = {"place.setting": "heated room", "place.air_high": "90 F", "place.air_low": "68 F"}
LAMPS = {"light.by": "lamp", "light.sun": "none", "light.lamp_power": "60 W", "light.lamp_efficacy": "2.2 µmol/J",
         "light.target": "14 mol/m2/d"}
SALTS = {"feed.way": "salts", "acidity.alkalinity": "1 mg/L",
         **{f"feed.water_{one}": "0" for one in ("ca", "mg", "na", "cl", "s")}}
TAP = {**FULL, "use.source_ec": "0.4", "use.sodium": "20 mg/L", "use.target_ec": "1.6"}
HARD, HALVED = ({"acidity.alkalinity": f"{mg} mg/L", "acidity.start_ph": ph} for mg, ph in ((140, "7.8"), (70, "7.6")))
THREE = {f"crops.rows.{row}.{key}": said for row, crop in enumerate(
    (("leaf lettuce", "2"), ("basil", "1"), ("spinach", "1")), 1) for key, said in zip(("crop", "share"), crop,
                                                                                      strict=True)}
TWO = {key: said for key, said in THREE.items() if ".3." not in key}

# Guide, plan, key, and what the story says of it; a number stands for itself, a text is looked for as it is.
CASES = [
    ("how-a-raft-bath-works", {}, "water.bath_volume", "about 50 gallons"),
    ("cut-the-raft", {}, "board.sites", "18 heads"), ("cut-the-raft", {}, "board.hole_diameter", "1 7/8"),
    ("cut-the-raft", {}, "board.length", "47 1/2 in"), ("cut-the-raft", {}, "board.width", "23 1/2 in"),
    ("air", HOT, "air.target", "8.3 L/min"), ("air", {}, "air.optimum_per_hour", "about 31 liters a minute"),
    ("move-the-water", {}, "water.reservoir_capacity", "26 gallons"),
    ("oxygen-and-roots", HOT, "air.target", "about 8.3"), ("oxygen-and-roots", HOT, "air.oxygen_high", "15.4 L/min"),
    ("oxygen-and-roots", HOT, "oxygen.saturation_hottest", "8.1 mg/L"),
    ("oxygen-and-roots", HOT, "place.air_oxygen", "272 mg"), ("oxygen-and-roots", HOT, "oxygen.demand", "Together 95"),
    ("the-power-cut", HOT, "outage.hours_to_alarm_low", "0.3 hours"),
    ("the-power-cut", HOT, "outage.hours_to_alarm_high", "10.8"), ("the-power-cut", HOT, "outage.start", "6.7 mg/L"),
    ("the-power-cut", HOT, "outage.battery", "6.7 Ah"), ("the-power-cut", HOT, "outage.bath_kept", "47 gallons"),
    ("warm-and-cold-water", GARAGE, "heat.high", "80.3 °F"), ("warm-and-cold-water", GARAGE, "heat.low", "75.5"),
    ("warm-and-cold-water", GARAGE, "heat.cool_least", "37 W"),
    ("warm-and-cold-water", GARAGE, "heat.bottles", "4 bottles"),
    ("warm-and-cold-water", GARAGE, "heat.band_high", "77 °F"),
    ("light", LAMPS, "light.ppfd", "249 µmol/m2/s"), ("light", LAMPS, "light.dli", "14.3 mol/m2/d"),
    ("light", LAMPS, "energy.lamps_per_year", "701 kWh"), ("light", LAMPS, "energy.lamps_cost_per_year", "119 a year"),
    ("light", LAMPS, "light.ppfd_needed", "243 µmol/m2/s"),
    ("ph-without-fear", HARD, "acidity.volume", "492 mL"), ("ph-without-fear", HARD, "acidity.nutrient_p", "66 mg/L"),
    ("ph-without-fear", HALVED, "acidity.volume", "244 mL"),
    ("ph-without-fear", HALVED, "acidity.nutrient_p", "33 mg/L"),
    ("ph-without-fear", HALVED, "acidity.acid_needed", "1.09 mmol"),
    ("top-up-and-replace", TAP, "use.days_to_top_up", "13.5 days"),
    ("top-up-and-replace", TAP, "use.ec_plain", "1.25"), ("top-up-and-replace", TAP, "use.ec_feed", "1.63"),
    ("top-up-and-replace", TAP, "use.nutrients_plain", "0.70"),
    ("top-up-and-replace", TAP, "use.replace_after", "56 days"),
    ("plant-every-week", {}, "schedule.sites_used", "15 sites"),
    ("plant-every-week", {}, "schedule.heads_per_week", "3 heads"),
    ("plant-every-week", {}, "schedule.seeds_per_batch", "so 4"),
    ("plant-every-week", {"schedule.aim": "heads", "schedule.heads": "6"}, "schedule.sites_needed", "30 sites"),
    ("plant-every-week", {"schedule.stages": "two"}, "schedule.heads_per_week", "4 a week fit"),
    ("running-cost", {}, "energy.power", "13 W"), ("running-cost", {}, "energy.per_year", "114 kWh"),
    ("mix-the-feed", SALTS, "feed.ec", "1.49 mS/cm"), ("mix-the-feed", SALTS, "feed.ec_low", "1.34"),
    ("mix-the-feed", SALTS, "feed.ec_high", "1.64"), ("mix-the-feed", SALTS, "feed.micro_dose", "24.9 mL"),
    ("choose-crops", THREE, "crops.ph_low", "pH 5.8"), ("choose-crops", THREE, "crops.ec_low", "exactly 1.8"),
    ("choose-crops", THREE, "crops.root_high", "exactly 68 °F"),
    ("choose-crops", TWO, "crops.root_high", "68 to 77 °F"),
    ("choose-crops", TWO, "crops.ec_high", "EC 1.2 to 1.8"),
]
_SOLVED: dict[str, Design] = {}


def solved(plan: dict[str, str]) -> Design:
    """A plan's design, worked out once for all its cases."""
    key = repr(sorted(plan.items()))
    if key not in _SOLVED:
        _SOLVED[key] = solve(Plan(plan))
    return _SOLVED[key]


def number(text: str) -> tuple[float, int]:
    """The last number of a text and how many digits follow its point; a fraction of an inch counts to its 1/16."""
    if found := re.search(r"(\d+) (\d+)/(\d+)", text):
        return int(found[1]) + int(found[2]) / int(found[3]), 3
    said = re.findall(r"\d[\d,]*(?:\.\d+)?", re.sub(r"/(h|min|m2|d|L|cm)\b|mol/m2|\bm2\b", "", text))[-1]
    return float(said.replace(",", "")), len(said.partition(".")[2])


@pytest.mark.parametrize(("name", "plan", "key", "said"), CASES, ids=[f"{one[0]}: {one[2]}" for one in CASES])
def test_a_story_says_what_the_planner_says(name, plan, key, said):
    design = solved(plan)
    assert design.value(key) is not None
    assert said in " ".join((guides.FOLDER / f"{name}.md").read_text(encoding="utf-8").split())
    told, digits = number(said)
    answered, _ = number(design.shown(key))
    # As exact as it is said: half a unit of its last digit, and the rounding of what the page shows.
    assert abs(told - answered) <= 0.5 * 10.0 ** -digits + 0.005 * answered
