"""The pages of a running bath: nothing typed is ever lost, copies go out and come in, Today and Trouble answer."""

from __future__ import annotations

import json
from datetime import datetime

import pytest
from tests.site.waiting import told, until

pytestmark = pytest.mark.browser

NO_PYTHON = "delete window.WebAssembly;"
NO_DATABASE = "Object.defineProperty(window, 'indexedDB', {get() { return undefined; }});"
NO_STORAGE = NO_DATABASE + """Object.defineProperty(window, "localStorage",
    {get() { throw new DOMException("no", "SecurityError"); }});"""
FULL = """for (const kind of [IDBObjectStore, Storage]) {
    const name = kind === Storage ? "setItem" : "put";
    kind.prototype[name] = () => { throw new DOMException("full", "QuotaExceededError"); };
}"""
STORED = """(name) => new Promise((resolve, reject) => {
  const asked = indexedDB.open("raftwright-log");
  asked.onerror = () => reject(asked.error);
  asked.onsuccess = () => {
    const all = asked.result.transaction(name).objectStore(name).getAll();
    all.onsuccess = () => { asked.result.close(); resolve(all.result); };
  };
})"""


# The tab's own clock: the browser tool's would stop those of all tabs that share a context.
CLOCK = """(() => {
  const Real = Date, still = new Real("%s").getTime();
  window.Date = class extends Real {
    constructor(...given) { super(...(given.length ? given : [still])); }
    static now() { return still; }
  };
})();"""


def clock(moment: str) -> str:
    """A script that has a tab always read the same time."""
    return CLOCK % moment


# A clock that goes on from a moment, also through a reload: what was written first is older.
GOING = """(() => {
  const Real = Date, ahead = %d;
  window.Date = class extends Real {
    constructor(...given) { super(...(given.length ? given : [Real.now() + ahead])); }
    static now() { return Real.now() + ahead; }
  };
})();"""


def from_then(moment: str) -> str:
    """A script that has a tab begin at this time of its own zone: what is left to do of a day hangs on the hour."""
    return GOING % round((datetime.fromisoformat(moment) - datetime.now()).total_seconds() * 1000)


def stored(page) -> list[dict]:
    """The entries on the disk, oldest first."""
    return sorted(page.evaluate(STORED, "entries"), key=lambda one: (one["at"], one.get("changed", "")))


def opened(open_page, address, where="log", **how):
    """A page of the bath, once it has read what is kept."""
    page = open_page(f"{address}/{where}/index.html{how.pop('fragment', '')}", **how).page
    page.wait_for_selector("html[data-log]", timeout=120_000)
    return page


def count(page) -> int:
    return page.locator("[data-reading]").count()


def keep(page, **texts: str) -> None:
    """Type a reading and keep it."""
    before = count(page)
    for name, text in texts.items():
        page.fill(f'[name="reading.{name}"]', text)
    page.click('[data-action="add-reading"]')
    until(page, "(number) => document.querySelectorAll('[data-reading]').length === number", before + 1)


def test_a_reading_is_kept_and_there_again_after_a_reload(open_page, address):
    page = opened(open_page, address)
    assert count(page) == 0, "readings of the invented bath are nobody's"
    assert page.locator("[data-example]").count() >= 8
    keep(page, time="2026-11-25T07:12", temperature="74", ec="1.31", ph="6.7", oxygen="6.9", added="2.5",
         remark="roots look brown")
    assert page.input_value('[name="reading.ph"]') == ""
    assert page.locator("[data-example]").count() == 0
    until(page, "document.getElementById('action-status').textContent.startsWith('Kept: 5 values')")
    (entry,) = stored(page)
    assert entry["kind"] == "reading" and entry["at"] == "2026-11-25T07:12" and entry["version"] == 1
    assert entry["typed"] == {"time": "2026-11-25T07:12", "temperature": "74", "ec": "1.31", "ph": "6.7",
                              "oxygen": "6.9", "added": "2.5", "remark": "roots look brown"}
    assert entry["units"]["temperature"] == "F" and entry["units"]["ec"] == "mS/cm"
    page.reload()
    until(page, "document.querySelectorAll('[data-reading]').length === 1")
    until(page, "document.documentElement.dataset.drawn === '1'")
    row = page.inner_text("[data-reading]")
    assert "6.7" in row and "74" in row and "roots look brown" in row
    assert page.locator("[data-region=strips] svg").count() > 0


