"""Shared by all tests: one built site, a server and a browser for each worker, and pages that fail on any complaint."""

from __future__ import annotations

import contextlib
import json
import os
import shutil
import sys
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from hypothesis import HealthCheck, is_hypothesis_test, settings
from hypothesis.database import DirectoryBasedExampleDatabase

from tests import floor

ROOT = Path(__file__).resolve().parents[1]

# Time never decides a test, and neither does luck: the same sources meet the same examples on every machine. Only the
# night rolls dice, more of them, and keeps what it finds.
settings.register_profile("fixed", deadline=None, derandomize=True, database=None, print_blob=True,
                          suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("night", settings.get_profile("fixed"), derandomize=False,
                          database=DirectoryBasedExampleDatabase(ROOT / ".cache" / "night"))
NIGHT = int(os.environ.get("RAFTWRIGHT_NIGHT", "0"))
settings.load_profile("night" if NIGHT else "fixed")

# Python that is started once for all tests of a worker, and what leads a page's first worker to it.
HELD = ROOT / "tests" / "site" / "held_python.js"
LEADS_TO_IT = ROOT / "tests" / "site" / "leads_to_python.js"

# The most milliseconds that a question waits before Python hears it: what only a quick machine hides shows then.
SLUGGISH = int(os.environ.get("RAFTWRIGHT_SLUGGISH", "0"))
SLOWED = """(() => {
  const send = Worker.prototype.postMessage;
  let last = Promise.resolve();
  Worker.prototype.postMessage = function (message, ...more) {
    if (message.type !== "run") return void send.call(this, message, ...more);
    const wait = Math.random() * %d;
    last = last.then(() => new Promise((next) => setTimeout(next, wait))).then(() => send.call(this, message, ...more));
  };
})();"""


def pytest_addoption(parser):
    parser.addoption(floor.OPTION, action="store_true", help="hold what tests/calc reach of calc to the floor")


@pytest.hookimpl(tryfirst=True)
def pytest_configure(config):
    floor.begin(config)


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_setup(item):
    floor.switch(item)


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node, error):
    floor.take_over(node.config, getattr(node, "workeroutput", {}))


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish(session):
    floor.finish(session)


def pytest_terminal_summary(terminalreporter, config):
    for line in config.stash.get(floor.SAID, []):
        terminalreporter.write_line(line)


def pytest_collection_modifyitems(items) -> None:
    """Tests of calc come first, for the sake of the floor; then those in a browser, and the shortest last, so that no
    worker begins a long one when the others are done."""
    items.sort(key=lambda item: (not floor.of_calc(item.nodeid), not item.nodeid.startswith("tests/site/")))
    if not NIGHT:
        return
    for item in items:
        test = getattr(item, "obj", None)
        if is_hypothesis_test(test):
            # Each test says how many examples it needs by day; the settings of a test can only be read here.
            day = test._hypothesis_internal_use_settings
            test._hypothesis_internal_use_settings = settings(day, max_examples=NIGHT * day.max_examples)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config, log):
    """How the tests are shared among workers: tests of `calc` by file, so that a plan solved for a file is solved once;
    other browsers and web servers by program, so that each is started once; the walk over all pages by its parts;
    what is done offline together, and what is opened from a disk, since a context is made ready for each; all else one
    by one."""
    from xdist.scheduler import LoadScopeScheduling

    class Shares(LoadScopeScheduling):
        def _split_scope(self, nodeid: str) -> str:
            file, _, test = nodeid.partition("::")
            if file.startswith("tests/calc/"):
                return file
            if file.endswith(("test_engines.py", "test_hosting.py")):
                return file + "".join(name for name in ("Firefox", "WebKit", "nginx", "apache") if name in test)
            if file.endswith("test_every_page.py"):
                return file + test.partition("[")[2]
            if "offline" in test or "without_a_line" in test:
                return "offline"
            if "[file" in test or "disk" in test:
                return "disk"
            return nodeid

    # In the order above, not the fullest file first.
    config.option.loadscopereorder = False
    return Shares(config, log)


def pytest_sessionstart(session) -> None:
    """Workers share one built site, so it is built before they start."""
    if getattr(session.config.option, "numprocesses", None):
        built()


