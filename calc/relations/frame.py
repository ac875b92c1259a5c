"""A liner in a frame: how large a sheet it takes, how hard the water pushes, and how far a wall bows out."""

from __future__ import annotations

from .base import PRACTICE, STANDARD, relation
from .limits import above, at_least

GRAVITY = 9.80665
STEVIN = "Pressure in water at rest goes with the depth (Stevin 1586); its mean over a wall is that at half the depth"


@relation(title="Side of the liner", formula=r"l = s + 2 H + 2 o", result=("l", "m", "side of the sheet"),
          symbols={"size_m": ("s", "m", "length or width inside the frame"),
                   "depth_m": ("H", "m", "inside depth, floor to rim"),
                   "overlap_m": ("o", "m", "what hangs over the rim at each side")},
          valid="a box with a flat floor; corners are folded, not cut", source="Down one wall, along the floor and up "
          "the other; the rule of sellers of pond liner", status=PRACTICE)
def liner_side(size_m: float, depth_m: float, overlap_m: float) -> float:
    """One side of the liner's sheet in m; sizes in m, above zero, and an overlap of 0 or more, else OutOfRange."""
    above("Size inside the frame", size_m, "m")
    above("Inside depth", depth_m, "m")
    at_least("Overlap", overlap_m, "m")
    return size_m + 2 * depth_m + 2 * overlap_m


@relation(title="Push of the water on a wall", formula=r"m = \frac{1}{2} \rho h^2 L",
          result=("m", "kg", "mass whose weight is the push"),
          symbols={"density_kg_m3": (r"\rho", "kg/m³", "density of the water"),
                   "depth_m": ("h", "m", "depth of the water"), "length_m": ("L", "m", "length of the wall")},
          valid="an upright wall, water at rest", source=STEVIN, status=STANDARD)
def wall_push(density_kg_m3: float, depth_m: float, length_m: float) -> float:
    """What the water pushes on a wall, as the mass in kg that weighs as much; OutOfRange for sizes below zero."""
    above("Density of the water", density_kg_m3, "kg/m³")
    at_least("Depth of the water", depth_m, "m")
    at_least("Length of the wall", length_m, "m")
    return 0.5 * density_kg_m3 * depth_m**2 * length_m


def stiffness(wall_height_m: float, wall_thickness_m: float, elasticity_pa: float) -> float:
    """Bending stiffness in N m2 of a wall of boards that bows outward between its ends."""
    above("Height of the wall", wall_height_m, "m")
    above("Thickness of the wall", wall_thickness_m, "m")
    above("Elasticity of the wood", elasticity_pa, "Pa")
    return elasticity_pa * wall_height_m * wall_thickness_m**3 / 12


@relation(title="How far a wall of the frame bows", formula=r"b = \frac{5 \, m g \, s^3}{384 \, E I}, \quad "
          r"I = \frac{H t^3}{12}", result=("b", "m", "bulge in the middle of the free length"),
          symbols={"push_kg": ("m", "kg", "mass whose weight pushes on the free length"),
                   "span_m": ("s", "m", "free length, between corners or braces"),
                   "wall_height_m": ("H", "m", "height of the wall"), "wall_thickness_m": ("t", "m", "its thickness"),
                   "elasticity_pa": ("E", "Pa", "elasticity of the wood")},
          valid="a wall held at both ends of its free length and nowhere else, the push even along it; a floor that is "
          "screwed to it holds it better",
          source="Beam on two supports under an even load (Navier), in every table of beams", status=STANDARD)
def wall_bulge(push_kg: float, span_m: float, wall_height_m: float, wall_thickness_m: float,
               elasticity_pa: float) -> float:
    """How far in m a wall bows between its braces; OutOfRange for sizes that are not above zero."""
    at_least("Push of the water", push_kg, "kg")
    above("Free length", span_m, "m")
    return 5 * push_kg * GRAVITY * span_m**3 / (384 * stiffness(wall_height_m, wall_thickness_m, elasticity_pa))


@relation(title="Free length that bows so far", formula=r"s = \sqrt[4]{\frac{384 \, E I b}{5 \, q}}, \quad "
          r"I = \frac{H t^3}{12}", result=("s", "m", "longest free length"),
          symbols={"push_n_m": ("q", "N/m", "push on each meter of the wall"), "bulge_m": ("b", "m", "bulge allowed"),
                   "wall_height_m": ("H", "m", "height of the wall"), "wall_thickness_m": ("t", "m", "its thickness"),
                   "elasticity_pa": ("E", "Pa", "elasticity of the wood")},
          valid="as for the bulge", source="The bulge above, solved for the free length", status=STANDARD)
def free_length(push_n_m: float, bulge_m: float, wall_height_m: float, wall_thickness_m: float,
                elasticity_pa: float) -> float:
    """Longest free length in m of a wall that may bow so far; OutOfRange without a push."""
    above("Push on the wall", push_n_m, "N/m")
    above("Bulge allowed", bulge_m, "m")
    bends = stiffness(wall_height_m, wall_thickness_m, elasticity_pa)
    return float((384 * bends * bulge_m / (5 * push_n_m)) ** 0.25)
