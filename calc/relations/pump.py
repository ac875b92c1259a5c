"""What a water pump delivers against a head, and the power that reaches the water."""

from __future__ import annotations

from ..errors import OutOfRange
from ..figures import scientific
from .base import MEMORY, STANDARD, relation
from .limits import above, at_least

GRAVITY = 9.80665
SHUTOFF = ("H_0", "m", "head at which no water moves")
TOP_FLOW = ("Q_m", "m³/s", "flow against no head")
PARABOLA = ("Quadratic pump curve through shut-off head and top flow: a usual approximation of centrifugal pumps (from "
            "memory, not verified); a maker's printed points are better")


@relation(title="Pump curve", formula=r"H = H_0 \left( 1 - \left( \frac{Q}{Q_m} \right)^2 \right)",
          result=("H", "m", "head the pump gives"),
          symbols={"flow_m3_s": ("Q", "m³/s", "flow"), "shutoff_head_m": SHUTOFF, "top_flow_m3_s": TOP_FLOW},
          valid="0 to the top flow", source=PARABOLA, status=MEMORY)
def pump_curve(flow_m3_s: float, shutoff_head_m: float, top_flow_m3_s: float) -> float:
    """Head in m that a pump gives at a flow, from its two plate figures."""
    above("Shut-off head", shutoff_head_m, "m")
    above("Top flow", top_flow_m3_s, "m³/s")
    if not 0.0 <= flow_m3_s <= top_flow_m3_s * (1 + 1e-12):
        raise OutOfRange(f"Flow must be between 0 and {scientific(top_flow_m3_s)} m³/s, the pump's top flow.")
    return shutoff_head_m * (1 - (flow_m3_s / top_flow_m3_s) ** 2)


@relation(title="Power that reaches the water", formula=r"P = \rho g Q H", result=("P", "W", "hydraulic power"),
          symbols={"flow_m3_s": ("Q", "m³/s", "flow"), "head_m": ("H", "m", "head"),
                   "density_kg_m3": (r"\rho", "kg/m³", "density")}, valid="any", source="Definition of work over time",
          status=STANDARD)
def hydraulic_power(flow_m3_s: float, head_m: float, density_kg_m3: float) -> float:
    """Power in W that a flow takes up against a head; the plug gives several times more. OutOfRange below zero."""
    at_least("Flow", flow_m3_s, "m³/s")
    at_least("Head", head_m, "m")
    above("Density", density_kg_m3, "kg/m³")
    return density_kg_m3 * GRAVITY * flow_m3_s * head_m
