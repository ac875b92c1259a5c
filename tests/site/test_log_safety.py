"""Nothing typed is ever lost: a browser ended by force, a full disk, newer and damaged data, what older pages kept."""

from __future__ import annotations

import contextlib
import json
import os
import signal
import subprocess
import time
from pathlib import Path

import pytest

from calc import history

from .test_keeping import KEPT as PLANS
from .test_keeping import ORIGINALS
from .test_log import STORED, count, keep, opened, stored
from .waiting import told, until

pytestmark = pytest.mark.browser

FIXTURES = Path(__file__).resolve().parents[1] / "fixtures"
DRAFT = "raftwright.draft."
PUT = """([where, name, records, version]) => new Promise((resolve, reject) => {
  const asked = version ? indexedDB.open(where, version) : indexedDB.open(where);
  asked.onupgradeneeded = () => {
    for (const store of [name].flat()) {
      if (!asked.result.objectStoreNames.contains(store)) asked.result.createObjectStore(store, {keyPath: "id"});
    }
  };
  asked.onerror = () => reject(asked.error);
  asked.onsuccess = () => {
    const stores = [name].flat();
    const writing = asked.result.transaction(stores, "readwrite");
    stores.forEach((store, at) => {
      for (const one of stores.length > 1 ? records[at] : records) writing.objectStore(store).put(one);
    });
    writing.oncomplete = () => { asked.result.close(); resolve(); };
    writing.onerror = () => reject(writing.error);
  };
})"""
# Lets a test choose the moment from which the browser has no room.
FULL_LATER = """window.full = false;
for (const kind of [IDBObjectStore, Storage]) {
    const name = kind === Storage ? "setItem" : "put";
    const before = kind.prototype[name];
    kind.prototype[name] = function (...given) {
        if (window.full) throw new DOMException("full", "QuotaExceededError");
        return before.apply(this, given);
    };
}"""


def lay(page, address: str, database: str = "", small: str = "") -> None:
    """Put what an older page kept where it kept it, from a file that keeps nothing itself."""
    page.goto(f"{address}/release.json")
    if database:
        for name, held in json.loads((FIXTURES / database).read_text(encoding="utf-8")).items():
            stores = held["stores"]
            page.evaluate(PUT, [name, list(stores), list(stores.values()), held["version"]])
    if small:
        found = json.loads((FIXTURES / small).read_text(encoding="utf-8"))
        page.evaluate("(all) => { for (const [key, text] of Object.entries(all)) localStorage.setItem(key, text); }",
                      {key: one if isinstance(one, str) else json.dumps(one) for key, one in found.items()})


def log_of(page, address: str) -> None:
    page.goto(f"{address}/log/index.html")
    page.wait_for_selector("html[data-log]", timeout=120_000)


class Killed:
    """A browser of its own with its own profile, which a test may end as a power cut would."""

    def __init__(self, player, profile: Path):
        from tools import setup
        self.player, self.profile = player, profile
        self.program = os.environ.get("RAFTWRIGHT_CHROMIUM") or setup.chromium()
        self.arguments = ["--no-sandbox"] if setup.is_root() else []
        self.process = None

    def start(self, url: str):
        """Start it, or start it again, and open an address."""
        port = self.profile / "DevToolsActivePort"
        port.unlink(missing_ok=True)
        for left in self.profile.glob("Singleton*"):
            # What a browser that was ended could not take away; the next would take it for a living one.
            left.unlink(missing_ok=True)
        self.process = subprocess.Popen(
            [self.program, "--headless=new", f"--user-data-dir={self.profile}", "--remote-debugging-port=0",
             "--no-first-run", "--disable-breakpad", "--disable-background-networking", *self.arguments, "about:blank"],
            stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True)
        end = time.monotonic() + 120
        while not (port.is_file() and port.read_text().count("\n")):
            assert time.monotonic() < end and self.process.poll() is None, "the browser did not start"
            time.sleep(0.05)
        self.driven = self.player.connect_over_cdp(f"http://127.0.0.1:{port.read_text().splitlines()[0]}")
        page = self.driven.contexts[0].new_page()
        page.set_default_timeout(120_000)
        page.goto(url)
        page.wait_for_selector("html[data-log]")
        return page

    def kill(self) -> None:
        """End all of its processes at once; none can write another byte."""
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()
        with contextlib.suppress(Exception):
            self.driven.close()

    def gone(self) -> None:
        if self.process is not None and self.process.poll() is None:
            self.kill()


