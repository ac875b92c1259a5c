"""What the built folder carries of others stands on its page with a whole licence text and the way to the source."""

from __future__ import annotations

import html
import json
import re

from tools import licences
from tools.setup import MODULES


def test_every_part_has_a_whole_text_and_says_where_it_is_from(dist):
    page = html.unescape((dist / "licences" / "index.html").read_text(encoding="utf-8"))
    for part in licences.components():
        assert len(part.text) > 900, f"{part.name}: no licence text"
        assert part.text.strip() in page, part.name
        assert part.origin and part.licence, part.name


def test_the_texts_are_those_of_the_licences_named():
    texts = {part.name: part.text for part in licences.components()}
    mozilla = texts["Pyodide"]
    for number in range(1, 11):
        assert re.search(rf"^{number}\. \w+", mozilla, re.MULTILINE), f"section {number} is missing"
    assert "Exhibit A" in mozilla and "Exhibit B" in mozilla
    python = texts["CPython and its standard library"]
    for agreement in ("PYTHON SOFTWARE FOUNDATION LICENSE VERSION 2", "BEOPEN.COM LICENSE AGREEMENT", "CNRI LICENSE",
                      "CWI LICENSE AGREEMENT"):
        assert agreement in python


def test_the_declared_licence_and_source_are_the_packages_own():
    about = json.loads((MODULES / "pyodide" / "package.json").read_text(encoding="utf-8"))
    pyodide = next(part for part in licences.components() if part.name == "Pyodide")
    assert about["license"] == pyodide.licence == "MPL-2.0"
    assert about["homepage"] in pyodide.note and about["version"] in pyodide.note
