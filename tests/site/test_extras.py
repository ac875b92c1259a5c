"""Extras that few readers want: fetched only when asked for, from the site itself, online, offline and from a disk."""

from __future__ import annotations

import re

import numpy
import pytest
import zxingcpp

from tests.site.hands import fill, press, reach

pytestmark = pytest.mark.browser


def read_code(page) -> str:
    """What a camera would read off the code on the page; zxing-cpp is the reader."""
    drawing = page.locator("#link-code svg")
    side = int(drawing.get_attribute("viewBox").split()[2])
    picture = numpy.full((side, side), 255, dtype=numpy.uint8)
    for x, y in re.findall(r"M(\d+) (\d+)h1v1h-1z", drawing.locator("path").get_attribute("d")):
        picture[int(y), int(x)] = 0
    found = zxingcpp.read_barcodes(numpy.kron(picture, numpy.ones((6, 6), dtype=numpy.uint8)))
    return found[0].text if found else ""


def make_code(page) -> None:
    press(page, "square-code")
    page.wait_for_selector("#link-code svg", timeout=120_000)


def test_a_code_holds_the_link_and_goes_when_the_plan_changes(open_page, address):
    watched = open_page(f"{address}/plan/index.html", own=True)
    assert not [one for one in watched.requests if "extra-" in one]
    fill(watched.page, "bath.length", "61 in")
    make_code(watched.page)
    assert len([one for one in watched.requests if "extra-" in one]) == 3
    link = read_code(watched.page)
    assert link.startswith(f"{address}/plan/index.html#plan=2&bath.length=61+in&")
    make_code(watched.page)
    assert len([one for one in watched.requests if "extra-" in one]) == 3
    fill(watched.page, "bath.length", "62 in")
    assert watched.page.locator("#link-code").count() == 0
    assert watched.complaints == [] and all(one.startswith((address, "blob:", "data:")) for one in watched.requests)


def test_from_a_disk_the_code_points_at_the_copy_on_the_web(open_page, dist):
    watched = open_page(f"{dist.as_uri()}/plan/index.html")
    page = watched.page
    press(page, "square-code")
    page.locator("#action-status", has_text="opened from a disk").wait_for()
    reach(page, "#hosted-address").fill("club.example")
    press(page, "square-code")
    page.locator("#action-status", has_text="must begin with https://").wait_for()
    reach(page, "#hosted-address").fill("https://club.example/raft")
    fill(page, "bath.length", "63 in")
    make_code(page)
    assert read_code(page).startswith("https://club.example/raft/plan/index.html#plan=2&bath.length=63+in&")
    page.reload()
    page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    assert page.locator("#hosted-address").input_value() == "https://club.example/raft"
    assert watched.complaints == []


# A plan whose link is too long for a code, kept by an earlier visit, and a worker that answers no plan until released.
HELD = """(() => {
  localStorage.setItem("raftwright.plan", JSON.stringify({version: 1, plan: Object.fromEntries(
    Array.from({length: 20}, (_, n) => [`air.pumps.${n + 1}.name`, "p".repeat(250)]))}));
  const send = Worker.prototype.postMessage;
  let held = [];
  Worker.prototype.postMessage = function (message, ...more) {
    if (held && message.type === "run" && JSON.parse(message.text).op === "solve") held.push([this, message, more]);
    else send.call(this, message, ...more);
  };
  window.release = () => {
    const all = held;
    held = null;
    for (const [worker, message, more] of all) send.call(worker, message, ...more);
  };
})();"""


def test_a_plan_too_long_for_a_code_is_told_even_when_asked_for_before_the_first_answer(open_page, address):
    page = open_page(f"{address}/plan/index.html", script=HELD).page
    # Not by `press`, which waits for the answer that is held.
    page.evaluate("() => document.querySelector('[data-action=square-code]').click()")
    page.evaluate("release()")
    page.locator("#action-status", has_text="more than a square code holds").wait_for(timeout=120_000)
    assert page.locator("#link-code").count() == 0


