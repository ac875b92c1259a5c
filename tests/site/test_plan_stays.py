"""A plan stays with its reader: reloaded, carried to a guide, sent as a link or a file, kept where storage lets it."""

from __future__ import annotations

import json
import re

import pytest

from calc import history
from calc.data.versions import VERSION
from tests.site.hands import choose, fill, press, settle, told, volume
from tests.site.waiting import until

pytestmark = pytest.mark.browser


def test_reload_keeps_the_plan(open_page, base):
    page = open_page(f"{base}/plan/index.html", own=True).page
    fill(page, "bath.length", "61 in")
    seen = volume(page)
    page.reload()
    assert page.input_value('[name="bath.length"]') == "61 in"
    page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    settle(page)
    assert volume(page) == seen


def test_a_plan_kept_by_another_version_is_carried_over(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    typed = {"bath.length": "61 in", "air.pumps.9.name": "Mine", "units": "metric"}

    def kept_as(version):
        # From another page: the planner itself still keeps what it shows, a moment after its last answer.
        page.goto(f"{address}/offline.html")
        page.evaluate("(text) => localStorage.setItem('raftwright.plan', text)",
                      json.dumps({"version": version, "plan": typed}))
        page.goto(f"{address}/plan/index.html")
        assert page.input_value('[name="bath.length"]') == "61 in"
        page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
        settle(page)
        return json.loads(page.evaluate("localStorage.getItem('raftwright.plan')"))
    assert kept_as(1) == {"version": VERSION, "plan": history.as_today(typed, 1)}
    assert kept_as(None) == {"version": VERSION, "plan": history.as_today(typed, 1)}
    assert kept_as(99) == {"version": VERSION, "plan": typed}
    assert "newer version" in told(page)
    assert json.loads(page.evaluate("localStorage.getItem('raftwright.plan.99')")) == {"version": 99, "plan": typed}


def test_start_again_forgets(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    default = page.input_value('[name="bath.length"]')
    seen = volume(page)
    fill(page, "bath.length", "61 in")
    press(page, "reset")
    settle(page)
    assert page.input_value('[name="bath.length"]') == default
    assert volume(page) == seen
    assert page.evaluate("localStorage.length") == 0


def test_guides_share_the_plan(open_page, address, dist):
    first = open_page(f"{address}/plan/index.html")
    fill(first.page, "bath.length", "61 in")
    first.page.goto(f"{address}/guides/measure-the-water/index.html")
    assert first.page.input_value('[name="bath.length"]') == "61 in"
    first.page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    settle(first.page)
    first.page.goto(f"{address}/plan/index.html")
    assert first.page.input_value('[name="bath.length"]') == "61 in"
    assert first.complaints == []


def shared(page) -> str:
    """The link that the page offers."""
    page.evaluate("navigator.clipboard.writeText = (text) => { window.copied = text; return Promise.resolve(); }")
    press(page, "copy-link")
    until(page, "window.copied")
    return page.evaluate("window.copied")


def test_share_a_link(open_page, address, dist):
    page = open_page(f"{address}/plan/index.html").page
    fill(page, "bath.length", "61 in")
    link = shared(page)
    assert link.startswith(f"{address}/plan/index.html#plan=")
    other = open_page(link).page
    settle(other)
    assert other.input_value('[name="bath.length"]') == "61 in"
    assert volume(other) == volume(page)
    assert "#" not in other.url
    from_disk = open_page(link.replace(address, dist.as_uri())).page
    settle(from_disk)
    assert from_disk.input_value('[name="bath.length"]') == "61 in"


def test_nothing_is_settled_while_a_link_is_still_being_read(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    fill(page, "bath.length", "61 in")
    link = shared(page)
    late = open_page(f"{address}/plan/index.html", ready=False).page
    held = []
    late.route("**/defaults*.js", lambda route: held.append(route))
    late.goto("about:blank")
    late.goto(link, wait_until="commit")
    until(late, "() => document.documentElement.dataset.engine === 'ready'")
    # Time for Python to have been asked about the example, and to have answered in all its pieces.
    late.evaluate("async () => { for (let i = 0; i < 60; i += 1) "
                  "await raftwright.run({op: 'link_read', fragment: ''}); }")
    assert len(held) == 1 and late.locator("form[data-plan][data-settled]").count() == 0
    held[0].continue_()
    settle(late)
    assert late.input_value('[name="bath.length"]') == "61 in"
    late.unroute("**/defaults*.js")


def test_a_link_wins_over_the_saved_plan_once(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    fill(page, "bath.length", "61 in")
    page.goto("about:blank")
    page.goto(f"{address}/plan/index.html#start=1&bath.length=55+in")
    page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    choose(page, "replace")
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '55 in'")
    fill(page, "bath.length", "56 in")
    page.reload()
    assert page.input_value('[name="bath.length"]') == "56 in"


BROKEN_LINKS = [
    ("#plan=1&bath.length=55+in&bath.wid", "lost its end"),
    ("#plan=99&bath.length=55+in&end=000000", "newer version"),
    ("#plan=1&<script>window.hit=1</script>=x", "not a question here"),
    ("#plan=1&bath.length=" + "9" * 1_000_000, "longer than"),
]


def test_broken_links_are_told_and_harmless(open_page, address):
    watched = open_page(f"{address}/plan/index.html")
    for fragment, words in BROKEN_LINKS:
        watched.page.evaluate("(fragment) => { location.hash = fragment; }", fragment)
        until(watched.page, """(words) => document.querySelector('dialog[open]')
            || [...document.querySelectorAll('#action-status, [data-notice]')]
            .some((one) => one.textContent.includes(words))""", words)
        if watched.page.locator("dialog[open]").count():
            choose(watched.page, "replace")
        until(watched.page, """(words) => [...document.querySelectorAll('#action-status, [data-notice]')]
            .some((one) => one.textContent.includes(words))""", words)
        assert watched.page.evaluate("window.hit") is None
        assert re.search(r"\d", volume(watched.page))
    assert watched.complaints == []


def test_files_go_out_and_come_back(open_page, address, tmp_path):
    page = open_page(f"{address}/plan/index.html").page
    fill(page, "bath.length", "63 in")
    with page.expect_download() as waiting:
        press(page, "save-file")
    file = tmp_path / "plan.json"
    waiting.value.save_as(file)
    assert json.loads(file.read_text(encoding="utf-8"))["plan"]["bath.length"] == "63 in"
    with page.expect_download() as waiting:
        press(page, "csv")
    waiting.value.save_as(tmp_path / "plan.csv")
    assert "63 in" in (tmp_path / "plan.csv").read_text(encoding="utf-8")
    press(page, "reset")
    with page.expect_file_chooser() as chooser:
        press(page, "open-file")
    chooser.value.set_files(file)
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '63 in'")
    bad = tmp_path / "bad.json"
    bad.write_text("not a plan", encoding="utf-8")
    with page.expect_file_chooser() as chooser:
        press(page, "open-file")
    chooser.value.set_files(bad)
    until(page, "document.getElementById('action-status').textContent.includes('not a plan')")
    assert page.input_value('[name="bath.length"]') == "63 in"


# The database is forbidden as well: either of the two keeps a plan.
NO_DATABASE = """Object.defineProperty(window, "indexedDB", {get() { return undefined; }});"""
FORBID_STORAGE = NO_DATABASE + """Object.defineProperty(window, "localStorage",
    {get() { throw new DOMException("no", "SecurityError"); }});"""
FULL_STORAGE = NO_DATABASE + """
    Storage.prototype.setItem = () => { throw new DOMException("full", "QuotaExceededError"); };"""


@pytest.mark.parametrize(("script", "words"), [(FORBID_STORAGE, "does not let the page save"),
                                               (FULL_STORAGE, "storage is full")])
def test_storage_forbidden_or_full(open_page, address, script, words):
    watched = open_page(f"{address}/plan/index.html", script=script)
    before = volume(watched.page)
    fill(watched.page, "bath.length", "64 in")
    assert volume(watched.page) != before
    until(watched.page, "(words) => document.getElementById('action-status').textContent.includes(words)", words)
    assert watched.complaints == []
