"""From the opening to the boards: the raft's size, the saw, the boards and a hole for each site."""

from __future__ import annotations

from math import ceil, inf, pi, sqrt
from typing import TYPE_CHECKING

from ...data import foam as foams
from ...data import saws
from ...geometry import layout
from ...geometry.boards import Placed, board_layouts
from ...geometry.notches import polar
from ...relations.layout import whole

if TYPE_CHECKING:
    from ...sheet import Sheet

# What does not change while a spacing is sought: the first arguments of ``board_layouts``.
Fixed = tuple[float, float, bool, float, int, int, tuple[layout.Rectangle, ...], float, float]
INCH = 0.0254
WHOLE = "whole"
POTS, PLUGS = "pots", "plugs"
MOST_SITES = 20000
MOST_BOARDS = 400
FAR_SAW_M = INCH / 4
ROOT_SHARE = 1.0 / 3.0
# What may as well be at fault when a board is too small or too large, where the reader typed it.
OF_THE_BATH = {f"bath.{side}": "" for side in ("width", "length", "diameter", "base_width", "base_length",
                                               "base_diameter", "water_depth")}
BESIDE_A_HOLE = {"board.boards_across": "", "board.boards_along": "", "board.max_length": "", "board.max_mass": "",
                 "board.clearance": "", **OF_THE_BATH}


def spacing_of(sheet: Sheet) -> float:
    """Least distance of two holes in m: as typed, or what the crops chosen ask for."""
    typed = sheet.optional("board.spacing")
    return sheet.result("crops.spacing") if typed is None else typed


def plant_mass(sheet: Sheet) -> float:
    """What one plant weighs at harvest, kg: as typed, or the crop's fresh mass and a third more for its wet roots."""
    typed = sheet.optional("board.plant_mass")
    return float(typed) if typed is not None else float(sheet.result("crops.fresh_mass")) * (1.0 + ROOT_SHARE)


def length_text(sheet: Sheet, value: float) -> str:
    return sheet.shown_as("board.length", value)


def _room_text(sheet: Sheet, value: float) -> str:
    """An upper bound, rounded down to a size that can be typed and will be accepted."""
    step = 1e-3 if sheet.system == "metric" else INCH / 16
    return length_text(sheet, max(0.0, step * whole(value / step)))


def raft(sheet: Sheet) -> None:
    """The opening at the water line, less the gap at each side."""
    sides = [sheet.result("water.opening_length"), sheet.result("water.opening_width")]
    gap = sheet["board.clearance"]
    if 2 * gap >= min(sides) - 1e-9:
        sheet.fault("board.clearance", f"Gap at each side leaves no board: the opening at the water line is "
                    f"{length_text(sheet, min(sides))} wide, so enter less than {length_text(sheet, min(sides) / 2)}.",
                    OF_THE_BATH)
    for side, size in zip(("length", "width"), sides, strict=True):
        sheet.put(f"board.raft_{side}", size - 2 * gap,
                  note="The opening at the water line, less the gap at both sides.")


