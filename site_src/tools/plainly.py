"""Check values in words and figures as people write them: sizes that one can picture, no powers of ten, no names of
arguments."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from calc.relations.base import Relation, Symbol

# Units in which a small bath's numbers have many noughts: the unit people say instead, how many of it make one, and
# below which value they do so.
SAID_IN = {
    "m³/s": ("L/s", 1000.0, 1.0), "m3/s": ("L/s", 1000.0, 1.0), "m³": ("L", 1000.0, 1.0), "m3": ("L", 1000.0, 1.0),
    "Pa s": ("mPa s", 1000.0, 1.0), "kg/s": ("g/s", 1000.0, 0.1), "kg/d": ("g/d", 1000.0, 0.1),
    "mol/L": ("mmol/L", 1000.0, 0.1), "m": ("mm", 1000.0, 0.1), "kg": ("g", 1000.0, 0.1), "L": ("mL", 1000.0, 0.1)}
_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
# What tells a value apart from none at all, as a share of it: beyond the digits that anybody prints.
ROUNDING = 1e-9
# A share of a value that the seven digits shown do not show.
UNSEEN, SAID_UNSEEN = 1e-6, "under a millionth"
# Units that say only how a share is counted.
OF_SHARES = ("0 to 1", "share", "practical salinity", "money")
# An input that stands for "there is none".
NONE_THERE = 99.0


def unit_of(unit: str) -> str:
    """A unit without what the formula does to it: "°C (plus 273.15)" is said as °C."""
    plain = re.sub(r"\s*\(.*?\)", "", unit) if " (" in unit else unit
    return "" if plain in OF_SHARES else {"m2": "m²", "money/kWh": "a kWh", "/week": "a week"}.get(plain, plain)


def said(value: float, unit: str, digits: int = 7, like: float | None = None) -> str:
    """A value with its unit; ``like`` is another value whose unit it takes, so that the two can be compared."""
    from calc.figures import written_out
    plain, factor = unit_of(unit), 1.0
    if plain in SAID_IN and abs(value if like is None else like) < SAID_IN[plain][2]:
        plain, factor, _ = SAID_IN[plain]
    return f"{written_out(value * factor, digits)} {plain}".rstrip()


def _nearly(apart: float, expected: float, unit: str, nothing: str) -> str:
    size = max(abs(expected), ROUNDING)
    if apart <= ROUNDING * size:
        return nothing
    return SAID_UNSEEN if apart <= UNSEEN * size else said(apart, unit, 2, expected)


def difference(away: float, expected: float, unit: str) -> str:
    """How far two values are apart, to two digits; "none" where no printed digit differs."""
    return _nearly(away, expected, unit, "none")


def allowance(tolerance: float, expected: float, unit: str) -> str:
    """What the source allows, to two digits; "every digit" where nothing but the computer's rounding is."""
    return _nearly(tolerance, expected, unit, "every digit")


def meaning(symbol: Symbol) -> str:
    """What an input is, in as few words as tell it."""
    short = re.split(r"[;:]|, gives", symbol.meaning)[0].strip()
    return short[0].lower() + short[1:] if re.match(r"(?!Reynolds)[A-Z][a-z ]", short) else short


def inputs(relation: Relation, given: dict[str, float]) -> str:
    """All that was put in: "alkalinity 2 meq/L; pH now 7.5"."""
    told = []
    for name, value in given.items():
        symbol = relation.symbols[name]
        if value == NONE_THERE and "where there is none" in symbol.meaning:
            continue
        told.append(f"{meaning(symbol)} {said(value, symbol.unit)}")
    return "; ".join(told)


def source(text: str) -> str:
    """A source as printed: a program's tolerance of "1e-11" is a power of ten, as on paper."""
    def power(found: re.Match[str]) -> str:
        return ("" if found[1] == "1" else f"{found[1]} × ") + f"10{found[2].translate(_RAISED)}"
    return re.sub(r"\b(\d+)e(-?\d+)\b", power, text)
