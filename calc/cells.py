"""Cells of tables that spreadsheets open: no text runs as a formula, and what was written comes back letter by letter.

A text that begins with = + - @, a tab or a return gets an apostrophe ahead of it, and reading takes it off again. A
number keeps its sign, and what there is nothing to say of is empty.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable

RISKY = "=+-@\t\r\n"
# A spreadsheet of another language reads letters right when this stands ahead of them.
MARK = "\ufeff"
_NUMBER = re.compile(r"[+-]?(?:\d+(?:[.,]\d+)?|[.,]\d+)(?:[eE][+-]?\d{1,3})?", re.ASCII)


def needs_apostrophe(text: str) -> bool:
    """Whether a spreadsheet might run a cell, or an apostrophe ahead of such a cell is part of what was typed."""
    rest = text.lstrip("'")
    return rest[:1] != "" and rest[0] in RISKY and not (rest == text and _NUMBER.fullmatch(rest))


def safe(text: str) -> str:
    """A cell that no spreadsheet takes for a formula.

    >>> from calc.cells import plain, safe
    >>> [safe(text) for text in ("=1+1", "-5", "-5 or so", "")]
    ["'=1+1", '-5', "'-5 or so", '']
    >>> plain("'=1+1")
    '=1+1'
    """
    return f"'{text}" if needs_apostrophe(text) else text


def plain(cell: str) -> str:
    """What a cell held before ``safe``."""
    return cell[1:] if cell[:1] == "'" and cell.lstrip("'")[:1] in tuple(RISKY) else cell


def written(value: object) -> str:
    """A cell of any value: numbers as they are, text made safe, ``None`` as nothing."""
    return "" if value is None else repr(value) if isinstance(value, float) else safe(str(value))


def table(rows: Iterable[Iterable[object]]) -> str:
    """Rows as CSV text (RFC 4180), with a mark ahead where a letter is none of ASCII."""
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\r\n").writerows([written(cell) for cell in row] for row in rows)
    text = out.getvalue()
    return text if text.isascii() else MARK + text
