"""Foam boards by published class: how heavy, how warm, how much water each may drink, and who says so."""

from __future__ import annotations

from dataclasses import dataclass

from ..relations.base import PUBLISHED

SOURCE = "ASTM C578-10, table of minimum properties, as reprinted in a 2011 manufacturer bulletin"
STATUS = f"{PUBLISHED}, read in a reprint"


@dataclass(frozen=True)
class Foam:
    """One class. ``density_kg_m3`` is the standard's minimum; ``r_per_inch`` its least R per inch at 75 F
    (ft2 F h/Btu); ``absorption`` the most water it may take up, as a share of its volume."""

    key: str
    name: str
    density_kg_m3: float
    r_per_inch: float
    absorption: float
    source: str = SOURCE
    status: str = STATUS


FOAMS: tuple[Foam, ...] = (
    Foam("XPS X", "XPS, C578 Type X", 21.0, 5.0, 0.003),
    Foam("XPS IV", "XPS, C578 Type IV", 25.0, 5.0, 0.003),
    Foam("XPS VI", "XPS, C578 Type VI", 29.0, 5.0, 0.003),
    Foam("XPS VII", "XPS, C578 Type VII", 35.0, 5.0, 0.003),
    Foam("XPS V", "XPS, C578 Type V", 48.0, 5.0, 0.003),
    Foam("EPS XI", "EPS, C578 Type XI", 12.0, 3.1, 0.04),
    Foam("EPS I", "EPS, C578 Type I", 15.0, 3.6, 0.04),
    Foam("EPS VIII", "EPS, C578 Type VIII", 18.0, 3.8, 0.03),
    Foam("EPS II", "EPS, C578 Type II", 22.0, 4.0, 0.03),
    Foam("EPS IX", "EPS, C578 Type IX", 29.0, 4.2, 0.02),
    Foam("EPS XIV", "EPS, C578 Type XIV", 38.0, 4.2, 0.02),
    Foam("EPS XV", "EPS, C578 Type XV", 46.0, 4.3, 0.02),
)
BY_KEY: dict[str, Foam] = {foam.key: foam for foam in FOAMS}
