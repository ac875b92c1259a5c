"""A day of the water's temperature: what warms it, what cools it, what holds a band, and what each change would do."""

from __future__ import annotations

from dataclasses import replace
from math import ceil
from typing import TYPE_CHECKING

from ..data import foam as foams
from ..data import weather
from ..declare import Choice, Field, Result, Verdict
from ..errors import OutOfRange, Unanswered
from ..figures import count as counted
from ..models.water_day import (
    DAY_H,
    DAY_S,
    NEAR_CYCLE_K,
    STREAM_WORDS,
    WATER_RANGE_C,
    Day,
    Place,
    evaporated,
    held_gain,
    loss_of_all,
    peak,
    simulate,
    steady_power,
    totals,
    what_ifs,
)
from ..relations import heat as physics
from ..relations.electricity import energy_used
from . import pulling, scheme
from .breathing import AS_CROPS
from .warmth import day_of, place_of
from .verdicts import span
from .verdicts.heat import SLIGHT_K, judge, unit_that_holds

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "heat"
TITLE = "Temperature"
QUESTION = "How warm and how cold does the water get in a day, and what changes that?"
VERDICT = Verdict("Warmth", {"fits": "Neither too warm nor too cold.", "tight": "Warmth is tight.",
                             "fails": "Too warm or too cold.", "open": "Warmth needs an answer."})

# More frozen bottles a day than anybody carries.
MOST_BOTTLES = 24
BALANCE_NOTE = ("The day repeated until it ends as it began; hour by hour, each body of water mixed.")


FIELDS = (
    Field("heat.crop", "choice", "Plants to keep happy", (AS_CROPS, AS_CROPS), choices=(
        Choice(AS_CROPS, "As chosen under Crops"), *(Choice(one.key, one.name) for one in weather.BANDS)),
        help="sets the band to hold; you can overrule it below",
        why="; ".join(f"{one.name}: {weather.both(one.low_c, one.high_c)} ({one.source})" for one in weather.BANDS)),
    Field("heat.keep_low", "temperature", "Coldest water wanted", ("", ""), 1.0, 39.0, "F", "C",
          help="the low end of the band to hold", why="empty: from the plants", optional=True),
    Field("heat.keep_high", "temperature", "Warmest water wanted", ("", ""), 2.0, 40.0, "F", "C",
          help="the high end of the band to hold", why="empty: from the plants", optional=True),
    Field("heat.wall_insulation", "thermal_resistance", "Insulation of the bath", ("0 R", "0 m2K/W"), 0.0,
          20.0, "R", "m2K/W", help="walls and floor; 2 in (50 mm) of XPS is about 10 R",
          why="none: a bare tub"),
    Field("heat.reservoir_insulation", "thermal_resistance", "Insulation of the reservoir", ("0 R", "0 m2K/W"), 0.0,
          20.0, "R", "m2K/W", help="walls, floor and cover", why="none: a bare tub", when=scheme.WITH_RESERVOIR),
    Field("heat.pump_share", "ratio", "Pump watts into the water", ("100 %", "100 %"), 0.0, 1.0, "%", "%",
          help="all if the pump lies under water; less when it stands dry",
          why="a sunken pump: every watt ends as warmth, by the conservation of energy", when=scheme.WITH_RESERVOIR),
    Field("heat.air_pump_share", "ratio", "Air pump watts into its air", ("50 %", "50 %"), 0.0, 1.0, "%", "%",
          help="pumps that blow their air over the motor warm it more", why=f"half of them: {weather.JUDGMENT}",
          when=scheme.WITH_AIR),
    Field("heat.performance", "number", "Cooling for each watt", ("2.5", "2.5"), 0.3, 10.0,
          help="COP on its plate: cooling watts over watts from the plug",
          why=f"a small compressor chiller: {weather.JUDGMENT}; thermoelectric ones are far below 1"),
    Field("heat.bottle", "volume", "Water in a bottle to freeze", ("2 L", "2 L"), 1e-4, 0.05, "L", "L",
          help="leave a tenth of it empty, for ice swells", why="a common drink bottle"),
    Field("heat.freezer", "temperature", "Freezer", ("0 F", "-18 C"), -40.0, 0.0, "F", "C",
          help="how cold the bottles get", why="the usual setting of a food freezer"),
    *pulling.FIELDS,
)
TABLES = ()

