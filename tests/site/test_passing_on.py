"""A signed link is looked at read-only beside the reader's own plan, of which nothing is replaced."""

from __future__ import annotations

import json

import pytest

from calc.plan import Plan
from calc.render import link
from tests.site.access import AXE_COLOURS, AXE_RULES, checker
from tests.site.test_keeping import KEPT, answer, kept, press, value, wait_kept
from tests.site.waiting import until

pytestmark = pytest.mark.browser

LENGTH = '[name="bath.length"]'
LENT = "document.querySelector('.lent h2') !== null"
NOT_LENT = "document.querySelector('.lent') === null"
SETTLED = "document.querySelector('form[data-plan][data-settled]') !== null"
NASTY = "<img src=x onerror=alert(1)><script>alert(2)</script> & \u201cquoted\u201d"
SIGNED = link.write(Plan({"bath.length": "55 in", "units": "us"}), link.Maker("Ana of Millrace", "Drill it outdoors."))


def own_plan(open_page, base):
    watched = open_page(f"{base}/plan/index.html")
    answer(watched.page, "bath.length", "61 in")
    wait_kept(watched.page, "61 in")
    return watched


def said(page) -> list[tuple]:
    """What stands on the shelf; a page that is opened may write the same once more."""
    return [(one["id"], one["name"], one["plan"]) for one in kept(page)]


def broken(page) -> list[tuple[str, str]]:
    """What breaks a rule of access, with the part that does."""
    return [(rule["id"], rule["nodes"][0]["html"][:200]) for what in (AXE_RULES, AXE_COLOURS)
            for rule in page.evaluate(what)["violations"]]


def visit(page, base, fragment: str) -> None:
    page.goto(f"{base}/plan/index.html{fragment}")
    until(page, LENT)
    until(page, SETTLED)


def test_a_signed_link_stands_beside_the_readers_own_plan_and_goes_again(open_page, base):
    watched = own_plan(open_page, base)
    page = watched.page
    before = said(page)
    visit(page, base, SIGNED)
    assert page.text_content(".lent h2") == "A plan by Ana of Millrace"
    assert page.text_content(".lent blockquote") == "Drill it outdoors."
    assert page.text_content("[data-plan-name]") == "A plan by Ana of Millrace"
    assert value(page, "bath.length") == "55 in"
    assert page.evaluate("document.querySelector('dialog[open]')") is None, "nothing is asked"
    assert page.evaluate("""[...document.querySelectorAll('form [name]')].every((one) => one.name === 'units'
        || one.readOnly || one.disabled)"""), "a question takes answers"
    page.focus(LENGTH)
    page.keyboard.type("9")
    answer(page, "bath.width", "20 in")
    for action in ("undo", "redo", "reset"):
        press(page, action)
    assert said(page) == before, "what stands on the shelf was changed"
    assert page.get_attribute(".paper-links a >> nth=0", "href").endswith("sheet/index.html" + SIGNED)
    page.get_by_role("button", name="Back to my plan").click()
    until(page, NOT_LENT)
    until(page, SETTLED)
    assert (value(page, "bath.length"), value(page, "bath.width")) == ("61 in", "24 in")
    assert "#" not in page.url and page.is_enabled(LENGTH) and page.is_editable(LENGTH)
    assert said(page) == before
    answer(page, "bath.length", "62 in")
    wait_kept(page, "62 in")
    assert watched.complaints == []


def test_make_it_mine_copies_it_as_a_new_plan(open_page, base):
    watched = own_plan(open_page, base)
    page = watched.page
    visit(page, base, SIGNED)
    page.get_by_role("button", name="Make it mine").click()
    until(page, NOT_LENT)
    wait_kept(page, "55 in", "61 in")
    until(page, "document.querySelector('[data-plan-name]').textContent === 'A plan by Ana of Millrace'")
    until(page, f"({KEPT})().then((all) => all.some((one) => one.note === 'Drill it outdoors.'))")
    mine = next(one for one in kept(page) if one["plan"].get("bath.length") == "55 in")
    assert (mine["from"], mine["note"]) == ("Ana of Millrace", "Drill it outdoors.")
    answer(page, "bath.length", "56 in")
    wait_kept(page, "56 in", "61 in")
    press(page, "undo")
    press(page, "undo")
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '61 in'")
    assert watched.complaints == []


