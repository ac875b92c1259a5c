"""Drawings are read by eye and by ear: they must be well formed, to scale, told in words, and never overprint."""

import xml.etree.ElementTree as ElementTree
from math import inf, nan

import pytest

from calc import units
from calc.plan import FIELDS, Plan
from calc.render import chart, pictograms, plans, section, stone_plan, svg
from calc.render.placing import Labels
from calc.solve import SPECS, solve
from calc.steps import STEPS
from calc.traced import show_value
from tests.calc.boxes import SVG, faults_of, points_of, texts

GEOMETRY = {"x", "y", "width", "height", "cx", "cy", "r", "points", "d", "viewBox", "role", "aria-labelledby", "id",
            "class", "fill", "font-size", "text-anchor", "data-dim", "stroke-width"}
KNOWN = {"lit", "ink", "thin", "wall", "water", "cut", "air", "pipe", "tube", "bore", "dim", "centre", "lead", "grid",
         "stopped", "label", "strong", "faded", "halo", "no", "tight", "sign-tight", "hole", "seam", "stone", "plant",
         "root", "wood", "edge", "chart-line", "chart-load", "chart-point", "solid", "break", "notch", "keepout"}


class Drawn:
    """A design as the drawings see one: values by key, rows by table, words by system."""

    def __init__(self, values, system="us", tables=None):
        self.values, self.system, self.tables = values, system, tables or {}

    def value(self, key):
        return self.values.get(key)

    def rows(self, key):
        return self.tables.get(key, [])

    def show(self, value, kind, us="", metric="", fraction=0):
        return units.show(value, kind, self.system, us=us, metric=metric, fraction=fraction)

    def shown(self, key):
        value = self.values.get(key)
        return "" if value is None else show_value(value, SPECS.get(key) or FIELDS[key], self.system)


def made(length, width, depth, water, columns, rows, spacing, boards=1, hole=0.05, system="us", tables=None, **more):
    """An invented design: ``boards`` equal boards along the length, each with columns x rows of holes."""
    gap = 0.006
    long, wide = (length - 2 * gap) / boards, width - 2 * gap
    start_x, start_y = (long - (columns - 1) * spacing) / 2, (wide - (rows - 1) * spacing) / 2
    values = {
        "bath.shape": "box", "bath.length": length, "bath.width": width, "bath.depth": depth,
        "bath.water_depth": water, "bath.fill": "rim", "bath.count": 1, "bath.film": 0.0127, "bath.legs": 4,
        "reservoir.shape": "box", "reservoir.length": 0.6, "reservoir.width": 0.4, "reservoir.depth": 0.4,
        "reservoir.water_depth": 0.25, "water.reservoir_volume": 0.06, "water.opening_length": length,
        "water.opening_width": width, "water.opening_shape": "rectangle", "board.thickness": 0.0381,
        "board.draught": 0.008, "board.pot": hole, "board.hole_diameter": hole, "board.spacing_used": spacing,
        "board.margin": 0.0381,
        "board.pieces": [{"board": n + 1, "x": gap + n * long, "y": gap, "length": long, "width": wide}
                         for n in range(boards)],
        "board.holes": [{"board": n + 1, "x": start_x + i * spacing, "y": start_y + j * spacing}
                        for n in range(boards) for j in range(rows) for i in range(columns)],
        "air.stone_rows": [{"x": length * (i + 0.5) / 4, "y": width * (j + 0.5) / 2}
                           for i in range(4) for j in range(2)],
        "air.stone_depth": water - 0.0254, "air.stone_spacing": min(length / 4, width / 2), "air.hose_length": 2.0,
        "circulation.lift": 0.76, "circulation.flow": 1.4e-4, "circulation.pump_name": "Example W2",
        "circulation.overflow_bore": 0.035,
    }
    values.update({key.replace("__", "."): value for key, value in more.items()})
    return Drawn(values, system, tables)


HATCH = {"board.keepouts": [{"name": "hatch <&>", "x": 0.25, "y": 0.1, "length": 0.15, "width": 0.12},
                            {"name": "half typed", "x": 0.1, "y": None, "length": None, "width": 0.1}]}