@pytest.fixture
def killed(browser, tmp_path):
    found = Killed(browser.browser_type, tmp_path / "profile")
    yield found
    found.gone()


def drafts(page) -> list[str]:
    """The pH of each half-typed reading in the database."""
    return [one["typed"].get("ph") for one in page.evaluate(STORED, "kept") if one["id"].startswith(DRAFT)]


def wait_for_draft(page, ph: str) -> None:
    end = time.monotonic() + 60
    while ph not in drafts(page):
        assert time.monotonic() < end, drafts(page)
        page.wait_for_timeout(20)


def test_a_browser_killed_in_mid_entry_offers_the_reading_again(killed, address):
    where = f"{address}/log/index.html"
    page = killed.start(where)
    keep(page, ph="5.8", ec="1.4")
    until(page, "document.querySelector('[name=\"reading.ph\"]').value === ''")
    page.fill('[name="reading.remark"]', "roots look brown")
    page.fill('[name="reading.ph"]', "6.1")
    wait_for_draft(page, "6.1")
    killed.kill()
    page = killed.start(where)
    assert [one["typed"]["ph"] for one in stored(page)] == ["5.8"], "what was told kept is kept"
    until(page, "document.querySelector('[name=\"reading.ph\"]').value === '6.1'")
    assert page.input_value('[name="reading.remark"]') == "roots look brown"
    keep(page)
    assert sorted(one["typed"]["ph"] for one in stored(page)) == ["5.8", "6.1"]


@pytest.mark.parametrize("wait", [False, True])
def test_a_browser_killed_in_mid_write_has_the_reading_once(killed, address, wait):
    where = f"{address}/log/index.html"
    page = killed.start(where)
    page.fill('[name="reading.ph"]', "6.4")
    wait_for_draft(page, "6.4")
    if wait:
        # Ended between the writing of the reading and the end of its draft.
        page.evaluate("IDBObjectStore.prototype.delete = () => ({})")
        page.evaluate("Storage.prototype.removeItem = () => {}")
        keep(page)
    else:
        page.evaluate("document.querySelector('[data-action=\"add-reading\"]').click()")
    killed.kill()
    page = killed.start(where)
    until(page, "document.documentElement.dataset.log === 'ready'")
    kept = [one["typed"]["ph"] for one in stored(page)]
    if not kept:
        assert not wait
        until(page, "document.querySelector('[name=\"reading.ph\"]').value === '6.4'")
        keep(page)
        kept = [one["typed"]["ph"] for one in stored(page)]
    assert kept == ["6.4"]
    end = time.monotonic() + 60
    while drafts(page):
        assert time.monotonic() < end, "a reading that is kept is not offered again"
        page.wait_for_timeout(20)
    assert page.input_value('[name="reading.ph"]') == ""


def test_what_is_typed_beside_the_rulers_of_today_survives_a_closed_tab(open_page, address):
    page = opened(open_page, address, "today")
    page.wait_for_selector('[name="reading.ph"]')
    page.fill('[name="reading.ph"]', "6.9")
    page.close()
    page = opened(open_page, address, "today")
    until(page, "document.querySelector('[name=\"reading.ph\"]').value === '6.9'")
    until(page, "document.querySelector('[data-verdict=today]').textContent.includes('pH high')")
    page.click('[data-action="add-reading"]')
    until(page, "document.querySelector('[name=\"reading.ph\"]').value === ''")
    page.close()
    page = opened(open_page, address, "today")
    until(page, "document.documentElement.dataset.today === 'own'")
    assert page.input_value('[name="reading.ph"]') == "" and len(stored(page)) == 1


