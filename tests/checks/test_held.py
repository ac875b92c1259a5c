"""The Python that browser tests share forgets one page before it serves the next, and nothing is left out."""

from __future__ import annotations

import dataclasses
import importlib
import pkgutil
import re
import sys
from pathlib import Path
from types import FunctionType, ModuleType

import calc
from tests.conftest import HELD

# What never changes once it is read.
STEADY = {("calc.render.svg", "_WIDTHS")}


def changing() -> set[tuple[str, str]]:
    """Where modules of calc hold an object of a class of calc's own that is not frozen."""
    for found in pkgutil.walk_packages(calc.__path__, "calc."):
        if not found.name.endswith("__main__"):
            importlib.import_module(found.name)
    return {(where, name) for where, module in list(sys.modules.items()) if where.partition(".")[0] == "calc"
            for name, value in vars(module).items() if _may_change(value)}


def _may_change(value: object) -> bool:
    kind = type(value)
    if isinstance(value, (type, ModuleType, FunctionType, tuple)) or kind.__module__.partition(".")[0] != "calc":
        return False
    return not (dataclasses.is_dataclass(kind) and kind.__dataclass_params__.frozen)


def test_all_that_may_have_changed_is_made_anew():
    text = Path(HELD).read_text(encoding="utf-8")
    made = {(f"calc.{module}", name) for module, name in re.findall(r"^calc\.(\w+)\.(_\w+) = ", text, re.MULTILINE)}
    assert made and made == changing() - STEADY
