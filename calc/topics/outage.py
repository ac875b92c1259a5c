"""How long there is when pumps stop in the hottest hour, what to do in order, and how large a backup must be."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from math import inf, log

from ..balance import (
    CLEAN_WATER,
    FREE_FALL,
    HIGH,
    LIKELY,
    LOW,
    M3_S_IN_L_H,
    Bath,
    Guess,
    band,
    bath_of,
    boxes,
    bubble_transfer,
    guesses_of,
    hottest,
    limits,
)
from ..bracket import narrow
from ..data import roots as data
from ..declare import Choice, Field, Result
from ..errors import OutOfRange, Unanswered
from ..relations import air as air_physics
from ..relations import outage as physics
from ..relations import oxygen as oxygen_physics
from .water import volume_to

NAME = "outage"
TITLE = "When the power fails"
QUESTION = "How long is there when the pumps stop, and what bridges the gap?"

PUMP, AIR, BOTH = "pump", "air", "both"
WORDS = {PUMP: "The water pump stops", AIR: "The air stops", BOTH: "Both stop"}
DC, INVERTER = "dc", "inverter"
ALARM_MG_L, ACT_MG_L = data.LEVELS[2][1], data.LEVELS[3][1]
LEVELS_MG_L = (ALARM_MG_L, ACT_MG_L, data.CRITICAL_MG_L)

HOUR_S = 3600.0
LONGEST_H, STEPS_OF_TIME, LEAST_SHOWN_H = 168.0, 32, 12.0
COLDEST_C, HOTTEST_C = 0.0, 40.0
REACHED, LATER, NEVER = 0, 1, 2
CLOSE = 1e-8

SMALL_DC_W, WIRE_TO_AIR = 4.0, 0.10
POUR_FALL_M, MOST_POUR_L_H, JUG_L = 0.3, 2000.0, 2.0
ICE_COOLS_C, ICE_LEAST_C = 3.0, 18.0
HEAVY_CURRENT_A, FAST_DISCHARGE_H = 10.0, 5.0

FIELDS = (
    Field("outage.what", "choice", "What stops", (BOTH, BOTH),
          choices=tuple(Choice(case, WORDS[case]) for case in (BOTH, PUMP, AIR)),
          help="for the chart; the table shows all three", why="a power cut takes both"),
    Field("outage.hours", "time", "Hours to bridge", ("8 h", "8 h"), 60.0, LONGEST_H * HOUR_S, "h", "h",
          help="from the cut until power or you are back", why="a night: engineering judgement, no source"),
    Field("outage.backup", "choice", "Backup pump", (DC, DC), choices=(
        Choice(DC, "Air pump made for direct current, straight on the battery"),
        Choice(INVERTER, "Mains air pump on an inverter")),
        help="an inverter makes mains from a battery, and loses some",
          why="it needs no inverter, which loses power and must stay dry"),
    Field("outage.pump_watts", "power", "Backup pump draws", ("", ""), 0.1, 1e5, "W", "W",
          help="from its plate", optional=True,
          why="empty: a small direct-current pump, or for an inverter all the plan's air pumps"),
    Field("outage.voltage", "voltage", "Battery voltage", ("12 V", "12 V"), 3.0, 60.0, "V", "V",
          help="as printed on it", why="the usual small battery"),
    Field("outage.depth_of_discharge", "ratio", "Share of its charge you use", ("50 %", "50 %"), 0.05, 1.0, "%", "%",
          help="about half for lead batteries, 80 to 90 % for lithium iron phosphate",
          why="half spares a lead battery: common practice, from memory, not verified"),
    Field("outage.inverter_efficiency", "ratio", "Inverter efficiency", ("85 %", "85 %"), 0.2, 1.0, "%", "%",
          help="what comes out over what goes in; small inverters under a light load are worse",
          why="80 to 92 % is usual: common practice, from memory, not verified",
          when=(("outage.backup", (INVERTER,)),)),
    Field("outage.margin", "ratio", "Margin for age and cold", ("125 %", "125 %"), 1.0, 5.0, "%", "%",
          help="100 % is none; in frost a lead battery needs as much again",
          why="a quarter more for ageing: common practice, from memory, not verified"),
)
TABLES = ()

RESULTS = (
    Result("outage.bath_kept", "volume", "Water that stays in all baths when the pump stops", "gal", "L"),
    Result("outage.room_left", "volume", "Room left in the reservoir after the water has run back", "gal", "L"),
    Result("outage.temperature_start", "temperature", "Water when it happens: the hottest hour", "F", "C"),
    Result("outage.temperature_end", "temperature", "Water after the hours to bridge", "F", "C"),
    Result("outage.start_low", "concentration", "Oxygen in the bath when it happens, low", "mg/L", "mg/L"),
    Result("outage.start", "concentration", "Oxygen in the bath when it happens, likely", "mg/L", "mg/L"),
    Result("outage.start_high", "concentration", "Oxygen in the bath when it happens, high", "mg/L", "mg/L"),
    Result("outage.hours_to_alarm_low", "time", "Both stopped: time to 4 mg/L, low", "h", "h"),
    Result("outage.hours_to_alarm", "time", "Both stopped: time to 4 mg/L, likely", "h", "h"),
    Result("outage.hours_to_alarm_high", "time", "Both stopped: time to 4 mg/L, high", "h", "h"),
    Result("outage.in_words", "text", "Both stopped, in words"),
    Result("outage.end_low", "concentration", "Oxygen after the hours to bridge, low", "mg/L", "mg/L"),
    Result("outage.end", "concentration", "Oxygen after the hours to bridge, likely", "mg/L", "mg/L"),
    Result("outage.end_high", "concentration", "Oxygen after the hours to bridge, high", "mg/L", "mg/L"),
    Result("outage.times", "rows", "Time to each level"),
    Result("outage.curves", "rows", "Oxygen in the bath, hour by hour"),
    Result("outage.air_to_hold", "flow", "Air that holds 4 mg/L with the pump stopped, likely", "L/min", "L/min"),
    Result("outage.air_to_hold_high", "flow", "Air that holds 4 mg/L with the pump stopped, high", "L/min", "L/min"),
    Result("outage.pour", "flow", "Water to pour back by hand that holds 4 mg/L", "gph", "L/h"),
    Result("outage.ice", "mass", "Ice that cools the bath by 3 C (5 F)", "lb", "kg"),
    Result("outage.steps", "rows", "What to do, in order"),
    Result("outage.power", "power", "Backup pump", "W", "W"),
    Result("outage.battery_energy", "energy", "Energy the backup takes from the battery", "Wh", "Wh"),
    Result("outage.battery_current", "current", "Current it draws from the battery", "A", "A"),
    Result("outage.battery", "charge", "Battery", "Ah", "Ah"),
)


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
class Weather:
    """The water at one time: its warmth, and what that does to transfer, saturation and the falling return."""

    temperature_c: float
    transfer: float
    held: float
    gain: float


class _Sky:
    """The water at any time while it drifts, each time worked out once."""

    def __init__(self, bath: Bath, drift: Drift):
        self._bath, self._drift = bath, drift
        self._known: dict[float, Weather] = {}

    def at(self, hours: float) -> Weather:
        """The water after some hours."""
        if hours not in self._known:
            self._known[hours] = _at(self._bath, self._drift.at(hours))
        return self._known[hours]

    def span(self, begin: float, end: float) -> tuple[Weather, Weather, Weather]:
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


def _at(bath: Bath, warmth: float) -> Weather:
    return Weather(warmth, oxygen_physics.THETA ** (warmth - bath.temperature_c),
                   _saturation(bath, warmth) / limits(bath)[0], _gain(bath, warmth))


def _saturation(bath: Bath, temperature_c: float) -> float:
    if bath.beta is None:
        return oxygen_physics.saturation(temperature_c=temperature_c, pressure_pa=bath.pressure_pa,
                                         salinity=bath.salinity)
    return bath.beta * oxygen_physics.saturation(temperature_c=temperature_c, pressure_pa=bath.pressure_pa,
                                                 salinity=0.0)


def _gain(bath: Bath, temperature_c: float) -> float:
    return oxygen_physics.fall_gain(fall_m=bath.return_fall_m, temperature_c=temperature_c, quality=CLEAN_WATER,
                                    shape=FREE_FALL)


ORDER = ("intake_bath_l_h", "limit_bath_mg_l", "demand_bath_mg_h", "intake_reservoir_l_h", "limit_reservoir_mg_l",
         "demand_reservoir_mg_h", "exchange_l_h", "return_gain", "return_limit_mg_l", "critical_mg_l")


def _breathing(guess: Guess, start_c: float, now: Weather) -> float:
    return guess.q10 ** ((now.temperature_c - start_c) / 10.0)


def _simpson(first: float, middle: float, last: float) -> float:
    return (first + 4.0 * middle + last) / 6.0


def _numbers(base: dict[str, float], breathing: float, transfer: float, held: float, gain: float) -> tuple[float, ...]:
    """The balance's numbers at another temperature: transfer, demand and saturation each move by their own law."""
    return (base["intake_bath_l_h"] * transfer, base["limit_bath_mg_l"] * held, base["demand_bath_mg_h"] * breathing,
            base["intake_reservoir_l_h"] * transfer, base["limit_reservoir_mg_l"] * held,
            base["demand_reservoir_mg_h"] * breathing, base["exchange_l_h"], gain, base["return_limit_mg_l"] * held,
            base["critical_mg_l"])


