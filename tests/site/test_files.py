"""The menu of files in a browser: each is saved under a name that sorts, with the bytes of the command line."""

from __future__ import annotations

import io
import json
import re
import zipfile
from pathlib import Path

import pytest
from playwright.sync_api import expect

from calc import command_line
from calc.plan import Plan
from calc.render.paper import files, leaf
from calc.render.saved import menu
from calc.solve import solve

PLANS = Path(__file__).resolve().parents[1] / "plans"
READY = "html[data-files-ready]"
# Long enough for a machine that is busy with other browsers.
LONG = 120_000
# Chromium lets a page save ten files in quick succession, and drops what comes after them: no hand is that quick.
BURST = 8
OWN = {"plan": {"units": "metric", "bath.length": "240 cm", "bath.width": "60 cm", "board.max_length": "80 cm"},
       "version": 2}


def saved(page, file):
    """(name, bytes) of a file as the browser saves it."""
    with page.expect_download(timeout=LONG) as found:
        page.locator(f'[data-file="{file}"]').click()
    return found.value.suggested_filename, Path(found.value.path()).read_bytes()


def first_change(one, other):
    """The first lines that differ, to be read in a failure."""
    return next(((a, b) for a, b in zip(one.splitlines(), other.splitlines(), strict=False) if a != b), "their lengths")


def entries(data):
    archive = zipfile.ZipFile(io.BytesIO(data))
    return {name: archive.read(name) for name in archive.namelist()}


@pytest.mark.browser
def test_every_file_is_saved_with_the_bytes_of_the_command_line(warm, address, tmp_path):
    page = warm.new_page()
    page.goto(f"{address}/release.json")
    page.evaluate("text => localStorage.setItem('raftwright.plan', text)", json.dumps(OWN))
    page.goto(f"{address}/files/index.html")
    page.wait_for_selector(READY, timeout=LONG)
    plan = tmp_path / "own.json"
    plan.write_text(json.dumps(OWN), encoding="utf-8")
    names = page.evaluate("() => [...document.querySelectorAll('[data-file]')].map((one) => one.dataset.file)")
    assert {"board-1.dxf", "board-1.svg", "board-2.dxf", "holes.csv", "list.csv", "workbook.xlsx", "calendar.ics",
            "plan.json", "results.json", "sheet.html", "template.html"} <= set(names)
    day = page.evaluate("() => new Date().toLocaleDateString('sv')")
    for at, name in enumerate(names, 1):
        if at % BURST == 0:
            page.reload()
            page.wait_for_selector(READY, timeout=LONG)
        called, data = saved(page, name)
        assert called == f"raft-bath-{day}-{name}"
        expect(page.locator("#files-status")).to_have_text(f"Saved as {called}.", timeout=LONG)
        assert command_line.main(["render", str(plan), "--name", leaf.UNNAMED, "--to", str(tmp_path / name)]) == 0
        wanted = (tmp_path / name).read_bytes()
        if name.endswith(".xlsx"):
            # Two builds of one packer may pack the same bytes in two ways.
            assert entries(data) == entries(wanted)
        else:
            assert data == wanted, name
    page.evaluate("() => localStorage.clear()")
    page.close()


@pytest.mark.browser
def test_all_results_have_the_same_bytes_in_a_browser(warm, address):
    page = warm.new_page()
    page.set_default_timeout(LONG)
    page.goto(f"{address}/files/index.html")
    page.wait_for_selector(READY)
    for file in sorted(PLANS.glob("*.json")):
        plan = json.loads(file.read_text(encoding="utf-8"))["plan"]
        for name in ("results.json", "calendar.ics", "list.csv", "holes.csv"):
            found = page.evaluate("(question) => self.raftwright.run(question)",
                                  {"op": "file", "file": name, "plan": plan, "name": file.stem})
            try:
                wanted = files.write(leaf.Paper(solve(Plan.from_mapping(plan)), file.stem), name)
            except ValueError as none:
                assert found == {"error": str(none)}
                continue
            assert found["text"] == wanted, f"{file.stem}, {name}: {first_change(found['text'], wanted)}"
    page.close()


