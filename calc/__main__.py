"""The command line: ``python -m calc solve PLAN``, ``fields`` and ``results``, all as JSON."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from . import units
from .plan import FIELDS, TABLES, TOPIC_OF, Plan
from .render import link
from .solve import RESULT_TOPIC, SPECS, as_json, solve


def read_plan(argument: str) -> tuple[Plan, list[str]]:
    """A plan from a link, a file's path, or ``-`` for standard input; raises ValueError with a sentence."""
    if "#plan=" in argument or "#start=" in argument or argument.startswith(("plan=", "start=")):
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
    if isinstance(given, dict) and isinstance(given.get("plan"), dict):
        given = given["plan"]
    return Plan.from_mapping(given), []


def _unit(kind: str) -> str:
    return units.KINDS[kind].script if kind in units.KINDS and kind != "whole" else ""


def _field(key: str, field) -> dict:
    return {"key": key, "kind": field.kind, "label": field.label, "unit": _unit(field.kind),
            "default": {"us": field.default[0], "metric": field.default[1]}, "minimum": field.minimum,
            "maximum": field.maximum, "choices": [choice.value for choice in field.choices],
            "optional": field.optional, "help": field.help, "why": field.why, "topic": TOPIC_OF.get(key, "")}


def list_fields() -> list[dict]:
    """Every input, tables last, as plain data; minimum and maximum are in the kind's base unit."""
    found = [_field(key, field) for key, field in FIELDS.items()]
    for key, table in TABLES.items():
        found.append({"key": key, "kind": "table", "label": table.label, "topic": TOPIC_OF[key], "help": table.help,
                      "columns": [_field(column.key, column) for column in table.columns]})
    return found


def list_results() -> list[dict]:
    """Every result as plain data."""
    return [{"key": key, "kind": spec.kind, "label": spec.label, "unit": _unit(spec.kind), "topic": RESULT_TOPIC[key]}
            for key, spec in SPECS.items()]


def main(arguments: list[str] | None = None) -> int:
    """Run one command; 0 when it answered (faults are part of an answer), 2 when the plan could not be read."""
    parser = argparse.ArgumentParser(prog="python -m calc", description="Plan a hydroponic raft bath from a script.")
    commands = parser.add_subparsers(dest="command", required=True)
    solving = commands.add_parser("solve", help="work out a plan")
    solving.add_argument("plan", metavar="PLAN", help="a JSON file, a plan link, or - for standard input")
    commands.add_parser("fields", help="list every input")
    commands.add_parser("results", help="list every result")
    asked = parser.parse_args(arguments)
    if asked.command != "solve":
        print(json.dumps(list_fields() if asked.command == "fields" else list_results(), indent=1, ensure_ascii=False))
        return 0
    try:
        plan, notes = read_plan(asked.plan)
    except ValueError as error:
        print(error, file=sys.stderr)
        return 2
    answer = as_json(solve(plan))
    answer["notes"] = notes
    print(json.dumps(answer, indent=1, ensure_ascii=False, allow_nan=False))
    return 0


if __name__ == "__main__":
    sys.exit(main())
