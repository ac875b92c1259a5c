"""A liner in a frame of lumber: the sheet to buy, the push on a wall, and how far the wall bows out."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

from ..declare import Choice, Field, Result
from ..relations import frame as physics
from ..relations.base import PRACTICE
from .verdicts.water import brim_unsaid

if TYPE_CHECKING:
    from ..sheet import Sheet

NO_LINER, FRAMED = "none", "frame"
JUDGMENT = "engineering judgment, no source"
ELASTICITY_PA = 1.4e6 * 6894.757 * 0.9
ELASTICITY_SOURCE = ("spruce-pine-fir No. 1 and 2: 1.4 million psi (table of design values of the JLC field guide, "
                     "read in a dealer's reprint); a tenth less for wet wood: wet service factor 0.90 for sawn lumber, "
                     "table 10.6 of Merritt, Building Design and Construction Handbook (that page read in a copy)")
# A wall that bows so far opens the gap round the raft by as much; one that bows by an inch is about to let go.
SLIGHT_M, BURST_M = 0.00635, 0.0254
IN_A_BOX = (("bath.shape", ("box",)),)
LINED = (*IN_A_BOX, ("bath.liner", (FRAMED,)))

FIELDS = (
    Field("bath.liner", "choice", "Liner in a frame", (NO_LINER, NO_LINER), choices=(
        Choice(NO_LINER, "No: it holds water by itself"), Choice(FRAMED, "Yes: boards and a sheet of liner")),
        help="a frame of lumber takes the push, the liner holds the water",
        why="most first baths are sold as vessels", when=IN_A_BOX),
    Field("bath.liner_overlap", "length", "Liner over the rim", ("6 in", "15 cm"), 0.0, 1.0, "in", "cm",
          help="what hangs over the frame at each side, to clamp",
          why=f"6 to 12 in (15 to 30 cm), by sellers of pond liner: {PRACTICE}", when=LINED),
    Field("bath.wall_thickness", "length", "Frame wall thickness", ("1 1/2 in", "38 mm"), 0.005, 0.3, "in", "mm",
          help="of the lumber on edge; a 2 x 12 is 1 1/2 in thick", why="a guess: lumber sold as two inches",
          when=LINED),
    Field("bath.wall_span", "length", "Wall between braces", ("", ""), 0.1, 60.0, "in", "cm", optional=True,
          help="free length of the long wall; empty: corner to corner",
          why="empty: no braces, the whole length", when=LINED),
)
RESULTS = (
    Result("water.liner_length", "length", "Liner to buy, length", "in", "cm", 16),
    Result("water.liner_width", "length", "Liner to buy, width", "in", "cm", 16),
    Result("water.wall_push", "mass", "Push on one long wall, as a weight of", "lb", "kg"),
    Result("water.wall_bulge", "length", "The long wall bows out by", "in", "mm", 16),
    Result("water.wall_braces", "count", "Braces on each long wall that keep it straight"),
)


def is_lined(sheet: Sheet) -> bool:
    """Whether the bath is a liner in a frame."""
    return sheet.text("bath.shape") == "box" and sheet.text("bath.liner") == FRAMED


def sheet_of_liner(sheet: Sheet) -> None:
    """The size of the liner's sheet, for one bath."""
    if not is_lined(sheet):
        return
    for side in ("length", "width"):
        sheet.work(f"water.liner_{side}", physics.liner_side, size_m=sheet[f"bath.{side}"],
                   depth_m=sheet["bath.depth"], overlap_m=sheet["bath.liner_overlap"])
    sheet.caution("liner-kind", "note", "Liner: take one sold for fish or drinking water, and fold its corners; never "
                  "cut them. Lay it on a smooth floor with sand or felt under it, for one stone makes a leak.",
                  lead="Which liner", brief="One sold for fish or drinking water; fold the corners, never cut them.")


def bulge(sheet: Sheet) -> None:
    """How hard the water pushes on the long wall, and how far that bows out between its braces."""
    if not is_lined(sheet):
        return
    long = max(sheet["bath.length"], sheet["bath.width"])
    depth, density = sheet["bath.water_depth"], sheet.result("water.density")
    sheet.work("water.wall_push", physics.wall_push, density_kg_m3=density, depth_m=depth, length_m=long)
    span = min(sheet.optional("bath.wall_span") or long, long)
    wall = {"wall_height_m": sheet["bath.depth"], "wall_thickness_m": sheet["bath.wall_thickness"],
            "elasticity_pa": ELASTICITY_PA}
    bow = {"push_kg": physics.wall_push(density_kg_m3=density, depth_m=depth, length_m=span), "span_m": span, **wall}
    found = physics.wall_bulge(**bow)
    sheet.put("water.wall_bulge", found, physics.wall_bulge, bow, note="In the middle of its free length.",
              source=ELASTICITY_SOURCE)
    free = physics.free_length(push_n_m=0.5 * density * physics.GRAVITY * depth**2, bulge_m=SLIGHT_M, **wall)
    braces = max(ceil(long / free - 1e-9) - 1, 0)
    sheet.put("water.wall_braces", braces, note=f"Evenly apart, no more than {sheet.shown_as('bath.wall_span', free)} "
              f"from one to the next, so that it bows by {sheet.shown_as('water.wall_bulge', SLIGHT_M)} at most.",
              source=f"{ELASTICITY_SOURCE}; how far it may bow: {JUDGMENT}")
    _judge_bulge(sheet, found, braces)


def _judge_bulge(sheet: Sheet, found: float, braces: int) -> None:
    push = sheet.shown("water.wall_push")
    if found <= SLIGHT_M:
        sheet.caution("frame-corners", "note", f"Frame: the water pushes on a long wall as {push} would, and the "
                      "corners hold it all. Screws into end grain pull out: use posts or steel angles inside the "
                      "corners, and fill it the first time in steps, looking at each corner.", lead="Frame corners",
                      brief=f"A long wall is pushed as by {push}: posts or steel angles in the corners.")
        return
    bows = sheet.shown("water.wall_bulge")
    hint = f"{braces} {'brace' if braces == 1 else 'braces'} on each long wall"
    bursts = found > BURST_M
    sheet.caution("frame-bows", "danger" if bursts else "warning",
                  f"Frame: the water pushes on a long wall as {push} would, and it bows out by {bows}. "
                  + ("A frame that bows so far bursts, and all the water comes at once. Do not fill it. " if bursts else
                     "The raft's gap opens by as much, and corners work loose. ")
                  + f"Put {hint}, or take thicker lumber; posts or steel angles in the corners.",
                  lead="Frame may burst" if bursts else "Frame bows",
                  brief=f"A long wall bows out by {bows}: put {hint}.")
    figure = sheet.shown("water.working_volume")
    sheet.verdict("fails" if bursts else "tight", f"The water pushes on a long wall as {push} would, and it bows out "
                  f"by {bows}. Put {hint}, or take thicker lumber.{brim_unsaid(sheet)}", figure,
                  "The frame bursts." if bursts else "The frame bows.")


STEPS = (sheet_of_liner, bulge)