DESIGNS = {
    "4 x 2 ft": made(1.2192, 0.6096, 0.3048, 0.254, 6, 3, 0.2),
    "4 x 2 ft, odd sixteenths": made(1.2176, 0.6048, 0.3032, 0.2397, 6, 3, 0.2, tables=HATCH,
                                     bath__fill="floor with check valve", bath__count=3),
    "bucket": made(0.3, 0.3, 0.36, 0.3, 2, 2, 0.1, system="metric", bath__shape="tapered round", bath__diameter=0.3,
                   bath__base_diameter=0.26, water__opening_shape="round", bath__fill="floor",
                   **{"air.stone_rows": [{"x": 0.13, "y": 0.13}], "board.seams": []}),
    "30 m x 1.2 m": made(30.0, 1.2, 0.3, 0.25, 7, 8, 0.14, boards=25, system="metric"),
    "10 ft of small pots": made(3.05, 0.9, 0.3, 0.25, 14, 8, 0.1, boards=2),
    "turned": made(0.3, 9.0, 0.35, 0.3, 1, 40, 0.2),
    "tapered tote": made(0.9, 0.5, 0.4, 0.33, 4, 2, 0.2, bath__shape="tapered box", bath__base_length=0.76,
                         water__opening_length=0.876, bath__fill="floor"),
    "known volume": made(1.0, 0.5, 0.3, 0.2, 4, 2, 0.2, reservoir__shape="known volume", reservoir__length=None,
                         reservoir__known_volume=0.06),
    "deep and narrow": made(0.1, 0.1, 4.0, 3.5, 1, 1, 0.1),
    "thick board in a tray": made(2.0, 1.0, 0.06, 0.05, 8, 4, 0.2, board__thickness=0.3),
    "two holes far apart": made(0.62, 0.5, 0.3, 0.25, 2, 1, 0.42),
    "sinks": made(1.2, 0.6, 0.3, 0.25, 5, 2, 0.2, board__draught=0.06),
}
DRAWINGS = {"tank": section.tank, "air": section.air, "raft": plans.raft, "drilling": plans.drilling,
            "stones": stone_plan.stone_plan}
CASES = [pytest.param(make(design, wide), id=f"{kind}, {name}, {'wide' if wide else 'narrow'}")
         for name, design in DESIGNS.items() for kind, make in DRAWINGS.items() for wide in (True, False)]
CURVE = [(i * 20.0, 5 * (1 - (i / 10) ** 2)) for i in range(11)]
LOAD = [(i * 20.0, 2.5 + 0.04 * i * i) for i in range(15)]
CASES.append(pytest.param(chart.pump_chart(CURVE, LOAD, (118.0, 3.2), "flow, gph", "head, ft", "Pump <1> & line"),
                          id="chart"))
CASES.append(pytest.param(chart.pump_chart([(0, 123456.0), (0.0004, 0)], [], None, "flow, L/h " * 20, "push " * 40,
                                             "long words " * 20), id="chart with long words"))


@pytest.mark.parametrize("made_svg", CASES)
def test_is_well_formed_and_told_in_words(made_svg):
    root = ElementTree.fromstring(made_svg)
    assert root.tag == SVG + "svg" and root.get("role") == "img" and root.get("viewBox")
    ids = root.get("aria-labelledby").split()
    named = {element.get("id"): element for element in root.iter() if element.get("id")}
    assert list(named) == ids and len(ids) == 2
    assert [named[one].tag for one in ids] == [SVG + "title", SVG + "desc"]
    assert all(named[one].text.strip() for one in ids)
    assert any(letter.isdigit() for letter in named[ids[1]].text)
    for element in root.iter():
        assert set(element.attrib) <= GEOMETRY, element.attrib
        assert element.get("fill") in (None, "none")
        assert set((element.get("class") or "").split()) <= KNOWN
    assert not any(word in made_svg for word in ("nan", "inf,", "style=", "None"))


