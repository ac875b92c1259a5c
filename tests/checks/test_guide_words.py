"""Guides a beginner can read: short sentences, an easy grade, the reader's own numbers, the trade's words explained."""

from __future__ import annotations

import re

import pytest
from tools import glossary, guides

from calc.plan import FIELDS, TABLES
from calc.render import living
from calc.solve import SPECS
from tests import wording
from tests.solved import solved

FILES = sorted(guides.FOLDER.glob("*.md"))
NAMES = [file.stem for file in FILES]
LONGEST_SENTENCE, HARDEST, LEAST_LIVING = 25, 8.0, 60
# Guides whose grade may be harder, each with the reason. None needs it today.
HARDER: dict[str, float] = {}
# Kinds of bath, each in both systems of units: what one lacks is a dash in its sentences.
KINDS = [{"units": units, "water.scheme": scheme, **more} for units in ("us", "metric") for scheme, more in (
    ("circulating", {}), ("circulating", {"feed.way": "salts", "light.by": "lamp", "light.sun": "none"}),
    ("aerated", {}), ("still", {}))]
# What may stand before a dash, so that the sentence still says something: "Yours: –", "what arrives (–)".
BEFORE_A_DASH = (": ", "(", " to ")


def parts(name: str) -> tuple[dict[str, str], str]:
    """The head and the Markdown of a guide."""
    head, body, wrong = guides.split((guides.FOLDER / f"{name}.md").read_text(encoding="utf-8"))
    assert not wrong
    return head, body


def as_read(name: str, plan: dict[str, str]) -> str:
    """A guide's HTML with the numbers of a plan."""
    design = solved(plan)
    return guides.html_of(parts(name)[1], lambda text: living.shown(text, design))


def test_the_index_is_worked_out_as_published():
    # Letters and digits 4, 3 and 4, 3, 4 = 18 in 5 words and 2 sentences: 4.71 x 3.6 + 0.5 x 2.5 - 21.43 = -3.224.
    assert wording.grade(["This bat sits.", "The rats."]) == pytest.approx(4.71 * 18 / 5 + 1.25 - 21.43)
    # Ten letters in each of 20 words of one sentence: 47.1 + 10 - 21.43.
    assert wording.grade([" ".join(["abcdefghij"] * 20)]) == pytest.approx(35.67)


def test_sentences_and_words_are_counted_as_a_reader_does():
    html = ("<h2>Not this.</h2><p>One (two). Three × 4 = 12 in!</p><ul><li>No end</li></ul><table><tr><td>cell</td>"
            "</tr></table><h2>Sources</h2><p>Left out.</p>")
    found = wording.sentences(html)
    assert found == ["One (two).", "Three × 4 = 12 in!", "No end"]
    assert [len(wording.words(one)) for one in found] == [2, 4, 2]


@pytest.mark.parametrize("name", NAMES)
def test_sentences_are_short(name):
    long = [one for one in wording.sentences(as_read(name, {})) if len(wording.words(one)) > LONGEST_SENTENCE]
    assert long == []


@pytest.mark.parametrize("name", NAMES)
def test_a_guide_is_easy_to_read(name):
    assert wording.grade(wording.sentences(as_read(name, {}))) <= HARDER.get(name, HARDEST)


def test_no_exception_is_left_over():
    assert HARDER.keys() <= set(NAMES)
    assert all(grade > HARDEST for grade in HARDER.values())


def test_there_are_enough_numbers_of_the_readers_own():
    assert sum(len(guides.LIVING.findall(parts(name)[1])) for name in NAMES) >= LEAST_LIVING


@pytest.mark.parametrize("name", [name for name in NAMES if parts(name)[0].get("topics")])
def test_a_guide_with_topics_asks_and_answers_beside_its_text(name):
    head, body = parts(name)
    asks, answers = (re.split(r",\s*", head.get(kind, "")) for kind in ("asks", "answers"))
    assert asks != [""] and set(asks) <= {*FIELDS, *TABLES}
    assert answers != [""] and set(answers) <= set(SPECS)
    before = body.partition(guides.PLACE)[0].strip()
    assert before and "\n\n" not in before and not before.startswith("#"), "the calculator follows the first paragraph"


