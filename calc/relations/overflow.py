"""What an overflow can swallow: a weir at its rim, then an orifice, and a full pipe only at the very end."""

from __future__ import annotations

from math import pi, pow, sqrt

from . import pipe
from .base import COPY, PUBLISHED, relation
from .limits import above, at_least

GRAVITY = 9.80665
WEIR = 1.84
ORIFICE = 0.60
RIM = ("D", "m", "bore at the rim")
RISE = ("h", "m", "water above the rim")
FLOW = ("Q", "m³/s", "flow")
RISER = ("FHWA HEC-22, Urban Drainage Design Manual, 4th edition, 10.3.3.3.1 and example 10.11: flow over the top of a "
         "riser pipe is taken as flow over a sharp-crested weir as long as its circumference, and the orifice where "
         "that gives less (read in a copy of its text)")
SWMM = "Orifice coefficient 0.60 and change-over rule of the EPA SWMM 5 bottom orifice (read in an engineering note)"


def _check(rim_bore_m: float, head_m: float) -> None:
    above("Bore of the overflow", rim_bore_m, "m")
    at_least("Water above the rim", head_m, "m")


@relation(title="Overflow rim as a weir", formula=r"Q = 1.84 \, \pi D h^{1.5}", result=FLOW,
          symbols={"rim_bore_m": RIM, "head_m": RISE}, valid="small rise over a free, level rim",
          source="Francis formula for a sharp-crested weir, 3.33 ft^0.5/s or 1.84 m^0.5/s (read in reference pages, "
                 f"not in the original); along a rim: {RISER}, with 1.82 m^0.5/s",
          status=COPY)
def weir_flow(rim_bore_m: float, head_m: float) -> float:
    """Flow in m3/s over a round rim."""
    _check(rim_bore_m, head_m)
    return WEIR * pi * rim_bore_m * pow(head_m, 1.5)


@relation(title="Level edge as a weir", formula=r"Q = 1.84 \, L h^{1.5}", result=FLOW,
          symbols={"length_m": ("L", "m", "length of the edge"), "head_m": RISE},
          valid="sharp, level edge as wide as the water that comes to it, free fall behind it, slow water before it",
          source="Francis formula for a sharp-crested weir without end contractions, 3.33 ft^0.5/s or 1.84 m^0.5/s "
                 "(read in reference pages, not in the original)", status=COPY)
def straight_weir_flow(length_m: float, head_m: float) -> float:
    """Flow in m3/s over a straight level edge, such as a gutter along the end of a bath."""
    above("Length of the edge", length_m, "m")
    at_least("Water above the rim", head_m, "m")
    return WEIR * length_m * pow(head_m, 1.5)


@relation(title="Overflow mouth as an orifice", formula=r"Q = 0.60 \frac{\pi D^2}{4} \sqrt{2 g h}", result=FLOW,
          symbols={"bore_m": RIM, "head_m": RISE}, valid="drowned mouth", source=SWMM, status=PUBLISHED)
def orifice_flow(bore_m: float, head_m: float) -> float:
    """Flow in m3/s through a round mouth under water."""
    _check(bore_m, head_m)
    return ORIFICE * pi / 4 * bore_m**2 * sqrt(2 * GRAVITY * head_m)


@relation(title="Overflow or standpipe",
          formula=r"Q = \min \left( 1.84 \, \pi D h^{1.5}, \; 0.60 \frac{\pi D^2}{4} \sqrt{2 g h} \right)", result=FLOW,
          symbols={"rim_bore_m": RIM, "head_m": RISE}, valid="free rim, pipe below not full",
          source=f"{SWMM}; weir coefficient 1.84 of the Francis formula; {RISER}", status=COPY)
def standpipe_flow(rim_bore_m: float, head_m: float) -> float:
    """Flow in m3/s that a standpipe swallows at a rise: the smaller of weir and orifice."""
    return min(weir_flow(rim_bore_m=rim_bore_m, head_m=head_m), orifice_flow(bore_m=rim_bore_m, head_m=head_m))


@relation(title="Gravity drain running full",
          formula=r"Q = \frac{\pi D^2}{4} \sqrt{\frac{2 g H}{1 + K + f L / D}}", result=FLOW,
          symbols={"fall_m": ("H", "m", "fall from water to outlet"), "bore_m": RIM, "length_m": ("L", "m", "length"),
                   "k_sum": ("K", "", "sum of the fittings' coefficients, without the exit"),
                   "roughness_m": (r"\varepsilon", "m", "wall roughness"),
                   "density_kg_m3": (r"\rho", "kg/m³", "density"), "viscosity_pa_s": (r"\mu", "Pa s", "viscosity")},
          valid="an upper limit: needs a drowned inlet", source=pipe.DARCY, status=PUBLISHED)
def gravity_drain_flow(fall_m: float, bore_m: float, length_m: float, k_sum: float, roughness_m: float,
                       density_kg_m3: float, viscosity_pa_s: float) -> float:
    """Flow in m3/s of a drain pipe running full."""
    speed = pipe.drain_velocity(fall_m=fall_m, bore_m=bore_m, length_m=length_m, k_sum=k_sum, roughness_m=roughness_m,
                                density_kg_m3=density_kg_m3, viscosity_pa_s=viscosity_pa_s)
    return speed * pi / 4 * bore_m**2