def test_an_event_half_noted_survives_a_closed_tab(open_page, address):
    page = opened(open_page, address, ready=False)
    page.click("details:has(form[data-event-entry]) summary")
    page.select_option('[name="event.kind"]', "harvested")
    page.fill('[name="event.count"]', "6")
    page.fill('[name="event.remark"]', "the outer row")
    page.close()
    page = opened(open_page, address, ready=False)
    until(page, "document.querySelector('[name=\"event.count\"]').value === '6'")
    assert page.input_value('[name="event.kind"]') == "harvested" and page.is_visible('[name="event.remark"]')
    page.click('[data-action="add-event"]')
    until(page, "document.querySelector('[name=\"event.count\"]').value === ''")
    page.reload()
    until(page, "document.documentElement.dataset.log === 'ready'")
    assert page.input_value('[name="event.count"]') == ""
    (entry,) = stored(page)
    assert entry["kind"] == "harvested" and entry["typed"]["remark"] == "the outer row"


def test_one_reading_changed_in_two_tabs_keeps_both_wordings(open_page, address):
    one = opened(open_page, address, ready=False)
    keep(one, ph="5.8")
    two = opened(open_page, address, ready=False)
    until(two, "document.querySelectorAll('[data-reading]').length === 1")
    for page in (one, two):
        page.click("[data-edit]")
    one.fill('[name="reading.ph"]', "5.9")
    two.fill('[name="reading.ph"]', "6.2")
    one.click('[data-action="add-reading"]')
    until(one, "document.querySelector('[name=\"reading.ph\"]').value === ''")
    until(two, "document.querySelector('[data-reading]').textContent.includes('5.9')")
    assert two.input_value('[name="reading.ph"]') == "6.2", "what is being typed is left alone"
    two.click('[data-action="add-reading"]')
    until(one, "document.querySelector('[data-reading]').textContent.includes('6.2')")
    (entry,) = stored(one)
    assert entry["typed"]["ph"] == "6.2" and [old["typed"]["ph"] for old in entry["before"]] == ["5.8", "5.9"]


def test_a_disk_that_fills_up_says_so_and_takes_the_reading_once_there_is_room(open_page, address):
    page = opened(open_page, address, ready=False, script=FULL_LATER)
    keep(page, ph="5.8")
    page.evaluate("window.full = true")
    page.fill('[name="reading.ph"]', "6.2")
    page.click('[data-action="add-reading"]')
    until(page, "document.querySelector('[data-state-of=full]') !== null")
    assert "Not kept:" in told(page) and page.input_value('[name="reading.ph"]') == "6.2"
    with page.expect_download() as got:
        page.click('[data-state-of=full] button >> nth=0')
    assert [one["typed"]["ph"] for one in json.loads(got.value.path().read_text())["entries"]] == ["5.8"]
    assert [one["typed"]["ph"] for one in stored(page)] == ["5.8"]
    page.evaluate("window.full = false")
    page.click('[data-action="add-reading"]')
    until(page, "document.querySelectorAll('[data-reading]').length === 2")
    until(page, "document.querySelector('[data-state-of=full]') === null")
    assert [one["typed"]["ph"] for one in stored(page)].count("6.2") == 1


def test_a_file_that_does_not_fit_adds_nothing(open_page, address, tmp_path):
    page = opened(open_page, address, script=FULL_LATER)
    file = tmp_path / "more.csv"
    file.write_text("Date,pH\n2026-10-21,5.9\n2026-10-22,5.8\n", encoding="utf-8")
    page.set_input_files('[data-action="import"]', file)
    page.wait_for_selector('[data-action="import-keep"]')
    page.evaluate("window.full = true")
    page.click('[data-action="import-keep"]')
    until(page, "document.getElementById('action-status').textContent.includes('nothing was added')")
    assert stored(page) == [] and count(page) == 0


def test_a_newer_database_is_read_and_written_as_far_as_it_is_known(open_page, address):
    # In a browser of its own: a database never goes back to an earlier version.
    page = opened(open_page, address, ready=False, fresh=True)
    newer = {"id": "n1", "kind": "reading", "at": "2027-01-01T08:00", "version": 9, "typed": {"ph": {"value": 6}}}
    page.goto(f"{address}/release.json")
    page.evaluate(PUT, ["raftwright-log", ["entries", "kept", "photographs"], [[newer], [], [{"id": "p1"}]], 9])
    log_of(page, address)
    until(page, "document.querySelector('[data-state-of=newer]') !== null")
    keep(page, ph="6.1")
    assert newer in page.evaluate(STORED, "entries") and page.evaluate(STORED, "photographs") == [{"id": "p1"}]
    assert "6.1" in [one["typed"]["ph"] for one in stored(page)]
    assert page.evaluate("indexedDB.databases().then((all) => all.find((one) => one.name === 'raftwright-log').version)"
                         ) == 9
    with page.expect_download() as got:
        page.click('.copies [data-action="export-all"]')
    assert newer in json.loads(got.value.path().read_text(encoding="utf-8"))["aside"]


