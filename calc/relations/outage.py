"""What happens when everything stops: oxygen after a time, warming water, ice, pouring, and a battery's size."""

from __future__ import annotations

from math import exp, expm1, log1p, sqrt

from ..numeric.bracket import narrow
from .base import PRACTICE, STANDARD, relation
from .limits import above, at_least, between
from .oxygen import BOX_SYMBOLS, EASING, check_stop, time_to_level

# Ice: latent heat of melting and specific heat of water.
MELTING_KJ_KG, WATER_KJ_KG_K = 333.4, 4.186
CLOSE, NEAR = 1e-13, 1e-11
MOST_SPLITS = 8


def _phi(z: float) -> float:
    """(e^z - 1) / z."""
    return expm1(z) / z if z else 1.0


def _phi_slope(z: float) -> float:
    """Slope of ``_phi``."""
    if abs(z) < 1e-3:
        return 0.5 + z / 3 + z * z / 8
    return (exp(z) * (z - 1.0) + 1.0) / (z * z)


def _alone(hours: float, level: float, volume: float, intake: float, limit: float, demand: float,
           critical: float) -> float:
    """Oxygen in mg/L of one box that exchanges no water, after a time."""
    rate = (intake * (limit - level) - demand * min(1.0, level / critical)) / volume
    if level > critical or (level == critical and rate >= 0.0):
        after = level + rate * hours * _phi(-intake / volume * hours)
        if after >= critical:
            return after
        left = hours - time_to_level(volume_l=volume, start_mg_l=level, level_mg_l=critical, demand_mg_h=demand,
                                     surface_l_h=intake, saturation_mg_l=limit)
        # What is left is above nothing but for rounding.
        return _alone(left, critical, volume, intake, limit, demand, critical) if left > 0.0 else critical
    speed = (intake + demand / critical) / volume
    after = level + rate * hours * _phi(-speed * hours)
    if after <= critical:
        return after
    left = hours + log1p(-(critical - level) * speed / rate) / speed
    return _alone(left, critical, volume, intake, limit, demand, critical) if left > 0.0 else critical


def alone_after(hours: float, span_h: float, level: float, volume_l: float, intake_l_h: float,
                limits: tuple[float, float], demands: tuple[float, float], critical: float,
                stop: float = 0.0) -> float:
    """Oxygen in mg/L of one box that exchanges no water, while its limit and demand drift evenly over ``span_h``.

    ``hours`` lie within the span; ``limits`` (mg/L) and ``demands`` (mg/h) are those at its ends. A span in which the
    box crosses the critical level goes on from there with both as they are half way to the end. Uptake eases evenly
    from the critical level to nothing at ``stop``.
    """
    # Counted from the stop, uptake is in proportion below the critical level.
    level, critical, limits = level - stop, critical - stop, (limits[0] - stop, limits[1] - stop)
    return _alone_drifting(hours, span_h, level, volume_l, intake_l_h, limits, demands, critical) + stop


def _alone_drifting(hours: float, span_h: float, level: float, volume_l: float, intake_l_h: float,
                    limits: tuple[float, float], demands: tuple[float, float], critical: float) -> float:
    middle = (demands[0] + demands[1]) / 2
    push = intake_l_h * (limits[0] - level)
    short = level < critical or (level == critical and push < demands[0])
    slope = intake_l_h * (limits[1] - limits[0])
    if short:
        rate, speed = push - middle * level / critical, intake_l_h + middle / critical
    else:
        rate, speed, slope = push - demands[0], intake_l_h, slope - (demands[1] - demands[0])

    def at(time: float) -> float:
        z = -speed / volume_l * time
        phi = _phi(z)
        next_phi = (phi - 1.0) / z if abs(z) > 1e-3 else 0.5 + z / 6 + z * z / 24
        return level + (rate * phi + slope * time / span_h * next_phi) * time / volume_l

    after = at(hours)
    if after <= critical if short else after >= critical:
        return max(after, 0.0)
    crossed = 0.0
    if level != critical:
        away = -1.0 if short else 1.0
        crossed = narrow(lambda time: away * (at(time) - critical), 0.0, hours, away * (level - critical),
                         away * (after - critical), CLOSE, NEAR)[1]
    part = (crossed + hours) / 2 / span_h
    return _alone(hours - crossed, critical, volume_l, intake_l_h, limits[0] + (limits[1] - limits[0]) * part,
                  demands[0] + (demands[1] - demands[0]) * part, critical)


