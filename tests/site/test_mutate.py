"""The runner of mutants, on a toy: one mutant that a test notices, one that none does, one that hangs."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tools.mutants import mutants, source_of

ROOT = Path(__file__).resolve().parents[2]
TOY = '''"""A toy."""
def area(length: float = 2, width: float = 3) -> float:
    """Length 5 times width."""
    return length * width


def label(value):
    if value > 10:
        return "large"
    return "small"


def count(most):
    found = 0
    while found < most:
        found += 1
    return found


def unused(x):
    return x - 1
'''
TESTS = '''from toy.sums import area, count, label


def test_area():
    assert area(4, 5) == 20


def test_label_runs():
    assert label(3)


def test_count():
    assert count(2) == 2
'''
TRY = """
import json, sys
from pathlib import Path
sys.path.insert(0, sys.argv[2])
from tools import mutate
from tools.mutants import mutants
root = Path(sys.argv[1])
mutate.SPARE_S = 1.0
covering = mutate.gather(root, "toy", "tests", root / "cache")
found = mutate.try_all(root, mutants(root, "toy/sums.py"), covering, 2)
print(json.dumps([[one.within, one.before, one.after, became, noticed] for one, became, noticed in found]))
print(json.dumps(mutate.summary(found)))
"""


@pytest.fixture(scope="module")
def toy(tmp_path_factory):
    root = tmp_path_factory.mktemp("toy")
    (root / "toy").mkdir()
    (root / "tests").mkdir()
    (root / "toy" / "__init__.py").write_text("")
    (root / "toy" / "sums.py").write_text(TOY)
    (root / "tests" / "test_sums.py").write_text(TESTS)
    done = subprocess.run([sys.executable, "-c", TRY, str(root), str(ROOT / "site_src")], capture_output=True,
                          text=True)
    assert done.returncode == 0, done.stderr
    found, summary = done.stdout.strip().splitlines()[-2:]
    return root, json.loads(found), json.loads(summary)


def test_what_becomes_of_each(toy):
    root, found, summary = toy
    became = {(within, after): (what, noticed) for within, _, after, what, noticed in found}
    assert became["area", "length / width"] == ("caught", "tests/test_sums.py::test_area")
    assert became["area", "return None"][0] == "caught"
    # The test of the label only runs it.
    assert became["label", "value >= 10"][0] == "survived" and became["label", "value <= 10"][0] == "survived"
    assert became["unused", "x + 1"] == ("no test runs it", "")
    hangs = [what for within, _, _, what, _ in found if within == "count"]
    assert "timed out" in hangs and set(hangs) <= {"caught", "timed out", "survived"}
    assert summary[0].startswith("by folder: toy/sums.py") and "survived" in summary[0]
    assert (root / "toy" / "sums.py").read_text() == TOY


def test_declarations_docstrings_and_annotations_are_left_alone(tmp_path):
    (tmp_path / "one.py").write_text('"""Text 1."""\nX: 3 = Field("a", 5)\ndef f(a: 4 = 6) -> 7:\n    """8"""\n')
    assert [(one.before, one.after, one.kind) for one in mutants(tmp_path, "one.py")] == [("6", "7", "constant")]


def test_one_change_at_a_time_and_nothing_else(tmp_path):
    source = "def f(a, b):\n    return min(a, b) if a < b and a else -b * 0.5\n"
    (tmp_path / "one.py").write_text(source)
    found = mutants(tmp_path, "one.py")
    written = {source_of(tmp_path, one) for one in found}
    assert len(written) == len(found) and source not in written
    assert {one.kind for one in found} == {"swap", "comparison", "edge", "boolean", "arithmetic", "constant", "return"}
    assert "max(a, b) if a < b and a else -b * 0.5" in "".join(written)


def test_each_equivalent_is_argued_and_still_there():
    from tools import mutate
    known = mutate.equivalents(ROOT / mutate.EQUIVALENTS)
    there = {key for path in {key[0] for key in known} for key in mutate.keys_of(mutants(ROOT, path)).values()}
    assert set(known) <= there
