"""What a line of today is: the act, how much, why, what can hurt, what to measure after it, and what a tick writes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

# The order of the day: what saves the roots, then chemistry in the order that its sums hold, then work, then plants.
ORDER = ("outage", "leak", "check-meter", "air", "high", "cool", "warm", "change", "top-up", "nutrients", "thin",
         "acid", "base", "jug", "strainer", "meters", "sow", "move", "apart", "cut", "look")
CHEMISTRY = ("top-up", "nutrients", "thin", "acid", "base", "jug")
# What saves the roots, and a reading in doubt, is not put off.
URGENT = ("outage", "leak", "check-meter", "air")
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True)
class Pour:
    """One part of a dose: how much (m3), when (as a moment), and under which condition it is poured at all."""

    code: str
    amount: float
    words: str
    at: datetime
    clock: str
    condition: str


@dataclass(frozen=True)
class Caution:
    """What can hurt at this act: bold words, the sentence, and the code it is told in full by on Safety, if it is."""

    lead: str
    text: str
    code: str = ""


@dataclass(frozen=True)
class Act:
    """One line. ``amount`` is a number with its unit, parted by the last blank; ``then`` is (bold words, sentence).

    ``log`` is what a tick writes: the kind of an entry and its texts, as ``calc.keeping.entries`` keeps them.
    """

    code: str
    title: str
    reason: str
    amount: str = ""
    caution: Caution | None = None
    then: tuple[str, str] | None = None
    pours: tuple[Pour, ...] = ()
    minutes: int = 5
    log: Mapping[str, Any] = field(default_factory=dict)

    @property
    def place(self) -> int:
        """Where it comes in the order of the day."""
        stem = self.code.partition(":")[0]
        return ORDER.index(stem) if stem in ORDER else len(ORDER)

    @property
    def can_wait(self) -> bool:
        """Whether it may be put off to another day."""
        return self.code.partition(":")[0] not in URGENT


@dataclass(frozen=True)
class Later:
    """A line that the keeper has put off, and the day on which it comes back."""

    code: str
    title: str
    until: date


@dataclass(frozen=True)
class Soon:
    """Something that is not due yet: what, why, and by which day."""

    code: str
    what: str
    why: str
    by: date | None
    words: str


def day_words(day: date, system: str, beside: date | None = None) -> str:
    """A day as it is said on the list: Fri, Nov 27, or Fri 27 Nov; with its year where ``beside`` is of another."""
    name, year = _DAYS[day.weekday()], "" if beside is None or beside.year == day.year else str(day.year)
    if system == "metric":
        return f"{name} {day.day} {day:%b} {year}".rstrip()
    return f"{name}, {day:%b} {day.day}{f', {year}' if year else ''}"


def act_json(act: Act) -> dict[str, Any]:
    """A line as plain data."""
    amount, _, unit = act.amount.rpartition(" ")
    found: dict[str, Any] = {"code": act.code, "act": act.title, "amount": act.amount,
                             "number": amount, "unit": unit, "reason": act.reason, "minutes": act.minutes,
                             "can_wait": act.can_wait, "caution": None, "then": None, "pours": [], "log": dict(act.log)}
    if act.caution:
        found["caution"] = {"lead": act.caution.lead, "text": act.caution.text, "code": act.caution.code}
    if act.then:
        found["then"] = {"lead": act.then[0], "text": act.then[1]}
    found["pours"] = [{"code": one.code, "amount": one.words, "liters": one.amount * 1000.0, "at": one.clock,
                       "time": one.at.strftime("%Y-%m-%dT%H:%M"), "condition": one.condition} for one in act.pours]
    return found


def later_json(one: Later, system: str) -> dict[str, Any]:
    """A line put off, as plain data."""
    return {"code": one.code, "act": one.title, "until": one.until.isoformat(), "words": day_words(one.until, system)}


def soon_json(one: Soon) -> dict[str, Any]:
    """A line of what is coming, as plain data."""
    return {"code": one.code, "what": one.what, "why": one.why, "by": one.by.isoformat() if one.by else "",
            "words": one.words}