class _Linear:
    """The two boxes while each keeps to its case of uptake: rates are linear in the levels."""

    def __init__(self, numbers: tuple[float, ...], short: tuple[bool, bool], levels: tuple[float, float]):
        (volume_1, volume_2, intake_1, limit_1, demand_1, intake_2, limit_2, demand_2, exchange, gain, return_limit,
         critical) = numbers
        self.a11 = -(intake_1 + exchange + (demand_1 / critical if short[0] else 0.0)) / volume_1
        self.a12 = exchange / volume_1
        self.a21 = exchange * (1.0 - gain) / volume_2
        self.a22 = -(intake_2 + exchange + (demand_2 / critical if short[1] else 0.0)) / volume_2
        self.levels = c1, c2 = levels
        self.rates = (
            (intake_1 * limit_1 - (0.0 if short[0] else demand_1)) / volume_1 + self.a11 * c1 + self.a12 * c2,
            (intake_2 * limit_2 + exchange * gain * return_limit - (0.0 if short[1] else demand_2)) / volume_2
            + self.a21 * c1 + self.a22 * c2)
        middle = (self.a11 + self.a22) / 2
        # Water only ever carries oxygen to the poorer box, so both roots are real and none is above 0.
        spread = sqrt(((self.a11 - self.a22) / 2) ** 2 + self.a12 * self.a21)
        self.slow, self.fast = middle + spread, middle - spread

    def after(self, hours: float) -> tuple[float, float]:
        """Levels after a time, exactly."""
        r1, r2 = self.rates
        z1, z2 = self.slow * hours, self.fast * hours
        phi = _phi(z1)
        gap = z1 - z2
        slope = (phi - _phi(z2)) / gap if gap > 1e-5 * max(1.0, -z1) else _phi_slope((z1 + z2) / 2)
        straight, bent = hours * phi, hours * hours * slope
        return (self.levels[0] + straight * r1 + bent * ((self.a11 - self.slow) * r1 + self.a12 * r2),
                self.levels[1] + straight * r2 + bent * (self.a21 * r1 + (self.a22 - self.slow) * r2))

    def rates_at(self, levels: tuple[float, float]) -> tuple[float, float]:
        """How fast the levels move, in mg/L an hour, when they are these."""
        d1, d2 = levels[0] - self.levels[0], levels[1] - self.levels[1]
        return (self.rates[0] + self.a11 * d1 + self.a12 * d2, self.rates[1] + self.a21 * d1 + self.a22 * d2)

    def turn(self, box: int, most: float) -> float | None:
        """When the level of a box turns round, in h; ``None`` when it does not within ``most``."""
        rate, other = self.rates[box], self.rates[1 - box]
        bend = ((self.a11 - self.slow) * rate + self.a12 * other if box == 0 else
                self.a21 * other + (self.a22 - self.slow) * rate)
        gap = self.slow - self.fast
        if rate * gap + bend == 0.0:
            return None
        when = -rate / (rate * gap + bend)
        if gap > 1e-9 * abs(self.fast):
            if when * gap <= -1.0:
                return None
            when = log1p(when * gap) / gap
        return when if 0.0 < when < most else None


