"""What the board topic shows beside its rows of answers."""

from __future__ import annotations

from math import degrees

from ...declare import Row
from ...solve import Design
from ..pieces import rows_table

MOST_HOLES_LISTED = 400


def extra(design: Design) -> str:
    """Where to drill and to notch."""
    holes = design.value("board.holes") or []
    plan = _notches(design)
    if not holes:
        return plan
    if design.value("water.opening_shape") == "round":
        return plan + _from_the_centre(design, holes)
    listed = [{"n": number, "b": hole["board"], "x": design.shown_as("board.length", hole["x"]),
               "y": design.shown_as("board.width", hole["y"])}
              for number, hole in enumerate(holes[:MOST_HOLES_LISTED], 1)]
    table = rows_table("Hole centers, from one corner of each board",
                       [("n", "Hole"), ("b", "Board"), ("x", "Along"), ("y", "Across")], listed)
    rest = len(holes) - len(listed)
    more = f"<p>{rest:,} more holes are in the CSV file.</p>" if rest > 0 else ""
    return (f'{plan}<details class="more" data-keep="holes"><summary>Where to drill: {len(holes):,} '
            f'hole{"" if len(holes) == 1 else "s"}</summary>{table}{more}</details>')


def _from_the_centre(design: Design, holes: list[Row]) -> str:
    """Where to drill a disc: from two marked diameters, or by radius and angle."""
    def size(value: float) -> str:
        text = design.show(abs(value), "length", "in", "mm", 16)
        return f"\u2212{text}" if value < -5e-4 else text
    listed = [{"n": number, "x": size(hole["from_x"]), "y": size(hole["from_y"]), "r": size(hole["radius"]),
               "a": f"{degrees(hole['angle']):.0f}\u00b0"} for number, hole in enumerate(holes[:MOST_HOLES_LISTED], 1)]
    table = rows_table("Hole centers, from the center of the disc",
                       [("n", "Hole"), ("x", "Along the first diameter"), ("y", "Along the second"),
                        ("r", "From the center"), ("a", "Angle from the first")], listed)
    return (f'<details class="more" data-keep="holes"><summary>Where to drill: {len(holes):,} '
            f'hole{"" if len(holes) == 1 else "s"}</summary>{table}</details>')


def _notches(design: Design) -> str:
    """The notches, from the corner of the raft."""
    rows = design.value("board.notch_rows") or []
    if not rows:
        return ""
    disc = design.value("water.opening_shape") == "round"
    sides = {"right": "right-hand side", "left": "left-hand side", "back": "back"}

    def place(one: Row) -> str:
        if disc:
            return f"at {degrees(one['angle']):.0f}\u00b0 on the rim"
        along = one["x"] if one["side"] == "back" else one["y"]
        return f"{sides[one['side']]}, middle {design.show(along, 'length', 'in', 'mm', 16)} from the corner"
    listed = [{"what": one["what"], "size": " x ".join(design.show(one[side], "length", "in", "mm", 16)
                                                       for side in ("width", "depth")), "place": place(one)}
              for one in rows]
    return rows_table("Notches in the edge: width by depth", [("what", "For the"), ("size", "Size"),
                                                             ("place", "Where")], listed)
