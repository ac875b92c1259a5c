"""Drives browsers of other makers than Chromium's for the same smoke test: Firefox by WebDriver BiDi, WebKitGTK."""

from __future__ import annotations

import contextlib
import json
import os
import re
import subprocess
import tempfile
import time
import warnings
from collections.abc import Iterator
from pathlib import Path

from .hosts import find
from .setup import Trouble

# What Debian and Ubuntu call the packages, by engine.
PACKAGES = {"Firefox": ("firefox-esr",), "WebKit": ("webkit2gtk-driver", "xvfb")}
MINI_BROWSERS = ("/usr/lib/*/webkit2gtk-4.1/MiniBrowser", "/usr/lib/*/webkit2gtk-4.0/MiniBrowser",
                 "/usr/libexec/webkit2gtk-4.1/MiniBrowser")
LONGEST_S = 300
SELECT = """(() => { const one = document.querySelector('[name="%s"]'); one.focus(); one.select(); })()"""


def firefox_program() -> str | None:
    """Firefox as installed, or None."""
    return find("firefox-esr", "firefox")


def webkit_programs() -> tuple[str, str, str] | None:
    """The driver of WebKitGTK, its plain browser, and a display that needs no screen; None when one is missing."""
    driver, display = find("WebKitWebDriver"), find("Xvfb")
    found = [file for pattern in MINI_BROWSERS for file in sorted(Path("/").glob(pattern.lstrip("/")))]
    return (driver, str(found[0]), display) if driver and display and found else None


def present(engine: str) -> bool:
    """Whether an engine can be driven on this machine."""
    return bool(firefox_program() if engine == "Firefox" else webkit_programs())


class Firefox:
    """One Firefox with a profile of its own, spoken to in WebDriver BiDi over a socket."""

    def __init__(self, socket):
        self._socket = socket
        self._count = 0
        self.complaints: list[str] = []
        about = self._send("session.new", capabilities={})["capabilities"]
        self.version = f"Firefox {about['browserVersion']}"
        self._send("session.subscribe", events=["log.entryAdded"])
        self._tab = self._send("browsingContext.getTree")["contexts"][0]["context"]

    def _send(self, method: str, **parameters) -> dict:
        self._count += 1
        self._socket.send(json.dumps({"id": self._count, "method": method, "params": parameters}))
        while True:
            heard = json.loads(self._socket.recv())
            if heard.get("method") == "log.entryAdded" and heard["params"]["level"] == "error":
                self.complaints.append(heard["params"]["text"])
            if heard.get("id") == self._count:
                if heard["type"] == "error":
                    raise RuntimeError(f"{method}: {heard['error']}: {heard['message']}")
                return heard["result"]

    def go(self, address: str) -> None:
        """Open an address and wait until it has loaded."""
        self._send("browsingContext.navigate", context=self._tab, url=address, wait="complete")

    def ask(self, expression: str):
        """The value of an expression of plain data in the page; a promise is waited for."""
        text = f"Promise.resolve({expression}).then((value) => JSON.stringify(value ?? null))"
        found = self._send("script.evaluate", expression=text, target={"context": self._tab}, awaitPromise=True)
        if found["type"] != "success":
            raise RuntimeError(f"{expression}: {found['exceptionDetails']['text']}")
        return json.loads(found["result"]["value"])

    def type(self, name: str, text: str) -> None:
        """Type over what a field of the form holds, key by key."""
        self.ask(SELECT % name)
        keys = [{"type": kind, "value": key} for key in text for kind in ("keyDown", "keyUp")]
        self._send("input.performActions", context=self._tab,
                   actions=[{"type": "key", "id": "keyboard", "actions": keys}])


class WebKit:
    """One WebKitGTK browser, driven by selenium."""

    def __init__(self, driver):
        self._driver = driver
        about = driver.capabilities
        self.version = f"WebKitGTK {about['browserVersion']}"
        # This driver has no way to read the console.
        self.complaints: list[str] = []

    def go(self, address: str) -> None:
        """Open an address and wait until it has loaded."""
        self._driver.get(address)

    def ask(self, expression: str):
        """The value of an expression of plain data in the page; a promise is waited for."""
        done = ("const tell = arguments[arguments.length - 1];"
                f"Promise.resolve({expression}).then((value) => tell([JSON.stringify(value ?? null)]),"
                "(problem) => tell([null, String(problem)]));")
        answer = self._driver.execute_async_script(done)
        if answer[0] is None:
            raise RuntimeError(f"{expression}: {answer[1]}")
        return json.loads(answer[0])

    def type(self, name: str, text: str) -> None:
        """Type over what a field of the form holds, key by key."""
        from selenium.webdriver.common.by import By
        # This driver loses a letter held together with Control; and what is selected is typed over.
        self.ask(SELECT % name)
        self._driver.find_element(By.NAME, name).send_keys(text)


