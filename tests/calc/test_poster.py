"""The picture to show around: complete in its file, true to the plan, its dangers in it, and safe with any name."""

from __future__ import annotations

import json
import re
from xml.etree import ElementTree

import pytest

from calc import api
from calc.render import poster
from tests.calc import whole

PLANS = sorted(file.stem for file in whole.PLANS.glob("*.json"))


@pytest.mark.parametrize("name", PLANS)
def test_every_plan_has_a_picture_that_stands_by_itself(name):
    design = whole.plan(name)
    text = poster.draw(design, "Tote by the wash-house")
    tree = ElementTree.fromstring(text)
    classes = {one for element in tree.iter() for one in element.get("class", "").split()}
    styled = set(re.findall(r"\.([a-z]+)", tree.find("{http://www.w3.org/2000/svg}style").text))
    shapes = {"label", "strong", "yours", "break", "stone"}
    assert classes - styled - shapes == set(), "a class without a style is drawn black"
    words = "".join(tree.itertext())
    assert "Tote by the wash-house" in words and design.shown("energy.power") in words or name == "hot_and_high"
    assert "http" not in text.replace("http://www.w3.org/2000/svg", "")


def test_dangers_are_in_the_picture():
    words = poster.draw(whole.plan("four_baths"), "Four")
    assert words.count("Danger: ") == 2 and "2 dangers" in words


@pytest.mark.parametrize("name", ["<script>alert(1)</script>", "a & b \" c", "x" * 500, "", "long " * 60])
def test_any_name_is_text(name):
    text = poster.draw(whole.plan("us_tote"), name)
    ElementTree.fromstring(text)
    assert "<script" not in text


def test_a_bath_without_a_size_says_so():
    assert "no size yet" in poster.draw(whole.changed("us_tote", bath__length="5 gal"), "A")


def test_the_page_asks_for_it():
    asked = {"op": "picture", "plan": {"bath.length": "60 in"}, "version": 2, "name": " Mine "}
    answer = json.loads(api.run(json.dumps(asked)))
    assert ">Mine</text>" in answer["svg"] and "60 in at the rim" in answer["svg"]
