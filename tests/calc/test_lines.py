"""Many plans at once: in order, lazily, in bounded memory, a broken line or a dead process answered in its place."""

from __future__ import annotations

import io
import json
import os
import signal
import subprocess
import sys
import threading
from contextlib import closing, contextmanager, suppress
from pathlib import Path

import pytest

from calc import Plan, solve
from calc.command_line import lines
from calc.solve import as_json
from tests.calc import deadly

ROOT = Path(__file__).resolve().parents[2]
PLANS = [{"bath.length": f"{40 + number} in"} for number in range(12)]
LINK = "#start=2&bath.length=50+in"
GIVEN = b"\n".join([b"\xef\xbb\xbf{}", b'{"bath.length": "50 in"}', json.dumps(LINK).encode(), b"{", b"", b"[1]",
                    b'"no link"', b"\xff", b"[" * 50_000, b"1" * 5000, b'{"plan": {"bath.length": "5 gal"}}\r',
                    b'"' + b"x" * (lines.LONGEST_LINE + 10) + b'"', b'{"bath.length": "51 in"}'])
SENTENCES = {4: "not JSON text: Expecting property name", 5: "empty; for a plan of defaults alone, write {}",
             6: "holds no plan", 7: "holds no plan", 8: "not UTF-8 text: byte 1", 9: "nests too deep",
             10: "thousands of digits", 12: "longer than any plan: 1,000,000 bytes"}


