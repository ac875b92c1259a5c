"""Even grids of places over a floor, for air stones or whatever else is spread out."""

from __future__ import annotations

from functools import lru_cache
from math import cos, pi, sin, sqrt


@lru_cache(maxsize=64)
def nearest(places: tuple[tuple[float, float], ...]) -> float:
    """Least distance between two of the places; rows are in order, so only near neighbours are compared."""
    ordered = sorted(places)
    least = float("inf")
    for index, (x, y) in enumerate(ordered):
        for x2, y2 in ordered[index + 1:]:
            if x2 - x >= least:
                break
            least = min(least, sqrt((x2 - x) ** 2 + (y2 - y) ** 2))
    return least


@lru_cache(maxsize=64)
def box_grid(count: int, length: float, width: float) -> tuple[tuple[float, float], ...]:
    """``count`` places in rows over a rectangle (m), each in the middle of its own share of the floor."""
    rows = min(count, max(1, round(sqrt(count * width / length))))
    places = []
    for row in range(rows):
        # Rows differ by one stone at most.
        here = count * (row + 1) // rows - count * row // rows
        places += [(length * (place + 0.5) / here, width * (row + 0.5) / rows) for place in range(here)]
    return tuple(places)


@lru_cache(maxsize=64)
def round_grid(count: int, diameter: float) -> tuple[tuple[float, float], ...]:
    """``count`` places in rings on a disc (m), from the corner of the square round it; rings share by their area."""
    middle = diameter / 2
    if count == 1:
        return ((middle, middle),)
    rings = max(1, round(sqrt(count / pi)))
    places, laid = [], 0
    for ring in range(rings):
        upto = round(count * ((ring + 1) / rings) ** 2)
        radius = middle * (ring + 0.5) / rings
        # Turned by half a step from ring to ring, so that spokes do not line up.
        places += [(middle + radius * cos(2 * pi * (place + 0.5 * ring) / (upto - laid)),
                    middle + radius * sin(2 * pi * (place + 0.5 * ring) / (upto - laid)))
                   for place in range(upto - laid)]
        laid = upto
    return tuple(places)