def levels_after(hours: float, bath_mg_l: float, reservoir_mg_l: float,
                 numbers: tuple[float, ...]) -> tuple[float, float]:
    """Oxygen in mg/L of (bath, reservoir) after a time with steady conditions; never below the level of no uptake.

    ``numbers`` are bath_l, reservoir_l, intake, limit and demand of the bath, the same of the reservoir, exchange,
    return gain, return limit, the critical level and the level where uptake stops, in the units of ``bath_after``. Each
    box is linear on either side of the critical level; the time is parted where a box crosses it, and each part is
    solved exactly.
    """
    stop = numbers[-1]
    found = _levels_after(hours, bath_mg_l - stop, reservoir_mg_l - stop, _from_stop(numbers))
    # Below the stop is only rounding.
    return max(found[0], 0.0) + stop, max(found[1], 0.0) + stop


def _from_stop(numbers: tuple[float, ...]) -> tuple[float, ...]:
    """The numbers of ``levels_after`` with oxygen counted from the stop, where uptake is in proportion."""
    (volume_1, volume_2, intake_1, limit_1, demand_1, intake_2, limit_2, demand_2, exchange, gain, return_limit,
     critical, stop) = numbers
    return (volume_1, volume_2, intake_1, limit_1 - stop, demand_1, intake_2, limit_2 - stop, demand_2, exchange, gain,
            return_limit - stop, critical - stop)


def _levels_after(hours: float, bath_mg_l: float, reservoir_mg_l: float,
                  numbers: tuple[float, ...]) -> tuple[float, float]:
    bath_l, reservoir_l, intake_1, limit_1, demand_1, intake_2, limit_2, demand_2, exchange, _, _, critical = numbers
    if exchange == 0.0:
        return (_alone(hours, bath_mg_l, bath_l, intake_1, limit_1, demand_1, critical),
                _alone(hours, reservoir_mg_l, reservoir_l, intake_2, limit_2, demand_2, critical))
    levels, left = (bath_mg_l, reservoir_mg_l), hours
    for _ in range(MOST_SPLITS):
        short = [level < critical for level in levels]
        if critical in levels:
            rates = _Linear(numbers, (short[0], short[1]), levels).rates
            short = [level < critical or (level == critical and rate < 0.0)
                     for level, rate in zip(levels, rates, strict=True)]
        linear = _Linear(numbers, (short[0], short[1]), levels)
        after = linear.after(left)
        if min(*levels, *after) > critical and _one_way(linear.rates, linear.rates_at(after)):
            return after
        crossings = [(when, box) for box in (0, 1)
                     for when in [_crossing(linear, box, short[box], critical, left, after)] if when is not None]
        if not crossings:
            return max(after[0], 0.0), max(after[1], 0.0)
        when, first = min(crossings)
        reached = list(linear.after(when))
        reached[first] = critical
        levels, left = (reached[0], reached[1]), left - when
        if left <= 0.0:
            break
    return max(levels[0], 0.0), max(levels[1], 0.0)


def _one_way(before: tuple[float, float], after: tuple[float, float]) -> bool:
    """Whether neither level turned round from falling to rising."""
    return not (before[0] < 0.0 < after[0] or before[1] < 0.0 < after[1])


def hours_to_fall(level_mg_l: float, bath_mg_l: float, reservoir_mg_l: float, most_h: float,
                  numbers: tuple[float, ...]) -> float:
    """Hours until the bath is down to a level not below the critical one; it must be, within ``most_h``."""
    stop, numbers = numbers[-1], _from_stop(numbers)
    level_mg_l, bath_mg_l, reservoir_mg_l = level_mg_l - stop, bath_mg_l - stop, reservoir_mg_l - stop
    if numbers[8] == 0.0:
        return time_to_level(volume_l=numbers[0], start_mg_l=bath_mg_l, level_mg_l=level_mg_l, demand_mg_h=numbers[4],
                             surface_l_h=numbers[2], saturation_mg_l=numbers[3])
    end = _levels_after(most_h, bath_mg_l, reservoir_mg_l, numbers)[0]
    return narrow(lambda hours: _levels_after(hours, bath_mg_l, reservoir_mg_l, numbers)[0] - level_mg_l, 0.0, most_h,
                  bath_mg_l - level_mg_l, end - level_mg_l, 1e-7, 1e-7)[1]


