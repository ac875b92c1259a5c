"""A day of the water's temperature as two mixed bodies of water, bath and reservoir, in the weather of a place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from math import cos, isfinite, pi, sin
from operator import sub

from ..data import weather
from ..data.weather import BESIDE, BURIED, INDOORS
from ..errors import OutOfRange
from ..relations import heat as physics

DAY_S, HOUR_S, DAY_H = 86400.0, 3600.0, 24.0
# Steps in a day; the tests show that twice as many move no printed digit. A search may start on fewer.
STEPS_A_DAY, STEPS_ROUGH = 24, 12
# How near two rounds of the search must come: for the day shown, and for days that are only compared with it.
CLOSE_K, COMPARED_K, ROUNDS = 1e-7, 1e-2, 80
WATER_RANGE_C = (0.0, 60.0)
# At one step: heat in W that comes in at 0 C, its fall in W/K, evaporation in W/Pa, and the air's
# warmth, vapour and water.
Way = tuple[float, float, float, float, float, float]
INSULATION_M, INSULATION_R_PER_INCH = 0.0508, 5.0
FAN_M_S, FAN_FROM, FAN_TO = 1.0, 21.0, 7.0
NEAR_CYCLE_K = 0.5
STREAM_WORDS = {"surfaces": "Air, through raft, walls and cover", "ground": "Floor and ground", "sun": "Sun",
                "lamps": "Light of the lamps", "power": "Water pump",
                "air_pump": "Air pump, by the warmth of its air", "evaporation": "Evaporation from open water",
                "blown": "Air blown through, mostly by the vapor it carries off"}


@dataclass(frozen=True)
class Place:
    """Bath, reservoir and weather as plain numbers in SI units; ``share`` is a part of one, hours are of the clock."""

    baths: float
    bath_m3: float
    reservoir_m3: float
    surface_m2: float
    open_share: float
    perimeter_m: float
    depth_m: float
    footprint_m2: float
    on_legs: bool
    reservoir_depth_m: float
    reservoir_open_m2: float
    reservoir_stands: str
    foam_r: float
    wall_r: float
    reservoir_r: float
    exchange_w_k: float
    pump_w: float
    air_pump_w: float
    air_kg_s: float
    air_bath_share: float
    high_c: float
    low_c: float
    high_hour: float
    low_hour: float
    vapour_pa: float
    pressure_pa: float
    air_speed_m_s: float
    sun_w_m2: float
    floor_c: float
    heat_j_m3k: float
    night_fan: bool = False
    extra_w: float = 0.0
    lamp_w_m2: float = 0.0
    lamp_h: float = 0.0


@dataclass(frozen=True)
class Box:
    """One mixed body of water: what it holds (J/K) and its ways out (W/K, W/Pa, kg/s) and in (m2 of sun, W).

    ``air_c`` is the air where it differs from the day's; ``fan_w_k`` and ``fan_w_pa`` count while the night fan runs.
    """

    heat_j_k: float
    air_w_k: float
    ground_w_k: float
    evaporation_w_pa: float
    air_kg_s: float
    sun_m2: float
    power_w: float
    blown_w: float = 0.0
    air_c: float | None = None
    fan_w_k: float = 0.0
    fan_w_pa: float = 0.0
    lamp_m2: float = 0.0


# (air in C, its vapour in Pa, sun in W/m2, share of the time that the fan runs, lamp light in W/m2)
Moment = tuple[float, float, float, float, float]


@dataclass(frozen=True)
class Day:
    """The bath and the reservoir at each step of the day (C), and the two boxes they were found for."""

    bath: tuple[float, ...]
    reservoir: tuple[float, ...]
    boxes: tuple[Box, Box]
    forcing: tuple[Moment, ...]


def air_at(hour: float, high_c: float, low_c: float, high_hour: float, low_hour: float) -> float:
    """Air in C at an hour: half a cosine up from the low to the high, and half a cosine down again."""
    rise = (high_hour - low_hour) % DAY_H
    since = (hour - low_hour) % DAY_H
    share = since / rise if since < rise else 1.0 + (since - rise) / (DAY_H - rise)
    return 0.5 * (high_c + low_c) - 0.5 * (high_c - low_c) * cos(pi * share)


def sun_at(hour: float, strength_w_m2: float) -> float:
    """Sun in W/m2 at an hour: half a sine from sunrise to sunset."""
    share = (hour % DAY_H - weather.SUNRISE) / (weather.SUNSET - weather.SUNRISE)
    return strength_w_m2 * sin(pi * share) if 0.0 < share < 1.0 else 0.0


@lru_cache(maxsize=8)
def _whole_sun(steps: int) -> float:
    """What so many samples of the sun are multiplied by to give the day all of it: those of an hour miss 0.4 %."""
    sampled = sum(sun_at(step * DAY_H / steps, 1.0) for step in range(steps)) * DAY_H / steps
    return (weather.SUNSET - weather.SUNRISE) * 2.0 / pi / sampled


def forcing(place: Place, steps: int) -> tuple[Moment, ...]:
    """Weather, fan and lamps at each step of the day."""
    return _forcing(place.high_c, place.low_c, place.high_hour, place.low_hour, place.vapour_pa, place.sun_w_m2,
                    place.night_fan, place.lamp_w_m2, place.lamp_h, steps)


def _share_on(hour: float, step_h: float, from_h: float, length_h: float) -> float:
    """Share of the time about an hour that something runs: from half a step before to half a step after."""
    length = min(length_h, DAY_H)
    since = (hour - 0.5 * step_h - from_h) % DAY_H
    until = since + step_h
    return (max(min(until, length) - since, 0.0) + max(min(until - DAY_H, length), 0.0)) / step_h


@lru_cache(maxsize=64)
def _forcing(high_c: float, low_c: float, high_hour: float, low_hour: float, vapour_pa: float, sun_w_m2: float,
             night_fan: bool, lamp_w_m2: float, lamp_h: float, steps: int) -> tuple[Moment, ...]:
    found = []
    sun = sun_w_m2 * _whole_sun(steps)
    for step in range(steps):
        hour = step * DAY_H / steps
        air = air_at(hour, high_c, low_c, high_hour, low_hour)
        fan = _share_on(hour, DAY_H / steps, FAN_FROM, (FAN_TO - FAN_FROM) % DAY_H) if night_fan else 0.0
        # Lamps are taken to come on with the sun.
        lit = lamp_w_m2 * (_share_on(hour, DAY_H / steps, weather.SUNRISE, lamp_h) if lamp_w_m2 else 0.0)
        found.append((air, min(vapour_pa, physics.saturation_pressure(air)), sun_at(hour, sun), fan, lit))
    return tuple(found)


def surface(air_speed_m_s: float, pressure_pa: float, mean_c: float) -> tuple[float, float]:
    """Open water: (convection and radiation in W/m2K, evaporation in W/m2 for each Pa)."""
    wet = physics.evaporation_per_pascal(air_speed_m_s, weather.QUIET_POOL)
    dry = wet * physics.psychrometric_constant(pressure_pa) + physics.radiation_coefficient(
        mean_c, weather.WATER_EMISSIVITY)
    return dry, wet


def boxes(place: Place) -> tuple[Box, Box]:
    """The bath (all baths together) and the reservoir as bodies of water with their ways in and out."""
    mean = 0.5 * (place.high_c + place.low_c)
    radiation = physics.radiation_coefficient(mean, weather.EMISSIVITY)
    # In a draught the convection of ISO 6946 for moving air, 4 + 4 v, is more than the still air's.
    draught = 4.0 + 4.0 * place.air_speed_m_s if place.air_speed_m_s > 0.1 else 0.0
    top, wall = (max(still, draught) + radiation for still in (weather.TOP_CONVECTION, weather.WALL_CONVECTION))
    open_dry, open_wet = surface(place.air_speed_m_s, place.pressure_pa, mean)
    return (_bath_box(place, top, wall, open_dry, open_wet), _reservoir_box(place, mean, radiation, top, wall, open_dry,
                                                                           open_wet))


def _bath_box(place: Place, top: float, wall: float, open_dry: float, open_wet: float) -> Box:
    bare = weather.PLASTIC_R + place.wall_r
    through_wall, through_raft = physics.transmittance(bare, wall), physics.transmittance(place.foam_r, top)
    walls = place.perimeter_m * place.depth_m
    open_m2 = place.surface_m2 * place.open_share
    raft = place.surface_m2 - open_m2
    air = walls * through_wall + raft * through_raft + open_m2 * open_dry
    ground = 0.0
    if place.on_legs:
        air += place.footprint_m2 * through_wall
    else:
        ground = place.footprint_m2 / (bare + weather.FLOOR_R)
    sun = (weather.FOAM_ABSORBS * raft * through_raft / top + weather.WATER_ABSORBS * open_m2
           + weather.WALL_ABSORBS * weather.WALL_SUNLIT * walls * through_wall / wall)
    n = place.baths
    return Box(heat_j_k=n * place.bath_m3 * place.heat_j_m3k, air_w_k=n * air, ground_w_k=n * ground,
               evaporation_w_pa=n * open_m2 * open_wet, air_kg_s=place.air_kg_s * place.air_bath_share, sun_m2=n * sun,
               power_w=place.extra_w * place.baths * place.bath_m3 / _volume(place),
               blown_w=place.air_pump_w * place.air_bath_share,
               lamp_m2=n * (weather.FOAM_ABSORBS * raft * through_raft / top + weather.WATER_ABSORBS * open_m2))


def _volume(place: Place) -> float:
    return place.baths * place.bath_m3 + place.reservoir_m3


def _reservoir_box(place: Place, mean: float, radiation: float, top: float, wall: float, open_dry: float,
                   open_wet: float) -> Box:
    if place.reservoir_m3 <= 0.0:
        # There is none: a drop that follows the air keeps the two-body sum going, and moves nothing.
        return Box(heat_j_k=1e-3, air_w_k=1e-6, ground_w_k=0.0, evaporation_w_pa=0.0, air_kg_s=0.0, sun_m2=0.0,
                   power_w=0.0)
    if place.reservoir_stands == INDOORS:
        top, wall = weather.TOP_CONVECTION + radiation, weather.WALL_CONVECTION + radiation
        open_dry, open_wet = surface(weather.AIR_SPEED_M_S[weather.STILL], place.pressure_pa, mean)
    area = place.reservoir_m3 / place.reservoir_depth_m
    walls = 4.0 * area**0.5 * place.reservoir_depth_m
    open_m2 = min(place.reservoir_open_m2, area)
    bare = weather.PLASTIC_R + place.reservoir_r
    through_wall = physics.transmittance(bare, wall)
    through_lid = physics.transmittance(bare + weather.LID_R, top)
    air = (area - open_m2) * through_lid + open_m2 * open_dry
    ground = area / (bare + weather.FLOOR_R)
    if place.reservoir_stands == BURIED:
        ground = (area + walls) / (bare + weather.GROUND_R)
    else:
        air += walls * through_wall
    sun = 0.0
    if place.reservoir_stands == BESIDE:
        sun = (weather.WALL_ABSORBS * ((area - open_m2) * through_lid / top
                                       + weather.WALL_SUNLIT * walls * through_wall / wall)
               + weather.WATER_ABSORBS * open_m2)
    fan_dry, fan_wet = surface(FAN_M_S, place.pressure_pa, mean) if place.night_fan else (0.0, 0.0)
    return Box(heat_j_k=place.reservoir_m3 * place.heat_j_m3k, air_w_k=air, ground_w_k=ground,
               evaporation_w_pa=open_m2 * open_wet, air_kg_s=place.air_kg_s * (1.0 - place.air_bath_share), sun_m2=sun,
               power_w=place.pump_w + place.extra_w * place.reservoir_m3 / _volume(place),
               blown_w=place.air_pump_w * (1.0 - place.air_bath_share),
               air_c=weather.INDOORS_C if place.reservoir_stands == INDOORS else None,
               fan_w_k=area * fan_dry, fan_w_pa=area * fan_wet)


def streams(box: Box, water_c: float, now: Moment, place: Place) -> dict[str, float]:
    """Heat into a body of water in W at one moment, by the way it comes; below zero it leaves."""
    air, vapour, sun, fan, lamp = now
    if box.air_c is not None:
        air = box.air_c
        vapour = min(vapour, physics.saturation_pressure(air))
    pressed = physics.unbounded_saturation_pressure(water_c)
    blown = 0.0
    if box.air_kg_s > 0.0:
        entering, leaving = (physics.unbounded_humidity_ratio(one, place.pressure_pa) for one in (vapour, pressed))
        blown = -physics.unbounded_blown_air_heat(box.air_kg_s, water_c, air, entering, leaving)
    evaporation = box.evaporation_w_pa + fan * box.fan_w_pa
    return {"surfaces": (box.air_w_k + fan * box.fan_w_k) * (air - water_c),
            "ground": box.ground_w_k * (place.floor_c - water_c), "sun": box.sun_m2 * sun,
            "lamps": box.lamp_m2 * lamp, "power": box.power_w,
            "air_pump": box.blown_w,
            "evaporation": -physics.unbounded_evaporation(evaporation, pressed, vapour), "blown": blown}


def slope(box: Box, water_c: float, place: Place, fan: float) -> float:
    """How much less heat in W comes in for each kelvin warmer; ``fan`` is the share of the day it runs."""
    grows = physics.unbounded_vapour_slope(water_c)
    blown = 0.0
    if box.air_kg_s > 0.0:
        latent = physics.heat_of_vapour(water_c)
        blown = box.air_kg_s * (1006.0 + physics.VAPOUR_TO_AIR * grows * latent / place.pressure_pa)
    return (box.air_w_k + box.ground_w_k + fan * box.fan_w_k + (box.evaporation_w_pa + fan * box.fan_w_pa) * grows
            + blown)


def _ways(box: Box, place: Place, weathers: Iterable[Moment]) -> list[Way]:
    """At each step: heat in W that comes in at 0 C, its fall in W/K, evaporation in W/Pa, and the air's warmth,
    vapour and water.

    With them, heat at a temperature t is ``heat - fall t`` less what evaporates and what blown air takes.
    """
    fixed = box.power_w + box.blown_w + box.ground_w_k * place.floor_c
    found = []
    for air, vapour, sun, fan, lamp in weathers:
        through_air = box.air_w_k + fan * box.fan_w_k
        evaporation = box.evaporation_w_pa + fan * box.fan_w_pa
        found.append((through_air * air + box.sun_m2 * sun + box.lamp_m2 * lamp + fixed, through_air + box.ground_w_k,
                      evaporation, air, vapour, physics.unbounded_humidity_ratio(vapour, place.pressure_pa)))
    return found


def _gain(box: Box, pressure: float, ways: Iterable[Way], temperatures: Sequence[float], loss: float) -> list[float]:
    """Heat in W that comes in at each step, plus ``loss`` times the temperature: what is not linear."""
    mass = box.air_kg_s
    if mass <= 0.0 and box.evaporation_w_pa <= 0.0 and box.fan_w_pa <= 0.0:
        return [heat + (loss - fall) * t for t, (heat, fall, *_) in zip(temperatures, ways, strict=True)]
    saturated, damp = physics.unbounded_saturation_pressure, physics.unbounded_humidity_ratio
    evaporated, blown_away = physics.unbounded_evaporation, physics.unbounded_blown_air_heat
    found = []
    for t, (heat, fall, evaporation, air, vapour, entering) in zip(temperatures, ways, strict=True):
        gain, pressed = heat + (loss - fall) * t, saturated(t)
        if evaporation:
            gain -= evaporated(evaporation, pressed, vapour)
        if mass:
            gain -= blown_away(mass, t, air, entering, damp(pressed, pressure))
        found.append(gain)
    return found


def _too_wild(*temperatures: float) -> bool:
    return any(not isfinite(t) or not -60.0 < t < 70.0 for t in temperatures)


def _power(matrix: tuple[float, float, float, float], times: int) -> tuple[float, float, float, float]:
    """A two by two matrix times itself, by squaring."""
    pa, pb, pc, pd = 1.0, 0.0, 0.0, 1.0
    a, b, c, d = matrix
    while times:
        if times & 1:
            pa, pb, pc, pd = a * pa + b * pc, a * pb + b * pd, c * pa + d * pc, c * pb + d * pd
        a, b, c, d = a * a + b * c, b * (a + d), c * (a + d), b * c + d * d
        times >>= 1
    return pa, pb, pc, pd


def _cycle(box_b: Box, box_r: Box, exchange: float, loss_b: float, loss_r: float, gain_b: list[float],
           gain_r: list[float]) -> tuple[list[float], list[float]]:
    """The day that ends as it began, for gains given at each step and losses linear in temperature.

    Trapezoidal rule: what goes in over a step is the mean of its ends, so that energy balances step by step.
    """
    steps = len(gain_b)
    per_s = steps / DAY_S
    half = 0.5 * exchange
    top_b, top_r = box_b.heat_j_k * per_s, box_r.heat_j_k * per_s
    left_b, left_r = top_b + 0.5 * loss_b + half, top_r + 0.5 * loss_r + half
    right_b, right_r = top_b - 0.5 * loss_b - half, top_r - 0.5 * loss_r - half
    whole = left_b * left_r - half * half
    ibb, ibr, irr = left_r / whole, half / whole, left_b / whole
    mbb, mbr = ibb * right_b + ibr * half, ibb * half + ibr * right_r
    mrb, mrr = ibr * right_b + irr * half, ibr * half + irr * right_r
    pushes = []
    b = r = 0.0
    ibb, ibr, irr = 0.5 * ibb, 0.5 * ibr, 0.5 * irr
    for now_b, next_b, now_r, next_r in zip(gain_b, gain_b[1:] + gain_b[:1], gain_r, gain_r[1:] + gain_r[:1],
                                            strict=True):
        both_b, both_r = now_b + next_b, now_r + next_r
        push_b, push_r = ibb * both_b + ibr * both_r, ibr * both_b + irr * both_r
        pushes.append((push_b, push_r))
        b, r = mbb * b + mbr * r + push_b, mrb * b + mrr * r + push_r
    # The map of a whole day: the one of a step, as often as there are steps.
    pbb, pbr, prb, prr = _power((mbb, mbr, mrb, mrr), steps)
    whole = (1.0 - pbb) * (1.0 - prr) - pbr * prb
    b, r = ((1.0 - prr) * b + pbr * r) / whole, (prb * b + (1.0 - pbb) * r) / whole
    bath, reservoir = [], []
    for push_b, push_r in pushes:
        bath.append(b)
        reservoir.append(r)
        b, r = mbb * b + mbr * r + push_b, mrb * b + mrr * r + push_r
    return bath, reservoir


def _spread(values: Sequence[float], steps: int) -> list[float]:
    """A day's values on as many or twice as many steps."""
    if len(values) == steps:
        return list(values)
    found = []
    for here, after in zip(values, (*values[1:], values[0]), strict=True):
        found += [here, 0.5 * (here + after)]
    return found


