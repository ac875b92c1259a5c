"""The command line: ``solve``, ``render``, ``today``, ``trouble``, ``club``, ``fields`` and ``results``; never a
traceback."""

from __future__ import annotations

import argparse
import json
import os
import signal
import sys
from contextlib import closing
from functools import partial
from io import TextIOWrapper
from pathlib import Path
from typing import NoReturn

from .. import history, units
from ..declare import Field
from ..plan import FIELDS, MADE_WITH, TABLES, TOPIC_OF, Plan
from ..render import link
from ..render.paper import files, leaf
from ..solve import RESULT_TOPIC, SPECS, solve
from . import keeping as running
from . import lines

PROG = "raftwright"
MOST_WORKERS = 60
LONGEST_NAME = 60


def read_plan(argument: str) -> tuple[Plan, list[str]]:
    """A plan from a link, a file's path, or ``-`` for standard input; raises ValueError with a sentence."""
    if lines.is_link(argument):
        text, notes = link.read(argument)
        return Plan.from_mapping(text), notes
    try:
        content = sys.stdin.read() if argument == "-" else Path(argument).read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise ValueError(f"PLAN cannot be read: {error}") from None
    try:
        given = json.loads(content)
    except (ValueError, RecursionError) as error:
        raise ValueError(f"PLAN is not JSON text: {error}") from None
    return history.plan_of(given)


def _unit(kind: str) -> str:
    return units.KINDS[kind].script if kind in units.KINDS and kind != "whole" else ""


def _field(key: str, field: Field) -> dict[str, object]:
    return {"key": key, "kind": field.kind, "label": field.label, "unit": _unit(field.kind),
            "default": {"us": field.default[0], "metric": field.default[1]}, "minimum": field.minimum,
            "maximum": field.maximum, "choices": [choice.value for choice in field.choices if not choice.retired],
            "optional": field.optional, "help": field.help, "why": field.why, "topic": TOPIC_OF.get(key, "")}


def list_fields() -> list[dict[str, object]]:
    """Every input, tables last, as plain data; minimum and maximum are in the kind's base unit."""
    found = [_field(key, field) for key, field in FIELDS.items()]
    for key, table in TABLES.items():
        found.append({"key": key, "kind": "table", "label": table.label, "topic": TOPIC_OF[key], "help": table.help,
                      "columns": [_field(column.key, column) for column in table.columns]})
    return found


def list_results() -> list[dict[str, object]]:
    """Every result as plain data."""
    return [{"key": key, "kind": spec.kind, "label": spec.label, "unit": _unit(spec.kind), "topic": RESULT_TOPIC[key]}
            for key, spec in SPECS.items()]


def _workers(text: str) -> int:
    if not (text.isascii() and text.isdigit() and 1 <= int(text[:6]) <= MOST_WORKERS):
        raise argparse.ArgumentTypeError(f"give a whole number from 1 to {MOST_WORKERS}, not {text[:40]}")
    return int(text)


