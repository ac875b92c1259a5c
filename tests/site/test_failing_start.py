"""Where Python comes from, and what is told when it does not come: a missing file, an old browser, a spoiled memory."""

from __future__ import annotations

import re
import zipfile

import pytest

from tests.site.hands import fill, settle, volume

pytestmark = pytest.mark.browser


def failed(page) -> str:
    """What the page says when Python could not start."""
    page.wait_for_selector('html[data-engine="failed"]', timeout=120_000)
    return page.inner_text("#engine-status")


def test_no_webassembly(open_page, address):
    page = open_page(f"{address}/plan/index.html", ready=False, script="delete window.WebAssembly;").page
    assert "lacks WebAssembly" in failed(page)
    assert re.search(r"\d", volume(page))


def test_missing_program_is_told_and_tried_again(open_page, served_copy):
    folder, where = served_copy
    wasm = next((folder / "assets").glob("*.wasm"))
    away = wasm.rename(folder / "away")
    page = open_page(f"{where}/plan/index.html", ready=False).page
    words = failed(page)
    assert "could not be fetched" in words and "404" in words
    assert re.search(r"\d", volume(page))
    page.fill('[name="bath.length"]', "65 in")
    away.rename(wasm)
    before = volume(page)
    page.click("#engine-status button")
    page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    settle(page)
    assert page.input_value('[name="bath.length"]') == "65 in"
    assert volume(page) != before


def test_something_else_in_place_of_the_program_is_told(open_page, served_copy):
    folder, where = served_copy
    next((folder / "assets").glob("*.wasm")).write_bytes(b"<!doctype html><title>Welcome to the cafe</title>")
    page = open_page(f"{where}/plan/index.html", ready=False).page
    assert "refused the calculator's program" in failed(page)


def test_a_mislabelled_program_still_starts(open_page, served_copy):
    _, where = served_copy
    from tools import serve
    kept = serve.Handler.extensions_map
    serve.Handler.extensions_map = {**kept, ".wasm": "text/plain"}
    try:
        page = open_page(f"{where}/plan/index.html").page
    finally:
        serve.Handler.extensions_map = kept
    assert re.search(r"\d", volume(page))


def test_missing_worker_is_told(open_page, served_copy):
    folder, where = served_copy
    next((folder / "assets").glob("worker.*.js")).unlink()
    assert "could not be loaded" in failed(open_page(f"{where}/plan/index.html", ready=False).page)


def test_missing_packed_file_on_a_disk_is_told(open_page, served_copy):
    folder, _ = served_copy
    next((folder / "assets").glob("packed-python*.js")).unlink()
    page = open_page(f"{folder.as_uri()}/plan/index.html", ready=False).page
    assert "missing from this folder" in failed(page)


def test_the_zip_works_from_a_disk(open_page, dist, tmp_path):
    with zipfile.ZipFile(dist / "raftwright.zip") as packed:
        packed.extractall(tmp_path)
    watched = open_page((tmp_path / "raftwright" / "plan" / "index.html").as_uri())
    before = volume(watched.page)
    fill(watched.page, "bath.length", "66 in")
    assert volume(watched.page) != before
    assert watched.complaints == []


def test_second_visit_starts_from_the_kept_memory(open_page, base):
    page = open_page(f"{base}/plan/index.html").page
    # The context in which pages are opened has been here before, where it waited until the memory was kept.
    assert page.get_attribute("html", "data-engine-from") == "snapshot"
    seen = volume(page)
    fill(page, "bath.length", "67 in")
    assert volume(page) != seen


_SPOIL = """(how) => new Promise((resolve, reject) => {
  const asked = indexedDB.open("raftwright", 1);
  asked.onerror = () => reject(asked.error);
  asked.onsuccess = () => {
    const shelf = asked.result.transaction("snapshots", "readwrite").objectStore("snapshots");
    shelf.openCursor().onsuccess = ({target}) => {
      const kept = target.result.value;
      if (how === "cut") kept.packed = kept.packed.slice(0, 1000);
      target.result.update(kept).onsuccess = () => { asked.result.close(); resolve(); };
    };
  };
})"""
_ZEROS = """async () => {
  const zeros = new Uint8Array(1000000);
  const packed = new Uint8Array(await new Response(new Blob([zeros]).stream()
    .pipeThrough(new CompressionStream("gzip"))).arrayBuffer());
  await new Promise((resolve) => {
    const asked = indexedDB.open("raftwright", 1);
    asked.onsuccess = () => {
      const shelf = asked.result.transaction("snapshots", "readwrite").objectStore("snapshots");
      shelf.openCursor().onsuccess = ({target}) => {
        target.result.update({packed, length: 1000000}).onsuccess = () => { asked.result.close(); resolve(); };
      };
    };
  });
}"""


def test_a_spoiled_memory_is_dropped_unseen_and_kept_anew(open_page, address):
    planner = f"{address}/plan/index.html"
    page = open_page(planner, own=True).page
    for spoil in (f"({_SPOIL})('cut')", f"({_ZEROS})()"):
        page.evaluate(spoil)
        page.goto("about:blank")
        page.goto(planner)
        page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
        assert page.get_attribute("html", "data-engine-from") == "start", spoil
        assert page.inner_text("#engine-status") == ""
        # What is kept anew also serves the tests that come after this one.
        page.wait_for_selector('html[data-snapshot="kept"]', timeout=120_000)


def test_other_pages_are_quiet(open_page, address):
    for path in ("index.html", "reference/index.html", "checked/index.html", "offline/index.html",
                 "licences/index.html", "guides/index.html"):
        watched = open_page(f"{address}/{path}", ready=False)
        watched.page.wait_for_load_state("networkidle")
        assert watched.complaints == [], path
        assert all(url.startswith((address, "data:")) for url in watched.requests), path
        assert not [url for url in watched.requests if ".wasm" in url], f"{path} fetches Python without need"
