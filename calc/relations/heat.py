"""How heat moves between water, foam, ground and air, and what damp air does to open water."""

from __future__ import annotations

from math import exp, log

from ..errors import OutOfRange
from .base import CHECKED, FITTED, STANDARD, relation
from .limits import above, at_least, between

STEFAN_BOLTZMANN = 5.670374419e-8
VAPOUR_TO_AIR = 0.621945
AIR_RANGE_C = (-20.0, 60.0)
PRESSURE_RANGE_PA = (50000.0, 111500.0)
# Water that is warmed or cooled, and the most that any unit moves.
PULL_RANGE_C, MOST_W = (-20.0, 100.0), 1e9
INCH = 0.0254
R_US = 0.1761101838
ASHRAE = "ASHRAE Handbook Fundamentals, psychrometrics (read in an open library that cites it)"


def _air(temperature_c: float, name: str = "Air temperature") -> None:
    between(name, temperature_c, *AIR_RANGE_C, "°C")


def _pressure(pressure_pa: float) -> None:
    between("Air pressure", pressure_pa, *PRESSURE_RANGE_PA, "Pa")


def _vapour(vapour_pa: float, pressure_pa: float) -> None:
    between("Pressure of the vapor", vapour_pa, 0.0, pressure_pa / 2, "Pa, half the air pressure")


def unbounded_saturation_pressure(temperature_c: float) -> float:
    """Vapour pressure in Pa at any temperature above -237.3 C: a search may pass the bounds on its way."""
    return 610.8 * exp(17.27 * temperature_c / (temperature_c + 237.3))


@relation(title="Vapor pressure over water, for humid air",
          formula=r"e_s = 610.8 \exp \frac{17.27 \, t}{t + 237.3}", result=("e_s", "Pa", "vapor pressure"),
          symbols={"temperature_c": ("t", "°C", "temperature")},
          valid="-20 to 60 °C, over liquid water; checked from 0 to 50 °C, within 0.2 %",
          source="Allen R.G. et al. (1998) FAO Irrigation and Drainage Paper 56, eq. 11 (from memory; within 0.2 % of "
                 "the ASHRAE formula by psychrolib)", status=CHECKED, core=unbounded_saturation_pressure)
def saturation_pressure(temperature_c: float) -> float:
    """Vapour pressure in Pa of water at a temperature; OutOfRange outside -20 to 60 C."""
    _air(temperature_c, "Temperature")
    return unbounded_saturation_pressure(temperature_c)


def unbounded_vapour_slope(temperature_c: float) -> float:
    """How fast the vapour pressure rises, in Pa/K, at any temperature above -237.3 C."""
    return unbounded_saturation_pressure(temperature_c) * 17.27 * 237.3 / (temperature_c + 237.3) ** 2


@relation(title="Slope of the vapor pressure", formula=r"\Delta = \frac{17.27 \cdot 237.3 \, e_s}{(t + 237.3)^2}",
          result=(r"\Delta", "Pa/K", "rise of the vapor pressure for each kelvin"),
          symbols={"temperature_c": ("t", "°C", "temperature, gives the vapor pressure too")},
          valid="-20 to 60 °C, over liquid water; checked from 0 to 50 °C, within 0.5 %",
          source="Derivative of the vapor pressure above; Allen R.G. et al. (1998) FAO Irrigation and Drainage Paper "
                 "56, eq. 13, writes 4098 for 17.27 times 237.3 (from memory; checked by psychrolib)",
          status=CHECKED, core=unbounded_vapour_slope)
def vapour_slope(temperature_c: float) -> float:
    """Rise of the vapour pressure in Pa/K at a temperature; OutOfRange outside -20 to 60 C."""
    _air(temperature_c, "Temperature")
    return unbounded_vapour_slope(temperature_c)


def unbounded_humidity_ratio(vapour_pa: float, pressure_pa: float) -> float:
    """Water in kg for each kg of dry air, for any vapour below the air pressure."""
    return VAPOUR_TO_AIR * vapour_pa / (pressure_pa - vapour_pa)


@relation(title="Water in the air", formula=r"W = 0.621945 \, \frac{e}{P - e}",
          result=("W", "kg/kg", "water for each kg of dry air"),
          symbols={"vapour_pa": ("e", "Pa", "pressure of the vapor"), "pressure_pa": ("P", "Pa", "air pressure")},
          valid="vapor up to half the air pressure", source=ASHRAE, core=unbounded_humidity_ratio)
