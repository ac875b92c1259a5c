"""The page of checks: its words, its picture, its counts and its filter say what the test files hold."""

from __future__ import annotations

import importlib
import re
from collections import Counter
from xml.etree import ElementTree

import pytest
from tools import bundle, checked, dots, plainly, reference

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def rows() -> list[checked.Row]:
    for name in bundle.calc_modules():
        importlib.import_module(name)
    return checked.rows()


def row_of(rows, relation: str, **inputs) -> checked.Told:
    from calc.relations.base import RELATIONS
    found = next(row for row in rows if row.relation == relation and row.inputs.items() >= inputs.items())
    return checked.told(found, RELATIONS[relation])


def test_what_was_put_in_is_said_in_words_and_units(rows):
    told = row_of(rows, "acidity.acid_needed", alkalinity_meq_l=2.0, start_ph=8.0)
    assert told.inputs == "alkalinity 2 meq/L; pH now 8; pH wanted 5.8; water temperature 25 °C"
    # An acid of one step has no third; 99 stands for that, and is not said.
    told = row_of(rows, "acidity.ph_in_air", pk2=99.0)
    assert "first pK of the acid -3" in told.inputs and "99" not in told.inputs
    assert row_of(rows, "pipe.velocity").inputs.startswith("flow 0.1388889 L/s; bore (inside diameter) 12.7 mm")


@pytest.mark.parametrize(("away", "expected", "unit", "said"), [
    (4.0e-4, 2.0, "meq/L", "0.0004 meq/L"), (0.0, 5.0, "m", "none"), (3e-15, 5.0, "m", "none"),
    (0.00166, 2000.0, "mg/L", "under a millionth"), (2.3e-6, 1.27e-3, "m", "0.0023 mm"), (1.6, 5000.0, "Pa", "1.6 Pa"),
    (1.2e-6, 3e-4, "m³/s", "0.0012 L/s"),
])
def test_deviations_are_written_as_people_write_them(away, expected, unit, said):
    assert plainly.difference(away, expected, unit) == said


def test_no_power_of_ten_and_no_name_of_an_argument_is_on_the_page(dist, rows):
    # Not the foot: the release's name is a hash, in which an e may stand between digits.
    main = (dist / "checked/index.html").read_text(encoding="utf-8").partition("<main")[2].partition("</main>")[0]
    text = re.sub(r"<[^>]+>", " ", main)
    assert re.findall(r"\d[eE][-+]?\d+", text) == []
    names = {name for row in rows for name in row.inputs if "_" in name}
    assert names & set(re.findall(r"\w+", text)) == set()


def test_kinds_add_up_to_all_values(rows):
    kinds = checked.kinds(rows)
    assert {kind.name: kind.count for kind in kinds} == Counter(row.kind for row in rows)
    assert sum(kind.count for kind in kinds) == len(rows)


@pytest.mark.parametrize("wide", [True, False])
def test_the_picture_has_one_dot_a_value(rows, wide):
    drawn = ElementTree.fromstring(checked.pictures(rows)["wide" if wide else "narrow"])
    places = [(one.get("cx"), one.get("cy")) for one in drawn.iter(f"{SVG}circle")]
    assert len(places) == len(rows) and len(set(places)) == len(places)
    outside = sum(row.kind in ("published", "library") for row in rows)
    assert sum(one.get("class") == "solid" for one in drawn.iter(f"{SVG}circle")) == outside
    titles = [one.text for one in drawn.iter(f"{SVG}text")]
    for group in reference.GROUPS:
        held = sum(reference.group_of(row.relation) is group for row in rows)
        assert f"{group.title}: {held}" in titles


def test_a_dot_stands_where_its_share_says():
    held = dots.columns([dots.Dot(0.0, True), dots.Dot(0.5, True), dots.Dot(1.0, False), dots.Dot(3.0, True)],
                        100 * dots.STEP)
    assert {column: [dot.share for dot in found] for column, found in held.items()} == {
        -1: [0.0], 50: [0.5], 99: [3.0, 1.0]}


def test_a_share_is_of_what_the_source_allows():
    row = checked.Row("x", "X", {}, 10.0, 10.02, 0.02, 0.1, True, "s", "published")
    assert row.share == pytest.approx(0.2)
    exact = checked.Row("x", "X", {}, 10.0, 10.0, 0.0, 0.0, True, "s", "definition")
    assert exact.share == 0.0
    wrong = checked.Row("x", "X", {}, 10.0, 11.0, 1.0, 0.0, False, "s", "definition")
    assert wrong.share == float("inf")


def test_all_published_builds_stand_beside_their_plans(dist):
    from tests import published
    text = (dist / "checked/index.html").read_text(encoding="utf-8")
    for build in published.builds():
        assert f"<summary>{build.name}: " in text
    assert text.count("<td>agrees</td>") > 30
    assert "about 10 g (2 tsp)" in text and "2 boards</td>" in text


def test_the_filter_shows_what_was_asked_for(open_page, address, rows):
    page = open_page(f"{address}/checked/index.html", ready=False).page
    assert page.locator("details.values tbody tr:visible").count() == 0
    page.select_option("#filter-kind", "published")
    count = sum(row.kind == "published" for row in rows)
    assert page.locator(".filter-status").text_content() == f"{count} of {len(rows)} values"
    assert page.locator("details.values tbody tr:visible").count() == count
    page.fill("#filter-words", "papyrus")
    assert page.locator("details.values tbody tr:visible").count() == 1
    assert page.locator("details.values:visible").count() == 1
    page.fill("#filter-words", "no such words")
    assert page.locator(".filter-status").text_content() == "No value fits. Try fewer words, or all kinds."
    page.fill("#filter-words", "")
    page.select_option("#filter-kind", "")
    assert page.locator("details.values:visible").count() == len(reference.GROUPS)
    assert page.locator("details.values[open]").count() == 0


def test_who_comes_for_a_topic_finds_it_open(open_page, address):
    page = open_page(f"{address}/checked/index.html#air", ready=False).page
    assert page.locator("details#air").get_attribute("open") is not None
