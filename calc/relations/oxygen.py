"""Oxygen in water: the most it holds, what bubbles and surface bring in, and where supply and demand meet."""

from __future__ import annotations

from math import exp, inf, log1p, pow, sqrt

from ..errors import OutOfRange
from .atmosphere import STANDARD_PA, check_pressure, vapour_pressure
from .base import ABSTRACT, CHECKED, MEMORY, PRACTICE, PUBLISHED, STANDARD, relation

THETA = 1.024
ATMOSPHERE_IN_WATER_M = 10.33
EFFECTIVE_DEPTH = 0.40
BENSON_KRAUSE = ("Benson B.B., Krause D. (1984) Limnology and Oceanography 29:620-632, eq. {} (read through open "
                 "code and "
                 "model manuals); the equation behind Standard Methods 4500-O and the USGS tables")
FIELD_EQUATION = ("Metcalf & Eddy, Wastewater Engineering, 5th ed. 2014, pp. 756-768, as read in an open "
                  "implementation; "
                  "the book was not opened")
TEMPERATURE = ("t", "°C", "water temperature")
SALINITY = ("S", "practical salinity", "salinity of the solution")
PRESSURE = ("P", "Pa", "air pressure at the place")
BOX_SYMBOLS = {
    "intake_bath_l_h": ("K_1", "L/h", "transfer into the bath by bubbles and surface"),
    "limit_bath_mg_l": ("L_1", "mg/L", "level that transfer drives the bath to"),
    "demand_bath_mg_h": ("D_1", "mg/h", "oxygen wanted in the bath"),
    "intake_reservoir_l_h": ("K_2", "L/h", "transfer into the reservoir"),
    "limit_reservoir_mg_l": ("L_2", "mg/L", "level that transfer drives the reservoir to"),
    "demand_reservoir_mg_h": ("D_2", "mg/h", "oxygen wanted in the reservoir"),
    "exchange_l_h": ("q", "L/h", "water pumped round"),
    "return_gain": ("g", "0 to 1", "share of the deficit made good by the falling return"),
    "return_limit_mg_l": ("C_s", "mg/L", "saturation at the open surface"),
    "critical_mg_l": ("C_c", "mg/L", "below this, uptake eases"),
    "stop_mg_l": ("C_0", "mg/L", "where nothing more is taken up; between the two uptake eases evenly"),
}


def check_water(temperature_c: float, salinity: float) -> None:
    """Raise OutOfRange unless the saturation equation holds for this water."""
    if not 0.0 <= temperature_c <= 40.0:
        raise OutOfRange("Water temperature must be between 0 and 40 °C for the oxygen tables.")
    if not 0.0 <= salinity <= 40.0:
        raise OutOfRange("Salinity must be between 0 and 40 for the oxygen tables.")


@relation(title="Salinity from conductivity",
          formula=r"S = \sum_{i=0}^{5} a_i R^{i/2} + \Delta S(R), \quad R = \frac{\kappa}{42.914 \cdot r(25)}",
          result=SALINITY, symbols={"conductivity_ms_cm": (r"\kappa", "mS/cm at 25 °C", "conductivity")},
          valid="0 to 50 mS/cm; made for sea salt, so for nutrient solution an approximation",
          source="Practical Salinity Scale 1978 with the Hill low-salinity extension; coefficients from memory, result "
                 "checked against the GSW library", status=CHECKED)
def salinity_from_conductivity(conductivity_ms_cm: float) -> float:
    """Practical salinity of water with this conductivity at 25 C."""
    if not 0.0 <= conductivity_ms_cm <= 50.0:
        raise OutOfRange("Conductivity must be between 0 and 50 mS/cm for this relation.")
    t = 25.0
    scale = 0.6766097 + 2.00564e-2 * t + 1.104259e-4 * t**2 - 6.9698e-7 * t**3 + 1.0031e-9 * t**4
    ratio = conductivity_ms_cm / (42.914 * scale)
    warm = (t - 15.0) / (1.0 + 0.0162 * (t - 15.0))
    powers = [sqrt(ratio) ** power for power in range(6)]
    salt = sum(a * p for a, p in zip((0.0080, -0.1692, 25.3851, 14.0941, -7.0261, 2.7081), powers, strict=False))
    coefficients = (0.0005, -0.0056, -0.0066, -0.0375, 0.0636, -0.0144)
    salt += warm * sum(b * p for b, p in zip(coefficients, powers, strict=False))
    x, y = 400.0 * ratio, 100.0 * ratio
    fresh = 0.0080 / (1 + 1.5 * x + x * x) + 0.0005 * warm / (1 + sqrt(y) + y + y**1.5)
    # The two series cancel to rounding error in pure water, which has no salt.
    return salt - fresh if conductivity_ms_cm > 0.0 else 0.0


