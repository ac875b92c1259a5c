"""The page of kept plans: nothing is lost or doubled, whatever is pressed and whatever a file holds."""

from __future__ import annotations

import json

import pytest

from calc.data.versions import VERSION
from tests.site.access import AXE_COLOURS, AXE_RULES, WITHOUT_PYTHON, checker
from tests.site.test_keeping import KEPT, NO_DATABASE, NO_STORAGE, ORIGINALS, answer, value, wait_kept
from tests.site.test_log_safety import PUT as PUT_INTO
from tests.site.waiting import until

pytestmark = pytest.mark.browser

SETTLED = "document.querySelector('[data-shelf][data-settled]') !== null"
PUT = KEPT.replace("() =>", "(plans) =>", 1).replace('''
    const all = asked.result.transaction("plans").objectStore("plans").getAll();
    all.onsuccess = () => { asked.result.close(); resolve(all.result); };''', '''
    const writing = asked.result.transaction("plans", "readwrite");
    for (const one of plans) writing.objectStore("plans").put(one);
    writing.oncomplete = () => { asked.result.close(); resolve(); };''')
assert "writing.oncomplete" in PUT


def record(number: int, **more) -> dict:
    """A plan as the planner keeps it."""
    return {"id": f"plan{number:04}", "name": f"Plan {number}", "plan": {"bath.length": f"{40 + number % 50} in"},
            "version": VERSION, "changed": 1_790_000_000_000 - number * 1000, "stamp": f"state{number}", **more}


def shelf_of(open_page, base, plans, script: str = ""):
    """The shelf with these plans on it, once all of them are told."""
    watched = open_page(f"{base}/offline/index.html", ready=False, script=script)
    watched.page.evaluate(PUT, plans)
    return go(watched)


def go(watched):
    """The shelf in this tab, once all plans are told."""
    watched.page.set_default_timeout(40_000)
    watched.page.goto(watched.page.url.split("#")[0].rsplit("/", 2)[0] + "/shelf/index.html")
    until(watched.page, SETTLED)
    return watched


def kept(page) -> dict[str, dict]:
    """What stands in the database, by id."""
    return {one["id"]: one for one in page.evaluate(KEPT)}


def names(page) -> list[str]:
    return page.locator(".plan-row h2 a").all_text_contents()


def row(page, number: int):
    return page.locator(f'[data-id="plan{number:04}"]')


def more(page, number: int, button: str) -> None:
    """Press a button of a plan's menu."""
    row(page, number).locator("summary").click()
    row(page, number).get_by_role("button", name=button).click()


def bring_in(page, text: str, name: str = "shelf.json") -> list[str]:
    """Open a file, and what was said of it line by line."""
    page.evaluate("document.querySelector('[data-notice]')?.remove()")
    with page.expect_file_chooser() as chosen:
        page.evaluate("document.querySelector('[data-action=\"bring-in\"]').click()")
    chosen.value.set_files([{"name": name, "mimeType": "application/json", "buffer": text.encode()}])
    until(page, "document.querySelector('[data-notice=\"brought\"]') !== null")
    until(page, SETTLED)
    return page.locator('[data-notice="brought"] li').all_text_contents()


def save_all(page) -> str:
    with page.expect_download() as saved:
        page.evaluate("document.querySelector('[data-action=\"save-all\"]').click()")
    assert saved.value.suggested_filename.startswith("raftwright-shelf-20")
    return saved.value.path().read_text(encoding="utf-8")


def test_the_shelf_tells_its_plans_and_draws_them_to_one_scale(open_page, base):
    plans = [record(1, plan={"bath.length": "48 in"}, note="By the wash-house"),
             record(2, plan={"bath.length": "24 in"})]
    watched = shelf_of(open_page, base, plans)
    page = watched.page
    assert names(page) == ["Plan 1", "Plan 2"]
    assert row(page, 1).locator(".plan-note").text_content() == "By the wash-house"
    assert row(page, 1).locator(".glance dd").first.text_content() == "65.9 gal"
    assert row(page, 1).locator(".standings .word").count() > 0
    sizes = page.evaluate("""[...document.querySelectorAll('.miniature svg')].map((one) => [
        one.getAttribute('width') / one.viewBox.baseVal.width, one.getBoundingClientRect().width
        / one.viewBox.baseVal.width])""")
    assert len(sizes) == 2 and all(one == pytest.approx(sizes[0][0], rel=0.02) for pair in sizes for one in pair)
    bar = page.evaluate("document.querySelector('[data-scale] svg').getAttribute('width')")
    feet = int(page.text_content("[data-scale] b").removesuffix(" ft"))
    assert float(bar) == pytest.approx(sizes[0][0] * feet * 30.48, rel=0.02), "a foot on the bar is a foot drawn"
    assert page.is_visible("[data-from-disk]") == base.startswith("file:")
    assert watched.complaints == []


