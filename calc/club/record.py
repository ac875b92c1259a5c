"""What a club says, read from plain data: every line that can be read is, and each of the others gets a sentence."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Any

from .. import history
from ..errors import UnreadableQuantity
from ..moments import read_date, show_date
from ..plan import flatten, lasting, whole_characters

# The format of a club's file and of what a page keeps.
KIND, FORMAT = "raftwright club", 1
LONGEST_NAME, LONGEST_PRICE = 60, 40
MOST_MEMBERS, MOST_BATHS, MOST_OF_ONE = 60, 12, 200
LEAST_WEEKS, MOST_WEEKS, USUAL_WEEKS = 8, 52, 12
MOST_SHARES, MOST_ON_DUTY = 20, 4
UNNAMED, EXAMPLE = "Our club", "The example (invented)"


@dataclass(frozen=True)
class Member:
    """Somebody who builds along; ``shares`` is how many parts of the cost are his or hers, 0 for none."""

    id: str
    name: str
    shares: int = 1


@dataclass(frozen=True)
class Bath:
    """Baths alike: so many of one plan, whose ``answers`` are as of today's version."""

    id: str
    name: str
    count: int
    answers: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Club:
    """A club as far as it could be read; ``faults`` are pairs of a field's key and a sentence that names it."""

    id: str = ""
    name: str = ""
    system: str = "us"
    start: date | None = None
    weeks: int = USUAL_WEEKS
    on_duty: int = 1
    shared_tools: bool = True
    extra: str = ""
    members: tuple[Member, ...] = ()
    baths: tuple[Bath, ...] = ()
    prices: tuple[tuple[str, str], ...] = ()
    buyers: tuple[tuple[str, str], ...] = ()
    faults: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def title(self) -> str:
        """The club's name as it is shown."""
        return self.name or UNNAMED