@pytest.mark.parametrize("made_svg", CASES)
def test_nothing_leaves_the_picture_no_two_texts_touch_and_none_is_small(made_svg):
    root = ElementTree.fromstring(made_svg)
    assert faults_of(root) == []
    assert texts(root) and sum(len(points_of(element)) for element in root.iter()) > 10


def test_what_is_wrong_with_a_drawing_is_found():
    def faults(*parts):
        return [fault.split(":")[0] for fault in faults_of(ElementTree.fromstring(svg.drawing(
            "x", 100, 50, "a title", "a description", list(parts))))]
    assert faults(svg.text(2, 20, "fine"), svg.line("ink", (0, 0), (100, 50))) == []
    assert faults(svg.text(90, 20, "too long")) == ["cut"] and faults(svg.text(50, 8, "x")) == ["cut"]
    assert faults(svg.text(2, 20, "one"), svg.text(20, 25, "other")) == ["overlap"]
    assert faults(svg.text(2, 20, "one", size=13.9)) == ["small"]
    assert faults('<path d="M2 2l99 0"/>') == ["outside"] == faults(svg.circle("ink", 2, 25, 4))


def holes_drawn(made_svg):
    group = [one for one in ElementTree.fromstring(made_svg).iter(SVG + "g") if one.get("class") == "hole"]
    return [one for found in group for one in found.iter(SVG + "circle")]


@pytest.mark.parametrize("name", DESIGNS)
def test_every_hole_is_drawn_once(name):
    for wide in (True, False):
        circles = holes_drawn(plans.raft(DESIGNS[name], wide))
        assert len(circles) == len(DESIGNS[name].value("board.holes")) > 0
        assert len({(one.get("cx"), one.get("cy")) for one in circles}) == len(circles)


def test_rows_to_drill_begin_with_the_number_of_the_list():
    def numbers(draw, name):
        return [int(one.text) for one in texts(ElementTree.fromstring(draw(DESIGNS[name], True))) if one.text.isdigit()]
    assert numbers(plans.drilling, "4 x 2 ft") == [1, 7, 13] and numbers(plans.raft, "4 x 2 ft") == []
    # Rows that lie too near for a number each have every second one numbered.
    assert numbers(plans.drilling, "10 ft of small pots") == [1, 29, 57, 85]


def test_sizes_to_drill_by_are_measured_from_the_edge_of_the_board():
    root = ElementTree.fromstring(plans.drilling(made(1.2192, 0.6096, 0.3048, 0.254, 6, 3, 0.2, system="metric"), True))
    # 121.9 cm of bath less two gaps of 6 mm is 1,207 mm; six holes 200 mm apart leave 104 mm at each end; across it is
    # 598 mm, less two rows' 400, so 99 mm.
    assert {"1,207 mm long", "598 mm", "104 mm", "200 mm", "99 mm"} <= {one.text for one in texts(root)}
    spacing = [one for one in root.iter(SVG + "path") if one.get("data-dim") == "board.spacing"]
    a, b = holes_drawn(plans.drilling(DESIGNS["4 x 2 ft"], True))[:2]
    assert len(spacing) == 1 and float(b.get("cx")) - float(a.get("cx")) == pytest.approx(
        max(x for x, _ in points_of(spacing[0])) - min(x for x, _ in points_of(spacing[0])) - 2 * svg.TICK, abs=0.3)


@pytest.mark.parametrize("name", ["4 x 2 ft", "30 m x 1.2 m", "turned"])
def test_raft_is_to_scale_across_along_and_in_its_holes(name):
    design = DESIGNS[name]
    circles = holes_drawn(plans.raft(design, True))
    rows = design.value("board.holes")
    a, b = circles[0], circles[1]
    drawn = abs(float(a.get("cx")) - float(b.get("cx"))) + abs(float(a.get("cy")) - float(b.get("cy")))
    real = abs(rows[0]["x"] - rows[1]["x"]) + abs(rows[0]["y"] - rows[1]["y"])
    scale = drawn / real
    assert 2 * float(a.get("r")) / scale == pytest.approx(design.value("board.hole_diameter"), rel=0.06)
    boards = [one for one in ElementTree.fromstring(plans.raft(design, True)).iter(SVG + "rect")]
    sides = sorted(float(boards[0].get(side)) / scale for side in ("width", "height"))
    piece = design.value("board.pieces")[0]
    if name != "turned":  # its one board is drawn in several lengths
        assert sides == pytest.approx(sorted((piece["length"], piece["width"])), rel=0.03)


