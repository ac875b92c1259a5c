"""The planner as its readers meet it: one step in sight, addresses, keys, heights, and what stands without scripts."""

from __future__ import annotations

import re

import pytest

from calc.steps import STEPS
from tests.site.hands import fill, settle, volume
from tests.site.waiting import until

pytestmark = pytest.mark.browser

NAMES = [step.name for step in STEPS]
IN_SIGHT = "[...document.querySelectorAll('section[data-step]')].filter((one) => one.offsetHeight > 0)" \
           ".map((one) => one.dataset.step)"
# How tall a sheet may be: what a laptop and a phone show in about two screens and four.
TALLEST = {1280: 1700, 360: 3200}


def quiet(page) -> None:
    """Wait until what follows the sheet in sight is there too."""
    settle(page)
    page.wait_for_timeout(600)
    settle(page)


def test_the_first_step_shows_the_bath(open_page, address):
    watched = open_page(f"{address}/plan/index.html")
    page = watched.page
    assert page.evaluate(IN_SIGHT) == ["tank"]
    assert page.locator('[name="bath.length"]').is_visible()
    for key in ("water.bath_volume", "water.working_volume"):
        assert page.locator(f'output[data-key="{key}"]').first.is_visible()
    assert watched.complaints == []


def test_steps_have_addresses_and_the_browser_goes_back(open_page, address):
    page = open_page(f"{address}/plan/index.html#step=air").page
    assert page.evaluate(IN_SIGHT) == ["air"] and page.title().startswith("3 Air and flow")
    page.locator('#steps a[href="#step=nutrients"]').click()
    # The address changes before the page hears of it.
    until(page, "document.activeElement.id === 'title-nutrients'")
    assert page.evaluate("location.hash") == "#step=nutrients" and page.evaluate(IN_SIGHT) == ["nutrients"]
    page.go_back()
    until(page, f"({IN_SIGHT})[0] === 'air'")
    page.go_forward()
    until(page, f"({IN_SIGHT})[0] === 'nutrients'")
    assert page.locator("#steps [aria-current]").get_attribute("href") == "#step=nutrients"


def test_a_link_to_a_plan_may_name_its_step(open_page, address):
    page = open_page(f"{address}/plan/index.html#start=2&bath.length=55+in&step=raft").page
    settle(page)
    assert page.input_value('[name="bath.length"]') == "55 in"
    assert page.evaluate(IN_SIGHT) == ["raft"]