def _numbers_at(base: dict[str, float], guess: Guess, start_c: float, now: Weather) -> tuple[float, ...]:
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


def _alone_spans(bath: Bath, guess: Guess, base: dict[str, float], start, drift: Drift | None, times):
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
        span = (end - begin, level, bath.bath_l, taken_in, ends, demands, data.CRITICAL_MG_L)
        level = physics.alone_after(end - begin, *span)
        yield begin, end, level, partial(_met_alone, span=span, after=level)


def _met_alone(wanted: float, span: tuple, after: float) -> float:
    """Hours into a span at which the bath is down to a level."""
    return narrow(lambda hours: physics.alone_after(hours, *span) - wanted, 0.0, span[0], span[1] - wanted,
                  after - wanted, CLOSE, CLOSE)[1]


def _linked_spans(bath: Bath, guess: Guess, base: dict[str, float], start, drift: Drift | None, times):
    """The same while water goes round, with what holds on average over the span."""
    volumes = (bath.bath_l, bath.reservoir_l)
    numbers = (*volumes, *(base[name] for name in ORDER))
    sky, levels = _sky_of(bath, drift), start

    def met(wanted: float, begin: float, span: float, before, numbers) -> float:
        into = physics.hours_to_fall(wanted, *before, span, numbers)
        if sky is None:
            return into
        # A level reached early in the span is met cooler or warmer than its middle.
        near = (*volumes, *_numbers_at(base, guess, bath.temperature_c, sky.at(begin + into / 2)))
        if physics.levels_after(span, *before, near)[0] > wanted:
            return into
        return physics.hours_to_fall(wanted, *before, span, near)

    if sky:
        # Half spans: what holds on average follows warming water less closely than an even drift does.
        times = sorted({*times, *((begin + end) / 2 for begin, end in zip(times, times[1:], strict=False))})
    for begin, end in zip(times, times[1:], strict=False):
        if sky:
            weather = sky.span(begin, end)
            breath = _simpson(*(_breathing(guess, bath.temperature_c, now) for now in weather))
            numbers = (*volumes, *_numbers(base, breath, _simpson(*(now.transfer for now in weather)),
                                           _simpson(*(now.held for now in weather)), weather[1].gain))
        before, levels = levels, physics.levels_after(end - begin, *levels, numbers)
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
    """What is there in the hottest hour: the running bath, its three guesses, and what a stop changes."""

    bath: Bath
    three: dict[str, Guess]
    air_l_h: float
    start: dict[str, tuple[float, float]]
    warming: Drift | None
    times: tuple[float, ...]
    hours: float
    kept_l: float
    sunk_m: float

    def work(self, case: str, until_h: float = 0.0) -> Three | None:
        """The three runs of one case, ``until_h`` at least; ``None`` when no water is left round the roots."""
        if case != AIR and self.kept_l <= 0.0:
            return None
        after = stopped(self.bath, case, self.kept_l, self.sunk_m)
        blown = self.air_l_h if case == PUMP else 0.0
        # Stones that stand less deep under sunken water pass on less.
        share = after.depth_m / self.bath.depth_m if self.bath.depth_m > 0.0 else 1.0
        return Three({which: run(after, replace(guess, efficiency=guess.efficiency * share), blown, self.start[which],
                                 self.warming, self.times, until_h) for which, guess in self.three.items()})