def _hears_ctrl_c() -> None:
    """Undo what a script does to all it runs in the background: there Ctrl+C is ignored, and so would the test wait."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


@contextmanager
def command(*arguments: str, **more):
    """The command with open pipes; none is left running."""
    # Unbuffered, argparse itself would swallow what goes wrong while its help is written.
    surroundings = {name: value for name, value in os.environ.items() if name != "PYTHONUNBUFFERED"}
    running = subprocess.Popen([sys.executable, "-m", "calc", *arguments], cwd=ROOT, stdin=subprocess.PIPE,
                               stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=surroundings, **more)
    try:
        yield running
    finally:
        running.kill()
        running.wait()
        running.stdout.close()
        running.stderr.close()
        with suppress(BrokenPipeError):
            running.stdin.close()


@pytest.mark.parametrize("workers", [1, 2])
def test_each_line_is_answered_in_its_place(workers):
    found = [json.loads(one) for one in lines.answers(lines.read_lines(io.BytesIO(GIVEN)), workers)]
    assert [one["line"] for one in found] == list(range(1, 14))
    assert {one["line"] for one in found if "error" in one} == set(SENTENCES)
    for number, words in SENTENCES.items():
        assert words in found[number - 1]["error"] and found[number - 1]["error"].startswith("This line")
    assert found[1]["results"] == found[2]["results"]
    assert found[10]["faults"][0]["field"] == "bath.length"
    for place, typed in ((0, {}), (1, {"bath.length": "50 in"}), (12, {"bath.length": "51 in"})):
        alone = json.loads(json.dumps(as_json(solve(Plan.from_mapping(typed)))))
        assert found[place] == {"line": place + 1, **alone, "notes": []}


def test_a_line_as_long_as_allowed_is_read():
    kept = b'{"parts.note": "' + b"x" * (lines.LONGEST_LINE - 18) + b'"}'
    assert len(kept) == lines.LONGEST_LINE
    for end in (b"", b"\n", b"\r\n"):
        assert list(lines.read_lines(io.BytesIO(kept + end + b"{}"[:len(end)])))[0] == kept
    assert not lines.is_error(lines.answer_line(1, kept)) and lines.is_error(lines.answer_line(1, kept + b" "))


@pytest.mark.parametrize("workers", [1, 2])
def test_endless_lines_are_read_only_a_little_ahead(workers):
    taken = []

    def endless():
        while True:
            taken.append(b"{}")
            yield taken[-1]

    most = lines.AHEAD * workers + 1 if workers > 1 else 1
    with closing(lines.answers(endless(), workers)) as found:
        for number in range(1, 4 * lines.AHEAD * workers):
            assert json.loads(next(found))["line"] == number
            # The answers given before this one are no longer under way.
            assert len(taken) - (number - 1) <= most


def test_no_process_is_started_for_one_worker(monkeypatch):
    monkeypatch.setattr(lines, "_pool", None)
    assert len(list(lines.answers([b"{}"] * 2, 1))) == 2


def test_a_line_that_ends_its_process_is_answered_by_a_sentence_and_no_other_is_lost():
    given = [b"{}", b"die", b'{"bath.length": "50 in"}', b"{", b"die", *[b"{}"] * 12]
    found = [json.loads(one) for one in lines.answers(given, 2, deadly.work)]
    assert [one["line"] for one in found] == list(range(1, len(given) + 1))
    for number in (2, 5):
        assert "ended before it had an answer, twice" in found[number - 1]["error"]
    assert "not JSON" in found[3]["error"] and sum("error" in one for one in found) == 3
    assert found[2]["plan"] == {"bath.length": "50 in"}


def test_trouble_inside_the_calculation_is_told_in_its_place(monkeypatch):
    def broken(plan):
        raise RuntimeError("bad luck")

    monkeypatch.setattr(lines, "solve", broken)
    assert json.loads(lines.answer_line(7, "{}")) == {
        "line": 7, "error": "Something went wrong inside the calculation (RuntimeError: bad luck)."}


def test_trouble_while_reading_is_not_swallowed():
    def failing():
        yield b"{}"
        raise OSError("the disk went away")

    with pytest.raises(OSError, match="the disk went away"):
        list(lines.answers(failing(), 2))


@pytest.mark.parametrize("workers", ["1", "2"])
def test_an_answer_comes_while_the_input_stays_open(workers):
    with command("solve", "--lines", "-", "--workers", workers) as running:
        for number, plan in enumerate(PLANS[:3], 1):
            running.stdin.write(json.dumps(plan).encode() + b"\n")
            running.stdin.flush()
            answer = json.loads(running.stdout.readline())
            assert answer["line"] == number and answer["plan"] == plan
        running.stdin.close()
        assert running.stdout.read() == b"" and running.stderr.read() == b"" and running.wait() == 0


def _fed_for_ever(running: subprocess.Popen) -> None:
    def feed():
        try:
            while True:
                running.stdin.write(b"{}\n")
        except (OSError, ValueError):
            pass  # it has ended, or the test has

    threading.Thread(target=feed, daemon=True).start()


@pytest.mark.skipif(os.name != "posix", reason="signals are told by their number on POSIX systems alone")
@pytest.mark.parametrize("workers", ["1", "2"])
@pytest.mark.parametrize("endless", [True, False], ids=["endless", "waiting"])
def test_ctrl_c_ends_quietly(workers, endless):
    with command("solve", "--lines", "-", "--workers", workers, start_new_session=True,
                 preexec_fn=_hears_ctrl_c) as running:
        if endless:
            _fed_for_ever(running)
        else:
            running.stdin.write(b"{}\n")
            running.stdin.flush()
        assert json.loads(running.stdout.readline())["line"] == 1
        # As a terminal does: to the whole group, workers included.
        os.killpg(running.pid, signal.SIGINT)
        running.stdout.read()
        assert running.stderr.read() == b"" and running.wait() == -signal.SIGINT


@pytest.mark.skipif(os.name != "posix", reason="signals are told by their number on POSIX systems alone")
@pytest.mark.parametrize("arguments", [["fields"], ["--help"], ["solve", "--lines", "-", "--workers", "1"],
                                       ["solve", "--lines", "-", "--workers", "2"]])
def test_a_reader_that_goes_away_ends_it_quietly(arguments):
    with command(*arguments) as running:
        running.stdout.close()
        _fed_for_ever(running)
        assert running.wait() == -signal.SIGPIPE and running.stderr.read() == b""


@pytest.mark.skipif(not Path("/proc/self/task").is_dir(), reason="children are listed under /proc on Linux alone")
def test_a_worker_killed_from_outside_costs_no_answer_and_none_outlives_its_parent():
    def workers(running):
        found = []
        for one in Path("/proc").glob("[0-9]*/stat"):
            try:
                parent = int(one.read_text().rpartition(")")[2].split()[1])
                words = one.with_name("cmdline").read_bytes()
            except OSError:
                continue
            if parent == running.pid and b"spawn_main" in words:
                found.append(int(one.parent.name))
        return found

    def ask(running, number):
        running.stdin.write(b"{}\n")
        running.stdin.flush()
        answer = json.loads(running.stdout.readline())
        assert answer["line"] == number and "results" in answer

    with command("solve", "--lines", "-", "--workers", "2") as running:
        ask(running, 1)
        victims = workers(running)
        assert victims
        os.kill(victims[0], signal.SIGKILL)
        ask(running, 2)
        ask(running, 3)
        left = workers(running)
        assert left
        running.kill()
        # The workers hold the other end of this pipe, so it ends when they have.
        assert running.stderr.read() is not None
    for one in left:
        status = Path(f"/proc/{one}/stat")
        assert not status.exists() or status.read_text().rpartition(")")[2].split()[0] == "Z"


def test_exit_status_and_sentences(tmp_path):
    file = tmp_path / "plans.jsonl"
    file.write_text('{}\n{"bath.length": "5 gal"}\n', encoding="utf-8")

    def done(*arguments):
        return subprocess.run([sys.executable, "-m", "calc", "solve", *arguments], cwd=ROOT, capture_output=True,
                              text=True, stdin=subprocess.DEVNULL)

    good = done("--lines", str(file), "--workers", "1")
    assert good.returncode == 0 and len(good.stdout.splitlines()) == 2
    file.write_text("{}\n{\n", encoding="utf-8")
    assert done("--lines", str(file), "--workers", "1").returncode == 1
    assert done("--lines", "-").stdout == ""
    for arguments, words in ((("--lines", str(tmp_path)), "The file of lines cannot be read"),
                             (("--lines", str(tmp_path / "none")), "The file of lines cannot be read"),
                             (("--lines", "-", "--workers", "0"), "give a whole number from 1 to 60, not 0"),
                             (("--lines", "-", "--workers", "two"), "give a whole number from 1 to 60, not two"),
                             (("-", "--workers", "2"), "--workers goes with --lines"),
                             (("-", "--lines", "-"), "not allowed with argument"), ((), "PLAN --lines is required")):
        found = done(*arguments)
        assert found.returncode == 2 and words in found.stderr and "Traceback" not in found.stderr


def test_an_engine_for_many_machines_gives_the_same_answers():
    distributed = pytest.importorskip("distributed", reason="dask.distributed is not installed, so lines shared among "
                                      "machines are NOT tested")
    from dask import bag
    given = [(number, json.dumps(plan)) for number, plan in enumerate(PLANS, 1)] + [(len(PLANS) + 1, "{")]
    with distributed.LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None,
                                  host="127.0.0.1") as cluster, distributed.Client(cluster):
        found = bag.from_sequence(given, npartitions=4).starmap(lines.answer_line).compute()
    assert found == list(lines.answers([line for _, line in given], 1))