def test_two_hundred_plans_stand_there_without_python_and_are_asked_about_once(open_page, address):
    page = shelf_of(open_page, address, [record(number) for number in range(3)]).page
    told = next(iter(kept(page).values()))["glance"]
    many = [record(number, glance={**told, "stamp": f"state{number}"}) for number in range(200)]
    page.evaluate(PUT, many)
    page.reload()
    until(page, "document.querySelectorAll('.plan-row .glance dd').length === 800")
    until(page, SETTLED)
    assert page.get_attribute("html", "data-engine") is None, "Python was started for plans that were told"
    page.fill("[data-find]", "Plan 19")
    assert page.locator(".plan-row:visible").count() == 11
    assert page.text_content("[data-found]") == "11 of 200 found"


def test_without_python_all_plans_are_there(open_page, address):
    watched = open_page(f"{address}/offline/index.html", ready=False, script=WITHOUT_PYTHON)
    watched.page.evaluate(PUT, [record(1), record(2)])
    watched.page.goto(f"{address}/shelf/index.html")
    until(watched.page, "document.querySelectorAll('.plan-row').length === 2")
    assert names(watched.page) == ["Plan 1", "Plan 2"]


def test_a_plan_opens_and_a_new_one_begins_beside_it(open_page, base):
    page = shelf_of(open_page, base, [record(1), record(2)]).page
    page.click('[data-id="plan0002"] h2 a')
    page.wait_for_selector('html[data-engine="ready"]')
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '42 in'")
    assert page.text_content("[data-plan-name]") == "Plan 2"
    answer(page, "bath.length", "52 in")
    wait_kept(page, "41 in", "52 in")
    go_to = page.url.rsplit("/", 2)[0]
    page.goto(f"{go_to}/shelf/index.html")
    until(page, SETTLED)
    page.click(".shelf-acts >> text=New plan")
    page.wait_for_selector('html[data-engine="ready"]')
    until(page, "document.querySelector('[data-plan-name]').textContent === 'Your raft bath'")
    answer(page, "bath.length", "33 in")
    wait_kept(page, "33 in", "41 in", "52 in")
    assert "#" not in page.url


