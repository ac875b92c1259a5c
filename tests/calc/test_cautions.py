"""Every caution has its words, its right level, and the planner of a beginner shows few of them."""

import ast
import random
import re
from pathlib import Path

import pytest

from calc.plan import FIELDS, Plan, default_text
from calc.solve import solve

ROOT = Path(__file__).resolve().parents[2]
SAFETY = ROOT / "site_src" / "templates" / "safety.html.j2"
# What may stand at an action for every such bath: life, limb, flood, fire.
STANDING = {"mains", "open-water", "acidity-pouring", "hole-saw", "light-over-water", "feed-oxidiser", "feed-boron",
            "outage-battery", "outage-generator"}
MOST_LINES, LONGEST_BRIEF = 7, 110


def calls():
    """Every call of the sheet's caution in the topics: (file, call)."""
    for file in sorted((ROOT / "calc" / "topics").rglob("*.py")):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "caution":
                yield f"{file.name}:{node.lineno}", node


def random_plan(dice):
    """A plan with a dozen answers at their choices, bounds and defaults."""
    text = {"units": dice.choice(["us", "metric"])}
    for key in dice.sample(sorted(FIELDS), 12):
        field = FIELDS[key]
        choices = [choice.value for choice in field.choices] or [
            *(f"{bound:g}" for bound in (field.minimum, field.maximum) if bound is not None),
            *(["yes", "no"] if field.kind == "yesno" else []), default_text(field, text["units"])]
        text[key] = dice.choice(choices)
    return Plan(text)


def test_every_call_gives_a_lead_and_a_brief():
    found = list(calls())
    assert len(found) > 100
    lacking = [place for place, call in found
               if not {"lead", "brief"} <= {word.arg for word in call.keywords if ast.unparse(word.value) != "''"}]
    assert not lacking


def test_the_words_of_cautions_are_short_and_each_code_has_a_lead_of_its_own():
    dice, leads, codes = random.Random(11), {}, set()
    for _ in range(150):
        for one in solve(random_plan(dice)).cautions:
            codes.add(one.code)
            leads.setdefault(one.lead, set()).add(one.code)
            assert 1 <= len(one.lead.split()) <= 6 and not one.lead.endswith("."), one
            assert 10 <= len(one.brief) <= LONGEST_BRIEF and one.brief.endswith("."), one
            assert one.brief[0].isupper() or one.brief[0].isdigit() or one.brief.startswith("pH"), one
            assert one.text and one.brief != one.text
    assert len(codes) > 60
    assert not {lead: owners for lead, owners in leads.items() if len(owners) > 1}


@pytest.mark.parametrize("system", ["us", "metric"])
def test_the_default_plan_shows_at_most_seven_lines(system):
    found = solve(Plan({"units": system})).cautions
    lines = {one.code for one in found if one.standing or one.level == "danger"}
    assert {"mains", "open-water", "acidity-pouring", "hole-saw"} <= lines and len(lines) <= MOST_LINES, lines
    assert not {one.code for one in found if one.level == "danger" and not one.standing}


def test_what_stands_is_a_danger_and_none_other():
    dice = random.Random(12)
    for _ in range(60):
        for one in solve(random_plan(dice)).cautions:
            if one.standing:
                assert one.level == "danger" and one.code in STANDING


def test_batteries_are_a_danger_of_the_plan_once_a_backup_is_told_of():
    def said(**changes):
        return {one.code: (one.level, one.standing) for one in
                solve(Plan({key.replace("__", "."): text for key, text in changes.items()})).cautions}
    for code in ("outage-battery", "outage-generator"):
        assert said()[code] == ("warning", False)
        assert said(outage__pump_watts="5 W")[code] == said(outage__backup="inverter")[code] == ("danger", True)


def test_what_harms_plants_alone_is_no_danger():
    """Danger is life, limb, flood and fire; a raft that sinks or water without oxygen is told by its verdict."""
    sunk = solve(Plan({"board.thickness": "1/2 in", "board.spacing": "4 in"})).cautions
    assert {one.level for one in sunk if one.code == "raft-sinks"} == {"warning"}
    flood = solve(Plan({"bath.fill": "floor"})).cautions
    assert {one.level for one in flood if one.code == "drain-back-flood"} == {"danger"}


def test_safety_tells_each_standing_caution_at_a_place_of_its_own():
    places = re.findall(r'id="([a-z-]+)"', SAFETY.read_text(encoding="utf-8"))
    assert set(places) >= STANDING and len(places) == len(set(places))
    assert {ast.literal_eval(call.args[0]) for _, call in calls() if isinstance(call.args[0], ast.Constant)} >= STANDING


def test_a_hose_that_slips_under_is_told_of_with_all_the_water_it_would_suck_back():
    # 4 ft x 2 ft x 10 in is 6.667 ft3, 49.87 gal, and the hose's 0.14 on top; the reservoir has room for 10.
    found = solve(Plan({}))
    said = next(one for one in found.cautions if one.code == "siphon")
    assert "up to 50 gal runs back, which floods the floor" in said.text and said.level == "warning"
    assert "with the hose's end above the water, 2.63 gal runs back" in found.verdicts["water"].text
    roomy = solve(Plan({"reservoir.brim_volume": "80 gal"}))
    dry = next(one for one in roomy.cautions if one.code == "siphon")
    assert "runs back, which leaves the roots dry" in dry.text and "floor" not in dry.text
    unknown = next(one for one in solve(Plan({"reservoir.brim_volume": ""})).cautions if one.code == "siphon")
    assert "may flood the floor" in unknown.text
    # Filled below the water it runs back anyway, and other cautions say so; without a reservoir there is no hose.
    for other in ({"bath.fill": "floor"}, {"water.scheme": "aerated"}, {"circulation.turnover": "0 /h"}):
        assert "siphon" not in {one.code for one in solve(Plan(other)).cautions}