@pytest.mark.parametrize("name", [name for name in NAMES if guides.LIVING.search(parts(name)[1])])
def test_a_number_that_is_missing_leaves_a_sentence(name):
    body = parts(name)[1]
    for plan in KINDS:
        design = solved(plan)
        html = guides.html_of(body, lambda text, design=design: f"[{living.shown(text, design)}]")
        for sentence in wording.sentences(html):
            for before in sentence.split(f"[{living.MISSING}]")[:-1]:
                assert before.endswith(BEFORE_A_DASH), f"{plan}: {sentence}"


@pytest.mark.parametrize("name", [name for name in NAMES if guides.LIVING.search(parts(name)[1])])
def test_a_metric_reader_meets_no_us_unit_in_a_living_number(name):
    design = solved({"units": "metric"})
    asked = [key for key in guides.LIVING.findall(parts(name)[1]) if "*" not in key]
    found = {key: living.shown(key, design) for key in asked}
    # A hole saw is sold by the inch everywhere, and its metric size stands beside it.
    assert {key: said for key, said in found.items()
            if re.search(r"\d (gal|in|ft|lb|F|psf|psi|gph|fl oz|oz|inH2O|ft2)$", said)} == {}


@pytest.mark.parametrize("name", NAMES)
def test_below_is_not_said_of_the_calculator(name):
    pointing = r"[^.]*\b(?:list|table|field|question|calculator|type \w+|read \w+|times|shown|here) below\b[^.]*"
    said = re.findall(pointing, " ".join(wording.sentences(as_read(name, {}))), re.IGNORECASE)
    assert said == []


def test_words_of_the_trade_lead_to_what_they_mean():
    words = glossary.read()
    assert len({word.anchor for word in words}) == len(words)
    linked = glossary.linked("<h2>EC</h2><p>The EC and an <a>EC</a>, the EC; a bath, Bath, ec.</p>", words, "../")
    assert linked.count("#word-ec-electrical-conductivity") == 1 and linked.count("#word-bath") == 1
    assert f'<p>The <a class="word" href="../{glossary.PAGE}#word-ec-electrical-conductivity">EC</a>' in linked


def test_every_word_explained_is_used_or_kept_for_the_planner():
    text = " ".join(as_read(name, {}) for name in NAMES)
    unused = [word.name for word in glossary.read()
              if not any(re.search(rf"(?<![\w-]){re.escape(use)}(?![\w-])", text, re.IGNORECASE) for use in word.uses)]
    # Words of labels and drawings that no guide says.
    assert set(unused) <= {"Bulkhead fitting", "Clearance", "Draft", "Freeboard", "Growing medium", "Headroom", "Kerf",
                           "Operating point", "Plug", "Saturation", "Working water", "Branch", "Lift"}


def test_two_words_of_one_spelling_are_told(tmp_path):
    file = tmp_path / "words.toml"
    file.write_text("".join(f'[[word]]\nname = "{name}"\nuses = ["x"]\nmeans = "y."\n' for name in "AB"),
                    encoding="utf-8")
    with pytest.raises(glossary.Trouble, match='"x" leads to A and to B'):
        glossary.read(file)


def test_the_prose_of_a_page_leads_to_the_words_once():
    words = glossary.read()
    ec = f'<a class="word" href="../{glossary.PAGE}#word-ec-electrical-conductivity">EC</a>'
    page = ('<header><p>EC</p></header><main id="main"><h1>EC</h1><label>EC</label><p role="status">EC</p>'
            '<div data-region="x"><p>EC</p></div><br><p>The <b>EC</b>, the EC.</p><table><tr><td>EC</td></tr></table>'
            "<p>EC, pH</p></main><footer><p>pH</p></footer>")
    linked = glossary.in_prose(page, words, "../")
    assert linked.count("word-ec-electrical-conductivity") == 1 and f"<p>The <b>{ec}</b>, the EC.</p>" in linked
    assert linked.count("#word-ph") == 1 and linked.endswith("<footer><p>pH</p></footer>")
    # What the page explains already is not explained again.
    again = glossary.in_prose(f"<main><p>An {ec}.</p><p>The EC.</p></main>", words, "../")
    assert again == f"<main><p>An {ec}.</p><p>The EC.</p></main>"
