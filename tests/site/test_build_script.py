"""The build script's manners: a missing piece of the system gets one sentence with the remedy."""

from __future__ import annotations

import shutil
import socket
import subprocess
import sys
import threading

import pytest
from tools import serve, setup, site


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


@pytest.mark.parametrize(("there", "chosen"), [
    (["path/chromium", "path/chromium-headless-shell"], "path/chromium-headless-shell"),
    (["path/chromium", "own/chromium-1200/chrome-linux64/chrome"], "path/chromium"),
    (["own/chromium-1200/chrome-linux64/chrome"], "own/chromium-1200/chrome-linux64/chrome"),
    (["own/chromium-1200/chrome-linux64/chrome", "own/chromium_headless_shell-1150/chrome-linux/headless_shell"],
     "own/chromium_headless_shell-1150/chrome-linux/headless_shell"),
    (["own/chromium-1200/chrome-linux64/chrome",
      "own/chromium_headless_shell-1200/chrome-headless-shell-linux64/chrome-headless-shell"],
     "own/chromium_headless_shell-1200/chrome-headless-shell-linux64/chrome-headless-shell"),
])
def test_whichever_chromium_there_is_is_found(monkeypatch, tmp_path, there, chosen):
    for one in there:
        file = tmp_path / one
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text("#!/bin/sh\n", encoding="utf-8")
        file.chmod(0o755)
    monkeypatch.setenv("PATH", str(tmp_path / "path"))
    monkeypatch.setenv("PLAYWRIGHT_BROWSERS_PATH", str(tmp_path / "own"))
    assert setup.chromium() == str(tmp_path / chosen)


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


@pytest.mark.parametrize(("said", "words"), [
    ("npm error code EROFS\nnpm error rofs EROFS: read-only file system, mkdir '/home/me/.npm'",
     "cannot be written to"),
    ("ERROR: Could not install packages: [Errno 13] Permission denied: '/home/me/.cache'", "cannot be written to"),
    ("npm error ENOSPC: no space left on device", "disk is full")])
def test_a_folder_in_the_way_is_not_blamed_on_the_network(monkeypatch, tmp_path, said, words):
    monkeypatch.setattr(setup, "CACHE", tmp_path)
    failed = subprocess.CompletedProcess([], 1, "", said)
    monkeypatch.setattr(subprocess, "run", lambda *given, **more: failed)
    with pytest.raises(setup.Trouble, match=words) as told:
        setup.runtime()
    assert "network" not in str(told.value).split("It said")[0] and said.splitlines()[-1] in str(told.value)


def test_a_folder_that_cannot_be_made_is_told(monkeypatch, tmp_path):
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    monkeypatch.setattr(setup, "CACHE", tmp_path / "file")
    with pytest.raises(setup.Trouble, match="file/runtime cannot be made"):
        setup.runtime()
    with pytest.raises(setup.Trouble, match="cannot be written to"):
        site.build(tmp_path / "nowhere" / "dist")


def test_two_builds_at_once_both_end_and_leave_one_whole_site(tmp_path):
    folder = tmp_path / "dist"
    rounds, builders = 15, 4
    failed = []

    def put(name: str) -> None:
        try:
            for number in range(rounds):
                fresh = tmp_path / f"dist.new.{name}{number}"
                fresh.mkdir()
                for part in ("index.html", "release.json"):
                    (fresh / part).write_text(name, encoding="utf-8")
                site.replace(folder, fresh)
        except Exception as problem:  # a thread's own fault would be lost
            failed.append(repr(problem))

    threads = [threading.Thread(target=put, args=(name,)) for name in "abcd"[:builders]]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    assert len({(folder / part).read_text(encoding="utf-8") for part in ("index.html", "release.json")}) == 1
    assert [one.name for one in tmp_path.iterdir()] == ["dist"]


def test_a_build_that_fails_leaves_the_site_as_it_was(monkeypatch, tmp_path):
    folder = tmp_path / "dist"
    folder.mkdir()
    (folder / "index.html").write_text("as it was", encoding="utf-8")

    def stumble(fresh, guides_folder):
        (fresh / "half").write_text("done", encoding="utf-8")
        raise setup.Trouble("a mistake in a guide")

    monkeypatch.setattr(site, "fill", stumble)
    with pytest.raises(setup.Trouble, match="a mistake in a guide"):
        site.build(folder)
    assert [one.name for one in tmp_path.iterdir()] == ["dist"]
    assert (folder / "index.html").read_text(encoding="utf-8") == "as it was"