def humidity_ratio(vapour_pa: float, pressure_pa: float) -> float:
    """Water in kg for each kg of dry air; OutOfRange outside 50 to 111.5 kPa of air pressure."""
    _pressure(pressure_pa)
    _vapour(vapour_pa, pressure_pa)
    return unbounded_humidity_ratio(vapour_pa, pressure_pa)


@relation(title="Wet-bulb temperature",
          formula=r"W = \frac{(2501 - 2.326 \, t^*) W_s(t^*) - 1.006 (t - t^*)}{2501 + 1.86 \, t - 4.186 \, t^*}",
          result=("t^*", "°C", "wet-bulb temperature"),
          symbols={"air_c": ("t", "°C", "air temperature"), "vapour_pa": ("e", "Pa", "vapor pressure, gives W"),
                   "pressure_pa": ("P", "Pa", "air pressure")},
          valid="above freezing, found by halving", source=ASHRAE)
def wet_bulb(air_c: float, vapour_pa: float, pressure_pa: float) -> float:
    """The coldest that evaporation into this air can bring water, in C; OutOfRange where it would freeze."""
    between("Air temperature", air_c, 0.0, AIR_RANGE_C[1], "°C")
    water = humidity_ratio(vapour_pa=vapour_pa, pressure_pa=pressure_pa)
    if vapour_pa > saturation_pressure(air_c) * (1 + 1e-9):
        raise OutOfRange("Pressure of the vapor must not be more than the air can hold.")

    def held(wet_c: float) -> float:
        full = humidity_ratio(vapour_pa=saturation_pressure(wet_c), pressure_pa=pressure_pa)
        return (((2501.0 - 2.326 * wet_c) * full - 1.006 * (air_c - wet_c))
                / (2501.0 + 1.86 * air_c - 4.186 * wet_c))

    if held(0.0) > water:
        raise OutOfRange("Wet-bulb temperature must be 0 °C or more; this air is too cold and dry.")
    low, high = 0.0, air_c
    for _ in range(40):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if held(middle) > water else (middle, high)
    return high


def evaporation_per_pascal(air_speed_m_s: float, activity: float) -> float:
    """Heat in W from a square metre of open water for each Pa that the water's vapour presses above the air's."""
    return activity * (0.089 + 0.0782 * air_speed_m_s)


def unbounded_evaporation(per_pascal: float, pressed_pa: float, vapour_pa: float) -> float:
    """Heat in W from water whose vapour presses so much, in air that holds vapour of its own."""
    return per_pascal * (pressed_pa - vapour_pa)


@relation(title="Heat taken by evaporation", formula=r"q = a \, (0.089 + 0.0782 \, v) (e_s(t) - e)",
          result=("q", "W/m²", "heat from open water"),
          symbols={"water_c": ("t", "°C", "water temperature"), "vapour_pa": ("e", "Pa", "pressure of the vapor"),
                   "air_speed_m_s": ("v", "m/s", "air over the water"),
                   "activity": ("a", "", "share of the pool formula")},
          valid="open pools; below zero, vapor condenses and warms the water",
          source="Carrier (1918) as in the ASHRAE handbook for pools, and 0.74 for quiet ones: Smith C.C., Löf G., "
                 "Jones R. (1998) ASHRAE Transactions 104(1A), paper 4146", core=unbounded_evaporation)
def evaporation_heat(water_c: float, vapour_pa: float, air_speed_m_s: float, activity: float) -> float:
    """Heat in W from a square metre of open water; OutOfRange outside -20 to 60 C."""
    at_least("Pressure of the vapor", vapour_pa, "Pa")
    at_least("Air speed", air_speed_m_s, "m/s")
    above("Share of the pool formula", activity)
    return unbounded_evaporation(evaporation_per_pascal(air_speed_m_s, activity), saturation_pressure(water_c),
                                 vapour_pa)


@relation(title="Psychrometric constant", formula=r"\gamma = 0.665 \cdot 10^{-3} P",
          result=(r"\gamma", "Pa/K", "convection beside evaporation"),
          symbols={"pressure_pa": ("P", "Pa", "air pressure")}, valid="50 to 111.5 kPa",
          source="Allen R.G. et al. (1998) FAO Irrigation and Drainage Paper 56, eq. 8 (checked by CoolProp)")
