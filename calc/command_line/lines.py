"""Many plans at once: a JSON plan a line in, an answer a line out, in order, over all cores and in constant memory.

``answer_line`` is all that another engine needs to share the lines among many machines; ``answers`` does it on one.
"""

from __future__ import annotations

import json
import os
import signal
import threading
from collections.abc import Callable, Generator, Iterable, Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from multiprocessing import connection, get_context, parent_process
from queue import SimpleQueue
from typing import BinaryIO

from .. import history, mends
from ..plan import Plan
from ..render import link
from ..solve import as_json, solve

LONGEST_LINE = 1_000_000
# Lines under way at one time for each worker: enough that none waits for the next, few enough to bound the memory.
AHEAD = 4
Line = bytes | str
Work = Callable[[int, Line], str]


def is_link(text: str) -> bool:
    """Whether this is a plan link or the fragment of one."""
    return "#plan=" in text or "#start=" in text or text.startswith(("plan=", "start="))


def _read(line: Line) -> tuple[Plan, list[str]]:
    """A line's plan and what its link noted; raises ValueError with a sentence."""
    if len(line) > LONGEST_LINE:
        raise ValueError(f"This line is longer than any plan: {LONGEST_LINE:,} bytes are allowed.")
    try:
        text = (line.decode("utf-8") if isinstance(line, bytes) else line).removeprefix("\ufeff").strip()
    except UnicodeDecodeError as error:
        raise ValueError(f"This line is not UTF-8 text: byte {error.start + 1} fits no character.") from None
    if not text:
        raise ValueError("This line is empty; for a plan of defaults alone, write {}.")
    try:
        given = json.loads(text)
    except json.JSONDecodeError as error:
        raise ValueError(f"This line is not JSON text: {error.msg}, at character {error.pos + 1}.") from None
    except (ValueError, RecursionError):
        raise ValueError("This line is not JSON text that can be read: it nests too deep, or holds a number of "
                         "thousands of digits.") from None
    if isinstance(given, str) and is_link(given):
        typed, notes = link.read(given)
        return Plan.from_mapping(typed), notes
    if not isinstance(given, dict):
        raise ValueError("This line holds no plan: give names and answers between { and }, or a plan link in quotes.")
    return history.plan_of(given)


