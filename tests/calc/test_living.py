"""Numbers of the reader's own inside sentences: sums over what is declared, and nothing else."""

from __future__ import annotations

import pytest

from calc import Plan, solve
from calc.render import living

BOX = {"bath.length": "48 in", "bath.width": "24 in", "bath.water_depth": "10 in", "reservoir.known_volume": "16 gal"}


@pytest.mark.parametrize(("text", "shown"), [
    # 48 x 24 x 10 = 11,520 cu in; a gallon holds 231 (NIST Handbook 44, appendix C): 49.9, and 16 in the reservoir.
    ("water.working_volume", "65.9 gal"),
    # A gallon is 3.785412 L (the same table): 65.87 x 3.785412 = 249.3.
    ('water.working_volume["L"]', "249 L"),
    # 65.87 x 28 = 1,844.4, the rule of practice; a sixtieth of it is 30.7.
    ('water.working_volume["gal"] * 28', "1,844"),
    ('water.working_volume["gal"] * 28 / 60', "30.7"),
    ("(2 + 4) / 3 - 1", "1"),
    ("bath.length", "48 in"),
    ("water.bath_volume / 0", living.MISSING),
])
def test_a_sum_is_worked_out(text, shown):
    living.check(text)
    assert living.shown(text, solve(Plan(BOX))) == shown


def test_a_metric_reader_gets_metric_numbers():
    # 120 x 60 x 25 cm are 180 L.
    design = solve(Plan({"units": "metric", "bath.length": "120", "bath.width": "60", "bath.water_depth": "25"}))
    assert living.shown("water.bath_volume", design) == "180 L"
    assert living.shown("water.bath_volume * 2", design) == "360"


def test_what_waits_is_a_dash():
    assert living.shown("water.bath_volume", solve(Plan({"bath.length": "x"}))) == living.MISSING
    assert living.shown("water.bath_volume * 2", solve(Plan({"bath.length": "x"}))) == living.MISSING


@pytest.mark.parametrize("text", [
    "", "water.no_such", "__import__('os')", "water.bath_volume ** 2", "water.bath_volume[gal]",
    'water.bath_volume["psi"]', "open('x')", "air.target if 1 else 2", "1 +", "x" * 300, "'a' * 3", "True + 1"])
def test_whatever_is_no_sum_is_refused_in_words(text):
    with pytest.raises(living.Wrong) as told:
        living.check(text)
    assert len(str(told.value)) > 10


def test_a_key_is_escaped_and_marked():
    html = living.html('water.working_volume["gal"] * 28', solve(Plan(BOX)))
    key = "water.working_volume[&quot;gal&quot;] * 28"
    assert html == f'<data class="living" data-living="{key}" value="">1,844</data>'
