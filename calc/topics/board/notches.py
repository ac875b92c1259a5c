"""Notches in the raft's edge for the plan's own pipes, and how far a raft may sink with its water."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, pi, sin
from typing import TYPE_CHECKING

from ...declare import Row
from ...geometry import notches as geometry
from ...numeric.bracket import narrow
from ...relations import geometry as vessels
from .. import scheme
from ..circulation import INSIDE
from ..manifold import inlet_bore
from ..vessel import HALF_DRUM
from .cutting import length_text

if TYPE_CHECKING:
    from ...sheet import Sheet

FROM_PIPES, NO_NOTCHES = "pipes", "none"
# Outside of a pipe over its bore, walls of both sides; and what is left free round it.
PIPE_WALL_M, HOSE_WALL_M, AIR_WALL_M, CORD_M, FREE_M = 0.010, 0.006, 0.003, 0.008, 0.012


@dataclass(frozen=True)
class Pipe:
    """Something that passes the raft's edge: its words, the width and depth of its notch, the side and place wished."""

    words: str
    width: float
    depth: float
    side: str
    wish: float


def _step_up(sheet: Sheet, value: float) -> float:
    """A size that can be marked out: up to the next quarter inch or 5 mm."""
    step = 0.005 if sheet.system == "metric" else 0.0254 / 4
    return ceil(value / step - 1e-6) * step


