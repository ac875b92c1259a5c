"""A plan at a glance: four figures, where it stands, and a small drawing that is to scale."""

from __future__ import annotations

import json
import re

import pytest

from calc import Plan, api, overview, solve
from calc.render import miniature
from tests.calc import whole

PLANS = sorted(file.stem for file in whole.PLANS.glob("*.json"))


def points(svg: str, kind: str) -> list[list[tuple[float, float]]]:
    """The points of every line or shape of a kind, in centimeters."""
    found = re.findall(rf'<poly(?:line|gon) class="{kind}"[^>]*points="([^"]+)"', svg)
    return [[tuple(map(float, pair.split(","))) for pair in one.split()] for one in found]


def across(shape: list[tuple[float, float]]) -> float:
    return max(x for x, _ in shape) - min(x for x, _ in shape)


def high(shape: list[tuple[float, float]]) -> float:
    return max(y for _, y in shape) - min(y for _, y in shape)


def test_figures_are_the_plans_own():
    design = whole.plan("us_tote")
    assert dict(overview.figures(design)) == {
        "Water": design.shown("water.working_volume"), "Holes": "8", "Power": design.shown("energy.power"),
        "A year": design.shown("energy.all_cost_per_year")}


def test_several_baths_say_what_one_holds():
    design = whole.plan("four_baths")
    assert dict(overview.figures(design))["Water"] == f"4 × {design.shown('water.bath_volume')}"
    assert dict(overview.figures(design))["Holes"] == "4 × 72"


def test_what_has_no_answer_is_a_dash():
    assert dict(overview.figures(whole.changed("us_tote", bath__length="5 gal")))["Water"] == "–"


def standing(design):
    return [(one.state, one.words) for one in overview.standings(design)]


def test_the_worst_verdict_is_said_first_and_dangers_are_counted():
    design = whole.plan("four_baths")
    fails = [name for name, one in design.verdicts.items() if one.state == "fails"]
    assert fails == ["energy"]
    dangers = [one for one in design.cautions if one.level == "danger" and not one.standing]
    assert standing(design) == [("fails", "Electricity: does not work"), ("danger", f"{len(dangers)} dangers")]


def test_many_of_one_kind_are_counted():
    design = whole.plan("us_tote")
    tight = [name for name, one in design.verdicts.items() if one.state == "tight" and name not in ("today", "parts")]
    assert standing(design)[0] == ("tight", f"{len(tight)} tight") and len(tight) > 1


class _Fits:
    """A design of which every verdict but one fits."""

    def __init__(self, other: str, state: str):
        given = dict(whole.plan("us_tote").verdicts)
        self.verdicts = {name: type("Given", (), {"state": state if name == other else "fits"}) for name in given}
        self.cautions = ()


@pytest.mark.parametrize(("topic", "state", "said"), [
    ("today", "open", [("fits", "all fits")]), ("parts", "open", [("fits", "all fits"), ("open", "needs prices")]),
    ("air", "open", [("open", "Air: needs an answer")]), ("acidity", "tight", [("tight", "pH: tight")])])
def test_readings_and_prices_do_not_keep_a_plan_from_fitting(topic, state, said):
    assert standing(_Fits(topic, state)) == said


@pytest.mark.parametrize("name", PLANS)
def test_every_plan_has_a_small_drawing_to_scale(name):
    design = whole.plan(name)
    drawn = miniature.draw(design)
    assert drawn is not None
    size = [float(one) for one in re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', drawn.svg).groups()]
    assert size == pytest.approx([drawn.wide * 100, drawn.tall * 100], abs=0.1)
    bath = points(drawn.svg, "wall")[-1]
    length = design.value("bath.diameter" if "round" in design.value("bath.shape") else "bath.length")
    assert across(bath) == pytest.approx(min(length, miniature.LONGEST) * 100, abs=0.2)
    assert high(bath) == pytest.approx(design.value("bath.depth") * 100, abs=0.2)
    assert ("break" in drawn.svg) == (length > miniature.LONGEST)
    inside = [x for line in points(drawn.svg, "wall") for x, _ in line]
    assert min(inside) >= 0 and max(inside) <= size[0]


def test_the_water_of_the_drawing_stands_as_deep_as_the_plan_says():
    # 48 x 24 x 12 in, filled 10 in deep: 25.4 cm; the reservoir is drawn first.
    drawn = miniature.draw(solve(Plan({})))
    assert high(points(drawn.svg, "water")[-1]) == pytest.approx(25.4, abs=0.1)
    assert len(re.findall('class="plant"', drawn.svg)) == 6


def test_a_bath_without_a_size_has_no_drawing():
    assert miniature.draw(whole.changed("us_tote", bath__length="5 gal")) is None
    assert miniature.draw(whole.changed("us_tote", bath__depth="x")) is None


def test_the_page_asks_for_a_plan_of_any_version():
    def ask(**more):
        return json.loads(api.run(json.dumps({"op": "overview", **more})))
    now = ask(plan={"bath.length": "60 in"}, version=2)
    assert now["figures"][0][1] == solve(Plan({"bath.length": "60 in"})).shown("water.working_volume")
    assert now["drawing"]["wide"] > 60 * 0.0254 and now["system"] == "us" and now["notes"] == []
    assert ask(plan={"bath.length": "60 in"}, version=1)["standings"]
    newer = ask(plan={"bath.length": "60 in"}, version=99)
    assert newer["figures"] == now["figures"] and "newer version" in newer["notes"][0]
    assert ask(plan={"bath.length": "x"})["drawing"] is None
    assert ask(plan=None)["figures"] == [list(one) for one in overview.figures(solve(Plan({})))]