@pytest.mark.browser
def test_from_a_disk_files_are_saved_too_the_workbook_among_them(open_page, dist):
    watched = open_page(f"{dist.as_uri()}/files/index.html#start=2&bath.length=61+in", ready=False)
    page = watched.page
    page.wait_for_selector(READY, timeout=LONG)
    name, data = saved(page, "board-1.svg")
    assert name.endswith("-board-1.svg") and b'<circle cx="' in data
    name, data = saved(page, "workbook.xlsx")
    assert name.endswith("-workbook.xlsx") and "xl/workbook.xml" in entries(data)
    assert "bath.length=61+in" in page.get_by_role("link", name="Back to the planner").get_attribute("href")
    assert watched.complaints == []


@pytest.mark.browser
def test_without_scripts_the_menu_names_its_files(browser, address):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{address}/plan/index.html")
    assert page.locator('[data-step="shop"] a[href="../files/index.html"]').count() == 1
    page.goto(f"{address}/files/index.html")
    assert page.locator(".files code").all_inner_texts()[0] == "workbook.xlsx"
    assert page.locator("[data-file]:visible").count() == 0
    assert "<code>raftwright render PLAN" in page.locator("noscript").first.evaluate("one => one.innerHTML")
    context.close()


@pytest.mark.browser
@pytest.mark.parametrize("width", [360, 1280])
def test_the_page_is_never_wider_than_its_window(open_page, address, width):
    page = open_page(f"{address}/files/index.html", ready=False, size=(width, 800)).page
    page.wait_for_selector(READY, timeout=LONG)
    assert page.evaluate("() => document.documentElement.scrollWidth") <= width
    low = page.evaluate("() => Math.min(...[...document.querySelectorAll('[data-file]')]"
                        ".map((one) => one.getBoundingClientRect().height))")
    assert low >= 44


@pytest.mark.browser
def test_a_browser_reads_the_svg_to_scale(browser):
    design = solve(Plan.from_mapping({"units": "metric", "bath.shape": "round", "bath.diameter": "100 cm"}))
    text = files.write(leaf.Paper(design), "board-1.svg")
    page = browser.new_page()
    page.set_content(f"<body>{text.split('?>', 1)[1]}</body>")
    radius = design.value("board.diameter") * 500
    around, wide = page.evaluate("() => [document.querySelector('#CUT path').getTotalLength(), "
                                 "document.querySelector('svg').getBoundingClientRect().width]")
    count = design.value("board.count")
    assert around == pytest.approx(radius * (2 * 3.14159265 if count == 1 else 3.14159265 + 2), rel=2e-3)
    wanted = (2 * radius if count == 1 else radius) / 25.4 * 96
    assert wide == pytest.approx(wanted, abs=0.5)
    page.close()


def test_names_begin_with_plan_and_day_and_sort():
    assert menu.called("Tote: by the wall!", "2026-11-26", "list.csv", 1) == "tote-by-the-wall-2026-11-26-list.csv"
    assert menu.called("", "2026-11-26", "list.csv", 1) == "raft-bath-2026-11-26-list.csv"
    assert menu.called("Ölbad 3", "", "plan.json", 1) == "ölbad-3-plan.json"
    assert menu.called("../../=", "2026-11-26", "plan.json", 1) == "raft-bath-2026-11-26-plan.json"
    assert len(menu.slug("a b" * 99)) <= menu.LONGEST_SLUG
    boards = [menu.called("x", "2026-11-26", f"board-{number}.dxf", 12) for number in range(1, 13)]
    assert boards == sorted(boards)


def test_each_file_of_a_menu_can_be_written_and_says_what_it_is():
    for plan in ({}, OWN["plan"], {"bath.length": "no"}):
        design = solve(Plan.from_mapping(plan))
        for group in menu.groups(design):
            for one in group.files:
                assert files.write(leaf.Paper(design), one.name) and one.title and one.said
    assert not re.search("board-|calendar.ics", " ".join(
        one.name for group in menu.groups(design) for one in group.files))


def test_whoever_cuts_foam_is_warned_of_the_laser():
    html = menu.html(solve(Plan({})))
    assert html.index("Never put foam into a laser cutter") < html.index("board-1.dxf")