def hole(sheet: Sheet) -> None:
    """From the pot to the hole, and to a saw that a shop has."""
    pot, own = sheet["board.pot"], sheet.optional("board.hole")
    if pot >= spacing_of(sheet) - 1e-9:
        sheet.fault("board.pot", f"Net pot size is not smaller than the spacing: enter less than "
                    f"{length_text(sheet, spacing_of(sheet))}, or a wider spacing.",
                    {"board.spacing": f"Spacing is no wider than the net pot, {length_text(sheet, pot)}: enter more, "
                     "or a smaller pot."})
    if sheet.text("board.holder") == PLUGS:
        _plug_hole(sheet, pot, own)
        return
    if own is not None:
        if own >= pot - 1e-9:
            sheet.fault("board.hole", f"Your own hole size would let the pot fall through: enter less than the pot's "
                        f"{length_text(sheet, pot)}.")
        if own > pot - saws.LEAST_LIP_M + 1e-9:
            sheet.caution("hole-large", "warning", "The hole is less than 1/16 in (1.6 mm) under the pot's size: try "
                          "one pot in a scrap of foam before you cut them all, or it may drop through.",
                          lead="Hole nearly pot-wide",
                          brief="Try one pot in a scrap of foam first, or it may drop through.")
        sheet.put("board.hole_diameter", own, note="Your own size.")
        sheet.put("board.saw", f"your own, {length_text(sheet, own)}", note="Your own size.")
        return
    saw, target = saws.nearest_saw(pot), pot - saws.UNDER_NOMINAL_M
    if saw is not None and abs(saw.diameter_m - target) <= FAR_SAW_M:
        sheet.put("board.hole_diameter", saw.diameter_m, source=saws.RULE_SOURCE,
                  note="The stock hole saw nearest to 1/8 in (3 mm) under the pot's nominal size.")
        sheet.put("board.saw", saw.name, source=saws.SOURCE, note="Nearest size usually in stock.")
    else:
        sheet.put("board.hole_diameter", target, source=saws.RULE_SOURCE,
                  note="1/8 in (3 mm) under the pot's nominal size.")
        sheet.put("board.saw", f"none in stock is near {length_text(sheet, target)}: use a circle cutter or a jigsaw",
                  source=saws.SOURCE, note="No stock saw lies within 1/4 in of it.")
    sheet.caution("measure-pot", "note", "Pots sold under one size differ: measure yours just under the lip, cut one "
                  "hole in a scrap of foam and try the pot in it before you drill the board.", lead="Measure your pot",
                  brief="Sizes differ by maker: try one hole in a scrap before you drill the board.")


def _plug_hole(sheet: Sheet, plug: float, own: float | None) -> None:
    """A hole as wide as the plug that is pressed into it, or a little less."""
    if own is not None and own > plug + 1e-9:
        sheet.fault("board.hole", "Your own hole size would let the plug fall through: enter the plug's "
                    f"{length_text(sheet, plug)} or less.")
    saw = saws.nearest_saw(plug + saws.UNDER_NOMINAL_M)
    note = "As wide as the plug, which is pressed in; try one in a scrap of foam first."
    if own is not None:
        sheet.put("board.hole_diameter", own, note="Your own size.")
        sheet.put("board.saw", f"your own, {length_text(sheet, own)}", note="Your own size.")
    elif saw is not None and saw.diameter_m <= plug + 1e-9 and plug - saw.diameter_m <= saws.UNDER_NOMINAL_M:
        sheet.put("board.hole_diameter", saw.diameter_m, source=saws.SOURCE, note=note)
        sheet.put("board.saw", saw.name, source=saws.SOURCE, note="The stock size that grips the plug.")
    else:
        sheet.put("board.hole_diameter", plug, note=note)
        sheet.put("board.saw", f"none in stock is near {length_text(sheet, plug)}: use a sharpened pipe or a circle "
                  "cutter", source=saws.SOURCE, note="No stock saw is as wide as the plug or just under it.")


def _keepouts(sheet: Sheet) -> tuple[layout.Rectangle, ...]:
    """The rectangles to keep free, in the opening's own measures; one that misses the opening is a fault."""
    found = []
    sides = sheet.result("water.opening_length"), sheet.result("water.opening_width")
    for row in sheet.rows("board.keepouts"):
        if row["x"] >= sides[0] or row["y"] >= sides[1]:
            sheet.fault("board.keepouts", f"Places to keep free: “{row['name'][:40]}” begins outside the opening, "
                        f"which is {length_text(sheet, sides[0])} by {length_text(sheet, sides[1])}.")
        found.append((row["x"], row["y"], row["length"], row["width"]))
    return tuple(found)


def _arguments(sheet: Sheet, along: int, across: int, keepouts: tuple[layout.Rectangle, ...]) -> Fixed:
    diameter = sheet.result("board.hole_diameter")
    return (sheet.result("board.raft_length"), sheet.result("board.raft_width"),
            sheet.result("water.opening_shape", str) == "round", sheet["board.clearance"], along, across, keepouts,
            sheet["board.margin"] + diameter / 2, diameter / 2)


