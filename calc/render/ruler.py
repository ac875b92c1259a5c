"""A ruler that holds what is needed against what is there; logarithmic, where readings differ sixty-fold."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import ceil, floor, log10

from . import svg
from .svg import text, text_width

WIDTH, LEFT, RIGHT, LINE = 620.0, 14.0, 606.0, 19.0
RULE_TALL = 26.0
STEPS = (1, 2, 5)


def logarithmic(name: str, title: str, unit: str, marks: Sequence[tuple[str, float, str]]) -> str:
    """Pointers over a rule whose equal steps are equal factors, as SVG text; "" without a mark above zero.

    ``marks`` are (words, value in the unit, kind): "need" hangs above the rule, "yours" below it.
    """
    shown = [mark for mark in marks if mark[1] > 0.0]
    if not shown:
        return ""
    low = 10.0 ** floor(log10(min(value for _, value, _ in shown)))
    high = 10.0 ** ceil(log10(max(value for _, value, _ in shown) * 1.0001))
    scale = (RIGHT - LEFT) / (log10(high) - log10(low))

    def across(value: float) -> float:
        return LEFT + (log10(value) - log10(low)) * scale

    above = _rows([mark for mark in shown if mark[2] != "yours"], across)
    below = _rows([mark for mark in shown if mark[2] == "yours"], across)
    top = 16.0 + LINE * max((row for *_, row in above), default=0) + 14.0
    parts = [svg.rect("wood ink", LEFT, top, RIGHT - LEFT, RULE_TALL)]
    decade = low
    while decade < high * 1.0001:
        for step in STEPS:
            value = decade * step
            if value > high * 1.0001:
                break
            x, long = across(value), RULE_TALL * (0.5 if step == 1 else 0.3)
            parts.append(svg.line("ink", (x, top + RULE_TALL), (x, top + RULE_TALL - long)))
            if step == 1 and x < RIGHT - 30.0:
                parts.append(text(x + 3.0, top + RULE_TALL - 4.0, f"{value:,.6g}", "label"))
        decade *= 10.0
    for words, value, at, row in above:
        x, y = across(value), 16.0 + LINE * row
        parts += [svg.line("ink", (x, y + 4.0), (x, top + 4.0)), text(at, y, words, "label")]
    bottom = top + RULE_TALL
    for words, value, at, row in below:
        x, y = across(value), bottom + 20.0 + LINE * row
        parts += [svg.line("dim", (x, y - 13.0), (x, bottom - 4.0)), text(at, y, words, "dim")]
    tall = bottom + 26.0 + LINE * max((row for *_, row in below), default=-1)
    said = "; ".join(words for words, _, _ in shown)
    return svg.drawing(name, WIDTH, tall + 8.0, title, f"{said}. In {unit}, each long mark ten times the one before.",
                       parts)


def _rows(marks: Sequence[tuple[str, float, str]],
          across: Callable[[float], float]) -> list[tuple[str, float, float, int]]:
    """(words, value, left end of the words, row) of each mark, so that no two words overlap; nearest the rule last."""
    taken: list[list[tuple[float, float]]] = []
    found = []
    for words, value, _ in sorted(marks, key=lambda mark: mark[1]):
        long = text_width(words)
        at = min(max(across(value) - long / 2, LEFT), RIGHT - long)
        row = next((row for row, spans in enumerate(taken)
                    if all(at > end + 8.0 or at + long < start - 8.0 for start, end in spans)), len(taken))
        if row == len(taken):
            taken.append([])
        taken[row].append((at, at + long))
        found.append((words, value, at, row))
    return found