def psychrometric_constant(pressure_pa: float) -> float:
    """Pa of vapour that weigh as much as a kelvin of air; OutOfRange outside 50 to 111.5 kPa."""
    _pressure(pressure_pa)
    return 0.665e-3 * pressure_pa


@relation(title="Latent heat of water", formula=r"\lambda = 10^6 (2.501 - 0.002361 \, t)",
          result=(r"\lambda", "J/kg", "heat to evaporate a kilogram"),
          symbols={"temperature_c": ("t", "°C", "water temperature")}, valid="0 to 60 °C",
          source="Harrison L.P. (1963), as in FAO Irrigation and Drainage Paper 56 (from memory; checked by iapws)",
          status=CHECKED)
def latent_heat(temperature_c: float) -> float:
    """Heat in J that evaporates a kilogram of water; OutOfRange outside 0 to 60 C."""
    between("Water temperature", temperature_c, 0.0, 60.0, "°C")
    return 1e6 * (2.501 - 0.002361 * temperature_c)


def heat_of_vapour(water_c: float) -> float:
    """Heat in J that a kilogram of vapour takes from water it leaves."""
    return 2.501e6 - 2326.0 * water_c


def unbounded_blown_air_heat(dry_air_kg_s: float, water_c: float, air_c: float, entering: float,
                             leaving: float) -> float:
    """Heat in W that air carries off from water: it enters and leaves with so much water in it (kg/kg)."""
    return dry_air_kg_s * ((1006.0 + 1860.0 * entering) * (water_c - air_c)
                           + (leaving - entering) * heat_of_vapour(water_c))


@relation(title="Heat taken by air blown through water",
          formula=r"Q = \dot m \left[ (1006 + 1860 W)(t - t_a) + (W_s(t) - W)(2.501 \cdot 10^6 - 2326 \, t) \right]",
          result=("Q", "W", "heat from the water"),
          symbols={"dry_air_kg_s": (r"\dot m", "kg/s", "dry air blown in"), "water_c": ("t", "°C", "water temperature"),
                   "air_c": ("t_a", "°C", "air temperature"), "vapour_pa": ("e", "Pa", "its vapor, gives W"),
                   "pressure_pa": ("P", "Pa", "air pressure")},
          valid="bubbles that leave as warm as the water and full of vapor", source=ASHRAE,
          core=unbounded_blown_air_heat)
def blown_air_heat(dry_air_kg_s: float, water_c: float, air_c: float, vapour_pa: float, pressure_pa: float) -> float:
    """Heat in W that blown air carries off (below zero: brings); OutOfRange outside -20 to 60 C."""
    at_least("Air blown in", dry_air_kg_s, "kg/s")
    _air(air_c)
    entering = humidity_ratio(vapour_pa=vapour_pa, pressure_pa=pressure_pa)
    leaving = humidity_ratio(vapour_pa=saturation_pressure(water_c), pressure_pa=pressure_pa)
    return unbounded_blown_air_heat(dry_air_kg_s, water_c, air_c, entering, leaving)


@relation(title="Radiation between a surface and its surroundings", formula=r"h_r = 4 \varepsilon \sigma T^3",
          result=("h_r", "W/m²K", "heat radiated for each kelvin"),
          symbols={"temperature_c": ("T", "°C (plus 273.15)", "mean temperature"),
                   "emissivity": (r"\varepsilon", "0 to 1", "emissivity")},
          valid="small differences", source="ISO 6946 (read in open implementations); Stefan-Boltzmann law")
def radiation_coefficient(temperature_c: float, emissivity: float) -> float:
    """Radiation in W/m2K about a mean temperature; OutOfRange outside -20 to 60 C."""
    _air(temperature_c, "Temperature")
    between("Emissivity", emissivity, 0.0, 1.0)
    return 4.0 * emissivity * STEFAN_BOLTZMANN * (temperature_c + 273.15) ** 3


