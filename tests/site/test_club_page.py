"""The page of a club: typed, kept, taken along in a file, brought in again, and handed out on two printed pages."""

from __future__ import annotations

import io
import json

import pypdfium2
import pytest

from calc.club import files, invented
from calc.data.versions import VERSION
from tests.site.access import AXE_COLOURS, AXE_RULES, WITHOUT_PYTHON, checker
from tests.site.test_keeping import NO_DATABASE, NO_STORAGE
from tests.site.test_shelf import PUT, record
from tests.site.waiting import until

pytestmark = pytest.mark.browser

SETTLED = "document.querySelector('[data-club][data-settled]') !== null"
OWN = "!document.querySelector('[data-club]').hasAttribute('data-trying')"
CLUBS = """() => new Promise((resolve, reject) => {
  const asked = indexedDB.open("raftwright-clubs", 1);
  asked.onupgradeneeded = () => asked.result.createObjectStore("clubs", {keyPath: "id"});
  asked.onerror = () => reject(asked.error);
  asked.onsuccess = () => {
    const all = asked.result.transaction("clubs").objectStore("clubs").getAll();
    all.onsuccess = () => { asked.result.close(); resolve(all.result); };
  };
})"""
PUT_CLUB = CLUBS.replace("() =>", "(clubs) =>", 1).replace('''
    const all = asked.result.transaction("clubs").objectStore("clubs").getAll();
    all.onsuccess = () => { asked.result.close(); resolve(all.result); };''', '''
    const writing = asked.result.transaction("clubs", "readwrite");
    for (const one of clubs) writing.objectStore("clubs").put(one);
    writing.oncomplete = () => { asked.result.close(); resolve(); };''')
assert "writing.oncomplete" in PUT_CLUB


def club_page(open_page, base, plans=(), clubs=(), script: str = ""):
    watched = open_page(f"{base}/offline/index.html", ready=False, script=script)
    if plans:
        watched.page.evaluate(PUT, list(plans))
    if clubs:
        watched.page.evaluate(PUT_CLUB, list(clubs))
    watched.page.goto(f"{base}/club/index.html")
    until(watched.page, SETTLED, seconds=120)
    return watched


def begin(page) -> None:
    page.click(".invented [data-action='begin']")
    until(page, OWN)
    until(page, SETTLED)


def fill(page, selector: str, text: str) -> None:
    """Type into a field and leave it."""
    page.fill(selector, text)
    page.press(selector, "Tab")


def said(page) -> str:
    return page.text_content('[data-part="verdict"] p')


def verdict_says(page, words: str) -> None:
    """Wait until the verdict holds these words."""
    until(page, "(words) => document.querySelector('[data-part=\"verdict\"]').textContent.includes(words)", words)


def pages_of(page, paper: str = "A4") -> list[str]:
    """The text of each printed page."""
    found = pypdfium2.PdfDocument(io.BytesIO(page.pdf(format=paper, print_background=True)))
    return [one.get_textpage().get_text_range() for one in found]


def bring_in(page, text: str) -> str:
    page.evaluate("document.querySelector('[data-notice]')?.remove()")
    with page.expect_file_chooser() as chosen:
        page.evaluate("document.querySelector('[data-action=\"open-club\"]').click()")
    chosen.value.set_files([{"name": "club.json", "mimeType": "application/json", "buffer": text.encode()}])
    until(page, "document.querySelector('[data-notice=\"brought\"]') !== null")
    until(page, SETTLED)
    return page.text_content('[data-notice="brought"] p')


def club(**more) -> dict:
    """A club as the page keeps it."""
    return {"id": "club01", "name": "The bench", "units": "us", "start": "2027-03-01", "weeks": "12", "on_duty": "1",
            "shared_tools": True, "signed": False, "extra": "", "prices": {}, "buyers": {}, "changed": 1, "stamp": "s1",
            "members": [{"id": f"m{at}", "name": name, "shares": "1"} for at, name in enumerate(("Ana", "Bo", "Cy"))],
            "baths": [{"id": "b1", "name": "Tote", "count": "3", "plan": {}, "version": VERSION}], **more}


