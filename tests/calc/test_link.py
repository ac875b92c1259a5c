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


def test_a_maker_and_a_note_travel_inside_the_seal():
    made = link.write(Plan({"bath.length": "50 in"}), link.Maker("Ana & Ben", "Drill it wet = no dust #1"))
    assert link.read(made) == ({"bath.length": "50 in"}, [])
    assert link.maker("https://club.example/plan/index.html" + made + "&step=air") == link.Maker(
        "Ana & Ben", "Drill it wet = no dust #1")
    assert "changed or cut" in link.read(made.replace("Ana", "Eve"))[1][0]


def test_a_link_without_a_name_is_as_it_always_was():
    plan = Plan({"bath.length": "50 in"})
    assert link.write(plan, link.Maker(" ", "\n")) == link.write(plan)
    assert not link.maker(link.write(plan)) and "link." not in link.write(plan)


def test_the_example_can_be_signed():
    made = link.write(Plan({}), link.Maker("Ana"))
    assert link.read(made) == ({}, []) and link.maker(made) == link.Maker("Ana")


def test_long_names_and_notes_are_cut_in_words():
    body = "#plan=2&bath.length=50+in&link.by=" + "n" * 61 + "&link.note=" + "x" * 10_000
    text, notes = link.read(body + "&end=" + link._seal(body.partition("&")[2]))
    assert text == {"bath.length": "50 in"}
    assert notes == ["The name in the link is longer than 60 characters; the rest was left out.",
                     "The note in the link is longer than 300 characters; the rest was left out."]
    assert link.maker(body) == link.Maker("n" * 60, "x" * 300)


@given(st.text(max_size=500), st.text(max_size=500))
def test_any_maker_comes_back_as_plain_lines(name, note):
    made = link.write(Plan({"bath.length": "50 in"}), link.Maker(name, note))
    there = link.maker(made)
    assert link.read(made) == ({"bath.length": "50 in"}, [])
    assert there == link.maker_of(there.name, there.note) == link.maker_of(name, note)
    assert len(there.name) <= 60 and len(there.note) <= 300
    for text in (there.name, there.note):
        assert text == text.strip() and not set(text) & set("\n\r\t\x00\u202e\u2066\ufeff")
        text.encode("utf-8")


def test_odd_makers_do_no_harm():
    for fragment in ("", "#top", "#link.by=Ana", "#plan=2&link.by", "#plan=2&link.by=&link.note=%ff", "#plan=x&&&=&",
                     "#plan=2&" + "&".join(["a=b"] * 5000) + "&link.by=Ana", "#plan=2&link.by=" + "y" * 70_000):
        assert isinstance(link.maker(fragment), link.Maker)
    assert not link.maker("#link.by=Ana")
