"""Every key that a step names is declared, and is read as what its declaration says it holds."""

from __future__ import annotations

import ast
from pathlib import Path
from types import SimpleNamespace

import pytest

import calc.topics
from calc.plan import FIELDS, TABLES, find_column
from calc.solve import SPECS

TOPICS = Path(calc.topics.__file__).parent
# What a declared kind may be read as; all others are numbers.
READ_AS = {"choice": {"str"}, "text": {"str"}, "yesno": {"bool"}, "date": {"date"}, "whole": {"int", "float"},
           "count": {"int", "float"}, "rows": {"rows"}}
# What a price keeps beside its number: the money sign it was written with, and whether the reader confirmed it.
TWINS = {".sign": SimpleNamespace(kind="text"), ".sure": SimpleNamespace(kind="yesno")}
ALWAYS = {"text": "str", "whole": "int", "yes": "bool", "result_rows": "rows", "rows_if_any": "rows"}
OF_INPUTS = ("input", "optional", "input_if_any", "text", "whole", "yes")
OF_RESULTS = ("result", "result_if_any", "result_rows", "rows_if_any")
OF_EITHER = ("shown", "shown_as")
WRITTEN = ("put", "work")


def is_sheet(node: ast.expr) -> bool:
    """Whether an expression is the sheet: by its name, also as a part of something else."""
    return (isinstance(node, ast.Name) and node.id == "sheet") or (isinstance(node, ast.Attribute)
                                                                   and node.attr == "sheet")


def key_of(node: ast.expr) -> str | None:
    """A key written out; ``None`` for one put together while the step runs."""
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else None


def uses(text: str):
    """Each (line, accessor, key, kind it is read as) of a file; the accessor of square brackets is "input"."""
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Subscript) and is_sheet(node.value):
            yield node.lineno, "input", key_of(node.slice), "float"
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and is_sheet(node.func.value):
            name = node.func.attr
            if name in (*OF_INPUTS, *OF_RESULTS, *OF_EITHER, *WRITTEN, "rows") and node.args:
                kind = ALWAYS.get(name) or (ast.unparse(node.args[1]) if len(node.args) > 1 else "float")
                yield node.lineno, name, key_of(node.args[0]), kind


def found_under(name: str, key: str):
    """What is declared under a key that this accessor names; ``None`` where nothing is."""
    if name == "rows":
        return TABLES.get(key)
    if name in OF_INPUTS:
        return FIELDS.get(key) or (TWINS.get(key[-5:]) if key[:-5] in FIELDS and
                                   FIELDS[key[:-5]].kind in ("money", "tariff") else None)
    cell = find_column(key) if name in OF_EITHER else None
    return SPECS.get(key) or (FIELDS.get(key) or cell if name in OF_EITHER else None)


def wrong(text: str) -> list[str]:
    """A sentence for each key that is not declared, or read as what it is not."""
    found = []
    for line, name, key, kind in uses(text):
        if key is None:
            continue
        declared = found_under(name, key)
        if declared is None:
            found.append(f"line {line}: {name} names {key}, which is not declared")
        elif name in (*OF_INPUTS, *OF_RESULTS) and kind not in READ_AS.get(declared.kind, {"float"}):
            found.append(f"line {line}: {key} is a {declared.kind} and is read as {kind}")
    return found


def test_every_key_is_declared_and_read_as_what_it_is():
    files = sorted(TOPICS.rglob("*.py"))
    assert sum(key is not None for file in files for _, _, key, _ in uses(file.read_text(encoding="utf-8"))) > 500
    assert {file.name: found for file in files if (found := wrong(file.read_text(encoding="utf-8")))} == {}


@pytest.mark.parametrize(("step", "sentence"), [
    ('sheet["bath.lenght"]', "line 1: input names bath.lenght, which is not declared"),
    ('sheet.result("board.sitess")', "line 1: result names board.sitess, which is not declared"),
    ('found.sheet.rows("air.pump")', "line 1: rows names air.pump, which is not declared"),
    ('sheet["bath.shape"]', "line 1: bath.shape is a choice and is read as float"),
    ('sheet.text("bath.length")', "line 1: bath.length is a length and is read as str"),
    ('sheet.yes("bath.count")', "line 1: bath.count is a whole and is read as bool"),
    ('sheet.result("crops.names")', "line 1: crops.names is a text and is read as float"),
    ('sheet.result("board.pieces")', "line 1: board.pieces is a rows and is read as float"),
    ('sheet.shown("bath.lenght")', "line 1: shown names bath.lenght, which is not declared"),
    ('sheet.put("energy.pwr", 1.0)', "line 1: put names energy.pwr, which is not declared"),
])
def test_a_slip_of_the_pen_is_told(step, sentence):
    assert wrong(step) == [sentence]
