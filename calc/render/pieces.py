"""Small pieces of HTML that several topics share: a table of texts, a drawing with its caption, a cost."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from html import escape

from ..declare import Row
from ..solve import Design

_listeners: list[list[tuple[str, list[str], list[list[str]]]]] = []


@contextmanager
def noting_tables() -> Iterator[list[tuple[str, list[str], list[list[str]]]]]:
    """Every table made inside, as (caption, heads, rows of texts): a spreadsheet gets what the page shows."""
    noted: list[tuple[str, list[str], list[list[str]]]] = []
    _listeners.append(noted)
    try:
        yield noted
    finally:
        _listeners.remove(noted)


def rows_table(caption: str, columns: list[tuple[str, str]], rows: list[Row]) -> str:
    """A plain table of texts."""
    for noted in _listeners:
        noted.append((caption, [title for _, title in columns],
                      [[str(row.get(key, "")) for key, _ in columns] for row in rows]))
    heads = "".join(f'<th scope="col">{escape(title)}</th>' for _, title in columns)
    body = "".join("<tr>" + "".join(f'<td data-label="{escape(title)}">{escape(str(row.get(key, "")))}</td>'
                                    for key, title in columns) + "</tr>" for row in rows)
    return (f'<div class="table-scroll" tabindex="0" role="region" aria-label="{escape(caption)}"><table class="rows">'
            f"<caption>{escape(caption)}</caption><thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table></div>")


def figure(draw: Callable[[bool], str], caption: str) -> str:
    """A drawing with its caption, made for a wide and for a narrow place, of which the page shows the one that fits;
    nothing where there is no drawing."""
    wide = draw(True)
    if not wide:
        return ""
    return (f'<figure class="drawing"><div class="wide">{wide}</div><div class="narrow">{draw(False)}</div>'
            f"<figcaption>{escape(caption)}</figcaption></figure>")


def money(value: float, design: Design) -> str:
    """A cost with the currency of the plan."""
    return design.money(value)
