"""What roots breathe: oxygen taken up by plant, size and warmth."""

from __future__ import annotations

from math import pow


from ..errors import OutOfRange
from .base import PUBLISHED, relation

TEMPERATURES = {"temperature_c": ("t", "°C", "root temperature"),
                "reference_c": ("t_0", "°C", "temperature the rate was given for"),
                "q10": ("Q_{10}", "", "how many times faster for 10 °C more")}
SOURCE = ("Q10 form: Van Henten E.J. (1994) Agricultural Systems 45:55-72, with 2.0 (read in an open "
          "implementation); 2.4 to "
          "3.1 in fine roots of ten forests (Burton A.J. et al. 2002, Oecologia, abstract)")


def unbounded_warmth_factor(temperature_c: float, reference_c: float, q10: float) -> float:
    """Respiration over that at the reference temperature, for temperatures known to be those of water."""
    return pow(q10, (temperature_c - reference_c) / 10.0)


def demand_at_warmth(plants: float, root_mass_g: float, rate_mg_g_h: float, warmth: float) -> float:
    """Oxygen in mg/h that roots take up, for a warmth factor known already."""
    return plants * root_mass_g * rate_mg_g_h * warmth


@relation(title="Warmth and breathing", formula=r"f = Q_{10}^{(t - t_0)/10}", result=("f", "", "rate over reference "
        "rate"),
          symbols=TEMPERATURES, valid="0 to 40 °C; above about 30 °C roots stop breathing faster, so it is too high "
                                      "there",
          source=SOURCE, status=PUBLISHED, core=unbounded_warmth_factor)
def warmth_factor(temperature_c: float, reference_c: float, q10: float) -> float:
    """Respiration at a temperature as a multiple of that at the reference temperature."""
    if not 0.0 <= temperature_c <= 40.0:
        raise OutOfRange("Root temperature must be between 0 and 40 °C for this relation.")
    if not 1.0 <= q10 <= 5.0:
        raise OutOfRange("Q10 must be between 1 and 5.")
    return unbounded_warmth_factor(temperature_c, reference_c, q10)


@relation(title="Oxygen that roots take up", formula=r"D = n \, m \, r \, Q_{10}^{(t - t_0)/10}",
          result=("D", "mg/h", "oxygen taken up by all roots"),
          symbols={"plants": ("n", "", "number of plants"), "root_mass_g": ("m", "g dry", "roots of one plant"),
                   "rate_mg_g_h": ("r", "mg/(g h)", "uptake of a gram of dry root at the reference temperature"),
                   **TEMPERATURES},
          valid="0 to 40 °C, oxygen above the critical level", source=SOURCE, status=PUBLISHED, core=demand_at_warmth)
def root_demand(plants: float, root_mass_g: float, rate_mg_g_h: float, temperature_c: float, reference_c: float,
                q10: float) -> float:
    """Oxygen in mg/h that the roots of all plants take up."""
    if min(plants, root_mass_g, rate_mg_g_h) < 0.0:
        raise OutOfRange("Plants, root mass and uptake must not be below 0.")
    warmth = warmth_factor(temperature_c=temperature_c, reference_c=reference_c, q10=q10)
    return demand_at_warmth(plants, root_mass_g, rate_mg_g_h, warmth)
