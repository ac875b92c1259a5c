"""The picture over the page of checks: one dot a value, by topic, as far to the right as it uses what its source
allows."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

# Room of a dot in the picture's units, and its radius.
STEP, RADIUS = 6.4, 2.6
LINE = 18.0


@dataclass(frozen=True)
class Dot:
    """One value: the share of its tolerance that it uses, 0 to 1, and whether it was made outside the project."""

    share: float
    outside: bool


def columns(dots: Iterable[Dot], width: float) -> dict[int, list[Dot]]:
    """Dots by the column they stand in; values that no printed digit parts stand left of the others (column -1)."""
    last = int(width / STEP) - 1
    found: dict[int, list[Dot]] = {}
    for dot in sorted(dots, key=lambda one: (not one.outside, one.share)):
        found.setdefault(-1 if dot.share == 0.0 else min(int(dot.share * (last + 1)), last), []).append(dot)
    return found


def _row(dots: Sequence[Dot], left: float, block: int, width: float, base: float) -> tuple[list[str], float]:
    """The dots of a topic over their base line, and how high they reach; so many as ``block`` without deviation lie
    side by side."""
    from calc.render import svg
    parts, high = [], 0
    for column, held in columns(dots, width).items():
        for number, dot in enumerate(held):
            level, aside = divmod(number, block) if column < 0 else (number, block + 1.5 + column)
            x = left + (aside + 0.5) * STEP
            high = max(high, level + 1)
            parts.append(svg.circle("solid" if dot.outside else "ink ring", x, base - (level + 0.5) * STEP, RADIUS))
    return parts, high * STEP


def picture(groups: Sequence[tuple[str, Sequence[Dot]]], wide: bool) -> str:
    """The whole picture, for a wide or a narrow place."""
    from calc.render import svg
    width = 660.0 if wide else 340.0
    block = 14 if wide else 8
    left = 6.0
    axis = left + (block + 1.5) * STEP
    room = width - axis - 8.0
    parts, y = [], 20.0
    parts += [svg.text(left, y, "no deviation" if wide else "none", "label faded"),
              svg.text(axis, y, "0 %", "label faded"), svg.text(axis + room, y, "100 %", "label faded", "end"),
              svg.text(axis + room / 2, y, "of what the source allows" if wide else "of the allowance",
                       "label faded", "middle")]
    y += 10.0
    top = y
    for title, dots in groups:
        # Reach first: where the base line lies hangs on it.
        _, high = _row(dots, left, block, room, 0.0)
        y += LINE
        parts.append(svg.text(left, y, f"{title}: {len(dots)}", "label strong"))
        y += 6.0 + high
        drawn, _ = _row(dots, left, block, room, y)
        parts += [svg.line("grid", (left, y + 1.5), (axis + room, y + 1.5)), *drawn]
        y += 6.0
    ticks = [svg.line("grid", (axis + room * share, top), (axis + room * share, y)) for share in (0.0, 0.5, 1.0)]
    every = [dot for _, dots in groups for dot in dots]
    exact = sum(dot.share == 0.0 for dot in every)
    half = sum(dot.share <= 0.5 for dot in every)
    description = (f"{len(every)} values in {len(groups)} topics. {exact} show no deviation at all, {half} use at most "
                   f"half of what their source allows, and {sum(dot.share > 1.0 for dot in every)} use more than all "
                   "of it. The list of values under the picture says the same in figures.")
    return svg.drawing("dots-wide" if wide else "dots-narrow", width, y + 6.0,
                       "How far each value is from its source", description, [*ticks, *parts])
