"""Sums of the board: its size, the foam between holes, what it weighs and carries, and what a sheet of foam yields."""

from __future__ import annotations

from math import floor

from .pad import NoSum, Pad, Term
from .water import in_a_square, length, square


def _raft(pad: Pad, side: str) -> None:
    pad.shows("Opening, less the gap at both sides", length(pad, f"water.opening_{side}")
              - pad.num(2.0) * length(pad, "board.clearance"), "in", "cm")


def raft_length(pad: Pad) -> None:
    _raft(pad, "length")


def raft_width(pad: Pad) -> None:
    _raft(pad, "width")


def area(pad: Pad) -> None:
    long, wide = length(pad, "board.raft_length"), length(pad, "board.raft_width")
    disc = pad.text("water.opening_shape") == "round"
    found = pad.gives("Area", pad.pi() / pad.num(4.0) * long * long if disc else long * wide, square(pad))
    pad.shows("Square feet" if pad.us else "Square meters", found / in_a_square(pad), "ft2", "m2")


def _board_area(pad: Pad) -> Term:
    return pad.read("board.area", "area", "ft2", "m2")


def site_density(pad: Pad) -> None:
    pad.shows("Sites, over the area", pad.whole("board.sites") / _board_area(pad), "/ft2", "/m2")


def hole_share(pad: Pad) -> None:
    across = length(pad, "board.hole_diameter")
    hole = pad.gives("One hole", pad.pi() / pad.num(4.0) * across * across, square(pad))
    every = pad.gives("All holes", pad.whole("board.sites") * hole, square(pad))
    board = pad.gives("The board", _board_area(pad) * in_a_square(pad), square(pad))
    pad.shows("Share", every / board * pad.num(100.0), "%")


def cover(pad: Pad) -> None:
    pad.shows("Board, over water", _board_area(pad) / pad.read("water.surface_area", "area", "ft2", "m2")
              * pad.num(100.0), "%")


def _inches(pad: Pad, key: str) -> Term:
    return pad.read(key, "length", "in", "mm")


def _pot(pad: Pad) -> Term:
    """Height of a pot: as typed, or as much as its width."""
    typed = pad.design.value("board.pot_height") is not None
    return _inches(pad, "board.pot_height" if typed else "board.pot")


def pot_stands_full(pad: Pad) -> None:
    above = pad.gives("Foam above the water", _inches(pad, "board.thickness") - _inches(pad, "board.draught"),
                      "in" if pad.us else "mm")
    pad.shows("Pot, less that", _pot(pad) - above, "in", "mm")


def pot_volume(pad: Pad) -> None:
    """A cone cut off: the squares of both widths and their product; 1.805 cubic inches are a fluid ounce."""
    top, high = _inches(pad, "board.pot"), _pot(pad)
    base = pad.put(pad.inputs("base_diameter_m"), "length", "in", "mm")
    space = pad.gives("Space", pad.pi() / pad.num(12.0) * high * (top * top + top * base + base * base),
                      "cu in" if pad.us else "cu mm")
    pad.shows("Fluid ounces" if pad.us else "Milliliters",
              space / pad.num(231.0 / 128.0 if pad.us else 1000.0), "fl oz", "mL")


def web(pad: Pad) -> None:
    spacing, hole = (pad.read(key, "length", "in", "mm") for key in ("board.spacing_used", "board.hole_diameter"))
    pad.shows("Spacing, less the hole", spacing - hole, "in", "mm")


def _of_heaviest(pad: Pad, name: str) -> float:
    """What the mass of the heaviest board was worked out with."""
    answer = pad.design.answers.get("board.mass")
    found = answer.inputs.get(name) if answer else None
    if not isinstance(found, (int, float)):
        raise NoSum
    return float(found)


def _plants(pad: Pad) -> Term:
    return (pad.num(_of_heaviest(pad, "sites"))
            * pad.put(_of_heaviest(pad, "site_mass_kg"), "mass", "lb", "kg"))


def load(pad: Pad) -> None:
    plants = pad.gives("Plants and pots", _plants(pad), "lb" if pad.us else "kg")
    pad.shows("On the board", plants / pad.put(_of_heaviest(pad, "area_m2"), "area", "ft2", "m2"), "lb/ft2", "kg/m2")