def _crossing(linear: _Linear, box: int, short: bool, critical: float, left: float,
              after: tuple[float, float]) -> float | None:
    """When a box first leaves its case, in h; ``None`` when it stays in it."""
    away = -1.0 if short else 1.0
    least, margin = 0.0, away * (linear.levels[box] - critical)
    until, level = left, away * (after[box] - critical)
    if level >= 0.0 and away * linear.rates[box] >= 0.0 or level < 0.0 < margin:
        turn = None
    else:
        turn = linear.turn(box, left)
    if turn is not None:
        turned = away * (linear.after(turn)[box] - critical)
        if level >= 0.0:
            # It may have left its case and be back at the end.
            until, level = turn, turned
        elif margin <= 0.0:
            # It began on the critical level, went in, and came out again.
            least, margin = turn, turned
    if level >= 0.0 or margin <= 0.0:
        return None
    return narrow(lambda hours: away * (linear.after(hours)[box] - critical), least, until, margin, level, CLOSE,
                  NEAR)[1]


@relation(title="Oxygen in the bath after a time",
          formula=r"V_1 \dot C_1 = K_1 (L_1 - C_1) - D_1 u(C_1) + q (C_2 - C_1), \quad "
                  r"V_2 \dot C_2 = K_2 (L_2 - C_2) - D_2 u(C_2) + "
                  r"q \left[(1-g) C_1 + g C_s - C_2\right], \quad " + EASING,
          result=("C_1(t)", "mg/L", "oxygen in the bath after the time"),
          symbols={"hours": ("t", "h", "time since the stop"), "bath_l": ("V_1", "L", "water in all baths"),
                   "reservoir_l": ("V_2", "L", "water in the reservoir"),
                   "start_bath_mg_l": ("C_1(0)", "mg/L", "oxygen in the bath to begin with"),
                   "start_reservoir_mg_l": ("C_2(0)", "mg/L", "oxygen in the reservoir to begin with"), **BOX_SYMBOLS},
          valid="two well-mixed boxes at one temperature; real baths have corners with less",
          source="Mass balance of two mixed boxes, solved exactly on either side of the critical level",
          status=STANDARD, core=levels_after)
def bath_after(hours: float, bath_l: float, reservoir_l: float, start_bath_mg_l: float, start_reservoir_mg_l: float,
               intake_bath_l_h: float, limit_bath_mg_l: float, demand_bath_mg_h: float, intake_reservoir_l_h: float,
               limit_reservoir_mg_l: float, demand_reservoir_mg_h: float, exchange_l_h: float, return_gain: float,
               return_limit_mg_l: float, critical_mg_l: float, stop_mg_l: float = 0.0) -> float:
    """Oxygen of the bath in mg/L after a time in h."""
    above("Water in the bath", bath_l, "L")
    above("Water in the reservoir", reservoir_l, "L")
    above("Critical level", critical_mg_l, "mg/L")
    between("Gain by the falling return", return_gain, 0.0, 1.0)
    check_stop(stop_mg_l, critical_mg_l, limit_bath_mg_l, limit_reservoir_mg_l, return_limit_mg_l, start_bath_mg_l,
               start_reservoir_mg_l)
    for name, value, unit in (("Time", hours, "h"), ("Oxygen in the bath", start_bath_mg_l, "mg/L"),
                              ("Oxygen in the reservoir", start_reservoir_mg_l, "mg/L"),
                              ("Transfer into the bath", intake_bath_l_h, "L/h"),
                              ("Transfer into the reservoir", intake_reservoir_l_h, "L/h"),
                              ("Limit of the bath", limit_bath_mg_l, "mg/L"),
                              ("Limit of the reservoir", limit_reservoir_mg_l, "mg/L"),
                              ("Demand of the bath", demand_bath_mg_h, "mg/h"),
                              ("Demand of the reservoir", demand_reservoir_mg_h, "mg/h"),
                              ("Water pumped round", exchange_l_h, "L/h"),
                              ("Saturation", return_limit_mg_l, "mg/L")):
        at_least(name, value, unit)
    return levels_after(hours, start_bath_mg_l, start_reservoir_mg_l, (
        bath_l, reservoir_l, intake_bath_l_h, limit_bath_mg_l, demand_bath_mg_h, intake_reservoir_l_h,
        limit_reservoir_mg_l, demand_reservoir_mg_h, exchange_l_h, return_gain, return_limit_mg_l, critical_mg_l,
        stop_mg_l))[0]


