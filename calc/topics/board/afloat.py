"""Whether the boards float: cover, load at harvest, and what happens when one half is cut."""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING

from ...data import foam as foams
from ...declare import Row
from ...geometry.boards import cell_in_disc
from ...relations import floating, geometry, heat
from ...relations import layout as counting
from ...relations.base import MEMORY, PRACTICE
from .. import scheme
from ..circulation import INSIDE
from ..verdicts import counted
from .cutting import INCH, length_text, plant_mass
from .notches import NO_NOTCHES

if TYPE_CHECKING:
    from ...sheet import Sheet

THIN_WEB_M = INCH
LOW_FREEBOARD_M = INCH / 4
PLANT_CENTRE_M = 0.10


def _board_area(sheet: Sheet, piece: Row, raft_area: float) -> float:
    """Area of one board in m2: its own rectangle, or its share of a round raft."""
    if sheet.result("water.opening_shape", str) != "round":
        own: float = piece["length"] * piece["width"]
        return own
    pieces = sheet.result_rows("board.pieces")
    if len(pieces) in (1, 2, 4):
        return raft_area / len(pieces)
    radius = sheet.result("board.raft_length") / 2
    centre = sheet["board.clearance"] + radius
    return cell_in_disc(piece["x"] - centre, piece["y"] - centre, piece["length"], piece["width"], radius)


def coverage(sheet: Sheet) -> None:
    """How dense the sites are, how much water is covered, and the foam left between holes."""
    sites, diameter = sheet.result("board.sites", int), sheet.result("board.hole_diameter")
    long, wide = sheet.result("board.raft_length"), sheet.result("board.raft_width")
    area = (geometry.circle_area(diameter_m=long) if sheet.result("water.opening_shape", str) == "round"
            else geometry.rectangle_area(length_m=long, width_m=wide))
    sheet.put("board.area", area, note="All boards of one bath, holes counted in.")
    sheet.work("board.site_density", counting.site_density, sites=sites, area_m2=area)
    sheet.work("board.hole_share", counting.hole_share, sites=sites, hole_diameter_m=diameter, area_m2=area)
    cover = area / sheet.result("water.surface_area")
    sheet.put("board.cover", cover, note="Area of the boards over the water surface, each hole filled by its pot. "
              "Light on the rest makes algae.")
    if cover < 0.9:
        sheet.caution("light-gap", "note", f"The boards cover {sheet.show(cover, 'ratio', '%', '%')} of the water. "
                      "Light on open water grows algae: make the gap smaller or cover the rest with dark film.",
                      lead="Light makes algae",
                      brief=f"Boards cover {sheet.show(cover, 'ratio', '%', '%')} of the water: cover the rest with "
                            "dark film.")
    web = sheet.work("board.web", counting.web, spacing_m=sheet.result("board.spacing_used"), hole_diameter_m=diameter)
    if web < THIN_WEB_M:
        sheet.caution("thin-web", "warning",
                      f"Only {length_text(sheet, web)} of foam is left between two holes: under 1 in (25 mm) a board "
                      f"cracks when it is lifted full ({PRACTICE}). Take a wider spacing or a smaller pot.",
                      lead="Thin foam",
                      brief=f"Only {length_text(sheet, web)} of foam between two holes: a full board may crack.")


def _warn_of_lifting(sheet: Sheet, mass: float) -> None:
    """A board longer or heavier than one person was said to handle."""
    long = max(sheet.result("board.length"), sheet.result("board.width"))
    if mass > sheet["board.max_mass"] * (1 + 1e-6) or long > sheet["board.max_length"] + 1e-9:
        sheet.caution("heavy-board", "warning",
                      f"A full board is {length_text(sheet, long)} long and {sheet.shown_as('board.max_mass', mass)} "
                      f"at harvest; you said one person handles {length_text(sheet, sheet['board.max_length'])} and "
                      f"{sheet.shown('board.max_mass')}. Lift it with two, or make more "
                      "boards.", lead="Heavy board",
                      brief=f"{sheet.shown_as('board.max_mass', mass)} at harvest: lift it with two, or make more "
                            "boards.")


