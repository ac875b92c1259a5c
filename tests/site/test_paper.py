"""The pages of paper: complete without scripts, the reader's own plan with them, whole on A4 and on Letter."""

from __future__ import annotations

import io
import json

import pypdfium2
import pytest
from playwright.sync_api import expect

from calc.plan import Plan
from calc.render.paper import files, leaf
from calc.solve import solve
from tests.calc import whole

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
    page.wait_for_selector(READY)
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


def test_a_club_reads_what_a_bath_and_a_member_cost(warm, address):
    page = warm.new_page()
    page.goto(f"{address}/list/index.html#start=2&parts.copies=12")
    page.wait_for_selector(READY)
    design = solve(Plan.from_mapping({"parts.copies": "12"}))
    cost = design.value("parts.cost")
    expect(page.locator("[data-each]")).to_have_text(design.money(cost / 12))
    page.get_by_label("A member, of").fill("9")
    expect(page.locator("[data-member]")).to_have_text(design.money(cost / 9))
    page.close()


def test_a_plan_of_a_link_is_printed_and_goes_on_with_the_ways(warm, address):
    page = warm.new_page()
    page.goto(f"{address}/list/index.html#start=2&bath.length=61+in")
    page.wait_for_selector(READY)
    assert "61 x 24 x 12" in page.locator("[data-paper]").inner_text().replace("\u00a0", " ")
    assert "bath.length=61+in" in page.get_by_role("link", name="Back to the planner").get_attribute("href")
    page.close()


@pytest.mark.parametrize("name", ["bucket", "us_tote", "", "four_baths", "farm_raft_30m"])
def test_five_plans_fill_their_sheets_and_no_more(browser, tmp_path, name):
    design = whole.plan(name) if name else solve(Plan({}))
    page = browser.new_page(viewport={"width": 680, "height": int((279.4 - 21) / 25.4 * 96)})
    page.emulate_media(media="print")
    for kind in files.SHEETS:
        file = tmp_path / f"{kind}.html"
        file.write_text(files.write(leaf.Paper(design, "Plan"), file.name), encoding="utf-8")
        page.goto(file.as_uri())
        over = page.evaluate(INSIDE)
        assert over == [], f"{kind}: sheet, and pixels too many"
        sheets = page.locator(".leaf").count()
        if kind == "template" and sheets > 30:
            continue
        for paper in PAPERS:
            assert printed(page, paper)[0] == sheets, f"{kind} on {paper}"
    page.close()


# Sheets whose parts reach below the room between head and foot, on the shorter paper.
INSIDE = """() => [...document.querySelectorAll('.leaf')].flatMap((sheet, at) => {
  const body = sheet.querySelector('.leaf-body');
  if (!body) return sheet.scrollHeight > sheet.clientHeight + 1 ? [[at + 1, sheet.scrollHeight]] : [];
  const low = Math.max(...[...body.querySelectorAll('*')].filter((one) => !one.closest('svg') || one.tagName === 'svg')
    .map((one) => one.getBoundingClientRect().bottom)) - body.getBoundingClientRect().bottom;
  return low > 2 ? [[at + 1, Math.round(low)]] : [];
})"""


@pytest.mark.parametrize("family", ["DejaVu Sans", "DejaVu Serif"])
def test_other_letters_make_no_more_sheets(browser, tmp_path, family):
    page = browser.new_page()
    for kind in files.SHEETS:
        file = tmp_path / f"{kind}.html"
        text = files.write(leaf.Paper(solve(Plan({})), "Plan"), file.name)
        file.write_text(text.replace("</style>", f'.leaves {{ --serif: "{family}"; --sans: "{family}"; }}</style>'),
                        encoding="utf-8")
        page.goto(file.as_uri())
        for paper in PAPERS:
            assert printed(page, paper)[0] == page.locator(".leaf").count(), f"{kind} on {paper}"
    page.close()


@pytest.mark.parametrize("folder", FOLDERS)
def test_a_folder_without_its_slash_works_offline(open_page, offline, address, folder):
    page = open_page(f"{address}/{folder}", context=offline, ready=False).page
    assert page.url.endswith(f"/{folder}/") and page.locator(".leaf").count() > 0
    page.close()


def test_the_calendar_goes_to_a_phone(warm, address):
    page = warm.new_page()
    page.goto(f"{address}/calendar/index.html#start=2&bath.length=61+in")
    page.wait_for_selector(READY)
    with page.expect_download() as found:
        page.get_by_role("button", name="For my phone (iCalendar)").click()
    assert found.value.suggested_filename.endswith(".ics")
    page.close()


def test_the_step_shop_and_build_leads_to_all_four(browser, address):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{address}/plan/index.html")
    for folder in FOLDERS:
        assert page.locator(f'[data-step="shop"] a[href="../{folder}/index.html"]').count() == 1
    context.close()
