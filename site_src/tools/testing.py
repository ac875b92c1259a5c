"""Runs every test with the browsers it finds, and says which it could not run in."""

from __future__ import annotations

import os
import subprocess
import sys

from . import engines, setup


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
    command = [sys.executable, "-m", "pytest", "-rs", *(rest or ["tests"])]
    return subprocess.run(command, cwd=setup.ROOT, env=environment).returncode