@relation(title="Water drifting to the warmth of the air", formula=r"T = T_a + (T_0 - T_a) \, e^{-t/\tau}",
          result=("T", "°C", "water after the time"),
          symbols={"start_c": ("T_0", "°C", "water to begin with"), "air_c": ("T_a", "°C", "air"),
                   "time_constant_h": (r"\tau", "h", "time constant of the water"), "hours": ("t", "h", "time")},
          valid="air that stays as warm as it is; one time constant for all the water",
          source="Newton's law of cooling", status=STANDARD)
def water_after(start_c: float, air_c: float, time_constant_h: float, hours: float) -> float:
    """Water temperature in C after a time."""
    between("Water temperature", start_c, 0.0, 40.0, "°C")
    between("Air temperature", air_c, -50.0, 60.0, "°C")
    above("Time constant", time_constant_h, "h")
    at_least("Time", hours, "h")
    return air_c + (start_c - air_c) * exp(-hours / time_constant_h)


@relation(title="Ice that cools water", formula=r"m = \frac{M c \, (T_0 - T)}{h + c T}",
          result=("m", "kg", "ice at its melting point"),
          symbols={"water_kg": ("M", "kg", "water to cool"), "start_c": ("T_0", "°C", "water to begin with"),
                   "end_c": ("T", "°C", "water after all ice has melted")},
          valid="0 to 40 °C; c = 4.186 kJ/(kg K), h = 333.4 kJ/kg; no heat from the room meanwhile, which takes more "
                "ice. In bottles the melt water stays out of the bath, which changes nothing here",
          source="Heat balance; latent heat of melting and specific heat of water by the IAPWS formulations",
          status=STANDARD)
def ice_to_cool(water_kg: float, start_c: float, end_c: float) -> float:
    """Ice in kg that brings water from one temperature down to another."""
    at_least("Water", water_kg, "kg")
    between("Water temperature", start_c, 0.0, 40.0, "°C")
    between("Water temperature afterwards", end_c, 0.0, start_c, "°C")
    return water_kg * WATER_KJ_KG_K * (start_c - end_c) / (MELTING_KJ_KG + WATER_KJ_KG_K * end_c)


@relation(title="Water to pour that holds a level", formula=r"Q = \frac{D - G (C_s - C)}{g \, (C_s - C)}",
          result=("Q", "L/h", "water dipped out and poured back"),
          symbols={"demand_mg_h": ("D", "mg/h", "oxygen taken up"),
                   "surface_l_h": ("G", "L/h", "transfer through the open surface"),
                   "gain": ("g", "share", "share of the deficit made good by the fall"),
                   "saturation_mg_l": ("C_s", "mg/L", "saturation"), "level_mg_l": ("C", "mg/L", "level to hold")},
          valid="a level below saturation; 0 where the open surface alone holds it",
          source="Mass balance of one mixed box", status=STANDARD)
def pouring_rate(demand_mg_h: float, surface_l_h: float, gain: float, saturation_mg_l: float,
                 level_mg_l: float) -> float:
    """Water in L/h to dip out and pour back."""
    at_least("Demand", demand_mg_h, "mg/h")
    at_least("Surface transfer", surface_l_h, "L/h")
    above("Gain by the fall", gain)
    at_least("Level", level_mg_l, "mg/L")
    above("Saturation", saturation_mg_l, "mg/L", level_mg_l)
    deficit = saturation_mg_l - level_mg_l
    return max(demand_mg_h - surface_l_h * deficit, 0.0) / (gain * deficit)