@relation(title="Resistance of a foam board", formula=r"R = 0.17611 \, r \, \frac{d}{0.0254}",
          result=("R", "m²K/W", "thermal resistance"),
          symbols={"r_per_inch": ("r", "ft²·°F·h/Btu per inch", "R-value of an inch"),
                   "thickness_m": ("d", "m", "thickness")}, valid="dry foam at 24 °C (75 °F)",
          source="ASTM C578 R-values; the factor is a change of units", status=STANDARD)
def foam_resistance(r_per_inch: float, thickness_m: float) -> float:
    """Thermal resistance of a board in m2K/W; OutOfRange below zero."""
    at_least("R-value of an inch", r_per_inch)
    at_least("Thickness", thickness_m, "m")
    return R_US * r_per_inch * thickness_m / INCH


@relation(title="Heat through a wall", formula=r"U = \frac{1}{R + 1/h}",
          result=("U", "W/m²K", "heat for each square meter and kelvin"),
          symbols={"resistance_m2k_w": ("R", "m²K/W", "resistance of the layers"),
                   "film_w_m2k": ("h", "W/m²K", "convection and radiation outside")},
          valid="layers in series; the film of water inside is left out",
          source="Resistances in series, as in ISO 6946", status=STANDARD)
def transmittance(resistance_m2k_w: float, film_w_m2k: float) -> float:
    """Heat through a wall in W/m2K; OutOfRange below zero or without a film."""
    at_least("Resistance", resistance_m2k_w, "m²K/W")
    above("Film coefficient", film_w_m2k, "W/m²K")
    return 1.0 / (resistance_m2k_w + 1.0 / film_w_m2k)


@relation(title="Time constant of the water", formula=r"\tau = \frac{m c}{H}",
          result=(r"\tau", "s", "time for 63 % of a change"),
          symbols={"heat_j_k": ("m c", "J/K", "heat the water holds for each kelvin"),
                   "loss_w_k": ("H", "W/K", "all ways out for each kelvin")},
          valid="one mixed body of water", source="Newton's law of cooling", status=STANDARD)
def time_constant(heat_j_k: float, loss_w_k: float) -> float:
    """Seconds for 63 % of a change to happen; OutOfRange where nothing is held or lost."""
    above("Heat held", heat_j_k, "J/K")
    above("Ways out", loss_w_k, "W/K")
    return heat_j_k / loss_w_k


@relation(title="Cold in a frozen bottle",
          formula=r"E = m \left[ 1000 (2.0965 + 0.00366 \, t_f)(-t_f) + 333430 + 4192 \, t_w \right]",
          result=("E", "J", "heat a bottle takes up"),
          symbols={"mass_kg": ("m", "kg", "water in the bottle"), "freezer_c": ("t_f", "°C", "freezer"),
                   "water_c": ("t_w", "°C", "bath water")},
          valid="-40 to 0 °C in the freezer, 0 to 40 °C in the bath; all ice melts and warms up",
          source="Heat of melting and heat capacities of IAPWS R10-06 (ice) and IAPWS-95 (water), fitted here with "
                 "the iapws library; within 0.3 % of it", status=FITTED)
def bottle_cold(mass_kg: float, freezer_c: float, water_c: float) -> float:
    """Heat in J that a frozen bottle takes up in the bath; OutOfRange for a warm freezer."""
    at_least("Water in the bottle", mass_kg, "kg")
    between("Freezer", freezer_c, -40.0, 0.0, "°C")
    between("Water temperature", water_c, 0.0, 40.0, "°C")
    return mass_kg * (1000.0 * (2.0965 + 0.00366 * freezer_c) * -freezer_c + 333430.0 + 4192.0 * water_c)


@relation(title="What a chiller draws", formula=r"P = \frac{Q}{COP}", result=("P", "W", "electric power"),
          symbols={"heat_w": ("Q", "W", "heat taken out"), "performance": ("COP", "", "heat moved for each watt")},
          valid="while it runs", source="Definition of the coefficient of performance", status=STANDARD)
def cooler_power(heat_w: float, performance: float) -> float:
    """Electric power in W of a cooler; OutOfRange below zero."""
    at_least("Heat taken out", heat_w, "W")
    above("Coefficient of performance", performance)
    return heat_w / performance


