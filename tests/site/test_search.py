"""The search: its index is small, loaded when used, finds what a beginner types, and leads only to places that are."""

from __future__ import annotations

import gzip
import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import expect
from tools import finding

# Bytes of the index, as served and as packed on the way; `du` of the assets says what they are today.
MOST_BYTES, MOST_PACKED = 480_000, 120_000


@pytest.fixture(scope="module")
def made(dist: Path) -> dict:
    text = next((dist / "assets").glob("finding.*.js")).read_text(encoding="utf-8")
    return json.loads(text.removeprefix("self.raftwrightFinding=").rstrip(";\n"))


def addresses(made: dict) -> list[str]:
    return [made["pages"][page] + (f"#{place}" if place else "") for _, _, page, place, _ in made["entries"]]


def test_the_index_is_small_and_the_program_smaller(dist):
    index = next((dist / "assets").glob("finding.*.js")).read_bytes()
    program = next((dist / "assets").glob("search.*.js")).read_bytes()
    assert len(index) <= MOST_BYTES and len(gzip.compress(index, 9)) <= MOST_PACKED
    assert len(program) <= 25_000


def test_every_entry_leads_to_a_place_that_is_there(dist, made):
    read: dict[str, str] = {}
    for at in addresses(made):
        path, _, place = at.partition("#")
        text = read.setdefault(path, (dist / path).read_text(encoding="utf-8"))
        assert not place or f'id="{place}"' in text, at


def test_guides_words_questions_and_results_are_all_in_it(made):
    from calc.plan import FIELDS
    from calc.solve import SPECS
    from tools import glossary, guides
    titles: dict[str, set[str]] = {}
    for kind, title, *_ in made["entries"]:
        titles.setdefault(made["kinds"][kind], set()).add(title)
    assert {word.name for word in glossary.read()} == titles["word"]
    assert len([title for title in titles["guide"] if ": " not in title]) >= len(list(guides.FOLDER.glob("*.md"))) - 3
    asked = {field.label for key, field in FIELDS.items() if key != "units"}
    assert asked <= titles["question"]
    assert {spec.label for spec in SPECS.values() if spec.kind != "rows"} <= titles["result"]


def test_other_words_lead_to_words_that_are_explained():
    from tools import glossary
    assert set(finding.ALSO) <= {word.name for word in glossary.read()}


def test_a_page_is_cut_at_its_headings():
    page = ('<main id="main"><h1>T</h1><p>first</p><svg>no</svg><h2 id="a">A <b>b</b></h2><p>one &amp; two</p>'
            '<nav>no</nav><h2 id="c">C</h2><p>three</p></main><footer>no</footer>')
    found = list(finding.parts("guide", "T", "x.html", page, "sum"))
    assert [(one.title, one.at, one.words) for one in found] == [
        ("T", "x.html", "sum T first"), ("T: A b", "x.html#a", "one & two"), ("T: C", "x.html#c", "three")]
    assert finding.shortened("one two three", 9) == "one two …" and finding.shortened("one", 9) == "one"


def results(page) -> list[str]:
    return page.locator("#search-results a").all_text_contents()


def asked(page, words: str) -> None:
    page.fill("#search-box", words)
    page.keyboard.press("Enter")
    # The line names what was asked for, or counts; the page has answered once it differs.
    expect(page.locator("#search-status")).not_to_be_empty()


@pytest.mark.parametrize(("words", "leads"), [
    ("power cut", "guides/the-power-cut/index.html"), ("sump", "reference/words/index.html#word-reservoir"),
    ("slimy roots", "guides/read-roots-and-leaves/index.html"), ("alkalinty", "word-alkalinity"),
    ("hole saw", "guides/cut-the-raft/index.html"), ("how much acid", "guides/ph-without-fear/index.html"),
    ("DWC", "word-deep-water-culture-raft"), ("hose bore", "plan/index.html#step=air"),
    ("chloramine", "guides/which-water/index.html"), ("electricity cost", "running"),
    ("mosquitoes", "safety/index.html"), ("kerf", "word-kerf"), ("teacher", "lesson/index.html"),
])
def test_what_a_beginner_types_is_found_among_the_first(open_page, address, words, leads):
    page = open_page(f"{address}/search/index.html", ready=False).page
    asked(page, words)
    expect(page.locator("#search-results li").first).to_be_visible()
    found = page.locator("#search-results a").evaluate_all("(all) => all.slice(0, 8).map((one) => one.href)")
    assert any(leads in one for one in found), found


def test_the_index_is_fetched_only_when_the_box_is_used(open_page, address):
    watched = open_page(f"{address}/search/index.html", ready=False)
    watched.page.wait_for_load_state("networkidle")
    assert not [url for url in watched.requests if "/finding." in url]
    watched.page.focus("#search-box")
    asked(watched.page, "algae")
    expect(watched.page.locator("#search-results li").first).to_be_visible()
    assert len([url for url in watched.requests if "/finding." in url]) == 1
    assert watched.complaints == []


def test_nothing_found_is_said_with_words_to_try(open_page, address):
    page = open_page(f"{address}/search/index.html", ready=False).page
    asked(page, "xylophone")
    expect(page.locator("#search-status")).to_contain_text("Nothing was found for “xylophone”")
    offers = page.locator("#search-offered button")
    assert offers.count() >= 3
    words = offers.first.text_content()
    offers.first.click()
    expect(page.locator("#search-results li").first).to_be_visible()
    assert page.input_value("#search-box") == words
    assert page.evaluate("document.activeElement.id") == "search-box"


def test_an_address_with_words_shows_their_results_and_back(open_page, address):
    page = open_page(f"{address}/search/index.html#q=air%20stone", ready=False).page
    expect(page.locator("#search-results li").first).to_be_visible()
    assert page.input_value("#search-box") == "air stone"
    assert re.fullmatch(r"\d+ results(, the first 30 of them)?\.", page.locator("#search-status").text_content())
    page.fill("#search-box", "the")
    expect(page.locator("#search-status")).to_have_text("Type one more word: these are in every text.")
    page.fill("#search-box", "")
    expect(page.locator("#search-results li")).to_have_count(0)


def test_it_works_from_a_disk(open_page, dist):
    page = open_page(f"{dist.as_uri()}/search/index.html", ready=False).page
    asked(page, "drip loop")
    expect(page.locator("#search-results li").first).to_be_visible()
    page.locator("#search-results a").first.click()
    page.wait_for_url(re.compile(r"^file:.*(reference/words|safety|guides).*"))


def test_a_keyboard_is_enough(open_page, address):
    page = open_page(f"{address}/search/index.html", ready=False).page
    page.focus("#search-box")
    page.keyboard.type("liner")
    expect(page.locator("#search-results li").first).to_be_visible()
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.closest('#search-results') !== null")


def test_the_search_is_in_the_menu_of_every_page(dist):
    for file in dist.rglob("*.html"):
        assert re.search(r'href="[./]*search/index\.html"', file.read_text(encoding="utf-8")), file
