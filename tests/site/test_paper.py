"""The pages of paper: complete without scripts, the reader's own plan with them, whole on A4 and on Letter."""

from __future__ import annotations

import io
import json

import pypdfium2
import pytest
from playwright.sync_api import expect

from calc.plan import Plan
from calc.solve import solve

pytestmark = pytest.mark.browser
READY = "html[data-paper-ready]"
PAPERS = {"A4": (210, 297), "Letter": (215.9, 279.4)}
FOLDERS = ("sheet", "list", "template", "calendar")
OWN = {"plan": {"bath.length": "50 in", "bath.width": "30 in"}, "version": 2}


def printed(page, paper):
    """(number of pages, text of all) of the page as the browser prints it."""
    data = page.pdf(format=paper, print_background=True)
    found = pypdfium2.PdfDocument(io.BytesIO(data))
    return len(found), "\n".join(one.get_textpage().get_text_range() for one in found)


@pytest.mark.parametrize("folder", FOLDERS)
def test_the_example_prints_without_scripts(browser, address, folder):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{address}/{folder}/index.html")
    sheets = page.locator(".leaf").count()
    for paper in PAPERS:
        pages, text = printed(page, paper)
        assert pages == sheets and "Example raft bath" in text
        assert "Plan a bath" not in text, "the site's own foot is not printed"
    context.close()


@pytest.mark.parametrize("folder", FOLDERS)
@pytest.mark.parametrize("paper", PAPERS)
def test_nothing_runs_over_its_sheet(browser, address, folder, paper):
    tall = PAPERS[paper][1] - 21
    context = browser.new_context(viewport={"width": 680, "height": int(tall / 25.4 * 96)}, java_script_enabled=False)
    page = context.new_page()
    page.emulate_media(media="print")
    page.goto(f"{address}/{folder}/index.html")
    for at in range(page.locator(".leaf").count()):
        sheet = page.locator(".leaf").nth(at)
        over = sheet.evaluate("one => [one.scrollHeight - one.clientHeight, one.scrollWidth - one.clientWidth]")
        assert max(over) <= 1, f"sheet {at + 1} of {folder} on {paper} is {over} px too small"
    context.close()


def test_a_plan_of_this_browser_takes_the_place_of_the_example(warm, address):
    page = warm.new_page()
    page.goto(f"{address}/release.json")
    page.evaluate("text => localStorage.setItem('raftwright.plan', text)", json.dumps(OWN))
    page.goto(f"{address}/list/index.html")
    page.wait_for_selector(READY, timeout=60_000)
    assert "50 x 30 x 12" in page.locator("[data-paper]").inner_text().replace("\u00a0", " ")
    assert page.locator("[data-paper-name]").inner_text() == "Your raft bath"
    price = page.get_by_label("Price of Hole saw")
    price.fill("12.50")
    design = solve(Plan.from_mapping(OWN["plan"]))
    cost = design.value("parts.cost") + 12.5
    expect(page.locator("[data-sum]")).to_have_text(design.money(cost))
    page.get_by_label("Tax and postage").fill("5.5")
    expect(page.locator("[data-total]")).to_have_text(design.money(cost + 5.5))
    page.evaluate("() => localStorage.clear()")
    page.close()


def test_a_plan_of_a_link_is_printed_and_goes_on_with_the_ways(warm, address):
    page = warm.new_page()
    page.goto(f"{address}/list/index.html#start=2&bath.length=61+in")
    page.wait_for_selector(READY, timeout=60_000)
    assert "61 x 24 x 12" in page.locator("[data-paper]").inner_text().replace("\u00a0", " ")
    assert "bath.length=61+in" in page.get_by_role("link", name="Back to the planner").get_attribute("href")
    page.close()