@lru_cache(maxsize=256)
def simulate(place: Place, steps: int = STEPS_A_DAY, start: Day | None = None, close_k: float = CLOSE_K) -> Day:
    """The day that repeats itself, beginning the search from another day; OutOfRange where no such day is found."""
    pair = box_b, box_r = boxes(place)
    weathers = forcing(place, steps)
    inside = weathers
    if box_r.air_c is not None:
        least = physics.saturation_pressure(box_r.air_c)
        inside = tuple((box_r.air_c, min(vapour, least), sun, fan, lamp) for _, vapour, sun, fan, lamp in weathers)
    fan = sum(now[3] for now in weathers) / steps
    mean = 0.5 * (place.high_c + place.low_c)
    ways_b, ways_r, pressure = _ways(box_b, place, weathers), _ways(box_r, place, inside), place.pressure_pa
    if start is None and steps == 2 * STEPS_ROUGH:
        # A day of fewer steps is soon found, and lies close to this one.
        start = simulate(place, STEPS_ROUGH)
    bath = _spread(start.bath, steps) if start else [mean] * steps
    reservoir = _spread(start.reservoir, steps) if start else [mean] * steps
    before = 0.0
    for _ in range(ROUNDS):
        loss_b = slope(box_b, sum(bath) / steps, place, 0.0)
        loss_r = slope(box_r, sum(reservoir) / steps, place, fan)
        new_b, new_r = _cycle(box_b, box_r, place.exchange_w_k, loss_b, loss_r,
                              _gain(box_b, pressure, ways_b, bath, loss_b),
                              _gain(box_r, pressure, ways_r, reservoir, loss_r))
        moved = max(map(abs, map(sub, new_b + new_r, bath + reservoir)))
        bath, reservoir = new_b, new_r
        if _too_wild(min(bath), max(bath), min(reservoir), max(reservoir)):
            break
        # What is left to move shrinks round by round as the last two did.
        if moved < close_k or moved * moved < close_k * before:
            return Day(tuple(bath), tuple(reservoir), pair, weathers)
        before = moved
    raise OutOfRange("Water temperature: on such a day it leaves the range that can be worked out, or never settles. "
                     "Check the weather and the sizes of the bath.")


