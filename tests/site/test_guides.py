"""Guides as pages: read one after the other, drawn for a phone, and printed on three pages at most."""

from __future__ import annotations

import io
import re

import pypdfium2
import pytest
from tools import guides

from calc.topics import TOPICS
from tests.site.access import WITHOUT_PYTHON

FOUND = guides.read_all(guides.FOLDER, [topic.NAME for topic in TOPICS])
NAMES = [guide.name for guide in FOUND]
MOST_PAGES = 3

COUNTED = "window.printed = 0; window.print = () => { window.printed += 1; };"


def text_of(dist, name: str) -> str:
    """The page of a guide."""
    return (dist / "guides" / name / "index.html").read_text(encoding="utf-8")


def test_there_are_guides_for_all_that_a_beginner_does():
    assert len(NAMES) >= 27
    assert {"choose-a-vessel", "build-it", "test-day", "seedlings", "rounds", "read-roots-and-leaves", "harvest",
            "meters-and-drops", "raise-the-ph", "which-water", "one-vessel", "from-flood-table", "costs-and-payback",
            "a-lesson"} <= set(NAMES)
    assert [guide.order for guide in FOUND] == list(range(1, len(FOUND) + 1))
    assert all(guide.promise.endswith(".") for guide in FOUND)


def test_each_leads_to_the_next_and_to_the_one_before(dist):
    for at, name in enumerate(NAMES):
        page = text_of(dist, name)
        said = dict(re.findall(r'<a rel="(next|prev)" href="\.\./\.\./guides/([a-z-]+)/index\.html"', page))
        wanted = {"next": NAMES[at + 1:at + 2], "prev": NAMES[max(at - 1, 0):at]}
        assert said == {key: one[0] for key, one in wanted.items() if one}
        said_at = re.search(rf"Guide {at + 1} of {len(NAMES)}: [^.]+\. About\s+(\d+)\s+minute", page)
        # The plan's own numbers are words too, and are not here.
        assert said_at and abs(int(said_at[1]) - FOUND[at].minutes) <= 1
        assert "reference/" in page.partition('aria-label="Other guides"')[2]


def test_every_page_leads_to_the_one_glossary(dist):
    without = [file for file in dist.rglob("*.html") if "reference/words/index.html" not in file.read_text("utf-8")]
    assert [file.relative_to(dist).as_posix() for file in without] == []


@pytest.mark.parametrize("name", NAMES)
def test_each_has_a_picture_a_case_what_hurts_and_what_is_not_known(name):
    html = FOUND[NAMES.index(name)].html
    assert re.search(r'<figure class="picture[^"]*">\s*<svg [^>]*role="img"[^>]*>\s*<title id="[\w-]+">[^<]+</title>\s*'
                     r'<desc id="[\w-]+">[^<]{40,}</desc>', html)
    assert 'class="invented-mark"' in html and "Marrow Lane" in html
    assert 'class="caution' in html
    assert re.search(r"<h2[^>]*>What (is|nobody|we do) ?not known</h2>", html)


@pytest.mark.browser
def test_a_guide_has_a_button_that_prints_it_where_there_are_scripts(browser, open_page, address):
    page = open_page(f"{address}/offline/index.html", ready=False, script=WITHOUT_PYTHON + COUNTED).page
    # One with a calculator, and one without.
    for name in (next(one.name for one in FOUND if one.topics), next(one.name for one in FOUND if not one.topics)):
        page.goto(f"{address}/guides/{name}/index.html")
        page.get_by_role("button", name="Print this guide").click()
        assert page.evaluate("window.printed") == 1
        page.emulate_media(media="print")
        assert not page.locator("[data-print-guide]").is_visible()
        page.emulate_media(media="screen")
    bare = browser.new_context(java_script_enabled=False)
    page = bare.new_page()
    page.goto(f"{address}/guides/{NAMES[0]}/index.html")
    assert not page.locator("[data-print-guide]").is_visible()
    bare.close()


@pytest.mark.browser
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_guide_is_printed_on_three_pages_without_the_cautions_of_others(browser, address, dist, paper):
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    other = re.search(r'<footer class="site-foot">.*?<strong>Take care:</strong> ([^.]{20,40})',
                      text_of(dist, NAMES[0]), re.DOTALL)
    assert other
    many = {}
    for name in NAMES:
        page.goto(f"{address}/guides/{name}/index.html")
        found = pypdfium2.PdfDocument(io.BytesIO(page.pdf(format=paper, print_background=True)))
        said = " ".join(" ".join(one.get_textpage().get_text_range() for one in found).split())
        assert FOUND[NAMES.index(name)].title in said and "What is not known" in said
        assert " ".join(other[1].split()) not in said, "the caution of every page stays on the screen"
        assert "Where next" not in said and "Open step" not in said
        if len(found) > MOST_PAGES:
            many[name] = len(found)
    context.close()
    assert many == {}
