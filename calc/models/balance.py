"""Two mixed boxes, bath and reservoir: roots take oxygen, bubbles bring it. Air, oxygen and outage stand on it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from math import log, sqrt

from ..data import roots as data
from ..declare import Row
from ..numeric.bracket import narrow
from ..relations import oxygen as physics
from ..relations import roots as root_physics
from ..relations.atmosphere import PRESSURE_RANGE_PA, STANDARD_PA

M3_S_IN_L_H = 3.6e6
MOST_AIR_L_H = 1e7
CLOSE, LEAST, LEAST_SHARE = 1e-12, 1e-9, 0.01
TEMPERATURE_SWING_C, PRESSURE_SWING, FLOW_SWING = 2.0, 0.03, 0.2
CLEAN_WATER, FREE_FALL = 1.8, 1.0


@dataclass(frozen=True)
class Bath:
    """What is known of the plan: volumes in L, areas in m2, flows in L/h, temperatures in C, pressure in Pa."""

    temperature_c: float
    pressure_pa: float
    salinity: float
    beta: float | None
    plants: float
    bath_l: float
    reservoir_l: float
    bath_open_m2: float
    reservoir_open_m2: float
    depth_m: float
    bath_share: float
    exchange_l_h: float
    return_fall_m: float
    air_oxygen_mg_l: float


@dataclass(frozen=True)
class Guess:
    """One choice of the uncertain numbers; ``efficiency`` is the standard transfer at the stones' depth."""

    root_g: float
    root_rate: float
    q10: float
    water_mg_l_h: float
    efficiency: float
    alpha: float
    fouling: float
    surface_m_d: float
    stop_mg_l: float


LOW, LIKELY, HIGH = "low", "likely", "high"


@lru_cache(maxsize=64)
def limits(bath: Bath) -> tuple[float, float]:
    """Saturation of the solution at the surface, and the level that bubbles drive it to (mg/L)."""
    if bath.beta is None:
        surface = physics.saturation(temperature_c=bath.temperature_c, pressure_pa=bath.pressure_pa,
                                     salinity=bath.salinity)
    else:
        surface = bath.beta * physics.saturation(temperature_c=bath.temperature_c, pressure_pa=bath.pressure_pa,
                                                 salinity=0.0)
    return surface, physics.saturation_at_depth(saturation_mg_l=surface, depth_m=bath.depth_m,
                                                pressure_pa=bath.pressure_pa)


def demands(bath: Bath, guess: Guess) -> tuple[float, float]:
    """Oxygen wanted in mg/h: (roots and water of all baths, water of the reservoir)."""
    warmth = root_physics.warmth_factor(temperature_c=bath.temperature_c, reference_c=data.REFERENCE_C, q10=guess.q10)
    water = guess.water_mg_l_h * warmth
    roots = root_physics.demand_at_warmth(bath.plants, guess.root_g, guess.root_rate, warmth)
    return roots + bath.bath_l * water, bath.reservoir_l * water


@lru_cache(maxsize=64)
def limit_at_20(depth_m: float) -> float:
    """The level in mg/L that bubbles at a depth drive clean water of 20 C to: the standard test's yardstick."""
    return physics.saturation_at_depth(
        saturation_mg_l=physics.saturation_one_atmosphere(temperature_c=20.0, salinity=0.0), depth_m=depth_m,
        pressure_pa=STANDARD_PA)


def bubble_transfer(bath: Bath, guess: Guess, air_l_h: float) -> float:
    """Transfer by an air flow in L/h of water brought to the bubbles' limit."""
    return air_l_h * bath.air_oxygen_mg_l * guess.efficiency * physics.transfer_by_deficit(
        bath.temperature_c, limit_at_20(bath.depth_m), guess.alpha, guess.fouling)


def boxes(bath: Bath, guess: Guess, air_l_h: float) -> dict[str, float]:
    """The numbers of the two-box balance for an air flow, by argument name of the relation."""
    surface, limit = limits(bath)
    bath_demand, reservoir_demand = demands(bath, guess)
    bubbles_by_air = bubble_transfer(bath, guess, 1.0)
    film = physics.surface_transfer(coefficient_m_d=guess.surface_m_d, area_m2=1.0, temperature_c=bath.temperature_c)
    found = {"demand_bath_mg_h": bath_demand, "demand_reservoir_mg_h": reservoir_demand,
             "exchange_l_h": bath.exchange_l_h, "return_limit_mg_l": surface, "critical_mg_l": data.CRITICAL_MG_L,
             "stop_mg_l": guess.stop_mg_l,
             "return_gain": physics.fall_gain(fall_m=bath.return_fall_m, temperature_c=bath.temperature_c,
                                              quality=CLEAN_WATER, shape=FREE_FALL)}
    for name, share, area in (("bath", bath.bath_share, bath.bath_open_m2),
                              ("reservoir", 1.0 - bath.bath_share, bath.reservoir_open_m2)):
        bubbles, open_water = bubbles_by_air * air_l_h * share, film * area
        total = bubbles + open_water
        found[f"intake_{name}_l_h"] = total
        found[f"limit_{name}_mg_l"] = (bubbles * limit + open_water * surface) / total if total > 0.0 else surface
    return found


