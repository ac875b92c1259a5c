"""Cells that spreadsheets open: an apostrophe ahead of what looks like a formula, and an exact way back."""

from __future__ import annotations

import csv
import io

from hypothesis import example, given
from hypothesis import strategies as st

from calc import cells
from calc.cells import plain, safe

TEXT = st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\0"), max_size=30)
CELL = st.one_of(TEXT, st.sampled_from(["=1+1", "'=1+1", "''=x", "+5 C", "-3", "@a", "\tx", "\rx", "\n-", "'", "5,9",
                                        "-", "- 5", "'-5", "'5", "-1e5", "-inf", "+nan", "-1_000", "−5"]))


def is_number(text):
    try:
        float(text.replace(",", "."))
    except ValueError:
        return False
    return text.isascii() and not {"_", "n", "N"} & set(text)


@given(CELL)
@example("'+")
@example("'-1e5")
def test_an_apostrophe_goes_on_and_comes_off(text):
    assert plain(safe(text)) == text


@given(CELL)
@example("-1e5")
def test_no_cell_begins_as_a_formula_does(text):
    cell = safe(text)
    assert cell[:1] not in tuple("=+-@\t\r\n") or is_number(cell)


def test_numbers_keep_their_sign_and_words_do_not_pass_for_numbers():
    numbers = ["-5", "+5.5", "-5,5", "-.5", "-1e5", "-1.5E-3", "0"]
    assert [safe(text) for text in numbers] == numbers
    words = ["-inf", "+nan", "-1_000", "-5 C", "=5", "--5", "+", "-1.2.3", "@x", "\t1", "\r1", "\n1"]
    assert [safe(text) for text in words] == [f"'{text}" for text in words]


def test_a_table_has_numbers_as_numbers_and_nothing_where_nothing_is_known():
    text = cells.table([["name", "size", "rest"], ["=x", -1.5, None], ["ordinary", 3, ""]])
    assert text == "name,size,rest\r\n'=x,-1.5,\r\nordinary,3,\r\n"
    assert cells.table([["µ"]]) == "\ufeffµ\r\n"


@given(st.lists(st.lists(CELL, min_size=1, max_size=4), min_size=1, max_size=4))
def test_a_table_is_read_back_letter_by_letter(rows):
    text = cells.table(rows).removeprefix(cells.MARK)
    read = list(csv.reader(io.StringIO(text, newline="")))
    assert [[plain(cell) for cell in row] for row in read] == rows
