"""The exam: twenty questions that a beginner must be able to answer, each answered where the site says it is.

An edit of a guide that loses an answer, or moves it away from its anchor, fails here. Whoever moves one on purpose
names its new place in site_src/questions.toml.
"""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest
from tools import questions

from tests import wording

EXAM = questions.read()
NAMES = [one.ask for one in EXAM]
# What the answers are told on: pages that explain, not pages of figures.
TELLING = re.compile(r"(guides/[a-z-]+|workings/[a-z]+|safety)/index\.html")
LONGEST_SENTENCE, HARDEST = 25, 8.0
_NEXT = re.compile(r"<h[1-6][ >]|</main>")


def after(page: str, anchor: str) -> str:
    """The text from an anchor to the next heading of its own rank or a higher one; pictures left out."""
    found = re.search(rf'<(\w+)[^>]*\sid="{re.escape(anchor)}"[^>]*>', page)
    if found is None:
        return ""
    rank = int(found[1][1]) if re.fullmatch(r"h[1-6]", found[1]) else 2
    rest = page[found.end():]
    end = next((one.start() for one in _NEXT.finditer(rest) if not one[0].startswith("<h") or int(one[0][2]) <= rank),
               len(rest))
    text = re.sub(r"<svg.*?</svg>", " ", rest[:end], flags=re.DOTALL)
    return " ".join(html.unescape(re.sub(r"<[^>]+>", "", text)).split())


def test_there_are_twenty_and_no_two_alike():
    assert len(EXAM) == 20 == len(set(NAMES))
    assert all(one.ask.endswith("?") for one in EXAM)
    assert all(len(word) >= 3 for one in EXAM for word in one.words)


@pytest.mark.parametrize("one", EXAM, ids=NAMES)
def test_the_answer_stands_at_its_anchor(dist: Path, one):
    assert TELLING.fullmatch(one.page)
    text = after((dist / one.page).read_text(encoding="utf-8"), one.anchor)
    assert text, f"{one.page} has no place {one.anchor}"
    missing = [word for word in one.words if word.lower() not in text.lower()]
    assert missing == [], f"{one.at} no longer says it: {text[:400]}"


def test_a_part_ends_at_the_next_of_its_rank():
    page = ('<h2 id="a">A</h2><p>one <b>two</b></p><h3>inside</h3><svg><text>no</text></svg><h2 id="b">B</h2><p>three'
            '</p></main>')
    assert after(page, "a") == "Aone twoinside" and after(page, "b") == "Bthree" and after(page, "c") == ""


def test_the_page_asks_them_all_and_folds_the_answers(dist: Path):
    page = (dist / questions.PATH).read_text(encoding="utf-8")
    assert page.count("<details>") == 20
    for one in EXAM:
        assert f"<summary>{html.escape(one.ask, quote=False)}</summary>" in page
        assert f'href="../../{one.at}"' in page


def test_questions_and_answers_are_as_easy_to_read_as_a_guide():
    text = "".join(f"<p>{one.ask}</p><p>{one.answer}</p>" for one in EXAM)
    sentences = wording.sentences(text)
    assert [one for one in sentences if len(wording.words(one)) > LONGEST_SENTENCE] == []
    assert wording.grade(sentences) <= HARDEST
