"""The reader's own numbers inside the sentences of a guide: a result as it is shown, or a small sum over results.

A sum is arithmetic with ``+ - * /`` and brackets over declared results, questions and plain numbers, such as
``water.working_volume["gal"] * 28``. A key stands for its number in the unit that the reader sees; a unit in square
brackets asks for that one instead.
"""

from __future__ import annotations

import ast
import operator
from collections.abc import Callable
from contextlib import suppress
from html import escape
from math import isfinite

from .. import units
from ..plan import FIELDS
from ..solve import SPECS, Design

LONGEST = 200
MISSING = "–"
_SIGNS: dict[type[ast.operator], Callable[[float, float], float]] = {
    ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv}


class Wrong(ValueError):
    """A sum or a key in a guide's text that cannot be read, with what is allowed."""


def _key(node: ast.expr) -> str:
    """The dotted key that a name with dots stands for."""
    if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
        key = f"{node.value.id}.{node.attr}"
        if key in SPECS or key in FIELDS:
            return key
        raise Wrong(f"there is no result or question {key}")
    raise Wrong("a sum is made of keys such as water.working_volume, numbers, + - * / and brackets")


def _kind(key: str) -> str:
    return SPECS[key].kind if key in SPECS else FIELDS[key].kind


def _reference(node: ast.expr) -> tuple[str, str]:
    """(key, unit asked for or "") of a key with or without a unit in square brackets."""
    if not isinstance(node, ast.Subscript):
        return _key(node), ""
    key, unit = _key(node.value), node.slice
    if not isinstance(unit, ast.Constant) or not isinstance(unit.value, str):
        raise Wrong(f'the unit of {key} is written as {key}["gal"]')
    kind = _kind(key)
    if kind not in units.KINDS or unit.value not in units.KINDS[kind].units:
        raise Wrong(f"{key} cannot be said in {unit.value}")
    return key, unit.value


def _parsed(text: str) -> ast.expr:
    if len(text) > LONGEST:
        raise Wrong(f"a sum has at most {LONGEST} characters")
    try:
        return ast.parse(text.strip(), mode="eval").body
    except (SyntaxError, ValueError, MemoryError, RecursionError):
        raise Wrong(f"this cannot be read as a key or a sum: {text.strip()}") from None


def _walk(node: ast.expr, number: Callable[[str, str], float]) -> float:
    if isinstance(node, ast.BinOp) and type(node.op) in _SIGNS:
        return _SIGNS[type(node.op)](_walk(node.left, number), _walk(node.right, number))
    if isinstance(node, ast.Constant) and isinstance(node.value, (int, float)) and not isinstance(node.value, bool):
        return float(node.value)
    return number(*_reference(node))


def check(text: str) -> None:
    """Raise Wrong where a text is no key and no sum over what is declared."""
    node = _parsed(text)
    if isinstance(node, (ast.Attribute, ast.Subscript)):
        _reference(node)
    else:
        # The numbers of a plan are others, so that only its own may divide by nothing.
        with suppress(ZeroDivisionError):
            _walk(node, lambda key, unit: 1.0)


def shown(text: str, design: Design) -> str:
    """What stands in the sentence: the number, for a single key with its unit; a dash while it has no answer.

    >>> from calc import Plan, solve
    >>> shown('water.working_volume["L"] * 2', solve(Plan({"bath.length": "100 cm"})))[-1].isdigit()
    True
    """
    node = _parsed(text)
    if isinstance(node, (ast.Attribute, ast.Subscript)):
        key, unit = _reference(node)
        value = design.value(key)
        if value is None:
            return MISSING
        if not unit:
            return design.shown(key)
        return f"{units.number(units.convert(value, _kind(key), unit))} {units.written(unit)}"

    def number(key: str, unit: str) -> float:
        value, kind = design.value(key), _kind(key)
        if value is None or isinstance(value, str):
            raise ZeroDivisionError
        if kind not in units.KINDS:
            return float(value)
        return units.convert(value, kind, unit or _unit_shown(key, design))
    try:
        found = _walk(node, number)
    except (ZeroDivisionError, OverflowError):
        return MISSING
    return units.number(found) if isfinite(found) else MISSING


def _unit_shown(key: str, design: Design) -> str:
    """The unit that the reader sees a result or a question in."""
    spec = SPECS.get(key) or FIELDS[key]
    kind = units.KINDS[spec.kind]
    return (spec.metric or kind.metric) if design.system == "metric" else (spec.us or kind.us)


def html(text: str, design: Design) -> str:
    """A living number, marked as one, with what it is made of for the page to keep it up to date."""
    return f'<data class="{_looks(text)}" data-living="{escape(text)}" value="">{escape(shown(text, design))}</data>'


def _looks(text: str) -> str:
    """A number stays on one line; words, such as a pattern or a pipe's name, may break."""
    node = _parsed(text)
    words = isinstance(node, ast.Attribute) and _kind(_reference(node)[0]) not in units.KINDS
    return "living words" if words else "living"