def test_a_reading_is_kept_without_python(open_page, address):
    page = opened(open_page, address, ready=False, script=NO_PYTHON)
    page.wait_for_selector('html[data-engine="failed"]')
    keep(page, ph="5.9", ec="1.4")
    keep(page, remark="all well")
    assert [one["typed"].get("ph") for one in stored(page)].count("5.9") == 1
    with page.expect_download() as got:
        page.click('.copies [data-action="export-all"]')
    whole = json.loads(got.value.path().read_text(encoding="utf-8"))
    assert whole["format"] == "raftwright-everything" and len(whole["entries"]) == 2
    page.reload()
    until(page, "document.querySelectorAll('[data-reading]').length === 2")


def test_what_is_half_typed_survives_a_reload_and_a_closed_tab(open_page, address):
    page = opened(open_page, address, ready=False)
    page.fill('[name="reading.ph"]', "6.1")
    page.fill('[name="reading.remark"]', "half")
    page.reload()
    until(page, "document.querySelector('[name=\"reading.ph\"]').value === '6.1'")
    page.close()
    again = opened(open_page, address, ready=False)
    until(again, "document.querySelector('[name=\"reading.ph\"]').value === '6.1'")
    assert again.input_value('[name="reading.remark"]') == "half"
    other = opened(open_page, address, ready=False)
    assert other.input_value('[name="reading.ph"]') == "", "a draft belongs to one tab"
    keep(again, temperature="70")
    again.reload()
    until(again, "document.documentElement.dataset.log === 'ready'")
    assert again.input_value('[name="reading.ph"]') == "" and len(stored(again)) == 1


def test_two_tabs_show_what_either_keeps_and_leave_typing_alone(open_page, address):
    one, two = (opened(open_page, address, ready=False) for _ in range(2))
    two.fill('[name="reading.ph"]', "6.3")
    keep(one, ph="5.8")
    until(two, "document.querySelectorAll('[data-reading]').length === 1")
    assert "Changed in another window." in told(two)
    assert two.input_value('[name="reading.ph"]') == "6.3"
    two.click('[data-action="add-reading"]')
    until(one, "document.querySelectorAll('[data-reading]').length === 2")
    assert sorted(entry["typed"]["ph"] for entry in stored(one)) == ["5.8", "6.3"]


def test_a_page_left_in_mid_write_loses_nothing(open_page, address):
    page = opened(open_page, address, ready=False)
    # The page is gone before the write has begun to end: what was typed is a draft still, or a reading, never neither.
    page.fill('[name="reading.ph"]', "6.4")
    page.evaluate("""(address) => {
        document.querySelector('[data-action="add-reading"]').click();
        location.href = address;
    }""", f"{address}/offline.html")
    page.wait_for_url("**/offline.html")
    page.goto(f"{address}/log/index.html")
    until(page, "document.documentElement.dataset.log === 'ready'")
    kept = [one["typed"]["ph"] for one in stored(page)]
    until(page, """(kept) => kept || document.querySelector('[name="reading.ph"]').value === '6.4'""", bool(kept))
    assert kept in ([], ["6.4"])


def test_full_storage_leaves_the_reading_in_the_form(open_page, address):
    page = opened(open_page, address, ready=False, script=FULL)
    page.fill('[name="reading.ph"]', "6.2")
    page.click('[data-action="add-reading"]')
    until(page, "document.querySelector('[data-state-of=full]') !== null")
    assert "Not kept:" in told(page) and "no room" in told(page)
    assert page.input_value('[name="reading.ph"]') == "6.2" and count(page) == 0


@pytest.mark.parametrize(("script", "lasts"), [(NO_DATABASE, True), (NO_STORAGE, False)])
def test_where_the_database_is_forbidden_the_next_best_place_serves(open_page, address, script, lasts):
    page = opened(open_page, address, ready=False, script=script)
    keep(page, ph="6.0")
    until(page, "(lasts) => lasts || document.querySelector('[data-state-of=lasts]') !== null", lasts)
    page.reload()
    until(page, "document.documentElement.dataset.log === 'ready'")
    until(page, "(number) => document.querySelectorAll('[data-reading]').length === number", int(lasts))


