"""How to cut the raft: its boards, where the holes go, and whether it floats with a harvest on it."""

from __future__ import annotations

from functools import lru_cache
from math import ceil, pi

from .. import layout
from ..data import foam as foams, saws
from ..declare import Choice, Field, Result, Table
from ..relations import floating, layout as counting
from ..relations.base import MEMORY, PRACTICE

NAME = "board"
TITLE = "Board"
QUESTION = "How do I cut the raft, where do the holes go, and will it float?"

INCH = 0.0254
MOST_SITES = 20000
MOST_BOARDS = 400
THIN_WEB_M = INCH
LOW_FREEBOARD_M = INCH / 4
FAR_SAW_M = INCH / 4
PLANT_CENTRE_M = 0.10
NUMBERED = (("board.split", ("number",)),)
INVENTED = "an invented example; weigh your own"

FIELDS = (
    Field("board.pot", "length", "Net pot size", ("2 in", "50 mm"), 0.01, 0.5, "in", "mm",
          help="the nominal size it is sold by, or the width you measure just under its lip",
          why="the usual pot for lettuce and herbs", essential=True),
    Field("board.thickness", "length", "Board thickness", ("1 1/2 in", "40 mm"), 0.005, 0.3, "in", "mm",
          help="of the foam board", why=f"stiff enough and sold everywhere; {PRACTICE}"),
    Field("board.clearance", "length", "Gap at each side", ("1/4 in", "6 mm"), 0.0, 0.2, "in", "mm",
          help="between the board and the wall of the bath, at the water line",
          why=f"enough to lift the board out, not enough to let much light in; {PRACTICE}"),
    Field("board.margin", "length", "Board edge to hole edge", ("1 1/2 in", "40 mm"), 0.0, 0.5, "in", "mm",
          help="kept at every edge of every board, so at each side of a seam too",
          why=f"as much foam as the board is thick; {PRACTICE}"),
    Field("board.spacing", "length", "Spacing, centre to centre", ("", ""), 0.02, 3.0, "in", "mm",
          help="no two holes come closer than this", optional=True,
          why=f"empty: what the crops chosen ask for; 8 in or 200 mm for leaf lettuce, {PRACTICE}"),
    Field("board.pattern", "choice", "Pattern of the holes", ("best", "best"), choices=(
        Choice("best", "Whichever gives the most sites"), Choice("square", "Square rows"),
        Choice("staggered", "Staggered rows")),
        help="staggered rows are shifted by half a step", why="the most sites for the water you have"),
    Field("board.wanted", "whole", "Sites wanted in each bath", ("", ""), 1, MOST_SITES, optional=True,
          help="left empty, as many as fit; a number is spread as widely as it goes",
          why="empty: the most that fit"),
    Field("board.hole", "length", "Your own hole size", ("", ""), 0.005, 0.5, "in", "mm", optional=True,
          help="if you have measured the pot or own a saw; left empty, it is worked out from the pot",
          why="empty: from the pot and the saws in stock"),
    Field("board.split", "choice", "How the raft is split into boards", ("auto", "auto"), choices=(
        Choice("auto", "As few boards as one person can lift"), Choice("number", "My own number of boards")),
        help="a round raft is split through its centre", why="fewest seams"),
    Field("board.boards_along", "whole", "Boards along the length", ("1", "1"), 1, 100,
          help="side by side along the longer side of the bath", why="one whole board", when=NUMBERED),
    Field("board.boards_across", "whole", "Boards across the width", ("1", "1"), 1, 100,
          help="side by side across the bath", why="one whole board", when=NUMBERED),
    Field("board.max_length", "length", "Longest board one person handles", ("4 ft", "120 cm"), 0.1, 60.0, "in", "cm",
          help="a longer board bends and drips when it is lifted full", why=PRACTICE),
    Field("board.max_mass", "mass", "Heaviest board one person lifts", ("25 lb", "11 kg"), 0.1, 500.0, "lb", "kg",
          help="with its pots and plants at harvest, at arm's length over the bath", why=PRACTICE),
    Field("board.foam", "choice", "Foam", ("XPS IV", "XPS IV"), choices=tuple(
        Choice(one.key, one.name, f"at least {one.density_kg_m3:g} kg/m3; takes up at most "
               f"{one.absorption:.1%} of its volume in water") for one in foams.FOAMS),
        help="the class is printed on the board", why=f"closed cells, hardly takes up water: {foams.SOURCE}"),
    Field("board.plant_mass", "mass", "Plant at harvest, each", ("7 oz", "200 g"), 0.0, 20.0, "oz", "g",
          help="tops and the roots that hang from the board", why=INVENTED),
    Field("board.pot_mass", "mass", "Pot with wet plug, each", ("2 oz", "60 g"), 0.0, 20.0, "oz", "g",
          help="net pot, plug and the water held in it", why=INVENTED),
    Field("board.sheet_length", "length", "Foam sheet length", ("8 ft", "250 cm"), 0.1, 10.0, "in", "cm",
          help="as sold near you", why="a usual size of sheet"),
    Field("board.sheet_width", "length", "Foam sheet width", ("4 ft", "120 cm"), 0.1, 10.0, "in", "cm",
          help="as sold near you", why="a usual size of sheet; in some countries 60 cm"),
    Field("board.kerf", "length", "Width of the saw cut", ("1/8 in", "3 mm"), 0.0, 0.02, "in", "mm",
          help="foam lost to each cut; 0 for a knife", why=f"a hand saw or jigsaw; {PRACTICE}"),
)
TABLES = (
    Table("board.keepouts", "Places to keep free of holes", (
        Field("name", "text", "What is there"),
        Field("x", "length", "From the left", ("0", "0"), 0.0, 60.0, "in", "cm",
              help="along the length, from one corner of the opening at the water line"),
        Field("y", "length", "From the front", ("0", "0"), 0.0, 60.0, "in", "cm",
              help="across the width, from the same corner"),
        Field("length", "length", "Length", ("6 in", "15 cm"), 0.001, 60.0, "in", "cm"),
        Field("width", "length", "Width", ("6 in", "15 cm"), 0.001, 60.0, "in", "cm"),
    ), help="fill pipe, overflow, access hatch: rectangles that no hole may cut into; for a round bath measured from "
       "the corner of the square round it", why="none to begin with"),
)

