"""Numbers as people read them: few digits, no powers of ten, words for what is too great or too small to picture."""

from __future__ import annotations

from math import floor, isfinite, log10

# From here on in words, for nobody counts the commas; what would round up to it is said in words too.
_GREAT = ((1e12, "trillion"), (1e9, "billion"))
_IN_WORDS, _BEYOND_WORDS = 9.9995e8, 1e15
# Less is what is left over when two floats that should be equal are taken from each other.
NOTHING = 5e-13
LEAST = 1e-4
# Digits behind the point at most, so that with the 0 ahead of it no more than nine are read.
_PLACES = 8
RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")


def great(value: float) -> str:
    """A number of a billion or more in words; "" for one that can be written out."""
    if abs(value) < _IN_WORDS:
        return ""
    if abs(value) >= _BEYOND_WORDS:
        return "more than 1,000 trillion" if value > 0 else "less than -1,000 trillion"
    size, word = next(((size, word) for size, word in _GREAT if abs(value) >= size * 0.99995), _GREAT[-1])
    return f"{number(value / size)} {word}"


def small(value: float, least: float, unit: str = "") -> str:
    """What is said of less than ``least`` of something, but not nothing."""
    return f"less than {least:g} {unit}".rstrip() if value > 0 else f"just below 0 {unit}".rstrip()


def number(value: float, digits: int = 3) -> str:
    """A number to so many significant digits; whole digits are never rounded away below 100,000.

    What is smaller than a millionth of a millionth is 0: such a value is what is left over when two floats that should
    be equal are taken from each other. "not a number" for NaN and infinity.

    >>> from calc.figures import number
    >>> number(0.123456), number(1234.6), number(2.85e13), number(3.99e-9)
    ('0.123', '1,235', '28.5 trillion', 'less than 0.0001')
    """
    if not isfinite(value):
        return "not a number"
    if abs(value) < NOTHING:
        return "0"
    if abs(value) < LEAST * (1 - 1e-9):
        return small(value, LEAST)
    return great(value) or written_out(value, digits, _PLACES)


def written_out(value: float, digits: int, most_places: int = 12) -> str:
    """A finite number in figures however small or great it is, as a line of a sum on paper needs it."""
    if abs(value) < NOTHING:
        return "0"
    size = floor(log10(abs(value)))
    places = min(max(digits - 1 - size, 0), most_places)
    text = f"{round(value, places) if size < 5 else round(value, max(digits, 3) + 1 - size):,.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def count(value: float) -> str:
    """How many, in figures; from a billion on in words."""
    return great(value) or f"{round(value) + 0:,.0f}"


def scientific(value: float, digits: int = 6) -> str:
    """A number as put into a formula: so many significant digits, and a power of ten where it has many noughts."""
    if not isfinite(value):
        return "not a number"
    if value == 0.0 or 1e-3 <= abs(value) < 1e6:
        return number(value, digits)
    mantissa, power = f"{value:.{digits - 1}e}".split("e")
    if "." in mantissa:
        mantissa = mantissa.rstrip("0").rstrip(".")
    return f"{mantissa} × 10{str(int(power)).translate(RAISED)}"