def test_what_a_newer_version_wrote_is_set_aside_and_stays(open_page, address):
    page = opened(open_page, address, ready=False)
    keep(page, ph="5.9")
    newer = {"id": "n1", "kind": "reading", "at": "2027-01-01T08:00", "version": 9, "typed": {"ph": {"value": 6}}}
    page.evaluate("""(entry) => new Promise((resolve) => {
        indexedDB.open("raftwright-log").onsuccess = ({target}) => {
            const writing = target.result.transaction("entries", "readwrite");
            writing.objectStore("entries").put(entry);
            writing.oncomplete = () => { target.result.close(); resolve(); };
        };
    })""", newer)
    page.reload()
    until(page, "document.querySelector('[data-state-of=newer]') !== null")
    assert "1 entry was written by a newer version" in told(page) and count(page) == 1
    keep(page, ph="6.1")
    assert newer in page.evaluate(STORED, "entries")


def test_entries_of_earlier_versions_are_read(open_page, address):
    page = opened(open_page, address, ready=False)
    keep(page, ph="5.9")
    # The first entries were allowed to leave their version out.
    page.evaluate("""() => new Promise((resolve) => {
        indexedDB.open("raftwright-log").onsuccess = ({target}) => {
            const writing = target.result.transaction("entries", "readwrite");
            writing.objectStore("entries").put({id: "old", kind: "reading", at: "2026-01-02T07:00",
                typed: {ph: "6.6"}});
            writing.oncomplete = () => { target.result.close(); resolve(); };
        };
    })""")
    page.reload()
    until(page, "document.querySelectorAll('[data-reading]').length === 2")
    until(page, "document.documentElement.dataset.drawn === '2'")
    assert "6.6" in page.inner_text('[data-reading="old"]')


def test_a_deletion_can_be_undone_and_a_reading_changed(open_page, address):
    page = opened(open_page, address)
    keep(page, ph="5.9", temperature="70")
    until(page, "document.documentElement.dataset.drawn === '1'")
    page.click("[data-edit]")
    assert page.input_value('[name="reading.ph"]') == "5.9"
    page.click('[data-action="delete-reading"]')
    until(page, "document.querySelectorAll('[data-reading]').length === 0 && document.activeElement.dataset.undelete")
    assert stored(page) == []
    page.keyboard.press("Enter")
    until(page, "document.querySelectorAll('[data-reading]').length === 1")
    page.click("[data-edit]")
    page.fill('[name="reading.ph"]', "6.0")
    page.click('[data-action="add-reading"]')
    until(page, "document.querySelector('[data-reading]').textContent.includes('70')")
    (entry,) = stored(page)
    assert entry["typed"]["ph"] == "6.0"
    assert [one["typed"]["ph"] for one in entry["before"]][-1] == "5.9", "the earlier wording is carried along"


def test_a_changed_reading_can_be_undone_and_what_was_half_typed_comes_back(open_page, address):
    page = opened(open_page, address, ready=False)
    keep(page, time="2026-11-24T07:00", ph="59", temperature="21", remark="by the inlet")
    page.fill('[name="reading.ec"]', "1.4")
    page.click("[data-edit]")
    assert (page.input_value('[name="reading.ec"]'), page.input_value('[name="reading.ph"]')) == ("", "59")
    page.fill('[name="reading.ph"]', "5.9")
    page.fill('[name="reading.time"]', "2026-11-24T08:30")
    page.reload()
    until(page, "document.querySelector('[name=\"reading.ph\"]').value === '5.9'")
    page.click('[data-action="add-reading"]')
    until(page, "document.querySelector('[name=\"reading.ec\"]').value === '1.4'")
    (entry,) = stored(page)
    assert (entry["at"], entry["typed"]["ph"], entry["typed"]["remark"]) == ("2026-11-24T08:30", "5.9", "by the inlet")
    assert entry["before"][-1]["typed"]["ph"] == "59"
    assert "Changed; it was" in page.inner_text("#deleted") and "59" in page.inner_text("#deleted")
    page.click("[data-undelete]")
    until(page, "document.querySelector('#deleted li') === null")
    (entry,) = stored(page)
    assert (entry["at"], entry["typed"]["ph"]) == ("2026-11-24T07:00", "59")
    assert [one["typed"]["ph"] for one in entry["before"]] == ["59", "5.9"], "nothing typed is lost"
    # Left as it was, it is not written at all.
    page.click("[data-edit]")
    page.fill('[name="reading.ph"]', "6")
    page.click('[data-action="leave-reading"]')
    assert stored(page) == [entry] and page.input_value('[name="reading.ec"]') == "1.4"