@relation(title="Oxygen saturation at one atmosphere",
          formula=r"\ln C_1 = -139.34411 + \tfrac{1.575701 \cdot 10^5}{T} - \tfrac{6.642308 \cdot 10^7}{T^2}"
                  r" + \tfrac{1.2438 \cdot 10^{10}}{T^3} - \tfrac{8.621949 \cdot 10^{11}}{T^4}"
                  r" - S\left(0.017674 - \tfrac{10.754}{T} + \tfrac{2140.7}{T^2}\right)",
          result=("C_1", "mg/L", "oxygen saturation at 101325 Pa"),
          symbols={"temperature_c": ("T", "°C (plus 273.15)", "water temperature"), "salinity": SALINITY},
          valid="0 to 40 °C, salinity 0 to 40", source=BENSON_KRAUSE.format(32), status=PUBLISHED)
def saturation_one_atmosphere(temperature_c: float, salinity: float) -> float:
    """Oxygen in mg/L that water holds against moist air at 101325 Pa."""
    check_water(temperature_c, salinity)
    k = temperature_c + 273.15
    return exp(-139.34411 + 1.575701e5 / k - 6.642308e7 / k**2 + 1.2438e10 / k**3 - 8.621949e11 / k**4
               - salinity * (1.7674e-2 - 10.754 / k + 2140.7 / k**2))


@relation(title="Pressure factor of oxygen saturation",
          formula=r"\frac{C_P}{C_1} = \frac{P (1 - u/P)(1 - \vartheta P)}{(1 - u)(1 - \vartheta)}, \quad "
                  r"\vartheta = 9.75 \cdot 10^{-4} - 1.426 \cdot 10^{-5} t + 6.436 \cdot 10^{-8} t^2",
          result=("C_P/C_1", "", "saturation at this pressure over that at 101325 Pa"),
          symbols={"temperature_c": TEMPERATURE, "pressure_pa": ("P", "Pa (in the formula, "
                                                                      "atmospheres)", "air pressure"),
                   "salinity": SALINITY},
          valid="0 to 40 °C, 50 to 111.5 kPa; the pressure at the place, not the barometer reduced to sea level",
          source=BENSON_KRAUSE.format(24), status=PUBLISHED)
def pressure_factor(temperature_c: float, pressure_pa: float, salinity: float) -> float:
    """Saturation at a pressure, as a multiple of that at 101325 Pa."""
    check_water(temperature_c, salinity)
    check_pressure(pressure_pa)
    p = pressure_pa / STANDARD_PA
    u = (1.0 - 5.37e-4 * salinity) * vapour_pressure(temperature_c=temperature_c) / STANDARD_PA
    th = 9.75e-4 - 1.426e-5 * temperature_c + 6.436e-8 * temperature_c**2
    return p * (1 - u / p) * (1 - th * p) / ((1 - u) * (1 - th))


@relation(title="Oxygen saturation", formula=r"C_s = C_1(t, S) \cdot \frac{C_P}{C_1}(t, P, S)",
          result=("C_s", "mg/L", "oxygen saturation"),
          symbols={"temperature_c": TEMPERATURE, "pressure_pa": PRESSURE, "salinity": SALINITY},
          valid="0 to 40 °C, 50 to 111.5 kPa, salinity 0 to 40", source=BENSON_KRAUSE.format("24 and 32"),
          status=PUBLISHED)
def saturation(temperature_c: float, pressure_pa: float, salinity: float) -> float:
    """Oxygen in mg/L that water holds in the open air of the place."""
    return (saturation_one_atmosphere(temperature_c=temperature_c, salinity=salinity)
            * pressure_factor(temperature_c=temperature_c, pressure_pa=pressure_pa, salinity=salinity))


@relation(title="Saturation that bubbles drive to",
          formula=r"C^* = C_s \left(1 + \frac{0.40 \, d}{10.33 \, P / 101325}\right)",
          result=("C^*", "mg/L", "saturation at the effective depth of the bubbles"),
          symbols={"saturation_mg_l": ("C_s", "mg/L", "saturation at the surface"), "depth_m": ("d", "m", "depth of "
        "the stone"),
                   "pressure_pa": PRESSURE},
          valid="stones down to 6 m; the 0.40 is from memory", source=FIELD_EQUATION, status=MEMORY)