def _compact(answer: dict[str, object]) -> str:
    return json.dumps(answer, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def _error(number: int, sentence: str) -> str:
    return _compact({"line": number, "error": sentence})


def answer_line(number: int, line: Line, with_mends: bool = False) -> str:
    """The answer to one line, as one line of JSON text without its end; ``number`` counts lines from 1.

    It is the answer of ``solve`` with the line's number ahead of it, or ``{"line": number, "error": sentence}`` where
    the line is no plan. ``with_mends`` adds the changes that would make bad verdicts fit. Never raises on account of
    what the line holds.

    >>> import json
    >>> from calc.command_line.lines import answer_line
    >>> answer_line(3, "")
    '{"line":3,"error":"This line is empty; for a plan of defaults alone, write {}."}'
    >>> json.loads(answer_line(4, '{"bath.length": "48 in"}'))["plan"]
    {'bath.length': '48 in'}
    """
    try:
        plan, notes = _read(line)
    except ValueError as error:
        return _error(number, str(error))
    try:
        return _compact({"line": number, **answer(plan, with_mends), "notes": notes})
    except Exception as problem:  # the border: one line's trouble is told in its place, and the next line is answered
        return _error(number, f"Something went wrong inside the calculation ({type(problem).__name__}: {problem}).")


def answer(plan: Plan, with_mends: bool) -> dict[str, object]:
    """The answers of a plan as plain data, with its mends where they are asked for."""
    found = as_json(solve(plan))
    return {**found, "mends": mends.as_json(mends.mends_of(plan, mends.ALL))} if with_mends else found


def is_error(answer: str) -> bool:
    """Whether a line was answered by an error."""
    return answer.partition(",")[2].startswith('"error":')


def read_lines(stream: BinaryIO) -> Iterator[bytes]:
    """Lines without their ends, each read only when it is asked for.

    Of a line longer than ``LONGEST_LINE`` only the beginning is kept, just long enough to be told from one that fits.
    """
    while line := stream.readline(LONGEST_LINE + 3):
        rest = line
        while rest and not rest.endswith(b"\n"):
            rest = stream.readline(LONGEST_LINE)
        yield line.rstrip(b"\r\n")


def cores(most: int) -> int:
    """How many cores this process may use, at most ``most``."""
    allowed = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    return min(allowed, most)


def answers(lines: Iterable[Line], workers: int, work: Work = answer_line,
            ) -> Generator[str, None, None]:
    """The answer to each line, in order, as soon as it is there; one worker means this very process.

    At most ``AHEAD * workers`` lines are under way at a time, and one more waits to be; so ``lines`` may be endless.
    A worker that dies costs no answer: the lines it may have held are tried again one by one, and only a line that
    ends its process then too is answered by an error. Close the generator (``contextlib.closing``) to leave early.
    """
    if workers == 1:
        for number, line in enumerate(lines, 1):
            yield work(number, line)
        return
    crew = _Crew(workers, work)
    try:
        yield from crew.answers(lines)
    finally:
        crew.close()


@dataclass(frozen=True)
class _Job:
    number: int
    line: Line
    answer: Future[str]


def _begin_worker() -> None:
    """In a worker: leave Ctrl+C to the parent, and do not outlive it, however it ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = parent_process()

    def follow() -> None:
        if parent is not None:
            connection.wait([parent.sentinel])
            os._exit(1)

    threading.Thread(target=follow, daemon=True).start()


def _pool(workers: int) -> ProcessPoolExecutor:
    # Spawned, not forked: this process has threads, and a fork copies whatever lock they happen to hold.
    return ProcessPoolExecutor(workers, mp_context=get_context("spawn"), initializer=_begin_worker)


class _Crew:
    """A reading thread that hands lines to worker processes, and the answers in the order of the lines."""

    def __init__(self, workers: int, work: Work):
        self._workers = workers
        self._work = work
        self._jobs: SimpleQueue[_Job | BaseException | None] = SimpleQueue()
        self._room = threading.Semaphore(AHEAD * workers)
        self._lock = threading.Lock()
        self._closed = False
        self._pool = _pool(workers)

    def answers(self, lines: Iterable[Line]) -> Iterator[str]:
        """Read on in a thread of its own, so that an answer never waits for the next line to come in."""
        threading.Thread(target=self._read, args=(lines,), daemon=True).start()
        while (job := self._jobs.get()) is not None:
            if isinstance(job, BaseException):
                raise job
            yield self._finished(job)
            self._room.release()

    def close(self) -> None:
        """Begin no further line, and wait for the few that are being worked on."""
        with self._lock:
            self._closed = True
            self._pool.shutdown(cancel_futures=True)
        self._room.release()

    def _read(self, lines: Iterable[Line]) -> None:
        if hasattr(signal, "pthread_sigmask"):
            # What this thread starts inherits it: no worker speaks up on Ctrl+C, not even while it begins.
            signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
        try:
            for number, line in enumerate(lines, 1):
                self._room.acquire()
                answer = self._begun(number, line)
                if answer is None:
                    return
                self._jobs.put(_Job(number, line, answer))
            self._jobs.put(None)
        except BaseException as problem:  # raised again where the answers are read
            self._jobs.put(problem)

    def _begun(self, number: int, line: Line) -> Future[str] | None:
        """The answer to come; ``None`` when nobody waits for it any more."""
        with self._lock:
            if self._closed:
                return None
            try:
                return self._pool.submit(self._work, number, line)
            except BrokenProcessPool:
                self._pool = _pool(self._workers)
                return self._pool.submit(self._work, number, line)

    def _finished(self, job: _Job) -> str:
        try:
            return job.answer.result()
        except BrokenProcessPool:
            return self._alone(job)

    def _alone(self, job: _Job) -> str:
        """Try a line again in a process of its own: which line ended the shared one cannot be known otherwise."""
        with _pool(1) as pool:
            try:
                return pool.submit(self._work, job.number, job.line).result()
            except BrokenProcessPool:
                return _error(job.number, "The process that worked on this line ended before it had an answer, twice; "
                              "it may have run out of memory.")
