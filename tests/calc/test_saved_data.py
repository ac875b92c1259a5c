"""Files of plain data and tables: what they hold is what the design holds, whichever way it is asked for."""

from __future__ import annotations

import csv
import io
import json
from math import atan2, degrees, hypot

import icalendar
import pytest

from calc import api, cells, command_line, solve, units
from calc.plan import Plan
from calc.render.paper import files, leaf, shop
from calc.solve import in_common
from tests.calc import whole

NAMES = ["bucket", "us_tote", "four_baths", "farm_raft_30m", "club_of_twelve", "round_tub", "us_tote_in_metric"]


def table(name, file):
    text = files.write(leaf.Paper(whole.plan(name)), file)
    return list(csv.DictReader(io.StringIO(text.removeprefix(cells.MARK), newline="")))


@pytest.mark.parametrize("name", NAMES)
def test_the_table_of_holes_has_every_hole_in_millimetres(name):
    design = whole.plan(name)
    rows, holes = table(name, "holes.csv"), design.value("board.holes")
    assert len(rows) == len(holes) == design.value("board.sites")
    for number, (row, hole) in enumerate(zip(rows, holes, strict=True), 1):
        disc = "from_x" in hole
        x, y = (hole["from_x"], hole["from_y"]) if disc else (hole["x"], hole["y"])
        assert (int(row["hole"]), int(row["board"])) == (number, hole["board"])
        assert float(row["x mm"]) == pytest.approx(x * 1000, abs=1e-3)
        assert float(row["y mm"]) == pytest.approx(y * 1000, abs=1e-3)
        assert float(row["diameter mm"]) == pytest.approx(design.value("board.hole_diameter") * 1000, abs=1e-3)
        assert ("disc" in row["measured from"]) is disc
        if disc:
            assert float(row["from center mm"]) == pytest.approx(hypot(x, y) * 1000, abs=1e-3)
            assert float(row["angle degrees"]) == pytest.approx(degrees(atan2(y, x)) % 360, abs=0.006)
        else:
            assert row["from center mm"] == row["angle degrees"] == ""
            assert row["x"] == design.shown_as("board.length", x)


def test_a_place_behind_the_center_is_told_in_words():
    rows = {(float(row["x mm"]) < 0, row["x"].split()[-1]) for row in table("round_tub", "holes.csv")}
    assert rows == {(True, "left"), (False, "right")}
    rows = {(float(row["y mm"]) < 0, row["y"].split()[-1]) for row in table("round_tub", "holes.csv")}
    assert rows == {(True, "front"), (False, "back")}


@pytest.mark.parametrize("name", NAMES)
def test_the_list_as_a_table_says_what_the_sheet_says(name):
    design = whole.plan(name)
    rows, lines = table(name, "list.csv"), shop.lines(design)
    assert len(rows) == len(lines)
    for row, line in zip(rows, lines, strict=True):
        assert (row["shop"], row["thing"], row["size as sold"]) == (line.shop, line.thing, line.detail)
        assert row["buy"] == shop.to_buy(line, design.system)
        size = float(row["pack size"] or 0)
        # Five digits of an amount are more than a shop weighs out.
        assert size * int(row["packs"]) >= (float(row["need"]) - float(row["owned"])) * (1 - 1e-4)
        need = units.parse(f"{row['need']} {row['unit']}", line.kind, design.system) if row["unit"] else row["need"]
        assert float(need) == pytest.approx(line.need, rel=1e-4)
        assert row["price"] == ("" if line.price is None else str(round(line.price, 2)))
        assert row["currency"] == ("" if line.price is None else design.value("energy.currency"))
        assert "-" not in row.values() and "–" not in row.values()
    assert sum(float(row["price"] or 0) for row in rows) == pytest.approx(design.value("parts.cost"), abs=0.01)


def test_a_line_of_the_readers_own_runs_no_formula():
    plan = Plan.from_mapping({"parts.own_lines.1.name": "=1+1", "parts.own_lines.1.count": "2"})
    text = files.write(leaf.Paper(solve(plan)), "list.csv")
    assert "'=1+1" in text and ",=1+1" not in text


