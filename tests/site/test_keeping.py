"""Plans are safe: nothing is replaced unasked, every change can be undone, tabs hear of each other, links are right."""

from __future__ import annotations

import json
import time

import pytest

from calc.data.versions import VERSION
from tests.site.waiting import until

pytestmark = pytest.mark.browser

LENGTH = '[name="bath.length"]'
NO_DATABASE = "Object.defineProperty(window, 'indexedDB', {get() { return undefined; }});"
NO_STORAGE = """Object.defineProperty(window, "localStorage",
    {get() { throw new DOMException("no", "SecurityError"); }});"""


def status(page) -> str:
    """What the page says."""
    return page.evaluate("""[...document.querySelectorAll('#action-status, [data-notice]')]
        .map((one) => one.textContent).join(' | ')""")


def press(page, action: str) -> None:
    """Press a button, wherever it lies."""
    page.evaluate("(name) => document.querySelector(`[data-action=\"${name}\"]`).click()", action)


def answer(page, name: str, text: str) -> None:
    """Type an answer and leave the field."""
    page.evaluate("""([name, text]) => {
        const field = document.querySelector(`[name="${name}"]`);
        for (let at = field; at; at = at.parentElement) if (at.tagName === "DETAILS") at.open = true;
        field.focus();
        field.value = text;
        field.dispatchEvent(new Event("input", {bubbles: true}));
        field.dispatchEvent(new Event("change", {bubbles: true}));
        field.blur();
    }""", [name, text])


def value(page, name: str) -> str:
    """What stands in a field."""
    return page.evaluate("(name) => document.querySelector(`[name=\"${name}\"]`).value", name)


KEPT = """() => new Promise((resolve, reject) => {
  const asked = indexedDB.open("raftwright-plans", 1);
  asked.onupgradeneeded = () => {
    // The page has not made it yet; a database without its shelves would be in its way.
    asked.result.createObjectStore("plans", {keyPath: "id"});
    asked.result.createObjectStore("originals", {keyPath: "id"});
  };
  asked.onerror = () => reject(asked.error);
  asked.onsuccess = () => {
    const all = asked.result.transaction("plans").objectStore("plans").getAll();
    all.onsuccess = () => { asked.result.close(); resolve(all.result); };
  };
})"""
ORIGINALS = KEPT.replace('"plans").objectStore("plans")', '"originals").objectStore("originals")')


def kept(page) -> list[dict]:
    """The plans on the shelf, in the order they were changed."""
    return sorted(page.evaluate(KEPT), key=lambda one: one["changed"])


def kept_lengths(page) -> list[str]:
    return sorted(one["plan"].get("bath.length", "") for one in kept(page))


def wait_kept(page, *lengths: str) -> None:
    """Wait until the plans on the shelf are these, by their baths' lengths."""
    end = time.monotonic() + 60
    while kept_lengths(page) != sorted(lengths):
        assert time.monotonic() < end, kept(page)
        page.wait_for_timeout(50)


def copied(page) -> str:
    """The link that "Copy link" copies."""
    page.evaluate("""() => { window.copied = undefined; navigator.clipboard.writeText = (text) => {
        window.copied = text; return Promise.resolve(); }; }""")
    press(page, "copy-link")
    until(page, "window.copied !== undefined")
    return page.evaluate("window.copied")


def choose(page, choice: str) -> None:
    """Answer the question of the dialog."""
    until(page, "document.querySelector('dialog[open]') !== null")
    assert page.evaluate("document.activeElement.closest('dialog') !== null"), "the dialog has not got the focus"
    page.evaluate("(choice) => document.querySelector(`dialog [data-choice=\"${choice}\"]`).click()", choice)
    until(page, "document.querySelector('dialog') === null")


@pytest.fixture
def own(open_page, address):
    """A planner with a plan of the reader's own in it."""
    watched = open_page(f"{address}/plan/index.html")
    answer(watched.page, "bath.length", "61 in")
    wait_kept(watched.page, "61 in")
    return watched


def go(page, url: str) -> None:
    """Open another address in this tab, as a visitor who comes back."""
    page.goto("about:blank")
    page.goto(url)
    page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)