def until(browser: Firefox | WebKit, expression: str, seconds: float = LONGEST_S):
    """Wait for an expression to be true; returns its value."""
    end = time.monotonic() + seconds
    while not (found := browser.ask(expression)):
        if time.monotonic() > end:
            raise TimeoutError(f"{browser.version}: not within {seconds} s: {expression}")
        time.sleep(0.1)
    return found


def _end(process: subprocess.Popen) -> None:
    process.terminate()
    try:
        process.wait(20)
    except subprocess.TimeoutExpired:
        process.kill()
        process.wait()


def _socket_address(process: subprocess.Popen, said: Path) -> str:
    """Where Firefox listens, as it says among what it writes while it starts."""
    end = time.monotonic() + LONGEST_S
    while not (found := re.search(r"BiDi listening on (ws://\S+)\s", said.read_text(errors="replace"))):
        if process.poll() is not None:
            raise Trouble("Firefox ended before it could be driven.")
        if time.monotonic() > end:
            raise Trouble(f"Firefox did not say within {LONGEST_S} s where it listens.")
        time.sleep(0.05)
    return found.group(1)


@contextlib.contextmanager
def firefox() -> Iterator[Firefox]:
    """A Firefox without a window, ended and forgotten afterwards."""
    import websocket
    program = firefox_program()
    if not program:
        raise Trouble("Firefox was not found. On Debian: apt-get install firefox-esr")
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile:
        said = Path(profile) / "said.txt"
        # Its helpers hold what it writes to open longer than itself: a file needs no reader that outlives the test.
        with said.open("wb") as told:
            process = subprocess.Popen([program, "--headless", "--no-remote", "--profile", profile,
                                        "--remote-debugging-port", "0", "about:blank"],
                                       stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=told)
        try:
            address = _socket_address(process, said)
            socket = websocket.create_connection(address + "/session", timeout=LONGEST_S, suppress_origin=True)
            with contextlib.closing(socket):
                yield Firefox(socket)
        finally:
            _end(process)


@contextlib.contextmanager
def _display(program: str) -> Iterator[str]:
    """A screen in memory; yields its name."""
    reading, writing = os.pipe()
    process = subprocess.Popen([program, "-displayfd", str(writing), "-screen", "0", "1280x1000x24", "-nolisten",
                                "tcp"], pass_fds=(writing,), stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    os.close(writing)
    try:
        with os.fdopen(reading) as told:
            number = told.readline().strip()
        if not number:
            raise Trouble("Xvfb ended before it had a screen.")
        yield f":{number}"
    finally:
        _end(process)


@contextlib.contextmanager
def webkit() -> Iterator[WebKit]:
    """A WebKitGTK browser on a screen in memory, ended afterwards."""
    from selenium import webdriver
    from selenium.webdriver.webkitgtk.options import Options
    from selenium.webdriver.webkitgtk.service import Service
    programs = webkit_programs()
    if not programs:
        raise Trouble("WebKitGTK was not found. On Debian: apt-get install webkit2gtk-driver xvfb")
    driver_program, browser_program, screen = programs
    options = Options()
    options.binary_location = browser_program
    options.add_argument("--automation")
    with _display(screen) as display:
        service = Service(driver_program, env={**os.environ, "DISPLAY": display, "GDK_BACKEND": "x11"})
        with warnings.catch_warnings():
            # selenium's own class for this browser still uses what selenium calls outdated.
            warnings.simplefilter("ignore", DeprecationWarning)
            driver = webdriver.WebKitGTK(options=options, service=service)
        try:
            driver.set_script_timeout(LONGEST_S)
            yield WebKit(driver)
        finally:
            driver.quit()


OPEN = {"Firefox": firefox, "WebKit": webkit}
