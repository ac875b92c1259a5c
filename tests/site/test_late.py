"""A running bath on a slow machine: what Python says late of an earlier log takes the place of nothing newer."""

from __future__ import annotations

import pytest

from tests.site.test_log import clock, count, keep, opened
from tests.site.waiting import until

pytestmark = pytest.mark.browser

# A worker whose answers to questions of a kind are heard one by one, each when it is let through.
LATE = """(() => {
  const send = Worker.prototype.postMessage;
  const { set } = Object.getOwnPropertyDescriptor(Worker.prototype, "onmessage");
  const asked = new Set();
  const late = [];
  let kind = "";
  Worker.prototype.postMessage = function (message, ...more) {
    if (kind && message.type === "run" && JSON.parse(message.text).op === kind) asked.add(message.id);
    send.call(this, message, ...more);
  };
  Object.defineProperty(Worker.prototype, "onmessage", { set(hear) {
    set.call(this, (event) => (asked.has(event.data.id) ? late.push(() => hear(event)) : hear(event)));
  } });
  window.delay = (op) => { kind = op; };
  // From here on nothing is late, not even what was asked before.
  window.hearAll = () => {
    kind = "";
    asked.clear();
    for (const one of late.splice(0)) one();
  };
  window.late = () => late.length;
  window.hear = () => late.shift()();
})();"""


def said(page) -> str:
    """What the line of the page says."""
    return page.inner_text("#action-status")


def test_what_python_says_of_an_earlier_log_is_not_drawn_over_a_newer_one(open_page, address):
    page = opened(open_page, address, script=LATE)
    keep(page, ph="5.9")
    until(page, "document.documentElement.dataset.drawn === '1'")
    page.evaluate("delay('log_pictures')")
    keep(page, ph="6.0")
    until(page, "late() === 1")
    keep(page, ph="6.1")
    page.evaluate("hear()")
    # Its answer is of two readings; the page asks once more, and shows what it has until that comes.
    until(page, "late() === 1")
    assert count(page) == 3 and page.get_attribute("html", "data-drawn") == "1"
    page.evaluate("hearAll()")
    until(page, "document.documentElement.dataset.drawn === '3'")
    assert count(page) == 3


def test_a_late_verdict_of_what_was_kept_stands_in_for_nothing_newer(open_page, address):
    page = opened(open_page, address, script=LATE)
    keep(page, ph="5.9")
    until(page, "document.documentElement.dataset.drawn === '1'")
    page.evaluate("delay('today')")
    keep(page, ph="6.0")
    until(page, "late() > 0")
    assert said(page) == "Kept: 1 value."
    with page.expect_download():
        page.click('.copies [data-action="export-all"]')
    until(page, "document.getElementById('action-status').textContent.startsWith('Everything is in the file')")
    page.evaluate("hearAll()")
    until(page, "document.documentElement.dataset.drawn === '2'")
    assert said(page).startswith("Everything is in the file")


def test_a_late_verdict_of_what_was_kept_comes_into_its_line(open_page, address):
    page = opened(open_page, address, script=LATE)
    page.evaluate("delay('today')")
    keep(page, ph="9.4")
    until(page, "late() > 0")
    asks = "May this browser keep your log?"
    until(page, "(asks) => document.getElementById('action-status').textContent.endsWith(asks)", asks)
    assert said(page) == f"Kept: 1 value. {asks}"
    page.evaluate("hearAll()")
    until(page, "document.documentElement.dataset.drawn === '1'")
    assert said(page).startswith("Kept: 1 value. ") and said(page).endswith(f". {asks}")
    assert len(said(page)) > len(f"Kept: 1 value. {asks}"), "the verdict is not in it"


def test_an_older_reading_is_not_answered_with_the_call_for_a_new_one(open_page, address):
    page = opened(open_page, address, script=LATE)
    page.evaluate("delay('today')")
    keep(page, time="2024-05-03T08:00", ph="5.9")
    until(page, "late() > 0")
    page.evaluate("hearAll()")
    until(page, "document.documentElement.dataset.drawn === '1'")
    assert said(page).startswith("Kept: 1 value.") and "answer" not in said(page)


def test_today_shows_nothing_of_an_earlier_log(open_page, address):
    noon = clock("2026-11-25T12:00")
    log = opened(open_page, address, script=noon)
    keep(log, time="2026-11-25T07:12", ph="5.9")
    page = opened(open_page, address, "today", script=noon + LATE)
    until(page, "document.documentElement.dataset.drawn === '1'")
    before = page.inner_text('[data-region="verdict"]')
    page.evaluate("delay('today')")
    # Another tab keeps a reading that is far off, and soon one that is not.
    keep(log, time="2026-11-25T08:12", ph="9.4")
    until(page, "late() === 1")
    keep(log, time="2026-11-25T09:12", ph="5.9")
    until(page, "document.querySelector('[data-says=count]').textContent === '3 readings'")
    page.evaluate("hear()")
    until(page, "late() === 1")
    assert page.inner_text('[data-region="verdict"]') == before
    page.evaluate("hearAll()")
    until(page, "document.documentElement.dataset.drawn === '3'")