def test_results_are_letter_by_letter_what_solve_prints(tmp_path, capsys):
    file = tmp_path / "balcony.json"
    file.write_text(json.dumps({"plan": whole.typed("us_tote"), "version": 2}), encoding="utf-8")
    assert command_line.main(["solve", str(file)]) == 0
    printed = capsys.readouterr().out
    assert command_line.main(["render", str(file), "--to", str(tmp_path / "results.json")]) == 0
    assert (tmp_path / "results.json").read_text(encoding="utf-8") == printed


@pytest.mark.parametrize(("value", "found"), [(1 / 3, 0.33333333), (-2e-9 / 3, -6.6666667e-10), (0.0, 0.0),
                                              (123456789.0, 123456790.0), ([1, True, None, "0.123456789"],
                                                                           [1, True, None, "0.123456789"])])
def test_numbers_have_eight_digits_and_nothing_else_is_touched(value, found):
    assert in_common(value) == found and repr(in_common(value)) == repr(found)


def test_results_say_no_number_finer_than_two_machines_agree_on():
    found = json.loads(files.write(leaf.Paper(whole.plan("measured_curve")), "results.json"))["results"]
    numbers = []

    def walk(value):
        for one in value.values() if isinstance(value, dict) else value if isinstance(value, list) else ():
            walk(one)
        if isinstance(value, float):
            numbers.append(value)
    walk(found)
    assert len(numbers) > 500 and all(float(f"{one:.7e}") == one for one in numbers)


def test_what_could_not_be_read_is_told_in_the_results_too(tmp_path):
    text = "#plan=2&bath.length=61+in"
    assert command_line.main(["render", text, "--to", str(tmp_path / "results.json")]) == 0
    (note,) = json.loads((tmp_path / "results.json").read_text(encoding="utf-8"))["notes"]
    assert "lost its end" in note


def test_a_plan_written_is_the_plan_read(tmp_path):
    for name in NAMES:
        text = files.write(leaf.Paper(whole.plan(name), "Balcony"), "plan.json")
        answer = json.loads(api.run(json.dumps({"op": "file_read", "text": text})))
        assert answer["plan"] == whole.plan(name).plan.lasting() and answer["name"] == "Balcony"
        assert not answer["notes"]
    unnamed = files.write(leaf.Paper(whole.plan("bucket")), "plan.json")
    assert "name" not in json.loads(unnamed)
    same = json.loads(api.run(json.dumps({"op": "file_write", "plan": whole.typed("bucket")})))["text"]
    assert same == unnamed


def test_the_calendar_is_the_one_of_the_page():
    text = files.write(leaf.Paper(whole.plan("four_baths")), "calendar.ics")
    asked = json.loads(api.run(json.dumps({"op": "calendar", "plan": whole.typed("four_baths")})))["text"]
    assert text == asked
    events = icalendar.Calendar.from_ical(text.encode()).walk("VEVENT")
    batches = whole.plan("four_baths").value("schedule.batches")
    assert len(events) == sum(3 + bool(row["apart"]) for row in batches) + sum(
        str(event["UID"]).startswith("water-") for event in events)
    assert len({str(event["UID"]) for event in events}) == len(events)


def test_what_a_plan_has_not_gets_a_sentence():
    empty = leaf.Paper(solve(Plan.from_mapping({"bath.length": "no"})))
    with pytest.raises(ValueError, match="no holes yet"):
        files.write(empty, "holes.csv")
    none = leaf.Paper(solve(Plan.from_mapping({"schedule.start": "no"})))
    with pytest.raises(ValueError, match="no day of sowing"):
        files.write(none, "calendar.ics")


@pytest.mark.parametrize("name", ["holes.xls", "board.dxf", "../plan", "plan.json.html", "x" * 500])
def test_a_name_that_nobody_writes_gets_the_names_that_are(name):
    with pytest.raises(ValueError, match="the names are .*list.html, .*holes.csv.*plan.json") as told:
        files.write(leaf.Paper(whole.plan("bucket")), name)
    assert len(str(told.value)) < 500
