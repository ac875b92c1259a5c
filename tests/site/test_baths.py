"""More than one bath on a machine: each has its own log, and readings kept before there was a plan are given to one."""

from __future__ import annotations

import pytest

from tests.site.test_log import count, keep, opened, stored
from tests.conftest import empty
from tests.site.waiting import until

pytestmark = pytest.mark.browser

# A shelf as the planner leaves it: plans in its database, none in hand.
SHELVE = """(plans) => new Promise((resolve, reject) => {
  const asked = indexedDB.open("raftwright-plans", 1);
  asked.onupgradeneeded = () => {
    asked.result.createObjectStore("plans", {keyPath: "id"});
    asked.result.createObjectStore("originals", {keyPath: "id"});
  };
  asked.onerror = () => reject(asked.error);
  asked.onsuccess = () => {
    const writing = asked.result.transaction("plans", "readwrite");
    for (const one of plans) writing.objectStore("plans").put(one);
    writing.oncomplete = () => { asked.result.close(); resolve(); };
  };
})"""
SHELVED = """(id) => new Promise((resolve, reject) => {
  const asked = indexedDB.open("raftwright-plans", 1);
  asked.onerror = () => reject(asked.error);
  asked.onsuccess = () => {
    const reading = asked.result.transaction("plans").objectStore("plans").get(id);
    reading.onsuccess = () => { asked.result.close(); resolve(reading.result); };
  };
})"""
READY = "document.documentElement.dataset.log === 'ready'"


def plan(name: str, **answers: str) -> dict:
    """A plan as it stands on the shelf."""
    keys = {"length": "bath.length", "units": "units", "way": "feed.way", "depth": "bath.depth",
            "water": "bath.water_depth"}
    return {"id": f"plan-{name.lower()}", "name": name, "version": 2, "stamp": f"state-{name.lower()}", "changed": 1,
            "plan": {keys[key]: text for key, text in answers.items()}}


def bath_of(page) -> str:
    """The name of the bath that the page is about."""
    return page.inner_text('[data-says="bath"]')


def ready(page) -> None:
    page.reload()
    until(page, READY)


def test_each_bath_has_a_log_of_its_own_and_the_choice_is_remembered(open_page, address):
    page = opened(open_page, address)
    page.evaluate(SHELVE, [plan("North", length="60 in"), plan("South", length="90 cm", units="metric")])
    ready(page)
    assert page.is_visible("[data-which-bath] select")
    page.select_option("[data-which-bath] select", label="North")
    until(page, "document.querySelector('[data-says=bath]').textContent === 'North'")
    keep(page, ph="5.9")
    page.select_option("[data-which-bath] select", label="South")
    until(page, "document.querySelectorAll('[data-reading]').length === 0")
    # A meter shows what the bath's own plan measures in.
    assert page.input_value('[data-unit="temperature"]') == "C"
    keep(page, ph="6.4", temperature="21")
    assert [(one["bath"], one["typed"]["ph"]) for one in stored(page)] == [("plan-north", "5.9"),
                                                                            ("plan-south", "6.4")]
    assert "1 more belong" in page.inner_text('[data-says="others"]')
    ready(page)
    assert bath_of(page) == "South" and count(page) == 1
    # Another tab of the same bath, by its address from the shelf.
    other = opened(open_page, address, "today", fragment="#bath=plan-north")
    assert bath_of(other) == "North" and "#" not in other.url
    until(other, "document.documentElement.dataset.today === 'own'")
    assert "pH" in other.inner_text('[data-region="gauges"]')
    assert other.get_attribute('[name="reading.ph"]', "placeholder") == "5.9"
    ready(page)
    assert bath_of(page) == "South", "each tab stays with its bath"


def test_a_file_that_comes_in_while_another_bath_is_chosen_doubles_nothing(open_page, address, tmp_path):
    page = opened(open_page, address)
    page.evaluate(SHELVE, [plan("North"), plan("South")])
    ready(page)
    page.select_option("[data-which-bath] select", label="North")
    keep(page, time="2026-11-24T07:00", ph="5.9", ec="1.46")
    files = {}
    for action, name in (("export-csv", "log.csv"), ("export-all", "all.json")):
        with page.expect_download() as got:
            page.click(f'.copies [data-action="{action}"]')
        files[name] = tmp_path / name
        got.value.save_as(files[name])
    before = stored(page)
    page.select_option("[data-which-bath] select", label="South")
    until(page, "document.querySelectorAll('[data-reading]').length === 0")
    for file in files.values():
        page.set_input_files('[data-action="import"]', file)
        until(page, "document.getElementById('coming').textContent.includes('1 here already')")
        assert "0 new, 0 changed" in page.inner_text("#coming")
        page.locator("#coming button").last.click()
        until(page, "document.getElementById('coming').hidden")
    assert stored(page) == before
    # On another machine the plans come with their log, and the bath is there.
    empty(page)
    other = opened(open_page, address)
    other.set_input_files('[data-action="import"]', files["all.json"])
    other.click('[data-action="import-keep"]')
    until(other, "document.querySelector('[data-says=bath]').textContent === 'North'")
    until(other, "document.querySelectorAll('[data-reading]').length === 1")
    assert other.locator("[data-which-bath] option").count() == 2


