"""Keeps every answer of the whole plans in `tests/plans` as it was last agreed to, and tells in words what changed.

A golden file proves nothing right: the values by hand do that. It makes sure that no answer changes unseen.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date
from math import isclose, isfinite
from pathlib import Path

from calc.plan import Plan
from calc.sheet import Caution, Given
from calc.solve import SPECS, Design, label_of, solve
from calc.traced import show_value

from .setup import ROOT

PLANS, GOLDEN = ROOT / "tests" / "plans", ROOT / "tests" / "golden"
CLOSE = 1e-9
# Longer tables are kept as their sums, first and last rows: any changed number still shows.
LONG_TABLE = 12
ABSENT = "nothing"


@dataclass(frozen=True)
class Difference:
    """One answer that is not as it was, in words."""

    plan: str
    what: str
    before: str
    after: str

    def __str__(self) -> str:
        return f"{self.plan}: {self.what}\n    before: {self.before}\n    after:  {self.after}"


def load(file: Path) -> Plan:
    """The plan of one data file."""
    return Plan.from_mapping(json.loads(file.read_text(encoding="utf-8"))["plan"])


def plain(value: object) -> object:
    """A result's value as JSON can hold it."""
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float) and not isfinite(value):
        return repr(value)
    if isinstance(value, dict):
        return {str(key): plain(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [plain(one) for one in value]
    return value


def _short(rows: list) -> object:
    """A long table as counts, sums by column, first and last row."""
    if len(rows) <= LONG_TABLE or not all(isinstance(row, dict) for row in rows):
        return rows
    sums: dict[str, float] = {}
    for row in rows:
        for column, cell in row.items():
            if isinstance(cell, int | float) and not isinstance(cell, bool):
                sums[column] = sums.get(column, 0.0) + cell
    words = {column: sum(map(ord, "".join(str(row.get(column, "")) for row in rows))) for column in rows[0]
             if any(isinstance(row.get(column), str) for row in rows)}
    return {"rows": len(rows), "sums": sums, "letters": words, "first": rows[0], "last": rows[-1]}


def answers(design: Design) -> dict[str, dict]:
    """All that a design says, by kind and key."""
    found = {key: plain(answer.value) for key, answer in sorted(design.answers.items())}
    return {"results": {key: _short(value) if isinstance(value, list) else value for key, value in found.items()},
            "cautions": {one.code: _caution(one) for one in sorted(design.cautions, key=lambda c: c.code)},
            "verdicts": {name: _verdict(one) for name, one in sorted(design.verdicts.items())},
            "faults": dict(sorted(design.faults.items())),
            "waiting": {topic: sorted(keys) for topic, keys in sorted(design.waiting.items())},
            "limits": {topic: list(texts) for topic, texts in sorted(design.limits.items())}}


def _caution(one: Caution) -> str:
    standing = ", standing" if one.standing else ""
    return f"{one.level}{standing}: {one.lead}: {one.brief} {one.text}"


def _verdict(one: Given) -> str:
    return f"{one.state}: {one.lead} {one.text} [{one.figure}]"


def same(one: object, other: object) -> bool:
    """Whether two values are the same, numbers within a billionth."""
    if isinstance(one, bool) or isinstance(other, bool):
        return one is other
    if isinstance(one, int | float) and isinstance(other, int | float):
        return isclose(one, other, rel_tol=CLOSE, abs_tol=1e-12)
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    return type(one) is type(other) and one == other


def _where(one: object, other: object, path: str = "") -> tuple[str, object, object]:
    """(place, before, after) of the first difference inside two tables."""
    if isinstance(one, dict) and isinstance(other, dict):
        for key in [*one, *(key for key in other if key not in one)]:
            if not same(one.get(key, ABSENT), other.get(key, ABSENT)):
                return _where(one.get(key, ABSENT), other.get(key, ABSENT), f"{path}, {key}")
    if isinstance(one, list) and isinstance(other, list) and len(one) == len(other):
        for number, (near, far) in enumerate(zip(one, other, strict=True), 1):
            if not same(near, far):
                return _where(near, far, f"{path}, row {number}")
    return path, one, other


def _words(kind: str, key: str, value: object, system: str) -> str:
    """A value in the reader's own units, with the bare number beside it."""
    spec = SPECS.get(key)
    if kind != "results" or spec is None or isinstance(value, str | dict | list) or spec.kind in ("rows", "text"):
        return str(value)
    bare = f" ({value!r})" if isinstance(value, float) else ""
    return f"{show_value(value, spec, system)}{bare}"


def differences(name: str, before: dict, after: dict, system: str) -> list[Difference]:
    """What is not as it was, in words."""
    found = []
    for kind in after:
        old, new = before.get(kind, {}), after[kind]
        for key in sorted(old.keys() | new.keys()):
            was, now = old.get(key, ABSENT), new.get(key, ABSENT)
            if same(was, now):
                continue
            place, near, far = _where(was, now)
            what = label_of(key) if kind in ("results", "faults") else key
            what = f"{'' if kind == 'results' else kind + ' '}{what} [{key}]{place}"
            found.append(Difference(name, what, *(_words(kind, "" if place else key, one, system)
                                                  for one in (near, far))))
    return found


def _write(file: Path, told: dict) -> None:
    """One line for each answer, so that a change is a short diff."""
    lines = ["{"]
    for place, (kind, one) in enumerate(told.items()):
        lines.append(f'"{kind}": {{')
        lines += [f" {json.dumps(key, ensure_ascii=False)}: {json.dumps(value, ensure_ascii=False)}"
                  f"{',' if number < len(one) else ''}" for number, (key, value) in enumerate(one.items(), 1)]
        lines.append("}" + ("," if place < len(told) - 1 else ""))
    file.parent.mkdir(exist_ok=True)
    file.write_text("\n".join([*lines, "}", ""]), encoding="utf-8")


def compare(file: Path) -> tuple[dict, list[Difference]]:
    """(the answers of today, what is not as agreed) for one plan."""
    design = solve(load(file))
    kept = GOLDEN / file.name
    before = json.loads(kept.read_text(encoding="utf-8")) if kept.is_file() else {}
    told = answers(design)
    return told, differences(file.stem, before, told, design.system)


def run(renew: bool) -> int:
    """Print what changed; write it only when asked to. 1 while something is not as agreed."""
    changed = 0
    for file in sorted(PLANS.glob("*.json")):
        told, found = compare(file)
        for one in found:
            print(one)
        changed += len(found)
        if renew and found:
            _write(GOLDEN / file.name, told)
    for kept in sorted(GOLDEN.glob("*.json")):
        if not (PLANS / kept.name).is_file():
            print(f"{kept.stem}: the plan is gone")
            changed += 1
            if renew:
                kept.unlink()
    if not changed:
        print("Every answer of every plan is as agreed.")
    elif renew:
        print(f"\n{changed} answers written as they are today. Say in the commit why they changed.")
    else:
        print(f"\n{changed} answers are not as agreed. If each of them is meant, run "
              "`python3 build.py golden --renew`.")
    return 1 if changed and not renew else 0
