"""Typing into the planner: what is answered, what is told of a fault, what stays open, and the keyboard alone."""

from __future__ import annotations

import json
import math
import re

import pytest

from tests.site.hands import VOLUME, fill, reach, settle, volume
from tests.site.waiting import until

pytestmark = pytest.mark.browser


def test_type_and_see(open_page, base):
    watched = open_page(f"{base}/plan/index.html", own=True)
    before = volume(watched.page)
    fill(watched.page, "bath.length", "60 in")
    assert volume(watched.page) != before
    fill(watched.page, "bath.length", "48 in")
    first = volume(watched.page)
    fill(watched.page, "bath.length", "4 ft")
    assert volume(watched.page) == first
    assert watched.complaints == []
    assert all(url.startswith((base, "blob:", "data:")) for url in watched.requests)


def test_typing_before_python_is_ready_is_answered_when_it_is(open_page, address):
    watched = open_page(f"{address}/offline/index.html", ready=False, own=True)
    held = []
    watched.page.route("**/*.wasm", lambda route: held.append(route))
    watched.page.goto(f"{address}/plan/index.html")
    watched.page.fill('[name="bath.length"]', "60 in")
    for _ in range(4000):
        if held:
            break
        watched.page.wait_for_timeout(30)
    assert held and watched.page.get_attribute("html", "data-engine") == "starting"
    before = volume(watched.page)
    held[0].continue_()
    watched.page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    settle(watched.page)
    assert volume(watched.page) != before