def _thick(pad: Pad, thickness_m: float) -> Term:
    """Thickness in the unit that densities are said by: feet or metres."""
    inches = pad.put(thickness_m, "length", "in", "cm")
    return pad.gives("Thickness", inches / pad.num(12.0 if pad.us else 100.0), "ft" if pad.us else "m")


def mass(pad: Pad) -> None:
    thick = _thick(pad, _of_heaviest(pad, "thickness_m"))
    foam = pad.gives("Foam left after drilling", pad.put(_of_heaviest(pad, "area_m2"), "area", "ft2", "m2") * thick
                     * pad.put(_of_heaviest(pad, "foam_density_kg_m3"), "density", "lb/ft3", "kg/m3")
                     * (pad.num(1.0) - pad.num(_of_heaviest(pad, "hole_share"))), "lb" if pad.us else "kg")
    plants = pad.gives("Plants and pots", _plants(pad), "lb" if pad.us else "kg")
    pad.shows("Together", foam + plants, "lb", "kg")


def capacity(pad: Pad) -> None:
    thick = _thick(pad, pad.inputs("thickness_m"))
    lift = (pad.put(pad.inputs("water_density_kg_m3"), "density", "lb/ft3", "kg/m3")
            - pad.put(pad.inputs("foam_density_kg_m3"), "density", "lb/ft3", "kg/m3"))
    pad.shows("Water less foam, but for the holes", lift * thick * (pad.num(1.0) - pad.num(pad.inputs("hole_share"))),
              "lb/ft2", "kg/m2")


def spare_load(pad: Pad) -> None:
    spare = pad.read("board.capacity", "area_mass", "lb/ft2", "kg/m2") - pad.read("board.load", "area_mass", "lb/ft2",
                                                                                    "kg/m2")
    pad.shows("Load that sinks it, less its own", spare * pad.put(pad.inputs("area_m2"), "area", "ft2", "m2"),
              "lb", "kg")


def freeboard(pad: Pad) -> None:
    pad.shows("Thickness, less what is under water", pad.read("board.thickness", "length", "in", "mm")
              - pad.read("board.draught", "length", "in", "mm"), "in", "mm")


def pieces_per_sheet(pad: Pad) -> None:
    """Boards along the sheet times boards across it, the better of the two ways round."""
    kerf = pad.inputs("kerf_m")
    sheet = [pad.inputs(f"sheet_{side}_m") for side in ("length", "width")]
    piece = [pad.inputs(f"piece_{side}_m") for side in ("length", "width")]

    def fits(way: list[float]) -> int:
        along, across = (floor((size + kerf) / (board + kerf) + 1e-9) for size, board in zip(sheet, way, strict=True))
        return along * across
    way = max((piece, piece[::-1]), key=fits)
    cut = pad.put(kerf, "length", "in", "cm")
    ways = [pad.rounded(label, (pad.put(size, "length", "in", "cm") + cut) / (pad.put(board, "length", "in", "cm")
                                                                             + cut), up=False)
            for label, size, board in zip(("Along the sheet", "Across it"), sheet, way, strict=True)]
    pad.shows("Boards from a sheet", ways[0] * ways[1])


def sheets(pad: Pad) -> None:
    boards = pad.gives("Boards", pad.times("bath.count", pad.whole("board.count")))
    pad.counts("Boards, over boards from a sheet", boards / pad.whole("board.pieces_per_sheet"))


def waste(pad: Pad) -> None:
    sheet = pad.gives("One sheet", length(pad, "board.sheet_length") * length(pad, "board.sheet_width"), square(pad))
    bought = pad.gives("All sheets", pad.times("board.sheets", sheet), square(pad))
    used = pad.gives("All boards", pad.times("bath.count", _board_area(pad))
                     * in_a_square(pad), square(pad))
    pad.shows("Share left over", (bought - used) / bought * pad.num(100.0), "%")


SUMS = {
    f"board.{name}": reckon for name, reckon in {
        "raft_length": raft_length, "raft_width": raft_width, "area": area, "site_density": site_density,
        "hole_share": hole_share, "cover": cover, "web": web, "load": load, "mass": mass, "capacity": capacity,
        "spare_load": spare_load, "freeboard": freeboard, "pieces_per_sheet": pieces_per_sheet, "sheets": sheets,
        "waste": waste, "pot_stands_full": pot_stands_full, "pot_volume": pot_volume}.items()}