DAMAGED = [{"id": "d1"}, {"id": "d2", "kind": "reading", "at": 5, "typed": {"ph": "6"}},
           {"id": "d3", "kind": "reading", "at": "2026-01-02T07:00", "typed": "gone"},
           {"id": "d4", "kind": "reading", "at": "2026-01-02T07:00", "version": 1, "typed": {"ph": {"value": 6}}},
           {"id": "d5", "kind": "reading", "at": "2026-13-42T07:00", "typed": {"ph": "6"}}]


def test_damaged_entries_are_set_aside_and_told_and_stay(open_page, address):
    watched = open_page(f"{address}/log/index.html")
    page = watched.page
    page.wait_for_selector("html[data-log]")
    keep(page, ph="5.9")
    page.evaluate(PUT, ["raftwright-log", "entries", DAMAGED, 0])
    page.evaluate("localStorage.setItem('raftwright.log.entries.d6', '{\"id\": \"d6\", \"at\": ')")
    page.evaluate("""localStorage.setItem('raftwright.log.entries.whole', JSON.stringify({id: "whole", version: 1,
        kind: "reading", at: "2026-01-02T07:00", typed: {ph: "6.3"}}))""")
    page.reload()
    until(page, "document.querySelector('[data-state-of=damaged]') !== null")
    assert "6 entries kept here cannot be read" in told(page)
    until(page, "document.querySelectorAll('[data-reading]').length === 2")
    until(page, "document.documentElement.dataset.drawn === '2'")
    with page.expect_download() as got:
        page.click("[data-state-of=damaged] button")
    saved = json.loads(got.value.path().read_text(encoding="utf-8"))
    assert [one["id"] for one in saved] == ["d6", "d1", "d2", "d3", "d4", "d5"]
    assert saved[0]["unread"] == '{"id": "d6", "at": '
    keep(page, ph="6.0")
    left = {one["id"]: one for one in page.evaluate(STORED, "entries")}
    assert all(left[one["id"]] == one for one in DAMAGED)
    assert page.evaluate("localStorage.getItem('raftwright.log.entries.d6')") == '{"id": "d6", "at": '
    assert watched.complaints == []


def test_a_log_of_the_first_entries_is_read(open_page, address):
    page = open_page(f"{address}/release.json", ready=False).page
    lay(page, address, "log_v0/database.json")
    before = page.evaluate(STORED, "entries")
    log_of(page, address)
    until(page, "document.documentElement.dataset.drawn === '3'")
    assert "6.6" in page.inner_text('[data-reading="first-1"]')
    second = page.inner_text('[data-reading="first-2"]')
    assert "70.7" in second and "1.31" in second, "21,5 C and 655 ppm of the scale 500, as the plan measures"
    assert page.locator("[data-state-of=damaged], [data-state-of=newer]").count() == 0
    assert page.evaluate(STORED, "entries") == before, "reading changes nothing"


def test_a_log_of_version_1_is_read_with_all_that_stands_beside_it(open_page, address, tmp_path):
    page = open_page(f"{address}/release.json", ready=False).page
    lay(page, address, "log_v1/database.json")
    before = page.evaluate(STORED, "entries")
    log_of(page, address)
    until(page, "document.documentElement.dataset.drawn === '3'")
    assert "looks well" in page.inner_text('[data-reading="own-1"]')
    assert page.evaluate(STORED, "entries") == before
    with page.expect_download() as got:
        page.click('.copies [data-action="export-all"]')
    whole = json.loads(got.value.path().read_text(encoding="utf-8"))
    assert {one["id"]: one for one in whole["entries"]} == {one["id"]: one for one in before}
    assert whole["mappings"] == {"when|probe a": {"when": "time", "probe a": "temperature:C"}}
    assert whole["aside"] == [{"id": "n1", "version": 9, "typed": {}}]
    file = tmp_path / "probe.csv"
    file.write_text("when,probe a\n2026-11-20 07:00,21.4\n", encoding="utf-8")
    page.set_input_files('[data-action="import"]', file)
    page.wait_for_selector('[data-action="import-keep"]')
    page.click('[data-action="import-keep"]')
    until(page, "document.querySelectorAll('[data-reading]').length === 2")
    assert [one["typed"].get("temperature") for one in stored(page)].count("21.4") == 1


