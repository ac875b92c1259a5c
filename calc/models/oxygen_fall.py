"""Oxygen falling after a stop, in the bath alone or in bath and reservoir, while the water warms or cools."""

from __future__ import annotations

from dataclasses import dataclass, replace
from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache, partial
from math import inf, log

from ..data import roots as data
from ..errors import OutOfRange
from ..numeric.bracket import narrow
from ..relations import outage as physics
from ..relations import oxygen as oxygen_physics
from ..relations import roots as root_physics
from .balance import (
    CLEAN_WATER,
    FREE_FALL,
    HIGH,
    LIKELY,
    LOW,
    Bath,
    Guess,
    boxes,
    limit_at_20,
    limits,
    spread,
    steady,
)

PUMP, AIR, BOTH = "pump", "air", "both"
ALARM_MG_L, ACT_MG_L = data.LEVELS[2][1], data.LEVELS[3][1]
LEVELS_MG_L = (ALARM_MG_L, ACT_MG_L, data.CRITICAL_MG_L)

LONGEST_H, STEPS_OF_TIME, LEAST_SHOWN_H = 168.0, 56, 12.0
COLDEST_C, HOTTEST_C = 0.0, 40.0
REACHED, LATER, NEVER = 0, 1, 2
CLOSE = 1e-8
# With less than this above the alarm the time in hand is next to nothing, whatever else is uncertain.
LEAST_SPARE_MG_L = 0.05


@dataclass(frozen=True)
class Drift:
    """How the water warms: from ``start_c`` toward the air with a time constant in h."""

    start_c: float
    air_c: float
    time_constant_h: float

    def at(self, hours: float) -> float:
        """Water temperature in C after a time."""
        return physics.water_after(start_c=self.start_c, air_c=self.air_c, time_constant_h=self.time_constant_h,
                                   hours=hours)

    def horizon(self) -> float:
        """Hours that can be worked out: a week, or until the water leaves 0 to 40 C."""
        bound = HOTTEST_C if self.air_c > HOTTEST_C else COLDEST_C
        if COLDEST_C <= self.air_c <= HOTTEST_C:
            return LONGEST_H
        passed = (bound - self.air_c) / (self.start_c - self.air_c)
        return min(LONGEST_H, -self.time_constant_h * log(passed))


@dataclass(frozen=True)
class Reach:
    """When a level is reached: ``kind`` is REACHED after ``hours``, LATER than ``hours``, or NEVER."""

    kind: int
    hours: float

    def rank(self) -> tuple[int, float]:
        """Sorts by time; never comes last."""
        return (self.kind, self.hours if self.kind == REACHED else 0.0)


@dataclass(frozen=True)
class Path:
    """One run: bath oxygen at the nodes of time, and when each level is reached."""

    levels: tuple[float, ...]
    reached: dict[float, Reach]


@lru_cache(maxsize=64)
def nodes(horizon_h: float, marked_h: float, steps: int = STEPS_OF_TIME) -> tuple[float, ...]:
    """Times in h from 0 to the horizon, dense at first, one of them the marked time."""
    times = {horizon_h * (step / steps) ** 2 for step in range(steps + 1)}
    if marked_h <= horizon_h:
        times.add(marked_h)
    return tuple(sorted(times))


@dataclass(frozen=True)
class WaterState:
    """The water at one time: its warmth, and what that does to transfer, saturation and the falling return."""

    temperature_c: float
    transfer: float
    held: float
    gain: float


class _Sky:
    """The water at any time while it drifts, each time worked out once."""

    def __init__(self, bath: Bath, drift: Drift):
        self._bath, self._drift = bath, drift
        self._known: dict[float, WaterState] = {}

    def at(self, hours: float) -> WaterState:
        """The water after some hours."""
        if hours not in self._known:
            self._known[hours] = _at(self._bath, self._drift.at(hours))
        return self._known[hours]

    def span(self, begin: float, end: float) -> tuple[WaterState, WaterState, WaterState]:
        """The water at begin, middle and end of a span."""
        return self.at(begin), self.at((begin + end) / 2), self.at(end)


def _sky_of(bath: Bath, drift: Drift | None) -> _Sky | None:
    """What all cases and guesses of one bath share; ``None`` where the water stays as warm as it is."""
    if drift is None:
        return None
    return _shared_sky(replace(bath, plants=0, bath_l=0.0, reservoir_l=0.0, bath_open_m2=0.0, reservoir_open_m2=0.0,
                               depth_m=0.0, bath_share=0.0, exchange_l_h=0.0), drift)


