"""Notches for the plan's own pipes, discs from their centre, and rafts that wedge."""

from math import hypot, pi

import pytest
from hypothesis import given, strategies as st

from calc.geometry import notches as geometry
from calc.plan import Plan
from calc.solve import solve

INCH = 0.0254


def design(plan=None, **more):
    return solve(Plan({**(plan or {}), **{key.replace("__", "."): text for key, text in more.items()}}))


def codes(found):
    return {one.code for one in found.cautions}


def touches(row, x, y, radius, long, wide):
    """Whether a hole centred at (x, y) meets the rectangle that a notch cuts out of a straight edge."""
    half, deep = row["width"] / 2, row["depth"]
    low_x, high_x = {"right": (long - deep, long), "left": (0.0, deep), "back": (row["x"] - half, row["x"] + half)}[
        row["side"]]
    low_y, high_y = (wide - deep, wide) if row["side"] == "back" else (row["y"] - half, row["y"] + half)
    return hypot(max(low_x - x, 0.0, x - high_x), max(low_y - y, 0.0, y - high_y)) < radius


def test_a_bath_has_notches_for_its_own_pipes_clear_of_every_hole():
    found = design()
    rows = found.value("board.notch_rows")
    assert [row["what"] for row in rows] == ["standpipe", "fill hose", "air hoses and a cord"]
    long, wide = found.value("board.raft_length"), found.value("board.raft_width")
    radius = found.value("board.hole_diameter") / 2
    assert not [1 for row in rows for hole in found.value("board.holes")
                if touches(row, hole["x"], hole["y"], radius, long, wide)]
    # By hand: the overflow's bore, 10 mm of walls and 12 mm free, up to the next quarter inch.
    bore = found.value("circulation.overflow_bore")
    assert rows[0]["width"] == pytest.approx(-(-(bore + 0.022) // (INCH / 4)) * INCH / 4)
    assert [row["item"] for row in found.value("parts.cuts") if row["item"].startswith("Notch")] == [
        "Notch for standpipe", "Notch for fill hose", "Notch for air hoses and a cord"]


def test_what_is_not_there_needs_no_notch():
    assert design(board__notches="none").value("board.notch_rows") is None
    wall = design(circulation__overflow_place="wall", bath__fill="floor")
    assert [row["what"] for row in wall.value("board.notch_rows")] == ["air hoses and a cord"]
    assert design(water__scheme="still").value("board.notch_rows") == []
    assert len(design(circulation__drains="3").value("board.notch_rows")) == 5


def test_holes_in_the_way_are_left_out_and_said():
    crowded = {"board.margin": "1/16 in", "board.spacing": "2 1/8 in", "board.pattern": "square",
               "board.hole": "1 7/8 in"}
    free, cut = design(crowded, board__notches="none"), design(crowded)
    lost = free.value("board.sites") - cut.value("board.sites")
    assert lost > 0 and "notch-costs-sites" in codes(cut) and "notch-costs-sites" not in codes(free)
    assert len(cut.value("board.holes")) == cut.value("board.sites") == sum(
        row["sites"] for row in cut.value("board.pieces"))


def test_a_board_without_a_notch_rests_on_the_standpipe():
    # The default board floats 5/16 in deep or more at harvest; the pipe's rim is 1/8 in under the water.
    hung = design(board__notches="none", bath__film="1/8 in")
    assert hung.value("board.draught") > INCH / 8
    assert "raft-on-standpipe" in codes(hung)
    assert "raft-on-standpipe" not in codes(design(bath__film="1/8 in"))
    assert "raft-on-standpipe" not in codes(design(board__notches="none", circulation__overflow_place="wall"))


def test_a_board_that_floats_clear_of_the_pipe_comes_down_on_it_when_the_pump_stops():
    # The default board floats some 5/16 in deep, the rim is 1/2 in under the running water: clear by 3/16 in. After a
    # stop the water stands at the rim, and the board's underside would be 5/16 in below it.
    clear = design(board__notches="none")
    assert 0 < clear.value("board.draught") < INCH / 2
    said = next(one for one in clear.cautions if one.code == "raft-on-standpipe-stopped")
    assert clear.shown("board.draught") in said.text and "raft-on-standpipe" not in codes(clear)
    for other in (design(), design(board__notches="none", circulation__overflow_place="wall"),
                  design(board__notches="none", water__scheme="aerated"),
                  design(board__notches="none", bath__film="1/8 in")):
        assert "raft-on-standpipe-stopped" not in codes(other)


BUCKET = {"bath.shape": "tapered round", "bath.diameter": "15 in", "bath.base_diameter": "13 in", "bath.depth": "14 in",
          "bath.water_depth": "12 in", "board.pot": "2 in", "board.spacing": "4 in", "water.scheme": "aerated"}


def test_a_disc_is_cut_by_its_diameter_and_drilled_from_its_centre():
    found = design(BUCKET)
    # By hand: 12 in up a wall of 14 the bucket is 13 + 2 x 12/14 = 14.714 in wide; less 1/4 in all round, 14.214.
    assert found.value("board.diameter") / INCH == pytest.approx(13 + 2 * 12 / 14 - 0.5)
    cuts = found.value("parts.cuts")
    assert cuts[0]["item"] == "Raft disc" and "across" in cuts[0]["size"] and " x " not in cuts[0]["size"]
    for hole in found.value("board.holes"):
        assert hypot(hole["from_x"], hole["from_y"]) == pytest.approx(hole["radius"])
        assert 0.0 <= hole["angle"] < 2 * pi
        # The old corner's measures and the centre's are half a diameter apart.
        assert hole["x"] - hole["from_x"] == pytest.approx(found.value("board.diameter") / 2)
        assert hole["radius"] <= found.value("board.diameter") / 2 - found.plan.values["board.margin"]
    assert "board.diameter" not in design().answers


def test_a_raft_in_a_narrowing_bucket_wedges():
    """The wall closes in by 2 in over 14, 1/7 in an inch; with 1/4 in of gap all round it wedges 3 1/2 in down."""
    found = design(BUCKET, use__fall="2 in")
    assert found.value("board.fall_to_wedge") / INCH == pytest.approx(0.5 / (2 / 14))
    assert "raft-wedges" not in codes(found)
    assert "raft-wedges" in codes(design(BUCKET, use__fall="5 in"))
    assert design().value("board.fall_to_wedge") is None


def test_a_disc_has_its_notches_on_the_rim():
    found = design(BUCKET, **{"water__scheme": "circulating"})
    radius, hole = found.value("board.diameter") / 2, found.value("board.hole_diameter") / 2
    for row in found.value("board.notch_rows"):
        assert hypot(row["x"] - radius, row["y"] - radius) == pytest.approx(radius)
        for one in found.value("board.holes"):
            away = hypot(row["x"] - radius - one["from_x"], row["y"] - radius - one["from_y"])
            assert away > hole + geometry.WEB_M - 1e-6


@given(st.lists(st.tuples(st.floats(0.0, 2.0), st.floats(0.0, 0.5)), max_size=30), st.floats(0.02, 0.2),
       st.floats(0.01, 0.2), st.floats(0.01, 0.08), st.floats(0.0, 2.0))
def test_a_notch_counts_each_hole_that_it_cuts_and_stays_on_its_edge(points, width, depth, radius, wish):
    found = geometry.on_edge(points, 2.0, width, depth, radius, wish)
    assert width / 2 - 1e-9 <= found.along <= 2.0 - width / 2 + 1e-9
    cut = {number for number, (along, inward) in enumerate(points)
           if hypot(max(abs(along - found.along) - width / 2, 0.0), max(inward - depth, 0.0)) < radius + geometry.WEB_M
           - 1e-9}
    assert set(found.lost) == cut


def test_the_mass_of_a_plant_comes_from_its_crop():
    lettuce, celery = design(), design({"crops.rows.1.crop": "celery"})
    assert celery.value("board.load") > 1.5 * lettuce.value("board.load")
    # By hand: fresh mass and a third more, and 2 oz of pot.
    site = lettuce.value("crops.fresh_mass") * 4 / 3 + 2 * 0.028349523125
    assert lettuce.value("board.load") == pytest.approx(
        site * lettuce.value("board.sites") / lettuce.value("board.area"))
    typed = design(board__plant_mass="7 oz")
    assert typed.value("board.load") == pytest.approx(
        9 * 0.028349523125 * typed.value("board.sites") / typed.value("board.area"))


def test_the_days_of_the_water_use_come_from_the_crop():
    """Celery stands 60 days and more: planned over lettuce's 24 it would drink three times too much."""
    own = design({"crops.rows.1.crop": "celery"})
    short = design({"crops.rows.1.crop": "celery"}, use__days="24 d")
    days = {row["crop"]: row["raft_days"] for row in own.value("schedule.per_crop")}["celery"]
    assert days >= 60
    assert short.value("use.by_mass") / own.value("use.by_mass") == pytest.approx(days / 24)