def saturation_at_depth(saturation_mg_l: float, depth_m: float, pressure_pa: float) -> float:
    """Oxygen in mg/L that rising bubbles can drive the water to, a little above the open surface's."""
    check_pressure(pressure_pa)
    if not 0.0 <= depth_m <= 6.0:
        raise OutOfRange("Depth of the stones must be between 0 and 6 m for this relation.")
    return saturation_mg_l * (1.0 + EFFECTIVE_DEPTH * depth_m / (ATMOSPHERE_IN_WATER_M * pressure_pa / STANDARD_PA))


def transfer_warmth(temperature_c: float, reference_c: float = 20.0) -> float:
    """Transfer of oxygen at a temperature as a multiple of that at another: 1.024 for each degree."""
    return pow(THETA, temperature_c - reference_c)


def transfer_by_deficit(temperature_c: float, standard_saturation_mg_l: float, alpha: float, fouling: float) -> float:
    """Transfer in the field over that in the standard test, for each mg/L of the water's deficit."""
    return alpha * fouling * transfer_warmth(temperature_c) / standard_saturation_mg_l


@relation(title="Field over standard oxygen transfer",
          formula=r"\frac{AOTR}{SOTR} = \alpha F \, 1.024^{t-20} \, \frac{C^* - C}{C^*_{20}}",
          result=("AOTR/SOTR", "", "transfer in your water over transfer in the standard test"),
          symbols={"temperature_c": TEMPERATURE, "oxygen_mg_l": ("C", "mg/L", "oxygen kept in the water"),
                   "limit_mg_l": ("C^*", "mg/L", "saturation that bubbles drive your water to"),
                   "standard_saturation_mg_l": ("C^*_{20}", "mg/L", "saturation that bubbles drive to, at 20 °C and "
                                                                    "1 atm"),
                   "alpha": (r"\alpha", "", "transfer in solution over that in clean water"),
                   "fouling": ("F", "", "transfer of used stones over that of new ones")},
          valid="0 to 40 °C; negative where the water already holds more than bubbles drive to",
          source=FIELD_EQUATION, status=PUBLISHED, core=transfer_by_deficit)
def field_factor(temperature_c: float, oxygen_mg_l: float, limit_mg_l: float, standard_saturation_mg_l: float,
                 alpha: float, fouling: float) -> float:
    """Oxygen transfer in the field as a share of that in the standard test."""
    check_water(temperature_c, 0.0)
    if not standard_saturation_mg_l > 0.0:
        raise OutOfRange("Saturation in the standard test must be more than 0 mg/L.")
    return (limit_mg_l - oxygen_mg_l) * transfer_by_deficit(temperature_c, standard_saturation_mg_l, alpha, fouling)


@relation(title="Standard transfer of a stone by depth", formula=r"SOTE = s \, d",
          result=("SOTE", "share", "oxygen taken up of that blown in, in the standard test"),
          symbols={"depth_m": ("d", "m", "depth of the stone"),
                   "per_metre": ("s", "1/m", "share taken up for each meter of depth")},
          valid="0 to 6 m; no paper on small stones at 0.2 to 0.5 m could be opened, so this is a guess with a wide "
                "band",
          source="Per-depth rule of diffuser practice, about 2 % a foot for fine and 0.75 to 1 % a foot for coarse "
                 "bubbles; "
                 "from memory, no source opened. Shallow tanks measured 0.45 to 5.4 % (Al-Ahmady 2006, International "
                 "Journal "
                 "of Environmental Research and Public Health 3:301-308, abstract). That efficiency goes with depth "
                 "agrees with coarse bubbles at 0.6 to 1.8 m, whose transfer coefficient did not depend on it (Chern & "
                 "Yang 2003, Ind. Eng. Chem. Res. 42:6653-6660, abstract)", status=PRACTICE)
def standard_efficiency(depth_m: float, per_metre: float) -> float:
    """Share of the oxygen blown in that dissolves in the standard test."""
    if not 0.0 <= depth_m <= 6.0 or not 0.0 <= per_metre <= 0.15:
        raise OutOfRange("Depth must be between 0 and 6 m and transfer between 0 and 15 % a meter for this relation.")
    return depth_m * per_metre