def test_what_is_being_typed_keeps_its_unit_when_another_bath_is_chosen(open_page, address):
    page = opened(open_page, address, ready=False)
    page.evaluate(SHELVE, [plan("North"), plan("South", units="metric")])
    ready(page)
    page.select_option("[data-which-bath] select", label="North")
    page.fill('[name="reading.temperature"]', "70")
    page.select_option("[data-which-bath] select", label="South")
    until(page, "document.querySelector('[data-says=bath]').textContent === 'South'")
    assert (page.input_value('[name="reading.temperature"]'), page.input_value('[data-unit="temperature"]')) == (
        "70", "F")
    keep(page)
    (entry,) = stored(page)
    assert entry["units"]["temperature"] == "F" and entry["bath"] == "plan-south"


def test_readings_from_before_a_plan_are_given_to_it_and_it_can_be_undone(open_page, address):
    page = opened(open_page, address, ready=False)
    keep(page, ph="5.8")
    keep(page, ph="6.0")
    assert all("bath" not in one for one in stored(page))
    assert bath_of(page) == "Your bath, without a plan"
    page.evaluate(SHELVE, [plan("North")])
    ready(page)
    assert bath_of(page) == "North" and count(page) == 2, "the only bath shows what belongs to none"
    page.get_by_role("button", name="Give them to North").click()
    until(page, "document.querySelector('[data-state-of=given]') !== null")
    assert [one["bath"] for one in stored(page)] == ["plan-north"] * 2
    assert sorted(one["typed"]["ph"] for one in stored(page)) == ["5.8", "6.0"]
    page.locator("[data-state-of=given] button", has_text="Undo").click()
    until(page, "document.querySelector('[data-state-of=unassigned]') !== null")
    assert all(not one.get("bath") for one in stored(page))
    # With a second bath they are not taken for readings of either, and can still be seen.
    page.evaluate(SHELVE, [plan("South")])
    ready(page)
    assert bath_of(page) == "North" and count(page) == 0
    page.select_option("[data-which-bath] select", label="Without a plan, 2 entries")
    until(page, "document.querySelectorAll('[data-reading]').length === 2")
    page.select_option("[data-which-bath] select", label="South")
    until(page, "document.querySelectorAll('[data-reading]').length === 0")
    page.get_by_role("button", name="Give them to South").click()
    until(page, "document.querySelectorAll('[data-reading]').length === 2")


def test_the_log_of_a_bath_whose_plan_is_gone_is_there_and_moves_to_another(open_page, address):
    page = opened(open_page, address, ready=False)
    page.evaluate(SHELVE, [plan("North")])
    ready(page)
    keep(page, ph="5.8")
    page.evaluate("""() => new Promise((resolve) => {
        indexedDB.open("raftwright-plans", 1).onsuccess = ({target}) => {
            const writing = target.result.transaction("plans", "readwrite");
            writing.objectStore("plans").delete("plan-north");
            writing.oncomplete = () => { target.result.close(); resolve(); };
        };
    })""")
    ready(page)
    assert bath_of(page) == "A bath whose plan is not here" and count(page) == 1
    page.evaluate(SHELVE, [plan("South")])
    ready(page)
    page.select_option("[data-which-bath] select", "plan-north")
    until(page, "document.querySelectorAll('[data-reading]').length === 1")
    page.click(".bath-bar .menu summary")
    page.click("[data-move] button")
    until(page, "document.querySelector('[data-state-of=given]') !== null")
    assert [one["bath"] for one in stored(page)] == ["plan-south"]


def test_a_plan_renamed_or_begun_in_another_tab_is_heard(open_page, address):
    page = opened(open_page, address, ready=False)
    page.evaluate(SHELVE, [plan("North")])
    ready(page)
    keep(page, ph="6.0")
    shelf = open_page(f"{address}/shelf/index.html", ready=False).page
    shelf.wait_for_selector(".plan-row .menu summary")
    shelf.click(".plan-row .menu summary")
    assert shelf.get_attribute('.plan-row .menu a[href*="#bath="]', "href") == "../today/index.html#bath=plan-north"
    shelf.fill(".plan-row .menu input", "By the wall")
    shelf.keyboard.press("Tab")
    until(page, "document.querySelector('[data-says=bath]').textContent === 'By the wall'")
