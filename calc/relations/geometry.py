"""Volumes and sizes of tanks by exact geometry; an average of top and bottom would be wrong for a tote."""

from __future__ import annotations

from math import acos, pi, sqrt

from .base import STANDARD, relation
from .limits import above, at_least, between

EUCLID = "Solid geometry (Euclid, Elements XI and XII); definition"
PRISMATOID = ("Prismatoid formula, Zwillinger (ed.), CRC Standard Mathematical Tables and Formulae (from memory, "
              "checked by integration)")
LENGTH = ("L", "m", "length inside")
WIDTH = ("W", "m", "width inside")
DEPTH = ("h", "m", "depth of water")
VOLUME = ("V", "m³", "volume")


def _positive(**values: float) -> None:
    for name, value in values.items():
        above(name.removesuffix("_m").replace("_", " ").capitalize(), value, "m")


@relation(title="Volume of a box", formula=r"V = L W h", result=VOLUME,
          symbols={"length_m": LENGTH, "width_m": WIDTH, "depth_m": DEPTH},
          valid="straight sides, sizes above zero", source=EUCLID, status=STANDARD)
def box_volume(length_m: float, width_m: float, depth_m: float) -> float:
    """Volume of a box in m3; sizes in m, above zero, else OutOfRange."""
    _positive(length_m=length_m, width_m=width_m, depth_m=depth_m)
    return length_m * width_m * depth_m


@relation(title="Volume of a tapered box",
          formula=r"V = \frac{h}{6} \left( A_t + A_b + \left( L_t + L_b \right) \left( W_t + W_b \right) \right), "
                  r"\quad A_t = L_t W_t, \quad A_b = L_b W_b", result=VOLUME,
          symbols={"top_length_m": ("L_t", "m", "length at the water line"),
                   "top_width_m": ("W_t", "m", "width at the water line"),
                   "base_length_m": ("L_b", "m", "length at the floor"),
                   "base_width_m": ("W_b", "m", "width at the floor"), "depth_m": DEPTH},
          valid="flat sides, sizes above zero", source=PRISMATOID, status=STANDARD)
def tapered_box_volume(top_length_m: float, top_width_m: float, base_length_m: float, base_width_m: float,
                       depth_m: float) -> float:
    """Volume of a tank with flat sloping sides in m3, exact (prismatoid); sizes in m, above zero."""
    _positive(top_length_m=top_length_m, top_width_m=top_width_m, base_length_m=base_length_m,
              base_width_m=base_width_m, depth_m=depth_m)
    return depth_m / 6 * (top_length_m * top_width_m + base_length_m * base_width_m
                          + (top_length_m + base_length_m) * (top_width_m + base_width_m))


@relation(title="Volume of a cylinder", formula=r"V = \frac{\pi}{4} D^2 h", result=VOLUME,
          symbols={"diameter_m": ("D", "m", "diameter inside"), "depth_m": ("h", "m", "depth or length")},
          valid="sizes above zero", source=EUCLID, status=STANDARD)
def cylinder_volume(diameter_m: float, depth_m: float) -> float:
    """Volume of a cylinder in m3: a round tank, or the water in a hose; sizes in m, above zero."""
    _positive(diameter_m=diameter_m, depth_m=depth_m)
    return pi / 4 * diameter_m**2 * depth_m


@relation(title="Volume of a tapered round tank",
          formula=r"V = \frac{\pi h}{12} \left( D_t^2 + D_t D_b + D_b^2 \right)", result=VOLUME,
          symbols={"top_diameter_m": ("D_t", "m", "diameter at the water line"),
                   "base_diameter_m": ("D_b", "m", "diameter at the floor"), "depth_m": DEPTH},
          valid="straight slope, sizes above zero", source=EUCLID, status=STANDARD)
def frustum_volume(top_diameter_m: float, base_diameter_m: float, depth_m: float) -> float:
    """Volume of a frustum of a cone in m3: a bucket; sizes in m, above zero."""
    _positive(top_diameter_m=top_diameter_m, base_diameter_m=base_diameter_m, depth_m=depth_m)
    return pi * depth_m / 12 * (top_diameter_m**2 + top_diameter_m * base_diameter_m + base_diameter_m**2)


