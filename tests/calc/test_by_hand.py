"""Sums by hand: each line reckoned again from what is printed on it, and the last beside the figure that is shown."""

import json
import re
import subprocess
import sys
from datetime import date, timedelta
from fractions import Fraction
from functools import lru_cache
from math import acos, ceil, degrees, floor, sqrt
from pathlib import Path

import pytest
from hypothesis import given, settings, strategies as st

from calc.plan import FIELDS, UNITS, Plan, default_text
from calc.render import answers as answers_html
from calc.render import by_hand as sums
from calc.render.by_hand import by_hand
from calc.solve import SPECS, solve

PLANS = sorted((Path(__file__).resolve().parents[1] / "plans").glob("*.json"))
SYSTEMS = ("us", "metric")
LINE = re.compile(r"([^:]+(?::[^:=]*)*?): ([-\d.,+x/() ]+) = (.+)")
# The two keys of a pocket calculator that take one number.
KEYS = {"√": sqrt, "arccos ": lambda value: degrees(acos(value))}
KEY = re.compile(r"([^:]+): (√|arccos )(-?[\d.,]+|\(-[\d.,]+\)) = (.+)")
DAYS = re.compile(r"[^:]+: (\d{4}-\d\d-\d\d) \+ ([\d,]+) days = (\d{4}-\d\d-\d\d)")
FIGURE = re.compile(r"([^\d-]*?)(-?[\d,]+(?:\.\d+)?(?: \d+/\d+)?|\d+/\d+)([^\d].*)?")
GREAT = {"billion": 10**9, "trillion": 10**12}


def reckon(text):
    """The left side of a line, exactly, from its digits; x and / in their order, brackets first."""
    parts = re.findall(r"[\d.,]+|[-+x/()]", text)
    assert "".join(parts) == text.replace(" ", "")
    value, rest = summed(parts)
    assert not rest
    return value


def summed(parts):
    value, parts = multiplied(parts)
    while parts and parts[0] in "+-":
        other, rest = multiplied(parts[1:])
        value, parts = (value + other if parts[0] == "+" else value - other), rest
    return value, parts


def multiplied(parts):
    value, parts = number(parts)
    while parts and parts[0] in "x/":
        other, rest = number(parts[1:])
        value, parts = (value * other if parts[0] == "x" else value / other), rest
    return value, parts


def number(parts):
    if parts[0] == "-":
        value, rest = number(parts[1:])
        return -value, rest
    if parts[0] == "(":
        value, rest = summed(parts[1:])
        assert rest[0] == ")"
        return value, rest[1:]
    return Fraction(parts[0].replace(",", "")), parts[1:]


def read(text):
    """(value, one unit of its last digit, what stands around it) of a printed figure such as 9 1/2 in or $1,234."""
    # A loss of money has its minus before the currency: -€40.88.
    found = FIGURE.fullmatch(re.sub(r"^-([^\d\s])", r"\1-", text))
    assert found, text
    before, digits, after = found[1], found[2].replace(",", ""), found[3] or ""
    if "/" in digits:
        whole, _, part = digits.rpartition(" ")
        return (abs(Fraction(whole or 0)) + Fraction(part)) * (-1 if whole.startswith("-") else 1), Fraction(1, 16), (
            before, after)
    times = next((size for word, size in GREAT.items() if word in after), 1)
    _, _, places = digits.partition(".")
    step = Fraction(1, 10 ** len(places))
    if not places and len(digits) > 5:
        # Of six digits and more only some are written down, the rest noughts.
        step = Fraction(10 ** min(len(digits) - len(digits.rstrip("0")), len(digits) - 4))
    return Fraction(digits) * times, step * times, (before, after)


def check_line(line, last):
    """What a line comes to, as the text that is carried on, once its right side is seen to follow from its left."""
    days = DAYS.fullmatch(line)
    if days:
        assert date.fromisoformat(days[1]) + timedelta(int(days[2].replace(",", ""))) == date.fromisoformat(days[3])
        return days[3]
    pressed, found = KEY.fullmatch(line), LINE.fullmatch(line)
    assert pressed or found, line
    left, right = (KEYS[pressed[2]](float(pressed[3].strip("()").replace(",", ""))), pressed[4]) if pressed else (
        reckon(found[2]), found[3])
    right, rounded, taken = right.partition(", rounded ")
    right, _, said = right.partition(", or ")
    value, step, _ = read(right)
    assert abs(left - value) <= step * Fraction(501, 1000), line
    assert last or abs(left - value) <= abs(left) * Fraction(6, 10_000), line
    if rounded:
        way, _, whole = taken.partition(" ")
        assert read(whole)[0] == {"up": ceil, "down": floor}[way](value), line
        return whole
    return said or right


