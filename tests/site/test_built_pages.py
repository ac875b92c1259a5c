"""The built folder: every page whole and valid, every link leads somewhere inside, nothing asks another site."""

from __future__ import annotations

import importlib
import gzip
import json
import re
import zipfile
from html.parser import HTMLParser
from pathlib import Path

import html5lib
import pytest
from tools import bundle, questions, site

EXPECTED = ["index.html", "plan/index.html", "guides/index.html", "reference/index.html", "checked/index.html",
            "safety/index.html", "api/index.html", "offline/index.html", "licences/index.html",
            "lesson/index.html", "lesson/metric/index.html", "search/index.html", "guides/check-yourself/index.html",
            "files/index.html"]
ADDRESS = {"href", "src", "action", "poster", "data"}


class Reader(HTMLParser):
    """Collects what a page points at, its ids and its elements."""

    def __init__(self, text: str):
        super().__init__()
        self.addresses: list[tuple[str, str, str]] = []
        self.ids: list[str] = []
        self.attributes: list[tuple[str, dict]] = []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        found = dict(attrs)
        self.attributes.append((tag, found))
        if found.get("id"):
            self.ids.append(found["id"])
        for name in ADDRESS & found.keys():
            self.addresses.append((tag, name, found[name] or ""))


def files(dist: Path) -> list[Path]:
    """Every page of the built folder."""
    return sorted(dist.rglob("*.html"))


def test_all_pages_are_there(dist):
    made = {file.relative_to(dist).as_posix() for file in files(dist)}
    assert made >= set(EXPECTED)
    guides = {path for path in made if re.fullmatch(r"guides/[a-z-]+/index\.html", path)}
    guides.remove(questions.PATH)
    assert len(guides) == len(list((site.ROOT / "site_src" / "guides").glob("*.md")))
    assert len(guides) >= 6


def test_pages_are_valid_html(dist):
    for file in files(dist):
        parser = html5lib.HTMLParser(strict=False, namespaceHTMLElements=False)
        # html5lib is older than <template> and takes a lone table row in one for a mistake.
        parser.parse(re.sub(r"<template>.*?</template>", "", file.read_text(encoding="utf-8"), flags=re.DOTALL))
        assert parser.errors == [], f"{file}: {parser.errors[:3]}"


def test_ids_are_used_once(dist):
    for file in files(dist):
        ids = Reader(file.read_text(encoding="utf-8")).ids
        assert len(ids) == len(set(ids)), f"{file}: {sorted(i for i in set(ids) if ids.count(i) > 1)}"


def test_links_lead_to_files_and_places(dist):
    read = {file.resolve(): Reader(file.read_text(encoding="utf-8")) for file in files(dist)}
    for file, page in read.items():
        for tag, _, target in page.addresses:
            path, _, place = target.partition("#")
            assert not path.startswith("/"), f"{file}: {target} would leave a sub-path"
            if re.match(r"[a-z]+:", path):
                # A reader may follow a source to its publisher; nothing else may name another site.
                assert tag == "a" and path.startswith("https:"), f"{file}: {tag} {target}"
                continue
            aim = (file.parent / path).resolve() if path else file
            assert aim.is_file(), f"{file}: {target} names no file"
            if place and not place.startswith(("plan=", "start=")):
                assert aim in read and place in read[aim].ids, f"{file}: no place {target}"


def test_nothing_inline_that_the_policy_forbids(dist):
    for file in files(dist):
        text = file.read_text(encoding="utf-8")
        assert site.POLICY in text.replace("&#39;", "'").replace("&quot;", '"'), f"{file} lacks the policy"
        for tag, found in Reader(text).attributes:
            assert not [name for name in found if name.startswith("on")], f"{file}: <{tag}> has a handler"
            assert "style" not in found, f"{file}: <{tag}> has a style attribute, which the policy blocks"
            assert tag != "style", f"{file}: inline style sheet"
            assert tag != "script" or found.get("src"), f"{file}: inline script"


@pytest.mark.parametrize("path", ["plan/index.html"])
def test_answers_stand_there_before_any_script(dist, path):
    text = (dist / path).read_text(encoding="utf-8")
    keys = dict(re.findall(r'<output data-key="([^"]+)">([^<]*)</output>', text))
    for key in ("water.working_volume", "air.practice_optimum", "board.sites", "energy.per_year"):
        assert re.search(r"\d", keys.get(key, "")), f"{key} has no number on the page"


def test_every_field_is_on_the_planner(dist):
    from calc.plan import FIELDS
    page = Reader((dist / "plan/index.html").read_text(encoding="utf-8"))
    names = {found.get("name") for _, found in page.attributes}
    assert set(FIELDS) <= names


def test_the_planner_before_python_is_small(dist):
    # A phone on a slow line gets these before it can show a sheet and take a key.
    files = [dist / "plan" / "index.html", *(next((dist / "assets").glob(name)) for name in ("page.*.js",
                                                                                             "style.*.css"))]
    read = [file.read_bytes() for file in files]
    assert len(read[0]) <= 150_000
    assert sum(map(len, read)) <= 220_000
    assert sum(len(gzip.compress(one, 9)) for one in read) <= 60_000


