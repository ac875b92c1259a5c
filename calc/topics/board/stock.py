"""Foam to buy, and the cautions of cutting it."""

from __future__ import annotations

from functools import lru_cache
from math import ceil
from typing import TYPE_CHECKING

from ...geometry import layout
from ...relations import layout as counting
from .cutting import length_text

if TYPE_CHECKING:
    from ...sheet import Sheet


@lru_cache(maxsize=64)
def _sheets_for(sheet_length: float, sheet_width: float, long: float, wide: float, kerf: float) -> int:
    return layout.pieces_from_sheet(sheet_length, sheet_width, long, wide, kerf)


def _kerf_in_the_gap(sheet: Sheet, long: float, wide: float) -> int:
    """Boards from a sheet if each loses its part of the saw cuts, as far as the gap takes them; 0 if it cannot."""
    kerf, sides = sheet["board.kerf"], (sheet["board.sheet_length"], sheet["board.sheet_width"])
    lost = []
    for size, whole in ((long, "board.raft_length"), (wide, "board.raft_width")):
        cuts = round(sheet.result(whole) / size) - 1
        lost.append(kerf * cuts / (cuts + 1))
        if kerf * cuts > sheet["board.clearance"] + 1e-9:
            return 0
    return _sheets_for(*sides, long - lost[0], wide - lost[1], kerf)


def stock(sheet: Sheet) -> None:
    """Foam sheets to buy and what is left of them."""
    long, wide = sheet.result("board.length"), sheet.result("board.width")
    sides = sheet["board.sheet_length"], sheet["board.sheet_width"]
    each = _sheets_for(*sides, long, wide, sheet["board.kerf"])
    if not each:
        sheet.fault("board.sheet_length", f"Foam sheet is too small for a board {length_text(sheet, long)} by "
                    f"{length_text(sheet, wide)}: enter a larger sheet, or split the raft into more boards.",
                    dict.fromkeys(("board.sheet_width", "bath.length", "bath.width", "bath.diameter"), ""))
    trimmed = _kerf_in_the_gap(sheet, long, wide)
    each = max(each, trimmed)
    one_way = counting.sheet_pieces
    arguments = {"sheet_length_m": sides[0], "sheet_width_m": sides[1], "piece_length_m": long,
                 "piece_width_m": wide, "kerf_m": sheet["board.kerf"]}
    if each == trimmed and each > _sheets_for(*sides, long, wide, sheet["board.kerf"]):
        sheet.put("board.pieces_per_sheet", each, note="Cut along the seams, boards come out narrower by half a saw "
                  "cut at each seam; the gap round the raft takes that up.")
    elif each == one_way(**arguments):
        sheet.put("board.pieces_per_sheet", each, one_way, arguments, note="All boards lie the same way.")
    else:
        sheet.put("board.pieces_per_sheet", each, note="Straight cuts from edge to edge, some boards turned: better "
                  f"than all one way, which gives {one_way(**arguments)}.")
    count = sheet.result("board.count", int) * sheet.whole("bath.count")
    needed = ceil(count / each)
    sheet.put("board.sheets", needed, note="Boards of all baths over boards from one sheet, rounded up.")
    used = sheet.result("board.area") * sheet.whole("bath.count")
    sheet.put("board.waste", max(1 - used / (needed * sides[0] * sides[1]), 0.0),
              note="Share of the sheets bought that is not board; scraps may still make covers and spares.")


def workbench(sheet: Sheet) -> None:
    """Cautions of cutting and of foam."""
    sheet.result("board.length")
    sheet.caution("hole-saw", "danger",
                  "Hole saw: it can grab and twist the drill out of your hand. Clamp the board on scrap wood, hold the "
                  "drill with both hands, run it slowly, keep sleeves and hair away, wear eye protection. The "
                  "foam burns fast and its dust harms: a mask on, and no flame, hot lamp or heater near.",
                  lead="Saw and foam",
                  brief="Clamp the board, both hands, slowly; goggles and mask on; no flame near foam.", standing=True)
    sheet.caution("foam-dust", "warning",
                  "Foam: saw it outdoors or with a dust mask on, and sweep up every crumb before it reaches the water "
                  "or a drain. It burns fast with poisonous smoke: no flame, hot lamp or heater near it.",
                  lead="Foam dust and smoke",
                  brief="Mask on, no crumbs in the water, and no flame, hot lamp or heater near.")
    sheet.caution("foam-food", "note",
                  "Building foam holds flame retardant and is not certified for contact with food. Keep only the roots "
                  "under it, or line it with film that is.", lead="Foam and food",
                  brief="Building foam is not certified for food: only the roots go under it.")
