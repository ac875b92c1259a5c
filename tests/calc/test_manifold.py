"""Several baths: headers and branches, the return main, and figures that grow with the baths."""

import re
from math import pi

import pytest

from calc.plan import Plan
from calc.relations import pipe
from calc.render import form
from calc.solve import SPECS, solve
from calc.topics import manifold

L_H = 1e-3 / 3600
WATER = (998.2, 1.0016e-3)


def design(**given):
    return solve(Plan.from_mapping({key.replace("__", "."): value for key, value in given.items()}))


def one_pump(**more):
    return [{"name": "P", "shutoff_head": "2 m", "top_flow": "2000 L/h", "power": "20 W", **more}]


def codes(found):
    return {caution.code for caution in found.cautions}


# --- several baths ---------------------------------------------------------------------------------------------------

def test_header_and_branches_are_asked_only_for_several_baths():
    keys = {field.key for field in manifold.FIELDS}
    one, two = Plan.from_mapping({}), Plan.from_mapping({"bath.count": "2"})
    assert not keys & set(one.values) and keys <= set(two.values)
    assert not keys & set(Plan.from_mapping({"bath.count": "many"}).values)
    assert not keys & set(Plan.from_mapping({"bath.count": "2", "water.scheme": "aerated"}).values)
    assert form.condition(manifold.FIELDS[0].when) == ' data-when="water.scheme=circulating;bath.count&gt;1"'


def test_header_and_branch_losses_add_up_by_hand():
    fan = manifold.Fan(10, 0.05, 1.2, 0.013, 1.0, 3.5)
    flow = 2000 * L_H
    # Tees: 0.9 x (1 + 4 + ... + 81) / 100 = 0.9 x 2.85 velocity heads of the inlet.
    assert fan.run_k == pytest.approx(0.9 * 2.85)
    pieces = sum(pipe.friction_head(flow_m3_s=flow * part / 10, bore_m=0.05, length_m=1.2, roughness_m=1.5e-6,
                                    density_kg_m3=WATER[0], viscosity_pa_s=WATER[1]) for part in range(1, 11))
    speed = flow / (pi / 4 * 0.05**2)
    tees = sum(0.9 * (speed * part / 10)**2 for part in range(1, 10)) / (2 * 9.80665)
    assert fan.header_head(flow, *WATER) == pytest.approx(pieces + tees, rel=0.03)
    # 200 L/h through 13 mm: 0.4186 m/s, 3.5 velocity heads of 8.93 mm, and a metre's friction.
    assert fan.branch_head(flow, *WATER) == pytest.approx(
        3.5 * 0.4186**2 / 19.6133 + pipe.friction_head(
            flow_m3_s=flow / 10, bore_m=0.013, length_m=1.0, roughness_m=1.5e-6, density_kg_m3=WATER[0],
            viscosity_pa_s=WATER[1]), rel=1e-3)


def test_ten_baths_hang_on_a_header_whose_losses_the_pump_must_push():
    found = design(units="metric", bath__count="10", circulation__hose_bore="32 mm")
    parts_of_head = (0.75 + found.value("circulation.friction") + found.value("circulation.fitting_loss")
                     + found.value("circulation.header_loss") + found.value("circulation.branch_loss"))
    assert found.value("circulation.head") == pytest.approx(parts_of_head, rel=1e-6)
    assert found.value("circulation.branch_flow") == pytest.approx(found.value("circulation.flow") / 10)
    lines = {line["item"]: line for line in found.value("parts.shopping")}
    assert lines["Valve for a branch"]["quantity"] == 10 and lines["Tee in the header"]["quantity"] == 10
    assert "12 m" in lines["Header pipe"]["size"] and "10 m" in lines["Hose for the branches"]["size"]
    assert found.value("circulation.main_pipe") in lines["Return main"]["size"]
    # Hose 2 m of 32 mm 1.61 L, header 12 m of 50 mm 23.56 L, branches 10 m of 13 mm 1.33 L.
    assert found.value("water.hose_volume") * 1000 == pytest.approx(26.50, abs=0.01)
    one = design(units="metric")
    assert not {"Valve for a branch", "Return main"} & {line["item"] for line in one.value("parts.shopping")}


def test_a_header_too_narrow_to_feed_all_alike_is_said_with_the_size_to_take():
    narrow = design(units="metric", bath__count="10", circulation__hose_bore="32 mm", circulation__header_bore="20 mm")
    wide = design(units="metric", bath__count="10", circulation__hose_bore="32 mm", circulation__header_bore="102 mm")
    assert "header-narrow" in codes(narrow) and "header-narrow" not in codes(wide)
    assert narrow.value("circulation.branch_spread") > wide.value("circulation.branch_spread")
    assert wide.value("circulation.branch_spread") < 0.05
    assert " or wider" in narrow.value("circulation.header_words")


def test_the_return_main_runs_half_full_at_most():
    found = design(units="metric", bath__count="10", circulation__hose_bore="32 mm")
    assert found.value("circulation.main_capacity") >= found.value("circulation.main_flow")
    flat = design(units="metric", bath__count="10", circulation__hose_bore="50 mm", circulation__main_fall="1 cm",
                  circulation__main_length="400 m", circulation__pump="Example W7")
    assert "main-too-small" in codes(flat) and flat.value("circulation.main_pipe") is None
    short = design(bath__count="2", circulation__main_fall="3 ft", circulation__main_length="1 ft")
    assert "fall" in short.faults["circulation.main_length"]


def test_copies_beside_a_number_of_baths_say_how_many_that_makes():
    found = design(bath__count="4", parts__copies="2")
    text = next(one.text for one in found.cautions if one.code == "copies-of-baths")
    assert "8 baths in all" in text and "2 reservoirs" in text
    assert "copies-of-baths" not in codes(design(bath__count="4"))
    assert "copies-of-baths" not in codes(design(parts__copies="2"))


def test_every_figure_that_grows_with_the_baths_says_that_it_is_for_all():
    # Four baths on a reservoir that is large beside them: what is some four times as much is for all of them. Heads of
    # water grow with the square of the flow, and the reservoir is one however many baths hang on it.
    base = {"light.by": "lamp", "feed.way": "salts", "reservoir.known_volume": "400 gal",
            "reservoir.brim_volume": "600 gal"}
    one, four = solve(Plan(base)), solve(Plan({**base, "bath.count": "4"}))
    grown = 0
    for key, answer in one.answers.items():
        before, after = answer.value, four.value(key)
        if (isinstance(before, bool) or not isinstance(before, (int, float)) or not isinstance(after, (int, float))
                or not before or not 3.0 < after / before < 5.0 or SPECS[key].kind in ("length", "ratio")):
            continue
        grown += 1
        label = SPECS[key].label
        assert re.search(r"\b(all|each|reservoir)\b", label, re.IGNORECASE), f"{key}: {label}"
    assert grown > 30