@relation(title="Battery for a load", formula=r"Q = \frac{P \, t \, m}{U \, d \, \eta}",
          result=("Q", "Ah", "charge printed on the battery"),
          symbols={"power_w": ("P", "W", "power of the pump"), "hours": ("t", "h", "hours wanted"),
                   "voltage_v": ("U", "V", "voltage of the battery"),
                   "depth_of_discharge": ("d", "share", "share of the charge that may be used"),
                   "efficiency": (r"\eta", "share", "of the inverter; 1 without one"),
                   "margin": ("m", "", "margin for age and cold")},
          valid="slow discharge, over 8 hours or more; faster than that a lead battery gives less than its label says",
          source="Definition of the ampere-hour", status=STANDARD)
def battery_charge(power_w: float, hours: float, voltage_v: float, depth_of_discharge: float, efficiency: float,
                   margin: float) -> float:
    """Charge in Ah that a battery's label must show."""
    at_least("Power", power_w, "W")
    at_least("Time", hours, "h")
    above("Battery voltage", voltage_v, "V")
    above("Depth of discharge", depth_of_discharge)
    between("Depth of discharge", depth_of_discharge, 0.0, 1.0)
    above("Inverter efficiency", efficiency)
    between("Inverter efficiency", efficiency, 0.0, 1.0)
    at_least("Margin", margin, least=1.0)
    return power_w * hours * margin / (voltage_v * depth_of_discharge * efficiency)


@relation(title="Current from the battery", formula=r"I = \frac{P}{U \eta}", result=("I", "A", "current"),
          symbols={"power_w": ("P", "W", "power of the pump"), "voltage_v": ("U", "V", "voltage of the battery"),
                   "efficiency": (r"\eta", "share", "of the inverter; 1 without one")},
          valid="while it runs; starting takes more", source="Definition of electric power", status=STANDARD)
def battery_current(power_w: float, voltage_v: float, efficiency: float) -> float:
    """Current in A that a load draws from its battery."""
    at_least("Power", power_w, "W")
    above("Battery voltage", voltage_v, "V")
    above("Inverter efficiency", efficiency)
    between("Inverter efficiency", efficiency, 0.0, 1.0)
    return power_w / voltage_v / efficiency


# Volts of a twelve-volt battery at rest, and the share of its charge.
AT_REST = ((11.6, 0.0), (12.0, 0.25), (12.2, 0.5), (12.4, 0.75), (12.6, 1.0))
FULL_V = AT_REST[-1][0]


@relation(title="Charge left in a lead-acid battery", formula=r"s = \text{straight lines between } (11.6, 0),\ (12.0, "
          r"0.25),\ (12.2, 0.5),\ (12.4, 0.75),\ (12.6, 1) \text{ at } \frac{12 \, U}{U_n}",
          result=("s", "", "share of the charge that is left"),
          symbols={"voltage_v": ("U", "V", "voltage at rest"), "nominal_v": ("U_n", "V", "nominal voltage")},
          valid="flooded lead-acid, at rest for hours, near 25 °C; makes differ by 0.1 V, which is an eighth of the "
          "charge; 0 below the table and 1 above it",
          source="Rule of thumb in a mailing list of radio builders (lists.ettus.com, thread on supply voltage)",
          status=PRACTICE)
def charge_at_voltage(voltage_v: float, nominal_v: float) -> float:
    """Share of the charge left, 0 to 1, at a resting voltage; OutOfRange for voltages not above zero."""
    above("Voltage at rest", voltage_v, "V")
    above("Nominal voltage", nominal_v, "V")
    volts = 12.0 * voltage_v / nominal_v
    if volts <= AT_REST[0][0]:
        return 0.0
    for (low, less), (high, more) in zip(AT_REST, AT_REST[1:], strict=False):
        if volts <= high:
            return less + (more - less) * (volts - low) / (high - low)
    return 1.0
