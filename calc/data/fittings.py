"""Sizes of hose and pipe as sold, and what each fitting costs in head: every row says where it comes from."""

from __future__ import annotations

from dataclasses import dataclass

from ..relations.base import CHECKED, MEMORY, PRACTICE, PUBLISHED, STANDARD

INCH_M = 0.0254


@dataclass(frozen=True)
class Size:
    """A size as sold: its trade name, and its bore in m."""

    name: str
    bore_m: float
    source: str
    status: str


@dataclass(frozen=True)
class FittingLoss:
    """Loss coefficient K, in velocity heads, of a fitting of a nominal size (m)."""

    nominal_m: float
    k: float
    source: str
    status: str


_HOSE = "US hose is sold by its bore; 1 in = 25.4 mm exactly"
HOSES: tuple[Size, ...] = tuple(
    Size(name, inches * INCH_M, _HOSE, STANDARD)
    for name, inches in (("1/4 in hose", 0.25), ("3/8 in hose", 0.375), ("1/2 in hose", 0.5), ("5/8 in hose", 0.625),
                         ("3/4 in hose", 0.75), ("1 in hose", 1.0), ("1-1/4 in hose", 1.25), ("1-1/2 in hose", 1.5),
                         ("2 in hose", 2.0))
)

METRIC_HOSES: tuple[Size, ...] = tuple(
    Size(f"{bore:g} mm hose", bore / 1000.0, f"metric hose is sold by its bore; the list of bores: {MEMORY}", MEMORY)
    for bore in (6.0, 8.0, 10.0, 13.0, 16.0, 19.0, 25.0, 32.0, 38.0, 50.0)
)

_PVC = ("ASTM D1785, outside diameter and wall; the average-bore column as reprinted in a table of dimensions whose "
        "name was not kept")
PVC_PIPES: tuple[Size, ...] = tuple(
    Size(name, inches * INCH_M, _PVC, PUBLISHED)
    for name, inches in (("1/2 in PVC Schedule 40", 0.602), ("3/4 in PVC Schedule 40", 0.804),
                         ("1 in PVC Schedule 40", 1.029), ("1-1/4 in PVC Schedule 40", 1.360),
                         ("1-1/2 in PVC Schedule 40", 1.590), ("2 in PVC Schedule 40", 2.047))
) + tuple(
    Size(name, inches * INCH_M, f"average bore of PVC Schedule 40 pipe: {MEMORY}", MEMORY)
    for name, inches in (("3 in PVC Schedule 40", 3.042), ("4 in PVC Schedule 40", 3.998))
)

# The return main of several baths may be wider than one overflow.
PVC_MAINS: tuple[Size, ...] = PVC_PIPES + tuple(
    Size(name, inches * INCH_M, f"average bore of PVC Schedule 40 pipe: {MEMORY}", MEMORY)
    for name, inches in (("6 in PVC Schedule 40", 6.031), ("8 in PVC Schedule 40", 7.942))
)

_PVC_U = f"PVC-U pressure pipe of class PN 10 or the thinnest above it, EN ISO 1452-2: bore is outside diameter less " \
         f"two walls; diameters and walls {MEMORY}"
_PVC_U_WALLS_MM = ((20, 1.5), (25, 1.5), (32, 1.6), (40, 1.9), (50, 2.4), (63, 3.0), (75, 3.6), (90, 4.3), (110, 4.2))
METRIC_PIPES: tuple[Size, ...] = tuple(
    Size(f"{outside} mm PVC-U, wall {wall:g} mm", (outside - 2 * wall) / 1000.0, _PVC_U, MEMORY)
    for outside, wall in _PVC_U_WALLS_MM
)
METRIC_MAINS: tuple[Size, ...] = METRIC_PIPES + tuple(
    Size(f"{outside} mm PVC-U, wall {wall:g} mm", (outside - 2 * wall) / 1000.0, _PVC_U, MEMORY)
    for outside, wall in ((160, 6.2), (200, 7.7))
)


def hoses(system: str) -> tuple[Size, ...]:
    """Hoses as sold where the reader's units are in use, narrow to wide."""
    return METRIC_HOSES if system == "metric" else HOSES


def pipes(system: str) -> tuple[Size, ...]:
    """Pipes for overflows as sold where the reader's units are in use, narrow to wide."""
    return METRIC_PIPES if system == "metric" else PVC_PIPES


def mains(system: str) -> tuple[Size, ...]:
    """Pipes for headers and return mains as sold where the reader's units are in use, narrow to wide."""
    return METRIC_MAINS if system == "metric" else PVC_MAINS


_RISHEL = "Rishel, HVAC Pump Handbook, 2nd ed. 2006, Table 3.8: regular screwed 90 degree elbow"
SCREWED_ELBOWS: tuple[FittingLoss, ...] = tuple(
    FittingLoss(inches * INCH_M, k, _RISHEL, PUBLISHED)
    for inches, k in ((0.5, 2.10), (0.75, 1.70), (1.0, 1.50), (1.25, 1.30), (1.5, 1.20), (2.0, 1.00))
)

_RISHEL_TEE = "Rishel, HVAC Pump Handbook, 2nd ed. 2006, Table 3.10: screwed tee, branch flow"
TEES: tuple[FittingLoss, ...] = tuple(
    FittingLoss(inches * INCH_M, k, _RISHEL_TEE, PUBLISHED)
    for inches, k in ((0.5, 2.40), (0.75, 2.10), (1.0, 1.90), (1.5, 1.60), (2.0, 1.40))
)

_CRANE = ("Crane TP-410: standard 90 degree elbow, 30 fT, at the friction factor of rough flow in that size; factors "
          "held against fluids 1.3.1")
_FRICTION = ((0.5, 0.02554), (0.75, 0.02369), (1.0, 0.02225), (1.5, 0.02000), (2.0, 0.01885))
SMOOTH_ELBOWS: tuple[FittingLoss, ...] = tuple(
    FittingLoss(inches * INCH_M, 30 * friction, _CRANE, CHECKED)
    for inches, friction in _FRICTION
)

_CRANE_BALL = ("Crane TP-410: full-bore ball valve, fully open, 3 fT, at the friction factor of rough flow in that "
               "size; factors held against fluids 1.3.1")
BALL_VALVES: tuple[FittingLoss, ...] = tuple(
    FittingLoss(inches * INCH_M, 3 * friction, _CRANE_BALL, CHECKED) for inches, friction in _FRICTION
)

# Hydraulic Institute, Engineering Data Book: screwed tee, line flow; from memory, not verified.
TEE_RUN_K = 0.9

# Crane TP-410: at a pipe's exit one velocity head is lost.
EXIT_K = 1.0
# Rishel, HVAC Pump Handbook, 2nd ed. 2006, Table 3.7: square-edged inlet. A newer correlation has 0.57 (Rennels, as
# coded in fluids 1.3.1): of one fitting among several, inside what a hose differs by.
INLET_K = 0.5

# Smooth plastic, 0.0015 mm: drawn glass in fluids 1.3.1 has 0.00152 mm.
SMOOTH_ROUGHNESS_M = 1.5e-6

HOSE_SPEED_M_S = 1.5
HOSE_SPEED_SOURCE = f"1.5 m/s (5 ft/s) in a small hose: {PRACTICE}"


def nearest_size(bore_m: float, table: tuple[FittingLoss, ...]) -> FittingLoss:
    """The row of the nominal size nearest to a bore in m."""
    return min(table, key=lambda row: abs(row.nominal_m - bore_m))