@lru_cache(maxsize=16)
def _running(bath: Bath, low: Guess, likely: Guess, high: Guess, air_l_h: float) -> dict[str, tuple[float, float]]:
    return band(bath, {LOW: low, LIKELY: likely, HIGH: high}, air_l_h)


def _scene(sheet) -> Scene:
    bath = bath_of(sheet, hottest(sheet))
    three, air = guesses_of(sheet, bath), sheet.result("air.delivered") * M3_S_IN_L_H
    warming, hours = _drift(sheet, bath.temperature_c), sheet["outage.hours"] / HOUR_S
    return Scene(bath, three, air, _running(bath, three[LOW], three[LIKELY], three[HIGH], air), warming,
                 nodes(warming.horizon() if warming else LONGEST_H, hours), hours, *_kept(sheet))


def _drift(sheet, start_c: float) -> Drift | None:
    """How the water warms, where the heat topic tells; ``None`` leaves it as warm as it is."""
    try:
        found = Drift(start_c, sheet.result("heat.warmest_air"), sheet.result("heat.time_constant") / HOUR_S)
    except Unanswered:
        return None
    return found if found.air_c != start_c else None


def _kept(sheet) -> tuple[float, float]:
    """Water that stays in all baths in L, and how far its surface sinks in m."""
    depth = sheet.result("water.depth_after_stop")
    litres = sheet["bath.count"] * volume_to(sheet, "bath", depth)[0] * 1000.0 if depth > 0.0 else 0.0
    return litres, max(sheet["bath.water_depth"] - depth, 0.0)