def test_release_list_is_true(dist):
    listed = json.loads((dist / "release.json").read_text(encoding="utf-8"))["files"]
    for path, size in listed.items():
        assert (dist / path).stat().st_size == size, path
    for file in (dist / "assets").iterdir():
        hashed = re.fullmatch(r"[a-z_-]+\.([0-9a-f]{10})\.[a-z0-9.]+", file.name)
        assert hashed and hashed.group(1) == bundle.digest(file.read_bytes()), file.name


def test_formulas_are_drawn_not_spelled(dist):
    text = (dist / "workings/air/index.html").read_text(encoding="utf-8")
    assert "<math" in text
    with zipfile.ZipFile(next((dist / "assets").glob("calc.*.whl"))) as wheel:
        formulas = json.loads(wheel.read("calc/render/formulas.json"))
        for name in bundle.calc_modules():
            importlib.import_module(name)
        from calc.relations.base import RELATIONS
        assert set(formulas) == set(RELATIONS)
        # Compiled, since no visit should wait for that; every module that the browser may import is there.
        held = {name.removesuffix(".pyc").removesuffix("/__init__").replace("/", ".") for name in wheel.namelist()
                if name.endswith(".pyc")}
        assert set(bundle.calc_modules()) <= held and not [one for one in wheel.namelist() if one.endswith(".py")]


def test_pages_say_which_formulas_are_for_reference_only(dist):
    for name in bundle.calc_modules():
        importlib.import_module(name)
    from calc.relations.base import RELATIONS
    idle = [one.title for one in RELATIONS.values() if one.reference_only]
    formulas = "".join(file.read_text(encoding="utf-8") for file in (dist / "reference/formulas").rglob("*.html"))
    for text in (formulas, (dist / "checked" / "index.html").read_text(encoding="utf-8")):
        assert text.count("For reference: nothing in a plan is worked out with it.") == len(idle) > 0
        for title in idle:
            section = re.search(rf"<h[23]>{re.escape(title)}</h[23]>(.*?)<(?:h[23]|/main)", text, re.DOTALL)
            assert section and "For reference:" in section[1], title


def test_the_zip_holds_the_site_and_a_note(dist):
    with zipfile.ZipFile(dist / site.ARCHIVE) as packed:
        names = set(packed.namelist())
        assert packed.testzip() is None
        assert b"index.html" in packed.read("raftwright/START-HERE.txt")
        assert site.ARCHIVE not in packed.read("raftwright/offline/index.html").decode("utf-8")
    for file in files(dist):
        assert f"raftwright/{file.relative_to(dist).as_posix()}" in names


def test_the_same_sources_give_the_same_bytes(dist, tmp_path):
    again = site.build(tmp_path / "dist").folder
    for file in sorted(path for path in dist.rglob("*") if path.is_file()):
        assert (again / file.relative_to(dist)).read_bytes() == file.read_bytes(), file.name


def test_no_committed_file_names_a_registry():
    lock = (site.ROOT / "site_src/runtime/package-lock.json").read_text(encoding="utf-8")
    assert "resolved" not in lock
    packages = json.loads(lock)["packages"]
    assert packages["node_modules/pyodide"]["integrity"].startswith("sha512-")
    assert all("integrity" in one for name, one in packages.items() if name)


def test_the_page_for_scripts_says_what_the_package_offers(dist):
    import calc
    from calc.relations import RELATIONS
    text = (dist / "api/index.html").read_text(encoding="utf-8")
    ids = set(Reader(text).ids)
    assert {f"api-{name.lower()}" for name in ("Plan", "solve", "Design", "units-parse", "units-show")} <= ids
    assert {f"relations-{name.partition('.')[0]}" for name in RELATIONS} <= ids
    assert all(f"#formula-{name.replace('.', '-')}" in text for name in RELATIONS)
    for words in ("usage: raftwright solve [-h]", "&#39;49.9 gal&#39;", f"Version {calc.__version__}."):
        assert words in text
    # A place in memory would differ from build to build; so would the colors of a terminal.
    assert " at 0x" not in text and "\x1b" not in text


def test_degrees_have_their_sign_wherever_they_are_shown(dist):
    # What is typed needs none: the boxes, the addresses of links and the lists of defaults have it bare, and Checked
    # says the words of its sources.
    bare = re.compile(r"(?<![\w°.])-?\d[\d.,]*[ \u00a0][CF](?![\w°])")
    typed = re.compile(r'<code>[^<]*</code>|value="[^"]*"|data-[\w-]+="[^"]*"|<script.*?</script>|<pre.*?</pre>', re.S)
    wrong = {}
    for file in files(dist):
        path = file.relative_to(dist).as_posix()
        if path.startswith(("reference/", "api/", "licences/", "checked/")):
            continue
        text = re.sub(r"<[^>]*>", "", typed.sub("", file.read_text(encoding="utf-8")))
        if found := bare.findall(text):
            wrong[path] = found[:5]
    assert wrong == {}
