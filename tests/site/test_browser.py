"""The planner in a real browser: type, see, reload, share, break, keyboard only, by web address and by double-click."""

from __future__ import annotations

import json
import math
import re
import zipfile

import pytest

from calc import history
from calc.data.versions import VERSION
from tests.site.waiting import until

pytestmark = pytest.mark.browser

VOLUME = 'output[data-key="water.working_volume"]'


def volume(page) -> str:
    """The working volume as the page shows it."""
    return page.locator(VOLUME).first.inner_text()


def settle(page) -> None:
    """Wait until what was typed has been answered, in sight and out of sight."""
    page.evaluate("() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)))")
    page.evaluate("async () => { await raftwright.run({op: 'link_read', fragment: ''}); }")
    until(page, "() => !document.querySelector('form[data-plan]:not([data-settled])')")


def reach(page, selector: str):
    """What a selector finds, its step in sight and the folds it lies in open."""
    page.evaluate("""(selector) => { let at = document.querySelector(selector);
        const step = at.closest("section[data-step]");
        if (step && !step.hasAttribute("data-here")) location.hash = `#step=${step.dataset.step}`;
        for (; at; at = at.parentElement) if (at.tagName === "DETAILS") at.open = true; }""", selector)
    settle(page)
    return page.locator(selector)


def press(page, action: str) -> None:
    """Press a button by its action, opening the menu it lies in."""
    reach(page, f'[data-action="{action}"]').first.click()


def fill(page, name: str, text: str) -> None:
    """Type an answer, its step in sight and the fold it lies in open, and leave the field."""
    field = reach(page, f'[name="{name}"]')
    if field.evaluate("(one) => one.tagName") == "SELECT":
        field.select_option(text)
    else:
        field.fill(text)
    field.blur()
    settle(page)


@pytest.fixture(params=["http", "file"])
def base(request, dist):
    """Both ways to open the site."""
    return request.getfixturevalue("address") if request.param == "http" else dist.as_uri()


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


def told(page) -> str:
    """What the page says in its line and in its notices."""
    return page.evaluate("""[...document.querySelectorAll('#action-status, [data-notice]')]
        .map((one) => one.textContent).join(' ')""")


def choose(page, choice: str) -> None:
    """Answer the question whether a plan may take another's place."""
    page.locator(f'dialog[open] [data-choice="{choice}"]').click()


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


