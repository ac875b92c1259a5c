"""Whether a value just typed can be so, beside the last one: a question with a guess, never a refusal."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import log

from .. import units
from ..declare import Field
from ..errors import UnreadableQuantity
from ..figures import number
from .entries import OF_KIND, READING, read_number, unit_for

# What a bath with living plants shows, in base units: engineering judgment, no source.
LIKELY: Mapping[str, tuple[float, float]] = {
    "ph": (3.5, 9.5), "temperature": (5.0, 36.0), "ec": (0.05, 5.0), "oxygen": (0.5, 16.0)}
# What water can show at all: a figure beyond is a slip that was kept, and is left out of pictures and trends.
POSSIBLE: Mapping[str, tuple[float, float]] = {
    "ph": (0.0, 14.0), "temperature": (-5.0, 60.0), "ec": (0.0, 20.0), "oxygen": (0.0, 30.0)}
# From the last reading to this one, more than this is asked about once.
JUMP: Mapping[str, float] = {"ph": 1.5, "temperature": 8.0, "ec": 1.0, "oxygen": 4.0}
NEAR: Mapping[str, float] = {"ph": 1.2, "temperature": 6.0, "ec": 0.8, "oxygen": 3.0}
TYPICAL: Mapping[str, float] = {"ph": 6.0, "temperature": 20.0, "ec": 1.5, "oxygen": 7.0}
SLIPS = (0.1, 0.01, 10.0)
MOST_OFFERS = 3


@dataclass(frozen=True)
class Asked:
    """A question about one value: its words, what to type in its place (each as words of a button and text), and the
    words of the button that keeps it. ``unit`` is set where all that differs is the unit that the meter shows."""

    field: str
    words: str
    offers: tuple[tuple[str, str], ...]
    keep: str
    unit: str = ""


@dataclass(frozen=True)
class _Guess:
    value: float
    words: str
    text: str
    unit: str = ""
    meaning: str = ""


def can_be(name: str, value: float) -> bool:
    """Whether water can show this at all, in base units."""
    low, high = POSSIBLE.get(name, (value, value))
    return low <= value <= high


def _plausible(name: str, value: float, last: float | None) -> bool:
    low, high = LIKELY[name]
    return low <= value <= high and (last is None or abs(value - last) <= NEAR[name])


def _slips(name: str, one: Field, value: float, unit: str, last: float | None) -> list[_Guess]:
    """The same figures with the point elsewhere."""
    kind = units.KINDS[one.kind]
    amount = units.convert(value, one.kind, unit) if unit else value
    found = []
    for factor in SLIPS:
        moved = amount * factor
        base = moved * kind.units[unit].factor + kind.units[unit].offset if unit else moved
        if _plausible(name, base, last):
            found.append(_Guess(base, number(moved, 4), number(moved, 4)))
    return found


def _other_units(name: str, one: Field, text: str, unit: str, last: float | None, choices: Iterable[str],
                 system: str) -> list[_Guess]:
    """The same figures in another unit that meters show."""
    if units.named(text, one.kind):
        return []
    shown = number(units.convert(read_number(one, text, unit, system), one.kind, unit), 4)
    found = []
    for other in choices:
        if other == unit:
            continue
        value = read_number(one, f"{text} {other}", other, system)
        if _plausible(name, value, last):
            words = units.written(other)
            meant = (f"{shown} {words} is {number(units.convert(value, one.kind, unit), 3)} "
                     f"{units.written(unit)}")
            found.append(_Guess(value, words, f"{text.strip()} {other}", other, meant))
    return found


def _worth_asking(name: str, value: float, last: float | None) -> bool:
    low, high = LIKELY[name]
    return not low <= value <= high or (last is not None and abs(value - last) > JUMP[name])


def _order(guesses: list[_Guess], last: float | None, name: str) -> list[_Guess]:
    """The nearest to the last value first; without one, the nearest to what is usual."""
    middle = last if last is not None and last > 0 else TYPICAL[name]
    return sorted(guesses, key=lambda one: abs(log(max(one.value, 1e-6) / middle)))


def _question(name: str, one: Field, text: str, unit: str, value: float, last: float | None, system: str,
              meters: Iterable[str]) -> Asked | None:
    if not _worth_asking(name, value, last):
        return None
    before = ""
    if last is not None:
        before = f" Last time it read {number(units.convert(last, one.kind, unit) if unit else last, 3)}."
    keep = f"Keep {text.strip()}"
    others = _order(_other_units(name, one, text, unit, last, meters, system), last, name) if unit else []
    slips = _order(_slips(name, one, value, unit, last), last, name)
    if one.kind == "temperature" and others:
        return Asked(name, f"Is your meter set to {others[0].words}? {others[0].meaning}.",
                     ((others[0].words, others[0].text),), keep, others[0].unit)
    if name == "oxygen" and 20.0 < value <= 160.0 and (last is None or not slips):
        return Asked(name, "Does your meter show percent of saturation? Set it to mg/L." + before, (), keep)
    both = _order([*others, *slips], last, name)[:MOST_OFFERS]
    if both:
        first = both[0]
        words = (f"Does your meter show {first.unit}? {first.meaning}." if first.unit
                 else f"Did you mean {first.words}?{before}")
        return Asked(name, words, tuple((guess.words, guess.text) for guess in both), keep, first.unit)
    low, high = LIKELY[name]
    if low <= value <= high:
        return Asked(name, f"That is a large step.{before} Measure once more.", (), keep)
    return Asked(name, f"No bath with living plants reads so. Check the meter and measure once more.{before}", (), keep)


def _from_water(typed: Mapping[str, str], values: Mapping[str, float], most: Mapping[str, float],
                system: str) -> list[Asked]:
    """What the plan's own vessels and the water itself do not allow."""
    found = []
    water = "more than all the water of your plan"
    for name, words, of in (("level", "deeper than your reservoir", "level"), ("added", water, "added"),
                            ("fertilizer", water, "added"), ("acid", water, "added")):
        value, limit = values.get(name), most.get(of)
        if value is not None and limit is not None and value > limit * 1.001:
            one = OF_KIND[READING][of]
            shown = units.show(limit, one.kind, system, one.us, one.metric)
            found.append(Asked(name, f"That is {words}, {shown}. Which unit did you mean?", (),
                               f"Keep {typed[name].strip()}"))
    oxygen, limit = values.get("oxygen"), most.get("oxygen")
    if oxygen is not None and limit is not None and limit * 1.15 < oxygen <= LIKELY["oxygen"][1]:
        found.append(Asked("oxygen", f"Water this warm holds {number(limit, 2)} mg/L. Calibrate the meter in air.", (),
                           f"Keep {typed['oxygen'].strip()}"))
    return found


def questions(typed: Mapping[str, str], taken: Mapping[str, str], last: Mapping[str, float], system: str,
              meters: Mapping[str, Iterable[str]], most: Mapping[str, float] | None = None,
              ) -> tuple[dict[str, Asked], dict[str, str]]:
    """Questions by field, and a sentence for each text that is no number.

    ``taken`` is the unit that a bare number takes, by field; ``last`` the values of the last reading in base units;
    ``most`` what the plan's vessels and saturation allow, by field, in base units.
    """
    asked: dict[str, Asked] = {}
    faults: dict[str, str] = {}
    values: dict[str, float] = {}
    for name, one in OF_KIND[READING].items():
        text = typed.get(name, "")
        if not text.strip() or one.kind in ("text", "moment"):
            continue
        unit = taken.get(name) or unit_for(one, system)
        try:
            values[name] = value = read_number(one, text, unit, system)
        except UnreadableQuantity as error:
            faults[name] = str(error)
            continue
        if name in LIKELY:
            found = _question(name, one, text, unit, value, last.get(name), system, meters.get(name, ()))
            if found is not None:
                asked[name] = found
    for found in _from_water(typed, values, most or {}, system):
        asked.setdefault(found.field, found)
    return asked, faults
