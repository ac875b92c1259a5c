"""Copies of the log: a logger's file named once, and the reminder to save where the browser promised nothing."""

from __future__ import annotations

import json
from datetime import datetime, timedelta

import pytest

from .test_log import count, keep, opened, stored
from .waiting import until

pytestmark = pytest.mark.browser

# A browser that says no when it is asked to keep a page's storage for good.
REFUSES = """Object.defineProperty(navigator.storage, "persist", {value: async () => false});
Object.defineProperty(navigator.storage, "persisted", {value: async () => false});"""
# A browser whose room ends with what is kept beside the entries.
NO_ROOM_BESIDE = """for (const [kind, name] of [[IDBObjectStore, "put"], [Storage, "setItem"]]) {
    const before = kind.prototype[name];
    kind.prototype[name] = function (...given) {
        if (this.name === "kept" || String(given[0]).includes(".kept.")) throw new DOMException("full",
            "QuotaExceededError");
        return before.apply(this, given);
    };
}"""
PUT = """(entries) => new Promise((resolve) => {
    indexedDB.open("raftwright-log").onsuccess = ({target}) => {
        const writing = target.result.transaction("entries", "readwrite");
        for (const one of entries) writing.objectStore("entries").put(one);
        writing.oncomplete = () => { target.result.close(); resolve(); };
    };
})"""
LOGGER = "moment;probe 1;probe 2;battery\r\n{day} 07:12;21,4;655;98\r\n{day} 19:12;22,9;660;97\r\n"


def name_column(page, head: str, meaning: str) -> None:
    """Say what a column of the file is, and wait until the file was read again."""
    label = page.locator("#coming details label", has_text=head)
    label.locator("select").select_option(meaning)
    until(page, """([head, meaning]) => [...document.querySelectorAll("#coming details label")].some((one) =>
        one.querySelector("span").textContent === head && one.querySelector("select").value === meaning)""",
          [head, meaning])


def test_columns_of_an_unknown_logger_are_named_once(open_page, address, tmp_path):
    page = opened(open_page, address)
    first, second = tmp_path / "first.csv", tmp_path / "second.csv"
    first.write_bytes(LOGGER.format(day="2026-11-20").encode("utf-8-sig"))
    second.write_bytes(LOGGER.format(day="2026-11-21").encode("cp1252"))
    page.set_input_files('[data-action="import"]', first)
    until(page, "document.getElementById('coming').textContent.includes('No column of this file is a date')")
    assert page.locator('[data-action="import-keep"]').count() == 0
    assert page.locator("#coming details[open]").count() == 1, "what is to be answered is in sight"
    for head, meaning in (("moment", "time"), ("probe 1", "temperature:C"), ("probe 2", "ec:ppm500")):
        name_column(page, head, meaning)
    until(page, "document.getElementById('coming').textContent.includes('2 new')")
    page.click('[data-action="import-keep"]')
    until(page, "document.querySelectorAll('[data-reading]').length === 2")
    page.reload()
    until(page, "document.documentElement.dataset.drawn === '2'")
    page.set_input_files('[data-action="import"]', second)
    until(page, "document.getElementById('coming').textContent.includes('2 new')")
    assert page.locator("#coming [data-question]").count() == 0
    assert page.eval_on_selector_all("#coming details select", "(all) => all.map((one) => one.value)") == [
        "time", "temperature:C", "ec:ppm500", "skip"]
    page.click('[data-action="import-keep"]')
    until(page, "document.querySelectorAll('[data-reading]').length === 4")
    kept = stored(page)
    assert [one["at"] for one in kept] == ["2026-11-20T07:12", "2026-11-20T19:12", "2026-11-21T07:12",
                                           "2026-11-21T19:12"]
    assert all(one["units"] == {"temperature": "C", "ec": "ppm500"} for one in kept)
    assert [one["typed"]["temperature"] for one in kept] == ["21.4", "22.9"] * 2


def test_where_there_is_no_room_for_the_names_of_columns_no_entry_is_added_either(open_page, address, tmp_path):
    page = opened(open_page, address, script=NO_ROOM_BESIDE)
    file = tmp_path / "first.csv"
    file.write_text(LOGGER.format(day="2026-11-20"), encoding="utf-8")
    page.set_input_files('[data-action="import"]', file)
    until(page, "document.querySelectorAll('#coming details label').length > 0")
    for head, meaning in (("moment", "time"), ("probe 1", "temperature:C")):
        name_column(page, head, meaning)
    until(page, "document.getElementById('coming').textContent.includes('2 new')")
    page.click('[data-action="import-keep"]')
    until(page, "document.getElementById('action-status').textContent.includes('nothing was added')")
    assert stored(page) == [] and page.locator('[data-action="import-keep"]').is_visible()


