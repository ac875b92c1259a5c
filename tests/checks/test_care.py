"""Care where the work is, in a few words; in full on Safety, with the source, and with who decides."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from tools import guides, site

from tests import wording

MOST_WORDS = 25
SAFETY = (site.TEMPLATES / "safety.html.j2").read_text(encoding="utf-8")
# What can hurt, the guides where that work is done, and its place on Safety.
CARE = [
    ("chloramine", ("which-water", "mix-the-feed"), "chlorine"),
    ("chlorine", ("top-up-and-replace",), "chlorine"),
    ("mosquitoes", ("rounds",), "mosquitoes"),
    ("drinking water", ("which-water", "top-up-and-replace"), "drinking-water"),
    ("on skin", ("ph-without-fear",), "first-aid"), ("If swallowed", ("ph-without-fear", "raise-the-ph"), "first-aid"),
    ("wet floors", ("build-it",), "wet-floor"), ("Damp", ("test-day",), "wet-floor"),
    ("smoke alarm", ("choose-a-vessel", "cut-the-raft", "rounds"), "fire"),
    ("galvanized", ("move-the-water", "choose-a-vessel"), "metals"),
    ("Legionella", ("clean-hands-clean-bath", "warm-and-cold-water"), "legionella"),
    ("check valves stick", ("air", "move-the-water", "test-day"), "check-valves"),
    ("landlord", ("measure-the-water", "choose-a-vessel"), "who-decides"),
    ("insurer", ("measure-the-water", "build-it"), "who-decides"),
    ("plumber", ("build-it",), "who-decides"), ("food authority", ("harvest", "costs-and-payback"), "who-decides"),
]


def text_of(name: str) -> str:
    """A guide's Markdown in one line."""
    return " ".join((guides.FOLDER / f"{name}.md").read_text(encoding="utf-8").split())


def safety_part(anchor: str) -> str:
    """What Safety says under one anchor, up to the next heading."""
    found = re.search(rf'<h[23] id="{anchor}">.*?(?=<h[23]|</article>)', SAFETY, re.DOTALL)
    assert found, f"Safety has no heading {anchor}"
    return found[0]


@pytest.mark.parametrize(("words", "names", "anchor"), CARE, ids=[one[0] for one in CARE])
def test_care_stands_where_the_work_is_and_in_full_on_safety(words, names, anchor):
    for name in names:
        assert words.lower() in text_of(name).lower(), name
    assert len(wording.words(re.sub(r"<[^>]+>", " ", safety_part(anchor)))) > MOST_WORDS


@pytest.mark.parametrize("file", sorted(guides.FOLDER.glob("*.md")), ids=lambda file: file.stem)
def test_a_caution_in_a_guide_is_short(file: Path):
    found = re.findall(r'<p class="caution[^>]*>(.*?)</p>', file.read_text(encoding="utf-8"), re.DOTALL)
    said = [" ".join(re.sub(r"<[^>]+>", "", one).split()) for one in found]
    assert [one for one in said if len(wording.words(one)) > MOST_WORDS] == []


@pytest.mark.parametrize("unit", ["°F", "°C"])
def test_legionella_is_told_in_both_units(unit):
    assert unit in safety_part("legionella")
    assert unit in text_of("clean-hands-clean-bath").partition("Warm water and spray")[2][:400]


def test_safety_names_its_sources_and_what_is_from_memory():
    sources = safety_part("sources")
    for word in ("Acid", "Air gap", "Chlorine", "Children", "Damp", "Fire", "Legionella", "Metals", "Mosquitoes"):
        assert f"<li>{word}" in sources
    assert "from memory" in sources and "(read" in sources
