"""The air of the place: how hard it presses at this altitude, and how much oxygen a litre of it holds."""

from __future__ import annotations

from math import exp, log, pow

from ..errors import OutOfRange
from .base import PUBLISHED, relation

STANDARD_PA = 101325.0
GAS_CONSTANT = 8.314462618
OXYGEN_SHARE = 0.20946
OXYGEN_G_MOL = 31.9988
PRESSURE_RANGE_PA = (50000.0, 111500.0)


def check_pressure(pressure_pa: float) -> None:
    """Raise OutOfRange unless the pressure is one the oxygen relations hold for."""
    if not PRESSURE_RANGE_PA[0] <= pressure_pa <= PRESSURE_RANGE_PA[1]:
        raise OutOfRange("Air pressure must be between 50 and 111.5 kPa for the oxygen relations.")


@relation(title="Air pressure from altitude", formula=r"P = 101325 \, (1 - 2.25577 \cdot 10^{-5} h)^{5.2559}",
          result=("P", "Pa", "air pressure at the place"), symbols={"altitude_m": ("h", "m", "altitude above the sea")},
          valid="-500 to 5500 m; the weather moves the true pressure by some 3 % either way",
          source="US Standard Atmosphere 1976, in the form used by the ASHRAE handbook (read through two open "
                 "libraries)",
          status=PUBLISHED)
def pressure_at_altitude(altitude_m: float) -> float:
    """Standard air pressure in Pa at an altitude in m."""
    if not -500.0 <= altitude_m <= 5500.0:
        raise OutOfRange("Altitude must be between -500 and 5500 m for this relation.")
    return STANDARD_PA * pow(1.0 - 2.25577e-5 * altitude_m, 5.2559)


@relation(title="Vapor pressure of fresh water",
          formula=r"e = 101325 \exp\!\left[18.1973\left(1-\tfrac{373.16}{T}\right) + 3.1813 \cdot 10^{-7}"
                  r"\left(1-e^{26.1205(1-T/373.16)}\right) - 0.018726\left(1-e^{8.03945(1-373.16/T)}\right)"
                  r" + 5.02802 \ln\tfrac{373.16}{T}\right]",
          result=("e", "Pa", "vapor pressure"), symbols={"temperature_c": ("T", "°C (plus 273.15)", "temperature")},
          valid="0 to 40 °C", source="Green E.J., Carritt D.E. (1967) Journal of Marine Research 25:140-147 (read "
                                     "through "
          "open code)", status=PUBLISHED)
def vapour_pressure(temperature_c: float) -> float:
    """Vapour pressure over fresh water in Pa."""
    if not 0.0 <= temperature_c <= 40.0:
        raise OutOfRange("Temperature must be between 0 and 40 °C for this relation.")
    kelvin = temperature_c + 273.15
    ratio = 373.16 / kelvin
    return STANDARD_PA * exp(18.1973 * (1 - ratio) + 3.1813e-7 * (1 - exp(26.1205 * (1 - kelvin / 373.16)))
                             - 1.8726e-2 * (1 - exp(8.03945 * (1 - ratio))) + 5.02802 * log(ratio))


@relation(title="Oxygen in a liter of air", formula=r"\rho_{O_2} = 0.20946 \cdot 31.9988 \, \frac{P - \varphi e}{R T}",
          result=(r"\rho_{O_2}", "mg/L", "oxygen in air"),
          symbols={"temperature_c": ("T", "°C (plus 273.15)", "air temperature"), "pressure_pa": ("P", "Pa", "air "
        "pressure"),
                   "humidity": (r"\varphi", "0 to 1", "relative humidity")},
          valid="0 to 40 °C", source="Ideal gas law; oxygen is 20.946 % of dry air (US Standard Atmosphere 1976); "
          "vapor pressure as above", status=PUBLISHED)
def oxygen_in_air(temperature_c: float, pressure_pa: float, humidity: float) -> float:
    """Oxygen in air in mg/L of air."""
    check_pressure(pressure_pa)
    if not 0.0 <= humidity <= 1.0:
        raise OutOfRange("Relative humidity must be between 0 and 100 %.")
    dry = pressure_pa - humidity * vapour_pressure(temperature_c=temperature_c)
    return OXYGEN_SHARE * OXYGEN_G_MOL * dry / (GAS_CONSTANT * (temperature_c + 273.15))