def test_where_python_cannot_start_no_code_of_another_plan_is_handed_out(open_page, address):
    page = open_page(f"{address}/plan/index.html", ready=False, script="delete window.WebAssembly;").page
    page.wait_for_selector('html[data-engine="failed"]')
    page.locator('[name="bath.length"]').fill("60 in")
    page.evaluate("() => { document.getElementById('action-status').textContent = ''; }")
    page.evaluate("() => document.querySelector('[data-action=square-code]').click()")
    page.locator("#action-status", has_text="lacks WebAssembly").wait_for()
    assert page.locator("#link-code, #link-text").count() == 0


def test_a_damaged_wheel_is_never_installed(open_page, served_copy):
    copy, where = served_copy
    wheel = next((copy / "assets").glob("extra-segno.*"))
    data = bytearray(wheel.read_bytes())
    data[len(data) // 2] ^= 1
    wheel.write_bytes(data)
    page = open_page(f"{where}/plan/index.html").page
    press(page, "square-code")
    page.locator("#action-status", has_text="is damaged").wait_for(timeout=120_000)
    fill(page, "bath.length", "64 in")
    assert page.locator("html").get_attribute("data-engine") == "ready"


def test_offline_an_extra_works_though_never_used_before(open_page, offline, address):
    page = open_page(f"{address}/plan/index.html", context=offline).page
    make_code(page)
    assert read_code(page).startswith(address)
    page.close()


HANG = """(() => {
  const later = window.setTimeout;
  let clock = 0;
  let stop = null;
  window.setTimeout = (action, after, ...more) => {
    const made = later(action, after, ...more);
    if (after === 20000) [clock, stop] = [made, action];
    return made;
  };
  const send = Worker.prototype.postMessage;
  Worker.prototype.postMessage = function (message, ...more) {
    if (message.type === "run" && message.text.includes('"77 in"') && !window.swallowed) {
      window.swallowed = true;
      // The clock of this one question runs out at once; all others keep theirs.
      clearTimeout(clock);
      later(stop, 0);
      return;
    }
    send.call(this, message, ...more);
  };
})();"""


def test_a_calculation_that_never_ends_is_stopped_and_the_plan_stays(open_page, address):
    """The worker is made to hang on one question: it is ended, a new one starts, and what was typed is answered."""
    watched = open_page(f"{address}/plan/index.html", script=HANG)
    page = watched.page
    before = page.locator('output[data-key="water.working_volume"]').first.inner_text()
    page.locator('[name="bath.length"]').fill("77 in")
    page.locator("#action-status", has_text="took too long and was stopped").wait_for()
    page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    page.locator(f'output[data-key="water.working_volume"]:not(:text-is("{before}"))').first.wait_for(timeout=120_000)
    assert page.locator('[name="bath.length"]').input_value() == "77 in"
    assert page.evaluate("window.swallowed") is True
    fill(page, "bath.length", "78 in")
    assert watched.complaints == []


def test_paper_has_the_sizes_typed_and_workings_only_when_asked_for(open_page, address):
    page = open_page(f"{address}/plan/index.html", script="window.print = () => {};").page
    fill(page, "bath.width", "26 1/2 in")
    working = page.locator('details[data-keep="w-water.bath_volume"]')
    page.emulate_media(media="print")
    assert not working.is_visible() and page.locator('[name="bath.width"]').is_visible()
    assert not page.locator('[data-action="print"]').is_visible()
    page.emulate_media(media="screen")
    press(page, "print-workings")
    page.locator('html[data-print="workings"]').wait_for()
    page.emulate_media(media="print")
    assert working.is_visible()
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    assert not working.is_visible()
    # A long formula never runs into the next column.
    page.evaluate("document.documentElement.dataset.print = 'workings'")
    page.set_viewport_size({"width": 700, "height": 900})
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
    wide = page.evaluate("""[...document.querySelectorAll('.formula')].filter((one) => one.scrollWidth >
        one.clientWidth + 1).map((one) => one.closest('.result').querySelector('output').dataset.key)""")
    assert wide == []
