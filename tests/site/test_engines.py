"""The same smoke in browsers of other makers: open by web address and by double-click, type, see, start again."""

from __future__ import annotations

import contextlib
import json
import os
import re

import pytest
from calc import api
from tools import engines

if os.environ.get("RAFTWRIGHT_ENGINES") != "all":
    pytest.skip("only Chromium was asked for; `python3 build.py test --engines all` also runs Firefox and WebKit",
                allow_module_level=True)

pytestmark = pytest.mark.browser

VOLUME = """document.querySelector('output[data-key="water.working_volume"]').textContent"""
ENGINE = "document.documentElement.dataset.engine"
STATUS = "document.getElementById('engine-status').textContent"


@pytest.fixture(scope="module", params=sorted(engines.PACKAGES))
def engine(request):
    """One browser of another maker; skipped, with the reason told, where it is missing."""
    if not engines.present(request.param):
        packages = " ".join(engines.PACKAGES[request.param])
        pytest.skip(f"{request.param} is not installed (on Debian: apt-get install {packages}), so the pages were NOT "
                    "tested in it")
    with contextlib.ExitStack() as stack:
        try:
            browser = stack.enter_context(engines.OPEN[request.param]())
        except Exception as problem:  # whatever keeps a browser from being driven here says nothing of the pages
            pytest.skip(f"{request.param} is installed but could not be driven here ({type(problem).__name__}: "
                        f"{str(problem)[:200]}), so the pages were NOT tested in it")
        print(browser.version)
        yield browser


def as_here(length: str) -> str:
    """The working volume as this Python would show it, for a bath of a length."""
    answer = json.loads(api.run(json.dumps({"op": "solve", "plan": {"bath.length": length}, "step": "tank"})))
    found = re.search(r'<output data-key="water.working_volume">(.*?)</output>', answer["regions"]["keys-tank"])
    return re.sub("<[^>]*>", "", found[1])


def opened(browser, address: str) -> None:
    """Open a page with a calculator and wait until Python is ready."""
    browser.complaints.clear()
    browser.go(address)
    state = engines.until(browser, f"['ready', 'failed'].includes({ENGINE}) && {ENGINE}")
    assert state == "ready", browser.ask(STATUS)


def test_type_see_and_start_again(engine, base):
    planner = f"{base}/plan/index.html"
    opened(engine, planner)
    assert engine.ask("document.documentElement.dataset.engineFrom") == "start"
    before = engine.ask(VOLUME)
    assert re.search(r"\d", before)
    engine.type("bath.length", "60 in")
    shown = as_here("60 in")
    assert shown != before
    engines.until(engine, f"{VOLUME} === {shown!r}")
    assert engines.until(engine, "document.documentElement.dataset.snapshot") == "kept"
    opened(engine, planner)
    assert engine.ask("document.documentElement.dataset.engineFrom") == "snapshot"
    assert engine.ask("""document.querySelector('[name="bath.length"]').value""") == "60 in"
    engines.until(engine, f"{VOLUME} === {shown!r}")
    opened(engine, f"{base}/guides/air/index.html")
    assert engine.complaints == []


ROWS = "document.querySelectorAll('[data-reading]').length"


def kept_page(browser, address: str) -> None:
    """Open a page of a running bath and wait until what is kept has been read."""
    browser.go(address)
    engines.until(browser, "document.documentElement.dataset.log === 'ready'")


def test_a_reading_is_kept_seen_again_and_answered(engine, base):
    engine.complaints.clear()
    log = f"{base}/log/index.html"
    kept_page(engine, log)
    before = engine.ask(ROWS)
    engine.type("reading.ph", "6.9")
    engine.type("reading.remark", "half typed")
    # What is half typed is there again, and the reading once it is kept.
    kept_page(engine, log)
    engines.until(engine, """document.querySelector('[name="reading.ph"]').value === '6.9'""")
    assert engine.ask("""document.querySelector('[name="reading.remark"]').value""") == "half typed"
    engine.ask("""document.querySelector('[data-action="add-reading"]').click()""")
    engines.until(engine, f"{ROWS} === {before + 1}")
    kept_page(engine, log)
    engines.until(engine, f"{ROWS} === {before + 1}")
    engines.until(engine, "document.documentElement.dataset.drawn > 0")
    assert "half typed" in engine.ask("document.querySelector('[data-reading]').textContent")
    assert engine.ask("""document.querySelector('[name="reading.ph"]').value""") == ""
    kept_page(engine, f"{base}/today/index.html")
    engines.until(engine, "document.documentElement.dataset.today === 'own'")
    assert "pH high" in engine.ask("document.querySelector('[data-verdict=today]').textContent")
    assert engine.ask("document.querySelectorAll('[data-todo]').length") > 0
    assert engine.complaints == []
