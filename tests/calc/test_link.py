"""A link carries a plan there and back, and says when it did not."""

import pytest
from hypothesis import given, strategies as st

from calc.plan import FIELDS, Plan
from calc.render import link


def test_the_defaults_need_no_link():
    assert link.write(Plan({"bath.length": "48 in"})) == ""


def test_a_plan_comes_back_as_it_was_typed():
    typed = {"bath.length": "3 5/8 in", "bath.shape": "tapered box", "air.pumps.1.name": "A & B = #1 ½"}
    assert link.read(link.write(Plan(typed))) == (typed, [])


@given(st.dictionaries(st.sampled_from(sorted(set(FIELDS) - {"units"})), st.text(max_size=60), max_size=8))
def test_any_plan_comes_back(typed):
    plan = Plan(typed)
    text, notes = link.read("https://club.example/plan/index.html" + link.write(plan))
    assert text == plan.changed()
    assert notes == []


def test_a_link_cut_anywhere_is_told():
    whole = link.write(Plan({"bath.length": "50 in", "bath.width": "25 in", "board.pot": "3 in"}))
    for end in range(len("#plan=1&"), len(whole)):
        assert link.read(whole[:end])[1], whole[:end]


def test_a_newer_version_is_told_and_read():
    text, notes = link.read("#plan=9&bath.length=50+in&bath.moon=1&end=000000")
    assert text == {"bath.length": "50 in"}
    assert any("newer version" in note for note in notes) and any("bath.moon" in note for note in notes)


@pytest.mark.parametrize("fragment", ["", "#", "#top", "#plan", "&&&", "#plan=%ff%fe", "#plan=x", "plan=1&=&=&"])
def test_odd_fragments_do_no_harm(fragment):
    text, notes = link.read(fragment)
    assert text == {} and all(isinstance(note, str) for note in notes)


def test_a_huge_link_is_refused_in_words():
    text, notes = link.read("#plan=1&bath.length=" + "9" * 1_000_000)
    assert text == {} and "longer than" in notes[0]


def test_a_starting_point_needs_no_end():
    assert link.read("#start=2&bath.shape=tapered+box") == ({"bath.shape": "tapered box"}, [])