@lru_cache(maxsize=8)
def _shared_sky(bath: Bath, drift: Drift) -> _Sky:
    return _Sky(bath, drift)


def _at(bath: Bath, warmth: float) -> WaterState:
    return WaterState(warmth, oxygen_physics.transfer_warmth(warmth, bath.temperature_c),
                   _saturation(bath, warmth) / limits(bath)[0], gain_at(bath, warmth))


def _saturation(bath: Bath, temperature_c: float) -> float:
    if bath.beta is None:
        return oxygen_physics.saturation(temperature_c=temperature_c, pressure_pa=bath.pressure_pa,
                                         salinity=bath.salinity)
    return bath.beta * oxygen_physics.saturation(temperature_c=temperature_c, pressure_pa=bath.pressure_pa,
                                                 salinity=0.0)


def gain_at(bath: Bath, temperature_c: float) -> float:
    return oxygen_physics.fall_gain(fall_m=bath.return_fall_m, temperature_c=temperature_c, quality=CLEAN_WATER,
                                    shape=FREE_FALL)


ORDER = ("intake_bath_l_h", "limit_bath_mg_l", "demand_bath_mg_h", "intake_reservoir_l_h", "limit_reservoir_mg_l",
         "demand_reservoir_mg_h", "exchange_l_h", "return_gain", "return_limit_mg_l", "critical_mg_l", "stop_mg_l")


def _breathing(guess: Guess, start_c: float, now: WaterState) -> float:
    return root_physics.unbounded_warmth_factor(now.temperature_c, start_c, guess.q10)


def _simpson(first: float, middle: float, last: float) -> float:
    return (first + 4.0 * middle + last) / 6.0


def _numbers(base: dict[str, float], breathing: float, transfer: float, held: float, gain: float) -> tuple[float, ...]:
    """The balance's numbers at another temperature: transfer, demand and saturation each move by their own law."""
    return (base["intake_bath_l_h"] * transfer, base["limit_bath_mg_l"] * held, base["demand_bath_mg_h"] * breathing,
            base["intake_reservoir_l_h"] * transfer, base["limit_reservoir_mg_l"] * held,
            base["demand_reservoir_mg_h"] * breathing, base["exchange_l_h"], gain, base["return_limit_mg_l"] * held,
            base["critical_mg_l"], base["stop_mg_l"])


def _numbers_at(base: dict[str, float], guess: Guess, start_c: float, now: WaterState) -> tuple[float, ...]:
    return _numbers(base, _breathing(guess, start_c, now), now.transfer, now.held, now.gain)


@lru_cache(maxsize=128)
def run(bath: Bath, guess: Guess, air_l_h: float, start: tuple[float, float], drift: Drift | None,
        times: tuple[float, ...], until_h: float) -> Path:
    """Follow both boxes from ``start`` (mg/L in bath and reservoir) along ``times``.

    Stops once every level is reached and ``until_h`` has passed. The bath must hold water.
    """
    base = boxes(bath, guess, air_l_h)
    spans = _alone_spans if base["exchange_l_h"] == 0.0 else _linked_spans
    found, reached = [start[0]], {level: Reach(REACHED, 0.0) for level in LEVELS_MG_L if start[0] <= level}
    level_now = start[0]
    for begin, end, after, when in spans(bath, guess, base, start, drift, times):
        for level in LEVELS_MG_L:
            if level not in reached and after <= level:
                reached[level] = Reach(REACHED, begin + (when(level) if level_now > level else 0.0))
        level_now = after
        # Only what lies at one of the given times is kept.
        if end == times[len(found)]:
            found.append(after)
        if end >= until_h and len(reached) == len(LEVELS_MG_L):
            break
    rest = _rest(bath, guess, base, drift) if times[-1] >= LONGEST_H else -inf
    for level in LEVELS_MG_L:
        if level not in reached:
            reached[level] = Reach(NEVER if rest >= level else LATER, times[-1])
    return Path(tuple(found), reached)


# What ``alone_after`` takes after the time: span in h, level, volume, intake, limits and demands at both ends, the
# critical level and the level where uptake stops.
AloneSpan = tuple[float, float, float, float, tuple[float, float], tuple[float, float], float, float]
# Begin and end in h, oxygen at the end in mg/L, and hours into the span at which a level is met.
Span = tuple[float, float, float, Callable[[float], float]]