RESULTS = (
    Result("heat.band_low", "temperature", "Coldest water wanted", "F", "C"),
    Result("heat.band_high", "temperature", "Warmest water wanted", "F", "C"),
    Result("heat.band_why", "text", "Why that band"),
    Result("heat.warmest_air", "temperature", "Warmest air", "F", "C"),
    Result("heat.wet_bulb", "temperature", "Evaporation alone could cool to, in the warmest hour", "F", "C"),
    Result("heat.raft_insulation", "thermal_resistance", "Insulation by the raft, dry", "R", "m2K/W"),
    Result("heat.high", "temperature", "Bath, daily high", "F", "C"),
    Result("heat.high_hour", "clock", "Bath is warmest at"),
    Result("heat.low", "temperature", "Bath, daily low", "F", "C"),
    Result("heat.low_hour", "clock", "Bath is coolest at"),
    Result("heat.mean", "temperature", "Bath, mean of the day", "F", "C"),
    Result("heat.reservoir_high", "temperature", "Reservoir, daily high", "F", "C"),
    Result("heat.reservoir_low", "temperature", "Reservoir, daily low", "F", "C"),
    Result("heat.time_constant", "time", "Time constant of all the water", "h", "h"),
    Result("heat.settled_after", "time", "After filling, settled in about", "h", "h"),
    Result("heat.evaporated", "volume", "Water lost to the air in a day, all baths", "gal", "L"),
    Result("heat.cool_peak", "power", "Cooling of all the water that holds the warm end every hour", "W", "W"),
    Result("heat.cool_least", "power", "Least cooling of all the water, day and night", "W", "W"),
    Result("heat.cooler_draw", "power", "A chiller for that hour draws, while it runs", "W", "W"),
    Result("heat.cooler_energy", "energy", "The chiller uses in a day", "kWh", "kWh"),
    Result("heat.bottles", "count", "Frozen bottles a day instead, all"),
    Result("heat.warm_peak", "power", "Heating of all the water that holds the cold end every hour", "W", "W"),
    Result("heat.warm_least", "power", "Least heating of all the water, day and night", "W", "W"),
    Result("heat.heater_energy", "energy", "The heater uses in a day", "kWh", "kWh"),
    *pulling.RESULTS,
    Result("heat.day", "rows", "Hours of the day"),
    Result("heat.streams", "rows", "Ways that heat enters and leaves"),
    Result("heat.what_ifs", "rows", "Changes compared"),
)


def _place(sheet: Sheet) -> Place:
    return place_of(sheet, scheme.air_m3_s(sheet), scheme.air_pump_w(sheet))


def band_of(sheet: Sheet) -> weather.Band:
    """The band of the plants named, or what suits all crops chosen; the practice band where nothing suits all."""
    key = sheet.text("heat.crop")
    if key != AS_CROPS:
        return weather.BAND_BY_KEY[key]
    practice = weather.BAND_BY_KEY["any"]
    low, high = sheet.result_if_any("crops.root_low"), sheet.result_if_any("crops.root_high")
    if low is None or high is None or low >= high:
        return replace(practice, name="No range suits all your crops, so the practice band")
    return replace(practice, name="What suits all your crops", low_c=low, high_c=high, source="the crop table")


def band(sheet: Sheet) -> None:
    """The band to hold, with the reasons at both ends."""
    crop = band_of(sheet)
    low, high = sheet.optional("heat.keep_low"), sheet.optional("heat.keep_high")
    for key, typed, own in (("low", low, crop.low_c), ("high", high, crop.high_c)):
        sheet.put(f"heat.band_{key}", own if typed is None else typed,
                  note="As you put it in." if typed is not None else f"{crop.name}.",
                  source="" if typed is not None else crop.source)
    cold, warm = sheet.result("heat.band_low"), sheet.result("heat.band_high")
    if cold >= warm:
        key = "heat.keep_low" if low is not None else "heat.keep_high"
        limit = sheet.shown_as("heat.band_high", warm if low is not None else cold)
        sheet.fault(key, f"{'Coldest' if low is not None else 'Warmest'} water wanted must be "
                         f"{'below' if low is not None else 'above'} {limit}, the other end of the band.")
    sheet.put("heat.band_why", f"Below it, {crop.cold}; above it, {crop.warm}.", note="The reasons at both ends.",
              source=crop.source)


