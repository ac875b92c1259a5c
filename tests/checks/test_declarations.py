"""A declaration that lacks something says what to add and where."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest
from tools import declared

from calc.declare import Field, Result, Table, Verdict, check_topic
from calc.errors import Incomplete
from calc.plan import FIELDS
from calc.relations import RELATIONS, relation
from calc.topics import TOPICS, energy
from tests import references

ROOT = Path(__file__).resolve().parents[2]
SCRATCH = '''"""A room for one relation."""

from .base import relation


@relation(title="Twice", formula="y = 2 x", result=("y", "", "twice"), symbols={"x": ("x", "", "a number")},
          valid="everywhere", source="arithmetic")
def twice(x: float) -> float:
    """Twice the number."""
    return 2.0 * x
'''


def topic(**changes):
    """A topic like the one of energy, with changes."""
    given = {name: getattr(energy, name) for name in ("NAME", "TITLE", "QUESTION", "FIELDS", "TABLES", "RESULTS",
                                                      "STEPS", "VERDICT")}
    return SimpleNamespace(**{**given, **changes})


def test_nothing_that_is_declared_lacks_anything():
    assert declared.of_topics(TOPICS) == []
    assert declared.of_relations(RELATIONS, references.rows()) == []


@pytest.mark.parametrize("name", ["NAME", "TITLE", "QUESTION", "FIELDS", "TABLES", "RESULTS", "STEPS", "VERDICT"])
def test_a_topic_without_a_part_says_which_to_add(name):
    scratch = topic(__name__="calc.topics.scratch")
    delattr(scratch, name)
    with pytest.raises(Incomplete, match=rf"calc\.topics\.scratch lacks a part\. Add to its file: {name}"):
        check_topic(scratch)
    assert [one for one in declared.of_topics([scratch]) if f"Add to its file: {name}" in one]


@pytest.mark.parametrize("verdict, words", [
    (None, r"The topic energy has no verdict\. Write VERDICT = Verdict\("),
    (Verdict("Cost", {"open": "No.", "good": "Yes."}), "has a state 'good'; the states are fails, tight, open, fits"),
    (Verdict("Cost", {"fits": "Yes."}), 'lacks a lead for "open": write'),
    (Verdict("Cost", {"open": "No.", "fits": " "}), 'lacks a lead for "fits": write'),
    (Verdict("", {"open": "No."}), "lacks a subject: write"),
])
def test_a_topic_without_a_whole_verdict_says_what_to_write(verdict, words):
    with pytest.raises(Incomplete, match=words):
        check_topic(topic(VERDICT=verdict))
    check_topic(topic(VERDICT=Verdict("Cost", {"open": "No."})))


def test_a_default_without_a_reason_is_told():
    silent = Field("scratch.size", "length", "Size", ("1 in", "2 cm"))
    open_one = Field("scratch.open", "length", "Size", optional=True)
    rows = Table("scratch.rows", "Rows", (silent,), ({"size": "1 in"},))
    assert declared.of_topics([topic(FIELDS=(silent, open_one), TABLES=(rows,))]) == [
        'The question scratch.size has a default and no why: add why="where the default comes from" to its Field in '
        "calc/topics/.",
        'The question scratch.rows has a default and no why: add why="where the default comes from" to its Table in '
        "calc/topics/."]


def test_a_key_declared_twice_is_told():
    result = Result("scratch.answer", "length", "Answer")
    assert declared.of_topics([topic(RESULTS=(result, result))]) == [
        "The key scratch.answer is declared for 2 answers: give each a key of its own."]


def test_a_relation_without_check_rows_says_which_file_wants_them():
    one = RELATIONS["pipe.velocity"]
    rows = [row for row in references.rows() if row["relation"] == "pipe.velocity"]
    for kept in (0, 1):
        told = declared.of_relations({"pipe.velocity": one}, rows[:kept])
        assert told == [f"The relation pipe.velocity has {kept} check rows that count and needs 2: add rows to "
                        "tests/references/pipe.csv with values from outside the project (kind published or library), "
                        "inputs flow_m3_s=...; bore_m=...."]


def test_a_row_from_memory_does_not_count():
    one = RELATIONS["pipe.velocity"]
    rows = [{**row, "kind": "memory"} for row in references.rows() if row["relation"] == "pipe.velocity"]
    assert "has 0 check rows" in declared.of_relations({"pipe.velocity": one}, rows)[0]


def test_a_row_of_no_relation_is_told():
    row = {**references.rows()[0], "relation": "pipe.nonsense", "file": "pipe.csv"}
    assert declared.of_relations({}, [row]) == [
        "pipe.csv: there is no relation pipe.nonsense; mend the name in the column relation, or take the row out."]


@pytest.mark.parametrize("part", ["title", "formula", "valid", "source"])
def test_a_relation_that_keeps_something_from_the_reader_is_told(part):
    name = "pipe.velocity"
    told = declared.of_relations({name: replace(RELATIONS[name], **{part: ""})}, references.rows())
    assert f"The relation pipe.velocity lacks {part}: add it in calc/relations/pipe.py." in told


def test_a_symbol_left_out_is_told_at_once():
    before = dict(RELATIONS)
    with pytest.raises(Incomplete, match=r"relation twice has the arguments \['x'\] and the symbols \[\]: give each"):
        @relation(title="Twice", formula="y = 2 x", result=("y", "", ""), symbols={}, valid="everywhere",
                  source="arithmetic")
        def twice(x: float) -> float:
            return 2.0 * x
    assert before == RELATIONS


def test_a_new_file_of_relations_is_loaded_without_being_listed(tmp_path):
    shutil.copytree(ROOT / "calc", tmp_path / "calc", ignore=shutil.ignore_patterns("__pycache__"))
    (tmp_path / "calc" / "relations" / "scratch.py").write_text(SCRATCH, encoding="utf-8")
    told = subprocess.run([sys.executable, "-c", "from calc.relations import RELATIONS; "
                           "print(RELATIONS['scratch.twice'].function(x=2.0))"],
                          cwd=tmp_path, capture_output=True, text=True)
    assert told.stdout == "4.0\n", told.stderr


ONE_LINE, ONE_HELP = 28, 70
# Words that the project does not use for a bath, a reservoir, a board, a fold and what is optional.
NOT_OURS = re.compile(r"\b(tank|sump|lid|unfold|may stay empty)s?\b", re.IGNORECASE)


@pytest.mark.parametrize("key", sorted(FIELDS))
def test_a_question_fits_one_line_and_says_how_to_learn_its_answer(key):
    field = FIELDS[key]
    assert len(field.label) <= ONE_LINE, "beside the answer there is room for so many letters"
    assert 0 < len(field.help) <= ONE_HELP, "a few words on where to measure, or who tells"
    for text in (field.label, field.help, *(choice.label for choice in field.choices)):
        assert not NOT_OURS.search(text), text
