"""Drawings are read by eye and by ear: they must be well formed, to scale, told in words, and never overprint."""

import xml.etree.ElementTree as ElementTree
from itertools import combinations, pairwise
from math import inf, nan

import pytest

from calc import units
from calc.render import chart, plans, section, svg
from calc.plan import Plan
from calc.solve import SPECS, solve
from calc.traced import show_value

SVG = "{http://www.w3.org/2000/svg}"
GEOMETRY = {"x", "y", "width", "height", "cx", "cy", "r", "points", "d", "viewBox", "role", "aria-labelledby", "id",
            "class", "fill", "font-size", "text-anchor"}
KNOWN = {"ink", "water", "foam", "air", "pipe", "dim", "label", "hole", "seam", "ground", "reservoir", "stone", "pump",
         "chart-line", "chart-load", "chart-point", "solid", "break", "pot", "keepout"}


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
        return show_value(self.values[key], SPECS[key], self.system)


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
DRAWINGS = {"section": section.bath_section, "raft": plans.raft_plan, "stones": plans.stone_plan}
CASES = [pytest.param(make(design), id=f"{kind}, {name}") for name, design in DESIGNS.items()
         for kind, make in DRAWINGS.items()]
CURVE = [(i * 20.0, 5 * (1 - (i / 10) ** 2)) for i in range(11)]
LOAD = [(i * 20.0, 2.5 + 0.04 * i * i) for i in range(15)]
CASES.append(pytest.param(chart.pump_chart(CURVE, LOAD, (118.0, 3.2), "flow, gph", "head, ft", "Pump <1> & line"),
                          id="chart"))
CASES.append(pytest.param(chart.pump_chart([(0, 123456.0), (0.0004, 0)], [], None, "flow, L/h " * 20, "push " * 40,
                                             "long words " * 20), id="chart with long words"))


def points_of(element):
    """Corners of the box of one element, as far as geometry alone tells."""
    get = lambda name: float(element.get(name, 0))  # noqa: E731
    tag = element.tag.removeprefix(SVG)
    if tag == "rect":
        return [(get("x"), get("y")), (get("x") + get("width"), get("y") + get("height"))]
    if tag == "circle":
        return [(get("cx") - get("r"), get("cy") - get("r")), (get("cx") + get("r"), get("cy") + get("r"))]
    if tag in ("polyline", "polygon"):
        return [tuple(map(float, pair.split(","))) for pair in element.get("points").split()]
    if tag == "path":
        found, x, y = [], 0.0, 0.0
        word = element.get("d")
        for letter in "MLHVZ":
            word = word.replace(letter, f" {letter} ")
        rest = word.split()
        while rest:
            step = rest.pop(0)
            if step in "ML":
                x, y = float(rest.pop(0)), float(rest.pop(0))
            elif step == "H":
                x = float(rest.pop(0))
            elif step == "V":
                y = float(rest.pop(0))
            else:
                assert step == "Z", step
            found.append((x, y))
        return found
    return []


def letters_box(element):
    """Estimated box of a text."""
    size = float(element.get("font-size"))
    wide = svg.text_width(element.text, size)
    x, y = float(element.get("x")), float(element.get("y"))
    left = {"start": x, "middle": x - wide / 2, "end": x - wide}[element.get("text-anchor")]
    return left, y - size * 0.78, left + wide, y + size * 0.2


def texts(root):
    return root.findall(f".//{SVG}text")


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
def test_nothing_leaves_the_picture(made_svg):
    root = ElementTree.fromstring(made_svg)
    _, _, wide, high = map(float, root.get("viewBox").split())
    seen = 0
    for element in root.iter():
        for x, y in points_of(element):
            seen += 1
            assert 0 <= x <= wide and 0 <= y <= high, (element.tag, element.attrib)
    assert seen > 10
    for element in texts(root):
        left, top, right, low = letters_box(element)
        assert left >= 0 and top >= 0 and right <= wide + 0.5 and low <= high, element.text


