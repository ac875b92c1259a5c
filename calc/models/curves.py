"""A pump gives less the harder it must push; this holds that curve and finds where it meets the load."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise
from math import sqrt

from .. import units
from ..errors import UnreadableQuantity
from ..numeric.bracket import narrow
from ..relations.air import air_pump_line
from ..relations.pump import pump_curve

LINE = "line"
QUADRATIC = "quadratic"
CLOSE = 1e-12


@dataclass(frozen=True)
class Curve:
    """What a pump can push at each flow: from ``shutoff`` at no flow down to nothing at ``top_flow``.

    ``shutoff`` is a pressure in Pa or a head in m, ``top_flow`` is in m3/s; both above zero. ``law`` joins the two by
    a line or by the parabola H = H0 (1 - (Q/Qtop)^2). With ``points`` (flow, push), in order of rising flow, the
    curve goes straight from point to point instead.
    """

    shutoff: float
    top_flow: float
    law: str = LINE
    points: tuple[tuple[float, float], ...] = ()

    def push_at(self, flow: float) -> float:
        """Pressure or head the pump gives at this flow; 0 at and beyond its top flow."""
        if flow <= 0.0:
            return self.shutoff
        if flow >= self.top_flow:
            return 0.0
        if self.points:
            return _between(self.points, flow)
        if self.law == LINE:
            return self.shutoff * (1.0 - flow / self.top_flow)
        return pump_curve(flow_m3_s=flow, shutoff_head_m=self.shutoff, top_flow_m3_s=self.top_flow)

    def flow_at(self, push: float) -> float:
        """Flow in m3/s against this pressure or head; 0 at and above shut-off, the top flow at 0 and below."""
        if push >= self.shutoff:
            return 0.0
        if push <= 0.0:
            return self.top_flow
        if self.points:
            return _between(tuple((high, flow) for flow, high in reversed(self.points)), push)
        if self.law == LINE:
            return air_pump_line(free_flow_m3_s=self.top_flow, shutoff_pa=self.shutoff, pressure_pa=push)
        return self.top_flow * sqrt(1.0 - push / self.shutoff)


def _between(points: tuple[tuple[float, float], ...], x: float) -> float:
    """Straight-line reading between points in order of rising x, for an x inside them."""
    place = min(max(bisect_left(points, (x,)), 1), len(points) - 1)
    (x1, y1), (x2, y2) = points[place - 1], points[place]
    return y1 if x2 == x1 else y1 + (y2 - y1) * (x - x1) / (x2 - x1)


def measured_curve(points: tuple[tuple[float, float], ...], shutoff: float, top_flow: float) -> Curve:
    """A curve through (flow, push) points; the shut-off and the top flow close it where the points do not reach.

    Raises UnreadableQuantity, as the end of a sentence, when the push does not fall while the flow rises.
    """
    known = sorted(points)
    if known[0][0] > 0.0:
        known.insert(0, (0.0, shutoff))
    if known[-1][1] > 0.0:
        known.append((top_flow, 0.0))
    for (flow1, push1), (flow2, push2) in pairwise(known):
        if not (flow2 > flow1 and push2 < push1):
            raise UnreadableQuantity(
                "must run downhill: each point with more flow needs less pressure than the one before, "
                "between the shut-off value and the top flow of that row")
    return Curve(known[0][1], known[-1][0], LINE, tuple(known))


def read_points(text: str, system: str, flow_unit: str, push_kind: str,
                push_unit: str) -> tuple[tuple[float, float], ...]:
    """Read "20 @ 0, 12 @ 10, 0 @ 20" (flow @ pressure or head) into base units; units may be written on each number.

    Raises UnreadableQuantity with the end of a sentence ("needs ...").
    """
    found = []
    for part in text.replace(";", ",").split(","):
        if not part.strip():
            continue
        halves = part.split("@")
        if len(halves) != 2:
            raise UnreadableQuantity(f"needs pairs written flow @ push, separated by commas, like 20 @ 0, 12 @ 10; "
                                     f"\"{part.strip()[:30]}\" is not such a pair")
        try:
            flow = units.parse(halves[0].strip(), "flow", system, flow_unit)
            push = units.parse(halves[1].strip(), push_kind, system, push_unit)
        except UnreadableQuantity as error:
            raise UnreadableQuantity(f"has a part \"{part.strip()[:30]}\" of which one side {error}") from None
        if flow < 0.0 or push < 0.0:
            raise UnreadableQuantity("needs flows and pressures of zero or more")
        found.append((flow, push))
    if len(found) < 2:
        raise UnreadableQuantity("needs two points or more")
    return tuple(found)


def operating_flow(curve: Curve, load: Callable[[float], float]) -> float:
    """Flow in m3/s at which the pump's push equals what the system asks, ``load(flow)``, which never falls with flow.

    0 when the load at no flow is already the shut-off or more; the top flow when even that meets no resistance.
    Bisection, hurried by a secant step where that lands inside the bracket, so it always ends.
    """
    low, high = 0.0, curve.top_flow
    spare_low = curve.shutoff - load(0.0)
    if spare_low <= 0.0:
        return 0.0
    spare_high = -load(high)
    if spare_high >= 0.0:
        return high
    return narrow(lambda flow: curve.push_at(flow) - load(flow), low, high, spare_low, spare_high, CLOSE,
                  CLOSE * curve.shutoff)[0]