@relation(title="Size at the water line", formula=r"s = s_b + \left( s_t - s_b \right) \frac{h}{H}",
          result=("s", "m", "size at the water line"),
          symbols={"top_m": ("s_t", "m", "size at the rim"), "base_m": ("s_b", "m", "size at the floor"),
                   "full_depth_m": ("H", "m", "inside depth, floor to rim"), "depth_m": DEPTH},
          valid="straight slope, water no deeper than the vessel", source="Similar triangles (Euclid, Elements VI)",
          status=STANDARD)
def size_at_depth(top_m: float, base_m: float, full_depth_m: float, depth_m: float) -> float:
    """Length, width or diameter at a depth in m, on a straight slope from floor to rim."""
    _positive(top_m=top_m, base_m=base_m, full_depth_m=full_depth_m)
    # A depth typed in another unit may pass the rim by the last digit of the conversion.
    if not 0.0 <= depth_m <= full_depth_m * (1 + 1e-9):
        between("Depth of water", depth_m, 0.0, full_depth_m, "m, the depth of the tank")
    return base_m + (top_m - base_m) * depth_m / full_depth_m


@relation(title="Volume from a filling", formula=r"V = V_k \frac{h}{h_k}", result=VOLUME,
          symbols={"known_volume_m3": ("V_k", "m³", "volume that was poured in"),
                   "known_depth_m": ("h_k", "m", "depth it stood at"), "depth_m": DEPTH},
          valid="exact at the depth it was measured; at other depths for straight sides only",
          source="Proportion; definition of a measured filling", status=STANDARD)
def volume_by_filling(known_volume_m3: float, known_depth_m: float, depth_m: float) -> float:
    """Volume in m3 at a depth, from a volume measured at another; straight sides between the two."""
    _positive(known_depth_m=known_depth_m)
    at_least("Volume poured in", known_volume_m3, "m³")
    at_least("Depth of water", depth_m, "m")
    return known_volume_m3 * depth_m / known_depth_m


@relation(title="Area of a rectangle", formula=r"A = L W", result=("A", "m²", "area"),
          symbols={"length_m": LENGTH, "width_m": WIDTH}, valid="sizes above zero", source=EUCLID, status=STANDARD)
def rectangle_area(length_m: float, width_m: float) -> float:
    """Area of a rectangle in m2."""
    _positive(length_m=length_m, width_m=width_m)
    return length_m * width_m


@relation(title="Area of a circle", formula=r"A = \frac{\pi}{4} D^2", result=("A", "m²", "area"),
          symbols={"diameter_m": ("D", "m", "diameter")}, valid="size above zero", source=EUCLID, status=STANDARD)
def circle_area(diameter_m: float) -> float:
    """Area of a circle in m2."""
    _positive(diameter_m=diameter_m)
    return pi / 4 * diameter_m**2


SEGMENT = "Segment of a circle (Euclid, Elements III), with the radius from chord and height"
RIM_WIDTH = ("W", "m", "width at the rim")
RIM_DEPTH = ("H", "m", "inside depth in the middle, floor to rim")


def _round_bottom(rim_width_m: float, full_depth_m: float, depth_m: float) -> float:
    """Radius in m of a bottom that is part of a circle; OutOfRange where it would be more than half of one."""
    _positive(rim_width_m=rim_width_m, full_depth_m=full_depth_m)
    between("Inside depth", full_depth_m, 0.0, rim_width_m / 2 * (1 + 1e-6), "m, half the width at the rim")
    between("Depth of water", depth_m, 0.0, full_depth_m * (1 + 1e-9), "m, the depth of the vessel")
    return (rim_width_m**2 / 4 + full_depth_m**2) / (2 * full_depth_m)


@relation(title="Volume in a lying half drum",
          formula=r"V = L \left( R^2 \arccos \frac{R - h}{R} - (R - h) \sqrt{2 R h - h^2} \right), \quad "
                  r"R = \frac{W^2 / 4 + H^2}{2 H}", result=VOLUME,
          symbols={"length_m": LENGTH, "rim_width_m": RIM_WIDTH, "full_depth_m": RIM_DEPTH, "depth_m": DEPTH},
          valid="flat ends; a bottom that is half a circle or less of one", source=SEGMENT, status=STANDARD)
