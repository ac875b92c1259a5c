"""What tools say of the code: style, types, and what nothing uses."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
LONGEST_LINE = 120
# Written by hand and shown to nobody's parser for style; pictures and what is fetched are left out.
BY_HAND = ("site_src/assets/css/*.css", "site_src/assets/js/*.js", "site_src/templates/*.j2")


def said(*command: str) -> tuple[int, str]:
    """Exit code and words of one of the pinned tools, run on the whole project as pyproject.toml says."""
    done = subprocess.run([sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True)
    return done.returncode, done.stdout + done.stderr


@pytest.mark.parametrize("command", [("ruff", "check", "."), ("mypy",), ("vulture",)],
                         ids=["style", "types", "dead code"])
def test_a_tool_has_nothing_to_say_against_the_code(command):
    code, words = said(*command)
    assert code == 0, words


@pytest.mark.parametrize("pattern", BY_HAND)
def test_no_line_is_longer_than_the_rest(pattern):
    files = sorted(ROOT.glob(pattern))
    assert files
    assert [f"{file.relative_to(ROOT)}:{number}: {len(line)} letters" for file in files
            for number, line in enumerate(file.read_text(encoding="utf-8").splitlines(), 1)
            if len(line) > LONGEST_LINE] == []


def test_types_reach_who_installs_calc():
    assert (ROOT / "calc" / "py.typed").is_file()


@pytest.mark.parametrize("room", ["data", "geometry", "keeping", "mending", "models", "numeric", "relations", "topics"])
def test_who_works_out_knows_nothing_of_who_draws(room):
    files = sorted((ROOT / "calc" / room).rglob("*.py"))
    assert files
    # Each import of each file, also inside a function, by the whole name of its module or of what is taken from it.
    found = {(file.name, name) for file in files for one in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
             if isinstance(one, ast.Import | ast.ImportFrom)
             for name in ((getattr(one, "module", None) or "").split(".")[0], *(each.name for each in one.names))}
    assert {name for _, name in found}, "nothing is imported at all"
    assert [one for one in sorted(found) if one[1] in ("render", "api", "keeping_api")
            or one[1].startswith(("calc.render", "calc.api"))] == []
