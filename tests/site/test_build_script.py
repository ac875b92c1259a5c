"""The build script's manners: a missing piece of the system gets one sentence with the remedy."""

from __future__ import annotations

import shutil
import socket
import subprocess
import sys

import pytest
from tools import serve, setup


def test_missing_npm_is_told(monkeypatch, tmp_path):
    monkeypatch.setattr(setup, "CACHE", tmp_path)
    monkeypatch.setattr(shutil, "which", lambda name: None)
    with pytest.raises(setup.Trouble, match=r"npm was not found.*Install Node\.js 20"):
        setup.runtime()


def test_missing_venv_is_told(monkeypatch, tmp_path):
    monkeypatch.setattr(setup, "VENV", tmp_path / "venv")
    failed = subprocess.CompletedProcess([], 1, "", "No module named venv")
    monkeypatch.setattr(subprocess, "run", lambda *given, **more: failed)
    with pytest.raises(setup.Trouble, match=r"venv module does not work.*python3-venv"):
        setup.python(with_tests=False)


def test_missing_network_is_told(monkeypatch, tmp_path):
    monkeypatch.setattr(setup, "CACHE", tmp_path)
    failed = subprocess.CompletedProcess([], 1, "", "npm error network")
    monkeypatch.setattr(subprocess, "run", lambda *given, **more: failed)
    with pytest.raises(setup.Trouble, match="first set-up needs a network"):
        setup.runtime()


def test_missing_chromium_is_told(monkeypatch, tmp_path):
    monkeypatch.setattr(shutil, "which", lambda name: None)
    monkeypatch.setenv("PLAYWRIGHT_BROWSERS_PATH", str(tmp_path))
    with pytest.raises(setup.Trouble, match="No Chromium was found.*apt-get install chromium"):
        setup.chromium()


def test_taken_port_is_told(tmp_path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        with pytest.raises(setup.Trouble, match=f"Port {port} is taken; choose another"):
            serve.server(tmp_path, port)


def test_unknown_words_are_refused():
    done = subprocess.run([sys.executable, str(setup.ROOT / "build.py"), "build", "--nonsense"], capture_output=True,
                          text=True)
    assert done.returncode == 2
    assert "--nonsense" in done.stderr


@pytest.mark.parametrize("port", ["0", "65536", "99999", "-1", "web", "8" * 5000])
def test_a_port_that_cannot_be_is_refused_with_what_is_allowed(port):
    done = subprocess.run([sys.executable, str(setup.ROOT / "build.py"), "serve", f"--port={port}"],
                          capture_output=True, text=True)
    assert done.returncode == 2
    assert f"give a whole number from 1 to 65535, not {port[:40]}" in done.stderr
    assert "Traceback" not in done.stderr


def test_the_last_port_when_taken_names_one_that_exists(monkeypatch, tmp_path):
    def refuse(*ignored):
        raise OSError("taken")

    monkeypatch.setattr(serve, "Server", refuse)
    with pytest.raises(setup.Trouble, match="Port 65535 is taken.*--port 65534"):
        serve.server(tmp_path, 65535)


def test_a_port_that_is_kept_for_the_system_is_told(monkeypatch, tmp_path):
    def refuse(*ignored):
        raise PermissionError("no")

    monkeypatch.setattr(serve, "Server", refuse)
    with pytest.raises(setup.Trouble, match="Port 80 needs rights.*from 1024 to 65535"):
        serve.server(tmp_path, 80)