def test_a_working_follows_what_is_typed_and_stays_open(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    working = reach(page, 'details[data-keep="w-water.bath_volume"] summary').locator("..")
    until(page, """document.querySelector('details[data-keep="w-water.bath_volume"]').innerText.includes('1.2192 m')""")
    fill(page, "bath.length", "60 in")
    assert working.get_attribute("open") is not None
    until(page, """document.querySelector('details[data-keep="w-water.bath_volume"]').innerText.includes('1.524 m')""")
    reach(page, 'details[data-keep="w-air.water_pressure"] summary')
    until(page, """document.querySelector('details[data-keep="w-air.water_pressure"] math') !== null""")


def test_a_fault_is_told_beside_its_field_and_the_last_answer_stays_as_old(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    fill(page, "bath.length", "61 in")
    seen = volume(page)
    field = page.locator('[name="bath.length"]')
    field.fill("5 gal")
    settle(page)
    assert page.locator("#fault-bath-length").inner_text() == "", "told while still typing"
    field.blur()
    until(page, "document.getElementById('fault-bath-length').textContent !== ''")
    assert page.locator('[data-region="picture-tank"]').get_attribute("data-old") is not None
    assert field.get_attribute("aria-invalid") == "true"
    assert "fault-bath-length" in field.get_attribute("aria-describedby")
    assert field.input_value() == "5 gal"
    assert volume(page) == "–" != seen
    assert page.locator(f"[data-old] {VOLUME}").count() >= 1
    fill(page, "bath.length", "61 in")
    assert page.locator("#fault-bath-length").inner_text() == ""
    assert field.get_attribute("aria-invalid") is None
    assert page.locator("[data-old]").count() == 0


def test_a_price_that_looks_like_cents_is_asked_about_and_one_press_answers(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    cost = 'output[data-key="energy.cost_per_year"]'
    fill(page, "energy.tariff", "17 ¢")
    reach(page, cost)
    cheap = page.locator(cost).first.inner_text()
    for button, text in (("17 cents", "0.17"), ("Really $17.00", "17 $ confirmed")):
        fill(page, "energy.tariff", "17")
        assert "do you mean 17 cents?" in page.inner_text("#fault-energy-tariff")
        page.get_by_role("button", name=button).click()
        settle(page)
        assert page.input_value('[name="energy.tariff"]') == text
        assert page.inner_text("#fault-energy-tariff") == ""
        if text == "0.17":
            assert page.locator(cost).first.inner_text() == cheap
    assert page.locator(cost).first.inner_text() != cheap


BAD_LENGTHS = ["", "abc", "-4", "0", "1e99", "NaN", "inf", "5 gal", "<b>x</b>", "9" * 400]


def test_bad_input_keeps_the_page_whole(open_page, address):
    watched = open_page(f"{address}/plan/index.html")
    page = watched.page
    for text in BAD_LENGTHS:
        fill(page, "bath.length", text)
        until(page, "document.getElementById('fault-bath-length').textContent.length > 10")
        shown = page.inner_text("body").replace(page.inner_text("#fault-bath-length"), "")
        assert not re.search(r"\bNaN\b|Traceback|undefined|\bNone\b", shown), text
        assert page.input_value('[name="bath.length"]') == text
        assert page.locator("#fault-bath-length b").count() == 0
        fill(page, "bath.length", "50 in")
        assert page.inner_text("#fault-bath-length") == "", text
    assert watched.complaints == []


def test_changing_units_keeps_the_size(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    fill(page, "bath.length", "61")
    before = page.evaluate("""async () => (await raftwright.run({op: 'solve', results: true,
        plan: {'bath.length': '61'}})).results['water.bath_volume'].value""")
    page.locator('[name="units"]').select_option("metric")
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '61 in'")
    settle(page)
    assert " L" in volume(page)
    assert before > 0
    page.locator('[name="units"]').select_option("us")
    settle(page)
    assert page.input_value('[name="bath.length"]') == "61 in"


def test_unasked_questions_hide(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    assert page.locator('[name="bath.diameter"]').is_hidden()
    fill(page, "bath.shape", "round")
    assert page.locator('[name="bath.diameter"]').is_visible()
    assert page.locator('[name="bath.width"]').is_hidden()


def test_questions_about_several_baths_come_with_the_second(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    assert reach(page, '[name="circulation.header_bore"]').is_hidden()
    fill(page, "bath.count", "2")
    assert reach(page, '[name="circulation.header_bore"]').is_visible()
    fill(page, "bath.count", "1")
    assert reach(page, '[name="circulation.header_bore"]').is_hidden()


def test_rows_are_added_and_removed(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    table = reach(page, '[data-table="air.pumps"]')
    rows = table.locator("[data-rows] > [data-row]")
    count = rows.count()
    table.locator('[data-action="add-row"]').click()
    assert rows.count() == count + 1
    page.keyboard.type("Mine")
    settle(page)
    rows.first.locator('[data-action="remove-row"]').click()
    settle(page)
    page.reload()
    assert rows.count() == count
    assert "Mine" in [one.input_value() for one in rows.locator('input[name$=".name"]').all()]


def test_open_folds_and_focus_stay(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    # The rows come once their fold is open.
    reach(page, 'details[data-keep="figures-tank"] > summary')
    working = reach(page, 'details[data-keep="w-water.working_volume"] summary').locator("..")
    field = page.locator('[name="bath.length"]')
    field.focus()
    field.fill("62 in")
    settle(page)
    assert working.get_attribute("open") is not None
    assert page.evaluate("document.activeElement.name") == "bath.length"


def test_keyboard_only(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    before = volume(page)

    def tab_until(expression: str, most: int) -> None:
        for _ in range(most):
            page.keyboard.press("Tab")
            if page.evaluate(expression):
                return
        raise AssertionError(f"not within {most} steps: {expression}")

    tab_until("document.activeElement.closest('.deciding') !== null", 12)
    tab_until("document.activeElement.name === 'bath.length'", 3)
    page.keyboard.press("Control+A")
    page.keyboard.type("70 in")
    page.keyboard.press("Tab")
    settle(page)
    assert volume(page) != before
    page.keyboard.press("Escape")
    tab_until("document.activeElement.hash === '#step=raft'", 40)
    page.keyboard.press("Enter")
    until(page, "document.activeElement.id === 'title-raft'")
    assert page.title().startswith("2 Raft")


def close(left, right) -> bool:
    """Equal, with numbers equal to 1e-9."""
    if isinstance(left, bool) or isinstance(right, bool) or left is None or right is None:
        return left == right
    if isinstance(left, (int, float)) and isinstance(right, (int, float)):
        return math.isclose(left, right, rel_tol=1e-9, abs_tol=1e-12)
    if isinstance(left, dict) and isinstance(right, dict):
        return left.keys() == right.keys() and all(close(left[key], right[key]) for key in left)
    if isinstance(left, list) and isinstance(right, list):
        return len(left) == len(right) and all(map(close, left, right))
    return left == right


PLANS = [
    {},
    {"bath.shape": "tapered box", "bath.length": "60 in", "bath.base_length": "54 in"},
    {"bath.shape": "round", "bath.diameter": "36 in", "units": "us"},
    {"units": "metric", "bath.length": "1.83 m", "bath.water_depth": "22"},
    {"air.rule": "28 per hour", "bath.length": "-1"},
]


def test_same_numbers_as_here(open_page, address):
    from calc import api
    page = open_page(f"{address}/plan/index.html").page
    for plan in PLANS:
        question = {"op": "solve", "plan": plan, "results": True}
        here = json.loads(api.run(json.dumps(question)))
        there = page.evaluate("(question) => raftwright.run(question)", question)
        assert here["results"], "nothing was worked out"
        wrong = [key for key in here["results"] if not close(here["results"][key], there["results"].get(key))]
        assert wrong == []
        assert there["faults"] == here["faults"]
        assert there["link"] == here["link"]


def test_what_is_of_one_day_is_answered_and_kept_nowhere(open_page, address):
    watched = open_page(f"{address}/plan/index.html")
    page = watched.page
    fill(page, "bath.length", "60 in")
    # Ready bottles leave the phosphate unknown, and with it the acid: there a jug test is asked for, and no dose given.
    fill(page, "feed.way", "salts")
    fill(page, "today.ph", "6.9")
    fill(page, "today.volume", "60 gal")
    until(page, """() => document.querySelector('output[data-key="today.first_pour"]')""")
    assert "mL" in reach(page, 'output[data-key="today.first_pour"]').first.inner_text()
    kept = page.evaluate("() => JSON.stringify({...localStorage})")
    assert "60 in" in kept and "today" not in kept
    assert "today" not in page.evaluate("() => JSON.stringify({...localStorage})")
    page.reload()
    page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    assert page.locator('[name="bath.length"]').input_value() == "60 in"
    assert page.locator('[name="today.ph"]').input_value() == ""
    assert watched.complaints == []