def test_an_event_is_put_right_and_deleted_and_both_can_be_undone(open_page, address):
    page = opened(open_page, address, ready=False)
    page.click("details.event summary")
    page.select_option('[name="event.kind"]', "harvested")
    page.fill('[name="event.mass"]', "51")
    page.select_option('[name="unit.mass"]', "oz")
    page.fill('[name="event.time"]', "2026-11-24T09:00")
    page.click('[data-action="add-event"]')
    until(page, "document.querySelectorAll('[data-event]').length === 1")
    page.click("[data-event] [data-edit]")
    assert page.input_value('[name="event.mass"]') == "51"
    page.fill('[name="event.mass"]', "15")
    page.fill('[name="event.time"]', "2026-11-23T09:00")
    page.fill('[name="event.remark"]', "row 2")
    page.click('[data-action="add-event"]')
    until(page, "document.querySelector('#deleted li') !== null")
    (entry,) = stored(page)
    assert (entry["kind"], entry["at"], entry["typed"], entry["units"]) == (
        "harvested", "2026-11-23T09:00", {"mass": "15", "remark": "row 2"}, {"mass": "oz"})
    page.click("[data-undelete]")
    until(page, "document.querySelector('#deleted li') === null")
    (entry,) = stored(page)
    assert (entry["at"], entry["typed"]) == ("2026-11-24T09:00", {"mass": "51"})
    page.click("[data-event] [data-edit]")
    page.click('[data-action="delete-event"]')
    until(page, "document.querySelectorAll('[data-event]').length === 0")
    page.click("[data-undelete]")
    until(page, "document.querySelectorAll('[data-event]').length === 1")
    assert stored(page)[0]["typed"] == {"mass": "51"}


def test_an_odd_value_is_asked_about_and_kept_all_the_same(open_page, address):
    page = opened(open_page, address)
    keep(page, time="2026-11-24T07:00", ph="5.9")
    page.fill('[name="reading.ph"]', "58")
    until(page, "document.querySelector('[data-asked=ph] button') !== null")
    assert "5.8" in page.inner_text("[data-asked=ph]") and "Keep 58" in page.inner_text("[data-asked=ph]")
    page.click("[data-asked=ph] button.main")
    assert page.input_value('[name="reading.ph"]') == "5.8"
    page.fill('[name="reading.ph"]', "58")
    page.click('[data-action="add-reading"]')
    until(page, "document.querySelectorAll('[data-reading]').length === 2")
    assert "58" in [one["typed"]["ph"] for one in stored(page)]


def test_enter_goes_on_and_the_last_enter_keeps(open_page, address):
    page = opened(open_page, address)
    page.focus('[name="reading.temperature"]')
    for text in ("70", "1.4", "6.0"):
        page.keyboard.type(text)
        page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.name") == "reading.oxygen"
    for _ in range(3):
        page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.name") == "reading.remark"
    page.keyboard.type("well")
    page.keyboard.press("Enter")
    until(page, "document.querySelectorAll('[data-reading]').length === 1")
    (entry,) = stored(page)
    assert (entry["typed"]["temperature"], entry["typed"]["ec"], entry["typed"]["ph"]) == ("70", "1.4", "6.0")


def test_csv_goes_out_and_comes_in_without_doubling(open_page, address, tmp_path):
    page = opened(open_page, address)
    keep(page, time="2026-11-24T07:00", ph="5.9", ec="1.46", remark='a "quoted"; word, and more')
    keep(page, time="2026-11-25T07:00", ph="6.1", temperature="21.5 C")
    with page.expect_download() as got:
        page.click('.copies [data-action="export-csv"]')
    file = tmp_path / "log.csv"
    got.value.save_as(file)
    before = stored(page)
    page.set_input_files('[data-action="import"]', file)
    until(page, "!document.getElementById('coming').hidden")
    assert "0 new" in page.inner_text("#coming") and "2 here already" in page.inner_text("#coming")
    page.locator("#coming button", has_text="Close").click()
    assert stored(page) == before
    other = tmp_path / "other.csv"
    other.write_bytes("\ufeffDate;pH;EC mS/cm\r\n2026-10-01;5,8;1,5\r\n2026-10-02;6,0;1,4\r\n".encode())
    page.set_input_files('[data-action="import"]', other)
    until(page, "document.querySelector('[data-action=import-keep]') !== null")
    assert "2 new" in page.inner_text("#coming") and stored(page) == before, "nothing is kept before it is asked"
    page.click('[data-action="import-keep"]')
    until(page, "document.querySelectorAll('[data-reading]').length === 4")
    page.set_input_files('[data-action="import"]', other)
    until(page, "document.getElementById('coming').textContent.includes('2 here already')")


