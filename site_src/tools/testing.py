"""Runs every test with the browsers it finds, and says which it could not run in."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys

from . import setup


def run(engines: str, rest: list[str]) -> int:
    """All tests; further words go to pytest. Returns its exit code."""
    environment = {**os.environ, "RAFTWRIGHT_CHROMIUM": setup.chromium(), "RAFTWRIGHT_ENGINES": engines}
    if engines == "all":
        for name, program in (("Firefox", "firefox-esr"), ("WebKit", "WebKitWebDriver")):
            if not shutil.which(program):
                print(f"Skipped: {name} ({program} is not installed).")
    done = subprocess.run([sys.executable, "-m", "pytest", *(rest or ["tests"])], cwd=setup.ROOT, env=environment)
    return done.returncode
