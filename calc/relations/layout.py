"""Counting places on a board and pieces on a sheet, and what is left between the holes."""

from __future__ import annotations

from math import ceil, floor, pi, sqrt

from .base import STANDARD, relation
from .limits import above, at_least

# Sizes such as 8 ft over 8 in are whole numbers that floating point may miss by a hair.
HAIR = 1e-9
LENGTH, WIDTH = ("L", "m", "length of the board"), ("W", "m", "width of the board")
SPACING, EDGE = ("s", "m", "center to center"), ("e", "m", "center to edge")
PLACES = ("N", "", "places")
LATTICE = ("Lattice count; checked against the grid and dense packings printed in Skiena and Revilla, Programming "
           "Challenges")


def whole(value: float) -> int:
    """The floor, forgiving the last bits of a ratio that should be whole, such as 8 ft over 8 in."""
    return floor(value + HAIR)


def square_size(a_m: float, b_m: float, spacing_m: float) -> tuple[int, int]:
    """(holes in a row, rows) of the square lattice over an a by b rectangle of centres; none if a side is negative."""
    if a_m < -HAIR or b_m < -HAIR:
        return 0, 0
    return whole(a_m / spacing_m) + 1, whole(b_m / spacing_m) + 1


def staggered_size(a_m: float, b_m: float, pitch_m: float, row_pitch_m: float) -> tuple[int, int, int]:
    """(holes in odd rows, holes in even rows, rows) of a staggered lattice with its rows along ``a``."""
    if a_m < -HAIR or b_m < -HAIR:
        return 0, 0, 0
    full = whole(a_m / pitch_m) + 1
    rest = a_m - (full - 1) * pitch_m
    # The shifted rows keep their last hole only where half a pitch is left over.
    return full, full if rest >= pitch_m / 2 - HAIR * pitch_m else full - 1, whole(b_m / row_pitch_m) + 1


def grid_pieces(sheet_length_m: float, sheet_width_m: float, long_m: float, wide_m: float, kerf_m: float) -> int:
    """Pieces from one sheet in one grid of cuts, the length of each along the length of the sheet."""
    return max(0, whole((sheet_length_m + kerf_m) / (long_m + kerf_m))) * max(
        0, whole((sheet_width_m + kerf_m) / (wide_m + kerf_m)))


def _check(length_m: float, width_m: float, spacing_m: float, edge_m: float) -> None:
    above("Length of the board", length_m, "m")
    above("Width of the board", width_m, "m")
    above("Spacing", spacing_m, "m")
    at_least("Distance from a center to the edge", edge_m, "m")


@relation(title="Places in square rows",
          formula=r"N = \left( \left\lfloor \frac{L - 2 e}{s} \right\rfloor + 1 \right) "
                  r"\left( \left\lfloor \frac{W - 2 e}{s} \right\rfloor + 1 \right)", result=PLACES,
          symbols={"length_m": LENGTH, "width_m": WIDTH, "spacing_m": SPACING, "edge_m": EDGE},
          valid="rectangle, spacing above zero", source=LATTICE, status=STANDARD, core=square_size)
def square_count(length_m: float, width_m: float, spacing_m: float, edge_m: float) -> int:
    """Places on a square grid; 0 on a board too small for one; OutOfRange for sizes not above zero."""
    _check(length_m, width_m, spacing_m, edge_m)
    across, rows = square_size(length_m - 2 * edge_m, width_m - 2 * edge_m, spacing_m)
    return across * rows


@relation(title="Places in staggered rows",
          formula=r"N = \left\lceil \frac{r}{2} \right\rceil a + \left\lfloor \frac{r}{2} \right\rfloor b, \quad "
                  r"r = \left\lfloor \frac{W - 2 e}{s \sqrt{3} / 2} \right\rfloor + 1", result=PLACES,
          symbols={"length_m": LENGTH, "width_m": WIDTH, "spacing_m": SPACING, "edge_m": EDGE},
          valid="rows along the length; a and b are the places in odd and even rows", source=LATTICE, status=STANDARD,
          core=staggered_size)