def test_section_is_to_scale_where_it_does_not_say_otherwise():
    made_svg = section.tank(made(1.2, 0.6, 0.4, 0.3, 4, 2, 0.2), True)
    assert "left out" not in made_svg and "Bath drawn longer" not in made_svg
    root = ElementTree.fromstring(made_svg)
    water = points_of(next(one for one in root.iter(SVG + "polygon") if one.get("class") == "water"))
    long, deep = water[1][0] - water[0][0], water[3][1] - water[0][1]
    assert long / deep == pytest.approx(1.2 / 0.3, rel=0.01)
    raft = next(one for one in root.iter(SVG + "rect") if one.get("class") == "cut" and
                float(one.get("width")) > long * 0.8)
    assert float(raft.get("height")) * 1.2 / long == pytest.approx(0.0381, abs=0.0005)
    wet = float(raft.get("y")) + float(raft.get("height")) - water[0][1]
    assert wet * 1.2 / long == pytest.approx(0.008, abs=0.0006)


def test_a_bath_too_long_to_draw_is_broken_and_says_so():
    root = ElementTree.fromstring(section.tank(DESIGNS["30 m x 1.2 m"], True))
    assert len([one for one in root.iter() if "break" in (one.get("class") or "").split()]) == 4
    assert any("left out" in one.text for one in texts(root))
    assert "left out" in root.find(SVG + "desc").text


def test_dimensions_are_written_as_a_builder_writes_them():
    words = [one.text for one in texts(ElementTree.fromstring(section.tank(DESIGNS["4 x 2 ft"], True)))]
    assert {"48 in at the rim", "12 in", "10 in", "24 in"} <= set(words)
    words = [one.text for one in texts(ElementTree.fromstring(section.tank(DESIGNS["30 m x 1.2 m"], True)))]
    assert "30 m at the rim" in words
    long = plans.raft(made(9.0036, 1.2, 0.3, 0.25, 9, 5, 0.2, boards=2), True)
    assert "29 ft 6 in overall" in " ".join(one.text for one in texts(ElementTree.fromstring(long)))


def test_how_the_bath_is_filled_is_seen_and_told():
    told = {fill: ElementTree.fromstring(section.tank(made(1.2, 0.6, 0.3, 0.25, 4, 2, 0.2, bath__fill=fill), True))
            for fill in ("rim", "floor", "floor with check valve")}
    assert "over the rim" in told["rim"].find(SVG + "desc").text
    assert "without a check valve" in told["floor"].find(SVG + "desc").text
    assert "with a check valve" in told["floor with check valve"].find(SVG + "desc").text
    valves = [len([one for one in root.iter(SVG + "polygon") if one.get("class") == "solid"]) for root in told.values()]
    assert valves == [0, 0, 1]


def test_a_place_to_keep_free_is_drawn_and_a_half_typed_one_is_not():
    assert plans.raft(DESIGNS["4 x 2 ft, odd sixteenths"], True).count('class="keepout') == 1
    assert 'class="keepout' not in plans.raft(DESIGNS["4 x 2 ft"], True)


@pytest.mark.parametrize("name", DESIGNS)
def test_any_one_value_may_be_missing(name):
    full = DESIGNS[name]
    for number, key in enumerate(full.values):
        for gone in (None, nan, inf) if isinstance(full.values[key], float) else (None,):
            less = Drawn({**full.values, key: gone}, full.system, full.tables)
            for make in DRAWINGS.values():
                found = make(less, number % 2 == 0)
                assert found == "" or ElementTree.fromstring(found).tag == SVG + "svg"
                assert "nan" not in found and "inf " not in found, key


