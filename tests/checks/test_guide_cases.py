"""The worked cases of the guides are those of the planner: a number told in a story is what the same plan answers."""

from __future__ import annotations

import re

import pytest
from tools import guides

from calc import Plan, solve
from calc.render import living
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

SOFTENED = {**FULL, "use.source_ec": "0.7", "use.sodium": "60 mg/L"}
SOUR = {"acidity.alkalinity": "2 mg/L", "acidity.start_ph": "4.9"}
SMALL = {"water.scheme": "aerated", "bath.length": "24 in", "bath.width": "16 in"}
FLOODED = {"bath.water_depth": "2 in"}
PRICED = {"parts.price": "3", "parts.supplies": "0.40"}

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
    ("the-power-cut", HOT, "outage.battery", "6.7 Ah"),
    ("the-power-cut", {**HOT, "outage.backup": "inverter"}, "outage.battery", "20.1 Ah"),
    ("the-power-cut", {**HOT, "outage.backup": "inverter"}, "outage.power", "pump of 6 W"),
    ("the-power-cut", HOT, "outage.bath_kept", "47 gallons"),
    ("warm-and-cold-water", GARAGE, "heat.high", "80.3 °F"), ("warm-and-cold-water", GARAGE, "heat.low", "75.5"),
    ("warm-and-cold-water", GARAGE, "heat.cool_least", "37 W"),
    ("warm-and-cold-water", GARAGE, "heat.bottles", "4 bottles"),
    ("warm-and-cold-water", GARAGE, "heat.band_high", "77 °F"),
    ("light", LAMPS, "light.ppfd", "249 µmol/m²/s"), ("light", LAMPS, "light.dli", "14.3 mol/m²/d"),
    ("light", LAMPS, "energy.lamps_per_year", "701 kWh"), ("light", LAMPS, "energy.lamps_cost_per_year", "119 a year"),
    ("light", LAMPS, "light.ppfd_needed", "243 µmol/m²/s"),
    ("ph-without-fear", HARD, "acidity.volume", "492 mL"), ("ph-without-fear", HARD, "acidity.nutrient_p", "66 mg/L"),
    ("ph-without-fear", HALVED, "acidity.volume", "244 mL"),
    ("ph-without-fear", HALVED, "acidity.nutrient_p", "33 mg/L"),
    ("ph-without-fear", HALVED, "acidity.acid_needed", "1.09 mmol"),
    ("top-up-and-replace", TAP, "use.days_to_top_up", "12.7 days"),
    ("top-up-and-replace", TAP, "use.sodium_after", "249 days"),
    ("top-up-and-replace", TAP, "use.ec_plain", "1.25"), ("top-up-and-replace", TAP, "use.ec_feed", "1.63"),
    ("top-up-and-replace", TAP, "use.nutrients_plain", "0.70"),
    ("top-up-and-replace", TAP, "use.replace_after", "56 days"),
    ("plant-every-week", {}, "schedule.sites_used", "15 sites"),
    ("plant-every-week", {}, "schedule.heads_per_week", "3 heads"),
    ("plant-every-week", {}, "schedule.seeds_per_batch", "so 4"),
    ("plant-every-week", {"schedule.aim": "heads", "schedule.heads": "6"}, "schedule.sites_needed", "30 sites"),
    ("plant-every-week", {"schedule.stages": "two"}, "schedule.heads_per_week", "4 a week fit"),
    ("running-cost", {}, "energy.power", "13 W"), ("running-cost", {}, "energy.per_year", "114 kWh"),
    ("mix-the-feed", {}, "feed.ec", "1.49 mS/cm"), ("mix-the-feed", {}, "feed.ec_low", "1.34"),
    ("mix-the-feed", {}, "feed.ec_high", "1.64"), ("mix-the-feed", {}, "feed.pour", "499 mL"),
    ("single-salts", SALTS, "feed.ec", "1.49 mS/cm"), ("single-salts", SALTS, "feed.ec_low", "1.34"),
    ("single-salts", SALTS, "feed.ec_high", "1.64"), ("single-salts", SALTS, "feed.micro_dose", "24.9 mL"),
    ("between-crops", {}, "water.working_volume", "65.9 gallons"),
    ("choose-crops", THREE, "crops.ph_low", "pH 5.8"), ("choose-crops", THREE, "crops.ec_low", "exactly 1.8"),
    ("choose-crops", THREE, "crops.root_high", "exactly 68 °F"),
    ("choose-crops", TWO, "crops.root_high", "68 to 77 °F"),
    ("choose-crops", TWO, "crops.ec_high", "EC 1.2 to 1.8"),
    ("which-water", SOFTENED, "use.replace_after", "after 14 days"),
    ("meters-and-drops", {"acidity.alkalinity": "142 mg/L"}, "acidity.alkalinity_charge", "2.84 mmol"),
    ("raise-the-ph", SOUR, "acidity.volume", "52.9 mL"), ("raise-the-ph", SOUR, "acidity.nutrient_k", "13.1 mg/L"),
    ("raise-the-ph", SOUR, "acidity.rebound_ph", "climbed to 7.7"),
    ("raise-the-ph", {**SOUR, "acidity.target_ph": "5.3"}, "acidity.volume", "They pour 13 mL"),
    ("choose-a-vessel", {}, "water.bath_mass", "it weighs 435 lb"),
    ("choose-a-vessel", {}, "board.freeboard", "with 1 3/16 in"),
    ("choose-a-vessel", {}, "board.spare_load", "45.7 lb"),
    ("choose-a-vessel", {"board.thickness": "1 in"}, "board.freeboard", "with 11/16 in"),
    ("build-it", {}, "board.length", "47 1/2 in"), ("build-it", {}, "board.width", "by 23 1/2 in"),
    ("build-it", {}, "board.sites", "It got 18"), ("build-it", {}, "board.hole_diameter", "1 7/8 in"),
    ("test-day", {}, "circulation.flow", "132 gallons"), ("test-day", {}, "water.drain_back_volume", "2.6 gallons"),
    ("test-day", {}, "water.depth_after_stop", "9 1/2 in"), ("test-day", {}, "air.stones", "One of the 3"),
    ("seedlings", {}, "schedule.seeds_per_batch", "sow 4 seeds"), ("seedlings", {}, "schedule.seeds_total", "is 64"),
    ("seedlings", {}, "schedule.nursery_cells", "than 12 cells"),
    ("rounds", {}, "use.per_day", "0.36 gallons"), ("rounds", {}, "use.days_to_top_up", "wait 29 days"),
    ("read-roots-and-leaves", GARAGE, "heat.high", "80.3 °F"),
    ("harvest", {}, "parts.mass_per_week", "1.04 lb"), ("harvest", {}, "schedule.heads_per_week", "cut 3 heads"),
    ("one-vessel", SMALL, "water.bath_volume", "16.6 gallons"), ("one-vessel", SMALL, "board.sites", "has 6 sites"),
    ("one-vessel", SMALL, "board.length", "23 1/2 in"), ("one-vessel", SMALL, "board.width", "15 1/2 in"),
    ("one-vessel", SMALL, "air.target", "0.73 L/min"), ("one-vessel", SMALL, "feed.pour", "126 mL"),
    ("one-vessel", SMALL, "water.bath_mass", "158 lb"),
    ("from-flood-table", FLOODED, "water.bath_volume", "it holds 10 gallons"),
    ("from-flood-table", FLOODED, "water.bath_mass", "weighs 103 lb"),
    ("from-flood-table", {}, "water.bath_volume", "be 50 gallons"),
    ("from-flood-table", {}, "water.bath_mass", "and 435 lb"),
    ("costs-and-payback", PRICED, "parts.heads_per_year", "156 heads"),
    ("costs-and-payback", PRICED, "parts.cost_per_head", "costs 0.56"),
    ("costs-and-payback", PRICED, "parts.gain_per_year", "381 in a year"),
    ("clean-hands-clean-bath", {}, "schedule.heads_per_week", "cut 3 heads"),
    ("what-to-do-when", GARAGE, "heat.high", "80.3 °F"),
    ("what-to-do-when", GARAGE, "heat.bottles", "floated 4 bottles"),
    ("what-to-do-when", HOT, "outage.plan_for", "3.5 hours"), ("what-to-do-when", HOT, "outage.pour", "28.8 gallons"),
    ("what-to-do-when", FULL, "use.days_to_top_up", "12.7 days"),
    ("what-to-do-when", FULL, "use.holiday_short", "1.6 gallons"),
    ("a-lesson", {}, "water.bath_volume", "49.9 gallons"),
]
# A number of the reader's own that stands in a sentence with its unit written out: no second unit, no dash.
LIVING = [("between-crops", "and take 249 mL of it"), ("between-crops", "62.3 liters (16.5 US gallons)"),
          ("the-power-cut", "Room left in yours after that: 7.37 gal"),
          ("what-to-do-when", "Room left there after that: 7.37 gal")]
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
    said = re.findall(r"\d[\d,]*(?:\.\d+)?", re.sub(r"/(h|min|m²|d|L|cm)(?!\w)|mol/m²|\bm²", "", text))[-1]
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


@pytest.mark.parametrize(("name", "said"), LIVING)
def test_a_living_number_stands_in_its_sentence_with_one_unit(name, said):
    text = (guides.FOLDER / f"{name}.md").read_text(encoding="utf-8")
    filled = re.sub(r"\{\{ (?:value|sum) (.*?) \}\}", lambda found: living.shown(found[1], solved({})), text)
    assert said in " ".join(filled.split())


def test_the_seconds_of_a_bucket_are_those_of_one_bath():
    asked = re.findall(r"\{\{ sum (.*?circulation\.flow.*?) \}\}", (guides.FOLDER / "test-day.md").read_text("utf-8"))
    one, three = solved({}), solved({"bath.count": "3"})
    for text in asked:
        assert float(living.shown(text, one)) == pytest.approx(7200 / 132.1, rel=1e-2)
        told = 7200 * 3 / (three.value("circulation.flow") * 3600 / 3.785411784e-3)
        assert float(living.shown(text, three)) == pytest.approx(told, rel=1e-2)
    assert len(asked) == 2