def surroundings(sheet: Sheet) -> None:
    """What the day offers: its warmest air, and how far evaporation alone could go; what the raft keeps out."""
    warmest = sheet.result("place.day_high")
    sheet.put("heat.warmest_air", warmest, note="The day's high, beside the bath.")
    sheet.work("heat.raft_insulation", physics.foam_resistance,
               r_per_inch=foams.BY_KEY[sheet.text("board.foam")].r_per_inch, thickness_m=sheet["board.thickness"])
    if warmest < 1.0:
        return
    vapour = min(sheet.result("place.vapour"), physics.saturation_pressure(temperature_c=warmest))
    pressure = sheet.result("place.air_pressure")
    try:
        sheet.work("heat.wet_bulb", physics.wet_bulb, air_c=warmest, vapour_pa=vapour, pressure_pa=pressure)
    except OutOfRange:
        return  # frost: evaporation could freeze the water, and no more is said of it


def day(sheet: Sheet) -> None:
    """The day hour by hour: high, low and when, and how slowly the water follows."""
    place = _place(sheet)
    found = simulate(place)
    alone = not scheme.circulates(sheet)
    every = found.bath if alone else (*found.bath, *found.reservoir)
    if min(every) < WATER_RANGE_C[0]:
        sheet.caution("heat-freezes", "danger", "Frost: on such a day the water would freeze, hoses and pump would "
                      "burst or jam, and no temperature is worked out. Heat it, bring it indoors, or drain it.",
                      lead="Frost bursts hoses",
                      brief="The water would freeze and hoses burst: heat it, bring it in, or drain it.")
        sheet.verdict("fails", f"On a day from {span(sheet.shown('place.day_low'), sheet.shown('place.day_high'))} the "
                      "water would freeze, and hoses and pump would burst. Heat it, bring it in, or drain it.", "frost",
                      "It freezes.")
    day_of(place)
    for name, values in (("", found.bath), *(() if alone else (("reservoir_", found.reservoir),))):
        for word, sign in (("high", 1.0), ("low", -1.0)):
            hour, value = peak(values, sign)
            sheet.put(f"heat.{name}{word}", value, note=BALANCE_NOTE)
            if not name:
                sheet.put(f"heat.{word}_hour", hour, note="Of the clock; between steps by a parabola.")
    steps = len(found.bath)
    mean = sum(found.bath) / steps
    sheet.put("heat.mean", mean, note="Of all hours.")
    constant = sheet.work("heat.time_constant", physics.time_constant,
                          heat_j_k=sum(box.heat_j_k for box in found.boxes), loss_w_k=loss_of_all(place, found))
    start = sheet.optional("place.water_start")
    off = abs((sheet["water.temperature"] if start is None else start) - mean)
    settling = {"time_constant_s": constant, "off_k": off, "near_k": NEAR_CYCLE_K}
    sheet.put("heat.settled_after", physics.settling_time(**settling), physics.settling_time, settling,
              note="From the water as filled until it is within 0.5 °C (0.9 °F) of its daily round; one mixed body.")
    sheet.put("heat.day", [{"hour": step * DAY_H / steps, "air": found.forcing[step % steps][0],
                            "bath": found.bath[step % steps],
                            **({} if alone else {"reservoir": found.reservoir[step % steps]})}
                           for step in range(steps + 1)], note=BALANCE_NOTE)
    _streams(sheet, place, found)


def _streams(sheet: Sheet, place: Place, found: Day) -> None:
    flows = totals(place, found)
    _warn_of_blown_air(sheet, flows)
    sheet.put("heat.streams", [{"way": STREAM_WORDS[name], "energy": joules / 3.6e6}
                               for name, joules in flows.items() if joules],
              note="Over the day, in kWh into the water; below zero it leaves. Together they make nothing; ways that "
                   "carry nothing are left out. Lamps are taken to come on at 6; their other warmth goes into the "
                   "room's air.")
    lost = evaporated(place, found)
    if lost >= 0.0:
        sheet.put("heat.evaporated", lost, note="From open water and with the bubbles; what the leaves give off comes "
                  "on top.", source=physics.evaporation_heat.relation.source)


def _warn_of_blown_air(sheet: Sheet, flows: dict[str, float]) -> None:
    """Say so when the air blown in, made for oxygen, is what rules the temperature."""
    taken = -flows["blown"]
    given = sum(abs(joules) for name, joules in flows.items() if name not in ("blown", "air_pump"))
    if taken > given and taken > 0.0:
        away, brought = (sheet.shown_as("heat.cool_peak", joules / DAY_S) for joules in (taken, flows["air_pump"]))
        sheet.caution("heat-blown-air", "note", f"Air: blown through the water it cools like a damp cloth, by some "
                      f"{away} over the day, while its pumps warm it by some {brought}. The more air, the nearer the "
                      "water comes to what evaporation alone could do, and the more it must be topped up.",
                      lead="Air cools", brief=f"Blown air takes away some {away} over the day: top up more.")