@relation(title="Air that brings a demand of oxygen",
          formula=r"Q = \frac{D}{\varepsilon \, SOTE \, \rho_{O_2}}", result=("Q", "L/h", "air at the place's "
        "pressure"),
          symbols={"demand_mg_h": ("D", "mg/h", "oxygen wanted"),
                   "factor": (r"\varepsilon", "", "field over standard transfer"),
                   "efficiency": ("SOTE", "share", "standard transfer at that depth"),
                   "air_oxygen_mg_l": (r"\rho_{O_2}", "mg/L", "oxygen in a liter of air")},
          valid="wherever the field transfer is above zero", source="Definition of oxygen transfer efficiency",
          status=STANDARD)
def air_for_demand(demand_mg_h: float, factor: float, efficiency: float, air_oxygen_mg_l: float) -> float:
    """Air flow in L/h that brings the oxygen wanted."""
    if min(factor, efficiency, air_oxygen_mg_l) <= 0.0:
        raise OutOfRange("No amount of air holds this level: the water already has all that bubbles can bring.")
    return demand_mg_h / (factor * efficiency * air_oxygen_mg_l)


@relation(title="Transfer through an open surface", formula=r"G = \frac{1000}{24} K_L A \, 1.024^{t-20}",
          result=("G", "L/h", "water brought to saturation in an hour"),
          symbols={"coefficient_m_d": ("K_L", "m/d at 20 °C", "transfer coefficient of the open surface"),
                   "area_m2": ("A", "m²", "open water"), "temperature_c": TEMPERATURE},
          valid="0 to 40 °C", source=f"Definition of a transfer coefficient; 1.024: {FIELD_EQUATION}",
          status=PUBLISHED)
def surface_transfer(coefficient_m_d: float, area_m2: float, temperature_c: float) -> float:
    """Water in L/h that an open surface brings to saturation."""
    check_water(temperature_c, 0.0)
    if min(coefficient_m_d, area_m2) < 0.0:
        raise OutOfRange("Transfer coefficient and open water must not be below 0.")
    return 1000.0 / 24.0 * coefficient_m_d * area_m2 * transfer_warmth(temperature_c)


@relation(title="Surface transfer from wind",
          formula=r"K_L = \begin{cases} 0.2\,U & U \le 3.5 \\ 0.057\,U^2 & U > 3.5 \end{cases}",
          result=("K_L", "m/d at 20 °C", "transfer coefficient of the open surface"),
          symbols={"wind_m_s": ("U", "m/s", "wind at 10 m")}, valid="0 to 20 m/s; fitted on a lake, zero in still air",
          source="Gelda R.K. et al. (1996) Journal of Environmental Engineering 122:269-275",
          status=ABSTRACT, reference_only=True)
def surface_coefficient(wind_m_s: float) -> float:
    """Transfer coefficient of an open water surface in m/d at 20 C."""
    if not 0.0 <= wind_m_s <= 20.0:
        raise OutOfRange("Wind must be between 0 and 20 m/s for this relation.")
    return 0.2 * wind_m_s if wind_m_s <= 3.5 else 0.057 * wind_m_s**2


@relation(title="Oxygen gained by a fall",
          formula=r"g = 1 - \frac{1}{r}, \quad r = 1 + 0.38 \, a \, b \, h (1 - 0.11 h)(1 + 0.046 t)",
          result=("g", "share", "share of the deficit made good by the fall"),
          symbols={"fall_m": ("h", "m", "free fall of the water"), "temperature_c": TEMPERATURE,
                   "quality": ("a", "", "1.8 for clean water, less for dirty"),
                   "shape": ("b", "", "1 for a free fall")},
          valid="0 to 3 m, 0 to 40 °C; fitted on river weirs, not on a thin stream from a pipe",
          source="The formula for weirs that two open river models carry under the names of Gameson and of the UK "
                 "Water Research Laboratory; the papers were not opened, their titles and years not seen",
          status=MEMORY)
def fall_gain(fall_m: float, temperature_c: float, quality: float, shape: float) -> float:
    """Share of the oxygen deficit that a free fall makes good."""
    if not 0.0 <= fall_m <= 3.0 or not 0.0 <= temperature_c <= 40.0:
        raise OutOfRange("Fall must be between 0 and 3 m, and water between 0 and 40 °C, for this relation.")
    ratio = 1.0 + 0.38 * quality * shape * fall_m * (1.0 - 0.11 * fall_m) * (1.0 + 0.046 * temperature_c)
    return 1.0 - 1.0 / ratio


