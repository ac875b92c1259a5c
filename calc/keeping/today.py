"""One list for the bath: what it needs today, in the order to do it, and what is coming."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from . import comfort, levels, rounds, trends
from .acts import CHEMISTRY, Act, Later, Soon, act_json, day_words, later_json, soon_json
from .bath import Band, Bath
from .chemistry import Chemistry
from .entries import Entry, unit_for
from .latest import Latest, latest

NAMES = {"ph": "pH", "temperature": "water", "ec": "EC", "oxygen": "oxygen"}
WORDS = {("temperature", "high"): "water warm", ("temperature", "low"): "water cold"}
COUNTS = ("Nothing", "One thing", "Two things", "Three things", "Four things", "Five things", "Six things",
          "Seven things", "Eight things", "Nine things")
# What saves the roots and the floor: done as long as no newer reading asks for it again.
BOUND = ("leak", "air", "high", "cool", "warm")
# The questions of the topic Today that a reading does not hold: what is wanted instead of the plan's, and a jug test.
EXTRA = ("today.ec_target", "today.ph_target", "today.jug_volume", "today.jug_acid")


@dataclass(frozen=True)
class Gauge:
    """One reading beside its band: values in base units, and words for each."""

    name: str
    value: float | None
    before: float | None
    band: Band | None
    word: str
    distance: str


@dataclass(frozen=True)
class Day:
    """What today asks for: a verdict, readings beside their bands, lines to do, done and put off, what is coming."""

    now: datetime
    state: str
    lead: str
    text: str
    gauges: tuple[Gauge, ...]
    acts: tuple[Act, ...]
    done: tuple[tuple[str, str, str], ...]
    soon: tuple[Soon, ...]
    minutes: int
    latest: Latest
    later: tuple[Later, ...] = ()


def gauges(bath: Bath, known: Latest) -> list[Gauge]:
    """Each reading that has a band, or a value."""
    found = []
    for name in ("ph", "temperature", "level", "ec", "oxygen"):
        band, value = bath.band_at(name, known.warmth_of(name)), known.values.get(name)
        word = "" if band is None or value is None else band.word(value)
        distance = "" if band is None or value is None or word == "in" else bath.apart(name, band.beyond(value))
        found.append(Gauge(name, value, known.before.get(name), band, word, distance))
    return [one for one in found if one.band is not None or one.value is not None]


def _lead(found: Sequence[Gauge], vessel: str) -> str:
    """What is off, in few words; the level is that of a reservoir or of a bath."""
    parts = [WORDS.get((one.name, one.word), f"{NAMES.get(one.name, vessel)} {one.word}") for one in found
             if one.word in ("high", "low")]
    joined = ", ".join(parts)
    return f"{joined if joined.startswith('pH') else joined[:1].upper() + joined[1:]}." if joined else ""


def _done_today(entries: Iterable[Entry], now: datetime) -> list[Entry]:
    """Lines that were ticked today."""
    return [one for one in entries if one.text("code") and one.moment.date() == now.date() and one.moment <= now
            + timedelta(hours=1)]


def _hidden(code: str, ticks: Iterable[Entry], known: Latest) -> bool:
    """Whether a line was done already: chemistry since the reading that asked for it, all else today."""
    stem = code.partition(":")[0]
    for one in ticks:
        if one.text("code") != code:
            continue
        if stem not in (*CHEMISTRY, *BOUND) or known.moment is None or one.moment >= known.moment:
            return True
    return False


def _text(acts: Sequence[Act], minutes: int) -> str:
    many = len(acts)
    if not many:
        return "Nothing to do."
    said = f"{COUNTS[many] if many < len(COUNTS) else f'{many} things'}, about {minutes} minutes."
    bound = sum(one.code.partition(":")[0] in ("outage", "change", *BOUND, *CHEMISTRY) for one in acts)
    if bound == 2:
        said += " The first two go in this order."
    elif bound > 2:
        said += f" The first {COUNTS[bound].split()[0].lower() if bound < len(COUNTS) else bound} go in this order."
    return said


def _verdict(bath: Bath, found: Sequence[Gauge], acts: Sequence[Act], fresh: Mapping[str, float], known: Latest,
             minutes: int) -> tuple[str, str, str]:
    """(state, bold words, sentence)."""
    if not fresh:
        what = ("The last reading is older than a day: type a new one." if known.values else
                "Type what your meters say; one reading is enough.")
        return "open", "Needs an answer.", f"{what} Until then, here is what the calendar says."
    codes = {one.code for one in acts}
    lead = _lead([one for one in found if one.name in fresh], "reservoir" if bath.circulates else "water level")
    if "check-meter" in codes:
        return "tight", "Check a reading first.", _text(acts, minutes)
    if "air" in codes and fresh["oxygen"] < comfort.ALARM_MG_L:
        return "fails", "Oxygen low: act now.", _text(acts, minutes)
    if lead or codes & {*CHEMISTRY, "change"}:
        return "tight", lead or "Something to do.", _text(acts, minutes)
    if codes - {"look"}:
        return "fits", "All in its band.", _text(acts, minutes)
    return "fits", "Leave it alone.", "Every reading is in its band." + (" " + _text(acts, minutes) if acts else "")


def today(bath: Bath, entries: Iterable[Entry], now: datetime, typed: Entry | None = None,
          extra: Mapping[str, str] | None = None, put_off: bool = False,
          off: Mapping[str, date] | None = None) -> Day:
    """The list of a day. Never raises on account of what was typed.

    ``entries`` is the log, which may be empty; ``typed`` a reading that is not kept; ``extra`` texts for those of
    ``EXTRA`` that a jug test or another aim gives; ``put_off`` keeps the doses although a full change is due. ``off``
    are lines put off, by code, each with the day on which it comes back.
    """
    log = list(entries)
    known = latest(log, now, bath.system, typed)
    fresh = known.fresh(now)
    given = {key: words for key, words in (extra or {}).items() if key in EXTRA and words.strip()}
    found, soon = rounds.acts(bath, log, now, bool(known.values))
    waits = {code for code, until in (off or {}).items() if until > now.date()}
    changing = any(one.code == "change" for one in found) and not put_off and "change" not in waits
    water = Chemistry(bath, fresh, now, given, waits) if fresh or given else None
    # A temperature that no bath has asks for another reading, not for ice or a heater.
    odd = () if water is None or "today.temperature" not in water.design.faults else ("temperature",)
    found += levels.acts(bath, known, log if typed is None else [*log, typed], now)
    found += comfort.acts(bath, {name: value for name, value in fresh.items() if name not in odd})
    if water is not None and (not changing or odd):
        found += water.acts()
    ticks = _done_today(log, now)
    found = [one for one in found if not _hidden(one.code, ticks, known)]
    found.sort(key=lambda one: one.place)
    resting = [one for one in found if one.code in waits and one.can_wait]
    later = tuple(Later(one.code, one.title, (off or {})[one.code]) for one in resting)
    acts = [one for one in found if one not in resting]
    there = {"ph": ("acid", "base", "jug"), "ec": ("nutrients", "thin", "top-up"), "top-up": ("top-up", "change")}
    soon += [Soon(one.code, one.what, one.why, one.at.date(), day_words(one.at.date(), bath.system))
             for one in trends.due(bath, log, now) if not any(act.code in there[one.code] for act in (*acts, *resting))]
    minutes = sum(one.minutes for one in acts)
    shown = gauges(bath, known)
    state, lead, text = _verdict(bath, shown, acts, fresh, known, minutes)
    done = tuple((one.text("code"), one.text("remark") or one.text("what") or one.text("code"), one.at)
                 for one in ticks)
    ordered = sorted(soon, key=lambda one: (one.by is None, one.by or now.date()))
    return Day(now, state, lead, text, tuple(shown), tuple(acts), done, tuple(ordered), minutes, known, later)


def gauge_json(bath: Bath, one: Gauge) -> dict[str, Any]:
    """A reading beside its band, as plain data: values in base units and in the reader's."""
    field = bath.field(one.name)
    unit = unit_for(field, bath.system)
    label = "Bath" if one.name == "level" and not bath.circulates else field.label
    return {"name": one.name, "field": field.key, "label": label, "unit": unit, "value": one.value,
            "before": one.before, "shown": "" if one.value is None else bath.figure(one.name, one.value),
            "shown_before": "" if one.before is None else bath.figure(one.name, one.before),
            "word": one.word, "distance": one.distance,
            "band": None if one.band is None else {
                "low": one.band.low, "high": one.band.high, "why": one.band.why,
                "shown": [bath.figure(one.name, one.band.low), bath.figure(one.name, one.band.high)]}}


def as_json(day: Day, bath: Bath) -> dict[str, Any]:
    """The day as plain data: the contract of the command ``today`` and of the page."""
    return {"date": day.now.date().isoformat(), "now": day.now.strftime("%Y-%m-%dT%H:%M"),
            "verdict": {"state": day.state, "lead": day.lead, "text": day.text}, "minutes": day.minutes,
            "reading": day.latest.moment.strftime("%Y-%m-%dT%H:%M") if day.latest.moment else "",
            "gauges": [gauge_json(bath, one) for one in day.gauges],
            "todo": [act_json(one) for one in day.acts],
            "done": [{"code": code, "words": words, "at": at} for code, words, at in day.done],
            "later": [later_json(one, bath.system) for one in day.later],
            "soon": [soon_json(one) for one in day.soon], "faults": dict(day.latest.faults)}
