"""What the reader has of their own comes first: example rows step back, and things owned are not bought again."""

from __future__ import annotations

from ..declare import Row


def in_play(rows: list[Row]) -> list[Row]:
    """The rows that count: no example takes part once the reader has put in one."""
    own = [row for row in rows if not row["example"]]
    return own or rows
