"""Sums of light, warmth, prices, holes and heads inside topics, each beside arithmetic that a reader can follow."""

import pytest

from calc.plan import Plan
from calc.solve import solve
from tests.calc.whole import changed, plan


def design(rows=None, **answers):
    return solve(Plan.from_mapping({"units": "metric", **{key.replace("__", "."): text
                                                          for key, text in answers.items()}, **(rows or {})}))


def test_where_there_are_no_lamps_there_are_none_and_they_give_nothing():
    found = design(light__by="none")
    assert found.value("light.lamps") == 0 and found.value("light.ppfd") == 0
    assert "LED grow lamp" not in str(found.value("parts.shopping"))


def test_the_day_goes_hour_by_hour_and_ends_as_it_begins():
    rows = design().value("heat.day")
    assert [row["hour"] for row in rows] == pytest.approx([float(hour) for hour in range(25)])
    assert {key: rows[0][key] for key in ("air", "bath", "reservoir")} == {
        key: rows[-1][key] for key in ("air", "bath", "reservoir")}
    # The hottest of the hours is the high, to what a parabola between two of them adds.
    assert max(row["bath"] for row in rows) == pytest.approx(design().value("heat.high"), abs=0.05)


def test_a_bath_by_itself_has_no_reservoir_to_be_warm():
    crate = plan("still_crate")
    assert crate.value("heat.reservoir_high") is None and "reservoir" not in crate.value("heat.day")[0]
    assert design().value("heat.reservoir_high") is not None


@pytest.mark.parametrize("typed, said", [("31 EUR", "€31.00"), ("12.5 EUR", "€12.50"), ("12.345 EUR", "€12.3450")])
def test_a_price_that_looks_like_cents_is_said_with_two_digits_or_with_four(typed, said):
    assert f"really costs {said}," in design(energy__tariff=typed).faults["energy.tariff"]


NARROW = dict(bath__length="100 cm", board__clearance="0", board__hole="46 mm", board__pot="50 mm",
              board__split="number", board__boards_along="1", board__boards_across="1", board__notches="none",
              circulation__overflow_place="wall")


def test_the_widest_margin_is_told_in_what_a_reader_measures_with_and_is_accepted():
    # 130.5 mm less a hole of 46 mm leaves 42.25 mm at each side: 42 on a metric rule.
    told = design(bath__width="13.05 cm", board__margin="60 mm", **NARROW).faults["board.margin"]
    assert "130 mm wide: enter 42 mm or less" in told
    assert "board.margin" not in design(bath__width="13.05 cm", board__margin="42 mm", **NARROW).faults
    # 5 1/4 in less 1 13/16 in leaves 1 23/32 in at each side: 1 11/16 on a rule of sixteenths.
    inches = dict(NARROW, units="us", board__hole="1 13/16 in", board__pot="2 in", bath__length="40 in")
    told = design(bath__width="5 1/4 in", board__margin="3 in", **inches).faults["board.margin"]
    assert "enter 1 11/16 in or less" in told
    assert "board.margin" not in design(bath__width="5 1/4 in", board__margin="1 11/16 in", **inches).faults


def test_a_place_kept_free_beside_a_column_of_holes_takes_none_of_them():
    wide = dict(NARROW, bath__width="100 cm", board__margin="40 mm", board__spacing="218 mm", board__pattern="square")
    assert design(**wide).value("board.sites") == 25
    # 5 by 5. Holes of 46 mm reach 23 mm from their centers: a strip that begins 30 mm from the third column and is
    # 10 mm wide touches none. 874 mm hold four gaps of 218 mm, so that the grid cannot move aside from one over its
    # centers, which takes five.
    column = sorted({round(hole["x"], 6) for hole in design(**wide).value("board.holes")})[2]

    def with_strip(x):
        return design({"board.keepouts": [{"name": "Strip", "x": f"{x * 1000:.3f} mm", "y": "0", "length": "10 mm",
                                           "width": "100 cm"}]}, **wide).value("board.sites")
    assert with_strip(column + 0.030) == 25
    assert with_strip(column - 0.005) < 25


def test_heads_wanted_are_shared_by_the_shares_of_the_crops_whatever_these_add_up_to():
    # 14 heads a week every ten days are 20 a batch: three quarters leaf lettuce, 15, and 5 basil.
    for shares in (("75 %", "25 %"), ("30 %", "10 %")):
        found = changed("two_crops", schedule__aim="heads", schedule__heads="14", crops__rows=[
            {"crop": "leaf lettuce", "share": shares[0]}, {"crop": "basil", "share": shares[1]}])
        assert found.value("schedule.heads_per_batch") == 20
        assert [row["heads"] for row in found.value("schedule.per_crop")] == [15, 5]
        assert found.value("schedule.heads_per_week") == pytest.approx(14)


def test_a_floor_for_sulfur_steers_salts_but_not_bottles():
    def sulfur(way, floor):
        found = design(feed__way=way, feed__sulfur_floor=floor)
        return next(row["reached"] for row in found.value("feed.reached") if row["element"] == "S")
    # Milligrams a liter.
    assert sulfur("salts", "0 mg/L") < 110
    assert sulfur("salts", "120 mg/L") == pytest.approx(120, abs=1)
    assert sulfur("bottles", "120 mg/L") == sulfur("bottles", "0 mg/L")
