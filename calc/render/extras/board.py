"""What the board topic shows beside its rows of answers."""

from __future__ import annotations

from ...solve import Design
from .. import drawing
from ..pieces import figure, rows_table

MOST_HOLES_LISTED = 400


def extra(design: Design) -> str:
    """The raft from above, and where to drill."""
    holes = design.value("board.holes") or []
    plan = figure(drawing.raft_plan(design), "The raft from above. Measure every hole from the marked corner.")
    if not holes:
        return plan
    listed = [{"n": number, "b": hole["board"], "x": design.shown_as("board.length", hole["x"]),
               "y": design.shown_as("board.width", hole["y"])}
              for number, hole in enumerate(holes[:MOST_HOLES_LISTED], 1)]
    table = rows_table("Hole centres, from one corner of each board",
                       [("n", "Hole"), ("b", "Board"), ("x", "Along"), ("y", "Across")], listed)
    rest = len(holes) - len(listed)
    more = f"<p>{rest:,} more holes are in the CSV file.</p>" if rest > 0 else ""
    return (f'{plan}<details class="more" data-keep="holes"><summary>Where to drill: {len(holes):,} '
            f'hole{"" if len(holes) == 1 else "s"}</summary>{table}{more}</details>')
