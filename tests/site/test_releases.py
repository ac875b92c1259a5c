"""The site without a line, and a new release: stored whole or not at all, taken up by all tabs at once."""

from __future__ import annotations

import json

import pytest

from tests.site.hands import fill
from tests.site.waiting import until

pytestmark = pytest.mark.browser


def test_offline_after_the_first_visit(open_page, offline, address):
    page = open_page(f"{address}/guides/air/index.html", context=offline).page
    page.goto(f"{address}/checked/index.html")
    assert page.locator("h1").count() == 1
    page.close()


def controlled(page) -> None:
    """Wait until the service worker has stored a whole release and serves this page."""
    until(page, "navigator.serviceWorker.controller !== null")


def test_a_new_release_waits_for_the_reader_and_switches_all_tabs(open_page, browser, served_copy):
    folder, where = served_copy
    release = json.loads((folder / "release.json").read_text(encoding="utf-8"))["release"]
    context = browser.new_context(service_workers="allow")
    first = open_page(f"{where}/plan/index.html", context=context).page
    controlled(first)
    second = open_page(f"{where}/guides/air/index.html", context=context).page
    worker = folder / "sw.js"
    worker.write_text(worker.read_text(encoding="utf-8").replace(release, "feedfacecafe"), encoding="utf-8")
    fill(first, "bath.length", "68 in")
    first.evaluate("() => navigator.serviceWorker.getRegistration().then((one) => one.update()).then(() => undefined)")
    first.wait_for_selector("#release-status button", timeout=120_000)
    assert "new version is ready" in first.inner_text("#release-status")
    assert first.evaluate("caches.keys()") == [f"raftwright-{release}", "raftwright-feedfacecafe"]
    for page in (first, second):
        page.evaluate("() => { window.before = true; }")
    with first.expect_event("load"), second.expect_event("load"):
        first.click("#release-status button")
    for page in (first, second):
        page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
        assert page.evaluate("window.before === undefined"), "a tab went on with the old release"
    assert first.evaluate("caches.keys()") == ["raftwright-feedfacecafe"]
    assert first.input_value('[name="bath.length"]') == "68 in"
    context.close()


def test_half_a_release_is_never_kept(open_page, browser, served_copy):
    folder, where = served_copy
    (folder / "safety" / "index.html").unlink()
    context = browser.new_context(service_workers="allow")
    page = open_page(f"{where}/guides/index.html", context=context, ready=False).page
    until(page, "document.getElementById('release-status')?.textContent.includes('not stored')")
    assert page.evaluate("caches.keys()") == []
    assert page.evaluate("navigator.serviceWorker.controller") is None
    context.close()