def test_a_signed_link_opened_anew_or_reloaded_is_the_same_view(open_page, address):
    page = own_plan(open_page, address).page
    visit(page, address, SIGNED)
    page.reload()
    until(page, LENT)
    assert value(page, "bath.length") == "55 in"
    other = link.write(Plan({"bath.length": "33 in"}), link.Maker("Ben"))
    page.evaluate("(fragment) => { location.hash = fragment; }", other)
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '33 in'")
    assert page.locator(".lent h2").all_text_contents() == ["A plan by Ben"]
    page.get_by_role("button", name="Back to my plan").click()
    until(page, "document.querySelector('[name=\"bath.length\"]').value === '61 in'")
    wait_kept(page, "61 in")


def test_a_kept_plan_chosen_meanwhile_ends_the_look(open_page, address):
    page = own_plan(open_page, address).page
    visit(page, address, SIGNED)
    page.click(".plan-bar details.menu > summary")
    page.wait_for_selector("[data-kept-plan]")
    page.click("[data-kept-plan]")
    until(page, NOT_LENT)
    assert value(page, "bath.length") == "61 in" and page.is_editable(LENGTH)
    wait_kept(page, "61 in")


def test_a_guide_shows_a_signed_plan_too(open_page, address):
    watched = own_plan(open_page, address)
    page = watched.page
    page.goto(f"{address}/guides/air/index.html{SIGNED}")
    until(page, LENT)
    until(page, SETTLED)
    page.get_by_role("button", name="Make it mine").click()
    until(page, NOT_LENT)
    wait_kept(page, "55 in", "61 in")
    assert watched.complaints == []


def test_names_and_notes_are_text_and_nothing_else(open_page, address):
    watched = open_page(f"{address}/plan/index.html")
    page = watched.page
    ran = []
    page.on("dialog", lambda dialog: ran.append(dialog.message))
    visit(page, address, link.write(Plan({"bath.length": "55 in"}), link.Maker(NASTY, NASTY * 9)))
    assert NASTY[:60] in page.text_content(".lent h2")
    assert page.locator(".lent img, .lent script").count() == 0
    assert page.text_content(".lent blockquote") == link.plain(NASTY * 9, 300)
    assert page.locator(".lent .acts button").all_text_contents() == ["Make it mine", "Back to the example"]
    assert ran == [] and watched.complaints == []


def test_a_long_note_is_cut_and_told(open_page, address):
    page = open_page(f"{address}/plan/index.html").page
    visit(page, address, "#plan=2&bath.length=55+in&link.by=Ana&link.note=" + "x" * 10_000 + "&end=000000")
    assert page.text_content(".lent blockquote") == "x" * 300
    told = page.text_content(".lent ul")
    assert "longer than 300 characters" in told and "changed or cut" in told
    assert value(page, "bath.length") == "55 in"


def test_the_menu_asks_for_name_and_note_and_they_are_in_the_link(open_page, address):
    watched = own_plan(open_page, address)
    page = watched.page
    page.context.grant_permissions(["clipboard-read", "clipboard-write"], origin=address)
    page.click(".plan-bar details.menu > summary")
    page.fill('[data-said="link.by"]', "Ana")
    page.fill('[data-said="link.note"]', "By the window\ud83c\udf3f")
    assert "stays on this machine unless" in page.text_content("[data-maker]")
    page.click('.menu [data-action="copy-link"]')
    until(page, "document.getElementById('action-status').textContent.startsWith('Link copied')")
    made = page.evaluate("navigator.clipboard.readText()")
    assert made.endswith(link.write(Plan({"bath.length": "61 in"}), link.Maker("Ana", "By the window\U0001f33f")))
    assert "link.by" not in json.dumps(page.evaluate(KEPT)), "a name went into the kept plan"
    page.reload()
    page.click(".plan-bar details.menu > summary")
    until(page, "document.querySelector('[data-said=\"link.by\"]')?.value === 'Ana'")
    assert page.input_value('[data-said="link.note"]') == ""


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_view_and_the_questions_are_accessible(open_page, address, scheme):
    page = open_page(f"{address}/plan/index.html").page
    page.set_viewport_size({"width": 360, "height": 740})
    page.emulate_media(color_scheme=scheme)
    visit(page, address, SIGNED)
    page.evaluate(checker())
    assert broken(page) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.get_by_role("button", name="Back to the example").click()
    until(page, NOT_LENT)
    page.click(".plan-bar details.menu > summary")
    page.wait_for_selector("[data-maker]")
    assert broken(page) == []
