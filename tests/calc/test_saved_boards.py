"""Boards as DXF and SVG: read back by a general library, every line lies where the design has it."""

from __future__ import annotations

import io
import re
from math import cos, hypot, isclose, pi, sin
from xml.etree import ElementTree

import ezdxf
import pytest
from ezdxf.math import bulge_to_arc
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.plan import Plan
from calc.render.paper import files, leaf
from calc.solve import solve
from tests.calc import whole

SVG = "{http://www.w3.org/2000/svg}"
THREE = {"units": "metric", "bath.length": "240 cm", "bath.width": "60 cm", "board.max_length": "80 cm"}
TWELFTHS = {"units": "metric", "bath.shape": "round", "bath.diameter": "240 cm", "board.split": "number",
            "board.boards_along": "4", "board.boards_across": "3"}
SEAM_AT_A_NOTCH = {"board.split": "number", "board.boards_across": "2"}
DESIGNS = {"tote": whole.plan("us_tote"), "disc": whole.plan("bucket"), "half discs": whole.plan("round_tub"),
           "three boards": solve(Plan.from_mapping(THREE)), "parts of a disc": solve(Plan.from_mapping(TWELFTHS)),
           "a seam parts a notch": solve(Plan.from_mapping(SEAM_AT_A_NOTCH)), "four baths": whole.plan("four_baths"),
           "drums": whole.plan("drum_halves")}


def written(design, number, kind):
    return files.write(leaf.Paper(design, "Bath <1> & more"), f"board-{number}.{kind}")


def dxf(design, number):
    document = ezdxf.read(io.StringIO(written(design, number, "dxf").replace("\r\n", "\n")))
    found = {}
    for entity in document.modelspace():
        found.setdefault(entity.dxf.layer, []).append(entity)
    return document, found


def svg(design, number):
    tree = ElementTree.fromstring(written(design, number, "svg").encode())
    return tree, {one.get("id"): one for one in tree.iter(f"{SVG}g") if one.get("id")}


def count(design):
    return int(design.value("board.count") or 0)


def places(design, number):
    """Centres of the holes of a board in mm, as the design has them: from its corner, or from a disc's centre."""
    rows = [row for row in design.value("board.holes") if row["board"] == number]
    return sorted((row.get("from_x", row["x"]) * 1000, row.get("from_y", row["y"]) * 1000) for row in rows)


def flat(entity):
    """The line in short straight ones; arcs are opened by the library's own reading of a bulge."""
    corners = [(one.dxf.location.x, one.dxf.location.y, one.dxf.bulge) for one in entity.vertices]
    found = []
    for (x1, y1, bulge), (x2, y2, _) in zip(corners, [*corners[1:], *corners[:1]] if entity.is_closed else corners[1:],
                                            strict=entity.is_closed):
        found.append((x1, y1))
        if bulge:
            centre, start, end, radius = bulge_to_arc((x1, y1), (x2, y2), bulge)
            turn = (end - start) % (2 * pi)
            steps = max(2, int(turn * 200))
            angles = [start + turn * at / steps for at in range(1, steps)]
            inner = [(centre.x + radius * cos(angle), centre.y + radius * sin(angle)) for angle in angles]
            found += inner if bulge > 0 else inner[::-1]
    return found if entity.is_closed else [*found, corners[-1][:2]]


def area(points):
    return sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in zip(points, [*points[1:], points[0]], strict=True)) / 2


def far_from(point, line):
    """How far a place is from a line of many points."""
    best = float("inf")
    for (x1, y1), (x2, y2) in zip(line, line[1:], strict=False):
        dx, dy = x2 - x1, y2 - y1
        at = min(max(((point[0] - x1) * dx + (point[1] - y1) * dy) / max(dx * dx + dy * dy, 1e-12), 0.0), 1.0)
        best = min(best, hypot(point[0] - x1 - at * dx, point[1] - y1 - at * dy))
    return best


def inside(point, line):
    odd = False
    for (x1, y1), (x2, y2) in zip(line, [*line[1:], line[0]], strict=True):
        if (y1 > point[1]) != (y2 > point[1]) and point[0] < x1 + (point[1] - y1) * (x2 - x1) / (y2 - y1):
            odd = not odd
    return odd


