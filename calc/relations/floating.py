"""How deep a foam board floats, and what it can still carry."""

from __future__ import annotations

from ..errors import OutOfRange
from .base import PUBLISHED, STANDARD, relation
from .limits import above, at_least, between

FOAM = (r"\rho_f", "kg/m³", "density of the foam")
THICK = ("t", "m", "thickness of the board")
HOLES = (r"\varphi", "", "share of the board that is holes")
AREA = ("A", "m²", "area of the board")
WATER = (r"\rho_w", "kg/m³", "density of the water")
ARCHIMEDES = "Archimedes, On Floating Bodies: a floating body displaces its own mass"


def _check(foam_density_kg_m3: float, thickness_m: float, hole_share: float, water_density_kg_m3: float) -> None:
    above("Density of the foam", foam_density_kg_m3, "kg/m³")
    above("Thickness of the board", thickness_m, "m")
    above("Density of the water", water_density_kg_m3, "kg/m³")
    if not 0.0 <= hole_share < 1.0:
        raise OutOfRange("Share of the board that is holes must be 0 or more and under 1.")


@relation(title="Draft of the board",
          formula=r"d = \frac{\rho_f t \left( 1 - \varphi \right) + m}{\rho_w \left( 1 - \varphi \right)}",
          result=("d", "m", "depth of foam under water"),
          symbols={"foam_density_kg_m3": FOAM, "thickness_m": THICK,
                   "load_kg_m2": ("m", "kg/m²", "plants and pots on each area"),
                   "hole_share": HOLES, "water_density_kg_m3": WATER},
          valid="level board, pots not counted as floating; a draft above the thickness means it sinks",
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


@relation(title="Mass of a full board", formula=r"M = \rho_f t A \left( 1 - \varphi \right) + n m_s",
          result=("M", "kg", "foam, plants and pots of one board"),
          symbols={"foam_density_kg_m3": FOAM, "thickness_m": THICK, "area_m2": AREA, "hole_share": HOLES,
                   "sites": ("n", "", "plants on the board"),
                   "site_mass_kg": ("m_s", "kg", "plant, pot and wet plug of one site")},
          valid="dry foam", source="Definition of density", status=STANDARD)
def board_mass(foam_density_kg_m3: float, thickness_m: float, area_m2: float, hole_share: float, sites: float,
               site_mass_kg: float) -> float:
    """Mass in kg of a board with all its plants; OutOfRange below zero or for a board that is all holes."""
    _check(foam_density_kg_m3, thickness_m, hole_share, 1000.0)
    above("Area of the board", area_m2, "m²")
    at_least("Plants on the board", sites)
    at_least("Mass of one site", site_mass_kg, "kg")
    return foam_density_kg_m3 * thickness_m * area_m2 * (1 - hole_share) + sites * site_mass_kg


@relation(title="Mass a board can still carry", formula=r"M_s = \left( m_c - m \right) A",
          result=("M_s", "kg", "what would bring the board's top to the water"),
          symbols={"capacity_kg_m2": ("m_c", "kg/m²", "even load with the board just awash"),
                   "load_kg_m2": ("m", "kg/m²", "plants and pots on each area"), "area_m2": AREA},
          valid="level board, the load spread evenly; below 0 the board sinks", source=ARCHIMEDES, status=STANDARD)
def spare_mass(capacity_kg_m2: float, load_kg_m2: float, area_m2: float) -> float:
    """Mass in kg that a loaded board still carries; below 0 for one that sinks."""
    between("Load it can carry", capacity_kg_m2, -1e4, 1e4, "kg/m²")
    at_least("Load on the board", load_kg_m2, "kg/m²")
    above("Area of the board", area_m2, "m²")
    return (capacity_kg_m2 - load_kg_m2) * area_m2


@relation(title="Draft of the heavy edge",
          formula=r"d_e = d_0 + \left( d - d_0 \right) \left( \frac{1}{2} + k \right)",
          result=("d_e", "m", "depth of foam under water at the loaded edge"),
          symbols={"bare_draught_m": ("d_0", "m", "draft of the bare board"),
                   "draught_m": ("d", "m", "draft with the whole load"),
                   "lever": ("k", "", "3/4 for a rectangle, 8/(3π) for a disc")},
          valid="half of an even load, all on one half of the board; small tilts, a board free of its neighbors",
          source="Balance of moments of a floating body, as in ship stability (from memory; checked by integration)",
          status=STANDARD)
def edge_draught(bare_draught_m: float, draught_m: float, lever: float) -> float:
    """Draught in m at the loaded edge when the other half has been harvested.

    Half the load acts at a quarter of the width from the middle (4R/3π on a disc), and the water rights a tilt by its
    density times a twelfth of length times width cubed (πR⁴/4): the edge goes down by the lever times what the whole
    load presses the board down.
    """
    at_least("Draft of the bare board", bare_draught_m, "m")
    at_least("Draft of the loaded board", draught_m, "m", bare_draught_m)
    between("Lever", lever, 0.0, 1.0)
    return bare_draught_m + (draught_m - bare_draught_m) * (0.5 + lever)


@relation(title="Metacenter of a board", formula=r"KM = \frac{d}{2} + \frac{b^2}{12 \, d}",
          result=("KM", "m", "height over the underside; with the weight above it, the board turns over"),
          symbols={"draught_m": ("d", "m", "draft"), "width_m": ("b", "m", "narrow side of the board")},
          valid="upright sides; for a disc, b is its diameter times the root of 3/4",
          source="Ship stability: Reed's Naval Architecture for Marine Engineers, 4th ed., exercise 5.5 "
                 "(read in a solution printed elsewhere; the book was not opened)", status=PUBLISHED)
def metacentre_height(draught_m: float, width_m: float) -> float:
    """Height in m of the metacenter over the underside of a board; OutOfRange for sizes not above zero."""
    above("Draft", draught_m, "m")
    above("Width of the board", width_m, "m")
    return draught_m / 2 + width_m**2 / (12 * draught_m)
