"""Puts small wrong changes into ``calc``, one at a time, and tells which of them no test notices.

Each mutant is written into a scratch copy and meets, in a process of its own, the tests that run its lines, the quick
ones first. What stops a hang is processor time, not the clock: a busy machine decides nothing.
"""

from __future__ import annotations

import contextlib
import json
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import tomllib
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

from .mutants import Mutant, mutants, source_of
from .setup import CACHE, ROOT, Trouble

PACKAGE, TESTS, EQUIVALENTS = "calc", "tests/calc", "tests/mutation/equivalent.toml"
FOLDERS = {"relations": ("calc/relations",), "topics": ("calc/topics",), "models": ("calc/models",),
           "keeping": ("calc/keeping",), "paper": ("calc/render/paper",),
           "all": ("calc/relations", "calc/topics", "calc/models")}
# A test may take this many seconds of processor time, and so many times what it takes unharmed.
SPARE_S, SPARE_TIMES = 5.0, 8.0
CAUGHT, GOLDEN, TIMED_OUT, SURVIVED, UNCOVERED, EQUIVALENT = (
    "caught", "caught by the golden file alone", "timed out", "survived", "no test runs it", "equivalent")
GOLDEN_TEST = "test_golden"


@dataclass
class Covering:
    """Tests with their seconds, and the tests of each line."""

    seconds: dict[str, float] = field(default_factory=dict)
    lines: dict[str, dict[int, set[str]]] = field(default_factory=dict)

    def tests_of(self, mutant: Mutant) -> list[str]:
        """Tests that run the mutant's statement, quick ones first and the golden file's last.

        What runs once, when the module is loaded, belongs to every test that runs any of its functions.
        """
        by_line = self.lines.get(mutant.path, {})
        wanted = (range(mutant.line, mutant.last_line + 1) if mutant.within and not _in_class_body(mutant)
                  else list(by_line))
        found = set().union(*(by_line.get(line, set()) for line in wanted))
        return sorted(found, key=lambda test: (GOLDEN_TEST in test, self.seconds[test], test))


def _in_class_body(mutant: Mutant) -> bool:
    return mutant.within[:1].isupper() and "." not in mutant.within


def gather(root: Path, package: str, tests: str, cache: Path, where: str = "all", workers: int | None = None,
           ) -> Covering:
    """Which tests run which lines; each test module in a process of its own, but for those gathered before."""
    from . import covering
    code = ("import sys; from pathlib import Path; sys.path[:0] = sys.argv[1:3]; from tools import covering; "
            "covering.gather(Path(sys.argv[1]), sys.argv[3], Path(sys.argv[4]), Path(sys.argv[5]))")

    def one(module: Path, kept: Path) -> None:
        done = subprocess.run([sys.executable, "-c", code, str(root), str(ROOT / "site_src"), package, str(module),
                               str(kept)], cwd=root, capture_output=True, text=True)
        if done.returncode != 0:
            raise Trouble(f"{module.name} does not pass as it is, so mutants would tell nothing.\n"
                          + "\n".join((done.stdout + done.stderr).strip().splitlines()[-15:]))

    places = covering.places(root, package, tests, cache, where)
    with ThreadPoolExecutor(workers or os.cpu_count()) as pool:
        list(pool.map(lambda item: one(*item), [item for item in places.items() if not item[1].is_file()]))
    found = Covering()
    for file in places.values():
        told = json.loads(file.read_text(encoding="utf-8"))
        found.seconds.update(told["seconds"])
        for path, by_line in told["lines"].items():
            for line, tests_of in by_line.items():
                found.lines.setdefault(path, {}).setdefault(int(line), set()).update(
                    told["tests"][at] for at in tests_of)
    return found


Key = tuple[str, str, str, str, int]


def keys_of(every: list[Mutant]) -> dict[Mutant, Key]:
    """What each mutant is known by: file, function, before and after, and which it is of those that read alike."""
    counts: Counter = Counter()
    found = {}
    for one in every:
        alike = (one.path, one.within, one.before, one.after)
        found[one] = (*alike, counts[alike])
        counts[alike] += 1
    return found


def equivalents(file: Path) -> dict[Key, str]:
    """Mutants that change nothing, by what they are known by, with the argument."""
    if not file.is_file():
        return {}
    told = tomllib.loads(file.read_text(encoding="utf-8"))
    found = {}
    for one in told.get("mutant", []):
        argument = told["arguments"].get(one["argument"], "").strip()
        if not argument:
            raise Trouble(f"{file.name}: the argument “{one['argument']}” is not written out under [arguments].")
        found[one["file"], one["within"], one["before"], one["after"], one.get("nth", 0)] = argument
    return found