def drain_back(sheet) -> None:
    """What stays in the bath and whether the reservoir takes the rest."""
    kept, _ = _kept(sheet)
    sheet.put("outage.bath_kept", kept / 1000.0, note="Water below the overflow's rim, or below the inlet where the "
                                                      "bath drains back through the pump.")
    back, room = sheet.result("water.drain_back_volume"), sheet.result("water.reservoir_headroom")
    if back <= room:
        sheet.put("outage.room_left", room - back, note="Room while running, less what runs back.")
    else:
        sheet.caution("outage-flood", "danger",
                      f"Flood in a power cut: {sheet.show(back, 'volume', 'gal', 'L')} runs back into room for "
                      f"{sheet.show(room, 'volume', 'gal', 'L')}. Lower the reservoir's running level now, while "
                      "somebody is there to see it.")
    if kept <= 0.0:
        sheet.caution("outage-dry", "danger",
                      "Roots hang dry in a power cut: nothing stays in the bath when the pump stops. In warm, dry air "
                      "they have little time, whatever the oxygen. Fill over the rim, or fit a check valve.")


def drift(sheet) -> None:
    """How warm the water gets; left out while the heat of the bath is not worked out."""
    start = hottest(sheet)
    sheet.put("outage.temperature_start", start, note="The hottest hour of the oxygen questions.")
    air, constant = sheet.result("heat.warmest_air"), sheet.result("heat.time_constant")
    sheet.work("outage.temperature_end", physics.water_after, start_c=start, air_c=air,
               time_constant_h=constant / HOUR_S, hours=sheet["outage.hours"] / HOUR_S)


def say_time(sheet, reach: Reach) -> str:
    """A time to a level in words."""
    if reach.kind == NEVER:
        return "never"
    if reach.kind == LATER:
        return f"more than {_hours(sheet, reach.hours)}"
    return "at once" if reach.hours <= 0.0 else _hours(sheet, reach.hours)


def _hours(sheet, hours: float) -> str:
    unit = "min" if hours < 1.0 else "h" if hours < 72.0 else "d"
    return sheet.show(hours * HOUR_S, "time", unit, unit)


def fall(sheet) -> None:
    """Oxygen with time in each case, and when it falls to each level."""
    scene = _scene(sheet)
    for name, which in (("start_low", LOW), ("start", LIKELY), ("start_high", HIGH)):
        sheet.put(f"outage.{name}", scene.start[which][0],
                  note="Everything running, in the hottest hour, as under oxygen.")
    rows = []
    for case in (PUMP, AIR, BOTH):
        found = scene.work(case, max(scene.hours, LEAST_SHOWN_H) if case == sheet["outage.what"] else 0.0)
        if found is None:
            continue
        for level in LEVELS_MG_L:
            reach = found.reach(level)
            rows.append({"case": WORDS[case], "what": case, "level": level,
                         **{which: one.hours * HOUR_S if one.kind == REACHED else None for which, one in reach.items()},
                         **{f"{which}_words": say_time(sheet, one) for which, one in reach.items()}})
        if case == BOTH:
            _put_alarm(sheet, found.reach(ALARM_MG_L), scene)
        if case == sheet["outage.what"]:
            _put_curves(sheet, found, scene)
    warmth = ("The water warms or cools toward the air meanwhile." if scene.warming else
              "The water is taken to stay as warm as it is.")
    sheet.put("outage.times", rows,
              note="Two mixed boxes as under oxygen, followed from the running state; uptake eases in proportion below "
                   f"2 mg/L. {warmth}", source=data.CRITICAL_SOURCE)