def test_with_nothing_known_there_is_no_drawing():
    assert [make(Drawn({}), wide) for make in DRAWINGS.values() for wide in (True, False)] == [""] * 10
    assert chart.pump_chart([], [], None, "flow", "push", "none") == ""
    assert chart.pump_chart([(0, nan), (1, 2)], None, None, "flow", "push", "none") == ""


def test_stones_drawn_are_the_stones_planned():
    for name, design in DESIGNS.items():
        root = ElementTree.fromstring(stone_plan.stone_plan(design, True))
        group = next(one for one in root.iter(SVG + "g") if "stone" in one.get("class").split())
        assert len(list(group)) == len(design.value("air.stone_rows")), name


def test_chart_shows_the_point_where_pump_and_line_meet():
    root = ElementTree.fromstring(chart.pump_chart(CURVE, LOAD, (100.0, 3.0), "flow", "head", "One pump"))
    lines = [one for one in root.iter(SVG + "polyline") if one.get("class").startswith("chart-line")]
    corners = points_of(lines[0])
    assert len(corners) == len(CURVE)
    point = next(one for one in root.iter(SVG + "circle"))
    # Half the top flow lies half way along the curve drawn, from shut-off on the left to no push on the right.
    assert float(point.get("cx")) == pytest.approx((corners[0][0] + corners[-1][0]) / 2, abs=0.2)
    drop = (corners[-1][1] - float(point.get("cy"))) / (corners[-1][1] - corners[0][1])
    assert drop == pytest.approx(3.0 / 5.0, abs=0.01)


def test_words_are_escaped_everywhere():
    nasty = 'Pump <script>"&'
    found = chart.pump_chart(CURVE, LOAD, None, nasty, nasty, nasty)
    found += svg.drawing(nasty, 10, 10, nasty, nasty, [svg.text(0, 0, nasty)])
    assert "<script>" not in found and "&lt;script&gt;" in found


def test_every_length_asked_and_every_deciding_question_has_a_picture_of_its_own():
    own = {pictograms.of(key).replace(key, "") for key in ("none of the questions", "board.none")}
    plain = {pictograms.of(key) for key in ("oxygen.plants", "use.volumes")} | own
    asked = [key for step in STEPS for key in step.asks]
    lengths = [key for key, field in FIELDS.items() if field.kind == "length"]
    assert len(lengths) > 40
    for key in asked + lengths:
        drawn = pictograms.of(key)
        root = ElementTree.fromstring(drawn)
        assert root.get("aria-hidden") == "true" and root.get("viewBox") == "0 0 44 32" and len(drawn) < 600
        assert drawn not in plain, key
        assert 'class="dim"' in drawn or 'class="leaf"' in drawn or key in ("board.pattern", "board.wanted"), key
        for element in root.iter():
            # A board may be cut at the edge of its picture; what is meant may not.
            if element.get("class") == "dim":
                assert all(0 <= x <= 44 and 0 <= y <= 32 for x, y in points_of(element)), (key, element.attrib)


def test_a_question_finds_its_own_size_in_the_drawing():
    """The dimension line of a field carries its key, so that the question with the focus thickens it."""
    def marked(*drawn):
        found = (one.get("data-dim") for text in drawn for one in ElementTree.fromstring(text).iter())
        return set(filter(None, found))
    for wide in (True, False):
        box, tote = DESIGNS["4 x 2 ft"], DESIGNS["tapered tote"]
        assert {"bath.length", "bath.width", "bath.depth", "bath.water_depth"} <= marked(section.tank(box, wide))
        assert {"bath.base_length", "bath.base_width"} <= marked(section.tank(tote, wide))
        assert {"bath.diameter", "bath.base_diameter"} <= marked(section.tank(DESIGNS["bucket"], wide))
        assert {"air.depth", "circulation.lift"} <= marked(section.air(box, wide))
        assert {"circulation.hose_bore", "circulation.hose_length", "air.stone_height"} <= marked(
            section.air(box, wide))
        assert {"reservoir.length", "reservoir.depth", "reservoir.water_depth"} <= marked(section.tank(box, wide))
        assert {"board.spacing", "board.pot", "board.hole"} <= marked(plans.raft(box, wide))