@dataclass
class _Reader:
    """Collects sentences while a club is read."""

    faults: list[tuple[str, str]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def whole(self, given: object, key: str, words: str, least: int, most: int, usual: int | None) -> int | None:
        """A whole number; ``usual`` where nothing was typed, ``None`` (and told) for what cannot be taken."""
        text = typed(given, LONGEST_PRICE)
        if not text and usual is not None:
            return usual
        if text.isascii() and text.isdigit() and len(text) < 6 and least <= int(text) <= most:
            return int(text)
        self.faults.append((key, f"{words}: give a whole number from {least} to {most}"
                            + (f", not “{text}”." if text else ".")))
        return None

    def rows(self, given: object, key: str, words: str, most: int) -> list[dict[str, Any]]:
        """The rows of a list; what is no row is told, and so are those past the most that fit."""
        if given is None:
            return []
        if not isinstance(given, list):
            self.faults.append((key, f"{words}: this is no list; it was left aside."))
            return []
        found = [one for one in given if isinstance(one, dict)]
        if len(found) < len(given):
            self.faults.append((key, f"{words}: {len(given) - len(found)} of the lines cannot be read."))
        if len(found) > most:
            self.faults.append((key, f"{words}: at most {most} lines are worked with; {len(found) - most} more are "
                                "kept and not counted."))
        return found[:most]


def typed(given: object, longest: int) -> str:
    """What was typed, as one line of whole characters; "" for what is no text and no number."""
    if isinstance(given, bool) or not isinstance(given, (str, int, float)):
        return ""
    return " ".join(whole_characters(str(given)).split())[:longest]


def _members(reader: _Reader, given: object) -> tuple[Member, ...]:
    found: list[Member] = []
    for at, row in enumerate(reader.rows(given, "members", "Members", MOST_MEMBERS), 1):
        where = f"members.{at}"
        name = typed(row.get("name"), LONGEST_NAME)
        if not name:
            reader.faults.append((f"{where}.name", f"Members, line {at}, name: give a name, or take the line away."))
            continue
        shares = reader.whole(row.get("shares"), f"{where}.shares", f"Members, line {at}, shares", 0, MOST_SHARES, 1)
        found.append(Member(_id(row, found, f"m{at}"), name, 1 if shares is None else shares))
    return tuple(found)


def _id(row: dict[str, Any], others: list[Any], otherwise: str) -> str:
    """The row's own id, or another where it has none or one that is taken."""
    own = typed(row.get("id"), LONGEST_NAME) or otherwise
    taken = {one.id for one in others}
    while own in taken:
        own += "+"
    return own


def _baths(reader: _Reader, given: object) -> tuple[Bath, ...]:
    found: list[Bath] = []
    for at, row in enumerate(reader.rows(given, "baths", "Baths", MOST_BATHS), 1):
        where = f"baths.{at}"
        words = f"Baths, line {at}"
        plan = row.get("plan")
        if not isinstance(plan, dict):
            reader.faults.append((f"{where}.plan", f"{words}, plan: there is none that can be read; choose it anew."))
            continue
        many = reader.whole(row.get("count"), f"{where}.count", f"{words}, how many", 1, MOST_OF_ONE, None)
        answers, notes = history.read_document({"plan": plan, "version": row.get("version")})
        text, told = flatten(answers)
        name = typed(row.get("name"), LONGEST_NAME) or (EXAMPLE if not text else f"Plan {at}")
        reader.notes += [f"{name}: {note}" for note in history.first_of([*notes, *told.values()])]
        if many is not None:
            found.append(Bath(_id(row, found, f"b{at}"), name, many, tuple(sorted(lasting(text).items()))))
    return tuple(found)


def _pairs(given: object) -> tuple[tuple[str, str], ...]:
    """A mapping of texts as pairs; what is no text is left out."""
    if not isinstance(given, dict):
        return ()
    said = {typed(key, 300): typed(text, LONGEST_PRICE) for key, text in given.items()}
    return tuple(sorted((key, text) for key, text in said.items() if key and text))


def sentence(label: str, error: UnreadableQuantity, text: str) -> str:
    """What is wrong with an answer, in a sentence that begins with its label and quotes what was typed, once."""
    return f"{label} {error}." if f"“{text}”" in str(error) else f"{label} {error}. You typed “{text}”."


def _start(reader: _Reader, given: object, system: str) -> date | None:
    text = typed(given, LONGEST_PRICE)
    if not text:
        return None
    try:
        return read_date(text, system)
    except UnreadableQuantity as error:
        reader.faults.append(("start", sentence("First day of the rota", error, text)))
        return None


def read(given: object) -> Club:
    """A club from plain data, never an error: what cannot be read has a sentence among ``faults``.

    >>> read({"members": [{"name": "Ana"}], "weeks": "3"}).faults
    (('weeks', 'Weeks of the rota: give a whole number from 8 to 52, not “3”.'),)
    """
    if not isinstance(given, dict):
        return Club(faults=(("club", "This is no club: it holds no list of what a club says."),))
    reader = _Reader()
    system = "metric" if given.get("units") == "metric" else "us"
    start = _start(reader, given.get("start"), system)
    weeks = reader.whole(given.get("weeks"), "weeks", "Weeks of the rota", LEAST_WEEKS, MOST_WEEKS, USUAL_WEEKS)
    duty = reader.whole(given.get("on_duty"), "on_duty", "On duty in each week", 1, MOST_ON_DUTY, 1)
    members, baths = _members(reader, given.get("members")), _baths(reader, given.get("baths"))
    return Club(
        typed(given.get("id"), LONGEST_NAME), typed(given.get("name"), LONGEST_NAME), system, start,
        weeks or USUAL_WEEKS, duty or 1, given.get("shared_tools") is not False,
        typed(given.get("extra"), LONGEST_PRICE), members, baths, _pairs(given.get("prices")),
        _pairs(given.get("buyers")), tuple(reader.faults), tuple(reader.notes))


def first_day(club: Club) -> str:
    """The first day of the rota as it may be typed again; "" where there is none."""
    return show_date(club.start) if club.start else ""