@pytest.mark.parametrize("made_svg", CASES)
def test_no_two_texts_touch(made_svg):
    boxes = [(letters_box(element), element.text) for element in texts(ElementTree.fromstring(made_svg))]
    assert boxes
    for (a, first), (b, second) in combinations(boxes, 2):
        apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] + 0.6 or b[3] <= a[1] + 0.6
        assert apart, (first, second)


def holes_drawn(made_svg):
    group = [one for one in ElementTree.fromstring(made_svg).iter(SVG + "g") if one.get("class") == "hole"]
    return [one for found in group for one in found.iter(SVG + "circle")]


@pytest.mark.parametrize("name", DESIGNS)
def test_every_hole_is_drawn_once(name):
    circles = holes_drawn(plans.raft_plan(DESIGNS[name]))
    assert len(circles) == len(DESIGNS[name].value("board.holes")) > 0
    assert len({(one.get("cx"), one.get("cy")) for one in circles}) == len(circles)


def test_few_holes_are_all_numbered_in_the_order_of_the_list():
    design = DESIGNS["4 x 2 ft"]
    made_svg = plans.raft_plan(design)
    numbers = {one.text: one for one in texts(ElementTree.fromstring(made_svg)) if one.text.isdigit()}
    assert list(numbers) == [str(n) for n in range(1, 19)]
    for number, circle in enumerate(holes_drawn(made_svg), 1):
        assert float(numbers[str(number)].get("x")) == pytest.approx(float(circle.get("cx")), abs=0.11)


def test_many_holes_are_numbered_at_the_ends_of_their_rows():
    design = DESIGNS["10 ft of small pots"]
    numbers = {int(one.text) for one in texts(ElementTree.fromstring(plans.raft_plan(design))) if one.text.isdigit()}
    firsts, lasts = {1 + 14 * row for row in range(8)}, {8 * 14 + 14 * (row + 1) for row in range(8)}
    assert numbers == firsts | lasts


@pytest.mark.parametrize("name", ["4 x 2 ft", "30 m x 1.2 m", "turned"])
def test_raft_is_to_scale_across_along_and_in_its_holes(name):
    design = DESIGNS[name]
    circles = holes_drawn(plans.raft_plan(design))
    rows = design.value("board.holes")
    a, b = circles[0], circles[1]
    drawn = abs(float(a.get("cx")) - float(b.get("cx"))) + abs(float(a.get("cy")) - float(b.get("cy")))
    real = abs(rows[0]["x"] - rows[1]["x"]) + abs(rows[0]["y"] - rows[1]["y"])
    scale = drawn / real
    assert 2 * float(a.get("r")) / scale == pytest.approx(design.value("board.hole_diameter"), rel=0.06)
    boards = [one for one in ElementTree.fromstring(plans.raft_plan(design)).iter(SVG + "rect")]
    sides = sorted(float(boards[0].get(side)) / scale for side in ("width", "height"))
    piece = design.value("board.pieces")[0]
    if name != "turned":  # its one board is drawn in several lengths
        assert sides == pytest.approx(sorted((piece["length"], piece["width"])), rel=0.03)


def test_section_is_to_scale_where_it_does_not_say_otherwise():
    made_svg = section.bath_section(made(1.2, 0.6, 0.4, 0.3, 4, 2, 0.2))
    assert "Length not to scale" not in made_svg
    root = ElementTree.fromstring(made_svg)
    water = points_of(next(one for one in root.iter(SVG + "polygon") if one.get("class") == "water"))
    long, deep = water[1][0] - water[0][0], water[3][1] - water[0][1]
    assert long / deep == pytest.approx(1.2 / 0.3, rel=0.01)
    raft = next(one for one in root.iter(SVG + "rect") if one.get("class") == "foam")
    assert float(raft.get("height")) * 1.2 / long == pytest.approx(0.0381, abs=0.0005)
    wet = float(raft.get("y")) + float(raft.get("height")) - water[0][1]
    assert wet * 1.2 / long == pytest.approx(0.008, abs=0.0006)


def test_a_bath_too_long_to_draw_is_broken_and_says_so():
    root = ElementTree.fromstring(section.bath_section(DESIGNS["30 m x 1.2 m"]))
    assert len([one for one in root.iter() if "break" in (one.get("class") or "").split()]) == 2
    assert any("not to scale" in one.text for one in texts(root))
    assert "not to scale" in root.find(SVG + "desc").text


