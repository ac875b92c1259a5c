"""The pages on a slow machine: what is asked while Python is still busy is answered all the same."""

from __future__ import annotations

import pytest

from tests.site.hands import fill, reach
from tests.site.test_keeping import KEPT
from tests.site.test_log import keep, opened, stored
from tests.site.waiting import until

pytestmark = pytest.mark.browser

# A worker that gets no question of a kind until it is released.
HELD = """(() => {
  const send = Worker.prototype.postMessage;
  let held = [];
  let kind = "";
  Worker.prototype.postMessage = function (message, ...more) {
    if (kind && message.type === "run" && JSON.parse(message.text).op === kind) held.push([this, message, more]);
    else send.call(this, message, ...more);
  };
  window.hold = (op) => { kind = op; };
  window.held = () => held.length;
  window.release = () => {
    kind = "";
    for (const [worker, message, more] of held.splice(0)) send.call(worker, message, ...more);
  };
})();"""
# Longer than any pause that the page makes before it asks.
PAUSES = 900


def test_a_working_opened_while_answers_are_under_way_comes_after_them(open_page, address):
    page = open_page(f"{address}/plan/index.html", script=HELD).page
    working = reach(page, 'details[data-keep="w-water.bath_volume"]')
    working.evaluate("(one) => { one.open = false; hold('rest'); }")
    field = page.locator('[name="bath.length"]')
    field.fill("50 in")
    until(page, "held() > 0")
    working.evaluate("(one) => { one.open = true; }")
    page.wait_for_timeout(PAUSES)
    page.evaluate("release()")
    until(page, """document.querySelector('details[data-keep="w-water.bath_volume"] [data-working] math') !== null""")


def test_a_mend_that_comes_after_the_plan_was_saved_is_offered(open_page, address):
    page = open_page(f"{address}/plan/index.html#step=air", script=HELD).page
    page.evaluate("hold('mends')")
    fill(page, "circulation.hose_bore", "1/4 in")
    until(page, "held() > 0")
    until(page, "document.querySelector('[data-saved]').textContent.startsWith('Saved on this machine')")
    page.evaluate("release()")
    until(page, "document.querySelector('section[data-here] button[data-mend]') !== null")


def test_the_invented_log_that_comes_late_does_not_take_the_place_of_the_readers_own(open_page, address):
    page = opened(open_page, address, script=HELD + "hold('invented_days');")
    until(page, "held() > 0")
    keep(page, ph="5.9")
    until(page, "document.getElementById('action-status').textContent.startsWith('Kept: 1 value. ')")
    page.evaluate("release()")
    until(page, "document.documentElement.dataset.drawn === '1'")
    with page.expect_download() as got:
        page.click('.copies [data-action="export-csv"]')
    lines = got.value.path().read_text(encoding="utf-8-sig").splitlines()
    assert len(lines) == 2 and "5.9" in lines[1]


def test_what_a_kept_plan_comes_to_is_written_beside_it_after_a_late_answer(open_page, address):
    page = open_page(f"{address}/plan/index.html", script=HELD).page
    page.evaluate("hold('rest')")
    page.locator('[name="bath.length"]').fill("50 in")
    until(page, "held() > 0")
    until(page, "document.querySelector('[data-saved]').textContent.startsWith('Saved on this machine')")
    page.wait_for_timeout(2 * PAUSES)
    page.evaluate("release()")
    until(page, f"({KEPT})().then(([one]) => one.glance && one.glance.stamp === one.stamp)")


def test_columns_named_while_a_file_is_read_anew_are_all_kept(open_page, address, tmp_path):
    page = opened(open_page, address, script=HELD)
    file = tmp_path / "probe.csv"
    file.write_text("moment,probe 1,probe 2\n2026-11-21 07:12,6.1,1.4\n", encoding="utf-8")
    page.set_input_files('[data-action="import"]', file)
    until(page, "document.querySelectorAll('#coming details select').length === 3")
    for at, meaning in enumerate(("time", "ph")):
        page.locator("#coming details select").nth(at).select_option(meaning)
        until(page, """([at, meaning]) => !document.querySelector('#coming [data-action="import-keep"]:disabled')
            && document.querySelectorAll('#coming details select')[at].value === meaning""", [at, meaning])
    until(page, "document.getElementById('coming').textContent.includes('1 new')")
    page.evaluate("hold('log_csv_read')")
    page.locator("#coming details select").nth(2).select_option("ec:mS/cm")
    until(page, "held() > 0")
    assert page.locator('[data-action="import-keep"]').is_disabled()
    page.evaluate("release()")
    page.click('[data-action="import-keep"]')
    until(page, "document.querySelectorAll('[data-reading]').length === 1")
    (one,) = stored(page)
    assert one["typed"]["ph"] == "6.1" and one["typed"]["ec"] == "1.4"