@pytest.mark.parametrize("link", ["#start=2&bath.length=55+in", "#plan=2&bath.length=55+in&end=x"])
def test_a_link_over_a_plan_of_ones_own_asks_and_keeps_both(own, address, link):
    page = own.page
    go(page, f"{address}/plan/index.html{link}")
    until(page, "document.querySelector('dialog[open]') !== null")
    assert value(page, "bath.length") == "61 in", "replaced before it was asked"
    choose(page, "beside")
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '55 in'")
    wait_kept(page, "55 in", "61 in")
    assert "#" not in page.url
    answer(page, "bath.length", "56 in")
    wait_kept(page, "56 in", "61 in")
    page.reload()
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '56 in'")
    page.evaluate("document.querySelector('details.menu').open = true")
    until(page, "document.querySelector('[data-kept-plan]') !== null")
    page.evaluate("document.querySelector('[data-kept-plan]').click()")
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '61 in'")
    wait_kept(page, "56 in", "61 in")
    assert own.complaints == []


def test_replacing_can_be_undone_and_leaving_changes_nothing(own, address):
    page = own.page
    go(page, f"{address}/plan/index.html#start=2&bath.length=55+in")
    choose(page, "replace")
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '55 in'")
    wait_kept(page, "55 in")
    press(page, "undo")
    assert value(page, "bath.length") == "61 in"
    wait_kept(page, "61 in")
    press(page, "redo")
    assert value(page, "bath.length") == "55 in"
    press(page, "undo")
    go(page, f"{address}/plan/index.html#start=2&bath.length=54+in")
    choose(page, "leave")
    assert value(page, "bath.length") == "61 in"
    page.evaluate("location.hash = '#start=2&bath.length=53+in'")
    until(page, "document.querySelector('dialog[open]') !== null")
    page.keyboard.press("Escape")
    until(page, "document.querySelector('dialog') === null")
    assert value(page, "bath.length") == "61 in"
    wait_kept(page, "61 in")


LEFT_IN_MID_WRITE = """([stamp, told]) => new Promise((resolve) => {
  const shown = JSON.parse(localStorage.getItem("raftwright.shown"));
  if (told) localStorage.setItem("raftwright.shown", JSON.stringify({...shown, sent: [...(shown.sent || []), stamp]}));
  const asked = indexedDB.open("raftwright-plans");
  asked.onsuccess = () => {
    const work = asked.result.transaction("plans", "readwrite");
    const plans = work.objectStore("plans");
    plans.get(shown.id).onsuccess = ({target}) => plans.put({...target.result, stamp,
      plan: {...target.result.plan, "bath.length": "55 in"}});
    work.oncomplete = () => { asked.result.close(); resolve(); };
  };
})"""


@pytest.mark.parametrize(("told", "found"), [(True, ["61 in"]), (False, ["55 in", "61 in"])])
def test_a_page_left_in_mid_write_knows_its_own_writing(own, address, told, found):
    # What was on its way to the shelf when the page was left is this tab's own; what it never sent is another's.
    page = own.page
    page.goto(f"{address}/offline.html")
    page.evaluate(LEFT_IN_MID_WRITE, ["of-the-page-that-was-left", told])
    go(page, f"{address}/plan/index.html")
    assert value(page, "bath.length") == "61 in"
    wait_kept(page, *found)


def test_the_example_gives_way_without_a_question(open_page, address):
    page = open_page(f"{address}/plan/index.html#start=2&bath.length=55+in&step=air").page
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '55 in'")
    until(page, "location.hash === '#step=air'")
    assert page.evaluate("document.querySelector('dialog') === null")