def _put_alarm(sheet, reach: dict[str, Reach], scene: Scene) -> None:
    for key, which in (("hours_to_alarm_low", LOW), ("hours_to_alarm", LIKELY), ("hours_to_alarm_high", HIGH)):
        if reach[which].kind == REACHED:
            sheet.put(f"outage.{key}", reach[which].hours * HOUR_S,
                      note="From the hottest hour with everything stopped, until the bath is down to 4 mg/L.")
    level = sheet.show(ALARM_MG_L, "concentration", "mg/L", "mg/L")
    low, likely, high = (reach[which] for which in (LOW, LIKELY, HIGH))
    span = f"{say_time(sheet, low)} at the low end, {say_time(sheet, high)} at the high end"
    if likely.kind == NEVER:
        text = (f"The bath likely never falls to {level}: the open surface brings in as much as is taken up "
                f"({span}).")
    elif likely.kind == LATER and likely.hours < LONGEST_H and scene.warming:
        edge = HOTTEST_C if scene.warming.air_c > HOTTEST_C else COLDEST_C
        text = (f"The bath is likely still above {level} when the water passes "
                f"{sheet.show(edge, 'temperature', 'F', 'C')}, after {_hours(sheet, likely.hours)}; beyond that "
                "nothing is worked out.")
    elif likely.kind == LATER:
        text = f"The bath likely takes more than a week to fall to {level} ({span})."
    elif likely.hours <= 0.0:
        text = f"The bath is likely below {level} before anything stops: there is no time in hand."
    else:
        text = f"The bath likely falls to {level} in {say_time(sheet, likely)} ({span})."
    sheet.put("outage.in_words", text, note="Pump and air stopped in the hottest hour.")
    if likely.kind == REACHED and likely.hours < scene.hours:
        sheet.caution("outage-short", "warning" if likely.hours > 0.0 else "danger",
                      f"Power cut: {text[:1].lower()}{text[1:]} You want to bridge "
                      f"{_hours(sheet, scene.hours)}: have a backup that starts by itself.")
    elif low.kind == REACHED and low.hours < scene.hours:
        sheet.caution("outage-may-be-short", "note",
                      f"Power cut: if everything that is uncertain went the wrong way at once, the bath would be down "
                      f"to {level} in {say_time(sheet, low)}.")


def _put_curves(sheet, found: Three, scene: Scene) -> None:
    words = WORDS[sheet["outage.what"]]
    count = min(bisect_right(scene.times, max(scene.hours, LEAST_SHOWN_H)),
                *(len(path.levels) for path in found.paths.values()))
    sheet.put("outage.curves", [{"hours": scene.times[step], **found.levels(step)} for step in range(count)],
              note=f"{words} in the hottest hour.")
    if scene.hours in scene.times:
        at = found.levels(scene.times.index(scene.hours))
        for name, which in (("end_low", LOW), ("end", LIKELY), ("end_high", HIGH)):
            sheet.put(f"outage.{name}", at[which], note=f"{words}; what uptake and intake leave.")


def _gained(sheet, before: Reach, after: Reach) -> str:
    """What a measure buys, in words."""
    if before.kind != REACHED:
        return "not needed for oxygen: the alarm level is not reached"
    if after.kind == NEVER:
        return "the alarm level is then not reached"
    if after.kind == LATER:
        return f"more than {_hours(sheet, max(after.hours - before.hours, 0.0))} longer"
    more = after.hours - before.hours
    return f"about {_hours(sheet, more)} longer" if more > 1e-9 else "nothing for oxygen"


