"""How long there is when pumps stop in the hottest hour, what to do in order, and how large a backup must be."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from ..data import roots as data
from ..declare import Choice, Field, Result, Verdict, only_when
from ..errors import Unanswered
from ..figures import count
from ..models.balance import (
    HIGH,
    LIKELY,
    LOW,
    M3_S_IN_L_H,
    Bath,
    Guess,
    band,
    boxes,
    limits,
    running_spread,
)
from ..models.oxygen_fall import (
    AIR,
    ALARM_MG_L,
    BOTH,
    COLDEST_C,
    HOTTEST_C,
    LATER,
    LEAST_SHOWN_H,
    LEVELS_MG_L,
    LONGEST_H,
    NEVER,
    PUMP,
    REACHED,
    Drift,
    Reach,
    Scene,
    Three,
    air_to_hold,
    gain_at,
    nodes,
    run,
    stopped,
)
from ..relations import air as air_physics
from ..relations import outage as physics
from ..relations.electricity import energy_used
from . import battery, scheme
from .blowing import hose_load
from .breathing import bath_of, guesses_of, hottest
from .vessel import volume_to
from .verdicts.outage import judge

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "outage"
TITLE = "When the power fails"
QUESTION = "How long is there when the pumps stop, and what bridges the gap?"
VERDICT = Verdict("Power cut", {"fits": "The oxygen lasts.", "tight": "It may run short.",
                                "fails": "The oxygen runs out.", "open": "The power cut needs an answer."})

WORDS = {PUMP: "The water pump stops", AIR: "The air stops", BOTH: "Both stop"}
DC, INVERTER = "dc", "inverter"
HOUR_S = 3600.0

SMALL_DC_W, WIRE_TO_AIR = 4.0, 0.10
POUR_FALL_M, MOST_POUR_L_H, JUG_L = 0.3, 2000.0, 2.0
ICE_COOLS_C, ICE_LEAST_C = 3.0, 18.0
HEAVY_CURRENT_A, FAST_DISCHARGE_H = 10.0, 5.0

WHEN = scheme.WITH_AIR
FIELDS = only_when(WHEN, (
    Field("outage.what", "choice", "What stops", (BOTH, BOTH),
          choices=tuple(Choice(case, WORDS[case]) for case in (BOTH, PUMP, AIR)),
          help="for the chart; the table shows all three", why="a power cut takes both",
          when=scheme.WITH_RESERVOIR),
    Field("outage.hours", "time", "Hours to bridge", ("8 h", "8 h"), 60.0, LONGEST_H * HOUR_S, "h", "h",
          help="from the cut until power or you are back", why="a night: engineering judgment, no source"),
    Field("outage.backup", "choice", "Backup pump", (DC, DC), choices=(
        Choice(DC, "DC air pump on the battery"),
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
          help="out over in; small inverters under a light load are worse",
          why="80 to 92 % is usual: common practice, from memory, not verified",
          when=(("outage.backup", (INVERTER,)),)),
    Field("outage.margin", "ratio", "Margin for age and cold", ("125 %", "125 %"), 1.0, 5.0, "%", "%",
          help="100 % is none; in frost a lead battery needs as much again",
          why="a quarter more for aging: common practice, from memory, not verified"),
    *battery.FIELDS,
))
TABLES = ()

RESULTS = (
    Result("outage.bath_kept", "volume", "Water that stays in all baths when the pump stops", "gal", "L"),
    Result("outage.room_left", "volume", "Room left in the reservoir after the water has run back", "gal", "L"),
    Result("outage.temperature_start", "temperature", "Water when it happens: the hottest hour", "F", "C"),
    Result("outage.temperature_end", "temperature", "Water after the hours to bridge", "F", "C"),
    Result("outage.start_low", "concentration", "Oxygen in the bath when it happens, low", "mg/L", "mg/L"),
    Result("outage.start", "concentration", "Oxygen in the bath when it happens, likely", "mg/L", "mg/L"),
    Result("outage.start_high", "concentration", "Oxygen in the bath when it happens, high", "mg/L", "mg/L"),
    Result("outage.plan_for", "time", "Both stopped: time to plan for", "h", "h"),
    Result("outage.hours_to_alarm_low", "time", "Both stopped: time to 4 mg/L, low", "h", "h"),
    Result("outage.hours_to_alarm", "time", "Both stopped: time to 4 mg/L, likely", "h", "h"),
    Result("outage.hours_to_alarm_high", "time", "Both stopped: time to 4 mg/L, high", "h", "h"),
    Result("outage.in_words", "text", "Both stopped, in words"),
    Result("outage.end_low", "concentration", "Oxygen after the hours to bridge, low", "mg/L", "mg/L"),
    Result("outage.end", "concentration", "Oxygen after the hours to bridge, likely", "mg/L", "mg/L"),
    Result("outage.end_high", "concentration", "Oxygen after the hours to bridge, high", "mg/L", "mg/L"),
    Result("outage.times", "rows", "Time to each level"),
    Result("outage.curves", "rows", "Oxygen in the bath, hour by hour"),
    Result("outage.air_to_hold", "flow", "Air for all baths that holds 4 mg/L with the pump stopped, likely", "L/min",
           "L/min"),
    Result("outage.air_to_hold_high", "flow", "Air for all baths that holds 4 mg/L with the pump stopped, high",
           "L/min", "L/min"),
    Result("outage.pour", "flow", "Water to pour back by hand into all baths, which holds 4 mg/L", "gph", "L/h"),
    Result("outage.ice", "mass", "Ice that cools all baths by 3 °C (5 °F)", "lb", "kg"),
    Result("outage.steps", "rows", "What to do, in order"),
    Result("outage.power", "power", "Backup pump", "W", "W"),
    Result("outage.battery_energy", "energy", "Energy the backup takes from the battery", "Wh", "Wh"),
    Result("outage.battery_current", "current", "Current it draws from the battery", "A", "A"),
    Result("outage.battery", "charge", "Battery", "Ah", "Ah"),
    *battery.RESULTS,
)


def _scene(sheet: Sheet) -> Scene:
    bath = bath_of(sheet, hottest(sheet))
    three, air = guesses_of(sheet, bath), sheet.result("air.delivered") * M3_S_IN_L_H
    warming, hours = _drift(sheet, bath.temperature_c), sheet["outage.hours"] / HOUR_S
    return Scene(bath, three, air, warming,
                 nodes(warming.horizon() if warming else LONGEST_H, hours), hours, *_kept(sheet))


def _drift(sheet: Sheet, start_c: float) -> Drift | None:
    """How the water warms, where the heat topic tells; ``None`` leaves it as warm as it is."""
    try:
        found = Drift(start_c, sheet.result("heat.warmest_air"), sheet.result("heat.time_constant") / HOUR_S)
    except Unanswered:
        return None
    return found if found.air_c != start_c else None


def _kept(sheet: Sheet) -> tuple[float, float]:
    """Water that stays in all baths in L, and how far its surface sinks in m."""
    if not scheme.circulates(sheet):
        return sheet.whole("bath.count") * sheet.result("water.bath_volume") * 1000.0, 0.0
    depth = sheet.result("water.depth_after_stop")
    liters = sheet.whole("bath.count") * volume_to(sheet, "bath", depth)[0] * 1000.0 if depth > 0.0 else 0.0
    return liters, max(sheet["bath.water_depth"] - depth, 0.0)


def drain_back(sheet: Sheet) -> None:
    """What stays in the bath and whether the reservoir takes the rest."""
    if not scheme.circulates(sheet):
        return
    kept, _ = _kept(sheet)
    sheet.put("outage.bath_kept", kept / 1000.0, note="Water below the overflow's rim, or below the inlet where the "
                                                      "bath drains back through the pump.")
    back, room = sheet.result("water.drain_back_volume"), sheet.result_if_any("water.reservoir_headroom")
    if room is None:
        # The water topic says what to measure.
        pass
    elif back <= room:
        sheet.put("outage.room_left", room - back, note="Room while running, less what runs back.")
    else:
        # The water topic counts this flood among the dangers; once is enough.
        sheet.caution("outage-flood", "warning",
                      f"Flood in a power cut: {sheet.shown('water.drain_back_volume')} runs back into room for "
                      f"{sheet.shown('water.reservoir_headroom')}. Lower the reservoir's running level now, while "
                      "somebody is there to see it.", lead="Power cut floods",
                      brief=f"{sheet.shown('water.drain_back_volume')} runs back into room for "
                            f"{sheet.shown('water.reservoir_headroom')}.")
    if kept <= 0.0:
        sheet.caution("outage-dry", "warning",
                      "Roots hang dry in a power cut: nothing stays in the bath when the pump stops. In warm, dry air "
                      "they have little time, whatever the oxygen. Fill over the rim, or fit a check valve.",
                      lead="Power cut dries roots",
                      brief="Nothing stays in the bath: fill over the rim, or fit a check valve.")


def drift(sheet: Sheet) -> None:
    """How warm the water gets; left out while the heat of the bath is not worked out."""
    start = hottest(sheet)
    sheet.put("outage.temperature_start", start, note="The hottest hour of the oxygen questions.")
    air, constant = sheet.result("heat.warmest_air"), sheet.result("heat.time_constant")
    sheet.work("outage.temperature_end", physics.water_after, start_c=start, air_c=air,
               time_constant_h=constant / HOUR_S, hours=sheet["outage.hours"] / HOUR_S)


def say_time(sheet: Sheet, reach: Reach) -> str:
    """A time to a level in words."""
    if reach.kind == NEVER:
        return "never"
    if reach.kind == LATER:
        return f"more than {_hours(sheet, reach.hours)}"
    return "at once" if reach.hours <= 0.0 else _hours(sheet, reach.hours)


def _when(sheet: Sheet, reach: Reach) -> str:
    """A time to a level as the end of a sentence."""
    words = say_time(sheet, reach)
    return words if words in ("never", "at once") else f"after {words}" if words.startswith("more") else f"in {words}"


def _what(sheet: Sheet) -> str:
    """What stops: as chosen; a bath without a water pump has only its air to lose."""
    return sheet.text("outage.what") if scheme.circulates(sheet) else BOTH


def _words(sheet: Sheet, case: str) -> str:
    return WORDS[case] if scheme.circulates(sheet) else WORDS[AIR]


def _hours(sheet: Sheet, hours: float) -> str:
    unit = "min" if hours < 1.0 else "h" if hours < 72.0 else "d"
    return sheet.show(hours * HOUR_S, "time", unit, unit)


def fall(sheet: Sheet) -> None:
    """Oxygen with time in each case, and when it falls to each level."""
    scene = _scene(sheet)
    start = band(scene.bath, scene.ends, scene.air_l_h)
    for name, which in (("start_low", LOW), ("start", LIKELY), ("start_high", HIGH)):
        sheet.put(f"outage.{name}", start[which][0],
                  note="Everything running, in the hottest hour, as under oxygen.")
    rows = []
    for case in (PUMP, AIR, BOTH) if scheme.circulates(sheet) else (BOTH,):
        found = scene.work(case, max(scene.hours, LEAST_SHOWN_H) if case == _what(sheet) else 0.0)
        if found is None:
            continue
        for level in LEVELS_MG_L:
            reach = found.reach(level)
            rows.append({"case": _words(sheet, case), "what": case, "level": level,
                         **{which: one.hours * HOUR_S if one.kind == REACHED else None for which, one in reach.items()},
                         **{f"{which}_words": say_time(sheet, one) for which, one in reach.items()}})
        if case == BOTH:
            _put_alarm(sheet, found.reach(ALARM_MG_L), scene)
        if case == _what(sheet):
            _put_curves(sheet, found, scene)
    warmth = ("The water warms or cools toward the air meanwhile." if scene.warming else
              "The water is taken to stay as warm as it is.")
    sheet.put("outage.times", rows,
              note="Two mixed boxes as under oxygen, followed from the running state; uptake eases in proportion below "
                   f"2 mg/L. {warmth}", source=data.CRITICAL_SOURCE)


def _put_alarm(sheet: Sheet, reach: dict[str, Reach], scene: Scene) -> None:
    for key, which in (("hours_to_alarm_low", LOW), ("hours_to_alarm", LIKELY), ("hours_to_alarm_high", HIGH)):
        if reach[which].kind == REACHED:
            sheet.put(f"outage.{key}", reach[which].hours * HOUR_S,
                      note="From the hottest hour with everything stopped, until the bath is down to 4 mg/L.")
    level = sheet.shown_as("outage.end", ALARM_MG_L)
    low, likely, high = (reach[which] for which in (LOW, LIKELY, HIGH))
    span = f"one bath in twenty {_when(sheet, low)}, one in twenty only {_when(sheet, high)}"
    if likely.kind == NEVER:
        text = (f"The bath likely never falls to {level}: the open surface brings in as much as is taken up "
                f"({span}).")
    elif likely.kind == LATER and likely.hours < LONGEST_H and scene.warming:
        edge = HOTTEST_C if scene.warming.air_c > HOTTEST_C else COLDEST_C
        text = (f"The bath is likely still above {level} when the water passes "
                f"{sheet.shown_as('outage.temperature_end', edge)}, after {_hours(sheet, likely.hours)}; beyond that "
                "nothing is worked out.")
    elif likely.kind == LATER:
        text = f"The bath likely takes more than a week to fall to {level} ({span})."
    elif likely.hours <= 0.0:
        text = f"The bath is likely below {level} before anything stops: there is no time in hand."
    else:
        plan_for = rounded_down(likely.hours)
        sheet.put("outage.plan_for", plan_for * HOUR_S, note="The likely time, rounded down to what one remembers.")
        first = f"Plan for {_hours(sheet, plan_for)}." if plan_for > 0.0 else "There is next to no time."
        text = (f"{first} The bath likely falls to {level} in {say_time(sheet, likely)} "
                f"({span}).")
    sheet.put("outage.in_words", text, note="All that runs on mains stopped in the hottest hour.")
    if likely.kind == REACHED and likely.hours < scene.hours:
        sheet.caution("outage-short", "warning",
                      f"Power cut: {text} You want to bridge "
                      f"{_hours(sheet, scene.hours)}: have a backup that starts by itself.", lead="Short of oxygen",
                      brief=f"{level} is reached {_when(sheet, likely)}; you want to bridge "
                            f"{_hours(sheet, scene.hours)}.")
    elif low.kind == REACHED and low.hours < scene.hours:
        sheet.caution("outage-may-be-short", "note",
                      f"Power cut: one bath in twenty like yours would be down to {level} {_when(sheet, low)}.",
                      lead="Oxygen may run short", brief=f"One bath in twenty is down to {level} {_when(sheet, low)}.")


def rounded_down(hours: float) -> float:
    """A time in h as one would say it: whole hours, under six hours halves, under one hour five minutes."""
    step = 1.0 if hours >= 6.0 else 0.5 if hours >= 1.0 else 1.0 / 12.0
    return step * int(hours / step + 1e-9)


def _put_curves(sheet: Sheet, found: Three, scene: Scene) -> None:
    words = _words(sheet, _what(sheet))
    count = min(bisect_right(scene.times, max(scene.hours, LEAST_SHOWN_H)),
                *(len(path.levels) for path in found.paths.values()))
    sheet.put("outage.curves", [{"hours": scene.times[step], **found.levels(step)} for step in range(count)],
              note=f"{words} in the hottest hour.")
    if scene.hours in scene.times:
        at = found.levels(scene.times.index(scene.hours))
        for name, which in (("end_low", LOW), ("end", LIKELY), ("end_high", HIGH)):
            sheet.put(f"outage.{name}", at[which], note=f"{words}; what uptake and intake leave.")


def _gained(sheet: Sheet, before: Reach, after: Reach) -> str:
    """What a measure buys, in words."""
    if before.kind != REACHED:
        return "not needed for oxygen: the alarm level is not reached"
    if after.kind == NEVER:
        return "the alarm level is then not reached"
    if after.kind == LATER:
        return f"more than {_hours(sheet, max(after.hours - before.hours, 0.0))} longer"
    more = after.hours - before.hours
    return f"about {_hours(sheet, more)} longer" if more > 1e-9 else "nothing for oxygen"


def aid(sheet: Sheet) -> None:
    """What a grower can do, in order, and what each step buys where that can be worked out."""
    scene = _scene(sheet)
    found = scene.work(BOTH, max(scene.hours, LEAST_SHOWN_H) if _what(sheet) == BOTH else 0.0)
    if found is None:
        # The caution on roots that hang dry says all there is to say.
        return
    three, warming = scene.ends, scene.warming
    after = stopped(scene.bath, BOTH, scene.kept_l, scene.sunk_m)
    before = found.paths[LIKELY].reached[ALARM_MG_L]

    start = scene.start(three[LIKELY])

    def alarm(changed: Bath, drifting: Drift | None) -> Reach:
        return run(changed, three[LIKELY], 0.0, start, drifting, scene.times, 0.0).reached[ALARM_MG_L]

    steps = [("Look at the floor and into the bath", _looked(sheet), "from the water topic"),
             ("Stir, and pour water back from a foot (30 cm) up", _poured(sheet, after, three[LIKELY]),
              "weir formula for rivers, from memory; a rough guide"),
             ("Shade the bath, keep it covered", _shaded(sheet, before, alarm(after, None), warming),
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
              note="Both stopped, likely numbers. The order goes by what can be done at once: engineering judgment.")


def _looked(sheet: Sheet) -> str:
    if not scheme.circulates(sheet):
        return "the bath stays full"
    back = sheet.shown("water.drain_back_volume")
    room = sheet.result_if_any("water.reservoir_headroom")
    if room is None:
        return f"{back} runs back; how much room there is, nobody measured"
    return f"{back} runs back into room for {sheet.shown('water.reservoir_headroom')}"


def _poured(sheet: Sheet, bath: Bath, guess: Guess) -> str:
    numbers = boxes(bath, guess, 0.0)
    held = limits(bath)[0]
    if held <= ALARM_MG_L:
        return "this water cannot hold the alarm level: cool it"
    inputs = {"demand_mg_h": numbers["demand_bath_mg_h"], "surface_l_h": numbers["intake_bath_l_h"],
              "gain": gain_at(replace(bath, return_fall_m=POUR_FALL_M), bath.temperature_c), "saturation_mg_l": held,
              "level_mg_l": ALARM_MG_L}
    liters = physics.pouring_rate(**inputs)
    sheet.put("outage.pour", liters / M3_S_IN_L_H, physics.pouring_rate, inputs)
    if liters <= 0.0:
        return "not needed: the open surface holds the alarm level"
    rate = sheet.shown_as("outage.pour", liters / M3_S_IN_L_H)
    if liters > MOST_POUR_L_H:
        return f"{rate} would hold the alarm level: more than hands can pour, but it still gains time"
    jug = sheet.show(JUG_L / 1000.0, "volume", "qt", "L")
    minutes = JUG_L / liters * 60.0
    how_often = (f"about {count(1.0 / minutes)} jugs of {jug} a minute" if minutes < 0.75 else
                 f"a jug of {jug} about every {'minute' if minutes < 1.5 else f'{count(minutes)} minutes'}")
    return f"{rate} holds the alarm level: {how_often}, as long as you do it"


def _shaded(sheet: Sheet, before: Reach, cool: Reach, warming: Drift | None) -> str:
    if warming is None:
        return "keeps the water from warming; not worked out"
    if warming.air_c < warming.start_c:
        return "little: the air is cooler than the water"
    return f"at most, if the water stayed as cool as it is: {_gained(sheet, before, cool)}"


def _blown(sheet: Sheet, bath: Bath) -> str:
    ends = guesses_of(sheet, bath)
    likely = air_to_hold(bath, ends[LIKELY], ALARM_MG_L)
    three = running_spread(bath, ends, likely) if likely else ends
    found = {}
    for key, which in (("air_to_hold", LIKELY), ("air_to_hold_high", LOW)):
        liters = air_to_hold(bath, three[which], ALARM_MG_L)
        if liters is not None:
            sheet.put(f"outage.{key}", liters / M3_S_IN_L_H,
                      note="Least air in the baths alone whose steady oxygen is 4 mg/L, in the hottest hour.")
            found[which] = sheet.shown_as("outage.air_to_hold", liters / M3_S_IN_L_H)
    if LIKELY not in found:
        return "no air holds the alarm level in water this warm: cool it"
    most = found.get(LOW, "no amount")
    return f"{found[LIKELY]} holds the alarm level ({most} for one bath in twenty) as long as the battery lasts"


def _iced(sheet: Sheet, bath: Bath, before: Reach, alarm: Callable[[Bath, Drift | None], Reach],
          warming: Drift | None) -> str:
    start = bath.temperature_c
    if start - ICE_COOLS_C < ICE_LEAST_C:
        return "not needed: the water is cool"
    cooler = start - ICE_COOLS_C
    sheet.work("outage.ice", physics.ice_to_cool, water_kg=bath.bath_l, start_c=start, end_c=cooler)
    weight = sheet.shown("outage.ice")
    colder = replace(warming, start_c=cooler) if warming else None
    gained = _gained(sheet, before, alarm(replace(bath, temperature_c=cooler), colder))
    drop = sheet.show(ICE_COOLS_C, "temperature_difference", "F", "C")
    return f"{weight} of ice takes {drop} off: {gained}"


def backup(sheet: Sheet) -> None:
    """The battery that runs the backup pump for the hours wanted."""
    inverter = sheet.text("outage.backup") == INVERTER
    typed = sheet.optional("outage.pump_watts")
    if typed is not None:
        sheet.put("outage.power", typed, note="As you put it in.")
    elif inverter:
        sheet.put("outage.power", sheet.result("air.power"), note="All air pumps of the plan. One small pump would do "
                                                                  "for an emergency: put its watts in.")
    else:
        flow = sheet.result("outage.air_to_hold") * sheet["oxygen.safety"]
        # So little air has its stones' hoses nearly to itself.
        push = (sheet.result("air.water_pressure") + sheet["air.stone_pressure"]
                + hose_load(sheet)(flow / max(sheet.result_if_any("air.stones", int) or 1, 1)))
        moved = air_physics.pneumatic_power(flow_m3_s=flow, pressure_pa=push)
        sheet.put("outage.power", max(SMALL_DC_W, moved / WIRE_TO_AIR),
                  note="The air that holds 4 mg/L with your safety factor, at the stones' pressure, by a pump that "
                       f"turns {WIRE_TO_AIR:.0%} of its power into air; {SMALL_DC_W:g} W at least.",
                  source="5 to 20 % wire to air and 3 to 5 W for the smallest pumps: from memory, not verified")
    efficiency = sheet["outage.inverter_efficiency"] if inverter else 1.0
    # The inverter's own draw is met behind its losses; as a load in front of them it counts less.
    watts = sheet.result("outage.power") + battery.idle_w(sheet) * efficiency
    hours, volts = sheet["outage.hours"] / HOUR_S, sheet["outage.voltage"]
    taken = {"power_w": watts / efficiency, "hours": hours}
    sheet.put("outage.battery_energy", energy_used(**taken), energy_used, taken,
              note="Power times hours, with what the inverter loses and draws for itself.")
    current = sheet.work("outage.battery_current", physics.battery_current, power_w=watts, voltage_v=volts,
                         efficiency=efficiency)
    sheet.work("outage.battery", physics.battery_charge, power_w=watts, hours=hours, voltage_v=volts,
               depth_of_discharge=battery.usable_share(sheet), efficiency=efficiency,
               margin=sheet["outage.margin"])
    if current > HEAVY_CURRENT_A:
        amps = sheet.shown_as("outage.battery_current", current)
        sheet.caution("outage-heavy-current", "warning",
                      f"Battery cable: {amps} is a heavy current. It takes thick, short cables and a fuse to suit; "
                      "have someone who knows batteries choose them. For an emergency one small pump is enough.",
                      lead="Heavy current", brief=f"{amps} takes thick, short cables and a fuse to suit.")
    if hours < FAST_DISCHARGE_H:
        sheet.caution("outage-fast-discharge", "note",
                      "Battery emptied within five hours: a lead battery then gives less than its label says. Take a "
                      "larger one.", lead="Fast discharge",
                      brief="Emptied within five hours a lead battery gives less than its label.")


def cautions(sheet: Sheet) -> None:
    """What hurts people in a power cut; a danger of this plan once its backup is told of, worth knowing before."""
    planned = sheet.optional("outage.pump_watts") is not None or sheet.text("outage.backup") == INVERTER
    level = "danger" if planned else "warning"
    sheet.caution("outage-battery", level,
                  "Batteries: put a fuse at the battery itself, and let nothing fall across its poles. Charge lead "
                  "batteries where air moves freely, away from flames, for they give off hydrogen. Charge lithium "
                  "batteries only with the charger made for them, never frozen, never on anything that burns. Keep "
                  "battery and inverter dry, above the water and out of splashes.", lead="Battery fire and gas",
                  brief="Fuse at the battery, air for lead, the right charger for lithium, no splashes.",
                  standing=planned)
    sheet.caution("outage-generator", level,
                  "Generators and engines kill with carbon monoxide, which cannot be smelled: never in a room, "
                  "basement, garage, greenhouse or porch, not even with doors open. Never power a house through a wall "
                  "outlet; a transfer switch is a licensed electrician's work.", lead="Generator fumes",
                  brief="Carbon monoxide kills: only outdoors, never into a wall outlet.", standing=planned)


STEPS = (drain_back, drift, fall, aid, backup, battery.own, cautions, judge)