class Select:
    """A pytest plugin in the mutant's own process: runs the chosen tests in their order and tells the first that
    fails; a test that takes far more processor time than it should ends the process."""

    def __init__(self, order: list[str], seconds: dict[str, float], told: Path):
        self.place = {test: at for at, test in enumerate(order)}
        self.seconds, self.told = seconds, told

    def pytest_collection_modifyitems(self, items: list) -> None:
        """Keep only the chosen tests."""
        items[:] = sorted((item for item in items if item.nodeid in self.place),
                          key=lambda item: self.place[item.nodeid])

    def pytest_runtest_logstart(self, nodeid: str) -> None:
        """Start the allowance of one test."""
        signal.setitimer(signal.ITIMER_VIRTUAL, SPARE_S + SPARE_TIMES * self.seconds[nodeid])

    def pytest_runtest_logreport(self, report) -> None:
        """Remember who noticed."""
        if report.failed:
            self.told.write_text(report.nodeid, encoding="utf-8")


def _child(root: Path, order: list[str], seconds: dict[str, float], told: Path) -> int:
    """Run the tests in this process; 0 when all passed."""
    import pytest

    from .covering import PLAIN, FewExamples
    signal.signal(signal.SIGVTALRM, signal.SIG_DFL)
    signal.setitimer(signal.ITIMER_VIRTUAL, 60.0)
    memory = 4 * 1024**3
    resource.setrlimit(resource.RLIMIT_DATA, (memory, memory))
    sys.dont_write_bytecode = True
    os.environ["PYTHONDONTWRITEBYTECODE"] = "1"
    os.chdir(root)
    sys.path[:0] = [str(root), str(root / "site_src")]
    files = list(dict.fromkeys(test.partition("::")[0] for test in order))
    return pytest.main([*PLAIN, "-x", "--rootdir", str(root), *files],
                       plugins=[Select(order, seconds, told), FewExamples()])


