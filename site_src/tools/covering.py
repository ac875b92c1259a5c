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
# Where hypothesis keeps the settings of a test.
INSIDE = "_hypothesis_internal_use_settings"
# They compare the program with itself, draw, or start processes: long, and blind to values. What they would notice
# is not counted, so the figures can only be too low.
LEFT_OUT = ("test_api", "test_drawing", "test_lines", "test_link", "test_memory", "test_package", "test_plan")
# Tests of a running bath, of what is printed, and of other drawings, files and words. They meet the mutants of their
# own folder alone: they run all of a solution, for minutes, and hold few of its numbers. The first two are told by what
# they load.
MEET = {"keeping": ("calc.keeping",), "paper": ("calc.render.paper", "calc.render import paper", "calc.render.saved")}
OF_WORDS = ("test_cautions", "test_cells", "test_chart", "test_command_line", "test_compare", "test_feed_words",
            "test_history", "test_lesson", "test_living", "test_mends", "test_overview", "test_pictures", "test_poster",
            "test_render_command", "test_rulers", "test_shown_numbers", "test_steps", "test_switching")


class FewExamples:
    """A pytest plugin: property tests draw a handful of examples, the same each time. More would cost hours, and what
    a mutant slips past is then a matter of luck."""

    def pytest_collection_modifyitems(self, items: list) -> None:
        """Whatever number a test or the project asks for."""
        from hypothesis import HealthCheck, settings
        for item in items:
            own = getattr(getattr(item, "obj", None), INSIDE, None)
            if own is not None:
                setattr(getattr(item.obj, "__func__", item.obj), INSIDE, settings(
                    own, max_examples=min(own.max_examples, FEW), derandomize=True, deadline=None, database=None,
                    # Of so few examples nobody can say that too many were passed over.
                    suppress_health_check=list(HealthCheck)))


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


def meets(where: str, module: Path) -> bool:
    """Whether mutants of that folder meet a test module."""
    text = module.read_text(encoding="utf-8")
    if where in MEET:
        return any(name in text for name in MEET[where])
    return module.stem not in (*LEFT_OUT, *OF_WORDS) and not any(name in text for names in MEET.values()
                                                                 for name in names)


def places(root: Path, package: str, tests: str, cache: Path, where: str = "all") -> dict[Path, Path]:
    """Test modules, and where what was gathered of each is kept as long as nothing it depends on changes."""
    shared = _shared(root, package, tests)
    return {module: cache / f"{module.stem}-{_digest(root, [*shared, module])}.json"
            for module in sorted((root / tests).rglob("test_*.py")) if meets(where, module)}


def gather(root: Path, package: str, module: Path, kept: Path) -> None:
    """Run one test module and keep ``seconds`` of each test and, by file and line, the tests that run it.

    For a process of its own, since it imports what it watches; ``root`` is where the tests are run.
    """
    found = coverage.Coverage(data_file=None, config_file=False, source=[str(root / package)], context="")
    watch = Watch(found, package)
    found.start()
    code = pytest.main([*PLAIN, "--rootdir", str(root), str(module)], plugins=[watch, FewExamples()])
    found.stop()
    if code != 0:
        raise SystemExit(f"{module.name} does not pass as it is; mutants can only be told from a clean start.")
    data = found.get_data()
    lines = {str(Path(file).relative_to(root)): data.contexts_by_lineno(file) for file in data.measured_files()}
    kept.parent.mkdir(parents=True, exist_ok=True)
    for old in kept.parent.glob(f"{module.stem}-*.json"):
        old.unlink()
    kept.write_text(json.dumps(_short(watch.seconds, lines)), encoding="utf-8")


def _short(seconds: dict[str, float], lines: dict[str, dict[int, list[str]]]) -> dict:
    """Tests by number, since a name stands beside thousands of lines."""
    names = sorted(seconds)
    number = {test: place for place, test in enumerate(names)}
    return {"seconds": seconds, "tests": names,
            "lines": {path: {str(line): sorted(number[test] for test in tests if test in number)
                             for line, tests in by_line.items()} for path, by_line in lines.items()}}
