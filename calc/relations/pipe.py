"""Friction in pipes and hoses: what a pump has to push besides the lift."""

from __future__ import annotations

from math import log, log10, pi, sqrt

from .base import PUBLISHED, STANDARD, relation
from .limits import above, at_least, between

GRAVITY = 9.80665
# Between laminar and turbulent flow friction is not defined. Above this Reynolds number, where disturbances no longer
# die out (Avila K. et al. 2011, Science 333:192-196, from memory), the larger, turbulent value is used: the safe side.
LAMINAR_LIMIT = 2040.0
FLOW = ("Q", "m³/s", "flow")
BORE = ("D", "m", "bore (inside diameter)")
DENSITY = (r"\rho", "kg/m³", "density")
VISCOSITY = (r"\mu", "Pa s", "dynamic viscosity")
COLEBROOK = "Colebrook C.F. (1939) J. Inst. Civ. Eng. 11:133-156; laminar: Hagen-Poiseuille"
DARCY = "Darcy-Weisbach equation, as in general fluid-mechanics handbooks; friction factor by Colebrook (1939)"


def _pipe_and_fluid(bore_m: float, density_kg_m3: float, viscosity_pa_s: float) -> None:
    above("Bore", bore_m, "m")
    above("Density", density_kg_m3, "kg/m³")
    above("Viscosity", viscosity_pa_s, "Pa s")


@relation(title="Speed in a pipe", formula=r"v = \frac{4 Q}{\pi D^2}", result=("v", "m/s", "mean speed"),
          symbols={"flow_m3_s": FLOW, "bore_m": BORE}, valid="pipe running full", source="Continuity", status=STANDARD)
def velocity(flow_m3_s: float, bore_m: float) -> float:
    """Mean speed in m/s in a full pipe."""
    at_least("Flow", flow_m3_s, "m³/s")
    above("Bore", bore_m, "m")
    return 4 * flow_m3_s / (pi * bore_m**2)


@relation(title="Reynolds number", formula=r"Re = \frac{\rho v D}{\mu}", result=("Re", "", "Reynolds number"),
          symbols={"velocity_m_s": ("v", "m/s", "mean speed"), "bore_m": BORE, "density_kg_m3": DENSITY,
                   "viscosity_pa_s": VISCOSITY}, valid="any fluid", source="Definition (Reynolds 1883)",
          status=STANDARD)
def reynolds(velocity_m_s: float, bore_m: float, density_kg_m3: float, viscosity_pa_s: float) -> float:
    """Reynolds number of flow in a pipe; OutOfRange below zero."""
    at_least("Speed", velocity_m_s, "m/s")
    _pipe_and_fluid(bore_m, density_kg_m3, viscosity_pa_s)
    return density_kg_m3 * velocity_m_s * bore_m / viscosity_pa_s


@relation(title="Friction factor (Darcy)",
          formula=r"\frac{1}{\sqrt{f}} = -2 \log_{10} \left( \frac{e}{3.7} + \frac{2.51}{Re \sqrt{f}} \right)",
          result=("f", "", "Darcy friction factor"),
          symbols={"reynolds": ("Re", "", "Reynolds number"), "relative_roughness": ("e", "", "roughness over bore")},
          valid="Re up to 2040: f = 64/Re; above: Colebrook, also where flow is in transition; e from 0 to 0.05",
          source=COLEBROOK, status=PUBLISHED)
def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Darcy friction factor; Colebrook's equation solved by Newton steps to the last digits."""
    above("Reynolds number", reynolds)
    between("Roughness over bore", relative_roughness, 0.0, 0.05)
    if reynolds <= LAMINAR_LIMIT:
        return 64 / reynolds
    rough, smooth = relative_roughness / 3.7, 2.51 / reynolds
    x = -1.8 * log10(rough**1.11 + 6.9 / reynolds)
    for _ in range(20):
        inside = rough + smooth * x
        step = (x + 2 * log10(inside)) / (1 + 2 * smooth / (inside * log(10)))
        x -= step
        if abs(step) < 1e-13 * x:
            break
    return 1 / x**2


@relation(title="Friction head in a hose", formula=r"h_f = f \frac{L}{D} \frac{v^2}{2 g}",
          result=("h_f", "m", "head lost to friction"),
          symbols={"flow_m3_s": FLOW, "bore_m": BORE, "length_m": ("L", "m", "length"),
                   "roughness_m": (r"\varepsilon", "m", "wall roughness"), "density_kg_m3": DENSITY,
                   "viscosity_pa_s": VISCOSITY}, valid="full pipe, steady flow", source=DARCY, status=PUBLISHED)
def friction_head(flow_m3_s: float, bore_m: float, length_m: float, roughness_m: float, density_kg_m3: float,
                  viscosity_pa_s: float) -> float:
    """Head in m lost along a hose or pipe; 0 without flow."""
    at_least("Flow", flow_m3_s, "m³/s")
    at_least("Length", length_m, "m")
    _pipe_and_fluid(bore_m, density_kg_m3, viscosity_pa_s)
    if flow_m3_s == 0.0:
        return 0.0
    speed = velocity(flow_m3_s, bore_m)
    factor = friction_factor(density_kg_m3 * speed * bore_m / viscosity_pa_s, roughness_m / bore_m)
    return factor * length_m / bore_m * speed**2 / (2 * GRAVITY)