def float_at_harvest(sheet: Sheet) -> None:
    """How deep the heaviest board floats at harvest, and what it could still carry."""
    kind = foams.BY_KEY[sheet.text("board.foam")]
    thickness, water = sheet["board.thickness"], sheet.result("water.density")
    diameter = sheet.result("board.hole_diameter")
    site_mass = plant_mass(sheet) + sheet["board.pot_mass"]
    raft_area = sheet.result("board.area")
    pieces = [(piece["sites"], _board_area(sheet, piece, raft_area)) for piece in sheet.result_rows("board.pieces")]
    sites, area = max((piece for piece in pieces if piece[1] > 0), key=lambda piece: piece[0] / piece[1])
    share = counting.hole_share(sites=sites, hole_diameter_m=diameter, area_m2=area)
    load = sites * site_mass / area
    source = f"{foams.SOURCE} ({foams.STATUS})"
    sheet.put("board.load", load, note="Plants, pots and wet plugs of the fullest board, over its area.")
    mass = {"foam_density_kg_m3": kind.density_kg_m3, "thickness_m": thickness, "area_m2": area, "hole_share": share,
            "sites": sites, "site_mass_kg": site_mass}
    full = floating.board_mass(**mass)
    sheet.put("board.mass", full, floating.board_mass, mass, source=source,
              note="Foam left after drilling, at the least density of its class, and all its plants and pots.")
    _warn_of_lifting(sheet, full)
    metric_r = heat.foam_resistance(r_per_inch=kind.r_per_inch, thickness_m=thickness)
    sheet.put("board.r_value", f"R {metric_r / heat.R_US:.1f} (US), RSI {metric_r:.2f} m² K/W", source=source,
              note="Least R per inch of the class at 75 °F, times the thickness, when dry.")
    common = {"foam_density_kg_m3": kind.density_kg_m3, "thickness_m": thickness, "hole_share": share,
              "water_density_kg_m3": water}
    capacity = sheet.work("board.capacity", floating.spare_load, **common)
    spare = floating.spare_mass(capacity_kg_m2=capacity, load_kg_m2=load, area_m2=area)
    sheet.put("board.spare_load", spare, floating.spare_mass,
              {"capacity_kg_m2": capacity, "load_kg_m2": load, "area_m2": area},
              note="The load that just sinks the board, less plants and pots at harvest, times the area of the fullest "
              "board. Below zero it sinks.")
    if spare <= 0:
        sheet.caution("raft-sinks", "warning",
                      f"The raft sinks at harvest: each full board is {sheet.shown_as('board.spare_load', -spare)} too "
                      "heavy. Use thicker foam, wider spacing, or rest the board on ledges.", lead="The raft sinks",
                      brief=f"Each full board is {sheet.shown_as('board.spare_load', -spare)} too heavy at harvest.")
    draught = sheet.work("board.draught", floating.draught, load_kg_m2=load, **common)
    freeboard = thickness - draught
    sheet.put("board.freeboard", freeboard, note="Thickness of the board less how deep it floats.")
    if spare > 0 and freeboard < LOW_FREEBOARD_M:
        sheet.caution("raft-awash", "warning",
                      f"Only {length_text(sheet, freeboard)} of foam stands above the water at harvest: waves and a "
                      "hand on the board put it under. Use thicker foam or fewer plants.", lead="Raft awash",
                      brief=f"Only {length_text(sheet, freeboard)} of foam stands above the water at harvest.")
    soaked = floating.soaked_density(foam_density_kg_m3=kind.density_kg_m3, absorption=kind.absorption,
                                     water_density_kg_m3=water)
    wet = sheet.work("board.draught_soaked", floating.draught, load_kg_m2=load,
                     **{**common, "foam_density_kg_m3": soaked})
    if wet > thickness >= draught:
        sheet.caution("raft-sinks-soaked", "warning", "Once the foam has taken up the water its class allows, the full "
                      "raft sinks. Use foam with closed cells (XPS), or thicker foam.", lead="Soaked foam sinks",
                      brief="Once the foam has taken up its water, the full raft sinks: take closed cells (XPS).")