def test_every_change_can_be_undone(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    first = value(page, "bath.length")
    assert page.is_disabled('[data-action="undo"]')
    for number in range(60):
        answer(page, "bath.length" if number % 2 else "bath.width", f"{30 + number} in")
    page.evaluate("document.querySelector('[data-table=\"crops.rows\"] [data-action=\"add-row\"]').click()")
    answer(page, "crops.rows.2.crop", "basil")
    rows = page.evaluate("document.querySelectorAll('[data-table=\"crops.rows\"] [data-row]').length")
    page.evaluate("document.querySelector('[data-table=\"crops.rows\"] [data-action=\"remove-row\"]').click()")
    count = "document.querySelectorAll('[data-table=\"crops.rows\"] [data-row]').length"
    assert page.evaluate(count) == rows - 1
    press(page, "undo")
    assert page.evaluate(count) == rows
    for _ in range(61):
        press(page, "undo")
    assert page.evaluate(count) == rows - 1 and value(page, "bath.length") == first
    assert page.is_disabled('[data-action="undo"]')
    for _ in range(60):
        press(page, "redo")
    assert value(page, "bath.length") == "89 in"


def test_letters_of_one_field_are_one_step_and_keys_undo_outside_of_fields(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    first = value(page, "bath.length")
    page.focus(LENGTH)
    page.keyboard.press("Control+A")
    page.keyboard.type("61 in")
    page.keyboard.press("Control+Z")
    page.keyboard.press("Control+A")
    page.keyboard.type("62 in")
    page.evaluate("document.activeElement.blur()")
    page.keyboard.press("Control+Z")
    assert value(page, "bath.length") == first
    page.keyboard.press("Control+Shift+Z")
    assert value(page, "bath.length") == "62 in"
    page.keyboard.press("Meta+Z")
    assert value(page, "bath.length") == first


def test_an_erased_plan_is_gone_and_comes_back_by_undo(own):
    page = own.page
    press(page, "reset")
    until(page, "document.getElementById('action-status').textContent.includes('Erased')")
    wait_kept(page)
    assert page.evaluate("[localStorage.length, sessionStorage.length]") == [0, 0]
    press(page, "undo")
    assert value(page, "bath.length") == "61 in"
    wait_kept(page, "61 in")


def test_when_a_plan_was_saved_is_said(own):
    until(own.page, "/Saved on this machine, \\d{1,2}:\\d\\d [ap]m/"
          ".test(document.querySelector('[data-saved]').textContent)")
    one, = kept(own.page)
    assert one["version"] == VERSION and one["id"] and one["plan"] == {"bath.length": "61 in"}


def test_a_name_belongs_to_the_kept_plan_alone(own):
    page = own.page
    page.evaluate("document.querySelector('details.menu').open = true")
    until(page, "document.querySelector('[data-plan-title]') !== null")
    page.evaluate("""() => { const field = document.querySelector("[data-plan-title]"); field.value = "By the window";
        field.dispatchEvent(new Event("change", {bubbles: true})); }""")
    until(page, "document.querySelector('[data-plan-name]').textContent === 'By the window'")
    end = time.monotonic() + 60
    while kept(page)[0]["name"] != "By the window":
        assert time.monotonic() < end
        page.wait_for_timeout(50)
    assert kept(page)[0]["plan"] == {"bath.length": "61 in"}
    page.reload()
    until(page, "document.querySelector('[data-plan-name]').textContent === 'By the window'")


def test_what_an_earlier_page_kept_moves_over_and_is_read_again_when_it_changed(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    write = "(text) => localStorage.setItem('raftwright.plan', text)"
    page.evaluate(write, json.dumps({"version": VERSION, "plan": {"bath.length": "61 in"}}))
    page.reload()
    assert value(page, "bath.length") == "61 in"
    wait_kept(page, "61 in")
    page.evaluate(write, json.dumps({"version": VERSION, "plan": {"bath.length": "65 in"}}))
    page.reload()
    assert value(page, "bath.length") == "65 in"
    wait_kept(page, "61 in", "65 in")
    page.reload()
    page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    wait_kept(page, "61 in", "65 in")


@pytest.mark.parametrize(("script", "words"), [(NO_DATABASE, "Saved on this machine"),
                                               (NO_STORAGE, "Saved on this machine"),
                                               (NO_DATABASE + NO_STORAGE, "Not saved on this machine")])
def test_a_browser_that_forbids_a_storage(open_page, address, script, words):
    watched = open_page(f"{address}/plan/index.html", script=script)
    page = watched.page
    answer(page, "bath.length", "61 in")
    until(page, "(words) => document.querySelector('[data-saved]').textContent.startsWith(words)", words)
    assert ("does not let the page save" in status(page)) == words.startswith("Not")
    page.evaluate("location.hash = '#start=2&bath.length=55+in'")
    choose(page, "beside")
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '55 in'")
    page.evaluate("document.querySelector('details.menu').open = true")
    until(page, "document.querySelectorAll('[data-kept-plan]').length === 1")
    page.evaluate("document.querySelector('[data-kept-plan]').click()")
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '61 in'")
    page.wait_for_timeout(600)
    page.reload()
    expected = "61 in" if words.startswith("Saved") else page.evaluate(
        "document.querySelector('[name=\"bath.length\"]').dataset.default")
    until(page, "(text) => document.querySelector('[name=\"bath.length\"]').value === text", expected)
    assert watched.complaints == []


def test_from_a_disk_plans_are_kept_and_a_dead_link_is_not_copied(open_page, dist):
    watched = open_page(f"{dist.as_uri()}/plan/index.html")
    page = watched.page
    answer(page, "bath.length", "61 in")
    until(page, "document.querySelector('[data-saved]').textContent.startsWith('Saved on this machine')")
    page.evaluate("""() => { window.copied = []; navigator.clipboard.writeText = (text) => {
        window.copied.push(text); return Promise.resolve(); }; }""")
    press(page, "copy-link")
    until(page, "document.getElementById('action-status').textContent.includes('opened from a disk')")
    assert page.evaluate("window.copied") == []
    until(page, "document.activeElement.id === 'hosted-address'")
    page.fill("#hosted-address", "https://example.org/bath/")
    press(page, "copy-link")
    until(page, "window.copied.length === 1")
    assert page.evaluate("window.copied[0]").startswith("https://example.org/bath/plan/index.html#plan=")
    page.evaluate("localStorage.removeItem('raftwright.hosted')")
    assert watched.complaints == []


def test_tabs_hear_of_each_other_and_nothing_is_written_over(open_page, address):
    first = open_page(f"{address}/plan/index.html").page
    answer(first, "bath.length", "61 in")
    wait_kept(first, "61 in")
    second, third = (open_page(f"{address}/plan/index.html").page for _ in range(2))
    assert value(second, "bath.length") == value(third, "bath.length") == "61 in"
    answer(first, "bath.length", "62 in")
    for page in (second, third):
        until(page, "document.querySelector('[data-notice=\"tabs\"]') !== null")
        assert "changed in another tab" in status(page)
        assert value(page, "bath.length") == "61 in"
    second.evaluate("document.querySelectorAll('[data-notice=\"tabs\"] button')[0].click()")
    assert value(second, "bath.length") == "62 in"
    assert second.evaluate("document.querySelector('[data-notice=\"tabs\"]') === null")
    # The third types on without choosing: its plan becomes another, and the first one's stays.
    answer(third, "bath.length", "63 in")
    wait_kept(third, "62 in", "63 in")
    assert value(first, "bath.length") == "62 in"
    third.reload()
    until(third, "document.querySelector('[name=\"bath.length\"]').value === '63 in'")
    first.reload()
    until(first, "document.querySelector('[name=\"bath.length\"]').value === '62 in'")


def test_a_link_copied_right_after_typing_is_the_plan_typed(own):
    page = own.page
    for number in (64, 65, 66):
        page.evaluate("""(text) => { const field = document.querySelector('[name="bath.length"]'); field.value = text;
            field.dispatchEvent(new Event("input", {bubbles: true})); }""", f"{number} in")
        assert f"bath.length={number}+in" in copied(page)


def test_links_and_files_are_right_while_python_starts_and_when_it_has_failed(open_page, address, tmp_path):
    page = open_page(f"{address}/plan/index.html", ready=False, script="delete window.WebAssembly;").page
    page.wait_for_selector('html[data-engine="failed"]', timeout=120_000)
    answer(page, "bath.length", "61")
    assert "#plan=2&bath.length=61&end=" in copied(page)
    answer(page, "units", "metric")
    answer(page, "bath.width", "70")
    link = copied(page)
    assert "bath.length=61+in" in link and "units=metric" in link and "bath.width=70" in link
    with page.expect_download() as waiting:
        press(page, "save-file")
    waiting.value.save_as(tmp_path / "plan.json")
    assert json.loads((tmp_path / "plan.json").read_text())["plan"] == {
        "bath.length": "61 in", "bath.width": "70", "units": "metric"}
    until(page, "document.querySelector('[data-saved]').textContent.startsWith('Saved')")
    assert json.loads(page.evaluate("localStorage.getItem('raftwright.plan')"))["plan"]["bath.length"] == "61 in"


def test_what_is_typed_while_units_change_is_not_lost(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    answer(page, "bath.length", "61")
    page.evaluate("""() => {
        const set = (name, text) => { const one = document.querySelector(`[name="${name}"]`); one.value = text;
            one.dispatchEvent(new Event("input", {bubbles: true})); };
        set("units", "metric"); set("bath.width", "70");
    }""")
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '61 in'")
    assert value(page, "bath.width") == "70"


FILES = [
    ("half a character", {"plan": {"bath.length": "6\ud8001 in", "bath.width": "31 in"}, "version": VERSION},
     "half a character", "31 in"),
    ("a list", {"bath.length": ["30 in"], "bath.width": "31 in"}, "a list or a group", "31 in"),
    ("a newer version", {"plan": {"bath.width": "31 in", "future.thing": "5"}, "version": 99},
     "newer version", "31 in"),
    ("an endless cell", {"bath.width": "31 in", "bath.length": "9" * 250_000}, "250,000 characters", "31 in"),
    ("an endless row number", {"bath.width": "31 in", f"air.pumps.{'9' * 5000}.name": "x"}, "not a question", "31 in"),
    ("an endless version", '{"plan": {"bath.width": "31 in"}, "version": ' + "9" * 6000 + "}",
     "newer version", "31 in"),
    ("an endless whole number", '{"bath.width": "31 in", "bath.length": ' + "9" * 6000 + "}",
     "6,000 characters", "31 in"),
]


@pytest.mark.parametrize(("name", "content", "words", "width"), FILES, ids=[one[0] for one in FILES])
def test_a_file_that_cannot_be_read_whole_is_told_kept_and_harms_no_later_visit(
        open_page, address, tmp_path, name, content, words, width):
    watched = open_page(f"{address}/plan/index.html")
    page = watched.page
    file = tmp_path / "plan.json"
    file.write_text(content if isinstance(content, str) else json.dumps(content), encoding="utf-8")
    with page.expect_file_chooser() as chooser:
        press(page, "open-file")
    chooser.value.set_files(file)
    until(page, "document.querySelector('[data-notice=\"unread\"]') !== null")
    assert words in status(page)
    assert value(page, "bath.width") == width
    original, = page.evaluate(ORIGINALS)
    assert original["text"] == file.read_text(encoding="utf-8") and original["why"]
    with page.expect_download() as waiting:
        page.evaluate("document.querySelector('[data-notice=\"unread\"] button').click()")
    waiting.value.save_as(tmp_path / "original")
    assert (tmp_path / "original").read_text(encoding="utf-8") == file.read_text(encoding="utf-8")
    answer(page, "bath.depth", "13 in")
    page.reload()
    page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    assert value(page, "bath.width") == width and value(page, "bath.depth") == "13 in"
    assert watched.complaints == []


def test_a_file_that_is_no_plan_changes_nothing(own, tmp_path):
    page = own.page
    for text, words in (("not a plan", "not JSON"), ("[1]", "no list of answers"), ("[" * 100_000, "nested deeper"),
                        ("x" * 1_000_001, "larger than any plan")):
        file = tmp_path / "bad.json"
        file.write_text(text, encoding="utf-8")
        with page.expect_file_chooser() as chooser:
            press(page, "open-file")
        chooser.value.set_files(file)
        until(page, "(words) => document.getElementById('action-status').textContent.includes(words)", words)
        assert value(page, "bath.length") == "61 in"


@pytest.mark.parametrize("text", [
    "{", '"x"', json.dumps({"version": 2, "plan": {"bath.length": ["30 in"], "bath.width": "31 in"}}),
    json.dumps({"version": 2, "plan": {"bath.length": "9" * 250_000}})])
def test_a_kept_plan_that_cannot_be_read_is_set_aside_and_told(open_page, address, text):
    watched = open_page(f"{address}/plan/index.html")
    page = watched.page
    page.evaluate("(text) => localStorage.setItem('raftwright.plan', text)", text)
    page.reload()
    until(page, "document.querySelector('[data-notice=\"unread\"]') !== null")
    assert "cannot be read" in status(page)
    assert [one["text"] for one in page.evaluate(ORIGINALS)] == [text]
    page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    answer(page, "bath.depth", "13 in")
    page.wait_for_timeout(600)
    page.reload()
    assert value(page, "bath.depth") == "13 in"
    assert watched.complaints == []


def test_a_plan_of_a_newer_version_is_never_written_over(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    future = {"id": "future", "name": "Tomorrow's", "plan": {"bath.length": "61 in", "future.thing": "5"},
              "version": 99, "changed": 5, "stamp": "s"}
    page.evaluate("""(record) => new Promise((resolve) => {
      const asked = indexedDB.open("raftwright-plans", 1);
      asked.onupgradeneeded = () => { asked.result.createObjectStore("plans", {keyPath: "id"});
        asked.result.createObjectStore("originals", {keyPath: "id"}); };
      asked.onsuccess = () => {
        const work = asked.result.transaction("plans", "readwrite");
        work.objectStore("plans").put(record);
        work.oncomplete = () => { asked.result.close(); resolve(); };
      };
    })""", future)
    page.evaluate("document.querySelector('details.menu').open = true")
    until(page, "document.querySelector('[data-kept-plan=\"future\"]') !== null")
    page.evaluate("document.querySelector('[data-kept-plan=\"future\"]').click()")
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '61 in'")
    until(page, "document.querySelector('[data-notice=\"unread\"]') !== null")
    answer(page, "bath.length", "62 in")
    wait_kept(page, "61 in", "62 in")
    assert future in kept(page)


def test_messages_go_when_they_are_no_longer_true(own):
    page = own.page
    copied(page)
    until(page, "document.getElementById('action-status').textContent.includes('Link copied')")
    answer(page, "bath.length", "62 in")
    assert page.inner_text("#action-status") == ""


WATCHED_WORKERS = """window.workers = []; const Original = Worker;
window.Worker = class extends Original { constructor(...given) { super(...given); window.workers.push(this); } };"""


def test_a_worker_that_dies_while_idle_is_noticed_and_started_again(open_page, address):
    page = open_page(f"{address}/plan/index.html", script=WATCHED_WORKERS).page
    # Memory is kept on a first visit alone; a page that began from it has none to keep.
    page.wait_for_selector('html[data-snapshot], html[data-engine-from="snapshot"]', timeout=120_000)
    page.wait_for_timeout(1000)
    assert page.evaluate("workers.length") == 1, "a worker that lives was given up"
    page.evaluate("workers[0].terminate()")
    until(page, "workers.length === 2", seconds=20)
    page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    before = page.inner_text('output[data-key="water.working_volume"] >> nth=0')
    answer(page, "bath.length", "66 in")
    until(page, """(before) =>
        document.querySelector('output[data-key="water.working_volume"]').textContent !== before""", before)


def test_a_long_calculation_says_that_it_is_still_counting(open_page, address):
    slow = """const Original = Worker; window.Worker = class extends Original {
        postMessage(data) { if (data.type === "run" && window.slow) setTimeout(() => super.postMessage(data), 4000);
            else super.postMessage(data); } };"""
    page = open_page(f"{address}/plan/index.html", script=slow).page
    page.evaluate("window.slow = true")
    answer(page, "bath.length", "66 in")
    until(page, "document.getElementById('engine-status').textContent.includes('Still counting')")
    page.evaluate("window.slow = false")
    until(page, "document.getElementById('engine-status').textContent === ''")


def test_a_folders_address_without_its_slash_is_found_offline(open_page, offline, address):
    page = open_page(f"{address}/plan#step=air", context=offline, ready=False).page
    assert page.url == f"{address}/plan/#step=air"
    assert page.locator('section[data-step="air"]').count() == 1
    until(page, "getComputedStyle(document.body).margin !== ''")
    page.close()