@relation(title="Head lost in fittings", formula=r"h_m = K \frac{v^2}{2 g}",
          result=("h_m", "m", "head lost in fittings"),
          symbols={"velocity_m_s": ("v", "m/s", "mean speed"), "k_sum": ("K", "", "sum of the fittings' coefficients")},
          valid="turbulent flow; coefficients of screwed and barbed fittings vary by a quarter",
          source="Minor-loss form with coefficients as tabulated in Rishel, HVAC Pump Handbook, 2nd ed. (2006), Tables "
                 "3.7 to 3.10", status=PUBLISHED)
def fitting_head(velocity_m_s: float, k_sum: float) -> float:
    """Head in m lost in fittings with a summed coefficient; OutOfRange below zero."""
    at_least("Speed", velocity_m_s, "m/s")
    at_least("Sum of the fittings' coefficients", k_sum)
    return k_sum * velocity_m_s**2 / (2 * GRAVITY)


@relation(title="Share of friction in a pipe that gives off water on its way",
          formula=r"F = \frac{1}{m + 1} + \frac{1}{2 N} + \frac{\sqrt{m - 1}}{6 N^2}",
          result=("F", "", "share of the friction with all the flow to the end"),
          symbols={"outlets": ("N", "", "outlets"), "exponent": ("m", "", "power of the flow in the friction")},
          valid="equal outlets at equal distances, the first one distance from the inlet; m from 1 to 2",
          source="Christiansen J.E. (1942) Irrigation by sprinkling, University of California Agricultural Experiment "
                 "Station Bulletin 670 (not opened; checked against the sum it stands for)", status=PUBLISHED)
def outlets_factor(outlets: int, exponent: float) -> float:
    """Friction along a header with equal outlets, over that of all its flow running to its end; 1 for one outlet."""
    at_least("Outlets", outlets, "", 1)
    between("Power of the flow", exponent, 1.0, 2.0)
    return 1.0 / (exponent + 1.0) + 1.0 / (2.0 * outlets) + sqrt(exponent - 1.0) / (6.0 * outlets**2)


@relation(title="How much more the first branch gets than the last", formula=r"e = \sqrt{1 + \frac{h_m}{h_b}} - 1",
          result=("e", "", "share by which the first branch gets more"),
          symbols={"header_m": ("h_m", "m", "head lost along the header"),
                   "branch_m": ("h_b", "m", "head lost in the last branch")},
          valid="equal branches with turbulent flow, none throttled",
          source="Flow through a fitting as the root of its head (Darcy-Weisbach); manifold design by a branch loss "
                 "large against the header's, as in handbooks of chemical and irrigation engineering", status=STANDARD)
def branch_spread(header_m: float, branch_m: float) -> float:
    """Share by which the branch nearest the pump gets more than the farthest; 0 where the header loses nothing."""
    at_least("Head lost along the header", header_m, "m")
    above("Head lost in a branch", branch_m, "m")
    return sqrt(1.0 + header_m / branch_m) - 1.0


@relation(title="Speed in a full drain pipe", formula=r"v = \sqrt{\frac{2 g H}{1 + K + f L / D}}",
          result=("v", "m/s", "mean speed"),
          symbols={"fall_m": ("H", "m", "fall from water to outlet"), "bore_m": BORE, "length_m": ("L", "m", "length"),
                   "k_sum": ("K", "", "sum of the fittings' coefficients, without the exit"),
                   "roughness_m": (r"\varepsilon", "m", "wall roughness"), "density_kg_m3": DENSITY,
                   "viscosity_pa_s": VISCOSITY},
          valid="pipe running full: an upper limit, which needs a drowned inlet", source=DARCY, status=PUBLISHED)
def drain_velocity(fall_m: float, bore_m: float, length_m: float, k_sum: float, roughness_m: float,
                   density_kg_m3: float, viscosity_pa_s: float) -> float:
    """Mean speed in m/s in a gravity drain running full; 0 without a fall.

    The head used up grows with speed, so halving the bracket always ends, even where friction jumps between laminar and
    turbulent flow.
    """
    at_least("Fall", fall_m, "m")
    at_least("Length", length_m, "m")
    at_least("Sum of the fittings' coefficients", k_sum)
    _pipe_and_fluid(bore_m, density_kg_m3, viscosity_pa_s)
    if fall_m == 0.0:
        return 0.0
    head_speed_squared = 2 * GRAVITY * fall_m
    low, high = 0.0, sqrt(head_speed_squared / (1 + k_sum))
    while high - low > 1e-12 * high:
        speed = 0.5 * (low + high)
        factor = friction_factor(density_kg_m3 * speed * bore_m / viscosity_pa_s, roughness_m / bore_m)
        if speed**2 * (1 + k_sum + factor * length_m / bore_m) > head_speed_squared:
            high = speed
        else:
            low = speed
    return low
