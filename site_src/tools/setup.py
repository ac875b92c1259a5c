"""Sets up the pinned tools in the project's own folders, once; a second run finds them and needs no network."""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
RUNTIME = ROOT / "site_src" / "runtime"
VENV = ROOT / ".venv"
CACHE = ROOT / ".cache"
MODULES = CACHE / "runtime" / "node_modules"
WHEELS = CACHE / "wheels"
# The browser's Python, which may be newer than the one that builds.
BROWSER_PYTHON = "3.14"


class Trouble(Exception):
    """Something the reader of the terminal can mend; its text is one sentence with the remedy."""


def _digest(*files: Path) -> str:
    found = hashlib.sha256()
    for file in files:
        found.update(file.read_bytes())
    return found.hexdigest()[:16]


# What tools say when a folder, and no network, is in the way; each with the remedy.
IN_THE_WAY = (
    (("read-only file system", "permission denied", "erofs", "eacces", "eperm", "not writable"),
     "A folder cannot be written to; see below which. Give this user the right to write there, or set HOME to a folder "
     "that can be written to, then run this again."),
    (("no space left", "enospc", "disk quota exceeded"), "The disk is full; make room, then run this again."),
)


def _run(command: list[str], what: str, remedy: str, **more) -> None:
    done = subprocess.run(command, capture_output=True, text=True, **more)
    if done.returncode != 0:
        said = done.stderr or done.stdout
        for signs, other in IN_THE_WAY:
            if any(sign in said.lower() for sign in signs):
                remedy = other
        detail = "\n".join(said.strip().splitlines()[-8:])
        raise Trouble(f"{what} {remedy}" + (f"\nIt said:\n{detail}" if detail else ""))


def _folder(folder: Path) -> Path:
    """A folder of the project's own, made where it is not there."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as problem:
        raise Trouble(f"The folder {folder} cannot be made ({problem.strerror}). Give this user the right to write "
                      "there, then run this again.") from None
    return folder


def python(with_tests: bool) -> Path:
    """The environment's Python, set up on the first call and whenever the pins change."""
    inside = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    version = f"{sys.version_info.major}.{sys.version_info.minor}"
    if not inside.is_file():
        print("Setting up .venv ...", flush=True)
        _run([sys.executable, "-m", "venv", "--clear", str(VENV)],
             "Python's venv module does not work here, so .venv could not be made.",
             f"On Debian and Ubuntu: apt-get install python3-venv (or python{version}-venv); then run this again.")
    pins = [RUNTIME / "requirements.txt"] + ([RUNTIME / "requirements-test.txt"] if with_tests else [])
    for file in pins:
        stamp = VENV / f".{file.stem}-{_digest(file)}"
        if stamp.is_file():
            continue
        print(f"Installing the pinned packages of {file.name} ...", flush=True)
        _run([str(inside), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-r", str(file)],
             "The pinned Python packages could not be installed.",
             "The first set-up needs a network; connect, then run this again.")
        for old in VENV.glob(f".{file.stem}-*"):
            # "requirements-" also begins the test pins' stamps; only the same list's are replaced.
            if old.name.rsplit("-", 1)[0] == f".{file.stem}":
                old.unlink()
        stamp.touch()
    return inside


def runtime() -> Path:
    """The npm packages that run in the browser, installed as locked; their folder."""
    lock = RUNTIME / "package-lock.json"
    folder = CACHE / "runtime"
    stamp = folder / f".done-{_digest(lock, RUNTIME / 'package.json')}"
    if stamp.is_file():
        return MODULES
    npm = shutil.which("npm")
    if not npm:
        raise Trouble("npm was not found, and the browser's Python comes through it. Install Node.js 20 or later "
                      "with npm (on Debian and Ubuntu: apt-get install npm), then run this again.")
    print("Fetching the browser's Python and the bundler ...", flush=True)
    _folder(folder)
    for old in folder.glob(".done-*"):
        old.unlink()
    for name in ("package.json", "package-lock.json", ".npmrc"):
        shutil.copyfile(RUNTIME / name, folder / name)
    _run([npm, "ci", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"],
         "The npm packages could not be installed as locked.",
         "The first set-up needs a network; connect, then run this again.", cwd=folder)
    stamp.touch()
    return MODULES


def wheels(inside: Path) -> Path:
    """The wheels that the site keeps for extras, fetched as pinned with their hashes; their folder."""
    pins = RUNTIME / "wheels.txt"
    stamp = WHEELS / f".done-{_digest(pins)}"
    if stamp.is_file():
        return WHEELS
    print("Fetching the wheels for extras ...", flush=True)
    shutil.rmtree(WHEELS, ignore_errors=True)
    _run([str(inside), "-m", "pip", "download", "--quiet", "--disable-pip-version-check", "--no-deps",
          "--require-hashes", "--only-binary=:all:", "--python-version", BROWSER_PYTHON, "--dest", str(WHEELS),
          "-r", str(pins)],
         "The wheels for extras could not be fetched as pinned.",
         "The first set-up needs a network; connect, then run this again.")
    stamp.touch()
    return WHEELS


def is_root() -> bool:
    """Whether this runs as root, where Chromium refuses its own sandbox."""
    return hasattr(os, "geteuid") and os.geteuid() == 0


def debian(packages: tuple[str, ...], what: str) -> bool:
    """Install Debian's packages where that needs no asking (as root); whether it worked. Says what it does."""
    apt = shutil.which("apt-get")
    if not (apt and is_root()):
        return False
    print(f"Installing {what} ...", flush=True)
    quiet = {"env": {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}}
    remedy = f"Install it by hand (apt-get install {' '.join(packages)}), then run this again."
    try:
        _run([apt, "update", "-qq"], "The list of Debian's packages could not be fetched.", remedy, **quiet)
        _run([apt, "install", "-y", "-qq", "--no-install-recommends", *packages], f"Not installed: {what}.", remedy,
             **quiet)
    except Trouble as trouble:
        print(trouble, flush=True)
        return False
    return True


# Chromium without a window of its own comes first: tests take a quarter less time in it.
DEBIANS = ("chromium-headless-shell", "chromium")
CHROMIUMS = (*DEBIANS, "chromium-browser", "google-chrome", "google-chrome-stable")
PLAYWRIGHTS = ("chromium_headless_shell-*/chrom*-linux*/*headless*shell", "chromium-*/chrome-linux*/chrome")


def _found_chromium() -> str | None:
    for name in CHROMIUMS:
        if found := shutil.which(name):
            return found
    home = Path(os.environ.get("PLAYWRIGHT_BROWSERS_PATH") or Path.home() / ".cache" / "ms-playwright")
    for pattern in PLAYWRIGHTS:
        for file in sorted(home.glob(pattern), reverse=True):
            if os.access(file, os.X_OK) and file.is_file():
                return str(file)
    return None


def chromium() -> str:
    """A Chromium to test in: one on the path, Playwright's own, or (as root on Debian) a fresh install."""
    found = _found_chromium()
    for package in DEBIANS:
        if not found and debian((package,), "Chromium for the browser tests"):
            found = _found_chromium()
    if found:
        return found
    raise Trouble("No Chromium was found for the browser tests. Install one (on Debian: apt-get install chromium), "
                  "then run this again.")
