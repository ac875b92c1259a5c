"""Rulers: a pointer stands where the numbers of the rule say, green is where all is well, and words never touch."""

import xml.etree.ElementTree as ElementTree
from math import inf, log10, nan

import pytest
from hypothesis import given, strategies as st

from calc.plan import Plan
from calc.render import rulers
from calc.render.ruler import Mark, wooden
from calc.solve import solve
from tests.calc.boxes import SVG, faults_of, points_of, texts

WORDS = ["roots", "with margin", "arrives", "plate", "water can hold"]


def parts_of(drawn):
    """(pointers by kind, numbers of the rule by place, the good stretch) of a ruler."""
    root = ElementTree.fromstring(drawn)
    pointers = [(one.get("class").split()[1], points_of(one)[0][0]) for one in root.iter(SVG + "polyline")
                if one.get("class").startswith("pointer")]
    numbers = {float(one.text.replace(",", "")): float(one.get("x")) for one in texts(root)
               if one.get("class") == "label faded"}
    good = [points_of(one) for one in root.iter(SVG + "rect") if one.get("class") == "good"]
    return pointers, numbers, good


@pytest.mark.parametrize("wide", [True, False])
def test_pointers_stand_between_the_numbers_of_the_rule(wide):
    pointers, numbers, good = parts_of(wooden("r", "Air", "L/min", [Mark("need", 10.0), Mark("arrives", 15.0, "yours")],
                                              wide, good=(10.0, None)))
    per_unit = (numbers[10.0] - numbers[0.0]) / 10.0
    assert [kind for kind, _ in pointers] == ["need", "yours"]
    assert [x for _, x in pointers] == pytest.approx([numbers[10.0], numbers[0.0] + 15 * per_unit], abs=0.2)
    [((left, _), (right, _))] = good
    assert left == pytest.approx(numbers[10.0], abs=0.2) and right > pointers[1][1]


def test_marks_far_apart_stand_on_a_rule_of_equal_factors():
    pointers, numbers, _ = parts_of(wooden("r", "Air", "L/min", [Mark("need", 2.0), Mark("rule", 2000.0)], True))
    per_decade = numbers[1000.0] - numbers[100.0]
    assert numbers[100.0] - numbers[10.0] == pytest.approx(per_decade, abs=0.2)
    assert [x for _, x in pointers] == pytest.approx([numbers[1.0] + log10(2) * per_decade,
                                                      numbers[1000.0] + log10(2) * per_decade], abs=0.2)


@pytest.mark.parametrize("marks", [[], [Mark("a", 0.0)], [Mark("a", nan)], [Mark("a", inf)], [Mark("a", -1.0)]])
def test_no_ruler_without_a_number(marks):
    assert wooden("r", "Air", "L/min", marks, True) == ""


CLOSE = st.sampled_from([10.0, 10.01, 10.5, 11.0, 40.0])


@given(st.lists(st.one_of(st.floats(0.0, 1e6), CLOSE), min_size=1, max_size=5), st.booleans())
def test_words_over_a_rule_never_touch(values, wide):
    marks = [Mark(words, value, "yours" if words == "arrives" else "need") for words, value in zip(WORDS, values,
                                                                                                   strict=False)]
    drawn = wooden("r", "Air", "L/min", marks, wide, good=(10.0, 40.0))
    assert bool(drawn) == (max(values) > 0.0)
    if drawn:
        root = ElementTree.fromstring(drawn)
        assert faults_of(root) == []
        said = root.find(SVG + "desc").text
        assert all(mark.label in said for mark in marks) and said.count(".") >= 1


def test_what_is_not_as_it_should_be_is_marked():
    def kinds(draw, **answers):
        drawn = draw(solve(Plan({key.replace("__", "."): text for key, text in answers.items()})), True)
        return {kind for kind, _ in parts_of(drawn)[0]} if drawn else None
    assert kinds(rulers.air) == {"need", "yours"}
    assert kinds(rulers.hose) == {"need", "yours"}
    assert kinds(rulers.hose, circulation__turnover="4", circulation__hose_bore="3/8 in", bath__length="96 in") == {
        "need", "tight"}
    assert kinds(rulers.floor) is None, "on the ground nothing is asked of a floor"
    assert kinds(rulers.floor, bath__stands_on="floor") == {"need", "tight"}
    assert kinds(rulers.floor, bath__stands_on="floor", bath__floor_allowance="100 psf") == {"need", "yours"}
    assert kinds(rulers.oxygen) == {"need", "yours"}
    assert kinds(rulers.oxygen, water__scheme="still") == {"need", "no"}
    assert kinds(rulers.air, water__scheme="still") is None
    assert kinds(rulers.acidity, acidity__start_ph="5.8") == {"need", "yours"}
