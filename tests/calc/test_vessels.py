"""Vessels that are built or cut: a liner in a frame, half a drum, an oval, and pots in the board; worked by hand."""

from math import acos, pi, sqrt

import pytest

from calc import Plan, solve
from calc.mends import mends
from calc.render import by_hand as sums

INCH, GALLON, POUND = 0.0254, 231 * 0.0254**3, 0.45359237
FRAME = {"bath.liner": "frame", "bath.length": "8 ft", "bath.width": "4 ft", "bath.depth": "12 in",
         "bath.water_depth": "10 in", "reservoir.brim_volume": "60 gal"}


def design(units="us", **answers):
    return solve(Plan.from_mapping({"units": units, **answers}))


def said(found, code):
    return next((one for one in found.cautions if one.code == code), None)


def near(value, rel=1e-9):
    return pytest.approx(value, rel=rel)


# --- a liner in a frame ---------------------------------------------------------------------------------------------


def test_the_liner_goes_down_across_and_up_and_over_the_rim():
    found = design(**FRAME)
    # 96 in, twice 12 in of wall, twice 6 in over the rim.
    assert found.value("water.liner_length") == near((96 + 24 + 12) * INCH)
    assert found.value("water.liner_width") == near((48 + 24 + 12) * INCH)
    line = next(row for row in found.value("parts.shopping") if row["item"] == "Liner")
    assert line["size"] == "132 in x 84 in" and line["quantity"] == 1
    assert said(found, "liner-kind") is not None


def test_a_long_wall_bows_as_a_beam_and_braces_hold_it():
    found = design(**FRAME)
    density = found.value("water.density")
    push = 0.5 * density * (10 * INCH) ** 2 * 96 * INCH
    assert found.value("water.wall_push") == near(push)
    elastic = 1.4e6 * 6894.757 * 0.9
    bends = elastic * 12 * INCH * (1.5 * INCH) ** 3 / 12
    bow = 5 * push * 9.80665 * (96 * INCH) ** 3 / (384 * bends)
    assert found.value("water.wall_bulge") == near(bow) and 0.4 * INCH < bow < 0.6 * INCH
    # A quarter inch in place of that: the free length falls with the fourth root, to some 6.7 ft; one brace is enough.
    assert 96 * INCH * (0.25 * INCH / bow) ** 0.25 < 96 * INCH and found.value("water.wall_braces") == 1
    assert said(found, "frame-bows").level == "warning"
    given = found.verdict("water")
    assert given.state == "tight" and given.lead == "The frame bows."
    assert any("race the long walls" in one.act for one in mends(Plan.from_mapping({"units": "us", **FRAME}), "water"))


def test_a_braced_wall_stands_and_a_thin_one_bursts():
    braced = design(**FRAME, **{"bath.wall_span": "4 ft"})
    whole = design(**FRAME)
    # Half the length bows a sixteenth as far.
    assert braced.value("water.wall_bulge") == near(whole.value("water.wall_bulge") / 16)
    assert braced.verdict("water").state == "fits" and said(braced, "frame-corners") is not None
    thin = design(**FRAME, **{"bath.wall_thickness": "3/4 in"})
    assert thin.verdict("water").state == "fails" and said(thin, "frame-bows").level == "danger"


def test_a_vessel_that_is_sold_as_one_has_no_liner():
    found = design()
    assert found.value("water.liner_length") is None and found.value("water.wall_bulge") is None
    assert design(**{**FRAME, "bath.shape": "tapered box"}).value("water.liner_length") is None


# --- half a drum and an oval ----------------------------------------------------------------------------------------

DRUM = {"bath.shape": "half drum", "bath.length": "36 in", "bath.width": "24 in", "bath.depth": "12 in",
        "bath.water_depth": "10 in"}


def test_half_a_drum_is_a_segment_of_a_circle():
    found = design(**DRUM)
    # Radius 12 in; water 10 in deep, so 2 in below the middle.
    area = 144 * acos(2 / 12) - 2 * sqrt(144 - 4)
    assert found.value("water.bath_volume") == near(36 * area * INCH**3)
    wide = 2 * sqrt(144 - 4)
    assert found.value("water.opening_width") == near(wide * INCH)
    assert found.value("water.surface_area") == near(36 * wide * INCH**2)
    assert found.value("water.footprint") == near(36 * 24 * INCH**2)
    # The raft is half an inch narrower: the water is as wide where it has fallen so far.
    raft = wide - 0.5
    level = 12 - sqrt(144 - raft**2 / 4)
    assert found.value("board.fall_to_wedge") == near((10 - level) * INCH, 1e-6)


def test_more_than_half_a_drum_is_told():
    found = design(**{**DRUM, "bath.depth": "13 in"})
    assert "half a drum is at most as deep as 12 in" in found.faults["bath.depth"]
    narrow = design(**{"bath.shape": "half drum", "bath.width": "20 in", "bath.length": "36 in"})
    assert "bath.width" in narrow.faults


def test_an_oval_has_two_half_round_ends():
    found = design("metric", **{"bath.shape": "oval", "bath.length": "180 cm", "bath.width": "70 cm",
                                "bath.water_depth": "25 cm"})
    area = (1.8 - 0.7) * 0.7 + pi / 4 * 0.49
    assert found.value("water.surface_area") == near(area) and found.value("water.bath_volume") == near(0.25 * area)
    # The largest rectangle inside, by trying each.
    best = max((wide * (1.1 + sqrt(0.49 - wide**2)), wide) for wide in (0.7 * part / 20000 for part in range(20000)))
    long, wide = found.value("water.opening_length"), found.value("water.opening_width")
    assert long * wide == near(best[0], 1e-7) and wide == near(best[1], 1e-3)
    assert said(found, "oval-ends") is not None
    assert sums.by_hand("water.surface_area", found).startswith("Straight middle: (180 - 70) x 70")