def test_a_club_is_typed_and_kept(open_page, base):
    watched = club_page(open_page, base, plans=[record(1, plan={"bath.length": "72 in"})])
    page = watched.page
    begin(page)
    assert "Still open: members, baths." in said(page)
    fill(page, '[data-text="name"]', "The bench")
    for name in ("Ana", "Bo"):
        page.fill("[data-new-member]", name)
        page.press("[data-new-member]", "Enter")
    until(page, "document.querySelectorAll('.member-row').length === 2")
    page.select_option("[data-new-bath]", label="Plan 1")
    page.click('[data-action="add-bath"]')
    until(page, "document.querySelectorAll('.bath-row').length === 1")
    page.select_option("[data-new-bath]", label="The example (invented)")
    page.click('[data-action="add-bath"]')
    until(page, "document.querySelectorAll('.bath-row').length === 2")
    fill(page, ".bath-row:nth-child(2) [data-count]", "3")
    verdict_says(page, "4 baths for 2 members")
    until(page, SETTLED)
    before = said(page)
    price = page.locator('[data-price^="Net pot"]')
    price.fill("41.50")
    price.press("Tab")
    until(page, "(before) => document.querySelector('[data-part=\"verdict\"] p').textContent !== before", before)
    page.select_option("[data-buyer^='Seeds']", label="Bo")
    until(page, "[...document.querySelectorAll('.club-shares tr')].some((one) => /Bo.*Seeds/.test(one.textContent))")
    page.reload()
    until(page, SETTLED, seconds=120)
    assert page.text_content("h1") == "The bench"
    assert page.locator('[data-price^="Net pot"]').input_value() == "41.50"
    assert page.locator("[data-buyer^='Seeds'] option:checked").text_content() == "Bo"
    assert page.locator(".member-row [data-name]").evaluate_all("(all) => all.map((one) => one.value)") == ["Ana", "Bo"]
    assert page.locator(".club-rota tbody tr").count() == 12
    kept, = page.evaluate(CLUBS)
    assert [one["name"] for one in kept["members"]] == ["Ana", "Bo"] and kept["baths"][0]["from"] == "plan0001"
    assert watched.complaints == []


def test_what_cannot_be_read_is_told_beside_its_field(open_page, address):
    page = club_page(open_page, address, clubs=[club()]).page
    fill(page, ".bath-row [data-count]", "lots")
    until(page, "document.querySelector('.bath-row .fault')?.textContent.includes('Baths, line 1, how many')")
    assert page.get_attribute(".bath-row [data-count]", "aria-invalid") == "true"
    fill(page, ".bath-row [data-count]", "2")
    until(page, "document.querySelector('.bath-row .fault') === null")
    fill(page, '[data-text="start"]', "some day")
    until(page, "document.querySelector('.club-asks .fault')?.textContent.startsWith('First day of the rota')")
    fill(page, '[data-text="start"]', "March 8, 2027")
    until(page, "document.querySelector('.club-rota td')?.textContent.includes('Mar 8')")
    assert page.input_value('[data-text="start"]') == "March 8, 2027"


def test_a_member_taken_away_comes_back(open_page, address):
    page = club_page(open_page, address, clubs=[club()]).page
    page.click(".member-row:nth-child(2) button")
    verdict_says(page, "3 baths for 2 members")
    page.click('[data-notice="taken"] >> text=Undo')
    verdict_says(page, "3 baths for 3 members")
    assert page.locator(".member-row [data-name]").evaluate_all("(all) => all.map((one) => one.value)") == [
        "Ana", "Bo", "Cy"]


def test_a_club_goes_into_a_file_and_comes_back_without_doubling(open_page, base):
    page = club_page(open_page, base, clubs=[club()]).page
    with page.expect_download() as saved:
        page.evaluate("document.querySelector('[data-action=\"save-club\"]').click()")
    assert saved.value.suggested_filename.startswith("the-bench-20") and saved.value.suggested_filename.endswith(
        "-club.json")
    text = saved.value.path().read_text(encoding="utf-8")
    assert json.loads(text)["kind"] == "raftwright club"
    assert bring_in(page, text) == "Lines of the file: 4 here already."
    page.evaluate("document.querySelector('[data-action=\"remove-club\"]').click()")
    until(page, "document.querySelector('[data-club]').hasAttribute('data-trying')")
    assert page.is_visible("[data-aside]")
    assert bring_in(page, text) == "Lines of the file: 4 here already."
    until(page, OWN)
    assert page.text_content("h1") == "The bench"
    assert len(page.evaluate(CLUBS)) == 1


def test_a_broken_or_newer_file_loses_nothing(open_page, address):
    page = club_page(open_page, address, clubs=[club()]).page
    before = page.evaluate(CLUBS)
    assert "not JSON text" in bring_in(page, '{"kind": "raftwright club", "mem')
    assert page.evaluate(CLUBS) == before
    told = bring_in(page, json.dumps({"kind": "raftwright club", "format": 9, "id": "other1", "name": "Then",
                                      "teams": 3, "members": [{"id": "x", "name": "Dov"}], "baths": []}))
    assert "set aside" in told
    until(page, "document.querySelector('h1').textContent === 'Then'")
    both = {one["id"]: one for one in page.evaluate(CLUBS)}
    assert set(both) == {"club01", "other1"} and both["other1"]["teams"] == 3
    page.select_option("[data-clubs] select", "club01")
    until(page, "document.querySelector('h1').textContent === 'The bench'")