def _split(sheet: Sheet, keepouts: tuple[layout.Rectangle, ...]) -> tuple[int, int]:
    """Boards along and across: the reader's own, or the fewest that one person can lift and a sheet can give."""
    if sheet.text("board.split") == "number":
        along, across = sheet.whole("board.boards_along"), sheet.whole("board.boards_across")
        if along * across > MOST_BOARDS:
            sheet.fault("board.boards_along", f"Boards along the length: with those across it makes more than "
                        f"{MOST_BOARDS} boards; enter {max(1, MOST_BOARDS // across)} or less.")
        return along, across
    raft_length, raft_width = sheet.result("board.raft_length"), sheet.result("board.raft_width")
    round_raft = sheet.result("water.opening_shape", str) == "round"
    # Whole: what one person can handle bounds nothing, only the sheet does.
    whole_sheets = sheet.text("board.split") == WHOLE
    longest, heaviest = (inf, inf) if whole_sheets else (sheet["board.max_length"], sheet["board.max_mass"])
    sides = sheet["board.sheet_length"], sheet["board.sheet_width"]
    site_mass = plant_mass(sheet) + sheet["board.pot_mass"]
    foam_mass = foams.BY_KEY[sheet.text("board.foam")].density_kg_m3 * sheet["board.thickness"]
    edge = sheet["board.margin"] + sheet.result("board.hole_diameter") / 2

    def suits(along: int, across: int) -> bool:
        long, wide = raft_length / along, raft_width / across
        if max(long, wide) > min(longest, max(sides)) + 1e-9 or min(long, wide) > min(sides) + 1e-9:
            return False
        # Keep-outs and rounding take holes away, so the plain rectangle is the heaviest the board can be.
        sites = layout.rectangle_count(long, wide, edge, spacing_of(sheet), sheet.text("board.pattern"))
        share = pi / 4 if round_raft else 1.0
        return share * (long * wide * foam_mass + sites * site_mass) <= heaviest + 1e-9

    # A seam that leaves boards too small for one hole helps nobody.
    most_along, most_across = (max(1, whole(side / (2 * edge))) for side in (raft_length, raft_width))
    if round_raft:
        # Doubling keeps a seam through the centre.
        tried = [(2 ** ((step + 1) // 2), 2 ** (step // 2)) for step in range(9)]
        found = next((pair for pair in tried if max(pair) <= most_along and suits(*pair)), None)
        return found or max(pair for pair in tried if max(pair) <= most_along)
    best = None
    for across in range(1, min(most_across, MOST_BOARDS) + 1):
        limit = min(most_along, (best[0] * best[1] - 1 if best else MOST_BOARDS) // across)
        fewest = max(1, ceil(raft_length / max(sides if whole_sheets else (longest, *sides)) - 1e-9))
        enough = next((number for number in range(fewest, limit + 1) if suits(number, across)), None)
        if enough:
            best = enough, across
    if best is None:
        # The lightest split there is; what is still too long or too heavy is said with the boards.
        best = most_along, min(most_across, max(1, MOST_BOARDS // most_along))
        if most_along > MOST_BOARDS:
            sheet.fault("board.max_length", f"Longest board to handle: this raft would need more than "
                        f"{MOST_BOARDS} boards; allow longer or heavier boards, or a larger foam sheet.")
    return best


def boards(sheet: Sheet) -> None:
    """The boards, and a hole for each site."""
    diameter, spacing = sheet.result("board.hole_diameter"), spacing_of(sheet)
    keepouts = _keepouts(sheet)
    raft_length, raft_width = sheet.result("board.raft_length"), sheet.result("board.raft_width")
    if layout.most_points(raft_length * raft_width, 2 * (raft_length + raft_width), spacing) > 1.25 * MOST_SITES:
        sheet.fault("board.spacing", f"Spacing is too small for so large a raft: it would make more than "
                    f"{MOST_SITES:,} sites, which is as many as are laid out here; enter a wider spacing.",
                    OF_THE_BATH)
    along, across = _split(sheet, keepouts)
    _check_room(sheet, raft_length / along, raft_width / across, diameter)
    fixed = _arguments(sheet, along, across, keepouts)
    pattern = sheet.text("board.pattern")
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


def _check_room(sheet: Sheet, long: float, wide: float, diameter: float) -> None:
    """A hole and its two margins have to fit the board's narrower side."""
    # A cut disc is narrowest at its rounded corners; the search itself tells whether a hole is left there.
    if min(long, wide) + 1e-9 >= diameter + 2 * sheet["board.margin"]:
        return
    if min(long, wide) <= diameter:
        sheet.fault("board.pot", f"Net pot size needs a hole of {length_text(sheet, diameter)}, and a board is only "
                    f"{length_text(sheet, min(long, wide))} wide: take a smaller pot or fewer boards.",
                    BESIDE_A_HOLE)
    room = (min(long, wide) - diameter) / 2
    sheet.fault("board.margin", f"Board edge to hole edge leaves no room for a hole in a board "
                f"{length_text(sheet, min(long, wide))} wide: enter {_room_text(sheet, room)} or less.",
                {"board.pot": "", **BESIDE_A_HOLE})


def _spread(sheet: Sheet, fixed: Fixed, spacing: float, pattern: str) -> float:
    """The spacing used: as typed, or wider where a number of sites was asked for."""
    wanted = sheet.optional("board.wanted", int)
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
                      f"{wanted:,} sites do not fit: at {length_text(sheet, spacing)} apart there is room for {most:,} "
                      "in each bath, and that is what is drawn. A closer spacing, a smaller margin or fewer seams make "
                      "more.", lead="Too many sites",
                      brief=f"{wanted:,} do not fit; there is room for {most:,} in each bath.")
    return found or spacing


def _put_boards(sheet: Sheet, found: tuple[Placed, ...], long: float, wide: float, along: int, across: int) -> None:
    note = "The whole raft, parted into equal boards." if along * across > 1 else "One board, the whole raft."
    if sheet.result("water.opening_shape", str) == "round":
        sheet.put("board.diameter", long * along, note="The opening at the water line, less the gap all round. Cut the "
                  "whole disc first, then part it.")
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
    round_raft = sheet.result("water.opening_shape", str) == "round"
    for count, step, size, other in ((along, long, raft_length, "x"), (across, wide, raft_width, "y")):
        for number in range(1, count):
            place = number * step
            # A seam of a round raft is a chord of it.
            reach = raft_width if other == "x" else raft_length
            half = sqrt(max(place * (size - place), 0.0)) if round_raft else reach / 2
            low, high = gap + reach / 2 - half, gap + reach / 2 + half
            ends = {"x1": gap + place, "y1": low, "x2": gap + place, "y2": high} if other == "x" else \
                {"x1": low, "y1": gap + place, "x2": high, "y2": gap + place}
            seams.append(ends)
    sheet.put("board.seams", seams, note="From one corner of the opening; cover each with foil tape against light.")


PATTERN_WORDS = {layout.SQUARE: "Square rows", layout.STAGGERED: "Staggered rows",
                 layout.ROWS: "Straight rows, each filled on its own"}


def _put_sites(sheet: Sheet, found: tuple[Placed, ...], used: float, sites: int) -> None:
    sheet.put("board.spacing_used", used, note="As entered, or wider to spread the number wanted; no two centers are "
              "closer, across seams too.")
    fullest = max((one[4] for one in found), key=lambda one: one.count)
    sheet.put("board.layout", f"{PATTERN_WORDS[fullest.pattern]} along the {fullest.along}: holes "
              f"{length_text(sheet, fullest.pitch_m)} apart, rows {length_text(sheet, fullest.row_pitch_m)} apart",
              note="The fullest of square and staggered rows, both ways round and at every offset, that the pattern "
              "asked for allows.")
    sheet.put("board.sites", sites, note="Counted hole by hole, all boards of one bath.")
    sheet.put("board.sites_per_board", fullest.count, note="On the board with the most holes.")
    disc = sheet.result("water.opening_shape", str) == "round"
    middle, gap = sheet.result("board.raft_length") / 2, sheet["board.clearance"]

    def hole(number: int, one: Placed, x: float, y: float) -> dict[str, float]:
        row = {"board": number, "x": x, "y": y}
        if disc:
            # A disc has no corner: its holes are marked out from its centre.
            row["from_x"], row["from_y"] = one[0] - gap + x - middle, one[1] - gap + y - middle
            row["radius"], row["angle"] = polar(row["from_x"], row["from_y"])
        return row
    sheet.put("board.holes", [hole(number, one, x, y) for number, one in enumerate(found, 1) for x, y in one[4].points],
              note="From the center of the disc: along and across two marked diameters, or by radius and angle, "
              "counted from the right-hand end of the first." if disc else
              "x along the length and y across, from one corner of each board.")