RESULTS = (
    Result("board.raft_length", "length", "Whole raft, length", "in", "mm", 16),
    Result("board.raft_width", "length", "Whole raft, width", "in", "mm", 16),
    Result("board.length", "length", "Each board, length", "in", "mm", 16),
    Result("board.width", "length", "Each board, width", "in", "mm", 16),
    Result("board.count", "count", "Boards in each bath", headline=True),
    Result("board.pieces", "rows", "Boards, with their places"),
    Result("board.seams", "rows", "Seams between boards"),
    Result("board.hole_diameter", "length", "Hole diameter", "in", "mm", 16),
    Result("board.saw", "text", "Hole saw"),
    Result("board.layout", "text", "Pattern used"),
    Result("board.spacing_used", "length", "Spacing used, centre to centre", "in", "mm", 16),
    Result("board.sites", "count", "Sites in each bath", headline=True),
    Result("board.sites_per_board", "count", "Sites on the fullest board"),
    Result("board.holes", "rows", "Hole centres, from one corner of each board"),
    Result("board.area", "area", "Area of the boards of one bath", "ft2", "m2"),
    Result("board.site_density", "site_density", "Sites to an area of board", "/ft2", "/m2"),
    Result("board.cover", "ratio", "Share of the water covered", "%", "%"),
    Result("board.hole_share", "ratio", "Share of the board cut away by holes", "%", "%"),
    Result("board.web", "length", "Foam left between two holes", "in", "mm", 16),
    Result("board.load", "area_mass", "Plants and pots at harvest, on an area of board", "lb/ft2", "kg/m2"),
    Result("board.capacity", "area_mass", "Load that just sinks it, on an area of board", "lb/ft2", "kg/m2"),
    Result("board.mass", "mass", "Heaviest board at harvest, with plants", "lb", "kg"),
    Result("board.draught", "length", "How deep it floats at harvest", "in", "mm", 16),
    Result("board.freeboard", "length", "Foam above the water at harvest", "in", "mm", 16),
    Result("board.draught_soaked", "length", "How deep it floats when the foam has drunk its fill", "in", "mm", 16),
    Result("board.edge_draught", "length", "How deep the low edge goes with one half harvested", "in", "mm", 16),
    Result("board.spare_load", "mass", "What a board can still carry at harvest", "lb", "kg"),
    Result("board.r_value", "text", "Insulation of the board"),
    Result("board.pieces_per_sheet", "count", "Boards out of one foam sheet"),
    Result("board.sheets", "count", "Foam sheets to buy, for all baths"),
    Result("board.waste", "ratio", "Foam left over", "%", "%"),
)



def spacing_of(sheet) -> float:
    """Least distance of two holes in m: as typed, or what the crops chosen ask for."""
    typed = sheet.get("board.spacing")
    return sheet.result("crops.spacing") if typed is None else typed