def test_two_tabs_both_keep_what_they_change(open_page, address):
    first = club_page(open_page, address, clubs=[club()]).page
    second = first.context.new_page()
    second.goto(f"{address}/club/index.html")
    until(second, SETTLED, seconds=120)
    fill(second, '[data-text="name"]', "Renamed")
    until(first, "document.querySelector('h1').textContent === 'Renamed'")
    fill(first, ".member-row:nth-child(1) [data-name]", "Anna")
    until(second, "document.querySelector('.member-row [data-name]').value === 'Anna'")
    kept, = second.evaluate(CLUBS)
    assert kept["name"] == "Renamed" and kept["members"][0]["name"] == "Anna"
    second.close()


def test_a_damaged_club_is_set_aside_and_left_as_it_is(open_page, address):
    broken = {"id": "broken", "members": "Ana"}
    page = club_page(open_page, address, clubs=[broken]).page
    assert page.evaluate("document.querySelector('[data-club]').hasAttribute('data-trying')")
    assert "left as it is" in page.text_content("[data-aside] li")
    begin(page)
    fill(page, '[data-text="name"]', "New")
    until(page, "document.querySelector('h1').textContent === 'New'")
    assert broken in page.evaluate(CLUBS)


@pytest.mark.parametrize("script", [NO_DATABASE, NO_DATABASE + NO_STORAGE], ids=["small storage", "none"])
def test_a_club_is_kept_where_the_browser_lets_it(open_page, address, script):
    watched = open_page(f"{address}/club/index.html", ready=False, script=script)
    page = watched.page
    until(page, SETTLED, seconds=120)
    begin(page)
    fill(page, '[data-text="name"]', "The bench")
    until(page, "document.querySelector('h1').textContent === 'The bench'")
    assert page.is_visible("[data-not-kept]") == (NO_STORAGE in script)
    page.reload()
    until(page, SETTLED, seconds=120)
    assert (page.text_content("h1") == "The bench") == (NO_STORAGE not in script)


def test_a_plan_changed_on_the_shelf_is_offered(open_page, address):
    held = {"id": "b1", "name": "Plan 1", "count": "1", "plan": {"bath.length": "50 in"}, "version": VERSION,
            "from": "plan0001"}
    page = club_page(open_page, address, plans=[record(1, plan={"bath.length": "72 in"})],
                     clubs=[club(baths=[held])]).page
    page.click(".bath-row .newer button")
    until(page, "document.querySelector('.bath-row .newer').hidden")
    assert page.evaluate(CLUBS)[0]["baths"][0]["plan"] == {"bath.length": "72 in"}


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_handout_is_two_pages(open_page, address, paper):
    page = club_page(open_page, address, clubs=[club(signed=True)]).page
    until(page, "document.querySelector('[data-part=\"handout\"] .code svg') !== null")
    first, second = pages_of(page, paper)
    assert "The bench" in first and "3 × Tote" in first and "What to bring" in first and "Ana, Bo, Cy" in first
    assert "Mains by water" in second and "Mar 1" in second.replace("\u00a0", " ") and "or Bo" in second
    for text in (first, second):
        assert "Handout" in text and "This club lies in this browser" not in text
    page.evaluate("document.documentElement.dataset.print = 'list'")
    listed = pages_of(page, paper)
    assert "One list for all" in listed[0] and not any("Handout 1" in one for one in listed)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_handout_is_two_pages_however_large_the_club(open_page, address, paper):
    wide = "WWWWW MMMMM WWWWW MMMMM WWWWW MMMMM WWWWW MMMMM WWWWW MMMMM"
    large = club(name=wide, weeks="52", on_duty="4",
                 members=[{"id": f"m{at}", "name": f"{wide[:50]} {at}"} for at in range(60)],
                 baths=[{"id": f"b{at}", "name": f"{wide[:50]} {at}", "count": "200", "version": VERSION, "plan": {
                     "bath.length": f"{40 + 9 * at} in", "bath.legs": "4", "place.above": "1500 ft"}}
                        for at in range(12)])
    page = club_page(open_page, address, clubs=[large]).page
    found = pages_of(page, paper)
    assert len(found) == 2, [one[:60] for one in found]
    assert "Questions to" in found[0] and "Who has the key" in found[1], "a page has lost its foot"


