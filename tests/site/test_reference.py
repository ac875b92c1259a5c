"""The reference folder: everything that stood on one page still stands somewhere, and old addresses find it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from tools import bundle, glossary, reference, tables

@pytest.fixture(scope="module")
def relations() -> dict:
    import importlib
    for name in bundle.calc_modules():
        importlib.import_module(name)
    from calc.relations.base import RELATIONS
    return RELATIONS


def text(dist: Path, path: str) -> str:
    return (dist / path).read_text(encoding="utf-8")


def test_every_formula_is_printed_on_the_page_of_its_topic(dist, relations):
    for name in relations:
        path, _, place = reference.address(name).partition("#")
        assert text(dist, path).count(f'id="{place}"') == 1, name


def test_a_module_that_no_group_names_is_told():
    with pytest.raises(reference.Trouble, match=r"calc/relations/telepathy\.py stands in no group"):
        reference.group_of("telepathy.range")


def test_every_table_and_word_is_printed_once(dist):
    tables_there = [table.anchor for table, _ in reference.table_pages()]
    assert sorted(tables_there) == sorted(one.anchor for one in tables.every())
    for table, sheet in reference.table_pages():
        page = text(dist, sheet.path)
        assert page.count(f'id="table-{table.anchor}"') == 1
        assert page.count("<tr>") >= len(table.rows)
    words = text(dist, glossary.PAGE)
    assert all(f'<dt id="{word.anchor}">' in words for word in glossary.read())


def test_questions_and_answers_for_scripts_are_complete(dist):
    from calc.plan import FIELDS, TABLES
    from calc.solve import SPECS
    page = text(dist, "reference/scripts/index.html")
    missing = [key for key in (*FIELDS, *TABLES, *SPECS) if f"<code>{key}</code>" not in page]
    assert missing == []


def old_places(relations) -> dict[str, str]:
    """Places of the one long page, each with the page that holds it today."""
    return {**{word.anchor: glossary.PAGE for word in glossary.read()},
            **{reference.anchor(name): reference.group_of(name).path for name in relations},
            **{f"table-{table.anchor}": sheet.path for table, sheet in reference.table_pages()},
            "units": "reference/units/index.html", "questions": "reference/scripts/index.html",
            "answers": "reference/scripts/index.html"}


def test_old_places_lead_on_without_a_script(dist, relations):
    page = text(dist, "reference/index.html")
    links = dict(re.findall(r'<a id="([^"]+)" href="\.\./([^"]+)"', page))
    for place, path in old_places(relations).items():
        assert links[place].startswith(path), place
    assert all(f'id="{place}"' in page for place in ("words", "practice", "formulas"))


@pytest.mark.parametrize(("place", "lands"), [
    ("word-ec-electrical-conductivity", "reference/words/index.html#word-ec-electrical-conductivity"),
    ("table-oxygen", "reference/oxygen/index.html#table-oxygen"),
    ("formula-oxygen-saturation", "reference/formulas/air/index.html#formula-oxygen-saturation"),
    ("questions", "reference/scripts/index.html#questions"),
    ("words", "reference/index.html#words"),
])
def test_an_old_address_is_sent_on(open_page, address, place, lands):
    page = open_page(f"{address}/reference/index.html#{place}", ready=False).page
    page.wait_for_url(f"{address}/{lands}")
    assert page.locator(f'[id="{place}"]').count() == 1