@relation(title="Time to settle", formula=r"t = \tau \ln \frac{\Delta T}{\delta}",
          result=("t", "s", "time until the water is that near"),
          symbols={"time_constant_s": (r"\tau", "s", "time constant of the water"),
                   "off_k": (r"\Delta T", "K", "how far the water is off to begin with"),
                   "near_k": (r"\delta", "K", "how near is near enough")},
          valid="one mixed body of water; 0 where it is near enough to begin with", source="Newton's law of cooling",
          status=STANDARD)
def settling_time(time_constant_s: float, off_k: float, near_k: float) -> float:
    """Seconds until water that is off by so much is near enough; OutOfRange below zero."""
    above("Time constant", time_constant_s, "s")
    at_least("How far the water is off", off_k, "K")
    above("How near is near enough", near_k, "K")
    return time_constant_s * log(max(off_k / near_k, 1.0))


@relation(title="Vapor in the air from its humidity", formula=r"e = \varphi \, e_s(t)",
          result=("e", "Pa", "pressure of the vapor"),
          symbols={"humidity": (r"\varphi", "0 to 1", "relative humidity"),
                   "temperature_c": ("t", "°C", "air temperature, gives the most it holds")},
          valid="-20 to 60 °C", source="Definition of relative humidity; the vapor pressure as above", status=STANDARD)
def vapour_in_air(humidity: float, temperature_c: float) -> float:
    """Pressure in Pa of the vapour in air; OutOfRange outside 0 to 100 % or -20 to 60 C."""
    between("Relative humidity", humidity, 0.0, 1.0)
    return humidity * saturation_pressure(temperature_c)


@relation(title="Time to warm or cool water, nothing else counted", formula=r"t = \frac{m c \, |T_1 - T_0|}{P}",
          result=("t", "s", "time with the unit running"),
          symbols={"heat_j_k": ("m c", "J/K", "heat the water holds for each kelvin"),
                   "start_c": ("T_0", "°C", "water at the start"), "end_c": ("T_1", "°C", "water wanted"),
                   "power_w": ("P", "W", "heat that the unit moves")},
          valid="one mixed body of water, no heat from or to the air", source="Conservation of energy", status=STANDARD)
def bare_pull_time(heat_j_k: float, start_c: float, end_c: float, power_w: float) -> float:
    """Seconds that a unit of so many watts takes, nothing else counted; OutOfRange for no heat held or no power."""
    above("Heat held", heat_j_k, "J/K")
    above("Heat moved", power_w, "W")
    for name, value in (("Water at the start", start_c), ("Water wanted", end_c)):
        between(name, value, *PULL_RANGE_C, "°C")
    return heat_j_k * abs(end_c - start_c) / power_w


@relation(title="Time to warm or cool water that the air works on",
          formula=r"t = \tau \ln \frac{T_0 - T_\infty}{T_1 - T_\infty}, \quad T_\infty = T_r + \frac{P \tau}{m c}",
          result=("t", "s", "time with the unit running"),
          symbols={"heat_j_k": ("m c", "J/K", "heat the water holds for each kelvin"),
                   "time_constant_s": (r"\tau", "s", "time constant of the water"),
                   "start_c": ("T_0", "°C", "water at the start"), "end_c": ("T_1", "°C", "water wanted"),
                   "rests_c": ("T_r", "°C", "where the water would come to rest by itself"),
                   "power_w": ("P", "W", "heat brought in; below 0 it is taken out")},
          valid="one mixed body of water; an aim that the unit can reach",
          source="Newton's law of cooling, with an even source of heat", status=STANDARD)
def pull_time(heat_j_k: float, time_constant_s: float, start_c: float, end_c: float, rests_c: float,
              power_w: float) -> float:
    """Seconds until water is at an aim, with a unit running; OutOfRange for an aim that it never reaches."""
    above("Heat held", heat_j_k, "J/K")
    above("Time constant", time_constant_s, "s")
    for name, value in (("Water at the start", start_c), ("Water wanted", end_c), ("Where it comes to rest", rests_c)):
        between(name, value, *PULL_RANGE_C, "°C")
    between("Heat brought in", power_w, -MOST_W, MOST_W, "W")
    final = rests_c + power_w * time_constant_s / heat_j_k
    if start_c == end_c:
        return 0.0
    if (end_c - start_c) * (final - end_c) <= 0.0:
        raise OutOfRange("The unit is too weak: the water comes to rest before it is as warm, or as cool, as wanted.")
    return time_constant_s * log((start_c - final) / (end_c - final))