def test_everything_in_one_file_comes_back_on_another_machine(open_page, address, tmp_path):
    page = opened(open_page, address)
    keep(page, ph="5.9")
    with page.expect_download() as got:
        page.click('.copies [data-action="export-all"]')
    file = tmp_path / "all.json"
    got.value.save_as(file)
    before = stored(page)
    # Another machine has another database.
    page.goto(f"{address}/release.json")
    page.evaluate("""() => new Promise((done, failed) => {
        const asked = indexedDB.deleteDatabase("raftwright-log");
        asked.onsuccess = done;
        asked.onblocked = asked.onerror = failed;
    }).then(() => { localStorage.clear(); sessionStorage.clear(); })""")
    other = opened(open_page, address)
    assert count(other) == 0
    other.set_input_files('[data-action="import"]', file)
    other.click('[data-action="import-keep"]')
    until(other, "document.querySelectorAll('[data-reading]').length === 1")
    assert stored(other) == before


def test_unclear_dates_are_asked(open_page, address, tmp_path):
    page = opened(open_page, address)
    file = tmp_path / "dates.csv"
    file.write_text("Date,pH\n03/04/2026,5.9\n", encoding="utf-8")
    page.set_input_files('[data-action="import"]', file)
    page.wait_for_selector("#coming [data-question]")
    choices = page.eval_on_selector("#coming [data-question]", "(one) => [...one.options].map((two) => two.value)")
    seen = set()
    for choice in [one for one in choices if one]:
        # What the file brings is drawn anew with each answer, also with one that was taken already.
        page.evaluate("document.querySelector('#coming h2').dataset.before = ''")
        page.select_option("#coming [data-question]", choice)
        until(page, "document.querySelector('#coming h2:not([data-before])') !== null")
        page.wait_for_selector("#coming [data-question]")
        page.click('[data-action="import-keep"]')
        until(page, "document.getElementById('coming').hidden")
        seen.update(one["at"][:10] for one in stored(page))
        page.set_input_files('[data-action="import"]', file)
        page.wait_for_selector("#coming [data-question]")
    assert seen == {"2026-03-04", "2026-04-03"}


def test_a_reading_of_a_link_is_shown_before_it_is_kept(open_page, address):
    page = opened(open_page, address, fragment="#reading=1&ph=5.9&ec=1.4&temperature=21+C&time=2026-11-25T07:00&x=1")
    page.wait_for_selector('[data-action="link-keep"]')
    shown = page.inner_text("#coming")
    assert "5.9" in shown and "1.4 mS/cm" in shown and "21 C" in shown and "left out: x" in shown
    assert count(page) == 0
    page.click('[data-action="link-keep"]')
    until(page, "document.querySelectorAll('[data-reading]').length === 1")
    assert "#" not in page.url and stored(page)[0]["at"] == "2026-11-25T07:00"
    page.evaluate("location.hash = 'reading=1&ph=5.7'")
    page.wait_for_selector('[data-action="link-leave"]')
    page.click('[data-action="link-leave"]')
    page.reload()
    until(page, "document.querySelectorAll('[data-reading]').length === 1")


def test_the_invented_bath_is_erased_in_one_step_and_comes_back(open_page, address):
    page = opened(open_page, address)
    until(page, "document.documentElement.dataset.drawn === '0'")
    page.click('#states [data-action="erase-invented"]')
    until(page, "document.querySelectorAll('[data-example]').length === 0")
    assert page.is_visible('[data-when="empty"]')
    page.reload()
    until(page, "document.documentElement.dataset.log === 'ready'")
    assert page.locator("[data-example]").count() == 0
    page.click('[data-when="empty"] [data-action="show-invented"]')
    until(page, "document.querySelectorAll('[data-example]').length >= 8")


