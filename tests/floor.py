"""How much of ``calc`` its own tests reach: measured in the one run of all tests, and held to a floor.

Lines run while modules load and in tests/calc count; while another test runs, nothing is measured. Nor is it in tests
that draw their examples or are marked as a walk, which solve plan after plan: measuring makes them three times as
long, and what only dice reach is not held to be reached.
"""

from __future__ import annotations

import io
from pathlib import Path

import coverage
import pytest

ROOT = Path(__file__).resolve().parents[1]
CALC_TESTS = ROOT / "tests" / "calc"
FLOOR_PERCENT = 97.0


def whole(arguments: list[str], filtered: bool) -> bool:
    """Whether a run with these arguments runs all of tests/calc."""
    named = [(ROOT / one).resolve() for one in arguments]
    return not filtered and any(CALC_TESTS.is_relative_to(one) for one in named)


def _whole(config: pytest.Config) -> bool:
    chosen = config.option
    filtered = bool(chosen.keyword or chosen.markexpr or chosen.deselect or getattr(chosen, "lf", False)
                    or chosen.ignore or chosen.ignore_glob)
    return whole(config.args, filtered)


def parts(count: int) -> list:
    """The numbers of a walk's parts, of which the first is measured and stands for all."""
    return [0, *(pytest.param(part, marks=pytest.mark.walk) for part in range(1, count))]


def switch(item: pytest.Item) -> None:
    """Measure from here on if this is a test of calc, and not if it is another; nothing where no coverage was asked."""
    plugin = item.config.pluginmanager.get_plugin("_cov")
    if plugin is None or plugin.cov_controller is None:
        return
    drawn = any(item.iter_markers("hypothesis")) or any(item.iter_markers("walk"))
    wanted = CALC_TESTS in item.path.parents and not drawn
    running = item.config.stash.get(RUNNING, True)
    if wanted != running:
        measured = plugin.cov_controller.cov
        (measured.start if wanted else measured.stop)()
        item.config.stash[RUNNING] = wanted


def reached(data_file: str, config_file: str) -> tuple[float, str]:
    """Percent of calc that its own tests reach, and the report by file with the lines that they miss."""
    measured = coverage.Coverage(data_file=data_file, config_file=config_file)
    measured.load()
    report = io.StringIO()
    percent = measured.report(file=report, show_missing=True, skip_covered=True)
    return percent, report.getvalue()


def verdict(percent: float) -> str:
    """The sentence at the end of the run."""
    said = f"tests/calc reach {percent:.2f} % of the lines of calc; the floor is {FLOOR_PERCENT:g} %."
    return said if percent >= FLOOR_PERCENT else said + " Add tests, or take out what nothing needs."


def finish(session: pytest.Session) -> None:
    """Hold the run to the floor once all of tests/calc passed, and keep what to say in the summary."""
    config = session.config
    plugin = config.pluginmanager.get_plugin("_cov")
    if plugin is None or hasattr(config, "workerinput") or not _whole(config):
        return
    if session.exitstatus != pytest.ExitCode.OK:
        return
    percent, report = reached(str(ROOT / ".coverage"), str(ROOT / "pyproject.toml"))
    config.stash[SAID] = [verdict(percent)]
    if percent < FLOOR_PERCENT:
        config.stash[SAID].append(report)
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


SAID = pytest.StashKey[list[str]]()
RUNNING = pytest.StashKey[bool]()