def parsers(prog: str = PROG) -> dict[str, argparse.ArgumentParser]:
    """The whole command line under "", and each command's part of it under its name."""
    # One width whatever the terminal, so that the site's page of this help is the same wherever it is built.
    style = partial(argparse.HelpFormatter, width=80)
    top = argparse.ArgumentParser(prog=prog, description="Plan a hydroponic raft bath from a script. All answers are "
                                  "JSON text; sheets to print and files are written by render.", formatter_class=style)
    top.add_argument("--version", action="version", version=MADE_WITH)
    commands = top.add_subparsers(dest="command", required=True, metavar="COMMAND")
    solving = commands.add_parser(
        "solve", help="work out a plan, or many", formatter_class=style,
        description="Work out one plan; or with --lines as many as there are lines, in order, each answered on a line "
        "of its own.",
        epilog="Exit status: 0 when all was answered (faults are part of an answer), 1 when --lines answered a line "
        "with an error, 2 when the plan or the file could not be read at all.")
    what = solving.add_mutually_exclusive_group(required=True)
    what.add_argument("plan", metavar="PLAN", nargs="?", help="a JSON file, a plan link, or - for standard input")
    what.add_argument("--lines", metavar="FILE", help="a file with one JSON plan (or plan link in quotes) a line, or - "
                      "for standard input; a line that is no plan is answered with {\"line\": number, \"error\": "
                      "sentence}")
    solving.add_argument("--workers", metavar="N", type=_workers, help="how many processes share the lines (all cores "
                         "unless told); 1 starts none")
    solving.add_argument("--mends", action="store_true", help="add what would make verdicts fit that are tight or "
                         "fail: by topic up to three changes, each tried, as {\"id\", \"act\", \"consequence\", "
                         "\"changes\"}; takes a few times as long")
    rendering = commands.add_parser(
        "render", help="write a sheet to print, or a file, of a plan", formatter_class=style,
        description="Write one file of a plan. Its name says what it is: " + ", ".join(files.names()) + ".",
        epilog="Exit status: 0 when the file was written, 1 when it could not be written, 2 when the plan could not be "
        "read or the name is none of these.")
    rendering.add_argument("plan", metavar="PLAN", help="a JSON file, a plan link, or - for standard input")
    rendering.add_argument("--to", metavar="FILE", required=True, help="where to write it; a folder ahead of the name "
                           "is allowed")
    rendering.add_argument("--name", metavar="TEXT", default="", help="the plan's name on the sheets (that of the file "
                           "of the plan unless told)")
    comparing = commands.add_parser(
        "compare", help="tell two to four plans apart", formatter_class=style,
        description="Two to four plans side by side: which questions they answer differently, and what that does to "
        "the answers, better or worse than those of the first; a sentence for each of the others.",
        epilog="Exit status: 0 when they were compared, 2 when a plan could not be read or there are not two to four.")
    comparing.add_argument("plans", metavar="PLAN", nargs="+", help="a JSON file, or a plan link; the others are held "
                           "to the first")
    listing = {name: commands.add_parser(name, help=words, description=words.capitalize() + ".", formatter_class=style)
               for name, words in (("fields", "list every input, with units, bounds and defaults"),
                                   ("results", "list every result"))}
    together = commands.add_parser(
        "club", help="work out what a club that builds together comes to", formatter_class=style,
        description="A club's file: one shopping list for all baths, quantities summed and then rounded to packs, what "
        "it costs a bath and a member, who brings and owes what, and the rota of daily rounds.",
        epilog="Exit status: 0 when it answered (faults are part of an answer), 2 when the file could not be read at "
        "all.")
    together.add_argument("file", metavar="FILE", help="a file that the page A club saved, or - for standard input")
    keeping = {"today": running.add_today(commands, style), "trouble": running.add_trouble(commands, style)}
    return {"": top, "solve": solving, "render": rendering, "compare": comparing, "club": together, **listing,
            **keeping}


def _write(answer: object) -> None:
    print(json.dumps(answer, indent=1, ensure_ascii=False, allow_nan=False))


def _solve_lines(where: str, workers: int, with_mends: bool) -> int:
    """Answer every line; 1 when any was answered by an error."""
    try:
        stream = open(0 if where == "-" else where, "rb", closefd=where != "-")  # noqa: SIM115 (see the end)
    except OSError as error:
        print(f"The file of lines cannot be read: {error}", file=sys.stderr)
        return 2
    status = 0
    work = partial(lines.answer_line, with_mends=with_mends)
    with closing(lines.answers(lines.read_lines(stream), workers, work)) as found:
        for answer in found:
            # Told at once: whoever sends a line and waits gets its answer.
            print(answer, flush=True)
            if lines.is_error(answer):
                status = 1
    # Only after the last line: while the reading thread waits for one, closing would wait with it.
    stream.close()
    return status


def _called(argument: str) -> str:
    """What a plan is called that has been read: the name in its file, or that of the file; "" for a link."""
    if argument == "-" or lines.is_link(argument):
        return ""
    given = json.loads(Path(argument).read_text(encoding="utf-8"))
    own = given.get("name") if isinstance(given, dict) and isinstance(given.get("plan"), dict) else None
    return own.strip() if isinstance(own, str) and own.strip() else Path(argument).stem


def _render(argument: str, to: str, name: str) -> int:
    """Write one file of a plan."""
    try:
        plan, notes = read_plan(argument)
        called = name.strip() or _called(argument)
        paper = leaf.Paper(solve(plan), called[:LONGEST_NAME] or leaf.UNNAMED, notes=tuple(notes))
        made = files.write(paper, Path(to).name)
    except ValueError as error:
        print(error, file=sys.stderr)
        return 2
    for note in notes:
        print(note, file=sys.stderr)
    try:
        Path(to).write_bytes(made if isinstance(made, bytes) else made.encode("utf-8", "replace"))
    except OSError as error:
        print(f"{to} could not be written: {error.strerror or error}", file=sys.stderr)
        return 1
    return 0


