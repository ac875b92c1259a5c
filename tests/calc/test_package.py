"""calc as a package: one version everywhere, examples that run, and a wheel that installs with its command."""

from __future__ import annotations

import doctest
import importlib
import json
import os
import re
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest
from tools import site

import calc
from calc import api

ROOT = Path(__file__).resolve().parents[2]
WITH_EXAMPLES = sorted(".".join(file.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
                       for file in (ROOT / "calc").rglob("*.py") if ">>> " in file.read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", WITH_EXAMPLES)
def test_examples_in_docstrings_are_true(name):
    found = doctest.testmod(importlib.import_module(name))
    assert found.attempted and not found.failed


@pytest.mark.parametrize("name", [name for name in calc.__all__ if name != "__version__"])
def test_each_public_name_has_an_example(name):
    assert ">>> from calc import" in (getattr(calc, name).__doc__ or "")


def test_public_names_are_the_same_by_every_way_in():
    script = ("from calc.solve import solve as by_module; import calc.solve, calc.relations; from calc import solve; "
              "assert calc.solve is solve is by_module and callable(solve); "
              "assert calc.relations.RELATIONS and calc.relations is __import__('sys').modules['calc.relations']")
    for first in ("calc.solve", "calc.api", "calc.units", "calc.relations.base", "calc.render.page"):
        subprocess.run([sys.executable, "-c", f"import {first}; {script}"], cwd=ROOT, check=True)


def test_the_page_loads_no_processes_that_a_browser_lacks():
    script = "import sys, calc.api; print([n for n in ('multiprocessing', 'concurrent.futures') if n in sys.modules])"
    done = subprocess.run([sys.executable, "-c", script], cwd=ROOT, check=True, capture_output=True, text=True)
    assert done.stdout.strip() == "[]"


def test_one_version_everywhere(dist):
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    assert project["project"]["dynamic"] == ["version"] and "version" not in project["project"]
    assert project["tool"]["setuptools"]["dynamic"]["version"] == {"attr": "calc.__version__"}
    assert site.version() == calc.__version__
    made_with = f"Raftwright {calc.__version__}"
    told = subprocess.run([sys.executable, "-m", "calc", "--version"], cwd=ROOT, capture_output=True, text=True)
    assert told.stdout == f"{made_with}\n"
    kept = json.loads(json.loads(api.run(json.dumps({"op": "file_write", "plan": {}})))["text"])
    assert kept["made_with"] == made_with and kept["version"] == 2
    solved = subprocess.run([sys.executable, "-m", "calc", "solve", "-"], cwd=ROOT, input="{}", capture_output=True,
                            text=True)
    assert json.loads(solved.stdout)["made_with"] == made_with
    for page in ("index.html", "plan/index.html"):
        assert f"{made_with}, release " in (dist / page).read_text(encoding="utf-8")
    headings = re.findall(r"^## (\S+)", (ROOT / "CHANGELOG.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert headings[0] in ("Unreleased", calc.__version__) and calc.__version__ in headings


def test_a_file_that_does_not_say_what_made_it_is_read():
    for kept in ({"plan": {"bath.length": "50 in"}, "version": 2}, {"bath.length": "50 in"}):
        answer = json.loads(api.run(json.dumps({"op": "file_read", "text": json.dumps(kept)})))
        assert answer == {"plan": {"bath.length": "50 in"}, "notes": []}


@pytest.fixture(scope="module")
def installed(tmp_path_factory) -> tuple[Path, Path]:
    """The wheel, and a folder where it is installed; built from a copy, since building writes beside the sources."""
    import shutil
    place = tmp_path_factory.mktemp("wheel")
    shutil.copytree(ROOT / "calc", place / "source" / "calc", ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copyfile(ROOT / name, place / "source" / name)
    pip = [sys.executable, "-m", "pip", "--disable-pip-version-check", "--no-input"]
    for step in (["wheel", "--no-index", "--no-build-isolation", "--no-deps", "-w", str(place), str(place / "source")],
                 ["install", "--no-index", "--no-deps", "--target", str(place / "target"), str(place)]):
        if step[0] == "install":
            step[-1] = str(next(place.glob("*.whl")))
        done = subprocess.run([*pip, *step], capture_output=True, text=True)
        assert done.returncode == 0, done.stderr
    return next(place.glob("*.whl")), place / "target"


def test_the_wheel_holds_all_of_calc(installed):
    wheel, _ = installed
    assert wheel.name == f"raftwright_calc-{calc.__version__}-py3-none-any.whl"
    with zipfile.ZipFile(wheel) as packed:
        names = {name for name in packed.namelist() if ".dist-info/" not in name}
        points = packed.read(f"raftwright_calc-{calc.__version__}.dist-info/entry_points.txt").decode()
    wanted = {file.relative_to(ROOT).as_posix() for file in (ROOT / "calc").rglob("*")
              if file.is_file() and "__pycache__" not in file.parts}
    assert names == wanted and "calc/py.typed" in names
    assert "raftwright = calc.command_line:console" in points


@pytest.mark.parametrize("way", ["raftwright", "python -m calc"])
def test_the_installed_command_runs(installed, tmp_path, way):
    _, target = installed
    program = next(target.glob("bin/raftwright*"), None) or next(target.glob("Scripts/raftwright*"))
    command = [sys.executable, str(program)] if way == "raftwright" else [sys.executable, "-m", "calc"]

    def run(*arguments, given=""):
        # From an empty folder, so that nothing but the installed copy can be imported.
        return subprocess.run([*command, *arguments], input=given, capture_output=True, text=True, cwd=tmp_path,
                              env={**os.environ, "PYTHONPATH": str(target)})

    assert run("--help").stdout.startswith(f"usage: {way} [-h]")
    assert run("solve", "--help").stdout.startswith(f"usage: {way} solve [-h]")
    assert json.loads(run("solve", "-", given='{"bath.length": "50 in"}').stdout)["plan"] == {"bath.length": "50 in"}
    assert {one["key"] for one in json.loads(run("fields").stdout)} >= {"bath.length", "units"}
    assert {one["key"] for one in json.loads(run("results").stdout)} >= {"water.mass"}
    many = run("solve", "--lines", "-", "--workers", "2", given='{}\n{\n{"bath.length": "50 in"}\n')
    found = [json.loads(line) for line in many.stdout.splitlines()]
    assert [one["line"] for one in found] == [1, 2, 3] and "error" in found[1] and many.returncode == 1
