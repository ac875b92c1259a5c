"""Plans made before keep their meaning: twenty made by version 1, read as links and files today."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from calc import api, history
from calc.data import version_1, versions
from calc.plan import FIELDS, TABLES, Plan, find_column, renamed
from calc.render import link
from calc.solve import solve

FOLDER = Path(__file__).resolve().parents[1] / "fixtures" / "plans_v1"
OLD = [json.loads(file.read_text(encoding="utf-8")) for file in sorted(FOLDER.glob("*.json"))]
NAMES = [old["name"] for old in OLD]


def opened(old: dict) -> Plan:
    """The plan as the page reads it today."""
    if old["how"] == "link":
        text, notes = link.read(old["made"])
    else:
        answer = json.loads(api.run(json.dumps({"op": "file_read", "text": old["made"]})))
        text, notes = answer["plan"], answer["notes"]
    assert notes == []
    return Plan(text)


@pytest.fixture
def changing(monkeypatch):
    """Ways to change declarations for one test; what is remembered of them is forgotten before and after."""
    def forget():
        find_column.cache_clear()
        history.frozen.cache_clear()

    def change(where, key, value):
        monkeypatch.setitem(where, key, value)
        forget()
    yield change
    monkeypatch.undo()
    forget()


def plain(value):
    return value if isinstance(value, (int, float, str, bool, type(None))) else value.isoformat()


def test_there_are_twenty_of_them_of_every_shape_in_both_units():
    assert len(OLD) == 20
    assert {old["inputs"]["units"] for old in OLD} == {"us", "metric"}
    assert {old["inputs"]["bath.shape"] for old in OLD} == {
        "box", "tapered box", "round", "tapered round", "known volume"}
    assert {old["how"] for old in OLD} == {"link", "file"}


@pytest.mark.parametrize("old", OLD, ids=NAMES)
def test_every_answer_of_an_old_plan_means_what_it_meant(old):
    plan = opened(old)
    now = {key: plain(value) for key, value in plan.values.items()}
    wrong = {key: (then, now.get(renamed(key), "not asked")) for key, then in old["inputs"].items()
             if key not in versions.GONE and now.get(renamed(key), "not asked") != then}
    assert wrong == {}
    # Faults between fields may be told better today; those of one answer stay with it.
    assert {renamed(key) for key in old["faults"]} <= set(plan.faults)


@pytest.mark.parametrize("old", OLD, ids=NAMES)
def test_every_row_of_an_old_plan_means_what_it_meant(old):
    rows = opened(old).rows
    for key, then in old["rows"].items():
        if key in versions.GONE:
            continue
        now = rows[renamed(key)]
        assert len(now) == len(then), key
        assert [{name: plain(row[name]) for name in before} for row, before in zip(now, then, strict=True)] == then


@pytest.mark.parametrize("old", OLD, ids=NAMES)
def test_the_water_in_an_old_bath_is_what_it_was(old):
    # Geometry is the one relation that every version shares; other results may be worked out better today.
    then = old["results"].get("water.bath_volume")
    answer = solve(opened(old)).value("water.bath_volume")
    assert answer == pytest.approx(then["value"] / 1000) if then else answer is None


@pytest.mark.parametrize("old", OLD, ids=NAMES)
def test_an_old_plan_opened_and_shared_again_is_the_same_plan(old):
    plan = opened(old)
    again, notes = link.read(link.write(plan))
    assert notes == [] and Plan(again).values == plan.values and Plan(again).rows == plan.rows


def test_a_default_that_changed_is_written_down_in_both_units(changing):
    changing(FIELDS, "bath.length", replace(FIELDS["bath.length"], default=("60 in", "150 cm")))
    assert history.as_today({}, 1)["bath.length"] == "48 in"
    assert history.as_today({"units": "metric"}, 1)["bath.length"] == "120 cm"
    assert history.as_today({"units": "METRIC"}, 1)["bath.length"] == "120 cm"
    assert history.as_today({"bath.length": "50"}, 1)["bath.length"] == "50"
    assert "bath.length" not in history.as_today({}, versions.VERSION)
    changing(FIELDS, "bath.length", replace(FIELDS["bath.length"], default=("48 in", "150 cm")))
    assert "bath.length" not in history.as_today({}, 1)


def test_default_rows_that_changed_went_or_came_do_not_change_an_old_plan(changing):
    table = TABLES["air.pumps"]
    first, rest = table.rows[0], table.rows[1:]
    changed = replace(table, rows=({**first, "power": "99 W"}, *rest))
    fewer = replace(table, rows=table.rows[:-1])
    more = replace(table, rows=(*table.rows, {**first, "name": "One more"}))

    def pumps(text: dict) -> list[dict]:
        return [{name: value for name, value in row.items() if name != "example"}
                for row in Plan.from_mapping(text).rows["air.pumps"]]
    was = pumps({})
    for other in (changed, fewer, more):
        changing(TABLES, "air.pumps", other)
        assert pumps({}) != was
        assert pumps(history.as_today({}, 1)) == was
        mine = {"air.pumps": [{"name": "Mine", "free_flow": "10 L/min", "shutoff": "20 kPa", "power": "5 W"}]}
        assert [row["name"] for row in pumps(history.as_today(mine, 1))] == ["Mine"]


def test_a_question_that_came_later_has_the_meaning_it_had_before(changing):
    changing(versions.MEANT[1], "bath.film", ("3/4 in", "2 cm"))
    assert history.as_today({}, 1)["bath.film"] == "3/4 in"


def test_old_names_are_read_beside_the_new_ones_in_any_version(changing):
    changing(versions.RENAMED, "tub.length", "bath.length")
    changing(versions.RENAMED, "aerators", "air.pumps")
    for version in (1, versions.VERSION):
        read = history.as_today({"tub.length": "50 in", "aerators.2.name": "Two"}, version)
        assert read["bath.length"] == "50 in" and read["air.pumps.2.name"] == "Two" and "tub.length" not in read
        assert history.as_today({"tub.length": "50 in", "bath.length": "60 in"}, version)["bath.length"] == "60 in"
    assert link.read("#start=2&tub.length=50+in") == ({"bath.length": "50 in"}, [])


def test_every_line_of_the_tables_points_at_a_question():
    known = set(FIELDS) | set(TABLES)
    assert set(versions.RENAMED.values()) <= known
    for meant in versions.MEANT.values():
        assert [key for key in meant if history.default_now(key, "us") is None] == []
    frozen = set(version_1.DEFAULTS)
    lost = [key for key in frozen if "." in key and not key.split(".")[-2].isdigit()
            and renamed(key) not in known and key not in versions.GONE]
    assert lost == []


@pytest.mark.parametrize("given, version, told", [
    (None, versions.VERSION, False), (1, 1, False), ("1", 1, False), (1.0, 1, False), (2, 2, False), (99, 99, True),
    ("99999999999999999999", 999999, True), (0, 2, True), (-1, 2, True), ("x", 2, True), (True, 2, True),
    ([1], 2, True), (1.5, 2, True), ("９", 2, True)])
def test_a_version_is_read_or_told(given, version, told):
    number, notes = history.version_of(given)
    assert (number, bool(notes)) == (version, told)


def test_a_file_without_a_version_means_today_and_one_of_a_newer_version_says_so(changing):
    changing(FIELDS, "bath.length", replace(FIELDS["bath.length"], default=("60 in", "150 cm")))

    def file_read(**holds):
        return json.loads(api.run(json.dumps({"op": "file_read", "text": json.dumps(holds)})))
    assert "bath.length" not in file_read(plan={"bath.width": "25 in"})["plan"]
    assert file_read(plan={"bath.width": "25 in"}, version=1)["plan"]["bath.length"] == "48 in"
    newer = file_read(plan={"bath.width": "25 in", "bath.moon": "full"}, version=99)
    assert newer["plan"] == {"bath.width": "25 in"}
    assert "newer version" in newer["notes"][0] and "bath.moon" in newer["notes"][1]
    kept = json.loads(api.run(json.dumps({"op": "plan_read", "plan": {"bath.width": "25 in"}, "version": 1})))
    assert kept["plan"]["bath.length"] == "48 in" and kept["notes"] == []


def test_what_is_left_aside_is_counted_when_it_is_not_named():
    notes = link.read("#start=2&" + "&".join(f"bath.moon{one}=1" for one in range(9)))[1]
    assert len(notes) == 7 and notes[-1] == "And 3 more like these."


def test_the_printed_module_is_the_one_that_is_kept_and_holds_todays_defaults():
    holds = {}
    exec(history.frozen_module(7), holds)
    assert holds["DEFAULTS"] == history.todays_defaults() and "version 7" in holds["__doc__"]
    assert set(holds["COLUMNS"]) == set(TABLES)


def test_an_old_plan_is_still_held_against_its_floor_and_has_straight_boards():
    plan = Plan(history.as_today({}, 1))
    assert plan.values["bath.floor_allowance"] == pytest.approx(40 * 0.45359237 * 9.80665 / 0.3048**2)
    assert plan.values["board.notches"] == "none"