def aid(sheet) -> None:
    """What a grower can do, in order, and what each step buys where that can be worked out."""
    scene = _scene(sheet)
    found = scene.work(BOTH, max(scene.hours, LEAST_SHOWN_H) if sheet["outage.what"] == BOTH else 0.0)
    if found is None:
        # The caution on roots that hang dry says all there is to say.
        return
    three, warming = scene.three, scene.warming
    after = stopped(scene.bath, BOTH, scene.kept_l, scene.sunk_m)
    before = found.paths[LIKELY].reached[ALARM_MG_L]

    def alarm(changed: Bath, drifting: Drift | None) -> Reach:
        return run(changed, three[LIKELY], 0.0, scene.start[LIKELY], drifting, scene.times, 0.0).reached[ALARM_MG_L]

    steps = [("Look at the floor and into the bath", _looked(sheet), "from the water topic"),
             ("Stir, and pour water back from a foot (30 cm) up", _poured(sheet, after, three[LIKELY]),
              "weir formula for rivers, from memory; a rough guide"),
             ("Put out the lamps, shade the bath, keep lids on", _shaded(sheet, before, alarm(after, None), warming),
              "the same balance without warming"),
             ("Start the battery air pump", _blown(sheet, after), "the balance of the oxygen topic"),
             ("Float sealed bottles of ice", _iced(sheet, after, before, alarm, warming), "heat balance; keep the melt "
              "water in the bottles"),
             ("Cut half of the plants, the largest first",
              _gained(sheet, before, alarm(replace(after, plants=after.plants / 2), warming)),
              "the same balance with half the plants"),
             ("Prop the board up so that the upper roots hang in damp air", "not worked out",
              "common practice, no published source")]
    sheet.put("outage.steps", [{"order": number, "step": step, "buys": buys, "basis": basis}
                               for number, (step, buys, basis) in enumerate(steps, 1)],
              note="Both stopped, likely numbers. The order goes by what can be done at once: engineering judgement.")


def _looked(sheet) -> str:
    back = sheet.show(sheet.result("water.drain_back_volume"), "volume", "gal", "L")
    room = sheet.show(sheet.result("water.reservoir_headroom"), "volume", "gal", "L")
    return f"{back} runs back into room for {room}"


def _poured(sheet, bath: Bath, guess: Guess) -> str:
    numbers = boxes(bath, guess, 0.0)
    held = limits(bath)[0]
    if held <= ALARM_MG_L:
        return "this water cannot hold the alarm level: cool it"
    inputs = {"demand_mg_h": numbers["demand_bath_mg_h"], "surface_l_h": numbers["intake_bath_l_h"],
              "gain": _gain(replace(bath, return_fall_m=POUR_FALL_M), bath.temperature_c), "saturation_mg_l": held,
              "level_mg_l": ALARM_MG_L}
    litres = physics.pouring_rate(**inputs)
    sheet.put("outage.pour", litres / M3_S_IN_L_H, physics.pouring_rate, inputs)
    if litres <= 0.0:
        return "not needed: the open surface holds the alarm level"
    rate = sheet.show(litres / M3_S_IN_L_H, "flow", "gph", "L/h")
    if litres > MOST_POUR_L_H:
        return f"{rate} would hold the alarm level: more than hands can pour, but it still gains time"
    jug = sheet.show(JUG_L / 1000.0, "volume", "qt", "L")
    return f"{rate} holds the alarm level: a jug of {jug} every {_hours(sheet, JUG_L / litres)}, as long as you do it"


def _shaded(sheet, before: Reach, cool: Reach, warming: Drift | None) -> str:
    if warming is None:
        return "keeps the water from warming; not worked out"
    if warming.air_c < warming.start_c:
        return "little: the air is cooler than the water"
    return f"at most, if the water stayed as cool as it is: {_gained(sheet, before, cool)}"


def _blown(sheet, bath: Bath) -> str:
    three = guesses_of(sheet, bath)
    found = {}
    for key, which in (("air_to_hold", LIKELY), ("air_to_hold_high", LOW)):
        litres = air_to_hold(bath, three[which], ALARM_MG_L)
        if litres is not None:
            sheet.put(f"outage.{key}", litres / M3_S_IN_L_H,
                      note="Least air in the baths alone whose steady oxygen is 4 mg/L, in the hottest hour.")
            found[which] = sheet.show(litres / M3_S_IN_L_H, "flow", "L/min", "L/min")
    if LIKELY not in found:
        return "no air holds the alarm level in water this warm: cool it"
    most = found.get(LOW, "no amount")
    return f"{found[LIKELY]} holds the alarm level ({most} at worst) as long as the battery lasts"