def test_what_of_an_event_cannot_be_read_is_told_beside_its_field(open_page, address):
    page = opened(open_page, address)
    page.click("details:has(form[data-event-entry]) summary")
    page.select_option('[name="event.kind"]', "harvested")
    page.fill('[name="event.mass"]', "abc")
    until(page, "document.getElementById('fault-event-mass').textContent.includes('abc')")
    assert page.get_attribute('[name="event.mass"]', "aria-invalid") == "true"
    assert page.is_visible("#fault-event-mass") and page.inner_text("#fault-event-count") == ""
    page.fill('[name="event.mass"]', "12")
    until(page, "document.getElementById('fault-event-mass').textContent === ''")
    assert page.get_attribute('[name="event.mass"]', "aria-invalid") is None
    page.fill('[name="event.time"]', "2099-11-24T09:00")
    until(page, "document.getElementById('fault-event-time').textContent.includes('is the date right?')")
    page.click('[data-action="add-event"]')
    until(page, "document.querySelector('[data-event]') !== null")
    until(page, "document.getElementById('fault-event-time').textContent === ''")
    until(page, "document.querySelector('[name=\"event.mass\"]').value === ''")


def test_today_works_from_one_reading_typed_there_and_a_tick_goes_into_the_log(open_page, address):
    page = opened(open_page, address, "today")
    page.wait_for_selector('[data-todo] input[data-tick]')
    page.fill('[name="reading.ph"]', "6.9")
    until(page, "document.documentElement.dataset.today === 'own'")
    until(page, "document.querySelector('[data-verdict=today]').textContent.includes('pH high')")
    code = page.get_attribute("[data-todo]", "data-todo")
    page.click(f'[data-todo="{code}"] input[data-tick]')
    page.wait_for_selector(f'[data-undo="{code}"]')
    entries = stored(page)
    assert [one["typed"].get("ph") for one in entries].count("6.9") == 1, "the reading is kept with the tick"
    assert sum(one["typed"].get("code") == code for one in entries) == 1
    until(page, "document.activeElement.dataset.undo !== undefined")
    page.keyboard.press("Enter")
    page.wait_for_selector(f'[data-todo="{code}"] input[data-tick]')
    until(page, "document.getElementById('action-status').textContent.startsWith('Taken back: ')")
    assert all(one["typed"].get("code") != code for one in stored(page))
    page.reload()
    until(page, "document.querySelector('[data-verdict=today]').textContent.includes('pH high')")


def test_trouble_answers_asks_on_and_takes_signs_back(open_page, address):
    page = opened(open_page, address, "trouble")
    until(page, "document.documentElement.dataset.drawn !== undefined")
    while page.locator('[name="sign"]:checked').count():
        page.locator('[name="sign"]:checked').first.uncheck()
    assert page.is_disabled('[data-action="see-causes"]')
    page.check('#signs-roots .drawn [name="sign"] >> nth=0')
    page.click('[data-action="see-causes"]')
    page.wait_for_selector("[data-cause]", state="visible")
    assert page.evaluate("document.activeElement.id") == "reasons-title"
    first = page.inner_text('[data-verdict="trouble"]')
    assert "Most likely" in first and page.locator("[data-check]").count() > 0
    asked = page.get_attribute("[data-question]", "data-question")
    page.click('[data-answer="no"]')
    until(page, "(asked) => document.querySelector('[data-question]')?.dataset.question !== asked", asked)
    page.click("[data-remove]")
    until(page, "!document.body.classList.contains('reasoning')")


def test_all_three_work_from_a_disk(open_page, dist):
    page = open_page(f"{dist.as_uri()}/log/index.html").page
    until(page, "document.documentElement.dataset.drawn === '0'")
    keep(page, ph="6.0", ec="1.4")
    until(page, "document.querySelector('[data-state-of=persist]') !== null")
    assert "Save a copy" in told(page), "a page from a disk cannot ask the browser to keep anything"
    page.goto(f"{dist.as_uri()}/today/index.html")
    until(page, "document.documentElement.dataset.today === 'own'")


def test_on_a_phone_the_entry_is_a_screen_of_its_own(open_page, address):
    page = opened(open_page, address, ready=False, size=(360, 740))
    assert not page.is_visible('[name="reading.ph"]')
    page.click(".to-reading a")
    page.wait_for_selector('[name="reading.ph"]', state="visible")
    assert page.is_visible('[data-action="next-field"]') and not page.is_visible(".site-foot")
    keep(page, ph="6.0")
    assert not page.is_visible('[name="reading.ph"]')
    page.click(".to-reading a")
    page.fill('[name="reading.ec"]', "1.4")
    page.keyboard.press("Escape")
    assert page.inner_text("[data-unfinished]") == "1 unfinished"