def _warn_of_band(sheet: Sheet) -> None:
    """Water that leaves the band of the crops, with nobody to hold it."""
    def say(value: float) -> str:
        return sheet.shown_as("heat.high", value)
    high, low = sheet.result("heat.high"), sheet.result("heat.low")
    warm, cold = sheet.result("heat.band_high"), sheet.result("heat.band_low")
    crop = band_of(sheet)
    if high > warm + SLIGHT_K:
        sheet.caution("heat-too-warm", "warning", f"Water: it reaches {say(high)}, above the {say(warm)} wanted: "
                      f"{crop.warm}. See what each change would do, and the cooling it takes.", lead="Water too warm",
                      brief=f"It reaches {say(high)}, above the {say(warm)} wanted.")
    elif high > warm:
        sheet.caution("heat-too-warm", "note", f"Water: it reaches {say(high)}, a little above the {say(warm)} wanted; "
                      "that alone does no harm.", lead="Water too warm",
                      brief=f"It reaches {say(high)}, a little above the {say(warm)} wanted.")
    if low < cold - SLIGHT_K:
        sheet.caution("heat-too-cold", "warning", f"Water: it falls to {say(low)}, below the {say(cold)} wanted: "
                      f"{crop.cold}. The calendar's days do not hold then.", lead="Water too cold",
                      brief=f"It falls to {say(low)}, below the {say(cold)} wanted.")
    elif low < cold:
        sheet.caution("heat-too-cold", "note", f"Water: it falls to {say(low)}, a little below the {say(cold)} wanted; "
                      "growth is a little slower.", lead="Water too cold",
                      brief=f"It falls to {say(low)}, a little below the {say(cold)} wanted.")


def warn(sheet: Sheet) -> None:
    """What the day does to roots and oxygen, and what only a unit keeps off them."""
    def say(value: float) -> str:
        return sheet.shown_as("heat.high", value)
    high, low = sheet.result("heat.high"), sheet.result("heat.low")
    unit = unit_that_holds(sheet)
    if unit:
        sheet.caution("heat-unit-alone", "note", f"Water: only your {unit} keeps it in its band on the day you plan "
                      f"for. Should it stop, the water drifts to {say(high if unit == pulling.CHILLER else low)}: look "
                      "at the thermometer every day.", lead="One unit holds it",
                      brief=f"Only your {unit} keeps the water in its band: look every day.")
    else:
        _warn_of_band(sheet)
    used = sheet.result_if_any("oxygen.hottest_used")
    # A difference that the reader cannot see in print is none.
    if used is not None and high > used + 0.05 and unit != pulling.CHILLER:
        sheet.caution("heat-oxygen", "warning", f"Oxygen: you typed {say(used)} for the hottest hour, and it was "
                      f"worked out for that, but this day brings the bath to {say(high)}, where it holds less. Empty "
                      "\"Water in the hottest hour\", with oxygen, to have the day's own.", lead="Warmer than typed",
                      brief=f"You typed {say(used)} for the hottest hour; this day brings {say(high)}.")
    if sheet.result("place.sun_peak") > 0.0:
        sheet.caution("heat-sky", "note", "Temperature: under a clear night sky a bath in the open gets colder than "
                      "this, and rain, wind and clouds differ from day to day; neither is worked out.", lead="Open sky",
                      brief="A clear night makes a bath outdoors colder than this.")


def _put_peaks(sheet: Sheet, cooling: float, heating: float) -> None:
    sheet.put("heat.cool_peak", cooling, note="Most heat that comes in at any hour, all water held at the warm end; "
                                              "never less than the least cooling.")
    sheet.put("heat.warm_peak", heating, note="Most heat that leaves at any hour, all water held at the cold end; "
                                              "never less than the least heating.")
    sheet.work("heat.cooler_draw", physics.cooler_power, heat_w=cooling, performance=sheet["heat.performance"])


def needs_cooler(sheet: Sheet) -> bool:
    """Whether the day is warmer than the band by more than a degree; nobody buys a cooler for less."""
    return bool(sheet.result("heat.high") > sheet.result("heat.band_high") + SLIGHT_K)