def steady(bath: Bath, guess: Guess, air_l_h: float) -> tuple[float, float]:
    """Steady oxygen in mg/L of (bath, reservoir)."""
    return physics.two_boxes(**boxes(bath, guess, air_l_h))


def guesses(crop: str, stones: str, surface: str, depth_m: float, temperature_c: float,
            transfer: float | None = None) -> dict[str, Guess]:
    """The three choices, by what they do to oxygen: "low" takes the most demand and the least supply."""
    mass, film = data.ROOT_MASS_G[crop], data.SURFACE_M_D[surface]

    def efficiency(which: str) -> float:
        if transfer is not None:
            return transfer
        return physics.standard_efficiency(depth_m=depth_m, per_metre=getattr(data.STONE_PER_METRE[stones], which))

    # Below the reference temperature it is the steep Q10 that gives the small demand.
    steep_wants_more = temperature_c >= data.REFERENCE_C
    thirsty, sparing = (data.Q10.high, data.Q10.low) if steep_wants_more else (data.Q10.low, data.Q10.high)
    q10 = {HIGH: sparing, LIKELY: data.Q10.likely, LOW: thirsty}
    opposite = {LOW: HIGH, LIKELY: LIKELY, HIGH: LOW}
    return {which: Guess(getattr(mass, opposite[which]), getattr(data.ROOT_RATE_MG_G_H, opposite[which]), q10[which],
                         getattr(data.WATER_MG_L_H, opposite[which]), efficiency(which), getattr(data.ALPHA, which),
                         getattr(data.FOULING, which), getattr(film, which), getattr(data.STOP_MG_L, which))
            for which in (LOW, LIKELY, HIGH)}


UNCERTAIN = ("root_g", "root_rate", "q10", "water_mg_l_h", "efficiency", "alpha", "fouling", "surface_m_d",
             "stop_mg_l")


def spread(ends: dict[str, Guess], strain: Callable[[Guess], float]) -> dict[str, Guess]:
    """The choices that give the 5th and the 95th percentile, where each band's ends are that input's own percentiles.

    ``strain`` is a number that grows as oxygen gets scarcer, on a logarithmic scale. Its swings by the single inputs
    are combined in quadrature, and each input goes toward its end by its share in that: the likeliest way to get there
    (the first-order reliability method). All inputs at their ends at once is what nobody will meet.
    """
    return {LIKELY: ends[LIKELY], **{which: _design_point(ends[LIKELY], ends[which], strain, sign)
                                     for which, sign in ((LOW, 1.0), (HIGH, -1.0))}}


def _design_point(likely: Guess, end: Guess, strain: Callable[[Guess], float], sign: float) -> Guess:
    """Every input moved toward its end by its share of the joint swing; the shares are found twice, the second time
    at the point that the first gave, for the swings are not quite straight."""
    moving = [name for name in UNCERTAIN if getattr(end, name) != getattr(likely, name)]

    def at(shares: dict[str, float]) -> Guess:
        return replace(likely, **{name: getattr(likely, name) * (getattr(end, name) / getattr(likely, name)) ** share
                                  for name, share in shares.items()})

    base = strain(likely)
    shares = _shares({name: sign * (strain(at({name: 1.0})) - base) for name in moving})
    point = strain(at(shares))
    return at(_shares({name: sign * (point - strain(at({**shares, name: 0.0}))) / share
                       for name, share in shares.items() if share > LEAST_SHARE}))


def _shares(swings: dict[str, float]) -> dict[str, float]:
    """Each swing over all of them in quadrature; one that would help is no part of it."""
    length = sqrt(sum(max(swing, 0.0) ** 2 for swing in swings.values()))
    return {name: max(swing, 0.0) / length for name, swing in swings.items()} if length > 0.0 else {}


@lru_cache(maxsize=64)
def _running_spread(bath: Bath, low: Guess, likely: Guess, high: Guess, air_l_h: float) -> dict[str, Guess]:
    most = limits(bath)[1]
    # What is missing goes with demand over transfer: its logarithm is near enough straight in the logarithms of both.
    return spread({LOW: low, LIKELY: likely, HIGH: high},
                  lambda guess: log(max(most - steady(bath, guess, air_l_h)[0], LEAST)))


def demand_spread(bath: Bath, ends: dict[str, Guess]) -> dict[str, Guess]:
    """The choices at the percentiles of what is taken up: the 95th as LOW, where oxygen gets scarce."""
    return spread(ends, lambda guess: log(max(sum(demands(bath, guess)), LEAST)))