def _length(sheet, value: float) -> str:
    return sheet.show(value, "length", "in", "mm", 16)


def _room_text(sheet, value: float) -> str:
    """An upper bound, rounded down to a size that can be typed and will be accepted."""
    step = 1e-3 if sheet.system == "metric" else INCH / 16
    return _length(sheet, max(0.0, step * layout.whole(value / step)))


def raft(sheet) -> None:
    """The opening at the water line, less the gap at each side."""
    sides = [sheet.result("water.opening_length"), sheet.result("water.opening_width")]
    gap = sheet["board.clearance"]
    if 2 * gap >= min(sides) - 1e-9:
        sheet.fault("board.clearance", f"Gap at each side leaves no board: the opening at the water line is "
                    f"{_length(sheet, min(sides))} wide, so enter less than {_length(sheet, min(sides) / 2)}.")
    for side, size in zip(("length", "width"), sides, strict=True):
        sheet.put(f"board.raft_{side}", size - 2 * gap,
                  note="The opening at the water line, less the gap at both sides.")


def hole(sheet) -> None:
    """From the pot to the hole, and to a saw that a shop has."""
    pot, own = sheet["board.pot"], sheet.get("board.hole")
    if pot >= spacing_of(sheet) - 1e-9:
        sheet.fault("board.pot", f"Net pot size is not smaller than the spacing: enter less than "
                    f"{_length(sheet, spacing_of(sheet))}, or a wider spacing.")
    if own is not None:
        if own >= pot - 1e-9:
            sheet.fault("board.hole", f"Your own hole size would let the pot fall through: enter less than the pot's "
                        f"{_length(sheet, pot)}.")
        if own > pot - saws.LEAST_LIP_M + 1e-9:
            sheet.caution("hole-large", "warning", "The hole is less than 1/16 in (1.6 mm) under the pot's size: try "
                          "one pot in a scrap of foam before you cut them all, or it may drop through.")
        sheet.put("board.hole_diameter", own, note="Your own size.")
        sheet.put("board.saw", f"your own, {_length(sheet, own)}", note="Your own size.")
        return
    saw, target = saws.nearest_saw(pot), pot - saws.UNDER_NOMINAL_M
    if saw is not None and abs(saw.diameter_m - target) <= FAR_SAW_M:
        sheet.put("board.hole_diameter", saw.diameter_m, source=saws.RULE_SOURCE,
                  note="The stock hole saw nearest to 1/8 in (3 mm) under the pot's nominal size.")
        sheet.put("board.saw", saw.name, source=saws.SOURCE, note="Nearest size usually in stock.")
    else:
        sheet.put("board.hole_diameter", target, source=saws.RULE_SOURCE,
                  note="1/8 in (3 mm) under the pot's nominal size.")
        sheet.put("board.saw", f"none in stock is near {_length(sheet, target)}: use a circle cutter or a jigsaw",
                  source=saws.SOURCE, note="No stock saw lies within 1/4 in of it.")
    sheet.caution("measure-pot", "note", "Pots sold under one size differ: measure yours just under the lip, cut one "
                  "hole in a scrap of foam and try the pot in it before you drill the board.")


def _keepouts(sheet) -> tuple[layout.Rectangle, ...]:
    """The rectangles to keep free, in the opening's own measures; one that misses the opening is a fault."""
    found = []
    sides = sheet.result("water.opening_length"), sheet.result("water.opening_width")
    for row in sheet.rows("board.keepouts"):
        if row["x"] >= sides[0] or row["y"] >= sides[1]:
            sheet.fault("board.keepouts", f"Places to keep free: “{row['name'][:40]}” begins outside the opening, "
                        f"which is {_length(sheet, sides[0])} by {_length(sheet, sides[1])}.")
        found.append((row["x"], row["y"], row["length"], row["width"]))
    return tuple(found)


Placed = tuple[float, float, float, float, layout.Layout]


