"""Whether the boards float with their plants, hold as many sites as wished, and can be handled."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .. import scheme
from ..board.afloat import LOW_FREEBOARD_M, THIN_WEB_M
from . import counted, in_each, several

if TYPE_CHECKING:
    from ...sheet import Sheet



def judge(sheet: Sheet) -> None:
    """Afloat at harvest, sites as many as wished, foam that holds; the worst of them is the verdict."""
    sites = sheet.result("board.sites", int)
    figure = counted(sites, "site") + (" each" if several(sheet) else "")
    _afloat(sheet, figure)
    _grounded(sheet, figure)
    wanted = sheet.optional("board.wanted", int)
    if wanted is not None and sites < wanted:
        sheet.verdict("tight", f"You want {counted(wanted, 'site')}{in_each(sheet)}, and there is room for {sites:,} "
                      f"at {sheet.shown('board.spacing_used')} apart. A closer spacing or a smaller margin makes more.",
                      figure, "Fewer sites than wanted.")
    if sheet.result("board.web") < THIN_WEB_M:
        sheet.verdict("tight", f"Only {sheet.shown('board.web')} of foam is left between two holes, and a full board "
                      "may crack when it is lifted. Take a wider spacing or a smaller pot.", figure, "Thin foam.")
    _handled(sheet, figure)
    _over_pipe(sheet, figure)
    _narrowing(sheet, figure)
    sheet.verdict("fits", f"{counted(sites, 'site')}{in_each(sheet)}, {sheet.shown('board.spacing_used')} apart. At "
                  f"harvest the raft floats {sheet.shown('board.draught')} deep, with "
                  f"{sheet.shown('board.freeboard')} of foam above the water.", figure)


def _afloat(sheet: Sheet, figure: str) -> None:
    thickness, draught = sheet["board.thickness"], sheet.result("board.draught")
    spare = sheet.result("board.spare_load")
    foam = sheet.shown("board.thickness")
    if spare <= 0.0:
        over = sheet.shown_as("board.spare_load", -spare)
        sheet.verdict("fails", f"At harvest each full board is {over} too heavy for {foam} of foam. Take thicker foam, "
                      "a wider spacing, or rest the board on ledges.", figure)
    elif sheet.result("board.freeboard") < LOW_FREEBOARD_M:
        sheet.verdict("tight", f"Only {sheet.shown('board.freeboard')} of foam stands above the water at harvest: a "
                      "hand on the board puts it under. Take thicker foam or fewer plants.", figure)
    elif sheet.result("board.draught_soaked") > thickness:
        sheet.verdict("tight", "Once the foam has taken up the water that its class allows, the full raft goes "
                      f"{sheet.shown('board.draught_soaked')} deep, and it is {foam} thick. Take foam with closed "
                      "cells (XPS), or thicker foam.", figure)
    elif sheet.result("board.edge_draught") > thickness >= draught:
        sheet.verdict("tight", f"With one half harvested, an edge goes {sheet.shown('board.edge_draught')} deep, and "
                      f"the foam is {foam} thick. Harvest evenly from both sides.", figure, "The raft tips.")


def _grounded(sheet: Sheet, figure: str) -> None:
    """Pots that reach the floor of the bath hold the raft up; where their height is a guess, one is measured."""
    under = sheet.result_if_any("board.pot_stands_full")
    if under is None or under < sheet["bath.water_depth"]:
        return
    measured = sheet.optional("board.pot_height") is not None
    guess, sure = ("", "") if measured else (", if as tall as wide,", ", or measure a pot")
    sheet.verdict("fails" if measured else "tight", f"Pots{guess} reach {sheet.shown('board.pot_stands_full')} "
                  f"under the water at harvest, and it is {sheet.shown('bath.water_depth')} deep: they stand on the "
                  f"floor and hold the raft up. Take shorter pots or deeper water{sure}.",
                  figure, "The pots touch the floor.")


def _handled(sheet: Sheet, figure: str) -> None:
    """A board longer or heavier than one person was said to handle."""
    long, mass = max(sheet.result("board.length"), sheet.result("board.width")), sheet.result("board.mass")
    if mass > sheet["board.max_mass"] * (1 + 1e-6) or long > sheet["board.max_length"] + 1e-9:
        sheet.verdict("tight", f"A full board is {sheet.shown_as('board.length', long)} long and "
                      f"{sheet.shown('board.mass')} at harvest, and you said that one person handles "
                      f"{sheet.shown_as('board.length', sheet['board.max_length'])} and "
                      f"{sheet.shown('board.max_mass')}. Lift it with two, or make more boards.", figure,
                      "Heavy boards.")


def _over_pipe(sheet: Sheet, figure: str) -> None:
    """A board over a standpipe that has no notch for it hangs deeper than the water stands over the pipe."""
    if not scheme.pumps_water(sheet) or sheet.text("circulation.overflow_place") != "inside" \
            or sheet.text("board.notches") != "none":
        return
    if sheet.result("board.draught") > sheet["bath.film"]:
        sheet.verdict("tight", f"The board floats {sheet.shown('board.draught')} deep, and the standpipe's rim is "
                      f"{sheet.shown('bath.film')} under the water: it rests on the pipe. Cut a notch for it.", figure,
                      "The raft rests on the pipe.")


def _narrowing(sheet: Sheet, figure: str) -> None:
    """Walls that close in: the raft hangs on them once the water has fallen too far."""
    fall = sheet.result_if_any("board.fall_to_wedge")
    if fall is None:
        return
    left = sheet.result_if_any("water.depth_after_stop")
    expected = sheet["use.fall"] if left is None else sheet["bath.water_depth"] - left
    if expected > fall + 1e-9:
        what = "what you allow" if left is None else "a stop of the pump"
        sheet.verdict("tight", f"The raft hangs on the walls once the water has fallen "
                      f"{sheet.shown('board.fall_to_wedge')}, and {what} takes it down by "
                      f"{sheet.shown_as('board.fall_to_wedge', expected)}. Cut the raft smaller all round.", figure,
                      "The raft wedges.")