def test_without_scripts_the_invented_club_is_whole_and_prints(browser, address):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{address}/club/index.html")
    text = page.text_content("main")
    for words in ("Millrace growers (invented)", "Priced in part", "One list for all", "Net pot", "Edda", "Mar 1"):
        assert words in text, words
    assert len(pages_of(page)) == len(pages_of(page, "Letter")) == 2
    context.close()


def test_without_python_what_is_typed_is_kept(open_page, address):
    watched = open_page(f"{address}/offline/index.html", ready=False, script=WITHOUT_PYTHON)
    page = watched.page
    page.evaluate(PUT_CLUB, [club()])
    page.goto(f"{address}/club/index.html")
    until(page, "document.querySelector('h1').textContent === 'The bench'")
    fill(page, '[data-text="name"]', "Kept")
    until(page, "document.querySelector('h1').textContent === 'Kept'")
    assert page.evaluate(CLUBS)[0]["name"] == "Kept"


def test_the_club_page_is_accessible_on_a_phone_and_in_the_dark(open_page, address):
    page = open_page(f"{address}/offline/index.html", ready=False, size=(360, 740)).page
    page.evaluate(PUT_CLUB, [club(weeks="x")])
    page.goto(f"{address}/club/index.html")
    until(page, SETTLED, seconds=120)
    assert page.evaluate("document.documentElement.scrollWidth") == 360
    page.evaluate(checker())
    for scheme, what in (("light", AXE_RULES), ("dark", AXE_COLOURS)):
        page.emulate_media(color_scheme=scheme)
        assert [(one["id"], one["nodes"][0]["html"][:200]) for one in page.evaluate(what)["violations"]] == []


def test_the_file_of_the_page_is_that_of_the_command(open_page, address):
    page = club_page(open_page, address, clubs=[club()]).page
    with page.expect_download() as saved:
        page.evaluate("document.querySelector('[data-action=\"save-club\"]').click()")
    kept, = page.evaluate(CLUBS)
    assert saved.value.path().read_text(encoding="utf-8") == files.written(kept)
    assert invented.CLUB["kind"] == json.loads(files.written(kept))["kind"]


FOLDED = """() => Object.fromEntries([...document.querySelectorAll("details[data-fold]")].map(
  (one) => [one.dataset.fold, !one.open]))"""


def test_a_phone_sees_verdict_and_decisions_first_and_keeps_what_was_opened(open_page, address):
    page = open_page(f"{address}/club/index.html", size=(360, 740)).page
    until(page, SETTLED, seconds=120)
    assert page.evaluate(FOLDED) == {"list": True, "shares": True, "rota": True, "handout": True}
    # What is folded is said in short, and follows what is typed.
    assert page.text_content('[data-part="rota_said"]').startswith("12 weeks, Mar 1 to May 23")
    fill(page, '[data-text="weeks"]', "8")
    until(page, """document.querySelector('[data-part="rota_said"]').textContent.startsWith(
        '8 weeks, Mar 1 to Apr 25')""")
    page.click('[data-fold="rota"] summary')
    until(page, "document.querySelector('[data-fold=\"rota\"]').open")
    page.reload()
    until(page, SETTLED, seconds=120)
    assert page.evaluate(FOLDED) == {"list": True, "shares": True, "rota": False, "handout": True}
    assert page.is_visible(".club-sheet .title-block [data-action='print-handout']")
    # On paper nothing is folded.
    page.evaluate("document.documentElement.dataset.print = 'list'")
    printed = "".join(pages_of(page))
    assert "Net pot" in printed and "Then nobody owes anything" in printed and "May 17 to May 23" in printed


def test_where_there_is_room_the_club_stands_open(open_page, address):
    page = club_page(open_page, address).page
    assert page.evaluate(FOLDED) == dict.fromkeys(("list", "shares", "rota", "handout"), False)


def test_a_long_name_widens_nothing_and_a_price_at_fault_is_told_along_its_line(open_page, address):
    long = "N" * 60
    told = club(name=long, prices={"Hole saw|1 7/8 in": "abc"}, members=[{"id": "m1", "name": long, "shares": "1"},
                                                                         {"id": "m2", "name": "Bo", "shares": "1"}])
    page = club_page(open_page, address, clubs=[told]).page
    until(page, "document.querySelector('.club-list .fault') !== null")
    for width in (1280, 360):
        page.set_viewport_size({"width": width, "height": 740})
        page.evaluate("for (const one of document.querySelectorAll('[data-fold]')) one.open = true")
        assert page.evaluate("document.documentElement.scrollWidth") == width
    assert page.text_content(".club-list .fault") == (
        "Price of Hole saw must be an amount of money, like 12.50; “abc” is not a number.")
    assert page.evaluate("document.querySelector('.club-list .fault').closest('td').cellIndex") == 0