def check(key, design):
    """The sum of a result: every line, that each result is used below, and the last beside the figure shown."""
    text = by_hand(key, design)
    if not text:
        return False
    lines, shown = text.split("\n"), design.shown(key)
    results = [check_line(line, line is lines[-1]) for line in lines]
    for place, result in enumerate(results[:-1]):
        carried = re.match(r"-?[\d,.]+", result)[0]
        lefts = [line.partition(": ")[2].partition(" = ")[0] for line in lines[place + 1:]]
        assert any(carried in re.findall(r"-?[\d,.]+", left) or carried.strip("-") in left for left in lefts), text
    if results[-1] != shown:
        last, step, around = read(results[-1])
        value, other, where = read(shown)
        assert around == where or lines[-1].count(", rounded "), (text, shown)
        assert abs(last - value) <= max(step, other) * Fraction(1001, 1000), (text, shown)
    return True


def typed(file):
    return json.loads(file.read_text(encoding="utf-8"))["plan"]


@lru_cache(maxsize=64)
def whole(file, system):
    return solve(Plan.from_mapping({**typed(file), "units": system}))


def test_every_sum_is_of_a_result():
    assert set(sums.SUMS) <= set(SPECS)


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("file", PLANS, ids=lambda file: file.stem)
def test_the_sums_of_the_whole_plans_come_out(file, system):
    assert sum(check(key, whole(file, system)) for key in sums.SUMS) >= 40


# One pump in the cupboard.
OWNED = [{"name": "One", "free_flow": "10 L/min", "shutoff": "20 kPa", "power": "6 W", "owned": "2"}]


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("plan, keys", [
    ({"air.pumps": OWNED, "air.rule": "optimum", "air.reading": "per hour"},
     ["air.owned_flow", "air.optimum_water", "air.floor_water", "air.target", "air.practice_floor"]),
    ({"air.rule": "own", "air.own_rate": "0.2 L/min/L"}, ["air.target"]),
    ({"bath.shape": "round"}, ["water.bath_volume", "water.footprint", "board.area"]),
    ({"bath.shape": "tapered box", "bath.stands_on": "bench", "bath.base_width": "20 in"},
     ["water.bath_volume", "water.opening_width", "water.room_pressure", "water.leg_load"]),
    ({"circulation.drains": "2", "circulation.blockage": "10 %"}, ["circulation.drain_flow"]),
    ({"today.jug_volume": "1 L", "today.jug_acid": "12 drops", "today.ph": "6.8"}, ["today.acid"]),
    ({"today.jug_volume": "1 L", "today.jug_acid": "0.6 mL", "today.ph": "5.0"}, ["today.base"]),
    ({"today.ec": "2.5 mS/cm"}, ["today.water_instead", "today.exchange"]),
    ({"place.setting": "summer greenhouse"}, ["heat.cooler_draw", "heat.cooler_energy"]),
    ({"use.chloride": "60 mg/L", "use.volumes": "1000"}, ["use.chloride_after"]),
    ({"use.calendar": "360 d", "use.volumes": "1"}, ["use.volumes_after", "use.replace_after"]),
    ({"bath.liner": "frame", "bath.wall_span": "4 ft"},
     ["water.liner_length", "water.liner_width", "water.wall_push", "water.wall_bulge"]),
    ({"bath.shape": "half drum", "bath.depth": "11 in", "bath.width": "22 in", "bath.water_depth": "9 in"},
     ["water.bath_volume", "water.opening_width", "water.surface_area"]),
    ({"bath.shape": "half drum", "bath.depth": "8 in", "bath.width": "22 in", "bath.water_depth": "8 in"},
     ["water.bath_volume", "water.opening_width"]),
    ({"bath.shape": "half drum", "bath.depth": "30 cm", "bath.width": "60 cm", "bath.water_depth": "30 cm"},
     ["water.bath_volume"]),
    ({"reservoir.shape": "half drum", "reservoir.depth": "11 in", "reservoir.width": "22 in",
      "reservoir.water_depth": "7 in"}, ["water.reservoir_volume", "water.reservoir_capacity"]),
    ({"oxygen.reading": "6.5 mg/L"}, ["oxygen.metered_weight"]),
    ({"outage.cutout_voltage": "12.1 V", "outage.depth_of_discharge": "80 %"}, ["outage.own_share"]),
    ({"outage.cutout": "40 %", "outage.depth_of_discharge": "80 %"}, ["outage.own_share"]),
    ({"bath.shape": "tapered round", "bath.count": "3"}, ["water.bath_volume", "water.hose_volume", "air.stones"]),
    ({"light.by": "lamp", "light.sun": "dli"}, ["light.lamps_needed", "light.ppfd", "light.dli", "light.hours_needed"]),
])
def test_the_sums_of_rarer_answers_come_out(plan, keys, system):
    design = solve(Plan.from_mapping({"units": system, **plan}))
    assert [key for key in keys if not check(key, design)] == []