def _alone_spans(bath: Bath, guess: Guess, base: dict[str, float], start: tuple[float, float],
                 drift: Drift | None, times: Sequence[float]) -> Iterator[Span]:
    """Each span of time for a bath that exchanges no water: begin, end, oxygen at the end, and when a level is met."""
    intake, limit, demand = (base[name] for name in ORDER[:3])
    sky, level = _sky_of(bath, drift), start[0]
    ends, demands, taken_in = (limit, limit), (demand, demand), intake
    for begin, end in zip(times, times[1:], strict=False):
        if sky:
            first, middle, last = weather = sky.span(begin, end)
            breaths = [demand * _breathing(guess, bath.temperature_c, now) for now in weather]
            # Even drift from end to end, raised or lowered so that all that is taken up comes to the true amount.
            short = _simpson(*breaths) - (breaths[0] + breaths[2]) / 2
            demands = (breaths[0] + short, breaths[2] + short)
            ends, taken_in = (limit * first.held, limit * last.held), intake * middle.transfer
        span = (end - begin, level, bath.bath_l, taken_in, ends, demands, data.CRITICAL_MG_L, base["stop_mg_l"])
        level = physics.alone_after(end - begin, *span)
        yield begin, end, level, partial(_met_alone, span=span, after=level)


def _met_alone(wanted: float, span: AloneSpan, after: float) -> float:
    """Hours into a span at which the bath is down to a level."""
    return narrow(lambda hours: physics.alone_after(hours, *span) - wanted, 0.0, span[0], span[1] - wanted,
                  after - wanted, CLOSE, CLOSE)[1]


def _linked_spans(bath: Bath, guess: Guess, base: dict[str, float], start: tuple[float, float],
                  drift: Drift | None, times: Sequence[float]) -> Iterator[Span]:
    """The same while water goes round, with what holds on average over the span."""
    volumes = (bath.bath_l, bath.reservoir_l)
    numbers: tuple[float, ...] = (*volumes, *(base[name] for name in ORDER))
    sky, levels = _sky_of(bath, drift), start

    def met(wanted: float, begin: float, span: float, before: tuple[float, float],
            numbers: tuple[float, ...]) -> float:
        into = physics.hours_to_fall(wanted, before[0], before[1], span, numbers)
        if sky is None:
            return into
        # A level reached early in the span is met cooler or warmer than its middle.
        near = (*volumes, *_numbers_at(base, guess, bath.temperature_c, sky.at(begin + into / 2)))
        if physics.levels_after(span, before[0], before[1], near)[0] > wanted:
            return into
        return physics.hours_to_fall(wanted, before[0], before[1], span, near)

    if sky:
        # Half spans: what holds on average follows warming water less closely than an even drift does.
        times = sorted({*times, *((begin + end) / 2 for begin, end in zip(times, times[1:], strict=False))})
    for begin, end in zip(times, times[1:], strict=False):
        if sky:
            weather = sky.span(begin, end)
            breath = _simpson(*(_breathing(guess, bath.temperature_c, now) for now in weather))
            numbers = (*volumes, *_numbers(base, breath, _simpson(*(now.transfer for now in weather)),
                                           _simpson(*(now.held for now in weather)), weather[1].gain))
        before, levels = levels, physics.levels_after(end - begin, levels[0], levels[1], numbers)
        yield begin, end, levels[0], partial(met, begin=begin, span=end - begin, before=before, numbers=numbers)


def _rest(bath: Bath, guess: Guess, base: dict[str, float], drift: Drift | None) -> float:
    """Where the bath ends up long after the last time, as warm as the air by then."""
    if drift is None:
        return _rests_at(tuple(base[name] for name in ORDER))
    return _rests_at(_numbers_at(base, guess, bath.temperature_c, _at(bath, drift.air_c)))


def _rests_at(numbers: tuple[float, ...]) -> float:
    """Where the bath ends up when nothing changes any more; without any demand or supply, where it is."""
    try:
        return oxygen_physics.steady_bath(**dict(zip(ORDER, numbers, strict=True)))
    except OutOfRange:
        # No way in and nothing that takes oxygen out: it stays.
        return inf if numbers[2] <= 0.0 else 0.0


