"""Where a notch in a raft's edge stands clear of the holes, so that pipes and hoses pass without costing a plant."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, hypot, pi, sin

# Foam left between a notch and a hole, m.
WEB_M = 0.012
STEPS_ROUND = 180

Point = tuple[float, float]


@dataclass(frozen=True)
class Notch:
    """A notch: how far along its edge its middle lies (m, or rad on a disc), and which holes it takes away."""

    along: float
    lost: tuple[int, ...]


def _in_the_way(points: list[Point], along: float, width: float, depth: float, radius: float) -> tuple[int, ...]:
    """Numbers of the holes that a notch cuts; points are (along the edge, inward from it)."""
    reach = radius + WEB_M
    return tuple(number for number, (a, b) in enumerate(points)
                 if hypot(max(abs(a - along) - width / 2, 0.0), max(b - depth, 0.0)) < reach - 1e-9)


def on_edge(points: list[Point], length: float, width: float, depth: float, radius: float, wish: float) -> Notch:
    """The notch nearest to a wished place on a straight edge that cuts no hole; at the wish where none is free.

    ``points`` are hole centres as (along the edge, inward), all in m.
    """
    low, high = width / 2, length - width / 2
    if low > high:
        return Notch(length / 2, _in_the_way(points, length / 2, length, depth, radius))
    near = sorted(a for a, b in points if b < depth + radius + WEB_M)
    clear = width / 2 + radius + WEB_M
    tried = [wish, *(a + side * clear for a in near for side in (-1.0, 1.0)),
             *((a + b) / 2 for a, b in zip(near, near[1:], strict=False))]
    free = [place for place in tried if low <= place <= high
            and not _in_the_way(points, place, width, depth, radius)]
    if free:
        return Notch(min(free, key=lambda place: abs(place - wish)), ())
    place = min(max(wish, low), high)
    return Notch(place, _in_the_way(points, place, width, depth, radius))


def on_rim(points: list[Point], disc_radius: float, width: float, depth: float, radius: float, wish: float) -> Notch:
    """The same on the rim of a disc; points are measured from its centre, ``wish`` and the answer are angles in rad."""
    best = None
    for step in range(STEPS_ROUND + 1):
        for sign in (1.0, -1.0):
            angle = wish + sign * pi * step / STEPS_ROUND
            turned = [(-x * sin(angle) + y * cos(angle), disc_radius - (x * cos(angle) + y * sin(angle)))
                      for x, y in points]
            lost = _in_the_way(turned, 0.0, width, depth, radius)
            if not lost:
                return Notch(angle % (2 * pi), ())
            if best is None or len(lost) < len(best.lost):
                best = Notch(angle % (2 * pi), lost)
    assert best is not None
    return best


def polar(x: float, y: float) -> Point:
    """(distance, angle in rad from 0 to 2 pi) of a place measured from a centre."""
    return hypot(x, y), atan2(y, x) % (2 * pi)
