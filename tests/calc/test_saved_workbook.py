"""The spreadsheet file, read back by another library; its live sums are reckoned again from its cells."""

from __future__ import annotations

import io
import json
import re
import sys
from datetime import date, datetime
from math import ceil

import openpyxl
import pytest

from calc import command_line
from calc.plan import Plan
from calc.render.paper import files, leaf, shop
from calc.solve import solve
from tests.calc import whole

NAMES = ["us_tote", "bucket", "four_baths", "club_of_twelve", "two_crops"]
CELL, RANGE = r"\$?([A-Z])\$?(\d+)", r"([A-Z]\d+):([A-Z]\d+)"


def made(design, name="Balcony"):
    data = files.write(leaf.Paper(design, name), "workbook.xlsx")
    return (openpyxl.load_workbook(io.BytesIO(data)), openpyxl.load_workbook(io.BytesIO(data), data_only=True))


@pytest.fixture(scope="module")
def books():
    return {name: made(whole.plan(name)) for name in NAMES}


def reckon(formula, sheet):
    """A formula of these files from the numbers that stand in the cells it names."""
    def cells(name):
        return [cell.value for (cell,) in sheet[name]]

    def total(name):
        return sum(one or 0 for one in cells(name))

    def total_if(where, what, name):
        return sum(many or 0 for word, many in zip(cells(where), cells(name), strict=True) if word == what)
    known = {"MAX": max, "SUM": total, "SUMIF": total_if, "ROUNDUP": lambda value, _: ceil(value)}
    text = re.sub(RANGE, r'"\1:\2"', formula[1:])
    text = re.sub(rf'(?<!["A-Z:]){CELL}(?![\d:"])', lambda one: f"({sheet[one[1] + one[2]].value or 0!r})", text)
    return eval(text, {"__builtins__": {}}, known)


@pytest.mark.parametrize("name", NAMES)
def test_every_live_sum_is_what_its_cells_come_to(books, name):
    live, values = books[name]
    assert live.sheetnames == ["List", "Figures", "Nutrients", "Calendar"]
    count = 0
    for sheet in live:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    count += 1
                    kept = values[sheet.title][cell.coordinate].value
                    assert kept == pytest.approx(reckon(cell.value, values[sheet.title]), rel=1e-9), cell.value
    assert count > 20


@pytest.mark.parametrize("name", NAMES)
def test_the_list_costs_what_the_plan_costs(books, name):
    design, sheet = whole.plan(name), books[name][1]["List"]
    rows = {row[0]: row for row in sheet.iter_rows(values_only=True) if row[0]}
    assert rows["Total"][9] == pytest.approx(design.value("parts.cost"), abs=0.01)
    baths = design.value("parts.copies") * design.value("bath.count")
    assert rows["Baths"][9] == baths
    assert rows["A bath"][9] == pytest.approx(design.value("parts.cost") / baths, abs=0.01)
    lines = shop.lines(design)
    listed = [row for row in sheet.iter_rows(min_row=4, values_only=True) if row[0] in shop.SHOPS]
    assert [row[1] for row in listed] == [line.thing for line in lines]
    assert [row[8] for row in listed] == [shop.pack_of(line, design.system)[0] for line in lines]


@pytest.mark.parametrize("name", ["us_tote", "four_baths"])
def test_nutrients_for_the_plans_own_water_are_the_plans_own_grams(books, name):
    design, sheet = whole.plan(name), books[name][1]["Nutrients"]
    found = {row[0]: row for row in sheet.iter_rows(values_only=True) if row[0]}
    assert found["Water to mix, L"][2] == pytest.approx(design.value("feed.batch") * 1000, rel=1e-5)
    masses = [row for row in design.value("feed.masses") if not row.get("volume")]
    for row in masses:
        assert found[row["salt"]][2] == pytest.approx(row["mass"] * 1000, rel=1e-4)
    assert found["All that is weighed, g"][2] == pytest.approx(sum(row["mass"] for row in masses) * 1000, rel=1e-4)
    reached = {row["element"]: row for row in design.value("feed.reached")}
    assert found["Potassium"][1:3] == pytest.approx((reached["K"]["target"], reached["K"]["reached"]), rel=1e-5)


@pytest.mark.parametrize("name", ["us_tote", "four_baths", "two_crops"])
def test_the_calendar_has_the_dates_of_the_plan_as_dates(books, name):
    design, sheet = whole.plan(name), books[name][1]["Calendar"]
    rows = [row for row in sheet.iter_rows(min_row=4, values_only=True) if isinstance(row[0], datetime)]
    wanted = sorted((date.fromisoformat(row[what]), many) for row in design.value("schedule.batches")
                    for what, many in (("sow", row["seeds"]), ("transplant", row["plants"]), ("apart", row["plants"]),
                                       ("harvest", row["heads"])) if row[what])
    assert sorted((row[0].date(), row[4]) for row in rows) == wanted
    sums = {row[0]: row[4] for row in sheet.iter_rows(values_only=True) if isinstance(row[0], str)}
    assert sums["Harvest, in all: heads"] == sum(row["heads"] for row in design.value("schedule.batches"))


def test_a_plan_that_sows_nothing_says_so(books):
    assert "Nothing is sown" in books["bucket"][1]["Calendar"]["A3"].value


def test_figures_are_those_of_the_plan(books):
    design, sheet = whole.plan("us_tote"), books["us_tote"][1]["Figures"]
    rows = {row[1]: row for row in sheet.iter_rows(values_only=True)}
    volume = rows[design.answers["water.bath_volume"].spec.label]
    assert volume[2:4] == (pytest.approx(design.value("water.bath_volume") * 1000, rel=1e-5), "L")
    assert volume[4] == design.shown("water.bath_volume")


def test_a_text_that_looks_like_a_formula_stays_text():
    plan = Plan.from_mapping({"parts.own_lines.1.name": "=1+1", "parts.own_lines.1.count": "2"})
    live, _ = made(solve(plan), "=cmd()")
    (cell,) = [one for row in live["List"].iter_rows() for one in row if one.value == "=1+1"]
    assert cell.data_type == "s" and cell.quotePrefix
    assert live["List"]["A1"].data_type == "s" and live["List"]["A1"].value.startswith("=cmd().")


def test_one_plan_gives_one_file():
    paper = leaf.Paper(whole.plan("us_tote"), "Balcony")
    assert files.write(paper, "workbook.xlsx") == files.write(paper, "workbook.xlsx")


def test_without_the_package_a_sentence_says_what_to_install(monkeypatch, tmp_path, capsys):
    monkeypatch.setitem(sys.modules, "xlsxwriter", None)
    file = tmp_path / "plan.json"
    file.write_text(json.dumps({}), encoding="utf-8")
    assert command_line.main(["render", str(file), "--to", str(tmp_path / "workbook.xlsx")]) == 2
    assert "needs the Python package XlsxWriter" in capsys.readouterr().err
    assert not (tmp_path / "workbook.xlsx").exists()