def test_dimensions_are_written_as_a_builder_writes_them():
    words = [one.text for one in texts(ElementTree.fromstring(section.bath_section(DESIGNS["4 x 2 ft"])))]
    assert {"48 in at the rim", "12 in", "10 in", "raft 1 1/2 in thick", "water 2 in down"} <= set(words)
    words = [one.text for one in texts(ElementTree.fromstring(section.bath_section(DESIGNS["30 m x 1.2 m"])))]
    assert "30 m at the rim" in words
    assert "29 ft 6 in overall" in " ".join(
        one.text for one in texts(ElementTree.fromstring(plans.raft_plan(made(9.0036, 1.2, 0.3, 0.25, 9, 5, 0.2)))))


def test_how_the_bath_is_filled_is_seen_and_told():
    told = {fill: ElementTree.fromstring(section.bath_section(made(1.2, 0.6, 0.3, 0.25, 4, 2, 0.2, bath__fill=fill)))
            for fill in ("rim", "floor", "floor with check valve")}
    assert "over the rim" in told["rim"].find(SVG + "desc").text
    assert "without a check valve" in told["floor"].find(SVG + "desc").text
    assert "with a check valve" in told["floor with check valve"].find(SVG + "desc").text
    valves = [len([one for one in root.iter(SVG + "polygon") if one.get("class") == "solid"]) for root in told.values()]
    assert valves == [0, 0, 1]


def test_a_place_to_keep_free_is_drawn_and_a_half_typed_one_is_not():
    assert plans.raft_plan(DESIGNS["4 x 2 ft, odd sixteenths"]).count('class="keepout') == 1
    assert 'class="keepout' not in plans.raft_plan(DESIGNS["4 x 2 ft"])


@pytest.mark.parametrize("name", DESIGNS)
def test_any_one_value_may_be_missing(name):
    full = DESIGNS[name]
    for key in full.values:
        for gone in (None, nan, inf) if isinstance(full.values[key], float) else (None,):
            less = Drawn({**full.values, key: gone}, full.system, full.tables)
            for make in DRAWINGS.values():
                found = make(less)
                assert found == "" or ElementTree.fromstring(found).tag == SVG + "svg"
                assert "nan" not in found and "inf " not in found, key


def test_with_nothing_known_there_is_no_drawing():
    assert [make(Drawn({})) for make in DRAWINGS.values()] == ["", "", ""]
    assert chart.pump_chart([], [], None, "flow", "push", "none") == ""
    assert chart.pump_chart([(0, nan), (1, 2)], None, None, "flow", "push", "none") == ""


def test_stones_drawn_are_the_stones_planned():
    for name, design in DESIGNS.items():
        root = ElementTree.fromstring(plans.stone_plan(design))
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
    found += section.bath_section(made(1.2, 0.6, 0.3, 0.25, 4, 2, 0.2, circulation__pump_name=nasty))
    assert "<script>" not in found and "&lt;script&gt;" in found


def test_labels_pushed_apart_keep_their_distance_and_their_order():
    placed = svg.spread([50.0, 52.0, 51.0, 200.0], 19.0, 10.0)
    assert placed == sorted(placed) and len(placed) == 4
    assert all(b - a >= 19.0 - 1e-9 for a, b in pairwise(placed))
    assert placed[-1] == 200.0


def test_stones_on_a_round_floor_are_measured_from_its_centre():
    # 8 stones in a circle of 2 m: two inside and six on a ring of 75 cm, the first of which lies straight below.
    def said(**given):
        return plans.stone_plan(solve(Plan.from_mapping({key.replace("__", "."): text for key, text in given.items()})))
    ring = said(bath__shape="round", bath__diameter="2 m", units="metric")
    assert "a disc 200 cm across" in ring and "First: from the centre, 75 cm below it" in ring
    assert "200 cm by" not in ring and "lower left" not in ring
    assert "First: in the centre" in said(bath__shape="tapered round")
    assert "48 in by 24 in" in said() and "from the lower left" in said()