def peak(values: Sequence[float], sign: float = 1.0) -> tuple[float, float]:
    """(hour, value) of the top of a day, or with ``sign`` -1 of its bottom; between steps by a parabola."""
    steps = len(values)
    at = max(range(steps), key=lambda one: sign * values[one])
    before, here, after = values[at - 1], values[at], values[(at + 1) % steps]
    bend = before - 2.0 * here + after
    shift = 0.5 * (before - after) / bend if abs(bend) > 1e-12 else 0.0
    return (at + shift) * DAY_H / steps % DAY_H, here - 0.25 * (before - after) * shift


def loss_of_all(place: Place, day: Day) -> float:
    """All ways out together in W/K, about the mean of the day."""
    fan = sum(now[3] for now in day.forcing) / len(day.forcing)
    return sum(slope(box, sum(values) / len(values), place, fan)
               for box, values in zip(day.boxes, (day.bath, day.reservoir), strict=True))


def held_gain(place: Place, water_c: float, steps: int = STEPS_A_DAY) -> list[float]:
    """Heat in W that comes into all the water at each step while it is held at one temperature."""
    pair = boxes(place)
    return [sum(sum(streams(box, water_c, now, place).values()) for box in pair) for now in forcing(place, steps)]


def steady_power(place: Place, day: Day, level_c: float, sign: float) -> float:
    """Even power in W, day and night, that brings the day's high (``sign`` 1) or low (-1) to a level."""
    start = simulate(place, STEPS_ROUGH)
    # Fewer steps show the same change, from a start that is a little off.
    level_c += peak(start.bath, sign)[1] - peak(day.bath, sign)[1]
    tried = [(0.0, peak(start.bath, sign)[1] - level_c)]
    power = -tried[0][1] * loss_of_all(place, day)
    for _ in range(8):
        found = simulate(replace(place, extra_w=place.extra_w + power), STEPS_ROUGH, start, COMPARED_K)
        tried.append((power, peak(found.bath, sign)[1] - level_c))
        (before, off_before), (last, off) = tried[-2:]
        if abs(off) < 5e-3 or off == off_before:
            break
        power = last - off * (last - before) / (off - off_before)
    return power


