"""The rounds: complete before any script, ticked and kept, written to the log where they are events, and a calendar."""

from __future__ import annotations

import re

import icalendar
import pytest

from tests.site.access import AXE_COLOURS, AXE_RULES, WITHOUT_PYTHON, checker
from tests.site.test_log import clock, opened, stored
from tests.site.waiting import until

pytestmark = pytest.mark.browser

CODES = ["start", "daily", "weekly", "change", "between", "holiday", "heat", "power", "winter"]


def unfold(page) -> None:
    """Open every list."""
    page.evaluate("for (const one of document.querySelectorAll('[data-round]')) one.open = true")


def line(code: str, words: str) -> str:
    """The tick of a line of a list."""
    key = re.sub(r"[^a-z]+", "-", words.lower()).strip("-")
    return f'[data-round="{code}"] [data-item="{key}"] input'


def test_every_list_stands_there_before_any_script(dist):
    text = (dist / "routine/index.html").read_text(encoding="utf-8")
    assert re.findall(r'data-round="([a-z]+)"', text) == CODES
    # The invented bath holds 65.9 gal; 4 mL of bleach a liter are 40 mL in a bucket of 10 L.
    assert "65.9 gal" in text and "40 mL" in text and "the gases can kill" in text
    assert 'href="../routine/index.html"' in (dist / "today/index.html").read_text(encoding="utf-8")


def test_a_tick_is_kept_and_an_event_goes_into_the_log_and_both_can_be_taken_back(open_page, address):
    page = opened(open_page, address, "routine", script=clock("2026-11-25T08:00"))
    page.click('.bath-bar .menu summary')
    page.click('.bath-bar [data-action="erase-invented"]')
    until(page, "document.documentElement.dataset.drawn === '0'", seconds=60)
    unfold(page)
    page.check(line("weekly", "Take out dead leaves and what fell in"))
    until(page, "document.getElementById('action-status').textContent === 'Ticked.'")
    assert stored(page) == []
    page.check(line("weekly", "Clean the overflow strainer"))
    until(page, "document.getElementById('action-status').textContent.startsWith('Written to the log')")
    (entry,) = stored(page)
    assert (entry["kind"], entry["typed"], entry["at"]) == (
        "cleaned", {"what": "strainer", "code": "strainer"}, "2026-11-25T08:00")
    page.reload()
    until(page, "document.querySelectorAll('[data-round=weekly] input:checked').length === 2")
    unfold(page)
    page.check(line("daily", "Every stone bubbles"))
    until(page, "document.querySelector('[data-round=daily] [data-ticked]:not(:empty)') !== null")
    page.uncheck(line("weekly", "Clean the overflow strainer"))
    until(page, "document.getElementById('action-status').textContent.includes('out of the log')")
    assert stored(page) == []
    page.click('[data-begin-again="weekly"]')
    until(page, "document.querySelectorAll('[data-round=weekly] input:checked').length === 0")
    # What is ticked each day is open again the next morning.
    page.add_init_script(clock("2026-11-26T07:00"))
    page.reload()
    until(page, "document.documentElement.dataset.log === 'ready'")
    until(page, "document.querySelectorAll('[data-round=daily] input:checked').length === 0")


def test_a_tick_that_would_be_logged_waits_for_the_calculator(open_page, address):
    page = opened(open_page, address, "routine", ready=False, script="delete window.WebAssembly;")
    tick = line("weekly", "Clean the overflow strainer")
    unfold(page)
    page.click(tick)
    until(page, "document.getElementById('action-status').textContent.includes('still starting')")
    assert not page.is_checked(tick) and stored(page) == []
    page.check(line("weekly", "Take out dead leaves and what fell in"))
    until(page, "document.getElementById('action-status').textContent === 'Ticked.'")
    page.reload()
    until(page, "document.querySelectorAll('[data-round=weekly] input:checked').length === 1")


def test_the_reminders_are_saved_for_a_calendar(open_page, address):
    page = opened(open_page, address, "routine")
    with page.expect_download() as got:
        page.click('.sheet [data-action="save-calendar"]')
    assert got.value.suggested_filename.endswith(".ics")
    parsed = icalendar.Calendar.from_ical(got.value.path().read_bytes())
    events = {str(one["UID"]).rpartition("-")[0]: one for one in parsed.walk("VEVENT")}
    assert events["strainer"]["RRULE"]["INTERVAL"] == [7] and events["change"]["RRULE"]["INTERVAL"] == [56]


def test_one_list_alone_is_printed(open_page, address):
    page = opened(open_page, address, "routine", ready=False)
    page.evaluate("window.print = () => { window.printed = true; }")
    page.click('#round-holiday summary')
    page.click('[data-print-round="holiday"]')
    until(page, "window.printed")
    page.emulate_media(media="print")
    shown = page.eval_on_selector_all("[data-round]", "(all) => all.filter((one) => one.offsetHeight).map((one) => "
                                      "one.dataset.round)")
    assert shown == ["holiday"]
    page.emulate_media(media="screen")


def test_folds_of_the_keepers_pages_break_no_rule_of_access_and_fit_a_phone(browser, address):
    rules = checker()
    context = browser.new_context(bypass_csp=True, service_workers="block", viewport={"width": 360, "height": 740})
    page = context.new_page()
    page.add_init_script(WITHOUT_PYTHON)
    broken = []
    for where in ("routine", "today", "log"):
        page.goto(f"{address}/{where}/index.html")
        until(page, "document.documentElement.dataset.log === 'ready'")
        # Every fold open, every form and choice in sight.
        page.evaluate("""() => {
            for (const one of document.querySelectorAll('main details:not(.menu)')) one.open = true;
            for (const one of document.querySelectorAll('[data-which-bath], .of-edit > *')) one.hidden = false;
            document.body.classList.toggle('entering', document.body.classList.contains('page-log'));
        }""")
        assert page.evaluate("document.documentElement.scrollWidth") <= 360, where
        page.evaluate(rules)
        for scheme, what in (("light", AXE_RULES), ("dark", AXE_COLOURS)):
            page.emulate_media(color_scheme=scheme)
            broken += [(where, scheme, rule["id"], rule["nodes"][0]["html"][:160])
                       for rule in page.evaluate(what)["violations"]]
    context.close()
    assert broken == []


def test_a_link_to_a_list_opens_it(open_page, address):
    page = opened(open_page, address, "routine", fragment="#round-winter", script=clock("2026-11-25T08:00"))
    until(page, "document.getElementById('round-winter').open")
    page.evaluate("location.hash = '#round-heat'")
    until(page, "document.getElementById('round-heat').open")


def test_the_guides_that_teach_a_round_lead_to_its_list(dist):
    led = {code for file in (dist / "guides").rglob("*.html")
           for code in re.findall(r"routine/index\.html#round-([a-z]+)", file.read_text(encoding="utf-8"))}
    assert led == set(CODES) - {"winter"}


def test_two_ticks_in_one_breath_are_both_kept(open_page, address):
    page = opened(open_page, address, "routine", script=clock("2026-11-25T08:00"))
    until(page, "document.documentElement.dataset.drawn !== undefined", seconds=120)
    # Each writing puts in what is kept; it leaves alone what waits for its turn.
    page.evaluate("""(boxes) => { for (const one of boxes) document.querySelector(one).click(); }""", [
        line("weekly", "Take out dead leaves and what fell in"), line("weekly", "Wipe rims, covers and tools")])
    until(page, "document.querySelectorAll('[data-round=weekly] [data-ticked]:not(:empty)').length === 2")
    page.reload()
    until(page, "document.querySelectorAll('[data-round=weekly] input:checked').length === 2", seconds=120)
