"""The hosting examples in real web servers, under a sub-path: types, policy, keeping, and a page that computes."""

from __future__ import annotations

import gzip
import tempfile
import urllib.error
import urllib.request
from pathlib import Path

import pytest
from tools import hosts, site

POLICY_LINE = "Content-Security-Policy"
VOLUME = 'output[data-key="water.working_volume"]'
FOR_EVER = "public, max-age=31536000, immutable"
INLINE = """() => { const script = document.createElement("script"); script.textContent = "window.hit = 1";
    document.head.append(script); return window.hit; }"""
TYPES = {
    "index.html": "text/html; charset=utf-8",
    "plan/": "text/html; charset=utf-8",
    "sw.js": "text/javascript; charset=utf-8",
    "release.json": "application/json; charset=utf-8",
    "manifest.webmanifest": "application/manifest+json; charset=utf-8",
    "raftwright.zip": "application/zip",
    "assets/page.*.js": "text/javascript; charset=utf-8",
    "assets/worker.*.js": "text/javascript; charset=utf-8",
    "assets/style.*.css": "text/css; charset=utf-8",
    "assets/pyodide.*.wasm": "application/wasm",
    "assets/calc.*.whl": "application/octet-stream",
    "assets/python_stdlib.*.zip": "application/zip",
    "assets/icon.*.svg": "image/svg+xml",
}


@pytest.fixture(scope="module", params=["nginx", "apache"])
def hosted(request, dist):
    """The address of the built folder in one of the servers; skipped, with the reason told, where it is missing."""
    found = hosts.nginx() if request.param == "nginx" else hosts.apache()
    if not found:
        package = {"nginx": "nginx", "apache": "apache2-bin"}[request.param]
        pytest.skip(f"{request.param} is not installed (on Debian: apt-get install {package}), so its hosting example "
                    "was NOT tested")
    print(hosts.version(found if isinstance(found, str) else found[0]))
    serve = hosts.in_nginx if request.param == "nginx" else hosts.in_apache
    with tempfile.TemporaryDirectory() as place, serve(found, dist, Path(place)) as address:
        yield address


def ask(url: str, **headers: str):
    """An answer's status, headers and body; a refusal is an answer too."""
    try:
        with urllib.request.urlopen(urllib.request.Request(url, headers=headers), timeout=30) as response:
            return response.status, response.headers, response.read()
    except urllib.error.HTTPError as refused:
        with refused:
            return refused.code, refused.headers, refused.read()


def only(dist: Path, pattern: str) -> str:
    """The built file that a pattern names."""
    if "*" not in pattern:
        return pattern
    found = sorted(dist.glob(pattern))
    assert len(found) == 1, f"{pattern}: {found}"
    return found[0].relative_to(dist).as_posix()


def test_types_policy_and_keeping(hosted, dist):
    for pattern, kind in TYPES.items():
        path = only(dist, pattern)
        status, headers, body = ask(f"{hosted}/{path}")
        assert status == 200, path
        assert headers["Content-Type"].lower() == kind, path
        assert headers.get_all(POLICY_LINE) == [site.POLICY], path
        assert headers["X-Content-Type-Options"] == "nosniff", path
        assert headers.get_all("Cache-Control") == [FOR_EVER if path.startswith("assets/") else "no-cache"], path
        file = dist / (path + "index.html" if path.endswith("/") else path)
        assert body == file.read_bytes(), path


def test_what_is_missing_is_not_kept(hosted):
    for path in ("assets/page.0123456789.js", "nowhere.html"):
        status, headers, _ = ask(f"{hosted}/{path}")
        assert status == 404
        assert headers.get_all("Cache-Control") == ["no-cache"], path
        assert headers.get_all(POLICY_LINE) == [site.POLICY]


def test_the_program_travels_packed(hosted, dist):
    path = only(dist, "assets/pyodide.*.wasm")
    _, headers, body = ask(f"{hosted}/{path}", **{"Accept-Encoding": "gzip"})
    assert headers["Content-Encoding"] == "gzip"
    assert headers["Content-Type"] == "application/wasm"
    assert gzip.decompress(body) == (dist / path).read_bytes()


def test_a_folder_without_its_slash_leads_into_the_folder(hosted):
    status, headers, body = ask(f"{hosted}/plan")
    assert status == 200 and b"<h1" in body
    assert ask(hosted)[0] == 200


@pytest.mark.browser
def test_a_page_computes_and_keeps_itself_for_offline(hosted, browser, open_page):
    context = browser.new_context(service_workers="allow")
    watched = open_page(f"{hosted}/plan/", context=context)
    page = watched.page
    before = page.locator(VOLUME).first.inner_text()
    page.fill('[name="bath.length"]', "60 in")
    page.locator(VOLUME).first.filter(has_not_text=before).wait_for(timeout=120_000)
    page.evaluate("() => navigator.serviceWorker.ready.then(() => undefined)")
    assert len(page.evaluate("caches.keys()")) == 1
    assert watched.complaints == []
    assert all(url.startswith((hosted, "blob:", "data:")) for url in watched.requests)
    assert page.evaluate(INLINE) is None, "the policy let a script in the page run"
    context.set_offline(True)
    page.goto(f"{hosted}/guides/air/")
    page.wait_for_selector('html[data-engine="ready"]', timeout=120_000)
    context.close()


def test_the_policy_is_told_the_same_everywhere():
    told = f'{POLICY_LINE} "{site.POLICY}"'
    for name in ("nginx.conf", "apache.htaccess"):
        assert told in (hosts.EXAMPLES / name).read_text(encoding="utf-8"), name
    guide = (site.ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert f"{POLICY_LINE}: {site.POLICY}\n" in guide
