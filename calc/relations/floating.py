"""How deep a foam board floats, and what it can still carry."""

from __future__ import annotations

from ..errors import OutOfRange
from .base import STANDARD, relation
from .limits import above, at_least, between

FOAM = (r"\rho_f", "kg/m³", "density of the foam")
THICK = ("t", "m", "thickness of the board")
HOLES = (r"\varphi", "", "share of the board that is holes")
WATER = (r"\rho_w", "kg/m³", "density of the water")
ARCHIMEDES = "Archimedes, On Floating Bodies: a floating body displaces its own mass"


def _check(foam_density_kg_m3: float, thickness_m: float, hole_share: float, water_density_kg_m3: float) -> None:
    above("Density of the foam", foam_density_kg_m3, "kg/m³")
    above("Thickness of the board", thickness_m, "m")
    above("Density of the water", water_density_kg_m3, "kg/m³")
    if not 0.0 <= hole_share < 1.0:
        raise OutOfRange("Share of the board that is holes must be 0 or more and under 1.")


@relation(title="Draught of the board",
          formula=r"d = \frac{\rho_f t \left( 1 - \varphi \right) + m}{\rho_w \left( 1 - \varphi \right)}",
          result=("d", "m", "depth of foam under water"),
          symbols={"foam_density_kg_m3": FOAM, "thickness_m": THICK,
                   "load_kg_m2": ("m", "kg/m²", "plants and pots on each area"),
                   "hole_share": HOLES, "water_density_kg_m3": WATER},
          valid="level board, pots not counted as floating; a draught above the thickness means it sinks",
          source=ARCHIMEDES, status=STANDARD)
def draught(foam_density_kg_m3: float, thickness_m: float, load_kg_m2: float, hole_share: float,
            water_density_kg_m3: float) -> float:
    """Draught in m under an even load; more than the thickness means that the board sinks."""
    _check(foam_density_kg_m3, thickness_m, hole_share, water_density_kg_m3)
    at_least("Load on the board", load_kg_m2, "kg/m²")
    return (foam_density_kg_m3 * thickness_m * (1 - hole_share) + load_kg_m2) / (water_density_kg_m3 * (1 - hole_share))


@relation(title="Load the board can carry",
          formula=r"m = \left( \rho_w - \rho_f \right) t \left( 1 - \varphi \right)",
          result=("m", "kg/m²", "even load with the board just awash"),
          symbols={"foam_density_kg_m3": FOAM, "thickness_m": THICK, "hole_share": HOLES, "water_density_kg_m3": WATER},
          valid="level board", source=ARCHIMEDES, status=STANDARD)
def spare_load(foam_density_kg_m3: float, thickness_m: float, hole_share: float, water_density_kg_m3: float) -> float:
    """Even load in kg/m2 that brings the board's top to the water; below 0 for a board that sinks by itself."""
    _check(foam_density_kg_m3, thickness_m, hole_share, water_density_kg_m3)
    return (water_density_kg_m3 - foam_density_kg_m3) * thickness_m * (1 - hole_share)


@relation(title="Density of soaked foam", formula=r"\rho_s = \rho_f + a \rho_w",
          result=(r"\rho_s", "kg/m³", "density of the foam with the water it has taken up"),
          symbols={"foam_density_kg_m3": FOAM, "absorption": ("a", "", "water taken up, as a share of volume"),
                   "water_density_kg_m3": WATER},
          valid="the board keeps its size", source="Definition of density; ASTM C578 sets a limit for each type",
          status=STANDARD)
def soaked_density(foam_density_kg_m3: float, absorption: float, water_density_kg_m3: float) -> float:
    """Density in kg/m3 of foam that has taken up a share (0 to 1) of its volume in water."""
    above("Density of the foam", foam_density_kg_m3, "kg/m³")
    between("Water taken up, as a share of the volume", absorption, 0.0, 1.0)
    above("Density of the water", water_density_kg_m3, "kg/m³")
    return foam_density_kg_m3 + absorption * water_density_kg_m3