def staggered_count(length_m: float, width_m: float, spacing_m: float, edge_m: float) -> int:
    """Places in staggered rows that run along the length; 0 on a board too small for one."""
    _check(length_m, width_m, spacing_m, edge_m)
    odd, even, rows = staggered_size(length_m - 2 * edge_m, width_m - 2 * edge_m, spacing_m, spacing_m * sqrt(3) / 2)
    return ceil(rows / 2) * odd + floor(rows / 2) * even


@relation(title="Pieces from one sheet",
          formula=r"n = \left\lfloor \frac{S_L + k}{a + k} \right\rfloor "
                  r"\left\lfloor \frac{S_W + k}{b + k} \right\rfloor",
          result=("n", "", "pieces, the better of the two ways round"),
          symbols={"sheet_length_m": ("S_L", "m", "length of the sheet"),
                   "sheet_width_m": ("S_W", "m", "width of the sheet"),
                   "piece_length_m": ("a", "m", "length of a piece"), "piece_width_m": ("b", "m", "width of a piece"),
                   "kerf_m": ("k", "m", "width of the cut")},
          valid="all pieces one way round; mixing ways can do better", source="Arithmetic of a grid of cuts",
          status=STANDARD, core=grid_pieces)
def sheet_pieces(sheet_length_m: float, sheet_width_m: float, piece_length_m: float, piece_width_m: float,
                 kerf_m: float) -> int:
    """Pieces of one size from a sheet, all laid one way round."""
    above("Length of the sheet", sheet_length_m, "m")
    above("Width of the sheet", sheet_width_m, "m")
    above("Length of a piece", piece_length_m, "m")
    above("Width of a piece", piece_width_m, "m")
    at_least("Width of the cut", kerf_m, "m")
    return max(grid_pieces(sheet_length_m, sheet_width_m, *piece, kerf_m)
               for piece in ((piece_length_m, piece_width_m), (piece_width_m, piece_length_m)))


@relation(title="Sites on each area", formula=r"n = \frac{N}{A}", result=("n", "1/m²", "sites on each area"),
          symbols={"sites": PLACES, "area_m2": ("A", "m²", "area of the boards")}, valid="area above zero",
          source="Definition", status=STANDARD)
def site_density(sites: int, area_m2: float) -> float:
    """Sites per m2."""
    at_least("Number of places", sites)
    above("Area of the boards", area_m2, "m²")
    return sites / area_m2


@relation(title="Share of the board that is holes", formula=r"\varphi = \frac{N \pi D^2}{4 A}",
          result=(r"\varphi", "", "share of holes"),
          symbols={"sites": PLACES, "hole_diameter_m": ("D", "m", "hole"),
                   "area_m2": ("A", "m²", "area of the boards")},
          valid="area above zero", source="Area of a circle", status=STANDARD)
def hole_share(sites: int, hole_diameter_m: float, area_m2: float) -> float:
    """Share of the board's area that is holes."""
    at_least("Number of places", sites)
    above("Diameter of a hole", hole_diameter_m, "m")
    above("Area of the boards", area_m2, "m²")
    return sites * pi / 4 * hole_diameter_m**2 / area_m2


@relation(title="Web between holes", formula=r"w = s - D", result=("w", "m", "foam left between two holes"),
          symbols={"spacing_m": SPACING, "hole_diameter_m": ("D", "m", "hole")}, valid="neighboring holes",
          source="Subtraction", status=STANDARD)
def web(spacing_m: float, hole_diameter_m: float) -> float:
    """Foam in m left between neighboring holes; below 0 where the holes run into each other."""
    above("Spacing", spacing_m, "m")
    above("Diameter of a hole", hole_diameter_m, "m")
    return spacing_m - hole_diameter_m
