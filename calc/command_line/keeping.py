"""The commands of a running bath: ``today PLAN`` and ``trouble SIGN...``; the same JSON as the pages work with."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

from ..errors import UnreadableQuantity
from ..keeping import times
from ..keeping.entries import READING_FIELDS, Entry, NotUnderstood, from_json
from ..plan import Plan

# Who solves plans waits for none of what a running bath needs: its modules are imported by the command that does.

# What is measured; the rest of a reading was added, and asks for nothing.
OPTIONS = tuple(one for one in READING_FIELDS if one.key.partition(".")[2] in ("temperature", "ec", "ph", "oxygen",
                                                                               "level"))


def add_today(commands: Any, style: Callable[..., argparse.HelpFormatter]) -> argparse.ArgumentParser:
    """The part of the command line for one day's list."""
    one: argparse.ArgumentParser = commands.add_parser(
        "today", help="what a running bath needs today", formatter_class=style,
        description="What a running bath needs today, from one reading, a log, or none at all: acts in their order, "
        "with amounts, reasons, cautions and pours.",
        epilog="A bare number takes the plan's units; with a unit any will do: --ec 655ppm500 --temperature 23C.")
    one.add_argument("plan", metavar="PLAN", help="a JSON file, a plan link, or - for standard input")
    for field in OPTIONS:
        name = field.key.partition(".")[2]
        one.add_argument(f"--{name}", metavar="TEXT", default="", help=f"{field.label}: {field.help}")
    one.add_argument("--jug", metavar="TEXT", default="", help="a jug test: bath water in the jug, like 1L")
    one.add_argument("--jug-acid", metavar="TEXT", default="", help="a jug test: acid or pH-up that it took, like "
                     "12drops or 0.6mL")
    one.add_argument("--log", metavar="CSV", help="a log as CSV, of this program or of a logger")
    one.add_argument("--at", metavar="TIME", default="", help="when it is, like 2026-11-25T07:12; now, unless told")
    one.add_argument("--put-off", action="store_true", help="dose although a full change of solution is due")
    return one


def add_trouble(commands: Any, style: Callable[..., argparse.HelpFormatter]) -> argparse.ArgumentParser:
    """The part of the command line for what is wrong."""
    one: argparse.ArgumentParser = commands.add_parser(
        "trouble", help="what may be wrong with a running bath", formatter_class=style,
        description="What may be wrong, from signs in plain words: causes with their shares and reasons, what to check "
        "in which order, what to ask next, and when to throw away.",
        epilog='For example: trouble "brown roots" "bad smell" --not "low oxygen". Words that are not understood are '
        "listed with the nearest that are.")
    one.add_argument("signs", metavar="SIGN", nargs="+", help="what is seen, in plain words")
    one.add_argument("--not", metavar="SIGN", action="append", default=[], dest="absent",
                     help="what was looked for and is not so; may be given again")
    return one


def answer_trouble(signs: list[str], absent: list[str]) -> dict[str, Any]:
    """What signs in plain words come to, as plain data; raises ValueError where none is understood."""
    from ..keeping.trouble.answer import as_json, find
    from ..keeping.trouble.plain import understood
    from ..keeping.trouble.signs import SIGNS
    there, unclear = understood(signs)
    gone, more = understood(absent)
    if not there and not gone:
        known = ", ".join(f'"{one.title.lower()}"' for one in SIGNS.values())
        raise ValueError(f"None of these words is a sign that is known here. Known are: {known}.")
    return {**as_json(find(there, gone)), "not_understood": {**unclear, **more}}


def log_of(path: str | None, system: str) -> list[Entry]:
    """The entries of a CSV file; raises ValueError with a sentence."""
    from ..keeping import incoming
    if path is None:
        return []
    try:
        found = incoming.read(Path(path).read_text(encoding="utf-8-sig", errors="replace"), system)
    except OSError as error:
        raise ValueError(f"The log cannot be read: {error}") from None
    if found.trouble:
        raise ValueError(found.trouble)
    for words in found.told:
        print(words, file=sys.stderr)
    return found.entries


def moment_of(text: str, system: str) -> datetime:
    """The moment told, or that of the clock; raises ValueError with a sentence."""
    if not text:
        return datetime.now()
    try:
        return times.read_moment(text, times.order_of(system))
    except UnreadableQuantity as error:
        raise ValueError(f"--at {error}.") from None


def answer_today(plan: Plan, asked: argparse.Namespace) -> dict[str, Any]:
    """The list of the day as plain data; raises ValueError with a sentence."""
    from ..keeping import today
    from ..keeping.bath import Bath
    bath = Bath(plan)
    typed = {field.key.partition(".")[2]: text for field in OPTIONS
             if (text := getattr(asked, field.key.partition(".")[2])).strip()}
    now = moment_of(asked.at, bath.system)
    try:
        reading = from_json({"at": times.show(now), "typed": typed}) if typed else None
    except NotUnderstood as error:
        raise ValueError(str(error)) from None
    extra = {"today.jug_volume": asked.jug, "today.jug_acid": asked.jug_acid}
    day = today.today(bath, log_of(asked.log, bath.system), now, reading, extra, asked.put_off)
    return today.as_json(day, bath)