def test_names_of_columns_go_into_the_file_of_everything_and_come_back(open_page, address, tmp_path):
    page = opened(open_page, address)
    whole = {"format": "raftwright-everything", "version": 1, "plans": [], "baths": [], "aside": [],
             "mappings": {"moment|probe 1": {"moment": "time", "probe 1": "ph"}},
             "entries": [{"id": "a", "kind": "reading", "at": "2026-11-20T07:12", "typed": {"ph": "5.9"}}]}
    file, probe = tmp_path / "all.json", tmp_path / "probe.csv"
    file.write_text(json.dumps(whole), encoding="utf-8")
    probe.write_text("moment,probe 1\n2026-11-21 07:12,6.1\n", encoding="utf-8")
    page.set_input_files('[data-action="import"]', file)
    page.click('[data-action="import-keep"]')
    until(page, "document.querySelectorAll('[data-reading]').length === 1")
    until(page, "document.getElementById('coming').hidden")
    page.set_input_files('[data-action="import"]', probe)
    until(page, "document.getElementById('coming').textContent.includes('1 new')")
    page.click('[data-action="import-keep"]')
    until(page, "document.querySelectorAll('[data-reading]').length === 2")
    assert [one["typed"]["ph"] for one in stored(page)] == ["5.9", "6.1"]


def test_lines_of_a_newer_version_in_a_csv_are_set_aside_and_saved_again(open_page, address, tmp_path):
    page = opened(open_page, address)
    keep(page, ph="5.9")
    with page.expect_download() as got:
        page.click('.copies [data-action="export-csv"]')
    text = got.value.path().read_text(encoding="utf-8-sig")
    line = text.splitlines()[1]
    file = tmp_path / "newer.csv"
    file.write_text(text + line.replace("reading,", "photographed,", 1).replace("5.9", "6.6") + "\r\n"
                    + line.replace("5.9", "6.2").replace(stored(page)[0]["id"], "another") + "\r\n", encoding="utf-8")
    page.set_input_files('[data-action="import"]', file)
    until(page, "document.getElementById('coming').textContent.includes('1 not understood')")
    page.click('[data-action="import-keep"]')
    until(page, "document.querySelectorAll('[data-reading]').length === 2")
    until(page, "document.getElementById('coming').hidden")
    with page.expect_download() as got:
        page.click('.copies [data-action="export-all"]')
    (aside,) = json.loads(got.value.path().read_text(encoding="utf-8"))["aside"]
    assert aside["kind"] == "photographed" and aside["ph"] == "6.6"


def test_a_browser_that_refuses_is_reminded_of_a_copy_after_fourteen_days(open_page, address):
    page = opened(open_page, address, script=REFUSES)
    keep(page, ph="5.9")
    until(page, "document.querySelector('[data-state-of=persist]') !== null")
    assert "erase it when space runs short" in page.inner_text("[data-state-of=persist]")
    page.locator("[data-state-of=persist] button", has_text="Ask the browser").click()
    until(page, "document.getElementById('action-status').textContent.startsWith('The browser did not agree')")
    (entry,) = stored(page)

    def kept_days_ago(days):
        then = (datetime.now() - timedelta(days=days, hours=1)).isoformat(timespec="milliseconds") + "Z"
        page.evaluate(PUT, [{**entry, "changed": then}])
        page.reload()
        until(page, "document.documentElement.dataset.log === 'ready'")

    kept_days_ago(13)
    assert page.locator("[data-state-of=copy], [data-state-of=persist]").count() == 0, "asked once, and too early"
    kept_days_ago(14)
    assert "14 days of readings, and no copy of them" in page.inner_text("[data-state-of=copy]")
    with page.expect_download() as got:
        page.locator("[data-state-of=copy] button.main").click()
    assert [one["id"] for one in json.loads(got.value.path().read_text(encoding="utf-8"))["entries"]] == [entry["id"]]
    page.reload()
    until(page, "document.documentElement.dataset.log === 'ready'")
    assert page.locator("[data-state-of=copy]").count() == 0 and count(page) == 1
    page.evaluate("(then) => localStorage.setItem('raftwright.run.copy', then)",
                  (datetime.now() - timedelta(days=15, hours=1)).isoformat())
    page.reload()
    until(page, "document.documentElement.dataset.log === 'ready'")
    assert "Your last copy is 15 days old" in page.inner_text("[data-state-of=copy]")