def changes(place: Place) -> list[tuple[str, Place]]:
    """What a grower could change, one at a time, as words and the place that would be."""
    foam = physics.foam_resistance(r_per_inch=INSULATION_R_PER_INCH, thickness_m=INSULATION_M)
    found = [
        ("Foam, 2 in (50 mm), round bath walls and floor", replace(place, wall_r=place.wall_r + foam)),
        ("A raft twice as thick", replace(place, foam_r=2.0 * place.foam_r)),
        ("A bath half as deep again", replace(place, depth_m=1.5 * place.depth_m, bath_m3=1.5 * place.bath_m3)),
    ]
    if place.reservoir_m3 > 0.0:
        found += [("Foam, 2 in (50 mm), round the reservoir", replace(place, reservoir_r=place.reservoir_r + foam)),
                  ("Night cooling: reservoir cover off, a fan over it from 9 pm to 7 am",
                   replace(place, night_fan=True))]
    if place.sun_w_m2 > 0.0:
        found.append(("Shade cloth that takes half the sun", replace(place, sun_w_m2=0.5 * place.sun_w_m2)))
    if place.reservoir_m3 > 0.0 and place.reservoir_stands != BURIED:
        found.append(("The reservoir buried", replace(place, reservoir_stands=BURIED)))
    if place.open_share > 0.0:
        found.append(("The open strip of the bath covered", replace(place, open_share=0.0)))
    if place.air_kg_s > 0.0:
        found.append(("Half the air blown in", replace(
            place, air_kg_s=0.5 * place.air_kg_s, air_pump_w=0.5 * place.air_pump_w)))
    if place.pump_w > 0.0:
        found.append(("The pump outside the water", replace(place, pump_w=0.0)))
    return found