def on_standpipe(sheet: Sheet) -> None:
    """A board over a standpipe without a notch rests on its rim: the board hangs deeper than the water over the rim."""
    if not scheme.pumps_water(sheet) or sheet.text("circulation.overflow_place") != INSIDE \
            or sheet.text("board.notches") != NO_NOTCHES:
        return
    draught, film = sheet.result("board.draught"), sheet["bath.film"]
    if film >= draught > 0.0:
        sheet.caution("raft-on-standpipe-stopped", "note",
                      "When the pump stops, the water falls to the standpipe's rim, and the board, which hangs "
                      f"{length_text(sheet, draught)} below the water, comes to rest on the pipe and tilts. Cut a "
                      "notch for the pipe, or set the overflow in the wall.", lead="Raft grounds after a stop",
                      brief="When the pump stops, the board comes down on the pipe: cut a notch.")
    if draught > film:
        sheet.caution("raft-on-standpipe", "warning",
                      f"A board that floats {length_text(sheet, draught)} deep rests on a standpipe whose rim is only "
                      f"{length_text(sheet, film)} under the water, and after a stop of the pump it hangs on it. Cut a "
                      "notch for the pipe, or set the overflow in the wall.", lead="Raft on the standpipe",
                      brief=f"The board floats {length_text(sheet, draught)} deep and rests on the pipe: cut a notch.")


def heel(sheet: Sheet) -> None:
    """What happens when one half of the board has been harvested and the other has not."""
    kind = foams.BY_KEY[sheet.text("board.foam")]
    thickness, water = sheet["board.thickness"], sheet.result("water.density")
    load, draught = sheet.result("board.load"), sheet.result("board.draught")
    dry = kind.density_kg_m3 * thickness / water
    whole_disc = sheet.result("water.opening_shape", str) == "round" and sheet.result("board.count", int) == 1
    tilt = {"bare_draught_m": dry, "draught_m": draught, "lever": 8 / (3 * pi) if whole_disc else 0.75}
    edge = floating.edge_draught(**tilt)
    sheet.put("board.edge_draught", edge, floating.edge_draught, tilt,
              note="Half the load on one half of the board only: the mean depth with half the load, plus the tilt by "
              "which the water's push balances it. Small tilts, a plain rectangle or a whole disc, the board free of "
              "its neighbors.", source=f"balance of moments of a floating body (ship stability): {MEMORY}")
    if edge > thickness >= draught:
        sheet.caution("raft-heels", "warning",
                      f"With one half harvested, the heavy edge of a board goes {length_text(sheet, edge)} deep, more "
                      f"than its {length_text(sheet, thickness)}: it dips under and water runs over the board. Harvest "
                      "evenly from both sides, or rest the boards on ledges.", lead="The raft tips",
                      brief=f"With one half harvested an edge goes {length_text(sheet, edge)} deep: harvest evenly.")
    narrow = sheet.result("board.width") if not whole_disc else sheet.result("board.raft_length") * (3 / 4) ** 0.5
    narrow = min(narrow, sheet.result("board.length"))
    total = dry * water + load
    if draught <= 0 or total <= 0:
        return
    height = (dry * water * thickness / 2 + load * (thickness + PLANT_CENTRE_M)) / total
    if floating.metacentre_height(draught_m=draught, width_m=narrow) < height:
        sheet.caution("raft-capsizes", "warning",
                      "So narrow a board turns over with tall plants on it (the plants' weight taken as 10 cm above "
                      "the board, an invented example). Use wider boards, or tie neighbors together.",
                      lead="The board capsizes",
                      brief="So narrow a board turns over with tall plants: make it wider, or tie it to its neighbor.")
        sheet.verdict("tight", f"A board only {length_text(sheet, narrow)} wide turns over with tall plants on it. "
                      "Make it wider, or tie neighbors together.", counted(sheet.result("board.sites"), "site"),
                      "The board turns over.")