def test_a_hose_too_narrow_is_marked_and_named():
    tight = made(1.2, 0.6, 0.3, 0.25, 4, 2, 0.2, circulation__velocity=1.9, circulation__hose_bore=0.0127)
    wide_enough = made(1.2, 0.6, 0.3, 0.25, 4, 2, 0.2, circulation__velocity=0.9, circulation__hose_bore=0.0127)
    for wide in (True, False):
        assert "sign-tight" in section.air(tight, wide) and "too narrow" in section.air(tight, wide)
        assert "sign-tight" not in section.air(wide_enough, wide) and "narrow." not in section.air(wide_enough, wide)


def test_a_bath_flat_on_the_floor_has_its_reservoir_beside_it():
    flat = ElementTree.fromstring(section.tank(made(1.2, 0.6, 0.3, 0.25, 4, 2, 0.2, bath__legs=0), True))
    raised = ElementTree.fromstring(section.tank(made(1.2, 0.6, 0.3, 0.25, 4, 2, 0.2), True))

    def vessels_of(root):
        return [points_of(one) for one in root.iter(SVG + "polyline") if one.get("class") == "wall"]
    low, bath = vessels_of(flat)
    assert min(x for x, _ in low) > max(x for x, _ in bath)
    low, bath = vessels_of(raised)
    assert abs(max(y for _, y in low) - max(y for _, y in bath)) > 30


def test_stones_are_drawn_at_their_depth():
    """A stone 3 in from the water hangs there, whatever the floor is; its line tells the same length."""
    def drawn(depth):
        text = section.air(made(1.2, 0.6, 0.3, 0.25, 4, 2, 0.2, air__stone_depth=depth, air__stone_height=0.025), True)
        root = ElementTree.fromstring(text)
        line = next(one for one in root.iter(SVG + "path") if one.get("data-dim") == "air.depth")
        ys = [y for _, y in points_of(line)]
        bath = [one for one in root.iter(SVG + "polyline") if one.get("class") == "wall"][-1]
        deep = max(y for _, y in points_of(bath)) - min(y for _, y in points_of(bath))
        return (max(ys) - min(ys) - 2 * svg.TICK) / deep * 0.3, root.find(SVG + "desc").text
    size, said = drawn(0.075)
    assert size == pytest.approx(0.075, abs=0.004) and "8 air stones hang, 2 15/16 in under the water" in said
    size, said = drawn(0.225)
    assert size == pytest.approx(0.225, abs=0.008) and "8 air stones lie on the floor" in said


def test_letters_stand_for_words_that_find_no_room():
    labels = Labels(100.0)
    assert labels.put(["far too many words for this place"], [(50, 10, "middle")], below="the words in full")
    assert [one for one in labels.parts if ">A</text>" in one] and labels.below == ["A: the words in full"]
    assert labels.put(["A"], [(50, 10, "middle")]) is None, "the place is taken"
    assert labels.put(["B"], [(50, 10, "middle")], below="no room even for a letter") is None
    assert labels.below[-1] == "no room even for a letter"


def test_stones_on_a_round_floor_are_measured_from_its_centre():
    # 8 stones in a circle of 2 m: two inside and six on a ring of 75 cm, the first of which lies straight below.
    def said(**given):
        design = solve(Plan.from_mapping({key.replace("__", "."): text for key, text in given.items()}))
        return stone_plan.stone_plan(design, True)
    ring = said(bath__shape="round", bath__diameter="2 m", units="metric")
    assert "a disc 200 cm across" in ring and "First: from the center, 75 cm below it" in ring
    assert "200 cm by" not in ring and "lower left" not in ring
    assert "First: in the center" in said(bath__shape="tapered round")
    assert "48 in by 24 in" in said() and "from the lower left" in said()
