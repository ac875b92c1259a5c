"""What every drawing to scale shares: its width, its lettering, and lengths said as a builder writes them."""

from __future__ import annotations

from math import isfinite

from ..solve import Design

# The widths that drawings are made for, so that lettering of 14 is never shown under 13.
WIDE, NARROW = 560.0, 320.0
FOOT, INCH = 0.3048, 0.0254
LONG_US, LONG_METRIC = 120 * INCH, 3.0


def width_of(wide: bool) -> float:
    """The width of a drawing made for a wide or a narrow place."""
    return WIDE if wide else NARROW


def drawable(value: object) -> float | None:
    """A length above zero, or ``None`` where there is nothing that can be drawn."""
    if isinstance(value, (int, float)) and not isinstance(value, bool) and isfinite(value) and value > 0:
        return float(value)
    return None


def length_of(design: Design, key: str) -> float | None:
    return drawable(design.value(key))


def say_length(design: Design, value: float, small: str = "cm") -> str:
    """A length as a builder writes it: 48 in, 12 ft 6 in, 60 cm, 30 m."""
    if design.system == "metric":
        return design.show(value, "length", metric="m" if value >= LONG_METRIC else small)
    if value <= LONG_US + 1e-9:
        return design.show(value, "length", us="in", fraction=16)
    parts = round(value / INCH * 16)
    feet, rest = divmod(parts, 192)
    inches = " " + design.show(rest / 16 * INCH, "length", us="in", fraction=16) if rest else ""
    return f"{feet:,} ft{inches}"


def counted(number: int, one: str) -> str:
    return f"{number:,} {one}{'' if number == 1 else 's'}"


def vessel(design: Design, prefix: str) -> tuple[float | None, float | None]:
    """(length at the rim, length at the floor) of the bath or the reservoir, in m."""
    kind = design.value(prefix + ".shape")
    if kind in ("round", "tapered round"):
        top = length_of(design, prefix + ".diameter")
        return top, (length_of(design, prefix + ".base_diameter") if kind == "tapered round" else None) or top
    top = length_of(design, prefix + ".length")
    return top, (length_of(design, prefix + ".base_length") if kind == "tapered box" else None) or top