def built() -> Path:
    """The built folder; built now when there is none."""
    from tools import setup, site
    if not (site.DIST / "index.html").is_file():
        setup.runtime()
        site.build()
    return site.DIST


@pytest.fixture(scope="session")
def dist() -> Path:
    """The built folder."""
    return built()


@pytest.fixture(scope="session")
def address(dist: Path, tmp_path_factory):
    """Where the built folder is served, with the policy also sent as a header, and the Python that tests share."""
    from tools import serve, site
    folder = tmp_path_factory.mktemp("served")
    for one in [*dist.iterdir(), HELD]:
        (folder / one.name).symlink_to(one)
    server, where = serve.in_background(folder, site.POLICY)
    yield where
    server.shutdown()
    server.server_close()


@pytest.fixture(params=["http", "file"])
def base(request, dist):
    """Both ways to open the site."""
    return request.getfixturevalue("address") if request.param == "http" else dist.as_uri()


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
    """One Chromium for all tests of a worker."""
    from playwright.sync_api import sync_playwright
    from tools import setup
    # Tabs of one context share a process, and so the code that it compiled of Python; see `hold`.
    arguments = ["--disable-background-networking", "--process-per-site"]
    arguments += ["--no-sandbox"] if setup.is_root() else []
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
        self._heard = {"console": lambda message: message.type == "error" and self.complaints.append(message.text),
                       "pageerror": lambda problem: self.complaints.append(str(problem)),
                       "request": lambda request: self.requests.append(request.url)}
        for event, hear in self._heard.items():
            page.on(event, hear)

    def forget(self) -> None:
        """Leave the tab as a new one would be: on no page, with nothing stored, heard by nobody."""
        self.page.unroute_all()
        empty(self.page)
        self.page.goto("about:blank")
        # "null" is the browser's own.
        self.page.emulate_media(media="null", color_scheme="null")
        self.page.set_viewport_size({"width": 1280, "height": 720})
        for event, hear in self._heard.items():
            self.page.remove_listener(event, hear)


def empty(page) -> None:
    """Empty what the pages keep, from a file that keeps nothing itself: a planner saves once more when it is left."""
    found = urlsplit(page.url)
    if found.scheme == "http":
        page.goto(f"http://{found.netloc}/release.json")
    elif found.scheme == "file":
        page.goto((built() / "release.json").as_uri())
    page.evaluate(EMPTY)


# All that a page keeps but the memory of Python; a test may have forbidden any of it.
EMPTY = """() => new Promise((resolve) => {
  const clear = () => {
    for (const name of ["localStorage", "sessionStorage"]) {
      try { window[name].clear(); } catch { /* forbidden by the test */ }
    }
  };
  const done = () => { clear(); resolve(); };
  clear();
  if (!window.indexedDB || location.protocol === "about:") return done();
  const clearOne = (name, next) => {
    const asked = indexedDB.open(name);
    asked.onupgradeneeded = () => asked.transaction.abort();
    asked.onerror = next;
    asked.onsuccess = () => {
      const database = asked.result;
      const names = [...database.objectStoreNames];
      const emptied = database.transaction(names, "readwrite");
      for (const name of names) emptied.objectStore(name).clear();
      emptied.oncomplete = () => { database.close(); next(); };
    };
  };
  clearOne("raftwright-plans", () => clearOne("raftwright-log", () => clearOne("raftwright-clubs", done)));
})"""


def window(browser, **how):
    """A new context of the browser, its Python as slow to hear as this run asks for."""
    context = browser.new_context(**how)
    if SLUGGISH:
        context.add_init_script(SLOWED % SLUGGISH)
    return context


@pytest.fixture(scope="session")
def warm(browser, address: str, dist: Path):
    """A context that has visited before: Python starts from the kept memory there, as it does for most readers."""
    context = window(browser, service_workers="block")
    page = context.new_page()
    page.goto(f"{address}/plan/index.html")
    page.wait_for_selector("html[data-snapshot]", timeout=120_000)
    hold(context, address, dist)
    page.close()
    yield context
    context.close()