def test_the_pointer_of_a_ruler_follows_each_key_before_anything_is_worked_out(open_page, address):
    page = opened(open_page, address, "today", ready=False, script=NO_PYTHON)
    place = """(name) => {
        const rule = document.querySelector(`[data-gauge="${name}"] svg.aligned`);
        const at = rule.querySelector('[data-pointer="now"]');
        return [Number(/translate\\(([\\d.]+)/.exec(at.getAttribute("transform"))[1]),
            rule.viewBox.baseVal.width, at.getAttribute("visibility"), Number(rule.dataset.low),
            Number(rule.dataset.high)];
    }"""
    page.fill('[name="reading.ph"]', "5.5")
    at, wide, hidden, low, high = page.evaluate(place, "ph")
    # Green spans 34 to 66 of a hundred of every rule.
    assert (low, high, hidden) == (5.5, 6.5, None) and at == pytest.approx(0.34 * wide, abs=0.1)
    page.focus('[name="reading.ph"]')
    page.keyboard.press("End")
    page.keyboard.press("Backspace")
    page.keyboard.type("9")
    assert page.evaluate(place, "ph")[0] == pytest.approx((0.34 + 0.32 * 0.4) * wide, abs=0.1)
    page.fill('[name="reading.ph"]', "58")
    assert page.evaluate(place, "ph")[0] == wide, "it stops at the edge"
    page.fill('[name="reading.temperature"]', "21,5 °C")
    at, wide, _, low, high = page.evaluate(place, "temperature")
    assert at == pytest.approx(wide * (0.34 + 0.32 * (21.5 * 1.8 + 32 - low) / (high - low)), abs=0.1)
    page.fill('[name="reading.temperature"]', "warm")
    assert page.evaluate(place, "temperature")[0] == at, "what is no number moves nothing"


def test_a_jug_test_typed_on_today_gives_the_pours_in_proportion(open_page, address):
    page = opened(open_page, address, "today", script=from_then("2026-11-25T08:00"))
    page.fill('[name="reading.ph"]', "6.9")
    page.wait_for_selector('[data-todo="jug"]')
    until(page, "document.querySelector('[data-jug]').open")
    page.fill('[name="today.jug_volume"]', "1")
    page.fill('[name="today.jug_acid"]', "4")
    page.wait_for_selector('[data-todo="acid"]')
    # 4 drops are 0.2 mL in a liter; the built-in bath holds 65.9 gal, 249.3 L: 49.9 mL in all, a quarter of it at once.
    first = page.inner_text('[data-pour="acid-1"] strong')
    assert first == "12 mL"
    page.reload()
    until(page, "document.querySelector('[name=\"today.jug_acid\"]').value === '4'")
    assert page.evaluate("document.querySelector('[data-jug]').open")
    # Once acid was poured and the pH measured anew, the old test says nothing: its whole dose would be poured again.
    until(page, "document.querySelector('[data-pour=\"acid-1\"] strong')?.textContent === '12 mL'")
    page.check('[data-tick-pour="acid-1"]')
    until(page, "document.querySelector('[data-tick-pour=\"acid-1\"]').disabled")
    assert page.inner_text("#fault-jug") == ""
    assert [one["typed"]["acid"] for one in stored(page) if "acid" in one["typed"]] == ["12 mL"], "a pour is a pour"
    # Not "check", which looks again at a line that is gone by then.
    page.click('[data-todo="acid"] [data-tick="acid"]')
    page.wait_for_selector('[data-undo="acid"]')
    # Four pours of 12 mL: the line writes the three that were left.
    assert [one["typed"]["acid"] for one in stored(page) if one["typed"].get("code") == "acid"] == ["36 mL"]
    page.click('[data-undo="acid"]')
    page.wait_for_selector('[data-todo="acid"]')
    page.fill('[name="reading.ph"]', "6.7")
    page.wait_for_selector('[data-todo="jug"]')
    assert "make a new one" in page.inner_text("#fault-jug") and page.locator('[data-todo="acid"]').count() == 0
    page.fill('[name="today.jug_acid"]', "3")
    page.wait_for_selector('[data-todo="acid"]')
    assert page.inner_text("#fault-jug") == ""