def main(arguments: list[str] | None = None, prog: str = PROG) -> int:
    """Run one command; returns the exit status that the help of ``solve`` tells."""
    known = parsers(prog)
    asked = known[""].parse_args(arguments)
    if asked.command == "render":
        return _render(asked.plan, asked.to, asked.name)
    if asked.command == "compare":
        return _compare(asked.plans)
    if asked.command == "club":
        return _club(asked.file)
    if asked.command == "today":
        return _today(asked)
    if asked.command == "trouble":
        return _trouble(asked)
    if asked.command != "solve":
        _write(list_fields() if asked.command == "fields" else list_results())
        return 0
    if asked.lines is not None:
        return _solve_lines(asked.lines, asked.workers or lines.cores(MOST_WORKERS), asked.mends)
    if asked.workers is not None:
        known["solve"].error("--workers goes with --lines")
    try:
        plan, notes = read_plan(asked.plan)
    except ValueError as error:
        print(error, file=sys.stderr)
        return 2
    _write({**lines.answer(plan, asked.mends), "notes": notes})
    return 0


def _compare(arguments: list[str]) -> int:
    """Two to four plans side by side; 2 where one of them cannot be read."""
    from .. import compare
    if not 2 <= len(arguments) <= compare.MOST:
        print(f"Give two to four plans, not {len(arguments)}.", file=sys.stderr)
        return 2
    try:
        read = [read_plan(argument) for argument in arguments]
    except ValueError as error:
        print(error, file=sys.stderr)
        return 2
    notes = [f"{letter}: {note}" for letter, (_, found) in zip(compare.LETTERS, read, strict=False) for note in found]
    _write({**compare.as_json([solve(plan) for plan, _ in read]), "notes": notes})
    return 0


def _club(argument: str) -> int:
    """What a club comes to; 2 where its file cannot be read."""
    from ..club import answer
    from ..club import files as club_files
    try:
        content = sys.stdin.read() if argument == "-" else Path(argument).read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        print(f"FILE cannot be read: {error}", file=sys.stderr)
        return 2
    given = club_files.read(content)
    if isinstance(given, str):
        print(given, file=sys.stderr)
        return 2
    _write(answer.as_json(given))
    return 0


def _today(asked: argparse.Namespace) -> int:
    """Answer for one day; 2 where the plan, the log or the time cannot be read."""
    try:
        plan, notes = read_plan(asked.plan)
        answer = running.answer_today(plan, asked)
    except ValueError as error:
        print(error, file=sys.stderr)
        return 2
    _write({**answer, "notes": notes})
    return 0


def _trouble(asked: argparse.Namespace) -> int:
    """Answer to signs; 2 where none of the words is understood."""
    try:
        _write(running.answer_trouble(asked.signs, asked.absent))
    except ValueError as error:
        print(error, file=sys.stderr)
        return 2
    return 0


def _end_as(name: str, otherwise: int) -> NoReturn:
    """End as a program does that leaves this signal to the system, so that a shell sees what it expects."""
    if os.name == "posix":
        signal.signal(getattr(signal, name), signal.SIG_DFL)
        os.kill(os.getpid(), getattr(signal, name))
    os._exit(otherwise)


def console(prog: str = PROG) -> NoReturn:
    """Run as a program: a reader that goes away and Ctrl+C end it quietly, a full disk gets a sentence."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            # JSON is UTF-8 everywhere, and half a character (\ud800) is written as JSON spells it.
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")
    status: int | str | None
    try:
        try:
            status = main(None, prog)
        except SystemExit as leaving:
            status = leaving.code
        if sys.stdout is not None:
            sys.stdout.flush()
    except BrokenPipeError:
        _end_as("SIGPIPE", 1)
    except KeyboardInterrupt:
        _end_as("SIGINT", 130)
    except OSError as error:
        print(f"{prog}: the answer could not be written: {error.strerror or error}", file=sys.stderr, flush=True)
        # Not by way of sys.exit, which would try to write the rest again.
        os._exit(1)
    sys.exit(status)
