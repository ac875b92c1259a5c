"""What the hose asks of a pump and what a pump gives it: the flow where the two meet."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

from ..data.fittings import (
    BALL_VALVES,
    EXIT_K,
    SCREWED_ELBOWS,
    SMOOTH_ELBOWS,
    SMOOTH_ROUGHNESS_M,
    TEES,
    nearest_size,
)
from ..errors import UnreadableQuantity
from ..models.curves import QUADRATIC, Curve, measured_curve, operating_flow, read_points
from ..relations import pipe
from ..relations import water as water_physics
from .manifold import Fan, fan_of

if TYPE_CHECKING:
    from ..declare import Row
    from ..sheet import Sheet

SCREWED, SMOOTH = "screwed", "smooth"
# Lift, bore, length, fittings, density, viscosity, and header and branches where there are several baths.
System = tuple[float, float, float, float, float, float, "Fan | None"]


def system_head(flow: float, lift_m: float, bore_m: float, length_m: float, k_sum: float, density: float,
                viscosity: float, fan: Fan | None = None) -> float:
    """Head in m that a flow (m3/s) asks for: lift, friction and fittings of the hose, and header and farthest branch.

    Header and branch count at equal flows: the valves of the nearer branches are closed until it is so.
    """
    if flow <= 0.0:
        return lift_m
    friction = pipe.friction_head(flow_m3_s=flow, bore_m=bore_m, length_m=length_m, roughness_m=SMOOTH_ROUGHNESS_M,
                                  density_kg_m3=density, viscosity_pa_s=viscosity)
    speed = pipe.velocity(flow_m3_s=flow, bore_m=bore_m)
    beyond = 0.0 if fan is None else (fan.header_head(flow, density, viscosity)
                                      + fan.branch_head(flow, density, viscosity))
    return lift_m + friction + pipe.fitting_head(velocity_m_s=speed, k_sum=k_sum) + beyond


@lru_cache(maxsize=1024)
def operate(curve: Curve, system: System) -> float:
    """Flow in m3/s where a pump's curve meets the system; 0 when its shut-off is not above the lift.

    ``system`` holds the arguments of ``system_head`` after the flow.
    """
    return operating_flow(curve, lambda flow: system_head(flow, *system))


def system_of(sheet: Sheet, hose_bore: float | None = None, more_lift: float = 0.0) -> System:
    """The arguments of ``system_head`` after the flow; with another hose, or with more lift, in m."""
    temperature = sheet["water.temperature"]
    bore = hose_bore or sheet["circulation.hose_bore"]
    return (sheet["circulation.lift"] + more_lift, bore, sheet["circulation.hose_length"], k_sum(sheet, bore),
            water_physics.water_density(temperature_c=temperature),
            water_physics.water_viscosity(temperature_c=temperature), fan_of(sheet))


def k_sum(sheet: Sheet, bore: float) -> float:
    """Fittings of the hose from the pump: elbows, tees, the valve fully open, and the exit into bath or header."""
    table = SCREWED_ELBOWS if sheet.text("circulation.elbow_kind") == SCREWED else SMOOTH_ELBOWS
    return (sheet["circulation.elbows"] * nearest_size(bore, table).k
            + sheet["circulation.tees"] * nearest_size(bore, TEES).k + nearest_size(bore, BALL_VALVES).k + EXIT_K)


def pump_curve(sheet: Sheet, row: Row) -> Curve:
    """The curve of a row of the pump table; a fault on the table when its points cannot be read."""
    if not row["points"]:
        return Curve(row["shutoff_head"], row["top_flow"], QUADRATIC)
    try:
        return _points_curve(row["points"], sheet.system, row["shutoff_head"], row["top_flow"])
    except UnreadableQuantity as error:
        return sheet.fault("circulation.pumps",
                           f"Measured points of {row['name']}: the list {str(error).rstrip('.')}.")


@lru_cache(maxsize=256)
def _points_curve(text: str, system: str, shutoff: float, top_flow: float) -> Curve:
    return measured_curve(read_points(text, system, "L/h", "length", "m"), shutoff, top_flow)