def stopped(bath: Bath, case: str, kept_l: float, sunk_m: float) -> Bath:
    """The bath after a stop: without the pump no water goes round, and what ran back is gone."""
    if case == AIR:
        return bath
    return replace(bath, exchange_l_h=0.0, bath_l=kept_l, depth_m=max(bath.depth_m - sunk_m, 0.0))


@dataclass(frozen=True)
class Three:
    """A case worked three ways: the earliest, likely and latest time to a level, and oxygen at the nodes of time."""

    paths: dict[str, Path]

    def reach(self, level: float) -> dict[str, Reach]:
        """Low is the earliest of the three runs, high the latest."""
        ways = {which: path.reached[level] for which, path in self.paths.items()}
        order = sorted(ways.values(), key=Reach.rank)
        return {LOW: order[0], LIKELY: ways[LIKELY], HIGH: order[-1]}

    def levels(self, step: int) -> dict[str, float]:
        """Oxygen in mg/L at a node of time, from the least to the most of the three runs."""
        ways = [path.levels[step] for path in self.paths.values()]
        return {LOW: min(ways), LIKELY: self.paths[LIKELY].levels[step], HIGH: max(ways)}


@dataclass(frozen=True)
class Scene:
    """What is there in the hottest hour: the running bath, the ends of its bands, and what a stop changes."""

    bath: Bath
    ends: dict[str, Guess]
    air_l_h: float
    warming: Drift | None
    times: tuple[float, ...]
    hours: float
    kept_l: float
    sunk_m: float

    def start(self, guess: Guess) -> tuple[float, float]:
        """Oxygen in bath and reservoir while all runs."""
        return steady(self.bath, guess, self.air_l_h)

    def work(self, case: str, until_h: float = 0.0) -> Three | None:
        """The three runs of one case, ``until_h`` at least; ``None`` when no water is left round the roots."""
        if case != AIR and self.kept_l <= 0.0:
            return None
        after = stopped(self.bath, case, self.kept_l, self.sunk_m)
        blown = self.air_l_h if case == PUMP else 0.0
        # Stones that stand less deep under sunken water pass on less.
        share = after.depth_m / self.bath.depth_m if self.bath.depth_m > 0.0 else 1.0
        three = fall_spread(self.bath, after, self.ends[LOW], self.ends[LIKELY], self.ends[HIGH], self.air_l_h, blown)
        return Three({which: run(after, replace(guess, efficiency=guess.efficiency * share), blown, self.start(guess),
                                 self.warming, self.times, until_h) for which, guess in three.items()})


@lru_cache(maxsize=32)
def fall_spread(running: Bath, after: Bath, low: Guess, likely: Guess, high: Guess, air_l_h: float,
                blown_l_h: float) -> dict[str, Guess]:
    """The choices at the percentiles of the time in hand: what stands above the alarm, over how fast it is used up."""
    def strain(guess: Guess) -> float:
        numbers = boxes(after, guess, blown_l_h)
        start = max(steady(running, guess, air_l_h)[0], ALARM_MG_L + LEAST_SPARE_MG_L)
        hours = oxygen_physics.time_to_level(
            volume_l=after.bath_l, start_mg_l=start, level_mg_l=ALARM_MG_L, demand_mg_h=numbers["demand_bath_mg_h"],
            surface_l_h=numbers["intake_bath_l_h"], saturation_mg_l=numbers["limit_bath_mg_l"])
        return -log(min(hours, LONGEST_H))

    return spread({LOW: low, LIKELY: likely, HIGH: high}, strain)


def air_to_hold(bath: Bath, guess: Guess, level_mg_l: float) -> float | None:
    """Least air in L/h that holds a level in baths that exchange no water; ``None`` where no amount does."""
    surface, limit = limits(bath)
    numbers = boxes(bath, guess, 0.0)
    lacking = numbers["demand_bath_mg_h"] - numbers["intake_bath_l_h"] * (surface - level_mg_l)
    if lacking <= 0.0:
        return 0.0
    factor = oxygen_physics.field_factor(
        temperature_c=bath.temperature_c, oxygen_mg_l=level_mg_l, limit_mg_l=limit,
        standard_saturation_mg_l=limit_at_20(bath.depth_m), alpha=guess.alpha, fouling=guess.fouling)
    if min(factor, guess.efficiency, bath.air_oxygen_mg_l) <= 0.0:
        return None
    return oxygen_physics.air_for_demand(demand_mg_h=lacking, factor=factor, efficiency=guess.efficiency,
                                         air_oxygen_mg_l=bath.air_oxygen_mg_l)