def two_boxes(intake_bath_l_h: float, limit_bath_mg_l: float, demand_bath_mg_h: float, intake_reservoir_l_h: float,
              limit_reservoir_mg_l: float, demand_reservoir_mg_h: float, exchange_l_h: float, return_gain: float,
              return_limit_mg_l: float, critical_mg_l: float, stop_mg_l: float = 0.0) -> tuple[float, float]:
    """Steady oxygen in mg/L of (bath, reservoir), two mixed boxes with water pumped round.

    Uptake is full down to the critical level and eases evenly to nothing at the level where it stops, so each box is
    in one of two linear cases; the pair that agrees with its own answer is the answer. No box ends below the stop.
    """
    check_stop(stop_mg_l, critical_mg_l, limit_bath_mg_l, limit_reservoir_mg_l, return_limit_mg_l)
    # Counted from the stop, uptake is in proportion below the critical level.
    found = _two_boxes(intake_bath_l_h, limit_bath_mg_l - stop_mg_l, demand_bath_mg_h, intake_reservoir_l_h,
                       limit_reservoir_mg_l - stop_mg_l, demand_reservoir_mg_h, exchange_l_h, return_gain,
                       return_limit_mg_l - stop_mg_l, critical_mg_l - stop_mg_l)
    return found[0] + stop_mg_l, found[1] + stop_mg_l


def check_stop(stop_mg_l: float, critical_mg_l: float, *limits_mg_l: float) -> None:
    """Raise OutOfRange unless the level where uptake stops lies below the critical one and what water can hold."""
    if not 0.0 <= stop_mg_l < critical_mg_l:
        raise OutOfRange("The level where uptake stops must not be negative, and be below the critical level.")
    if stop_mg_l > 0.0 and min(limits_mg_l) < stop_mg_l:
        raise OutOfRange("This water holds less oxygen than roots leave in it; nothing is worked out for it.")


def _two_boxes(intake_bath_l_h: float, limit_bath_mg_l: float, demand_bath_mg_h: float, intake_reservoir_l_h: float,
               limit_reservoir_mg_l: float, demand_reservoir_mg_h: float, exchange_l_h: float, return_gain: float,
               return_limit_mg_l: float, critical_mg_l: float) -> tuple[float, float]:
    if intake_bath_l_h < 0.0 or intake_reservoir_l_h < 0.0 or exchange_l_h < 0.0 or critical_mg_l <= 0.0:
        raise OutOfRange("Transfer and exchange must not be negative, and the critical level must be above 0.")
    if not 0.0 <= return_gain < 1.0:
        raise OutOfRange("Gain by the falling return must be from 0 to below 1.")
    best, least = None, inf
    for bath_short in (False, True):
        for reservoir_short in (False, True):
            a11 = intake_bath_l_h + exchange_l_h + (demand_bath_mg_h / critical_mg_l if bath_short else 0.0)
            a22 = intake_reservoir_l_h + exchange_l_h + (
                demand_reservoir_mg_h / critical_mg_l if reservoir_short else 0.0)
            a21 = exchange_l_h * (1.0 - return_gain)
            b1 = intake_bath_l_h * limit_bath_mg_l - (0.0 if bath_short else demand_bath_mg_h)
            b2 = (intake_reservoir_l_h * limit_reservoir_mg_l + exchange_l_h * return_gain * return_limit_mg_l
                  - (0.0 if reservoir_short else demand_reservoir_mg_h))
            if a22 == exchange_l_h == demand_reservoir_mg_h == 0.0:
                # No reservoir: nothing happens in it, and it keeps to its limit.
                a22, b2 = 1.0, limit_reservoir_mg_l
            determinant = a11 * a22 - exchange_l_h * a21
            if determinant <= 0.0:
                continue
            bath = (b1 * a22 + exchange_l_h * b2) / determinant
            reservoir = (a11 * b2 + a21 * b1) / determinant
            wrong = max((bath - critical_mg_l) if bath_short else (critical_mg_l - bath),
                        (reservoir - critical_mg_l) if reservoir_short else (critical_mg_l - reservoir), 0.0)
            if wrong < least:
                best, least = (bath, reservoir), wrong
    if best is None:
        raise OutOfRange("No steady oxygen: a box has neither air, nor surface, nor exchange, nor demand.")
    return best


EASING = r"u(C) = \min\left(1, \tfrac{C - C_0}{C_c - C_0}\right)"
BOX_FORMULA = (r"K_1 (L_1 - C_1) - D_1 u(C_1) + q (C_2 - C_1) = 0, \quad "
               r"K_2 (L_2 - C_2) - D_2 u(C_2) + q \left[(1-g) C_1 + g C_s - C_2\right] "
               r"= 0, \quad " + EASING)
