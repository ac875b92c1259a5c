"""Which test runs which line of ``calc``: gathered once, kept by the content of all that could change it."""

from __future__ import annotations

import hashlib
import json
import sys
from pathlib import Path

import coverage
import pytest

# What every run of tests here is started with, whatever the project's own settings add.
PLAIN = ["-q", "-p", "no:cacheprovider", "-p", "no:xdist", "-o", "addopts=--import-mode=importlib",
         "-W", "ignore"]
FEW = 8


class FewExamples:
    """A pytest plugin: property tests draw a handful of examples, the same each time. More would cost hours, and what
    a mutant slips past is then a matter of luck."""

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self) -> None:
        """After the project's own settings, before the tests are loaded."""
        from hypothesis import settings
        settings.register_profile("few", max_examples=FEW, derandomize=True, deadline=None, database=None)
        settings.load_profile("few")


def forget_caches(package: str) -> None:
    """Empty every ``lru_cache``, so that a test that asks again also runs the lines again."""
    for name, module in list(sys.modules.items()):
        if name.split(".")[0] == package or "test_" in name:
            for thing in list(vars(module).values()):
                if callable(getattr(thing, "cache_clear", None)) and hasattr(thing, "cache_info"):
                    thing.cache_clear()


class Watch:
    """A pytest plugin: one coverage context for each test, and how long each took."""

    def __init__(self, found: coverage.Coverage, package: str):
        self.found, self.package = found, package
        self.seconds: dict[str, float] = {}

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item):
        """Give all that one test runs, its fixtures included, the test's name."""
        forget_caches(self.package)
        self.found.switch_context(item.nodeid)
        try:
            return (yield)
        finally:
            self.found.switch_context("")

    def pytest_runtest_logreport(self, report) -> None:
        """Add up set-up, call and tear-down."""
        self.seconds[report.nodeid] = self.seconds.get(report.nodeid, 0.0) + report.duration


def _digest(root: Path, files: list[Path]) -> str:
    found = hashlib.sha256(f"{sys.version} {coverage.__version__}".encode())
    for file in sorted(files):
        found.update(str(file.relative_to(root)).encode() + b"\0" + file.read_bytes())
    return found.hexdigest()[:20]


def _shared(root: Path, package: str, tests: str) -> list[Path]:
    """All that every test module may depend on."""
    return [*(root / package).rglob("*.py"),
            *(file for file in (root / tests).parent.rglob("*") if file.is_file() and "__pycache__" not in file.parts
              and not file.name.startswith("test_") and "golden" not in file.parts)]


def gather(root: Path, package: str, tests: str, cache: Path) -> dict[str, dict]:
    """By test module: ``seconds`` of each test and, by file and line, the tests that run it.

    ``root`` is where the tests are run, ``package`` the folder watched, ``tests`` the folder of tests, ``cache`` where
    what was gathered is kept. A module that was gathered before, with the same sources, is not run again. Runs in a
    process of its own, since it imports what it watches.
    """
    modules = sorted((root / tests).rglob("test_*.py"))
    shared = _shared(root, package, tests)
    kept = {module: cache / f"{module.stem}-{_digest(root, [*shared, module])}.json" for module in modules}
    missing = [module for module, file in kept.items() if not file.is_file()]
    if missing:
        cache.mkdir(parents=True, exist_ok=True)
        _run(root, package, missing, kept)
    return {str(module.relative_to(root)): json.loads(file.read_text(encoding="utf-8"))
            for module, file in kept.items()}


def _run(root: Path, package: str, missing: list[Path], kept: dict[Path, Path]) -> None:
    found = coverage.Coverage(data_file=None, config_file=False, source=[str(root / package)], context="")
    watch = Watch(found, package)
    found.start()
    code = pytest.main([*PLAIN, "--rootdir", str(root), *map(str, missing)], plugins=[watch, FewExamples()])
    found.stop()
    if code != 0:
        raise SystemExit("The tests do not pass as they are; mutants can only be told from a clean start.")
    data = found.get_data()
    lines: dict[str, dict[str, dict[int, list[str]]]] = {}
    for file in data.measured_files():
        path = str(Path(file).relative_to(root))
        for line, contexts in data.contexts_by_lineno(file).items():
            for test in contexts:
                module = test.partition("::")[0]
                lines.setdefault(module, {}).setdefault(path, {}).setdefault(line, []).append(test)
    for module in missing:
        name = str(module.relative_to(root))
        seconds = {test: spent for test, spent in watch.seconds.items() if test.partition("::")[0] == name}
        for old in kept[module].parent.glob(f"{module.stem}-*.json"):
            old.unlink()
        kept[module].write_text(json.dumps(_short(seconds, lines.get(name, {}))), encoding="utf-8")


def _short(seconds: dict[str, float], lines: dict[str, dict[int, list[str]]]) -> dict:
    """Tests by number, since a name stands beside thousands of lines."""
    names = sorted(seconds)
    number = {test: place for place, test in enumerate(names)}
    return {"seconds": seconds, "tests": names,
            "lines": {path: {str(line): sorted(number[test] for test in tests if test in number)
                             for line, tests in by_line.items()} for path, by_line in lines.items()}}