def test_a_line_is_put_off_until_tomorrow_or_a_day_and_comes_back(open_page, address):
    page = opened(open_page, address, "today", script=clock("2026-11-25T08:00"))
    page.fill('[name="reading.ph"]', "6.0")
    until(page, "document.documentElement.dataset.today === 'own'", seconds=60)
    page.wait_for_selector('[data-todo="strainer"]')
    page.click('[data-wait="strainer"] summary')
    page.click('[data-of="strainer"][data-until="tomorrow"]')
    page.wait_for_selector('[data-later="strainer"]')
    until(page, "document.activeElement.dataset.back === 'strainer'")
    assert "Nov 26" in page.inner_text('[data-later="strainer"]')
    assert page.locator('[data-todo="strainer"]').count() == 0
    page.click('[data-wait="look"] summary')
    page.fill('[data-until-day="look"]', "2026-11-24")
    page.click('[data-of="look"][data-until="day"]')
    until(page, "document.getElementById('action-status').textContent.includes('after today')")
    page.fill('[data-until-day="look"]', "2026-11-28")
    page.click('[data-of="look"][data-until="day"]')
    page.wait_for_selector('[data-later="look"]')
    # Kept, the reading makes the bath the reader's own: what was put off stays so.
    page.click('.today-left [data-action="add-reading"]')
    until(page, "document.querySelector('[name=\"reading.ph\"]').value === ''")
    page.wait_for_selector('[data-later="look"]')
    page.add_init_script(clock("2026-11-26T08:00"))
    page.reload()
    page.wait_for_selector('[data-later="look"]', timeout=120_000)
    assert page.locator('[data-todo="strainer"]').count() == 1, "put off until today: it is here again"
    page.click('[data-back="look"]')
    page.wait_for_selector('[data-todo="look"]')
    assert [one for one in stored(page) if one["kind"] != "reading"] == [], "putting off writes nothing into the log"


def test_all_numbers_of_a_reading_are_in_sight_on_a_phone(open_page, address):
    page = opened(open_page, address, ready=False, size=(360, 740))
    page.wait_for_selector("table.log tbody tr")
    outside = page.evaluate("""() => {
      const place = document.querySelector('[data-region="rows"]');
      const edge = place.getBoundingClientRect().right + 1;
      return [place.scrollWidth - place.clientWidth, ...[...place.querySelectorAll("th, td")].filter(
        (one) => one.getBoundingClientRect().right > edge).map((one) => one.textContent)];
    }""")
    assert outside == [0]


def test_trouble_prints_what_is_in_sight(open_page, address):
    page = opened(open_page, address, "trouble")
    until(page, "document.querySelectorAll('[name=sign]:checked').length > 0", seconds=120)
    page.emulate_media(media="print")
    assert page.is_visible("#signs-sheet") and not page.is_visible("#reasons")
    page.emulate_media(media="screen")
    page.click("[data-action='see-causes']")
    until(page, "document.body.classList.contains('reasoning')", seconds=60)
    page.emulate_media(media="print")
    assert page.is_visible("#reasons") and not page.is_visible("#signs-sheet")


def test_nothing_moves_when_the_calculator_tells_what_it_is_about(open_page, address):
    page = opened(open_page, address, "today", ready=False, script=NO_PYTHON)
    top = "document.getElementById('today-title').getBoundingClientRect().top"
    for size in ({"width": 360, "height": 740}, {"width": 1280, "height": 740}):
        page.set_viewport_size(size)
        page.evaluate("document.querySelector('.engine-status').textContent = ''")
        before = page.evaluate(top)
        page.evaluate("document.querySelector('.engine-status').textContent = 'Fetching. '.repeat(20)")
        assert page.evaluate(top) == before
        assert page.is_visible(".engine-status")


def test_one_sign_is_enough_and_its_causes_are_a_press_away(open_page, address):
    page = opened(open_page, address, "trouble", ready=False, script=NO_PYTHON, size=(360, 740))
    for where in ("leaves", "roots", "water", "equipment", "seedlings", "readings"):
        page.click(f'.sign-jumps [href="#signs-{where}"]')
        # The head that was asked for is in sight, and so is the way on, over the bar of the phone.
        until(page, f"""(() => {{
          const head = document.querySelector('#signs-{where} h2').getBoundingClientRect();
          const on = document.querySelector('[data-action="see-causes"]').getBoundingClientRect();
          const bar = document.querySelector('.bath-tabs').getBoundingClientRect();
          return head.top >= 0 && head.bottom <= on.top && on.bottom <= bar.top; }})()""")
        page.evaluate("scrollTo(0, 0)")