BOX_VALID = "two well-mixed boxes, steady; real baths have corners with less"


@relation(title="Steady oxygen in the bath", formula=BOX_FORMULA, result=("C_1", "mg/L", "oxygen in the bath"),
          symbols=BOX_SYMBOLS, valid=BOX_VALID, source="Mass balance of two mixed boxes, solved "
                                                       "exactly", status=STANDARD)
def steady_bath(intake_bath_l_h: float, limit_bath_mg_l: float, demand_bath_mg_h: float, intake_reservoir_l_h: float,
                limit_reservoir_mg_l: float, demand_reservoir_mg_h: float, exchange_l_h: float, return_gain: float,
                return_limit_mg_l: float, critical_mg_l: float, stop_mg_l: float = 0.0) -> float:
    """Steady oxygen of the bath in mg/L."""
    return two_boxes(intake_bath_l_h, limit_bath_mg_l, demand_bath_mg_h, intake_reservoir_l_h, limit_reservoir_mg_l,
                     demand_reservoir_mg_h, exchange_l_h, return_gain, return_limit_mg_l, critical_mg_l, stop_mg_l)[0]


@relation(title="Steady oxygen in the reservoir", formula=BOX_FORMULA, result=("C_2", "mg/L", "oxygen in the "
        "reservoir"),
          symbols=BOX_SYMBOLS, valid=BOX_VALID, source="Mass balance of two mixed boxes, solved "
                                                       "exactly", status=STANDARD)
def steady_reservoir(intake_bath_l_h: float, limit_bath_mg_l: float, demand_bath_mg_h: float,
                     intake_reservoir_l_h: float, limit_reservoir_mg_l: float, demand_reservoir_mg_h: float,
                     exchange_l_h: float, return_gain: float, return_limit_mg_l: float, critical_mg_l: float,
                     stop_mg_l: float = 0.0) -> float:
    """Steady oxygen of the reservoir in mg/L."""
    return two_boxes(intake_bath_l_h, limit_bath_mg_l, demand_bath_mg_h, intake_reservoir_l_h, limit_reservoir_mg_l,
                     demand_reservoir_mg_h, exchange_l_h, return_gain, return_limit_mg_l, critical_mg_l, stop_mg_l)[1]


@relation(title="Time for oxygen to fall",
          formula=r"t = \frac{V}{G} \ln\frac{C_0 - C_\infty}{C - C_\infty}, \quad C_\infty = C_s - \frac{D}{G}; \qquad "
                  r"t = \frac{V (C_0 - C)}{D} \;\; (G = 0)",
          result=("t", "h", "time until the level is reached; infinite when it never is"),
          symbols={"volume_l": ("V", "L", "water"), "start_mg_l": ("C_0", "mg/L", "oxygen to begin with"),
                   "level_mg_l": ("C", "mg/L", "level asked about"), "demand_mg_h": ("D", "mg/h", "oxygen taken up"),
                   "surface_l_h": ("G", "L/h", "transfer through the open surface, coefficient times area"),
                   "saturation_mg_l": ("C_s", "mg/L", "saturation")},
          valid="levels down to about 2 mg/L, where uptake is still full", source="Mass balance of one mixed box, "
        "solved exactly",
          status=STANDARD)
def time_to_level(volume_l: float, start_mg_l: float, level_mg_l: float, demand_mg_h: float, surface_l_h: float,
                  saturation_mg_l: float) -> float:
    """Hours until oxygen has fallen to a level, with no air blown; infinite when it never falls that far."""
    if volume_l <= 0.0 or demand_mg_h < 0.0 or surface_l_h < 0.0 or level_mg_l < 0.0:
        raise OutOfRange("Water must be more than 0, and demand, surface transfer and level not below 0.")
    if start_mg_l <= level_mg_l:
        return 0.0
    # How fast oxygen still falls at the level itself.
    falling = demand_mg_h - surface_l_h * (saturation_mg_l - level_mg_l)
    if falling <= 0.0:
        return inf
    straight = volume_l * (start_mg_l - level_mg_l) / falling
    # Written as the straight line times log(1+x)/x, so that a surface next to nothing gives the straight line.
    bend = surface_l_h * (start_mg_l - level_mg_l) / falling
    return straight * log1p(bend) / bend if bend > 1e-12 else straight
