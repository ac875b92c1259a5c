"""The floor under the coverage of calc is applied when all of its tests run, and it can fail."""

from __future__ import annotations

import shutil
import subprocess
import sys

import pytest

from tests import floor


@pytest.mark.parametrize(("arguments", "filtered", "all_of_it"), [
    (["tests"], False, True), (["tests/calc"], False, True), (["tests/site", "tests/calc/"], False, True),
    (["."], False, True), (["tests"], True, False), (["tests/site"], False, False),
    (["tests/calc/test_air.py"], False, False), (["tests/calc/test_air.py::test_x"], False, False), ([], False, False),
])
def test_only_a_whole_run_is_held_to_the_floor(arguments, filtered, all_of_it):
    assert floor.whole(arguments, filtered) is all_of_it


@pytest.fixture
def scratch(tmp_path):
    """A project with two functions: a test of calc reaches one, a test of the site the other."""
    (tmp_path / "calc").mkdir()
    (tmp_path / "calc" / "__init__.py").write_text("def one():\n    return 1\n\n\ndef two():\n    return 2\n",
                                                    encoding="utf-8")
    (tmp_path / "pyproject.toml").write_text(
        "[tool.pytest.ini_options]\npythonpath = ['.']\naddopts = '--import-mode=importlib'\n", encoding="utf-8")
    for folder, name in (("calc", "one"), ("site", "two")):
        (tmp_path / "tests" / folder).mkdir(parents=True)
        (tmp_path / "tests" / folder / f"test_{name}.py").write_text(
            f"import calc\n\n\ndef test_{name}():\n    assert calc.{name}()\n", encoding="utf-8")
    shutil.copy(floor.__file__, tmp_path / "tests" / "floor.py")
    conftest = (floor.ROOT / "tests" / "conftest.py").read_text(encoding="utf-8")
    hooks = conftest[conftest.index("def pytest_addoption"):conftest.index("    if not NIGHT:")]
    (tmp_path / "tests" / "conftest.py").write_text("import pytest\n\nfrom tests import floor\n\n\n" + hooks,
                                                     encoding="utf-8")
    return tmp_path


def run(folder, *words: str) -> subprocess.CompletedProcess:
    """pytest in the scratch project."""
    return subprocess.run([sys.executable, "-m", "pytest", "-p", "no:cacheprovider", *words], cwd=folder,
                          capture_output=True, text=True)


@pytest.mark.parametrize("words", [(), ("-p", "xdist", "-n", "2")], ids=["in one process", "in two"])
def test_what_only_other_tests_reach_does_not_count_and_fails_the_run(scratch, words):
    if words:
        pytest.importorskip("xdist")
    done = run(scratch, "tests", "--floor", *words)
    assert "2 passed" in done.stdout, done.stdout + done.stderr
    assert "tests/calc reach 75.00 % of the lines of calc; the floor is 97 %. Add tests" in done.stdout, done.stdout
    assert done.returncode == 1


@pytest.mark.parametrize("words", [("tests",), ("tests/calc/test_one.py", "--floor"),
                                   ("tests", "-k", "one", "--floor")])
def test_a_part_of_the_tests_is_held_to_nothing(scratch, words):
    done = run(scratch, *words)
    assert done.returncode == 0 and "floor" not in done.stdout


def test_below_the_floor_the_sentence_says_what_to_do():
    assert floor.verdict(97.0) == "tests/calc reach 97.00 % of the lines of calc; the floor is 97 %."
    assert floor.verdict(96.99).endswith("Add tests, or take out what nothing needs.")