@lru_cache(maxsize=64)
def board_layouts(raft_length_m: float, raft_width_m: float, round_raft: bool, gap_m: float, along: int, across: int,
                  keepouts: tuple[layout.Rectangle, ...], edge_m: float, hole_radius_m: float, spacing_m: float,
                  pattern: str, quick: bool = False) -> tuple[Placed, ...]:
    """(x, y, length, width, layout) of each board; x and y from the corner of the opening, holes from the board's.

    ``edge_m`` is board edge to hole centre; ``quick`` searches less, for trying many spacings.
    The spacing is kept across seams too: plants do not see them. Without keep-outs, boards of one size
    share one layout unless a layout of the whole raft holds more.
    """
    long, wide = raft_length_m / along, raft_width_m / across
    cells = [(column * long, row * wide) for row in range(across) for column in range(along)]
    shared = None
    if not round_raft and not keepouts:
        edges = [max(edge_m, spacing_m / 2) if count > 1 else edge_m for count in (along, across)]
        shared = layout.rectangle(long, wide, edges[0], spacing_m, pattern, edges[1])
        if along * across == 1:
            return ((gap_m, gap_m, long, wide, shared),)
    radius = raft_length_m / 2
    near = tuple((x - gap_m, y - gap_m, size, breadth) for x, y, size, breadth in keepouts)
    if round_raft and radius < edge_m - 1e-9:
        placed = layout.Layout(layout.SQUARE, "length", spacing_m, spacing_m, ())
    else:
        region = layout.Region(
            edge_m, edge_m, raft_length_m - edge_m, raft_width_m - edge_m,
            (radius, radius, radius - edge_m) if round_raft else None, near, hole_radius_m,
            tuple(long * number for number in range(1, along)), tuple(wide * number for number in range(1, across)),
            edge_m)
        placed = layout.search(region, spacing_m, pattern, quick)
    if shared and shared.count * along * across >= placed.count:
        return tuple((gap_m + x, gap_m + y, long, wide, shared) for x, y in cells)
    holes: list[list[tuple[float, float]]] = [[] for _ in cells]
    for x, y in placed.points:
        column, row = min(int(x / long), along - 1), min(int(y / wide), across - 1)
        holes[row * along + column].append((x - column * long, y - row * wide))
    found = []
    for (x, y), points in zip(cells, holes, strict=True):
        # A square of the grid wholly outside a round raft is no board.
        dx, dy = (max(low - radius, radius - low - size, 0.0) for low, size in ((x, long), (y, wide)))
        if not round_raft or dx * dx + dy * dy < radius * radius - 1e-12:
            found.append((gap_m + x, gap_m + y, long, wide, layout.Layout(
                placed.pattern, placed.along, placed.pitch_m, placed.row_pitch_m, tuple(points))))
    return tuple(found)


def _arguments(sheet, along: int, across: int, keepouts) -> tuple:
    diameter = sheet.result("board.hole_diameter")
    return (sheet.result("board.raft_length"), sheet.result("board.raft_width"),
            sheet.result("water.opening_shape") == "round", sheet["board.clearance"], along, across, keepouts,
            sheet["board.margin"] + diameter / 2, diameter / 2)