def hold(context, address: str, dist: Path) -> None:
    """Hold Python in a tab that does nothing else: the program, so that the browser compiles it once for all tabs, and
    one that is started and serves one page after the other."""
    page = context.new_page()
    page.goto(f"{address}/release.json")
    program, worker = (next((dist / "assets").glob(name)).relative_to(dist).as_posix()
                       for name in ("pyodide.*.wasm", "worker.*.js"))
    page.evaluate("""async ([program, held, worker]) => {
      window.held = [await WebAssembly.compileStreaming(fetch(new URL(program, location.href))),
        new SharedWorker(`${held}?worker=${encodeURIComponent(new URL(worker, location.href))}`)];
    }""", [program, f"{address}/{HELD.name}", worker])


@pytest.fixture(scope="session")
def warm_from_disk(warm, dist: Path):
    """The warm context once it has also opened the copy on the disk, which has a memory of its own."""
    page = warm.new_page()
    page.goto(f"{dist.as_uri()}/plan/index.html")
    page.wait_for_selector("html[data-snapshot]", timeout=120_000)
    page.close()
    return warm


@pytest.fixture(scope="session")
def offline(browser, address: str):
    """A context that has visited once, has stored the whole release by its service worker, and is offline since."""
    context = window(browser, service_workers="allow")
    page = context.new_page()
    page.goto(f"{address}/plan/index.html")
    page.wait_for_selector("html[data-snapshot]", timeout=120_000)
    page.evaluate("""() => navigator.serviceWorker.ready.then(() => new Promise((done) => {
        if (navigator.serviceWorker.controller) done();
        else navigator.serviceWorker.addEventListener("controllerchange", done);
    }))""")
    page.close()
    context.set_offline(True)
    yield context
    context.close()


@pytest.fixture(scope="session")
def idle_tabs() -> dict[bool, list]:
    """Tabs of the warm context that a test is done with, those that start a Python of their own by themselves: a new
    tab costs a browser more than the page in it."""
    return {True: [], False: []}


@pytest.fixture
def open_page(browser, request, idle_tabs):
    """Open an address in a window of a ``size``, and wait for Python unless ``ready`` is false.

    Pages share the warm context, its tabs and its Python, emptied after each test, unless a test asks for a ``fresh``
    context or brings its own ``context``. One that is about starting or ending Python asks for its ``own``, as does
    each whose ``script`` has to do with workers. A tab that runs a ``script`` is closed after the test.
    """
    contexts = []
    borrowed = []
    scripted = []

    def opener(url: str, ready: bool = True, script: str = "", context=None, fresh: bool = False, own: bool = False,
               size: tuple[int, int] | None = None) -> Watched:
        shared = context is None and not fresh
        own = own or bool(SLUGGISH) or "Worker" in script or "WebAssembly" in script
        if shared:
            context = request.getfixturevalue("warm_from_disk" if url.startswith("file:") and ready else "warm")
        elif context is None:
            context = window(browser, service_workers="block")
            contexts.append(context)
        kept = shared and not script
        idle = kept and idle_tabs[own]
        watched = Watched(idle.pop() if idle else context.new_page())
        if shared and not own and not idle:
            held = f"{request.getfixturevalue('address')}/{HELD.name}"
            watched.page.add_init_script(LEADS_TO_IT.read_text().replace("HELD", json.dumps(held)))
        if script:
            watched.page.add_init_script(script)
        # Behind another, a tab draws once a second, and a click waits for two drawings.
        watched.page.bring_to_front()
        # Long enough for a machine that is busy with all the other workers' browsers.
        watched.page.set_default_timeout(120_000)
        if kept:
            borrowed.append((watched, own))
        elif shared:
            scripted.append(watched)
        if size:
            watched.page.set_viewport_size({"width": size[0], "height": size[1]})
        watched.page.goto(url)
        if ready:
            watched.page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
        return watched

    yield opener
    for watched in scripted:
        # What a script has changed goes with its tab; where it forbade storing there is nothing to empty.
        with contextlib.suppress(Exception):
            empty(watched.page)
        watched.page.close()
    if borrowed and all(watched.page.is_closed() for watched, _ in borrowed):
        # Somebody has to empty what they kept.
        opener(request.getfixturevalue("address") + "/release.json", ready=False)
    for watched, own in borrowed:
        if not watched.page.is_closed():
            watched.forget()
            idle_tabs[own].append(watched.page)
    for context in contexts:
        context.close()


if str(ROOT / "site_src") not in sys.path:
    sys.path.insert(0, str(ROOT / "site_src"))