@dataclass
class Bench:
    """One scratch copy of the project, in which one mutant at a time is tried."""

    folder: Path
    source: Path
    mutant: Mutant | None = None

    @classmethod
    def make(cls, source: Path, folder: Path, tests: list[str]) -> Bench:
        """Copy all but what is built or fetched, and compile it once: or each mutant would compile all of it again.

        What was compiled holds by the time of its source, so a mutant's own file is compiled anew.
        """
        from .covering import PLAIN
        shutil.copytree(source, folder, symlinks=True, ignore=shutil.ignore_patterns(
            ".*", "dist", "dist.new", "__pycache__", "node_modules"))
        writing = {name: text for name, text in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
        for words in (["compileall", "-q", "."], ["pytest", *PLAIN, "--collect-only", "--rootdir", ".", *tests]):
            subprocess.run([sys.executable, "-m", *words], cwd=folder, env=writing, capture_output=True)
        return cls(folder, source)

    @property
    def told(self) -> Path:
        """Where the mutant's process writes the test that noticed."""
        return self.folder / "noticed.txt"

    def start(self, mutant: Mutant, order: list[str], seconds: dict[str, float]) -> int:
        """Write the mutant and try it in a process of its own; its id."""
        self.mutant = mutant
        self.told.unlink(missing_ok=True)
        (self.folder / mutant.path).write_text(source_of(self.source, mutant), encoding="utf-8")
        sys.stdout.flush()
        child = os.fork()
        if child:
            return child
        code = 3
        try:
            with open(self.folder / "said.txt", "w", encoding="utf-8") as said:
                os.dup2(said.fileno(), 1)
                os.dup2(said.fileno(), 2)
                code = int(_child(self.folder, order, seconds, self.told))
        finally:
            os._exit(code)

    def finish(self, status: int) -> tuple[str, str]:
        """(what became of it, the test that noticed), and the file as it was."""
        shutil.copy2(self.source / self.mutant.path, self.folder / self.mutant.path)
        if os.WIFSIGNALED(status):
            return (TIMED_OUT if os.WTERMSIG(status) == signal.SIGVTALRM else CAUGHT), ""
        noticed = self.told.read_text(encoding="utf-8") if self.told.is_file() else ""
        if os.WEXITSTATUS(status) == 0:
            return SURVIVED, ""
        return (GOLDEN if GOLDEN_TEST in noticed else CAUGHT), noticed or "the tests could not even be loaded"


def try_all(root: Path, chosen: list[Mutant], covering: Covering, workers: int, stop_after_s: float | None = None,
            ) -> list[tuple[Mutant, str, str]]:
    """(mutant, what became of it, who noticed) for each, ``workers`` at a time."""
    if not hasattr(os, "fork"):
        raise Trouble("Mutants are tried in forked processes, which this system does not have; run it on Linux or Mac.")
    _load_ahead()
    found, waiting, begun = [], list(reversed(chosen)), time.monotonic()
    with tempfile.TemporaryDirectory(prefix="mutants-") as scratch:
        tests = sorted({test.partition("::")[0] for test in covering.seconds})
        free = [Bench.make(root, Path(scratch) / str(place), tests) for place in range(workers)]
        busy: dict[int, Bench] = {}
        while waiting or busy:
            late = stop_after_s is not None and time.monotonic() - begun > stop_after_s
            if waiting and free and not late:
                mutant = waiting.pop()
                order = covering.tests_of(mutant)
                if not order:
                    found.append((mutant, UNCOVERED, ""))
                    continue
                bench = free.pop()
                busy[bench.start(mutant, order, covering.seconds)] = bench
                continue
            if not busy:
                break
            child, status = os.wait()
            bench = busy.pop(child)
            found.append((bench.mutant, *bench.finish(status)))
            free.append(bench)
            _progress(found, len(chosen))
    return found


def _load_ahead() -> None:
    """Load once, for all processes, what tests load besides the project."""
    for name in ("pytest", "hypothesis", "numpy", "scipy.optimize", "scipy.integrate", "scipy.special", "fluids",
                 "pint", "psychrolib", "iapws", "molmass", "periodictable"):
        with contextlib.suppress(ImportError):
            __import__(name)


def _progress(found: list[tuple[Mutant, str, str]], total: int) -> None:
    mutant, became, _ = found[-1]
    if became in (SURVIVED, UNCOVERED, GOLDEN):
        print(f"[{len(found)}/{total}] {became}: {mutant.name}", flush=True)


def summary(found: list[tuple[Mutant, str, str]]) -> list[str]:
    """Lines that tell the figures, by folder and by kind of change."""
    lines = []
    for title, key in (("folder", lambda one: "/".join(one.path.split("/")[:2])), ("change", lambda one: one.kind)):
        counts: dict[str, Counter] = {}
        for mutant, became, _ in found:
            counts.setdefault(key(mutant), Counter())[became] += 1
        for name, each in sorted(counts.items()):
            told = sum(each.values()) - each[EQUIVALENT]
            by_value = each[CAUGHT] + each[TIMED_OUT]
            share = (f"{(by_value + each[GOLDEN]) / told:.1%} caught, {by_value / told:.1%} without the golden file"
                     if told else "nothing to tell")
            parts = ", ".join(f"{each[word]} {word}" for word in (CAUGHT, TIMED_OUT, GOLDEN, SURVIVED, UNCOVERED,
                                                                  EQUIVALENT) if each[word])
            lines.append(f"by {title}: {name}: {share} ({parts})")
    return lines


def run(where: str, sample: int, seed: int, stop_after_s: float | None, workers: int | None) -> int:
    """Try a seeded sample and print what became of it; 0 always, for a figure is no verdict."""
    print("Looking which test runs which line (kept for the next time) ...", flush=True)
    covering = gather(ROOT, PACKAGE, TESTS, CACHE / "covering", where, workers)
    every = [mutant for folder in FOLDERS[where] for file in sorted((ROOT / folder).rglob("*.py"))
             for mutant in mutants(ROOT, str(file.relative_to(ROOT)))]
    chosen = random.Random(seed).sample(every, min(sample, len(every)))
    known, key = equivalents(ROOT / EQUIVALENTS), keys_of(every)
    argued = [one for one in chosen if key[one] in known]
    found = try_all(ROOT, [one for one in chosen if one not in argued], covering, workers or os.cpu_count() or 1,
                    stop_after_s)
    found += [(one, EQUIVALENT, "") for one in argued]
    print(f"\n{len(found)} of {len(chosen)} mutants tried, out of {len(every):,} in {where}; seed {seed}.")
    for word in (EQUIVALENT, GOLDEN, UNCOVERED, SURVIVED):
        for mutant, became, _ in sorted(found):
            if became == word:
                print(f"{word}: {mutant.name}" + (f"\n    since: {known[key[mutant]]}" if word == EQUIVALENT else ""))
    print("\n".join(["", *summary(found)]))
    return 0