def check(design, number):
    """Everything of one board but the whole raft's sums; its area in mm2."""
    document, found = dxf(design, number)
    assert document.dxfversion == "AC1009" and document.header["$INSUNITS"] == 4
    assert {"CUT", "DRILL", "NOTCH", "MARK"} <= {one.dxf.name for one in document.layers}
    assert not document.audit().errors and not document.audit().fixes
    assert set(found) <= {"CUT", "DRILL", "NOTCH", "MARK"}
    wanted = places(design, number)
    circles = [one for entities in found.values() for one in entities if one.dxftype() == "CIRCLE"]
    assert circles == found.get("DRILL", [])
    read = sorted((one.dxf.center.x, one.dxf.center.y) for one in circles)
    assert read == [pytest.approx(one, abs=1e-5) for one in wanted]
    radius = design.value("board.hole_diameter") * 500
    assert all(isclose(one.dxf.radius, radius, abs_tol=1e-5) for one in circles)
    (cut,) = found["CUT"]
    assert cut.is_closed
    line = flat(cut)
    assert area(line) > 0, "the outline turns counter-clockwise"
    ring, least = [*line, line[0]], radius + design.plan.values["board.margin"] * 1000
    for place in wanted:
        assert inside(place, line) and far_from(place, ring) >= least - 0.05
    for notch in found.get("NOTCH", []):
        path = flat(notch)
        assert far_from(path[0], ring) < 0.02 and far_from(path[-1], ring) < 0.02, "a notch begins and ends at the edge"
        middle = path[len(path) // 2]
        assert inside(middle, line) or far_from(middle, ring) < 0.02
        for place in wanted:
            assert far_from(place, path) > radius, "no notch cuts a hole"
    drawn(design, number, cut, found)
    return area(line), found


def drawn(design, number, cut, found):
    """The SVG says the same as the DXF."""
    tree, layers = svg(design, number)
    assert list(layers) == ["CUT", "DRILL", "NOTCH", "MARK"]
    holes = list(tree.iter(f"{SVG}circle"))
    assert holes == list(layers["DRILL"])
    read = sorted((float(one.get("cx")), float(one.get("cy"))) for one in holes)
    assert read == [pytest.approx(one, abs=1e-3) for one in places(design, number)]
    assert {float(one.get("r")) for one in holes} <= {round(design.value("board.hole_diameter") * 500, 4)}
    line = flat(cut)
    wide, tall = (max(one[axis] for one in line) - min(one[axis] for one in line) for axis in range(2))
    assert tree.get("width").endswith("mm") and tree.get("height").endswith("mm")
    assert float(tree.get("width")[:-2]) == pytest.approx(wide, abs=0.02)
    assert float(tree.get("height")[:-2]) == pytest.approx(tall, abs=0.02)
    box = [float(one) for one in tree.get("viewBox").split()]
    assert box[2:] == [float(tree.get(side)[:-2]) for side in ("width", "height")], "a unit is a millimeter"
    assert [box[0], -box[1] - box[3]] == pytest.approx([min(one[axis] for one in line) for axis in range(2)], abs=0.02)
    for layer in ("CUT", "NOTCH"):
        paths = [one.get("d") for one in layers[layer]]
        assert len(paths) == len(found.get(layer, []))
        for path, entity in zip(paths, found.get(layer, []), strict=True):
            # A move, then lines to a place, or arcs that end in one.
            steps = [[float(one) for one in step.split()][-2:] for step in re.split("[MLA]", path.rstrip("Z"))[1:]]
            corners = [(one.dxf.location.x, one.dxf.location.y) for one in entity.vertices]
            assert steps[:len(corners)] == [pytest.approx(one, abs=1e-3) for one in corners]
            bulges = sum(bool(one.dxf.bulge) for one in entity.vertices)
            assert path.count("A") == bulges
    assert [one.text for one in layers["MARK"].iter(f"{SVG}text")] == [
        one.dxf.text for one in found["MARK"] if one.dxftype() == "TEXT"]


@pytest.mark.parametrize("name", DESIGNS)
def test_boards_lie_where_the_design_has_them(name):
    design = DESIGNS[name]
    assert count(design) >= 1
    found = [check(design, number) for number in range(1, count(design) + 1)]
    raft = design.value("board.raft_length") * design.value("board.raft_width") * 1e6
    disc = design.value("water.opening_shape") == "round"
    assert sum(one for one, _ in found) == pytest.approx(raft * (pi / 4 if disc else 1.0), rel=1e-4)
    seams = sum(one.dxf.text == "SEAM" for _, layers in found for one in layers["MARK"] if one.dxftype() == "TEXT")
    assert (seams > 0) == (count(design) > 1)


def test_each_seam_is_marked_on_both_its_boards():
    words = [one.dxf.text for number in (1, 2, 3) for one in dxf(DESIGNS["three boards"], number)[1]["MARK"]
             if one.dxftype() == "TEXT"]
    assert words.count("SEAM") == 4 and [one for one in words if one != "SEAM"] == [
        f"BOARD {number} OF 3" for number in (1, 2, 3)]


@pytest.mark.parametrize("name", ["tote", "disc", "half discs", "three boards"])
def test_notches_are_as_wide_and_deep_as_the_plan_says(name):
    design = DESIGNS[name]
    found = []
    for number in range(1, count(design) + 1):
        for notch in dxf(design, number)[1].get("NOTCH", []):
            path = flat(notch)
            ends = hypot(path[0][0] - path[-1][0], path[0][1] - path[-1][1])
            line = [path[0], path[-1]]
            found.append((ends, max(far_from(one, line) for one in path)))
    rows = design.value("board.notch_rows")
    whole_ = [one for one in found if any(isclose(one[0], row["width"] * 1000, abs_tol=0.02) for row in rows)]
    # A seam parts the notch that lies on it; all others are found whole.
    assert len(whole_) == len(rows) - (name == "half discs")
    for wide, deep in whole_:
        # On a disc the rim bulges over the line between the notch's two ends.
        assert any(isclose(wide, row["width"] * 1000, abs_tol=0.02)
                   and -0.02 <= row["depth"] * 1000 - deep <= (2.5 if "disc" in name else 0.02) for row in rows)


def test_a_notch_that_a_seam_parts_is_in_both_boards_and_in_neither_beyond_the_seam():
    design = DESIGNS["a seam parts a notch"]
    wide = design.value("board.width") * 1000
    for number, edge in ((1, wide), (2, 0.0)):
        paths = [flat(one) for one in dxf(design, number)[1]["NOTCH"]]
        assert any(min(abs(y - edge) for _, y in path) < 0.02 for path in paths)
        assert all(-0.02 <= y <= wide + 0.02 for path in paths for _, y in path)


def test_two_boards_of_a_long_farm():
    design = whole.plan("farm_raft_30m")
    assert count(design) > 10
    for number in (1, count(design)):
        check(design, number)


@settings(max_examples=25, deadline=None)
@given(st.booleans(), st.integers(30, 260), st.integers(30, 140), st.integers(1, 4), st.integers(1, 3),
       st.sampled_from(["pipes", "none"]), st.sampled_from(["best", "square", "staggered"]))
def test_any_raft(disc, length, width, along, across, notches, pattern):
    shape = {"bath.shape": "round", "bath.diameter": f"{length} cm"} if disc else {
        "bath.length": f"{length} cm", "bath.width": f"{width} cm"}
    design = solve(Plan.from_mapping({"units": "metric", **shape, "board.split": "number", "board.notches": notches,
                                      "board.boards_along": str(along), "board.boards_across": str(across),
                                      "board.pattern": pattern}))
    if not design.value("board.holes"):
        return
    total = sum(check(design, number)[0] for number in range(1, count(design) + 1))
    raft = design.value("board.raft_length") * design.value("board.raft_width") * 1e6
    assert total == pytest.approx(raft * (pi / 4 if disc else 1.0), rel=1e-4)


def test_a_board_that_is_not_there_gets_a_sentence():
    paper = leaf.Paper(DESIGNS["three boards"])
    with pytest.raises(ValueError, match="no board 4: its boards have the numbers 1 to 3"):
        files.write(paper, "board-4.dxf")
    with pytest.raises(ValueError, match="no board 2: it has one board, number 1"):
        files.write(leaf.Paper(DESIGNS["tote"]), "board-2.svg")
    with pytest.raises(ValueError, match="no board 1: it has no boards yet"):
        files.write(leaf.Paper(solve(Plan.from_mapping({"bath.length": "no"}))), "board-1.dxf")
    for name in ("board-0.dxf", "board-01.svg", "board-99999.dxf", "board-1.DXF"):
        with pytest.raises(ValueError, match="the names are .*board-N.dxf, board-N.svg"):
            files.write(paper, name)