def running_spread(bath: Bath, ends: dict[str, Guess], air_l_h: float) -> dict[str, Guess]:
    """The 5th percentile, the likely choice and the 95th for a bath that runs with an air flow in L/h."""
    return _running_spread(bath, ends[LOW], ends[LIKELY], ends[HIGH], air_l_h)


def band(bath: Bath, ends: dict[str, Guess], air_l_h: float) -> dict[str, tuple[float, float]]:
    """Steady (bath, reservoir): 5th percentile, likely, and 95th, in the order low, likely, high."""
    found = {which: steady(bath, guess, air_l_h) for which, guess in running_spread(bath, ends, air_l_h).items()}
    # Stones in deep water can hold more than the surface does, and then an eager surface takes oxygen away.
    ordered = [sorted(levels) for levels in zip(*found.values(), strict=True)]
    return {LOW: (ordered[0][0], ordered[1][0]), LIKELY: found[LIKELY], HIGH: (ordered[0][-1], ordered[1][-1])}


def worst(bath: Bath, ends: dict[str, Guess], air_l_h: float) -> float:
    """Steady oxygen of the bath in mg/L with every uncertain number at its bad end at once."""
    return steady(bath, ends[LOW], air_l_h)[0]


def air_band(bath: Bath, ends: dict[str, Guess], target_mg_l: float) -> dict[str, float | None]:
    """Air in L/h that holds the target: likely, the 5th percentile as HIGH (oxygen comes easily), the 95th as LOW."""
    likely = air_needed(bath, ends[LIKELY], target_mg_l)
    three = running_spread(bath, ends, MOST_AIR_L_H if likely is None else likely)
    return {which: likely if which == LIKELY else air_needed(bath, guess, target_mg_l)
            for which, guess in three.items()}


def air_needed(bath: Bath, guess: Guess, target_mg_l: float) -> float | None:
    """Least air in L/h that holds the target in the bath; ``None`` where no amount does. More air never lowers it."""
    if steady(bath, guess, 0.0)[0] >= target_mg_l:
        return 0.0
    if steady(bath, guess, MOST_AIR_L_H)[0] < target_mg_l:
        return None
    def lacking(air_l_h: float) -> float:
        return target_mg_l - steady(bath, guess, air_l_h)[0]
    low, high = 0.0, 1.0
    lack_low, lack_high = lacking(low), lacking(high)
    while lack_high > 0.0:
        low, lack_low, high = high, lack_high, high * 2.0
        lack_high = lacking(high)
    return narrow(lacking, low, high, lack_low, lack_high, CLOSE)[1]


RANKED = (("Size of the roots", "root_g"), ("How fast roots breathe", "root_rate"), ("Breathing with warmth", "q10"),
          ("The water's own use", "water_mg_l_h"), ("What the stones give", "efficiency"),
          ("Transfer in solution beside clean water", "alpha"), ("Clogging of stones", "fouling"),
          ("Open surface", "surface_m_d"))


def ranking(bath: Bath, three: dict[str, Guess], air_l_h: float) -> list[Row]:
    """Rows of input, oxygen in the bath at both ends, and the swing between them; the largest swing first."""
    likely = three[LIKELY]
    rows: list[Row] = []

    def add(name: str, ends: list[float]) -> None:
        rows.append({"input": name, "bath_low": min(ends), "bath_high": max(ends), "swing": max(ends) - min(ends)})

    for name, field in RANKED:
        add(name, [steady(bath, replace(likely, **{field: getattr(three[which], field)}), air_l_h)[0]
                   for which in (LOW, HIGH)])
    warm = [min(max(bath.temperature_c + sign * TEMPERATURE_SWING_C, 0.0), 40.0) for sign in (-1, 1)]
    add("Water temperature", [steady(replace(bath, temperature_c=t), likely, air_l_h)[0] for t in warm])
    # A litre of thinner air also carries less.
    add("Air pressure", [steady(replace(bath, pressure_pa=min(max(bath.pressure_pa * (1 + sign * PRESSURE_SWING),
                                                                 PRESSURE_RANGE_PA[0]), PRESSURE_RANGE_PA[1]),
                                        air_oxygen_mg_l=bath.air_oxygen_mg_l * (1 + sign * PRESSURE_SWING)),
                                likely, air_l_h)[0] for sign in (-1, 1)])
    add("Air delivered", [steady(bath, likely, air_l_h * (1 + sign * FLOW_SWING))[0] for sign in (-1, 1)])
    add("Water pumped round", [steady(replace(bath, exchange_l_h=bath.exchange_l_h * (1 + sign * FLOW_SWING)), likely,
                                      air_l_h)[0] for sign in (-1, 1)])
    # What the bath does not have swings nothing.
    return sorted((row for row in rows if row["swing"] > 0.0), key=lambda row: -row["swing"])
