"""Runs every test with the browsers it finds, and says which it could not run in; or only what needs no browser."""

from __future__ import annotations

import os
import subprocess
import sys

from . import engines, setup


# What `check` runs: the tools' own verdicts, the tests of calc with the floor under their coverage, and the links.
CHECKS = ("tests/checks", "tests/calc", "tests/site/test_built_pages.py::test_links_lead_to_files_and_places")


def measuring(rest: list[str]) -> list[str]:
    """What makes pytest measure the coverage of calc, where a run of these words runs all of its tests."""
    from tests import floor
    named = [one for one in rest if (setup.ROOT / one.split("::")[0]).exists()]
    return ["--cov", "--cov-report="] if not named or floor.whole(named, filtered=False) else []


def check(rest: list[str]) -> int:
    """Style, types, dead code, declarations, guide heads, links, and the tests of calc with the floor under them."""
    command = [sys.executable, "-m", "pytest", "-q", *CHECKS, *measuring([*CHECKS]), *rest]
    return subprocess.run(command, cwd=setup.ROOT).returncode


def run(which: str, rest: list[str]) -> int:
    """All tests; further words go to pytest. Returns its exit code."""
    environment = {**os.environ, "RAFTWRIGHT_CHROMIUM": setup.chromium(), "RAFTWRIGHT_ENGINES": which}
    if which == "all":
        for engine, packages in engines.PACKAGES.items():
            if not engines.present(engine):
                setup.debian(packages, f"{engine} for the browser tests")
            if not engines.present(engine):
                print(f"SKIPPED: {engine}: it is not installed (on Debian: apt-get install {' '.join(packages)}), so "
                      "the pages are NOT tested in it.", flush=True)
    # What was skipped is listed at the end with its reason.
    command = [sys.executable, "-m", "pytest", "-rs", *(rest or ["tests"]), *measuring(rest)]
    return subprocess.run(command, cwd=setup.ROOT, env=environment).returncode
