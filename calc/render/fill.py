"""What goes into the first fill, as it lies on the scale and stands in the measuring cylinder, not as a table."""

from __future__ import annotations

from ..declare import Row
from ..solve import Design
from . import svg
from .drawing import counted, width_of
from .svg import text

ACROSS = {True: 3, False: 2}
MOST, TALL, LINE = 9, 74.0, 17.0
LARGE = 18.0
# Sizes of measuring cylinders, in mL.
CYLINDERS = tuple(step * decade for decade in (1, 10, 100, 1000, 10_000, 100_000, 1_000_000) for step in (1, 2.5, 5))
ML = 1e6
# Name, amount in words, mass in kg, volume in m3: one of the two last.
Thing = tuple[str, str, float | None, float | None]


def _things(design: Design) -> list[Thing]:
    """What is put in; trace elements from a stock are one."""
    stock = {row["key"] for row in design.value("feed.micro_stock") or []}
    dose = design.value("feed.micro_dose")
    found: list[Thing] = []
    traced = False
    for row in design.value("feed.masses") or []:
        if row["key"] in stock and dose:
            if not traced:
                found.append(("Trace elements, from their stock", design.shown("feed.micro_dose"), None, dose))
            traced = True
            continue
        found.append(_thing(row, design))
    return found


def _thing(row: Row, design: Design) -> Thing:
    if row.get("volume") is not None:
        return row["salt"], design.shown_as("feed.micro_dose", row["volume"]), None, row["volume"]
    return row["salt"], design.shown_as("feed.total_mass", row["mass"]), row["mass"], None


def first_fill(design: Design, wide: bool) -> str:
    """Heaps on a tray, to scale with one another, and measuring cylinders; "" while there is nothing to weigh."""
    things = _things(design)
    if not things:
        return ""
    width, across = width_of(wide), ACROSS[wide]
    cell = width / across
    most = max((mass for _, _, mass, _ in things if mass), default=0.0)
    title = f"For {design.shown('feed.batch')} of water"
    parts = [text(2.0, 15.0, title, "label strong")]
    top = 22.0
    for first in range(0, min(len(things), MOST), across):
        row = things[first:min(first + across, MOST)]
        lines = [svg.wrap(name, cell - 10) for name, *_ in row]
        foot = top + TALL
        for number, ((_, amount, mass, volume), names) in enumerate(zip(row, lines, strict=True)):
            x = cell * (number + 0.5)
            parts += _cylinder(x, foot, volume) if volume is not None else _heap(x, foot, mass or 0.0, most, cell)
            parts.append(text(x, foot + 22, svg.shorten(amount, cell - 8, LARGE), "label strong", "middle", LARGE))
            parts += [text(x, foot + 41 + LINE * step, one, "label", "middle") for step, one in enumerate(names)]
        top = foot + 41 + LINE * (max(map(len, lines)) - 1) + 10
    more = len(things) - MOST
    if more > 0:
        parts.append(text(2.0, top + 10, f"and {counted(more, 'thing')} more, in the list"))
        top += LINE
    said = "; ".join(f"{name}, {amount}" for name, amount, *_ in things)
    return svg.drawing("first-fill" + ("" if wide else "-narrow"), width, top + 6, "What goes into the first fill",
                       f"{title}: {said}.", parts)


def _heap(x: float, foot: float, mass: float, most: float, cell: float) -> list[str]:
    """A heap on a tray: three times as wide as tall, and as wide as the cube root of its mass."""
    tray = min(cell - 24.0, 140.0) / 2
    half = max(tray * 0.88 * (mass / most) ** (1 / 3), 4.0) if most and mass > 0 else 0.0
    tall, y = half * 0.66, foot - 10
    n = svg.num
    heap = (f"M{n(x - half)} {n(y)}C{n(x - half * .5)} {n(y - tall * .1)} {n(x - half * .3)} {n(y - tall)} {n(x)} "
            f"{n(y - tall)}C{n(x + half * .3)} {n(y - tall)} {n(x + half * .5)} {n(y - tall * .1)} {n(x + half)} "
            f"{n(y)}Z")
    return [f'<path class="cut" d="{heap}"/>' if half else "",
            f'<path class="ink" d="M{n(x - tray)} {n(y)}H{n(x + tray)}l-6 8H{n(x - tray + 6)}z"/>']


def _cylinder(x: float, foot: float, volume: float) -> list[str]:
    """A measuring cylinder of the next size, filled to the volume."""
    size = next((one for one in CYLINDERS if one >= volume * ML), volume * ML) or 1.0
    half, top, floor = 15.0, foot - TALL + 6, foot - 9
    level = floor - (floor - top - 8) * min(max(volume * ML / size, 0.0), 1.0)
    n = svg.num
    marks = "".join(f"M{n(x - half)} {n(floor - (floor - top - 8) * step / 5)}h8" for step in range(1, 6))
    return [svg.rect("water", x - half, level, 2 * half, floor - level),
            f'<path class="ink" d="M{n(x - half - 3)} {n(top)}l3 4V{n(floor)}h{n(2 * half)}V{n(top)}M{n(x - half - 8)} '
            f'{n(foot - 2)}l8 -7M{n(x + half + 8)} {n(foot - 2)}l-8 -7M{n(x - half - 8)} {n(foot - 2)}h'
            f'{n(2 * half + 16)}"/>', f'<path class="ink thin" d="{marks}"/>']