def pipes_of(sheet: Sheet) -> list[Pipe]:
    """What passes the raft in this plan: the standpipe, the fill hose, and air hoses with a cord."""
    found: list[Pipe] = []

    def add(words: str, outside: float, side: str, wish: float = 0.5, deep: float | None = None) -> None:
        found.append(Pipe(words, _step_up(sheet, outside + FREE_M),
                          _step_up(sheet, (outside if deep is None else deep) + FREE_M / 2), side, wish))

    if scheme.pumps_water(sheet):
        bore = sheet.result_if_any("circulation.overflow_bore")
        if bore and sheet.text("circulation.overflow_place") == INSIDE:
            for number in range(sheet.whole("circulation.drains")):
                # The first in the middle, the others to both sides of it.
                add("standpipe", bore + PIPE_WALL_M, "right", 0.5 + 0.25 * ((number + 1) // 2) * (-1) ** number)
        if sheet.text("bath.fill") == "rim":
            add("fill hose", inlet_bore(sheet) + HOSE_WALL_M, "left")
    if scheme.has_air(sheet):
        stones = max(1, ceil(sheet.result("water.footprint") / sheet["air.stone_area"] * (1 - 1e-9)))
        hose = sheet["air.hose_bore"] + AIR_WALL_M
        # Two layers of hoses, and one cord beside them.
        add("air hoses and a cord", ceil(stones / 2) * hose + CORD_M, "back", deep=(2 if stones > 1 else 1) * hose)
    return found


def notches(sheet: Sheet) -> None:
    """Where the notches go: clear of the holes, or else the holes in their way are left out."""
    if sheet.text("board.notches") == NO_NOTCHES:
        return
    pieces = {row["board"]: row for row in sheet.result_rows("board.pieces")}
    radius = sheet.result("board.hole_diameter") / 2
    gap = sheet["board.clearance"]
    long, wide = sheet.result("board.raft_length"), sheet.result("board.raft_width")
    holes = [(pieces[one["board"]]["x"] - gap + one["x"], pieces[one["board"]]["y"] - gap + one["y"])
             for one in sheet.result_rows("board.holes")]
    disc = sheet.result("water.opening_shape", str) == "round"
    rows: list[Row] = []
    lost: set[int] = set()
    for pipe in pipes_of(sheet):
        if disc:
            placed = geometry.on_rim([(x - long / 2, y - long / 2) for x, y in holes], long / 2, pipe.width, pipe.depth,
                                     radius, {"right": 0.0, "left": pi, "back": pi / 2}[pipe.side]
                                     + (pipe.wish - 0.5))
            x, y = long / 2 * (1 + cos(placed.along)), long / 2 * (1 + sin(placed.along))
        else:
            x, y, placed = _on_side(pipe, holes, long, wide, radius)
        lost.update(placed.lost)
        rows.append({"what": pipe.words, "x": x, "y": y, "width": pipe.width, "depth": pipe.depth, "side": pipe.side,
                     "angle": placed.along if disc else None})
    sheet.put("board.notch_rows", rows, note="For the plan's own pipes, hoses and cord, in the edge of the raft, "
              "placed between the holes; x along the length and y across, from the raft's corner. A notch is 1/2 in "
              "(12 mm) wider than what passes it.")
    if lost:
        _drop(sheet, lost)


def _on_side(pipe: Pipe, holes: list[geometry.Point], long: float, wide: float,
             radius: float) -> tuple[float, float, geometry.Notch]:
    """(x, y, notch) on a straight side of the raft."""
    if pipe.side == "back":
        placed = geometry.on_edge([(x, wide - y) for x, y in holes], long, pipe.width, pipe.depth, radius,
                                  pipe.wish * long)
        return placed.along, wide, placed
    right = pipe.side == "right"
    placed = geometry.on_edge([(y, long - x if right else x) for x, y in holes], wide, pipe.width, pipe.depth, radius,
                              pipe.wish * wide)
    return (long if right else 0.0), placed.along, placed


def _drop(sheet: Sheet, lost: set[int]) -> None:
    """Leave out the holes that a notch cuts, and say so."""
    kept = [one for number, one in enumerate(sheet.result_rows("board.holes")) if number not in lost]
    counts: dict[int, int] = {}
    for one in kept:
        counts[one["board"]] = counts.get(one["board"], 0) + 1
    again = "Less the holes in the way of a notch."
    sheet.put("board.holes", kept, note=again)
    sheet.put("board.sites", len(kept), note=again)
    sheet.put("board.sites_per_board", max(counts.values(), default=0), note=again)
    pieces = sheet.result_rows("board.pieces")
    sheet.put("board.pieces", [{**row, "sites": counts.get(row["board"], 0)} for row in pieces], note=again)
    sheet.caution("notch-costs-sites", "note",
                  f"{len(lost)} hole{'' if len(lost) == 1 else 's'} had to make room for a pipe or hose at the raft's "
                  "edge. A wider margin or spacing keeps them.", lead="Notches cost holes",
                  brief=f"{len(lost)} hole{'' if len(lost) == 1 else 's'} made room for a pipe or hose at the edge.")


def sinking(sheet: Sheet) -> None:
    """How far the water may fall before the raft wedges in a vessel that narrows downwards."""
    shape = sheet.text("bath.shape")
    if shape == HALF_DRUM:
        _told(sheet, _fall_in_half_drum(sheet))
        return
    if not shape.startswith("tapered"):
        return
    depth, gap = sheet["bath.depth"], sheet["board.clearance"]
    sides = ("length", "width") if shape == "tapered box" else ("length",)
    falls = []
    for side in sides:
        top = sheet["bath.length"] if (shape, side) == ("tapered box", "length") else \
            sheet["bath.width"] if shape == "tapered box" else sheet["bath.diameter"]
        running = sheet["bath.water_depth"]
        # The walls close in by so much for each metre down.
        taper = (top - sheet.result(f"water.opening_{side}")) / (depth - running) if depth > running else 0.0
        if taper > 1e-9:
            falls.append(2 * gap / taper)
    if not falls:
        return
    _told(sheet, min(*falls, sheet["bath.water_depth"]))


def _fall_in_half_drum(sheet: Sheet) -> float:
    """How far the water may fall until it is no wider than the raft."""
    rim, deep, running = sheet["bath.width"], sheet["bath.depth"], sheet["bath.water_depth"]
    raft = sheet.result("board.raft_width")
    left, _ = narrow(lambda at: raft - vessels.half_drum_width(rim_width_m=rim, full_depth_m=deep, depth_m=at),
                     0.0, running, raft, raft - sheet.result("water.opening_width"), 1e-9, 1e-9)
    return float(running - left)


def _told(sheet: Sheet, fall: float) -> None:
    """Say how far the water may fall, and warn where it falls farther."""
    sheet.put("board.fall_to_wedge", fall, note="The gap at both sides, over how fast the walls close in. Below that "
              "the raft hangs on the walls while the water falls away from the roots.")
    expected = (sheet["bath.water_depth"] - sheet.result("water.depth_after_stop") if scheme.circulates(sheet)
                else sheet["use.fall"])
    if expected > fall + 1e-9:
        sheet.caution("raft-wedges", "warning",
                      f"The raft wedges in the narrowing walls once the water has fallen {length_text(sheet, fall)}, "
                      f"and {'a stop of the pump' if scheme.circulates(sheet) else 'what you allow'} takes it down by "
                      f"{length_text(sheet, expected)}. Cut it smaller all round, or let the water fall less.",
                      lead="The raft wedges",
                      brief=f"It hangs on the walls once the water has fallen {length_text(sheet, fall)}: cut it "
                            "smaller.")
