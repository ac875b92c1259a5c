"""The drivers of other browsers: what Firefox says while it starts is heard, however late or half-written it comes."""

from __future__ import annotations

import os
import threading

import pytest
from tools import engines
from tools.setup import Trouble

pytestmark = pytest.mark.skipif(os.name != "posix", reason="the program that stands in for Firefox is a shell script")


@pytest.fixture
def stands_in(monkeypatch, tmp_path):
    """A shell script in place of Firefox."""
    def script(*lines: str) -> None:
        program = tmp_path / "firefox"
        program.write_text("\n".join(("#!/bin/sh", *lines)) + "\n", encoding="utf-8")
        program.chmod(0o755)
        monkeypatch.setattr(engines, "firefox_program", lambda: str(program))

    return script


def test_a_firefox_that_ends_before_it_listens_is_told(stands_in):
    stands_in("echo 'no screen' >&2")
    with pytest.raises(Trouble, match="ended before it could be driven"), engines.firefox():
        pass


def test_an_address_that_comes_in_two_pieces_is_read_whole(stands_in, monkeypatch):
    asked = []

    def refuse(address, **more):
        asked.append(address)
        raise ConnectionRefusedError

    monkeypatch.setattr("websocket.create_connection", refuse)
    stands_in("printf 'WebDriver BiDi listening on ws://127.0.0.1:45' >&2", "sleep 0.3", "printf '678\\n' >&2",
              "exec sleep 60")
    with pytest.raises(ConnectionRefusedError), engines.firefox():
        pass
    assert asked == ["ws://127.0.0.1:45678/session"]


def test_a_helper_that_writes_on_after_the_end_keeps_nothing_waiting(stands_in, monkeypatch):
    def refuse(address, **more):
        raise ConnectionRefusedError

    monkeypatch.setattr("websocket.create_connection", refuse)
    before = threading.active_count()
    stands_in("(for turn in 1 2 3 4 5 6 7 8 9 10; do echo busy; sleep 0.1; done) >&2 &",
              "echo 'WebDriver BiDi listening on ws://127.0.0.1:9' >&2", "exec sleep 60")
    with pytest.raises(ConnectionRefusedError), engines.firefox():
        pass
    assert threading.active_count() == before