def test_every_topic_but_the_place_has_its_verdict_and_every_caution_its_line(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    quiet(page)
    shown = page.evaluate("""[...document.querySelectorAll('[data-verdict]')].map((one) =>
        [one.dataset.verdict, one.dataset.state])""")
    topics = [topic for step in STEPS for topic in step.topics if topic != "place"]
    assert sorted(topic for topic, _ in shown) == sorted(topics)
    assert {state for _, state in shown} <= {"fits", "tight", "fails", "open"}
    lines = page.evaluate("[...document.querySelectorAll('[data-caution]')].map((one) => one.dataset.caution)")
    assert len(lines) == len(set(lines)) <= 7


@pytest.mark.parametrize("width", TALLEST)
def test_no_sheet_is_taller_than_it_may_be(open_page, address, width):
    page = open_page(f"{address}/plan/index.html", size=(width, 800 if width > 600 else 740)).page
    heights = {}
    for name in NAMES:
        page.evaluate("(name) => { location.hash = `#step=${name}`; }", name)
        quiet(page)
        heights[name] = page.evaluate("document.querySelector('section[data-here]').offsetHeight")
        assert page.evaluate("document.documentElement.scrollWidth") <= width, name
    assert {name: tall for name, tall in heights.items() if tall > TALLEST[width]} == {}


def test_twelve_stops_to_the_first_question(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    for _ in range(12):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.closest('.deciding') !== null"):
            return
    raise AssertionError("no question within twelve stops")


def test_the_bar_of_a_phone_leads_on_and_opens_all_steps(open_page, address):
    page = open_page(f"{address}/plan/index.html", size=(360, 740)).page
    bar = page.locator("[data-bar][data-here]")
    assert bar.locator("a").first.get_attribute("href") == "#step=raft"
    assert not page.locator("#steps").is_visible()
    bar.locator('[data-action="steps"]').click()
    assert page.locator("#steps").is_visible()
    page.keyboard.press("Escape")
    assert not page.locator("#steps").is_visible()
    bar.locator('[data-action="steps"]').click()
    page.locator('#steps a[href="#step=light"]').click()
    until(page, f"({IN_SIGHT})[0] === 'light'")
    assert not page.locator("#steps").is_visible()


def test_without_scripts_all_steps_stand_one_after_another(browser, address):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{address}/plan/index.html")
    for name in NAMES:
        assert page.locator(f'section[data-step="{name}"]').is_visible()
    assert page.locator('[name="bath.length"]').is_visible()
    assert re.search(r"\d", page.locator('output[data-key="water.working_volume"]').first.inner_text())
    # An address shows its sheet alone.
    page.goto(f"{address}/plan/index.html#step=air")
    assert page.locator('section[data-step="air"]').is_visible()
    assert not page.locator('section[data-step="tank"]').is_visible()
    context.close()


def test_a_question_left_alone_is_our_guess_until_it_is_answered(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    ask = page.locator('.ask:has([name="bath.length"])')
    assert ask.get_attribute("data-guess") is not None
    fill(page, "bath.length", "50 in")
    assert ask.get_attribute("data-guess") is None
    assert "8 are our guess" in page.locator('[data-step="tank"] [data-guesses]').inner_text()


def test_a_mend_is_offered_pressed_and_undone(open_page, address):
    page = open_page(f"{address}/plan/index.html#step=air").page
    fill(page, "circulation.hose_bore", "1/4 in")
    verdict = page.locator('[data-verdict="circulation"]')
    until(page, "document.querySelector('[data-verdict=\"circulation\"]').dataset.state !== 'fits'")
    mend = page.locator("button[data-mend]").first
    mend.wait_for()
    words = mend.inner_text()
    assert "Do it" in words and re.search(r"\d", words)
    mend.click()
    until(page, "document.querySelector('[data-verdict=\"circulation\"]').dataset.state === 'fits'")
    until(page, "document.activeElement.dataset.verdict === 'circulation'")
    assert page.input_value('[name="circulation.hose_bore"]') != "1/4 in" or "valve" in words
    verdict.locator('[data-action="undo"]').click()
    until(page, "document.querySelector('[data-verdict=\"circulation\"]').dataset.state !== 'fits'")
    assert page.input_value('[name="circulation.hose_bore"]') == "1/4 in"


def test_guides_say_the_readers_own_numbers(open_page, address):
    page = open_page(f"{address}/guides/measure-the-water/index.html").page
    settle(page)
    before = page.locator('[data-living="water.bath_volume"]').first.inner_text()
    assert before == volume_of(page)
    fill(page, "bath.length", "70 in")
    until(page, "(before) => document.querySelector('[data-living=\"water.bath_volume\"]').textContent !== before",
          before)
    assert page.locator('[data-living="water.bath_volume"]').first.inner_text() == volume_of(page)
    page.locator(".to-step a").click()
    page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    assert page.evaluate(IN_SIGHT) == ["tank"] and page.input_value('[name="bath.length"]') == "70 in"
    assert re.search(r"\d", volume(page))


def volume_of(page) -> str:
    """The bath's volume in the guide's calculator."""
    return page.locator('output[data-key="water.bath_volume"]').first.inner_text()


def test_no_guide_is_heavy(dist):
    heavy = {file.parent.name: file.stat().st_size for file in (dist / "guides").glob("*/index.html")
             if file.stat().st_size > 120_000}
    assert heavy == {}


def test_the_names_of_crops_keep_their_label_whole_on_a_phone(open_page, address):
    page = open_page(f"{address}/plan/index.html#step=raft", size=(360, 740)).page
    page.locator('[data-table="crops.rows"] [data-action="add-row"]').click()
    page.locator('[name="crops.rows.2.crop"]').wait_for()
    assert page.evaluate("""[...document.querySelectorAll('[data-table="crops.rows"] .row > .cell > label')]
        .map((one) => one.clientHeight < 1.9 * parseFloat(getComputedStyle(one).fontSize))""") == [True, True]
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
