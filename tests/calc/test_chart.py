"""Charts: every point where the scale says, nothing outside the picture, nothing drawn from nothing."""

import xml.etree.ElementTree as ElementTree
from math import inf, nan

import pytest
from hypothesis import given, strategies as st

from calc.render import chart
from calc.render.drawing import WIDE

SVG = "{http://www.w3.org/2000/svg}"
FINITE = st.floats(-1e6, 1e6, allow_nan=False).map(lambda value: round(value, 3))


@given(st.floats(-1e6, 1e6), st.floats(1e-3, 1e6))
def test_ticks_reach_round_the_range_in_even_steps(least, wide):
    marks = chart.ticks(least, least + wide)
    slack = 1e-6 * max(abs(least), wide)
    assert marks[0] <= least + slack and marks[-1] >= least + wide - slack
    assert 3 <= len(marks) <= 9
    steps = [b - a for a, b in zip(marks, marks[1:], strict=False)]
    assert max(steps) - min(steps) < 1e-6 * max(abs(marks[0]), abs(marks[-1]), steps[0])


def corners(text):
    root = ElementTree.fromstring(text)
    for node in root.iter(f"{SVG}polyline"):
        for pair in node.get("points").split():
            yield tuple(map(float, pair.split(",")))


@given(st.lists(st.tuples(FINITE, FINITE), min_size=2, max_size=12))
def test_lines_stay_inside_their_picture(points):
    drawn = chart.lines([chart.Line("a line", sorted(points))], "across", "up", "Some line",
                        x_least=min(x for x, _ in points), y_least=None)
    tall = float(ElementTree.fromstring(drawn).get("viewBox").split()[3]) if drawn else 0
    assert all(0 <= x <= WIDE and 0 <= y <= tall for x, y in (corners(drawn) if drawn else ()))
    assert bool(drawn) == (max(x for x, _ in points) > min(x for x, _ in points))


def test_a_point_stands_where_the_axes_say():
    drawn = chart.lines([chart.Line("a", [(0, 0), (10, 10)])], "x", "y", "T", mark=(5, 5, "the middle"))
    circle = next(ElementTree.fromstring(drawn).iter(f"{SVG}circle"))
    axes = next(node for node in ElementTree.fromstring(drawn).iter(f"{SVG}polyline") if node.get("class") == "ink")
    (left, top), (_, bottom), (right, _) = [tuple(map(float, pair.split(","))) for pair in axes.get("points").split()]
    assert float(circle.get("cx")) == pytest.approx((left + right) / 2, abs=0.1)
    assert float(circle.get("cy")) == pytest.approx((top + bottom) / 2, abs=0.1)
    assert "The middle." in drawn


@pytest.mark.parametrize("points", [[], [(0, 1)], [(nan, 1), (inf, 2)], [(1, 5), (1, 6)]])
def test_nothing_is_drawn_from_nothing(points):
    assert chart.lines([chart.Line("a", points)], "x", "y", "T", x_least=1.0) == ""


def test_bars_share_one_scale_and_tell_their_numbers():
    drawn = chart.bars([chart.Bar("N", 50, 100, "50 of 100 mg/L"), chart.Bar("K & P", 100)], "Elements",
                       aim_words="aim")
    widths = [float(node.get("width")) for node in ElementTree.fromstring(drawn).iter(f"{SVG}rect")
              if node.get("class") == "bar"]
    assert widths[0] * 2 == pytest.approx(widths[1], abs=0.2)
    assert "50 of 100 mg/L" in drawn and "K &amp; P" in drawn


@pytest.mark.parametrize("rows", [[], [chart.Bar("N", nan)], [chart.Bar("N", 0.0)], [chart.Bar("N", -1.0)]])
def test_no_bar_without_a_number(rows):
    assert chart.bars(rows, "Elements") == ""