def test_a_plan_that_is_gone_leaves_the_one_in_hand(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    answer(page, "bath.length", "61 in")
    wait_kept(page, "61 in")
    page.goto("about:blank")
    page.goto(f"{address}/plan/index.html#kept=nosuchplan")
    until(page, "document.getElementById('action-status').textContent.includes('no longer on this machine')")
    assert value(page, "bath.length") == "61 in"


def test_copy_name_and_note(open_page, address):
    page = shelf_of(open_page, address, [record(1)]).page
    more(page, 1, "Copy this plan")
    until(page, "document.querySelectorAll('.plan-row').length === 2")
    assert names(page) == ["Copy of Plan 1", "Plan 1"]
    assert page.evaluate("document.activeElement.textContent") == "Copy of Plan 1"
    made = next(one for one in kept(page).values() if one["id"] != "plan0001")
    assert made["copyOf"] == "plan0001" and made["plan"] == record(1)["plan"]
    row(page, 1).locator("summary").click()
    fields = row(page, 1).locator(".menu input, .menu textarea")
    fields.nth(0).fill("Behind the shed")
    fields.nth(1).fill("Concrete floor")
    fields.nth(1).blur()
    until(page, "document.querySelector('[data-id=\"plan0001\"] .plan-note').textContent === 'Concrete floor'")
    page.reload()
    until(page, SETTLED)
    assert names(page)[1] == "Behind the shed"
    assert kept(page)["plan0001"]["note"] == "Concrete floor"
    assert "copy of “Behind the shed”" in page.locator(".when").first.text_content()


def test_a_note_outlives_what_the_planner_writes(open_page, address):
    page = shelf_of(open_page, address, [record(1, note="Concrete floor")]).page
    page.click('[data-id="plan0001"] h2 a')
    page.wait_for_selector('html[data-engine="ready"]')
    answer(page, "bath.length", "52 in")
    wait_kept(page, "52 in")
    assert kept(page)["plan0001"]["note"] == "Concrete floor"
    until(page, f"({KEPT})().then((all) => all[0].glance && all[0].glance.stamp === all[0].stamp)")
    assert kept(page)["plan0001"]["step"] == {"name": "tank", "title": "1 Bath"}


def test_delete_and_undo(open_page, address):
    page = shelf_of(open_page, address, [record(1), record(2)]).page
    more(page, 1, "Delete")
    until(page, "document.querySelector('.plan-row.gone') !== null")
    assert names(page) == ["Plan 2"] and page.text_content("[data-count-plans]") == "1"
    assert page.evaluate("document.activeElement.textContent") == "Undo"
    page.keyboard.press("Enter")
    until(page, "document.querySelector('.plan-row.gone') === null")
    assert names(page) == ["Plan 1", "Plan 2"]
    assert page.evaluate("document.activeElement.textContent") == "Plan 1"
    assert "deleted" not in kept(page)["plan0001"]
    more(page, 1, "Delete")
    until(page, "document.querySelector('.plan-row.gone') !== null")
    page.reload()
    until(page, SETTLED)
    assert names(page) == ["Plan 2"]
    page.click("[data-aside] summary")
    page.click("text=Bring back")
    until(page, "document.querySelectorAll('.plan-row h2').length === 2")
    assert page.is_hidden("[data-aside]")


def test_what_was_deleted_long_ago_goes_and_what_was_lately_stays(open_page, address):
    page = shelf_of(open_page, address, [record(1)]).page
    now = page.evaluate("Date.now()")
    page.evaluate(PUT, [record(2, deleted=now - 31 * 86_400_000), record(3, deleted=now - 29 * 86_400_000)])
    page.reload()
    until(page, SETTLED)
    assert set(kept(page)) == {"plan0001", "plan0003"}
    assert names(page) == ["Plan 1"]


def test_the_plan_in_hand_stays_deleted_when_the_planner_is_opened(open_page, address):
    watched = open_page(f"{address}/plan/index.html")
    page = watched.page
    answer(page, "bath.length", "61 in")
    wait_kept(page, "61 in")
    go(watched)
    page.locator(".plan-row summary").click()
    page.get_by_role("button", name="Delete").click()
    until(page, "document.querySelector('.plan-row.gone') !== null")
    page.goto(f"{address}/plan/index.html")
    page.wait_for_selector('html[data-engine="ready"]')
    assert value(page, "bath.length") == "48 in"
    go(watched)
    assert names(page) == []
    page.click("[data-aside] summary")
    page.click("text=Bring back")
    until(page, "document.querySelectorAll('.plan-row h2').length === 1")


def test_all_in_one_file_and_back_without_doubling(open_page, address):
    plans = [record(1, note="Concrete floor"), record(2), record(3, plan=record(2)["plan"], copyOf="plan0002")]
    page = shelf_of(open_page, address, plans).page
    text = save_all(page)
    assert page.text_content("[data-copied]") != "none yet"
    assert "glance" not in text and "svg" not in text
    before = kept(page)
    assert bring_in(page, text) == [f"“Plan {number}”: here already." for number in (1, 2, 3)]
    assert kept(page).keys() == before.keys()
    # On another machine.
    page.evaluate("indexedDB.deleteDatabase('raftwright-plans')")
    page.reload()
    until(page, SETTLED)
    assert names(page) == [] and page.is_visible(".shelf-empty")
    bring_in(page, text)
    after = kept(page)
    beside = ("id", "name", "note", "copyOf", "plan", "version", "changed")
    assert {key: {name: one.get(name) for name in beside} for key, one in after.items()} == {
        one["id"]: {name: one.get(name) for name in beside} for one in plans}


def test_a_plan_that_says_something_else_here_is_kept_beside(open_page, address):
    page = shelf_of(open_page, address, [record(1)]).page
    text = save_all(page)
    other = text.replace("41 in", "77 in")
    assert "77 in" in other
    said = bring_in(page, other)
    assert "Both are kept" in said[0]
    assert sorted(one["plan"]["bath.length"] for one in kept(page).values()) == ["41 in", "77 in"]
    assert bring_in(page, other) == ["“Plan 1”: here already."]
    assert len(kept(page)) == 2


def test_a_deleted_plan_comes_back_from_a_file(open_page, address):
    page = shelf_of(open_page, address, [record(1)]).page
    text = save_all(page)
    more(page, 1, "Delete")
    until(page, "document.querySelector('.plan-row.gone') !== null")
    assert bring_in(page, text) == ["“Plan 1”: was deleted here, and is back."]
    until(page, "document.querySelectorAll('.plan-row h2').length === 1")
    assert not kept(page)["plan0001"].get("deleted")


BROKEN = {"kind": "raftwright shelf", "format": 9, "plans": [
    {"name": "Good", "plan": {"bath.length": "50 in"}}, {"name": "Newer", "plan": {"bath.length": "51 in", "x.y": "1"},
     "version": 99}, {"name": "Half", "plan": {"bath.length": "52 in", "bath.width": ["24"], "bath.depth": 14}},
    {"name": "No answers"}, "words", {"plan": {"bath.length": None}}]}


def test_a_newer_or_broken_file_is_told_line_by_line_and_loses_nothing(open_page, address):
    page = shelf_of(open_page, address, [record(1)]).page
    text = json.dumps(BROKEN)
    said = bring_in(page, text)
    assert said[0].startswith("The file was made by a newer version")
    assert said[1] == "“Good”: added."
    assert "newer version; all of it is kept" in said[2]
    assert "one answer could not be read (bath.width)" in said[3]
    assert said[4] == "“No answers” cannot be read: it holds no answers."
    assert said[5] == "Plan 5 of 6 cannot be read: it holds no answers."
    assert said[6] == "Plan 6 of 6 cannot be read: none of its answers is one."
    by_name = {one["name"]: one for one in kept(page).values()}
    assert by_name["Newer"]["version"] == 99 and by_name["Newer"]["plan"]["x.y"] == "1"
    assert by_name["Half"]["plan"] == {"bath.length": "52 in", "bath.depth": "14"}
    assert [one["text"] for one in page.evaluate(ORIGINALS)] == [text]
    assert page.is_visible("[data-aside]")
    assert "3 plans added, 3 could not be read." in page.text_content("#action-status")


@pytest.mark.parametrize("text", ["{\"plans\": [", "[1, 2]", "\"words\"", "null", "{}"])
def test_what_is_no_file_of_plans_is_set_aside(open_page, address, text):
    page = shelf_of(open_page, address, [record(1)]).page
    bring_in(page, text)
    assert "nothing here was changed" in page.text_content("#action-status")
    assert set(kept(page)) == {"plan0001"}
    assert [one["text"] for one in page.evaluate(ORIGINALS)] == [text]


def test_a_file_of_one_plan_and_a_bare_list_of_answers_come_in(open_page, address):
    page = shelf_of(open_page, address, [record(1)]).page
    with page.expect_download() as saved:
        more(page, 1, "Save as a file")
    assert saved.value.suggested_filename.startswith("plan-1-20")
    one = saved.value.path().read_text(encoding="utf-8")
    assert json.loads(one)["plan"] == record(1)["plan"]
    assert bring_in(page, one) == ["“Plan 1”: here already."]
    bring_in(page, '{"bath.length": "39 in", "no.such": 1}', "bare.json")
    assert "bare" in names(page)


def test_the_small_storage_moves_over_and_what_is_damaged_is_set_aside(open_page, address):
    watched = open_page(f"{address}/offline/index.html", ready=False)
    page = watched.page
    page.evaluate("localStorage.setItem('raftwright.plan', JSON.stringify({plan: {'bath.length': '61 in'}}))")
    go(watched)
    assert names(page) == ["Your raft bath"]
    assert [(one["plan"], one["version"]) for one in kept(page).values()] == [({"bath.length": "61 in"}, 1)]
    page.reload()
    until(page, SETTLED)
    page.evaluate("localStorage.setItem('raftwright.plan', '{\"plan\": {\"bath.length\": ')")
    page.reload()
    until(page, SETTLED)
    assert [one["text"] for one in page.evaluate(ORIGINALS)] == ['{"plan": {"bath.length": ']
    assert page.evaluate("localStorage.getItem('raftwright.plan.unread')") == '{"plan": {"bath.length": '
    with page.expect_download() as saved:
        page.click("[data-aside] summary")
        page.click("text=Save it as a file")
    assert saved.value.path().read_text(encoding="utf-8") == '{"plan": {"bath.length": '


def test_a_damaged_record_is_shown_as_such_and_left_alone(open_page, address):
    damaged = {"id": "plan0009", "plan": "gone", "name": 7}
    page = shelf_of(open_page, address, [record(1), damaged]).page
    assert names(page) == ["Plan 1"]
    assert kept(page)["plan0009"] == damaged
    assert page.text_content("[data-aside-count]") == "1"


def test_a_newer_database_is_read_and_written_as_far_as_it_is_known(open_page, address):
    # In a browser of its own: a database never goes back to an earlier version.
    watched = open_page(f"{address}/offline/index.html", ready=False, fresh=True)
    page = watched.page
    page.evaluate(PUT_INTO, ["raftwright-plans", ["plans", "originals", "photographs"],
                             [[record(1), record(2)], [], [{"id": "p1"}]], 9])
    go(watched)
    assert names(page) == ["Plan 1", "Plan 2"]
    more(page, 1, "Delete")
    until(page, "document.querySelector('.plan-row.gone') !== null")
    after = {one["id"]: one for one in page.evaluate(KEPT.replace('"raftwright-plans", 1', '"raftwright-plans"'))}
    assert after["plan0001"]["deleted"] and "deleted" not in after["plan0002"]
    assert page.evaluate("Object.keys(localStorage).filter((key) => key.startsWith('raftwright.kept.'))") == []
    versions = page.evaluate("indexedDB.databases().then((all) => all.map((one) => [one.name, one.version]))")
    assert dict(versions)["raftwright-plans"] == 9


def test_without_a_database_the_small_storage_serves(open_page, address):
    watched = open_page(f"{address}/plan/index.html", script=NO_DATABASE)
    page = watched.page
    answer(page, "bath.length", "61 in")
    until(page, "Object.keys(localStorage).some((key) => key.startsWith('raftwright.kept.'))")
    go(watched)
    assert names(page) == ["Your raft bath"]
    page.locator(".plan-row summary").click()
    page.get_by_role("button", name="Delete").click()
    until(page, "document.querySelector('.plan-row.gone') !== null")
    page.click("text=Undo")
    until(page, "document.querySelectorAll('.plan-row h2').length === 1")


def test_where_nothing_may_be_kept_the_page_says_so(open_page, address):
    watched = open_page(f"{address}/offline/index.html", ready=False, script=NO_STORAGE + NO_DATABASE)
    go(watched)
    assert watched.page.is_visible("[data-not-kept]") and watched.page.is_visible(".shelf-empty")
    bring_in(watched.page, json.dumps({"plans": [{"name": "Good", "plan": {"bath.length": "50 in"}}]}))
    assert names(watched.page) == ["Good"]


def test_another_tab_is_heard(open_page, address):
    page = shelf_of(open_page, address, [record(1)]).page
    planner = open_page(f"{address}/plan/index.html#kept=plan0001").page
    answer(planner, "bath.length", "99 in")
    wait_kept(planner, "99 in")
    until(page, "document.querySelector('.glance dd')?.textContent === '119 gal'", seconds=60)


def test_a_full_shelf_breaks_no_rule_of_access(open_page, address):
    page = shelf_of(open_page, address, [record(1, note="Concrete floor"), record(2, copyOf="plan0001")]).page
    page.locator(".choose input").first.check(force=True)
    page.locator(".plan-row summary").nth(1).click()
    page.evaluate(checker())
    for scheme, what in (("light", AXE_RULES), ("dark", AXE_COLOURS)):
        page.emulate_media(color_scheme=scheme)
        assert [(one["id"], one["nodes"][0]["html"][:200]) for one in page.evaluate(what)["violations"]] == []
    page.set_viewport_size({"width": 360, "height": 740})
    assert page.evaluate("document.documentElement.scrollWidth") == 360


def test_a_picture_is_saved_copied_and_looked_at(open_page, address):
    watched = shelf_of(open_page, address, [record(1)])
    page = watched.page
    page.evaluate("""() => { navigator.clipboard.write = async ([one]) => {
        window.copied = (await one.getType("image/png")).size; };
        navigator.canShare = () => true;
        navigator.share = async ({files}) => { window.shared = [files[0].name, files[0].size]; }; }""")
    more(page, 1, "Picture to show around")
    until(page, "document.querySelector('dialog.picture-box img')?.naturalWidth === 900")
    with page.expect_download() as saved:
        page.click("dialog >> text=Save as PNG")
    assert saved.value.suggested_filename.startswith("plan-1-20")
    data = saved.value.path().read_bytes()
    assert data[:8] == b"\x89PNG\r\n\x1a\n" and int.from_bytes(data[16:20], "big") == 1800
    with page.expect_download() as saved:
        page.click("dialog >> text=Save as SVG")
    assert saved.value.path().read_text(encoding="utf-8").startswith("<svg ")
    page.click("dialog >> text=Copy")
    until(page, f"window.copied === {len(data)}")
    page.click("dialog >> text=Share")
    until(page, "window.shared !== undefined")
    assert page.evaluate("window.shared")[1] == len(data)
    page.click("dialog >> text=Close")
    until(page, "document.querySelector('dialog') === null")
    assert watched.complaints == []