def air_to_hold(bath: Bath, guess: Guess, level_mg_l: float) -> float | None:
    """Least air in L/h that holds a level in baths that exchange no water; ``None`` where no amount does."""
    surface, limit = limits(bath)
    each = bubble_transfer(bath, guess, 1.0) * (limit - level_mg_l)
    numbers = boxes(bath, guess, 0.0)
    lacking = numbers["demand_bath_mg_h"] - numbers["intake_bath_l_h"] * (surface - level_mg_l)
    if lacking <= 0.0:
        return 0.0
    return lacking / each if each > 0.0 else None


def _iced(sheet, bath: Bath, before: Reach, alarm, warming: Drift | None) -> str:
    start = bath.temperature_c
    if start - ICE_COOLS_C < ICE_LEAST_C:
        return "not needed: the water is cool"
    cooler = start - ICE_COOLS_C
    ice = sheet.work("outage.ice", physics.ice_to_cool, water_kg=bath.bath_l, start_c=start, end_c=cooler)
    weight = sheet.show(ice, "mass", "lb", "kg")
    colder = replace(warming, start_c=cooler) if warming else None
    gained = _gained(sheet, before, alarm(replace(bath, temperature_c=cooler), colder))
    drop = sheet.show(ICE_COOLS_C, "temperature_difference", "F", "C")
    return f"{weight} of ice takes {drop} off: {gained}"


def backup(sheet) -> None:
    """The battery that runs the backup pump for the hours wanted."""
    inverter = sheet["outage.backup"] == INVERTER
    typed = sheet.get("outage.pump_watts")
    if typed is not None:
        sheet.put("outage.power", typed, note="As you put it in.")
    elif inverter:
        sheet.put("outage.power", sheet.result("air.power"), note="All air pumps of the plan. One small pump would do "
                                                                  "for an emergency: put its watts in.")
    else:
        flow = sheet.result("outage.air_to_hold") * sheet["oxygen.safety"]
        moved = air_physics.pneumatic_power(flow_m3_s=flow, pressure_pa=sheet.result("air.back_pressure"))
        sheet.put("outage.power", max(SMALL_DC_W, moved / WIRE_TO_AIR),
                  note="The air that holds 4 mg/L with your safety factor, at the stones' pressure, by a pump that "
                       f"turns {WIRE_TO_AIR:.0%} of its power into air; {SMALL_DC_W:g} W at least.",
                  source="5 to 20 % wire to air and 3 to 5 W for the smallest pumps: from memory, not verified")
    efficiency = sheet["outage.inverter_efficiency"] if inverter else 1.0
    watts, hours, volts = sheet.result("outage.power"), sheet["outage.hours"] / HOUR_S, sheet["outage.voltage"]
    sheet.put("outage.battery_energy", watts * hours / efficiency / 1000.0,
              note="Power times hours, and what the inverter loses.")
    current = watts / efficiency / volts
    sheet.put("outage.battery_current", current, note="Power and inverter loss, over the battery's voltage.")
    sheet.work("outage.battery", physics.battery_charge, power_w=watts, hours=hours, voltage_v=volts,
               depth_of_discharge=sheet["outage.depth_of_discharge"], efficiency=efficiency,
               margin=sheet["outage.margin"])
    if current > HEAVY_CURRENT_A:
        amps = sheet.show(current, "current", "A", "A")
        sheet.caution("outage-heavy-current", "warning",
                      f"Battery cable: {amps} is a heavy current. It takes thick, short cables and a fuse to suit; "
                      "have someone who knows batteries choose them. For an emergency one small pump is enough.")
    if hours < FAST_DISCHARGE_H:
        sheet.caution("outage-fast-discharge", "note",
                      "Battery emptied within five hours: a lead battery then gives less than its label says. Take a "
                      "larger one.")


def cautions(sheet) -> None:
    """What hurts people in a power cut."""
    sheet.caution("outage-battery", "danger",
                  "Batteries: put a fuse at the battery itself, and let nothing fall across its poles. Charge lead "
                  "batteries where air moves freely, away from flames, for they give off hydrogen. Charge lithium "
                  "batteries only with the charger made for them, never frozen, never on anything that burns. Keep "
                  "battery and inverter dry, above the water and out of splashes.")
    sheet.caution("outage-generator", "danger",
                  "Generators and engines kill with carbon monoxide, which cannot be smelled: never in a room, cellar, "
                  "garage, greenhouse or porch, not even with doors open. Never feed a house through a wall socket; a "
                  "changeover switch is a licensed electrician's work.")


STEPS = (drain_back, drift, fall, aid, backup, cautions)