@lru_cache(maxsize=64)
def what_ifs(place: Place, cold: bool) -> tuple[tuple[str, float, float, float, float], ...]:
    """(change, new high, new low, change of high, change of low) in C, most help first: warmer if ``cold``."""
    now = simulate(place)
    high, low = peak(now.bath)[1], peak(now.bath, -1.0)[1]
    rows = []
    for words, other in changes(place):
        try:
            day = simulate(other, STEPS_A_DAY, now, COMPARED_K)
        except OutOfRange:
            continue
        new_high, new_low = peak(day.bath)[1], peak(day.bath, -1.0)[1]
        rows.append((words, new_high, new_low, new_high - high, new_low - low))
    return tuple(sorted(rows, key=lambda row: -row[4] if cold else row[3]))


def totals(place: Place, found: Day) -> dict[str, float]:
    """Heat into all the water over the day in J, by the way it comes."""
    each = DAY_S / len(found.bath)
    total = dict.fromkeys(STREAM_WORDS, 0.0)
    for box, values in zip(found.boxes, (found.bath, found.reservoir), strict=True):
        for water, now in zip(values, found.forcing, strict=True):
            for name, watts in streams(box, water, now, place).items():
                total[name] += watts * each
    return total


def evaporated(place: Place, found: Day) -> float:
    """Water in m3 that the air carries off in a day; below zero, dew brings some."""
    total = 0.0
    pressure = place.pressure_pa
    for box, values in zip(found.boxes, (found.bath, found.reservoir), strict=True):
        most = pressure if box.air_c is None else physics.saturation_pressure(box.air_c)
        for water, (_, vapour, _, fan, _) in zip(values, found.forcing, strict=True):
            vapour, pressed = min(vapour, most), physics.saturation_pressure(water)
            heat = physics.unbounded_evaporation(box.evaporation_w_pa + fan * box.fan_w_pa, pressed, vapour)
            total += heat / physics.latent_heat(water)
            total += box.air_kg_s * (physics.humidity_ratio(vapour_pa=pressed, pressure_pa=pressure)
                                     - physics.humidity_ratio(vapour_pa=vapour, pressure_pa=pressure))
    return total * DAY_S / len(found.bath) / 1000.0