def needs_heater(sheet: Sheet) -> bool:
    """Whether the day is colder than the band by more than a degree."""
    return bool(sheet.result("heat.low") < sheet.result("heat.band_low") - SLIGHT_K)


def hold(sheet: Sheet) -> None:
    """Watts to cool or to heat that hold the band, what a cooler draws, and frozen bottles that would do instead."""
    place = _place(sheet)
    warm, cold = sheet.result("heat.band_high"), sheet.result("heat.band_low")
    cooling = max(max(held_gain(place, warm)), 0.0)
    heating = max(max(-gain for gain in held_gain(place, cold)), 0.0)
    least_cool = least_warm = 0.0
    try:
        high, low = sheet.result("heat.high"), sheet.result("heat.low")
    except Unanswered:
        # No day was found, as in frost: what holds the band every hour needs none.
        _put_peaks(sheet, cooling, heating)
        raise
    found = simulate(place)
    if high > warm:
        least_cool = max(-steady_power(place, found, warm, 1.0), 0.0)
    if low < cold:
        least_warm = max(steady_power(place, found, cold, -1.0), 0.0)
    _put_peaks(sheet, max(cooling, least_cool), max(heating, least_warm))
    sheet.put("heat.cool_least", least_cool, note="Even cooling, day and night, with which the bath just peaks at the "
                                                  "warm end; 0 where no cooling is needed.")
    sheet.put("heat.warm_least", least_warm, note="Even heating, day and night, with which the bath just falls to the "
                                                  "cold end; 0 where no heating is needed.")
    draw = physics.cooler_power(heat_w=least_cool, performance=sheet["heat.performance"])
    for key, watts, note in (("cooler", draw, "Least cooling for 24 hours, over the heat moved for each watt."),
                             ("heater", least_warm, "Least heating for 24 hours.")):
        use = {"power_w": watts, "hours": DAY_H}
        sheet.put(f"heat.{key}_energy", energy_used(**use), energy_used, use, note=note)
    mass = sheet["heat.bottle"] * 1000.0
    each = physics.bottle_cold(mass_kg=mass, freezer_c=sheet["heat.freezer"], water_c=warm)
    count = ceil(least_cool * DAY_S / each * (1 - 1e-9))
    if count <= MOST_BOTTLES:
        sheet.put("heat.bottles", count, physics.bottle_cold,
                  {"mass_kg": mass, "freezer_c": sheet["heat.freezer"], "water_c": warm},
                  note="The heat of the least cooling in a day, over what one bottle takes up, rounded up. Spread them "
                       "over the day.")
    if needs_cooler(sheet) or needs_heater(sheet):
        sheet.caution("heat-appliance", "danger", "Heater or chiller: mains power in or beside the water. Use one made "
                      "for water, on a GFCI (RCD) outlet, with a thermostat; unplug it before it runs dry or you reach "
                      "in. Wiring is a licensed electrician's work.", lead="Heater or chiller",
                      brief="Mains in the water: one made for it, GFCI (RCD), thermostat; unplug first.")
    if count > MOST_BOTTLES:
        many = counted(count)
        sheet.caution("heat-bottles", "note", f"Frozen bottles will not do here: it would take {many} a day. Shade, "
                      "insulation and a chiller made for water come first.", lead="Frozen bottles",
                      brief=f"It would take {many} a day: shade and insulation come first.")
    elif least_cool > 0.0:
        sheet.caution("heat-bottles", "note", "Frozen bottles: use sound ones that held drink, closed, a tenth empty; "
                      "wash them before each turn. Loose ice would thin the solution. The freezer pays the power.",
                      lead="Frozen bottles",
                      brief="Sound drink bottles, a tenth empty, washed before each turn; no loose ice.")


def compare(sheet: Sheet) -> None:
    """Each change as a difference, the most helpful first."""
    low, high = sheet.result("heat.low"), sheet.result("heat.high")
    cold = low < sheet.result("heat.band_low") and high <= sheet.result("heat.band_high")
    rows = what_ifs(_place(sheet), cold)
    sheet.put("heat.what_ifs", [dict(zip(("change", "high", "low", "high_by", "low_by"), row, strict=True))
                                for row in rows],
              note="One change at a time, the same day; the one that "
                   f"{'raises the low' if cold else 'lowers the high'} most comes first.")


def pull(sheet: Sheet) -> None:
    """How long the unit that is there takes."""
    pulling.pull(sheet, _place(sheet))


STEPS = (band, surroundings, day, hold, warn, pull, compare, judge)
