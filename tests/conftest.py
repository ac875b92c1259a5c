"""Shared by all tests: one built site, one server, one browser, and pages that fail on whatever they complain about."""

from __future__ import annotations

import os
import shutil
import sys
from pathlib import Path

import pytest
from hypothesis import settings

from tests import floor

# Time never decides a test: a busy machine is not a fault of the code.
settings.register_profile("raftwright", deadline=None)
settings.load_profile("raftwright")

ROOT = Path(__file__).resolve().parents[1]


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item):
    floor.switch(item)


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish(session):
    floor.finish(session)


def pytest_terminal_summary(terminalreporter, config):
    for line in config.stash.get(floor.SAID, []):
        terminalreporter.write_line(line)


@pytest.fixture(scope="session")
def dist() -> Path:
    """The built folder; built now when there is none."""
    from tools import setup, site
    if not (site.DIST / "index.html").is_file():
        setup.runtime()
        site.build()
    return site.DIST


@pytest.fixture(scope="session")
def address(dist: Path):
    """Where the built folder is served, with the policy also sent as a header."""
    from tools import serve, site
    server, where = serve.in_background(dist, site.POLICY)
    yield where
    server.shutdown()
    server.server_close()


@pytest.fixture
def served_copy(dist: Path, tmp_path: Path):
    """A copy of the built folder that a test may damage, and its address."""
    from tools import serve
    copy = tmp_path / "site"
    shutil.copytree(dist, copy)
    server, where = serve.in_background(copy)
    yield copy, where
    server.shutdown()
    server.server_close()


@pytest.fixture(scope="session")
def browser():
    """One Chromium for all tests."""
    from playwright.sync_api import sync_playwright
    from tools import setup
    arguments = ["--disable-background-networking"] + (["--no-sandbox"] if setup.is_root() else [])
    with sync_playwright() as player:
        found = player.chromium.launch(executable_path=os.environ.get("RAFTWRIGHT_CHROMIUM") or setup.chromium(),
                                       args=arguments)
        yield found
        found.close()


class Watched:
    """A browser page with everything it complained about and everywhere it went."""

    def __init__(self, page):
        self.page = page
        self.complaints: list[str] = []
        self.requests: list[str] = []
        page.on("console", lambda message: message.type == "error" and self.complaints.append(message.text))
        page.on("pageerror", lambda problem: self.complaints.append(str(problem)))
        page.on("request", lambda request: self.requests.append(request.url))


@pytest.fixture(scope="session")
def warm(browser, address: str):
    """A context that has visited before: Python starts from the kept memory there, as it does for most readers."""
    context = browser.new_context(service_workers="block")
    page = context.new_page()
    page.goto(f"{address}/plan/index.html")
    page.wait_for_selector("html[data-snapshot]", timeout=120_000)
    page.close()
    yield context
    context.close()


@pytest.fixture
def open_page(browser, request):
    """Open an address, and wait for Python unless ``ready`` is false.

    Pages share the warm context, with its storage emptied after each test, unless a test asks for a ``fresh`` one,
    brings its own ``context``, or wants a ``script`` run before the page's own.
    """
    contexts = []
    warm_pages = []

    def opener(url: str, ready: bool = True, script: str = "", context=None, fresh: bool = False) -> Watched:
        shared = context is None and not fresh and not script
        if shared:
            context = request.getfixturevalue("warm")
        elif context is None:
            context = browser.new_context(service_workers="block")
            contexts.append(context)
        if script:
            context.add_init_script(script)
        watched = Watched(context.new_page())
        if shared:
            warm_pages.append(watched.page)
        watched.page.goto(url)
        if ready:
            watched.page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
        return watched

    yield opener
    for page in warm_pages:
        page.evaluate("localStorage.clear()")
        page.close()
    for context in contexts:
        context.close()


if str(ROOT / "site_src") not in sys.path:
    sys.path.insert(0, str(ROOT / "site_src"))