def half_drum_volume(length_m: float, rim_width_m: float, full_depth_m: float, depth_m: float) -> float:
    """Volume in m3 of a lying half drum, or less of one, up to a depth in the middle; OutOfRange beyond its rim."""
    _positive(length_m=length_m)
    radius = _round_bottom(rim_width_m, full_depth_m, depth_m)
    chord = sqrt(max(2 * radius * depth_m - depth_m**2, 0.0))
    return length_m * (radius**2 * acos((radius - depth_m) / radius) - (radius - depth_m) * chord)


@relation(title="Width of the water in a lying half drum", formula=r"w = 2 \sqrt{2 R h - h^2}, \quad "
          r"R = \frac{W^2 / 4 + H^2}{2 H}", result=("w", "m", "width at the water line"),
          symbols={"rim_width_m": RIM_WIDTH, "full_depth_m": RIM_DEPTH, "depth_m": DEPTH},
          valid="a bottom that is half a circle or less of one", source=SEGMENT, status=STANDARD)
def half_drum_width(rim_width_m: float, full_depth_m: float, depth_m: float) -> float:
    """Width in m of the water in a lying half drum at a depth in the middle; OutOfRange beyond its rim."""
    radius = _round_bottom(rim_width_m, full_depth_m, depth_m)
    return 2 * sqrt(max(2 * radius * depth_m - depth_m**2, 0.0))


LONG = ("L", "m", "length over all")
ACROSS = ("W", "m", "width, between the straight sides")


def _oval(length_m: float, width_m: float) -> None:
    _positive(length_m=length_m, width_m=width_m)
    at_least("Length of an oval", length_m, "m, its width", width_m * (1 - 1e-9))


@relation(title="Area of an oval with straight sides", formula=r"A = (L - W) W + \frac{\pi}{4} W^2",
          result=("A", "m²", "area"), symbols={"length_m": LONG, "width_m": ACROSS},
          valid="two straight sides and two half-round ends, longer than wide", source=EUCLID, status=STANDARD)
def oval_area(length_m: float, width_m: float) -> float:
    """Area in m2 of an oval of straight sides and half-round ends; OutOfRange where it is wider than long."""
    _oval(length_m, width_m)
    return (length_m - width_m) * width_m + pi / 4 * width_m**2


@relation(title="Volume of an oval with straight sides", formula=r"V = h \left( (L - W) W + \frac{\pi}{4} W^2 \right)",
          result=VOLUME, symbols={"length_m": LONG, "width_m": ACROSS, "depth_m": DEPTH},
          valid="two straight sides and two half-round ends, walls upright", source=EUCLID, status=STANDARD)
def oval_volume(length_m: float, width_m: float, depth_m: float) -> float:
    """Volume in m3 of an oval vessel up to a depth; OutOfRange where it is wider than long."""
    at_least("Depth of water", depth_m, "m")
    return oval_area(length_m=length_m, width_m=width_m) * depth_m


@relation(title="Widest board in an oval",
          formula=r"w = W \sqrt{1 - c^2}, \quad c = \frac{\sqrt{a^2 + 8 W^2} - a}{4 W}, \; a = L - W",
          result=("w", "m", "width of the largest rectangle"), symbols={"length_m": LONG, "width_m": ACROSS},
          valid="two straight sides and two half-round ends, longer than wide",
          source="Largest rectangle inside, where the derivative of its area is nought", status=STANDARD)
def oval_board_width(length_m: float, width_m: float) -> float:
    """Width in m of the largest rectangle in an oval of straight sides and half-round ends."""
    _oval(length_m, width_m)
    straight = max(length_m - width_m, 0.0)
    share = (sqrt(straight**2 + 8 * width_m**2) - straight) / (4 * width_m)
    return width_m * sqrt(1 - share**2)


@relation(title="Length of a board in an oval", formula=r"\ell = L - W + \sqrt{W^2 - w^2}",
          result=(r"\ell", "m", "length of the board, corner to corner of its long side"),
          symbols={"length_m": LONG, "width_m": ACROSS, "board_width_m": ("w", "m", "width of the board")},
          valid="a board no wider than the oval", source="Pythagoras, in the half-round ends", status=STANDARD)
def oval_board_length(length_m: float, width_m: float, board_width_m: float) -> float:
    """Length in m of a rectangle of that width in an oval; OutOfRange for one that is wider than the oval."""
    _oval(length_m, width_m)
    between("Width of the board", board_width_m, 0.0, width_m, "m, the width of the oval")
    return length_m - width_m + sqrt(width_m**2 - board_width_m**2)