def _split(sheet, keepouts) -> tuple[int, int]:
    """Boards along and across: the reader's own, or the fewest that one person can lift and a sheet can give."""
    if sheet["board.split"] == "number":
        along, across = sheet["board.boards_along"], sheet["board.boards_across"]
        if along * across > MOST_BOARDS:
            sheet.fault("board.boards_along", f"Boards along the length: with those across it makes more than "
                        f"{MOST_BOARDS} boards; enter {max(1, MOST_BOARDS // across)} or less.")
        return along, across
    raft_length, raft_width = sheet.result("board.raft_length"), sheet.result("board.raft_width")
    round_raft = sheet.result("water.opening_shape") == "round"
    longest, heaviest = sheet["board.max_length"], sheet["board.max_mass"]
    sides = sheet["board.sheet_length"], sheet["board.sheet_width"]
    site_mass = sheet["board.plant_mass"] + sheet["board.pot_mass"]
    foam_mass = foams.BY_KEY[sheet["board.foam"]].density_kg_m3 * sheet["board.thickness"]
    edge = sheet["board.margin"] + sheet.result("board.hole_diameter") / 2

    def suits(along: int, across: int) -> bool:
        long, wide = raft_length / along, raft_width / across
        if max(long, wide) > min(longest, max(sides)) + 1e-9 or min(long, wide) > min(sides) + 1e-9:
            return False
        # Keep-outs and rounding take holes away, so the plain rectangle is the heaviest the board can be.
        sites = layout.rectangle_count(long, wide, edge, spacing_of(sheet), sheet["board.pattern"])
        share = pi / 4 if round_raft else 1.0
        return share * (long * wide * foam_mass + sites * site_mass) <= heaviest + 1e-9

    # A seam that leaves boards too small for one hole helps nobody.
    most_along, most_across = (max(1, layout.whole(side / (2 * edge))) for side in (raft_length, raft_width))
    if round_raft:
        # Doubling keeps a seam through the centre.
        tried = [(2 ** ((step + 1) // 2), 2 ** (step // 2)) for step in range(9)]
        found = next((pair for pair in tried if max(pair) <= most_along and suits(*pair)), None)
        return found or max(pair for pair in tried if max(pair) <= most_along)
    best = None
    for across in range(1, min(most_across, MOST_BOARDS) + 1):
        limit = min(most_along, (best[0] * best[1] - 1 if best else MOST_BOARDS) // across)
        along = next((number for number in range(max(1, ceil(raft_length / max(longest, max(sides)) - 1e-9)), limit + 1)
                      if suits(number, across)), None)
        if along:
            best = along, across
    if best is None:
        # The lightest split there is; what is still too long or too heavy is said with the boards.
        best = most_along, min(most_across, max(1, MOST_BOARDS // most_along))
        if most_along > MOST_BOARDS:
            sheet.fault("board.max_length", f"Longest board one person handles: this raft would need more than "
                        f"{MOST_BOARDS} boards; allow longer or heavier boards, or a larger foam sheet.")
    return best


def boards(sheet) -> None:
    """The boards, and a hole for each site."""
    diameter, spacing = sheet.result("board.hole_diameter"), spacing_of(sheet)
    keepouts = _keepouts(sheet)
    raft_length, raft_width = sheet.result("board.raft_length"), sheet.result("board.raft_width")
    if layout.most_points(raft_length * raft_width, 2 * (raft_length + raft_width), spacing) > 1.25 * MOST_SITES:
        sheet.fault("board.spacing", f"Spacing is too small for so large a raft: it would make more than "
                    f"{MOST_SITES:,} sites, which is as many as are laid out here; enter a wider spacing.")
    along, across = _split(sheet, keepouts)
    _check_room(sheet, raft_length / along, raft_width / across, diameter)
    fixed = _arguments(sheet, along, across, keepouts)
    pattern = sheet["board.pattern"]
    used = _spread(sheet, fixed, spacing, pattern)
    found = board_layouts(*fixed, used, pattern)
    sites = sum(one[4].count for one in found)
    if not sites:
        key, what = ("board.keepouts", "Places to keep free")
        if not keepouts:
            key, what = ("board.margin", "Board edge to hole edge")
        sheet.fault(key, f"{what}: no room is left for a hole in any board; make the places smaller, or use fewer "
                    "seams or a smaller margin.")
    _put_boards(sheet, found, raft_length / along, raft_width / across, along, across)
    _put_sites(sheet, found, used, sites)


def _check_room(sheet, long: float, wide: float, diameter: float) -> None:
    """A hole and its two margins have to fit the board's narrower side."""
    # A cut disc is narrowest at its rounded corners; the search itself tells whether a hole is left there.
    if min(long, wide) + 1e-9 >= diameter + 2 * sheet["board.margin"]:
        return
    if min(long, wide) <= diameter:
        sheet.fault("board.pot", f"Net pot size needs a hole of {_length(sheet, diameter)}, and a board is only "
                    f"{_length(sheet, min(long, wide))} wide: take a smaller pot or fewer boards.")
    room = (min(long, wide) - diameter) / 2
    sheet.fault("board.margin", f"Board edge to hole edge leaves no room for a hole in a board "
                f"{_length(sheet, min(long, wide))} wide: enter {_room_text(sheet, room)} or less.")


def _spread(sheet, fixed: tuple, spacing: float, pattern: str) -> float:
    """The spacing used: as typed, or wider where a number of sites was asked for."""
    wanted = sheet.get("board.wanted")
    if wanted is None:
        return spacing

    def count(distance: float, quick: bool = True) -> int:
        return sum(one[4].count for one in board_layouts(*fixed, distance, pattern, quick))

    step = 1e-3 if sheet.system == "metric" else INCH / 16
    # No spacing wider than this can hold so many (Oler's inequality, turned round), so the search starts below it.
    area, rim = fixed[0] * fixed[1], fixed[0] + fixed[1]
    widest = fixed[0] + fixed[1]
    if wanted > 1:
        widest = min(widest, (rim + (rim ** 2 + 4 * (wanted - 1) * 2 * area / 3 ** 0.5) ** 0.5) / (2 * (wanted - 1)))
    found = layout.spread(wanted, spacing, widest, step, count)
    most = wanted if found else count(spacing, quick=False)
    if most < wanted:
        sheet.caution("wanted-too-many", "warning",
                      f"{wanted:,} sites do not fit: at {_length(sheet, spacing)} apart there is room for {most:,} in "
                      "each bath, and that is what is drawn. A closer spacing, a smaller margin or fewer seams make "
                      "more.")
    return found or spacing


def _put_boards(sheet, found, long: float, wide: float, along: int, across: int) -> None:
    note = "The whole raft, parted into equal boards." if along * across > 1 else "One board, the whole raft."
    sheet.put("board.length", long, note=note)
    sheet.put("board.width", wide, note=note)
    sheet.put("board.count", len(found), note="Boards to cut for one bath.")
    sheet.put("board.pieces", [{"board": number, "x": x, "y": y, "length": size, "width": breadth,
                                "sites": placed.count}
                               for number, (x, y, size, breadth, placed) in enumerate(found, 1)],
              note="Measured from one corner of the opening at the water line.")
    gap = sheet["board.clearance"]
    raft_length, raft_width = long * along, wide * across
    seams = []
    round_raft = sheet.result("water.opening_shape") == "round"
    for count, step, size, other in ((along, long, raft_length, "x"), (across, wide, raft_width, "y")):
        for number in range(1, count):
            place = number * step
            # A seam of a round raft is a chord of it.
            half = (max(place * (size - place), 0.0)) ** 0.5 if round_raft else None
            reach = raft_width if other == "x" else raft_length
            low, high = (gap + reach / 2 - half, gap + reach / 2 + half) if round_raft else (gap, gap + reach)
            ends = {"x1": gap + place, "y1": low, "x2": gap + place, "y2": high} if other == "x" else \
                {"x1": low, "y1": gap + place, "x2": high, "y2": gap + place}
            seams.append(ends)
    sheet.put("board.seams", seams, note="From one corner of the opening; cover each with foil tape against light.")


PATTERN_WORDS = {layout.SQUARE: "Square rows", layout.STAGGERED: "Staggered rows",
                 layout.ROWS: "Straight rows, each filled on its own"}


def _put_sites(sheet, found, used: float, sites: int) -> None:
    sheet.put("board.spacing_used", used, note="As entered, or wider to spread the number wanted; no two centres are "
              "closer, across seams too.")
    fullest = max((one[4] for one in found), key=lambda one: one.count)
    sheet.put("board.layout", f"{PATTERN_WORDS[fullest.pattern]} along the {fullest.along}: holes "
              f"{_length(sheet, fullest.pitch_m)} apart, rows {_length(sheet, fullest.row_pitch_m)} apart",
              note="The fullest of square and staggered rows, both ways round and at every offset, that the pattern "
              "asked for allows.")
    sheet.put("board.sites", sites, note="Counted hole by hole, all boards of one bath.")
    sheet.put("board.sites_per_board", fullest.count, note="On the board with the most holes.")
    sheet.put("board.holes", [{"board": number, "x": x, "y": y} for number, one in enumerate(found, 1)
                              for x, y in one[4].points],
              note="x along the length and y across, from one corner of each board.")


def _board_area(sheet, piece: dict, raft_area: float) -> float:
    """Area of one board in m2: its own rectangle, or its share of a round raft."""
    if sheet.result("water.opening_shape") != "round":
        return piece["length"] * piece["width"]
    pieces = sheet.result("board.pieces")
    if len(pieces) in (1, 2, 4):
        return raft_area / len(pieces)
    radius = sheet.result("board.raft_length") / 2
    centre = sheet["board.clearance"] + radius
    return _cell_in_disc(piece["x"] - centre, piece["y"] - centre, piece["length"], piece["width"], radius)


def _cell_in_disc(x: float, y: float, long: float, wide: float, radius: float, strips: int = 400) -> float:
    """Area of a rectangle inside a circle round the origin, by the midpoint rule (within a thousandth)."""
    total = 0.0
    for number in range(strips):
        at = x + (number + 0.5) * long / strips
        half = max(radius * radius - at * at, 0.0) ** 0.5
        total += max(0.0, min(y + wide, half) - max(y, -half))
    return total * long / strips


def coverage(sheet) -> None:
    """How dense the sites are, how much water is covered, and the foam left between holes."""
    sites, diameter = sheet.result("board.sites"), sheet.result("board.hole_diameter")
    area = sheet.result("board.raft_length") * sheet.result("board.raft_width")
    if sheet.result("water.opening_shape") == "round":
        area *= pi / 4
    sheet.put("board.area", area, note="All boards of one bath, holes counted in.")
    sheet.work("board.site_density", counting.site_density, sites=sites, area_m2=area)
    sheet.work("board.hole_share", counting.hole_share, sites=sites, hole_diameter_m=diameter, area_m2=area)
    cover = area / sheet.result("water.surface_area")
    sheet.put("board.cover", cover, note="Area of the boards over the water surface, each hole filled by its pot. "
              "Light on the rest makes algae.")
    if cover < 0.9:
        sheet.caution("light-gap", "note", f"The boards cover {sheet.show(cover, 'ratio', '%', '%')} of the water. "
                      "Light on open water grows algae: make the gap smaller or cover the rest with dark film.")
    web = sheet.work("board.web", counting.web, spacing_m=sheet.result("board.spacing_used"), hole_diameter_m=diameter)
    if web < THIN_WEB_M:
        sheet.caution("thin-web", "warning",
                      f"Only {_length(sheet, web)} of foam is left between two holes: under 1 in (25 mm) a board "
                      f"cracks when it is lifted full ({PRACTICE}). Take a wider spacing or a smaller pot.")


def _warn_of_lifting(sheet, mass: float) -> None:
    """A board longer or heavier than one person was said to handle."""
    long = max(sheet.result("board.length"), sheet.result("board.width"))
    if mass > sheet["board.max_mass"] * (1 + 1e-6) or long > sheet["board.max_length"] + 1e-9:
        sheet.caution("heavy-board", "warning",
                      f"A full board is {_length(sheet, long)} long and {sheet.show(mass, 'mass', 'lb', 'kg')} at "
                      f"harvest; you said one person handles {_length(sheet, sheet['board.max_length'])} and "
                      f"{sheet.show(sheet['board.max_mass'], 'mass', 'lb', 'kg')}. Lift it with two, or make more "
                      "boards.")


def float_at_harvest(sheet) -> None:
    """How deep the heaviest board floats at harvest, and what it could still carry."""
    kind = foams.BY_KEY[sheet["board.foam"]]
    thickness, water = sheet["board.thickness"], sheet.result("water.density")
    diameter = sheet.result("board.hole_diameter")
    site_mass = sheet["board.plant_mass"] + sheet["board.pot_mass"]
    raft_area = sheet.result("board.area")
    pieces = [(piece["sites"], _board_area(sheet, piece, raft_area)) for piece in sheet.result("board.pieces")]
    sites, area = max((piece for piece in pieces if piece[1] > 0), key=lambda piece: piece[0] / piece[1])
    share = counting.hole_share(sites=sites, hole_diameter_m=diameter, area_m2=area)
    load = sites * site_mass / area
    source = f"{foams.SOURCE} ({foams.STATUS})"
    sheet.put("board.load", load, note="Plants, pots and wet plugs of the fullest board, over its area.")
    foam_mass = kind.density_kg_m3 * thickness * area * (1 - share)
    sheet.put("board.mass", foam_mass + sites * site_mass, source=source,
              note="Foam left after drilling, at the least density of its class, and all its plants and pots.")
    _warn_of_lifting(sheet, foam_mass + sites * site_mass)
    r_value = kind.r_per_inch * thickness / INCH
    sheet.put("board.r_value", f"R {r_value:.1f} (US), RSI {r_value * 0.1761102:.2f} m2 K/W", source=source,
              note="Least R per inch of the class at 75 F, times the thickness, when dry.")
    common = {"foam_density_kg_m3": kind.density_kg_m3, "thickness_m": thickness, "hole_share": share,
              "water_density_kg_m3": water}
    capacity = sheet.work("board.capacity", floating.spare_load, **common)
    spare = (capacity - load) * area
    sheet.put("board.spare_load", spare, note="The load that just sinks the board, less plants and pots at harvest, "
              "times the area of the fullest board. Below zero it sinks.")
    if spare <= 0:
        sheet.caution("raft-sinks", "danger",
                      f"The raft sinks at harvest: each full board is {sheet.show(-spare, 'mass', 'lb', 'kg')} too "
                      "heavy. Use thicker foam, wider spacing, or rest the board on ledges.")
    draught = sheet.work("board.draught", floating.draught, load_kg_m2=load, **common)
    freeboard = thickness - draught
    sheet.put("board.freeboard", freeboard, note="Thickness of the board less how deep it floats.")
    if spare > 0 and freeboard < LOW_FREEBOARD_M:
        sheet.caution("raft-awash", "warning",
                      f"Only {_length(sheet, freeboard)} of foam stands above the water at harvest: waves and a hand "
                      "on the board put it under. Use thicker foam or fewer plants.")
    soaked = floating.soaked_density(foam_density_kg_m3=kind.density_kg_m3, absorption=kind.absorption,
                                     water_density_kg_m3=water)
    wet = sheet.work("board.draught_soaked", floating.draught, load_kg_m2=load,
                     **{**common, "foam_density_kg_m3": soaked})
    if wet > thickness >= draught:
        sheet.caution("raft-sinks-soaked", "warning", "Once the foam has taken up the water its class allows, the full "
                      "raft sinks. Use foam with closed cells (XPS), or thicker foam.")


def heel(sheet) -> None:
    """What happens when one half of the board has been harvested and the other has not."""
    kind = foams.BY_KEY[sheet["board.foam"]]
    thickness, water = sheet["board.thickness"], sheet.result("water.density")
    load, draught = sheet.result("board.load"), sheet.result("board.draught")
    dry = kind.density_kg_m3 * thickness / water
    whole_disc = sheet.result("water.opening_shape") == "round" and sheet.result("board.count") == 1
    # Half the load acts at W/4 (4R/3pi on a disc); the water rights it by its density times L W^3/12 (pi R^4/4).
    lever = 8 / (3 * pi) if whole_disc else 0.75
    edge = dry + (draught - dry) * (0.5 + lever)
    sheet.put("board.edge_draught", edge,
              note="Half the load on one half of the board only: the mean depth with half the load, plus the tilt by "
              "which the water's push balances it. Small tilts, a plain rectangle or a whole disc, the board free of "
              "its neighbours.", source=f"balance of moments of a floating body (ship stability): {MEMORY}")
    if edge > thickness >= draught:
        sheet.caution("raft-heels", "warning",
                      f"With one half harvested, the heavy edge of a board goes {_length(sheet, edge)} deep, more than "
                      f"its {_length(sheet, thickness)}: it dips under and water runs over the board. Harvest evenly "
                      "from both sides, or rest the boards on ledges.")
    narrow = sheet.result("board.width") if not whole_disc else sheet.result("board.raft_length") * (3 / 4) ** 0.5
    narrow = min(narrow, sheet.result("board.length"))
    total = dry * water + load
    if draught <= 0 or total <= 0:
        return
    height = (dry * water * thickness / 2 + load * (thickness + PLANT_CENTRE_M)) / total
    if draught / 2 + narrow ** 2 / (12 * draught) < height:
        sheet.caution("raft-capsizes", "danger",
                      "So narrow a board turns over with tall plants on it (the plants' weight taken as 10 cm above "
                      "the board, an invented example). Use wider boards, or tie neighbours together.")


@lru_cache(maxsize=64)
def _sheets_for(sheet_length: float, sheet_width: float, long: float, wide: float, kerf: float) -> int:
    return layout.pieces_from_sheet(sheet_length, sheet_width, long, wide, kerf)


def stock(sheet) -> None:
    """Foam sheets to buy and what is left of them."""
    long, wide = sheet.result("board.length"), sheet.result("board.width")
    sides = sheet["board.sheet_length"], sheet["board.sheet_width"]
    each = _sheets_for(*sides, long, wide, sheet["board.kerf"])
    if not each:
        sheet.fault("board.sheet_length", f"Foam sheet is too small for a board {_length(sheet, long)} by "
                    f"{_length(sheet, wide)}: enter a larger sheet, or split the raft into more boards.")
    one_way = counting.sheet_pieces
    arguments = {"sheet_length_m": sides[0], "sheet_width_m": sides[1], "piece_length_m": long,
                 "piece_width_m": wide, "kerf_m": sheet["board.kerf"]}
    if each == one_way(**arguments):
        sheet.put("board.pieces_per_sheet", each, one_way, arguments, note="All boards lie the same way.")
    else:
        sheet.put("board.pieces_per_sheet", each, note="Straight cuts from edge to edge, some boards turned: better "
                  f"than all one way, which gives {one_way(**arguments)}.")
    count = sheet.result("board.count") * sheet["bath.count"]
    needed = ceil(count / each)
    sheet.put("board.sheets", needed, note="Boards of all baths over boards from one sheet, rounded up.")
    used = sheet.result("board.area") * sheet["bath.count"]
    sheet.put("board.waste", 1 - used / (needed * sides[0] * sides[1]),
              note="Share of the sheets bought that is not board; offcuts may still make lids and spares.")


def workbench(sheet) -> None:
    """Cautions of cutting and of foam."""
    sheet.result("board.length")
    sheet.caution("hole-saw", "warning",
                  "Hole saw: it can grab and twist the drill out of your hand. Clamp the board on scrap wood, hold the "
                  "drill with both hands, run it slowly, keep sleeves and hair away, wear eye protection.")
    sheet.caution("foam-dust", "warning",
                  "Foam: saw it outdoors or with a dust mask on, and sweep up every crumb before it reaches the water "
                  "or a drain. It burns fast with poisonous smoke: no flame, hot lamp or heater near it.")
    sheet.caution("foam-food", "note",
                  "Building foam holds flame retardant and is not certified for contact with food. Keep only the roots "
                  "under it, or line it with film that is.")


STEPS = (raft, hole, boards, coverage, float_at_harvest, heel, stock, workbench)