def test_a_log_of_the_small_storage_and_its_draft_are_read(open_page, address):
    page = open_page(f"{address}/release.json", ready=False).page
    lay(page, address, small="log_v1/small.json")
    log_of(page, address)
    until(page, "document.querySelectorAll('[data-reading]').length === 1")
    until(page, "document.querySelector('[name=\"reading.ph\"]').value === '6.4'")
    assert page.input_value('[name="reading.remark"]') == "half"
    keep(page)
    assert [one["typed"]["ph"] for one in stored(page)] == ["6.4"]
    until(page, "document.querySelectorAll('[data-reading]').length === 2")


@pytest.mark.parametrize(("folder", "shown"), [
    ("log", "form[data-entry]"), ("today", "[data-todo]"), ("trouble", '[name="sign"]'), ("sheet", ".leaf"),
    ("list", ".leaf"), ("template", ".leaf"), ("calendar", ".leaf"), ("shelf", "[data-shelf]"),
    ("side-by-side", "main"), ("files", "[data-file]"), ("club", "main")])
def test_every_page_of_the_bath_is_there_without_a_line_and_without_a_slash(offline, address, dist, folder, shown):
    if not (dist / folder / "index.html").is_file():
        pytest.skip(f"there is no page {folder}")
    page = offline.new_page()
    for where in (f"{address}/{folder}", f"{address}/{folder}/", f"{address}/{folder}/index.html"):
        page.goto(where)
        assert page.url in (f"{address}/{folder}/", f"{address}/{folder}/index.html")
        page.wait_for_selector(shown, state="attached")
        until(page, "getComputedStyle(document.body).margin !== ''")
        until(page, "document.styleSheets.length > 0")
    page.close()


def test_a_reading_is_kept_and_answered_without_a_line(offline, address):
    page = offline.new_page()
    page.set_default_timeout(120_000)
    page.goto(f"{address}/log")
    until(page, "document.documentElement.dataset.log === 'ready'")
    keep(page, ph="6.9")
    page.goto(f"{address}/today")
    until(page, "document.documentElement.dataset.today === 'own'", seconds=120)
    assert "pH high" in page.inner_text("[data-verdict=today]")
    page.close()


def test_a_shelf_of_version_1_is_read(open_page, address):
    page = open_page(f"{address}/release.json", ready=False).page
    lay(page, address, "shelf_v1/database.json")
    page.goto(f"{address}/shelf/index.html")
    until(page, "document.querySelectorAll('.plan-row[data-id]').length === 2")
    names = page.evaluate("[...document.querySelectorAll('.plan-row[data-id]')].map((one) => one.textContent).join()")
    assert "Of the first version" in names and "Of the second version" in names and "by the door" in names
    kept = {one["id"]: one for one in page.evaluate(PLANS)}
    assert kept["next-plan"]["plan"] == {"bath.length": "53 in"} and kept["next-plan"]["copyOf"] == "old-plan"
    assert kept["old-plan"]["version"] == 1 and page.evaluate(ORIGINALS)[0]["text"] == '{"plan": {'


def test_the_small_storage_of_version_1_moves_to_the_shelf(open_page, address):
    page = open_page(f"{address}/release.json", ready=False).page
    lay(page, address, small="shelf_v1/small.json")
    page.goto(f"{address}/plan/index.html")
    assert page.input_value('[name="bath.length"]') == "61 in"
    page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    wanted = history.as_today({"bath.length": "61 in", "bath.width": "25 in"}, 1)
    end = time.monotonic() + 60
    while wanted not in [one["plan"] for one in page.evaluate(PLANS)]:
        assert time.monotonic() < end, page.evaluate(PLANS)
        page.wait_for_timeout(50)
    # What a browser without a database kept is left where it is.
    assert json.loads(page.evaluate("localStorage.getItem('raftwright.kept.small-plan')"))["plan"] == {
        "bath.length": "43 in"}