def test_an_oval_wider_than_long_is_told():
    found = design(**{"bath.shape": "oval", "bath.length": "20 in", "bath.width": "24 in"})
    assert "an oval is longer than wide" in found.faults["bath.length"]


@pytest.mark.parametrize("shape", ["half drum", "oval"])
def test_a_reservoir_may_have_the_same_shapes(shape):
    found = design("metric", **{"reservoir.shape": shape, "reservoir.length": "80 cm", "reservoir.width": "60 cm",
                                "reservoir.depth": "30 cm", "reservoir.water_depth": "15 cm"})
    full = 0.5 * pi * 0.09 * 0.8 if shape == "half drum" else 0.3 * (0.2 * 0.6 + pi / 4 * 0.36)
    assert found.value("water.reservoir_capacity") == near(full)


# --- pots -----------------------------------------------------------------------------------------------------------


def test_a_pot_stands_as_deep_as_it_is_taller_than_the_foam_above_water():
    found = design(**{"board.pot_height": "2 1/4 in", "board.thickness": "1 1/2 in"})
    assert found.value("board.pot_stands_full") == near(2.25 * INCH - found.value("board.freeboard"))
    # Pots of 2 oz alone, and the foam's own weight over the foam that is left.
    pots = 18 * 2 / 16 * POUND / found.value("board.area")
    share = 1 - found.value("board.hole_share")
    density = found.value("water.density")
    foam = 25 * 1.5 * INCH * share
    assert found.value("board.pot_stands") == near(2.25 * INCH - 1.5 * INCH + (foam + pots) / (density * share), 1e-6)
    assert found.verdict("board").state == "fits"


def test_pots_that_hang_clear_of_the_water_are_told():
    found = design(**{"board.pot_height": "1 in"})
    assert found.value("board.pot_stands") < 0 and said(found, "pots-dry") is not None
    assert found.verdict("board").lead == "Pots hang dry." and said(found, "pots-dry").level == "warning"
    # A height that is only a guess is a reason to measure a pot, and no verdict.
    guessed = design(**{"board.thickness": "2 1/2 in"})
    assert said(guessed, "pots-dry").level == "note" and guessed.verdict("board").state == "fits"


def test_the_medium_is_what_the_plug_leaves_of_a_tapered_pot():
    found = design("metric", **{"board.pot": "75 mm", "board.pot_height": "60 mm", "board.pot_base": "50 mm",
                                "board.medium": "clay", "board.plug_width": "25 mm", "board.plug_height": "40 mm",
                                "parts.spare_share": "10 %"})
    # Cone cut off, in mm3: pi/12 x 60 x (75^2 + 75 x 50 + 50^2); plug pi/4 x 25^2 x 40.
    pot = pi / 12 * 60 * (75**2 + 75 * 50 + 50**2)
    each = (pot - pi / 4 * 25**2 * 40) * 1e-9
    assert found.value("board.pot_volume") == near(pot * 1e-9)
    assert found.value("board.medium_each") == near(each)
    # Eighteen sites and a tenth more, rounded up, make 20 pots.
    assert found.value("board.sites") == 18 and found.value("board.medium_total") == near(20 * each)
    line = next(row for row in found.value("parts.shopping") if row["item"] == "Growing medium")
    assert "of expanded clay pebbles" in line["size"]


def test_a_plug_as_large_as_the_pot_leaves_no_room():
    found = design(**{"board.medium": "perlite", "board.plug_width": "2 in", "board.plug_height": "2 in"})
    assert "fills the whole pot" in found.faults["board.plug_width"]
    wide = design(**{"board.pot_base": "3 in"})
    assert "is more than at its lip" in wide.faults["board.pot_base"]


def test_plugs_without_a_pot_have_no_pot():
    found = design(**{"board.holder": "plugs"})
    assert found.value("board.pot_stands") is None and found.value("board.pot_volume") is None


# --- a vessel typed by its rim ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(("plan", "words"), [
    ({"bath.shape": "tapered box", "bath.length": "50 in"}, "The bath's length at the floor, 44 in, is our guess"),
    ({"bath.shape": "tapered round", "bath.diameter": "25 in"},
     "The bath's diameter at the floor, 20 in, is our guess"),
])
def test_a_floor_that_nobody_measured_is_called_a_guess(plan, words):
    found = design(**{"water.scheme": "aerated", **plan})
    assert words in found.verdict("water").text and words in said(found, "bath-floor-guessed").text
    assert "measure it inside" in found.verdict("water").text
    base = "bath.base_diameter" if "round" in plan["bath.shape"] else "bath.base_length"
    measured = design(**{"water.scheme": "aerated", **plan, base: "19.5 in" if "round" in base else "43 in"})
    # Who measured both, or neither as in the example, is told nothing.
    for one in (design(**{"water.scheme": "aerated", **plan, base: "19.5 in"}), measured,
                design(**{"bath.shape": plan["bath.shape"]})):
        assert said(one, "bath-floor-guessed") is None
        assert one.verdict("water") is None or "guess" not in one.verdict("water").text


def test_a_reservoir_known_by_its_rim_alone_is_a_guess_too():
    found = design(**{"reservoir.shape": "tapered box", "reservoir.length": "26 in"})
    assert "The reservoir's length at the floor, 21 in" in said(found, "reservoir-floor-guessed").brief
