"""Runs every test on all cores with the browsers it finds; or only what needs no browser; or the night's dice."""

from __future__ import annotations

import os
import random
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from . import engines, hosts, setup


# A worker on each core, as far as one machine can open browsers at once; `-n 0` after it runs without workers.
WORKERS = ("-n", "logical", "--maxprocesses", "8")
# How many times its daytime examples a test meets at night.
NIGHT_TIMES = 20


# What `check` runs: the tools' own verdicts, the tests of calc with the floor under their coverage, and the links.
CHECKS = ("tests/checks", "tests/calc", "tests/site/test_built_pages.py::test_links_lead_to_files_and_places")


def measuring(rest: list[str]) -> list[str]:
    """What has pytest measure how much of calc is reached, where a run of these words runs all of its tests."""
    from tests import floor
    named = [one for one in rest if (setup.ROOT / one.split("::")[0]).exists()]
    return [floor.OPTION] if not named or floor.whole(named, filtered=False) else []


def surroundings(**more: str) -> dict[str, str]:
    """The environment of a run: its many processes read what one of them has compiled, whatever the shell asks for."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    bytecode, passing = setup.CACHE / "bytecode", Path(tempfile.gettempdir())
    # What earlier runs compiled of their scratch projects serves nobody any more.
    shutil.rmtree(bytecode / passing.relative_to(passing.anchor), ignore_errors=True)
    return {**kept, "PYTHONPYCACHEPREFIX": str(bytecode), **more}


def check(rest: list[str]) -> int:
    """Style, types, dead code, declarations, guide heads, links, and the tests of calc with the floor under them."""
    command = [sys.executable, "-m", "pytest", *WORKERS, "-q", *CHECKS, *measuring([*CHECKS]), *rest]
    return subprocess.run(command, cwd=setup.ROOT, env=surroundings()).returncode


def run(which: str, rest: list[str]) -> int:
    """All tests; further words go to pytest. Returns its exit code."""
    environment = surroundings(RAFTWRIGHT_CHROMIUM=os.environ.get("RAFTWRIGHT_CHROMIUM") or setup.chromium(),
                               RAFTWRIGHT_ENGINES=which)
    if which == "all":
        for engine, packages in engines.PACKAGES.items():
            if not engines.present(engine):
                setup.debian(packages, f"{engine} for the browser tests")
            if not engines.present(engine):
                print(f"SKIPPED: {engine}: it is not installed (on Debian: apt-get install {' '.join(packages)}), so "
                      "the pages are NOT tested in it.", flush=True)
    # What unpacks or installs does so before there are workers to do it twice.
    hosts.nginx()
    # What was skipped is listed at the end with its reason.
    command = [sys.executable, "-m", "pytest", *WORKERS, "-rs", "--durations=10",
               *(rest or ["tests"]), *measuring(rest)]
    return subprocess.run(command, cwd=setup.ROOT, env=environment).returncode


def night(seed: int | None, rest: list[str]) -> int:
    """Every test that draws its examples, with many more of them and drawn anew; returns pytest's exit code."""
    seed = random.SystemRandom().randrange(2**32) if seed is None else seed
    again = f"To draw the same examples again: python3 build.py night --seed {seed}"
    print(again, flush=True)
    environment = surroundings(RAFTWRIGHT_NIGHT=str(NIGHT_TIMES))
    command = [sys.executable, "-m", "pytest", *WORKERS, "-m", "hypothesis", f"--hypothesis-seed={seed}",
               "--durations=10", *(rest or ["tests"])]
    code = subprocess.run(command, cwd=setup.ROOT, env=environment).returncode
    print(again, flush=True)
    return code