@pytest.mark.parametrize("system, lines", [
    ("us", ["Space: 48 x 24 x 10 = 11,520 cu in", "Gallons: 11,520 / 231 = 49.9 gal"]),
    ("metric", ["Space: 122 x 61 x 25.5 = 189,771 cu cm", "Liters: 189,771 / 1,000 = 190 L"])])
def test_a_sum_reads_as_one_does_it(system, lines):
    sizes = ("48 in", "2 ft", "10 in") if system == "us" else ("1.22 m", "61 cm", "255 mm")
    design = solve(Plan.from_mapping({"units": system, **dict(zip(
        ("bath.length", "bath.width", "bath.water_depth"), sizes, strict=True))}))
    assert by_hand("water.bath_volume", design).split("\n") == lines
    html = answers_html.working_of("water.bath_volume", design)
    assert html.startswith('<p class="by-hand"><b>By hand</b><span>' + "</span><span>".join(lines) + "</span></p>")


def test_a_search_or_a_reading_has_no_sum():
    design = solve(Plan.from_mapping({}))
    assert [key for key in ("heat.high", "oxygen.bath", "circulation.flow", "crops.names", "water.bath")
            if by_hand(key, design)] == []
    assert "by-hand" not in answers_html.working_of("heat.high", design)


def test_sums_are_loaded_with_the_first_working_that_is_opened():
    code = ("import sys; from calc import Plan, solve; from calc.render import answers; "
            "design = solve(Plan.from_mapping({})); answers.row('water.bath_volume', design); "
            "before = 'calc.render.by_hand' in sys.modules; answers.working_of('water.bath_volume', design); "
            "print(before, 'calc.render.by_hand' in sys.modules)")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True,
                          cwd=Path(__file__).resolve().parents[2])
    assert done.stdout.split() == ["False", "True"]


@st.composite
def plans(draw):
    """A whole plan, or an empty one, with some answers at a choice or at a number within their bounds."""
    start = draw(st.sampled_from([None, *PLANS]))
    plan = {**(typed(start) if start else {}), UNITS.key: draw(st.sampled_from(SYSTEMS))}
    for key in draw(st.lists(st.sampled_from(sorted(FIELDS)), max_size=12, unique=True)):
        plan[key] = draw(answers(FIELDS[key]))
    return plan


def answers(field):
    """Answers to one question: a choice, yes or no, a share of the way between its bounds, or near its default."""
    if field.choices:
        return st.sampled_from([choice.value for choice in field.choices])
    if field.kind == "yesno":
        return st.sampled_from(["yes", "no"])
    default = st.sampled_from([default_text(field, system) for system in SYSTEMS])
    if field.kind in ("text", "date", "clock") or field.minimum is None or field.maximum is None:
        return default
    if field.kind == "whole":
        return st.integers(int(field.minimum), int(min(field.maximum, field.minimum + 60))).map(str)
    return default | st.floats(0.1, 60.0).map(lambda value: f"{value:.3g}")


@settings(max_examples=300, deadline=None)
@given(plans())
def test_the_sums_of_random_plans_come_out(plan):
    design = solve(Plan.from_mapping(plan))
    for key in sums.SUMS:
        check(key, design)
