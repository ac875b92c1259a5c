"""How deep a foam board floats, and what it can still carry."""

from __future__ import annotations

from ..errors import OutOfRange
from .base import STANDARD, relation

FOAM = (r"\rho_f", "kg/m³", "density of the foam")
THICK = ("t", "m", "thickness of the board")
HOLES = (r"\varphi", "", "share of the board that is holes")
WATER = (r"\rho_w", "kg/m³", "density of the water")
ARCHIMEDES = "Archimedes, On Floating Bodies: a floating body displaces its own mass"


def _check(thickness_m: float, hole_share: float, water_density_kg_m3: float) -> None:
    if not thickness_m > 0.0 or not 0.0 <= hole_share < 1.0 or not water_density_kg_m3 > 0.0:
        raise OutOfRange("Thickness must be above 0 m and the share of holes from 0 to under 1.")


@relation(title="Draught of the board",
          formula=r"d = \frac{\rho_f t \left( 1 - \varphi \right) + m}{\rho_w \left( 1 - \varphi \right)}",
          result=("d", "m", "depth of foam under water"),
          symbols={"foam_density_kg_m3": FOAM, "thickness_m": THICK, "load_kg_m2": ("m", "kg/m²", "plants and pots on each area"),
                   "hole_share": HOLES, "water_density_kg_m3": WATER},
          valid="level board, pots not counted as floating; a draught above the thickness means it sinks",
          source=ARCHIMEDES, status=STANDARD)
def draught(foam_density_kg_m3: float, thickness_m: float, load_kg_m2: float, hole_share: float,
            water_density_kg_m3: float) -> float:
    """Draught in m under an even load."""
    _check(thickness_m, hole_share, water_density_kg_m3)
    return (foam_density_kg_m3 * thickness_m * (1 - hole_share) + load_kg_m2) / (water_density_kg_m3 * (1 - hole_share))


@relation(title="Load the board can carry",
          formula=r"m = \left( \rho_w - \rho_f \right) t \left( 1 - \varphi \right)",
          result=("m", "kg/m²", "even load with the board just awash"),
          symbols={"foam_density_kg_m3": FOAM, "thickness_m": THICK, "hole_share": HOLES, "water_density_kg_m3": WATER},
          valid="level board", source=ARCHIMEDES, status=STANDARD)
def spare_load(foam_density_kg_m3: float, thickness_m: float, hole_share: float, water_density_kg_m3: float) -> float:
    """Even load in kg/m2 that brings the board's top to the water."""
    _check(thickness_m, hole_share, water_density_kg_m3)
    return (water_density_kg_m3 - foam_density_kg_m3) * thickness_m * (1 - hole_share)
