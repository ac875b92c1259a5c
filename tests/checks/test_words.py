"""One term for one thing: every built page, and every label, help and choice, keeps to the project's words.

A word stays free where it means something else. What is allowed all the same stands beside the rule, with the reason.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import pytest

from calc.plan import FIELDS, TABLES
from calc.solve import SPECS
from calc.steps import STEPS
from calc.topics import TOPICS
from tests import wording

# Pages of code and of other people's licenses, whose words are not ours to choose.
OTHERS = ("api/index.html", "licences/index.html")


@dataclass(frozen=True)
class Rule:
    """Words not to say (a pattern), what to say instead, and the uses that mean something else."""

    never: str
    say: str
    but: str = ""

    def broken(self, text: str) -> list[str]:
        """Each use that is not allowed, with some words about it."""
        free = [found.span() for found in re.finditer(self.but, text, re.IGNORECASE)] if self.but else []
        return [text[max(found.start() - 40, 0):found.end() + 30]
                for found in re.finditer(self.never, text, re.IGNORECASE)
                if not any(start <= found.start() and found.end() <= end for start, end in free)]


TERMS = (
    Rule(r"\bDWC\b", "deep water culture (raft)"),
    Rule(r"\bsump\b", "reservoir"),
    # In names of published papers and tables a tank is a tank; the formula of a tapered round tank is of any vessel.
    Rule(r"\btanks?\b", "bath, vessel or reservoir", r"(shallow|deep) tanks|tapered round tank|aeration tanks?"),
    Rule(r"\btubs?\b", "bath or vessel", r"(round|tapered round|bare) tubs?|a tub or a drum|tubs? and drums?"),
    Rule(r"\blids?\b", "raft for what floats, cover for what closes a reservoir"),
    Rule(r"\bspots?\b", "hole or site"),
    Rule(r"\bbaskets?\b|\bcubes?\b", "net pot, plug"),
    Rule(r"\bsoups?\b", "nutrient solution"),
    # To feed is a verb: of pumps, of fire and of algae.
    Rule(r"\bfeeds?\b", "nutrient solution or fertilizer",
         r"feeds? (air stones|algae|fire|the roots)|neither feeds the bath|heavy feeders"),
    Rule(r"\bfoods?\b", "nutrients", r"food[- ](safety|grade|authority|freezer|and|production)|"
         r"(touch|for|held|with|neither|and|tools and|foam and|growing|hydroponic) food|sold for food|food crops|"
         r"food, agriculture"),
    Rule(r"\bacidity\b", "pH or alkalinity"),
    Rule(r"\bhardness\b", "alkalinity",
         r"hardness \(from memory\)|words used for hardness|takes out hardness|classes of hardness|for hardness"),
    Rule(r"\bair in the water\b", "dissolved oxygen"),
    # The main that gathers the drains of several baths is called a return main by the trade.
    Rule(r"\breturn (hose|line|pipe)s?\b|\bthe returns?\b(?! main)", "supply hose, drain or drain-back"),
    Rule(r"\breplac\w*\b", "full change, top-up or exchange", r"replaces somebody|bulb it replaces|no page replaces"),
    Rule(r"\bcoolers?\b", "chiller", r"\bcooler (water|end|season|room|place|night|air|bath|if|than|roots)\b|"
         r"\b(is|are|or|and|be|in|much|degrees?|a little|runs|stays?) cooler\b"),
    Rule(r"\b(burn|hang)s?\b[^.|]{0,20}\blamps?\b|\blamps?\b[^.|]{0,12}\b(burn|hang)s?\b",
         "lamp installed, hours of light"),
    Rule(r"\bpower a year\b", "electricity cost per year"),
    Rule(r"\bunfold\w*|\bmay stay empty\b|\bsquare code\b|\bstart again\b",
         "More settings, (optional), QR code, Erase plan"),
)
RIDDLES = (
    Rule(r"\bmissing word\b", "say what is not known"),
    Rule(r"\bdrunk its fill\b", "soaked"),
    # A warning about poison is no riddle.
    Rule(r"\bswallow\w*", "take up", r"(if|when|harmful if|toxic if|acid on skin or) swallowed"),
    Rule(r"\bcomes? and goes?\b", "enters and leaves"),
    # A reader wants; plants and water do not.
    Rule(r"\bwants\b|\b(roots|plants|crops|leaves|it|they|which|baths?) want\b", "needs, likes, asks for"),
)
# British spellings and words; the US ones are said.
BRITISH = (
    "litre metre millimetre centimetre centre colour fertiliser fertilise vapour draught judgement neighbour mould "
    "grey "
    "fibre favour behaviour labour sulphur sulphate aluminium programme licence sanitise recognise organise minimise "
    "oxidise oxidiser galvanised aerofoil tyre kerb cheque storey plough pyjamas practise oxidising timber spanner "
    "cellar fortnight hosepipe coriander").split()
# The trade's and the paper's own names keep their letters: a journal, a species, a street, an address of this site.
BRITISH_BUT = r"\(coriander\)|colour-science"
RULES = (*TERMS, *RIDDLES,
         Rule(r"\b(" + "|".join(BRITISH) + r")(s|d|r|rs|ed|ing|al)?\b", "the US spelling or word", BRITISH_BUT))


def wrong(where: str, text: str) -> list[str]:
    """A line for each word of a text that has a better one."""
    return [f"{where}: …{said}… say {rule.say}" for rule in RULES for said in rule.broken(text)]


def test_a_rule_tells_a_word_from_its_free_use():
    rule = Rule(r"\bfeeds?\b", "nutrient solution", r"feeds? fire")
    assert rule.broken("Mix the feed. It feeds fire.") == ["Mix the feed. It feeds fire."]
    assert rule.broken("It feeds fire.") == []
    assert wrong("x", "a litre of colour") and not wrong("x", "a liter of color")


def declared() -> list[tuple[str, str]]:
    """Every label, help and choice of the plan, every label of an answer, and the words of topics and steps."""
    found = []
    fields = [*FIELDS.values(), *(column for table in TABLES.values() for column in table.columns)]
    for field in fields:
        found += [(field.key, field.label), (field.key, field.help), (field.key, field.why)]
        found += [(field.key, said) for choice in field.choices for said in (choice.label, choice.help)]
    found += [(table.key, said) for table in TABLES.values() for said in (table.label, table.help)]
    found += [(key, spec.label) for key, spec in SPECS.items()]
    found += [(topic.NAME, said) for topic in TOPICS for said in (topic.TITLE, topic.QUESTION)]
    found += [(step.name, said) for step in STEPS
              for said in (step.title, step.question, step.ask_title, step.ask_note, step.settings, step.caption,
                           *(words for key in step.keys for words in (key.label, re.sub(r"\{.*?\}", "", key.note))))]
    return found


def test_labels_helps_and_choices_keep_to_the_words():
    assert [line for where, text in declared() for line in wrong(where, text)] == []


def test_every_page_keeps_to_the_words(dist: Path):
    told = []
    for file in sorted(dist.rglob("*.html")):
        path = file.relative_to(dist).as_posix()
        if path not in OTHERS:
            told += wrong(path, wording.shown(file.read_text(encoding="utf-8")))
    assert told == []


def test_squares_and_cubes_are_shown_with_raised_figures(dist: Path):
    # Two pages show what may be typed, as values in fields do; on the template m2 marks a place.
    plain = re.compile(r"(?<![A-Za-z])(?:m|cm|mm|ft|in)[23](?![\w.])")
    told = {}
    for file in sorted(dist.rglob("*.html")):
        path = file.relative_to(dist).as_posix()
        if path not in ("reference/units/index.html", "reference/scripts/index.html", "template/index.html"):
            text = re.sub(r' placeholder="[^"]*"', "", file.read_text(encoding="utf-8"))
            told.update({(path, found[0]): found.string[found.start() - 40:found.end() + 10]
                         for found in plain.finditer(wording.shown(text))})
    assert told == {}


@pytest.mark.parametrize("rule", [rule for rule in RULES if rule.but], ids=lambda rule: rule.say)
def test_free_uses_are_patterns_that_can_be_read(rule):
    assert re.compile(rule.but)