def test_a_working_follows_what_is_typed_and_stays_open(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    working = reach(page, 'details[data-keep="w-water.bath_volume"] summary').locator("..")
    until(page, """document.querySelector('details[data-keep="w-water.bath_volume"]').innerText.includes('1.2192 m')""")
    fill(page, "bath.length", "60 in")
    assert working.get_attribute("open") is not None
    until(page, """document.querySelector('details[data-keep="w-water.bath_volume"]').innerText.includes('1.524 m')""")
    reach(page, 'details[data-keep="w-air.water_pressure"] summary')
    until(page, """document.querySelector('details[data-keep="w-air.water_pressure"] math') !== null""")


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


BAD_LENGTHS = ["", "abc", "-4", "0", "1e99", "NaN", "inf", "5 gal", "<b>x</b>", "9" * 400]


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


def failed(page) -> str:
    """What the page says when Python could not start."""
    page.wait_for_selector('html[data-engine="failed"]', timeout=120_000)
    return page.inner_text("#engine-status")


def test_no_webassembly(open_page, address):
    page = open_page(f"{address}/plan/index.html", ready=False, script="delete window.WebAssembly;").page
    assert "lacks WebAssembly" in failed(page)
    assert re.search(r"\d", volume(page))


def test_missing_program_is_told_and_tried_again(open_page, served_copy):
    folder, where = served_copy
    wasm = next((folder / "assets").glob("*.wasm"))
    away = wasm.rename(folder / "away")
    page = open_page(f"{where}/plan/index.html", ready=False).page
    words = failed(page)
    assert "could not be fetched" in words and "404" in words
    assert re.search(r"\d", volume(page))
    page.fill('[name="bath.length"]', "65 in")
    away.rename(wasm)
    before = volume(page)
    page.click("#engine-status button")
    page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    settle(page)
    assert page.input_value('[name="bath.length"]') == "65 in"
    assert volume(page) != before


def test_something_else_in_place_of_the_program_is_told(open_page, served_copy):
    folder, where = served_copy
    next((folder / "assets").glob("*.wasm")).write_bytes(b"<!doctype html><title>Welcome to the cafe</title>")
    page = open_page(f"{where}/plan/index.html", ready=False).page
    assert "refused the calculator's program" in failed(page)


def test_a_mislabelled_program_still_starts(open_page, served_copy):
    _, where = served_copy
    from tools import serve
    kept = serve.Handler.extensions_map
    serve.Handler.extensions_map = {**kept, ".wasm": "text/plain"}
    try:
        page = open_page(f"{where}/plan/index.html").page
    finally:
        serve.Handler.extensions_map = kept
    assert re.search(r"\d", volume(page))


def test_missing_worker_is_told(open_page, served_copy):
    folder, where = served_copy
    next((folder / "assets").glob("worker.*.js")).unlink()
    assert "could not be loaded" in failed(open_page(f"{where}/plan/index.html", ready=False).page)


def test_missing_packed_file_on_a_disk_is_told(open_page, served_copy):
    folder, _ = served_copy
    next((folder / "assets").glob("packed-python*.js")).unlink()
    page = open_page(f"{folder.as_uri()}/plan/index.html", ready=False).page
    assert "missing from this folder" in failed(page)


def test_the_zip_works_from_a_disk(open_page, dist, tmp_path):
    with zipfile.ZipFile(dist / "raftwright.zip") as packed:
        packed.extractall(tmp_path)
    watched = open_page((tmp_path / "raftwright" / "plan" / "index.html").as_uri())
    before = volume(watched.page)
    fill(watched.page, "bath.length", "66 in")
    assert volume(watched.page) != before
    assert watched.complaints == []


def test_second_visit_starts_from_the_kept_memory(open_page, base):
    page = open_page(f"{base}/plan/index.html").page
    # The context in which pages are opened has been here before, where it waited until the memory was kept.
    assert page.get_attribute("html", "data-engine-from") == "snapshot"
    seen = volume(page)
    fill(page, "bath.length", "67 in")
    assert volume(page) != seen


_SPOIL = """(how) => new Promise((resolve, reject) => {
  const asked = indexedDB.open("raftwright", 1);
  asked.onerror = () => reject(asked.error);
  asked.onsuccess = () => {
    const shelf = asked.result.transaction("snapshots", "readwrite").objectStore("snapshots");
    shelf.openCursor().onsuccess = ({target}) => {
      const kept = target.result.value;
      if (how === "cut") kept.packed = kept.packed.slice(0, 1000);
      target.result.update(kept).onsuccess = () => { asked.result.close(); resolve(); };
    };
  };
})"""

_ZEROS = """async () => {
  const zeros = new Uint8Array(1000000);
  const packed = new Uint8Array(await new Response(new Blob([zeros]).stream()
    .pipeThrough(new CompressionStream("gzip"))).arrayBuffer());
  await new Promise((resolve) => {
    const asked = indexedDB.open("raftwright", 1);
    asked.onsuccess = () => {
      const shelf = asked.result.transaction("snapshots", "readwrite").objectStore("snapshots");
      shelf.openCursor().onsuccess = ({target}) => {
        target.result.update({packed, length: 1000000}).onsuccess = () => { asked.result.close(); resolve(); };
      };
    };
  });
}"""


def test_a_spoiled_memory_is_dropped_unseen_and_kept_anew(open_page, address):
    planner = f"{address}/plan/index.html"
    page = open_page(planner, own=True).page
    for spoil in (f"({_SPOIL})('cut')", f"({_ZEROS})()"):
        page.evaluate(spoil)
        page.goto("about:blank")
        page.goto(planner)
        page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
        assert page.get_attribute("html", "data-engine-from") == "start", spoil
        assert page.inner_text("#engine-status") == ""
        # What is kept anew also serves the tests that come after this one.
        page.wait_for_selector('html[data-snapshot="kept"]', timeout=120_000)


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


def test_other_pages_are_quiet(open_page, address):
    for path in ("index.html", "reference/index.html", "checked/index.html", "offline/index.html",
                 "licences/index.html", "guides/index.html"):
        watched = open_page(f"{address}/{path}", ready=False)
        watched.page.wait_for_load_state("networkidle")
        assert watched.complaints == [], path
        assert all(url.startswith((address, "data:")) for url in watched.requests), path
        assert not [url for url in watched.requests if ".wasm" in url], f"{path} fetches Python without need"


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
