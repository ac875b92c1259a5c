"""Air: how much practice asks for, what it is pushed against, and what a pump still delivers."""

from __future__ import annotations

from math import pi, pow

from .base import MEMORY, PRACTICE, PUBLISHED, STANDARD, relation
from .limits import above, at_least, between
from .pipe import friction_factor

GAS_CONSTANT_DRY_AIR = 287.055
FLOW = ("Q", "m³/s", "air flow")


@relation(title="Air by the water it serves", formula=r"Q = r V", result=FLOW,
          symbols={"volume_m3": ("V", "m³", "water that gets air"),
                   "rate_per_s": ("r", "1/s", "air for each volume of water")},
          valid="a rule of thumb: it knows neither plants nor temperature",
          source="28 L per US gallon as the optimum, 15 as the floor, said without a time: common practice, no "
                 "published source", status=PRACTICE)
def air_by_water(volume_m3: float, rate_per_s: float) -> float:
    """Air flow in m3/s for a volume of water at a rate per volume; OutOfRange below zero."""
    at_least("Volume of water", volume_m3, "m³")
    at_least("Air for each volume of water", rate_per_s, "1/s")
    return volume_m3 * rate_per_s


@relation(title="Density of dry air", formula=r"\rho = \frac{p}{287.055 \, T}",
          result=(r"\rho", "kg/m³", "density of air"),
          symbols={"temperature_c": ("T", "°C (plus 273.15)", "air temperature"),
                   "pressure_pa": ("p", "Pa", "pressure")},
          valid="dry air, -50 to 100 °C, near atmospheric pressure",
          source="Ideal gas law; dry-air constant of the US Standard Atmosphere 1976",
          status=PUBLISHED)
def air_density(temperature_c: float, pressure_pa: float) -> float:
    """Density of dry air in kg/m3."""
    between("Air temperature", temperature_c, -50.0, 100.0, "°C")
    above("Air pressure", pressure_pa, "Pa")
    return pressure_pa / (GAS_CONSTANT_DRY_AIR * (temperature_c + 273.15))


@relation(title="Viscosity of air", formula=r"\mu = \frac{1.458 \cdot 10^{-6} \, T^{1.5}}{T + 110.4}",
          result=(r"\mu", "Pa s", "dynamic viscosity of air"),
          symbols={"temperature_c": ("T", "°C (plus 273.15)", "air temperature")}, valid="-50 to 100 °C",
          source="Sutherland's law with the constants of the US Standard Atmosphere 1976", status=PUBLISHED)
def air_viscosity(temperature_c: float) -> float:
    """Dynamic viscosity of air in Pa s."""
    between("Air temperature", temperature_c, -50.0, 100.0, "°C")
    kelvin = temperature_c + 273.15
    return 1.458e-6 * pow(kelvin, 1.5) / (kelvin + 110.4)


@relation(title="Friction in an air hose", formula=r"\Delta p = f \frac{L}{D} \frac{\rho v^2}{2}",
          result=(r"\Delta p", "Pa", "pressure lost"),
          symbols={"flow_m3_s": FLOW, "bore_m": ("D", "m", "bore"), "length_m": ("L", "m", "length"),
                   "density_kg_m3": (r"\rho", "kg/m³", "density of air"),
                   "viscosity_pa_s": (r"\mu", "Pa s", "viscosity")},
          valid="smooth hose, drops under 1 kPa within 3 %; larger drops are overstated",
          source="Darcy-Weisbach with Hagen-Poiseuille and Colebrook (1939)", status=PUBLISHED)
def tube_pressure_drop(flow_m3_s: float, bore_m: float, length_m: float, density_kg_m3: float,
                       viscosity_pa_s: float) -> float:
    """Pressure in Pa lost along a smooth air hose; 0 without flow."""
    at_least("Air flow", flow_m3_s, "m³/s")
    above("Bore of the hose", bore_m, "m")
    at_least("Length of the hose", length_m, "m")
    above("Density of air", density_kg_m3, "kg/m³")
    above("Viscosity of air", viscosity_pa_s, "Pa s")
    if flow_m3_s == 0.0:
        return 0.0
    speed = 4 * flow_m3_s / (pi * bore_m**2)
    factor = friction_factor(density_kg_m3 * speed * bore_m / viscosity_pa_s, 0.0)
    return factor * length_m / bore_m * density_kg_m3 * speed**2 / 2


@relation(title="Air pump as a straight line", formula=r"Q = Q_0 \left( 1 - \frac{p}{p_0} \right)", result=FLOW,
          symbols={"free_flow_m3_s": ("Q_0", "m³/s", "free-air flow"), "shutoff_pa": ("p_0", "Pa", "shut-off pressure"),
                   "pressure_pa": ("p", "Pa", "pressure it works against")},
          valid="0 to the shut-off pressure; measured curves bulge above the line",
          source="Straight line through the plate's two figures: an engineering simplification (from memory, "
                 "not verified)",
          status=MEMORY)
def air_pump_line(free_flow_m3_s: float, shutoff_pa: float, pressure_pa: float) -> float:
    """Air flow in m3/s that a pump gives against a pressure."""
    at_least("Free-air flow", free_flow_m3_s, "m³/s")
    above("Shut-off pressure", shutoff_pa, "Pa")
    between("Pressure the pump works against", pressure_pa, 0.0, shutoff_pa, "Pa, its shut-off pressure")
    return free_flow_m3_s * (1 - pressure_pa / shutoff_pa)


@relation(title="Power that reaches the air", formula=r"P = p Q", result=("P", "W", "power"),
          symbols={"flow_m3_s": FLOW, "pressure_pa": ("p", "Pa", "pressure")}, valid="small pressures",
          source="Definition of flow work", status=STANDARD)
def pneumatic_power(flow_m3_s: float, pressure_pa: float) -> float:
    """Power in W of a flow of air against a pressure; OutOfRange below zero."""
    at_least("Air flow", flow_m3_s, "m³/s")
    at_least("Pressure", pressure_pa, "Pa")
    return flow_m3_s * pressure_pa
