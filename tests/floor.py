"""How much of ``calc`` its own tests reach: measured in the one run of all tests, and held to a floor.

Lines run while modules load and in tests/calc count; what other tests reach does not. Each line tells that it was
reached once and is silent from then on, so that a run is hardly slower for being measured.
"""

from __future__ import annotations

import io
import json
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
CALC_TESTS = ROOT / "tests" / "calc"
FLOOR_PERCENT = 97.0
OPTION = "--floor"


def whole(arguments: list[str], filtered: bool) -> bool:
    """Whether a run with these arguments runs all of tests/calc."""
    named = [(ROOT / one).resolve() for one in arguments]
    return not filtered and any(CALC_TESTS.is_relative_to(one) for one in named)


def _whole(config: pytest.Config) -> bool:
    chosen = config.option
    filtered = bool(chosen.keyword or chosen.markexpr or chosen.deselect or getattr(chosen, "lf", False)
                    or chosen.ignore or chosen.ignore_glob)
    return whole(config.args, filtered)


def of_calc(nodeid: str) -> bool:
    """Whether a test is one of calc's own."""
    return nodeid.startswith("tests/calc/")


def begin(config: pytest.Config) -> None:
    """Measure what is loaded from here on, where it was asked for; who only shares tests out measures nothing."""
    if not config.getoption(OPTION) or getattr(config.option, "numprocesses", None):
        return
    import slipcover
    measuring = slipcover.Slipcover(source=[str(ROOT / "calc")], exclude_also=["if TYPE_CHECKING:"])
    slipcover.ImportManager(measuring, slipcover.FileMatcher(sources=[str(ROOT / "calc")])).__enter__()
    config.stash[MEASURING] = measuring


def switch(item: pytest.Item) -> None:
    """Count no more from the first test on that is not of calc: those of calc come before all others."""
    if of_calc(item.nodeid):
        assert item.config.stash.get(REACHED, None) is None, "the tests of calc come first"
    else:
        _count(item.config)


def _count(config: pytest.Config) -> None:
    measuring = config.stash.get(MEASURING, None)
    if measuring is not None and config.stash.get(REACHED, None) is None:
        config.stash[REACHED] = measuring.get_coverage()


def hand_over(config: pytest.Config) -> None:
    """A worker's count, to whoever shared the tests out."""
    _count(config)
    if hasattr(config, "workeroutput"):
        config.workeroutput["reached"] = json.dumps(config.stash.get(REACHED, None))


def take_over(config: pytest.Config, given: dict) -> None:
    """Add the count of a worker that is done."""
    import slipcover
    found = json.loads(given.get("reached", "null"))
    if found:
        before = config.stash.get(REACHED, None)
        config.stash[REACHED] = found if before is None else slipcover.merge_coverage(before, found)


def verdict(percent: float) -> str:
    """The sentence at the end of the run."""
    said = f"tests/calc reach {percent:.2f} % of the lines of calc; the floor is {FLOOR_PERCENT:g} %."
    return said if percent >= FLOOR_PERCENT else said + " Add tests, or take out what nothing needs."


def finish(session: pytest.Session) -> None:
    """Hold the run to the floor once all of tests/calc passed, and keep what to say in the summary."""
    config = session.config
    hand_over(config)
    found = config.stash.get(REACHED, None)
    if found is None or hasattr(config, "workeroutput") or not _whole(config):
        return
    if session.exitstatus != pytest.ExitCode.OK:
        return
    percent = found["summary"]["percent_covered"]
    config.stash[SAID] = [verdict(percent)]
    if percent < FLOOR_PERCENT:
        config.stash[SAID].append(_report(found))
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


def _report(found: dict) -> str:
    """The lines that were missed, by file."""
    import slipcover
    report = io.StringIO()
    slipcover.print_coverage(found, outfile=report, skip_covered=True)
    return report.getvalue()


SAID = pytest.StashKey[list[str]]()
MEASURING = pytest.StashKey[object]()
REACHED = pytest.StashKey[dict | None]()
