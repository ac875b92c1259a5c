"""What the roots breathe, what bubbles and surface bring, and where they meet: physics beside the rule of practice."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from ..data import roots as data
from ..declare import Choice, Field, Result, Verdict
from ..figures import count, number
from ..models.balance import (
    HIGH,
    LIKELY,
    LOW,
    M3_S_IN_L_H,
    band,
    boxes,
    bubble_transfer,
    demands,
    demand_spread,
    limits,
    ranking,
    worst,
)
from ..relations import oxygen as physics
from . import metered, scheme
from .breathing import (
    AS_CROPS,
    BY_CALENDAR,
    bath_of,
    by_calendar,
    conductivity_of,
    guesses_of,
    hottest,
    plants_of,
    root_stage_of,
)
from .warmth import high_of_day, put_hottest
from .verdicts.oxygen import judge

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "oxygen"
TITLE = "Oxygen"
QUESTION = "How much oxygen do the roots need, and how much gets into the water?"
VERDICT = Verdict("Oxygen", {"fits": "The roots breathe.", "tight": "Oxygen is tight.", "fails": "Too little oxygen.",
                             "open": "Oxygen needs an answer."})

HOT_ROOTS_C = 30.0
SPREAD_NOTE = ("The ends of each stated band are taken as its 5th and 95th percentile, and the swings they make are "
               "combined in quadrature on a logarithmic scale.")
SPREAD_SOURCE = ("first-order reliability method, after Hasofer & Lind 1974, from memory, not verified; held against "
                 "20,000 random draws in the tests")
MG_IN_KG = 1e6
TABLE_C = tuple(range(0, 41, 5))


def _choices(words: dict[str, str]) -> tuple[Choice, ...]:
    return tuple(Choice(value, label) for value, label in words.items())


FIELDS = (
    Field("oxygen.crop", "choice", "Plants", (BY_CALENDAR, BY_CALENDAR),
          choices=(Choice(BY_CALENDAR, "By the calendar's heaviest week"),
                   Choice(AS_CROPS, "Full grown, as under Crops"), *_choices(data.ROOT_WORDS)),
          help="the largest that hang in at one time, in all baths",
          why="sown week by week, a raft holds plants of every age, and the small ones breathe little"),
    Field("oxygen.plants", "whole", "Plants in all baths", ("", ""), 0, 100000,
          help="empty: by the calendar, or else every site of every board", why="empty: from the calendar or the board",
          optional=True),
    Field("oxygen.conductivity", "conductivity", "EC of the solution", ("", ""), 0.0, 20.0, "µS/cm", "µS/cm",
          help="1.6 mS/cm is 1600; empty: that of your mix",
          why="empty: as worked out under Nutrients", optional=True),
    Field("oxygen.beta", "ratio", "Beta, if measured", ("", ""), 0.9, 1.0, "%", "%",
          help="oxygen held, beside that of clean water", why="empty: worked out from the EC",
          optional=True),
    Field("oxygen.stones", "choice", "Kind of stones", ("stone", "stone"), choices=_choices(data.STONE_WORDS),
          help="small bubbles give up more of their oxygen, and need more pressure", why="what most shops sell",
          when=scheme.WITH_AIR),
    Field("oxygen.transfer", "ratio", "SOTE at my depth", ("", ""), 0.0001, 0.5, "%", "%",
          help="measured: share of the oxygen blown in that dissolves",
          why="empty: from the kind of stones and their depth", optional=True, when=scheme.WITH_AIR),
    Field("oxygen.surface", "choice", "Air over the water", ("still", "still"), choices=_choices(data.SURFACE_WORDS),
          help="only the water that the raft leaves open takes part", why="most small baths stand indoors"),
    Field("oxygen.reservoir_open", "area", "Open water in the reservoir", ("0 ft2", "0 m2"), 0.0, 1000.0, "ft2", "m2",
          help="water surface of the reservoir that is not covered", why="0: a cover keeps light and dirt out",
          when=scheme.WITH_RESERVOIR),
    Field("oxygen.return_fall", "length", "Free fall of the drain", ("0 in", "0 cm"), 0.0, 3.0, "in", "cm",
          help="from the pipe's end to the reservoir's water; 0: under water",
          why="0: the safe side; a fall brings oxygen and noise", when=scheme.WITH_RESERVOIR),
    Field("oxygen.target", "concentration", "Oxygen to keep", ("6 mg/L", "6 mg/L"), 1.0, 14.0, "mg/L", "mg/L",
          help="growers keep 5 to 6", why=data.LEVELS[0][3]),
    Field("oxygen.hottest", "temperature", "Water in the hottest hour", ("", ""), 0.0, 40.0, "F", "C",
          help="of your warmest day; empty: the day worked out with warmth", optional=True,
          why="empty: from the day, worked out together with the air blown in"),
    Field("oxygen.safety", "ratio", "Safety factor on the air", ("150 %", "150 %"), 1.0, 10.0, "%", "%",
          help="100 % is none", why="half as much again, for stones that clog: engineering judgment, no source",
          when=scheme.WITH_AIR),
    Field("oxygen.stirring", "flow", "Least stirring air, each m²", ("2 L/min", "2 "
        "L/min"), 0.0, 0.01,
          "L/min", "L/min", help="of bath, so that no corner stands still",
          why="a stone of about 4 L/min for every 2 to 4 m²: FAO 589, chapter 4, as quoted in an article",
          when=scheme.WITH_AIR),
    *metered.FIELDS,
)
TABLES = ()

RESULTS = (
    Result("oxygen.hottest_used", "temperature", "Water in the hottest hour", "F", "C"),
    Result("oxygen.saturation", "concentration", "Oxygen that the water can hold", "mg/L", "mg/L"),
    Result("oxygen.saturation_hottest", "concentration", "The same in the hottest hour", "mg/L", "mg/L"),
    Result("oxygen.saturation_table", "rows", "Oxygen that the water can hold, by temperature"),
    Result("oxygen.plant_count", "count", "Plants counted, in all baths"),
    Result("oxygen.demand_low", "mass_rate", "Oxygen wanted by all, low", "mg/h", "mg/h"),
    Result("oxygen.demand", "mass_rate", "Oxygen wanted by all, likely", "mg/h", "mg/h"),
    Result("oxygen.demand_high", "mass_rate", "Oxygen wanted by all, high", "mg/h", "mg/h"),
    Result("oxygen.efficiency", "ratio", "Share of the oxygen blown in that dissolves, in the standard test", "%", "%"),
    Result("oxygen.transfer_bath", "turnover", "Transfer coefficient, baths", "/h", "/h"),
    Result("oxygen.transfer_reservoir", "turnover", "Transfer coefficient, reservoir", "/h", "/h"),
    Result("oxygen.bath_low", "concentration", "Oxygen in the bath, low", "mg/L", "mg/L"),
    Result("oxygen.bath", "concentration", "Oxygen in the bath, likely", "mg/L", "mg/L"),
    Result("oxygen.bath_high", "concentration", "Oxygen in the bath, high", "mg/L", "mg/L"),
    Result("oxygen.bath_hottest_low", "concentration", "Oxygen in the bath in the hottest hour, low", "mg/L", "mg/L"),
    Result("oxygen.bath_hottest", "concentration", "Oxygen in the bath in the hottest hour, likely", "mg/L", "mg/L"),
    Result("oxygen.reservoir_low", "concentration", "Oxygen in the reservoir, low", "mg/L", "mg/L"),
    Result("oxygen.reservoir", "concentration", "Oxygen in the reservoir, likely", "mg/L", "mg/L"),
    Result("oxygen.reservoir_high", "concentration", "Oxygen in the reservoir, high", "mg/L", "mg/L"),
    Result("oxygen.surface_plants", "count", "Full-grown plants that the open surface can supply"),
    Result("oxygen.brought", "mass_rate", "Oxygen that all bubbles bring", "mg/h", "mg/h"),
    Result("oxygen.per_kwh", "mass", "Oxygen the bubbles bring for each kWh", "g", "g"),
    Result("oxygen.optimum_over_need", "ratio", "Practice optimum, beside the air needed", "times", "times"),
    Result("oxygen.floor_over_need", "ratio", "Practice floor, beside the air needed", "times", "times"),
    Result("oxygen.delivered_over_need", "ratio", "Air delivered, beside the air needed", "times", "times"),
    Result("oxygen.levels", "rows", "Levels that are spoken of, and by whom"),
    Result("oxygen.research_limit", "concentration", "Lettuce was unhurt down to", "mg/L", "mg/L"),
    Result("oxygen.what_matters", "rows", "What matters most"),
    *metered.RESULTS,
)


def warmest(sheet: Sheet) -> None:
    """Water in the hottest hour where no air is blown; with air, the air topic finds both together."""
    if not scheme.has_air(sheet):
        typed = sheet.optional("oxygen.hottest")
        put_hottest(sheet, None if typed is not None else high_of_day(sheet, 0.0, 0.0), "")


def saturation(sheet: Sheet) -> None:
    """The most the water can hold: now, in the hottest hour, and as a table by temperature."""
    salinity = physics.salinity_from_conductivity(conductivity_ms_cm=conductivity_of(sheet))
    pressure, beta = sheet.result("place.air_pressure"), sheet.optional("oxygen.beta")

    def at(temperature: float) -> float:
        if beta is None:
            return physics.saturation(temperature_c=temperature, pressure_pa=pressure, salinity=salinity)
        return beta * physics.saturation(temperature_c=temperature, pressure_pa=pressure, salinity=0.0)

    for key, temperature in (("oxygen.saturation", sheet["water.temperature"]),
                             ("oxygen.saturation_hottest", hottest(sheet))):
        if beta is None:
            sheet.work(key, physics.saturation, temperature_c=temperature, pressure_pa=pressure, salinity=salinity)
        else:
            sheet.put(key, at(temperature), note="Saturation of clean water, times your share for the solution.",
                      source=physics.BENSON_KRAUSE.format("24 and 32"))
    sheet.put("oxygen.saturation_table", [{"temperature": float(t), "saturation": at(float(t))} for t in TABLE_C],
              note="Your solution at your air pressure, every five degrees from 0 to 40 °C.",
              source=physics.BENSON_KRAUSE.format("24 and 32"))


def levels(sheet: Sheet) -> None:
    """What others keep, and what research found."""
    sheet.put("oxygen.levels", [{"level": name, "oxygen": value, "meaning": meaning, "source": source}
                                for name, value, meaning, source in data.LEVELS],
              note="Growers' aims buy time and cover dead corners; the limit for growth in a trial is far lower.")
    sheet.put("oxygen.research_limit", data.RESEARCH_LIMIT_MG_L, note="Grown for 24 days at 24 °C.",
              source=data.RESEARCH_SOURCE)


def plants(sheet: Sheet) -> None:
    """How many plants breathe."""
    note = "Every site of every bath taken."
    if sheet.optional("oxygen.plants", int) is not None:
        note = "As you put it in."
    elif by_calendar(sheet):
        note = "Full-grown plants with as much root as the calendar's heaviest week; planted all at once it would be " \
               f"{sheet.result('board.sites', int) * sheet.whole('bath.count'):,}."
    sheet.put("oxygen.plant_count", plants_of(sheet), note=note)


def demand(sheet: Sheet) -> None:
    """Oxygen wanted by roots and water, as low, likely and high."""
    bath = bath_of(sheet, sheet["water.temperature"])
    three = guesses_of(sheet, bath)
    spread_out = demand_spread(bath, three)
    for key, which, share in (("demand_low", HIGH, "One bath in twenty uses less. "), ("demand", LIKELY, ""),
                              ("demand_high", LOW, "One bath in twenty uses more. ")):
        sheet.put(f"oxygen.{key}", sum(demands(bath, spread_out[which])),
                  note=f"{share}Roots by mass and warmth, and the water's own use, in all the water.",
                  source=f"{data.ROOT_RATE_MG_G_H.source}; root mass: {data.ROOT_MASS_G[root_stage_of(sheet)].source}; "
                         f"water: {data.WATER_MG_L_H.source}")
    if hottest(sheet) > HOT_ROOTS_C and bath.plants > 0:
        sheet.caution("oxygen-hot-roots", "warning",
                      "Water above 30 °C: roots are failing rather than breathing faster, and the demand shown is too "
                      "high. "
                      "Cool the water; more air does not mend it.", lead="Roots too hot",
                      brief=f"Water above {sheet.show(30.0, 'temperature', 'F', 'C')}: cool it; more air does not "
                            "mend it.")


def supply(sheet: Sheet) -> None:
    """Steady oxygen in bath and reservoir with the air delivered, as low, likely and high."""
    bath = bath_of(sheet, sheet["water.temperature"])
    three = guesses_of(sheet, bath)
    air = scheme.air_m3_s(sheet) * M3_S_IN_L_H
    likely = three[LIKELY]
    if not scheme.has_air(sheet):
        pass
    elif sheet.optional("oxygen.transfer") is None:
        sheet.work("oxygen.efficiency", physics.standard_efficiency, depth_m=bath.depth_m,
                   per_metre=data.STONE_PER_METRE[sheet.text("oxygen.stones")].likely)
    else:
        sheet.put("oxygen.efficiency", likely.efficiency, note="As you put it in.")
    numbers = boxes(bath, likely, air)
    for name, litres in (("bath", bath.bath_l), ("reservoir", bath.reservoir_l)):
        if litres > 0.0:
            sheet.put(f"oxygen.transfer_{name}", numbers[f"intake_{name}_l_h"] / litres / 3600.0,
                      note="Bubbles and open surface, over the water they serve.")
    found = band(bath, three, air)
    least = sheet.shown_as("oxygen.bath", worst(bath, three, air))
    at_worst = f" With every one at its bad end at once, the bath would have {least}."
    steady = (("bath", physics.steady_bath), ("reservoir", physics.steady_reservoir))
    for place, (name, relation) in enumerate(steady if scheme.circulates(sheet) else steady[:1]):
        sheet.put(f"oxygen.{name}_low", found[LOW][place], note=f"One bath in twenty has less. {SPREAD_NOTE}{at_worst}",
                  source=SPREAD_SOURCE)
        sheet.work(f"oxygen.{name}", relation, **numbers)
        sheet.put(f"oxygen.{name}_high", found[HIGH][place], note=f"One bath in twenty has more. {SPREAD_NOTE}",
                  source=SPREAD_SOURCE)
    hot = bath_of(sheet, hottest(sheet))
    then = band(hot, guesses_of(sheet, hot), air)
    for key, which, share in (("_low", LOW, "One bath in twenty has less. "), ("", LIKELY, "")):
        sheet.put(f"oxygen.bath_hottest{key}", then[which][0], note=f"{share}The same balance, with the water as warm "
                  "as it gets on the day you plan for.", source=SPREAD_SOURCE)
    _alarms(sheet, then)
    if not scheme.has_air(sheet):
        return
    limit = limits(bath)[1]
    brought = sum(bubble_transfer(bath, likely, air * share) * max(limit - level, 0.0)
                  for share, level in zip((bath.bath_share, 1.0 - bath.bath_share), found[LIKELY], strict=False))
    sheet.put("oxygen.brought", brought, note="Transfer by bubbles, times how far the water is below their limit.")
    watts = scheme.air_pump_w(sheet)
    if watts > 0.0:
        sheet.put("oxygen.per_kwh", brought / MG_IN_KG / watts * 1000.0,
                  note="What the bubbles bring in an hour, over the air pumps' power.")


def surface_alone(sheet: Sheet) -> None:
    """How few roots the open surface can feed where no air is blown, by the same balance in the hottest hour."""
    if scheme.has_air(sheet):
        return
    bath = bath_of(sheet, hottest(sheet))
    likely = guesses_of(sheet, bath)[LIKELY]
    numbers = boxes(bath, likely, 0.0)
    one = replace(bath, plants=1.0)
    each = demands(one, likely)[0] - demands(replace(bath, plants=0.0), likely)[0]
    spare = (numbers["intake_bath_l_h"] * (numbers["limit_bath_mg_l"] - data.CRITICAL_MG_L)
             - demands(replace(bath, plants=0.0), likely)[0])
    feeds = max(int(spare / each + 1e-9), 0) if each > 0.0 else 0
    sheet.put("oxygen.surface_plants", feeds, note="What the open surface brings in at "
              f"{data.CRITICAL_MG_L:g} mg/L, less the water's own use, over the demand of one plant, rounded down.",
              source=data.CRITICAL_SOURCE)
    there = plants_of(sheet)
    if there > feeds:
        plants = ("not even one full-grown plant" if feeds == 0 else
                  f"{count(feeds)} full-grown plant{'' if feeds == 1 else 's'}")
        sheet.caution("oxygen-still", "warning",
                      f"Still water: its open surface can supply the roots of {plants}, and roots like those of "
                      f"{count(there)} will hang in it at once. The rest live on air that reaches their upper roots: "
                      "let the water fall so that half of each root hangs in damp air, and "
                      "never fill it up again to the board, or blow air.", lead="Still water",
                      brief=f"Its surface feeds the roots of {plants}; let the water fall so that roots hang in air.")


def _alarms(sheet: Sheet, found: dict[str, tuple[float, float]]) -> None:
    low, likely = found[LOW][0], found[LIKELY][0]
    alarm, act = data.LEVELS[2][1], data.LEVELS[3][1]

    def say(value: float) -> str:
        return sheet.shown_as("oxygen.bath", value)

    if not scheme.has_air(sheet):
        return
    is_likely = "Oxygen in the hottest hour is likely"
    if likely < act:
        sheet.caution("oxygen-low", "warning", f"{is_likely} only {say(likely)}: growers act at "
                      f"{say(act)}. Blow more air, cool the water, or grow fewer plants in it.", lead="Oxygen low",
                      brief=f"Likely only {say(likely)}, and growers act at {say(act)}.")
    elif likely < alarm:
        sheet.caution("oxygen-low", "warning", f"{is_likely} {say(likely)}, below the usual alarm of "
                      f"{say(alarm)}. Blow more air, or cool the water.", lead="Oxygen low",
                      brief=f"Likely {say(likely)}, below the usual alarm of {say(alarm)}.")
    elif likely < sheet["oxygen.target"]:
        sheet.caution("oxygen-below-target", "warning", f"{is_likely} {say(likely)}, below your aim of "
                      f"{say(sheet['oxygen.target'])}.", lead="Oxygen below aim",
                      brief=f"Likely {say(likely)}, below your aim of {say(sheet['oxygen.target'])}.")
    elif low < alarm:
        sheet.caution("oxygen-may-be-low", "note", f"{is_likely} {say(likely)}, but one bath in twenty "
                      f"like it has less than {say(low)}. A meter settles it.", lead="Oxygen may be low",
                      brief=f"Likely {say(likely)}, but one bath in twenty has less than {say(low)}.")


def compare(sheet: Sheet) -> None:
    """The air needed beside the rule of practice and beside the air delivered."""
    if not scheme.has_air(sheet):
        return
    air = sheet.result("air.oxygen_need")
    if air <= 0.0:
        return
    for key, other in (("optimum_over_need", "air.practice_optimum"), ("floor_over_need", "air.practice_floor"),
                       ("delivered_over_need", "air.delivered")):
        sheet.put(f"oxygen.{key}", sheet.result(other) / air, note="100 % is the air needed.")
    surplus = sheet.result("air.delivered") / air
    if surplus > 1.5:
        spare = sheet.result("air.power") * (1.0 - 1.0 / surplus)
        sheet.caution("oxygen-surplus", "note",
                      f"Air: you blow {number(surplus, 2)} times what the oxygen balance asks for. The rest is not for "
                      f"growth: it "
                      "stirs dead corners, and leaves something when stones clog or a pump dies. It draws about "
                      f"{sheet.shown_as('air.power', spare)} day and night.", lead="Air to spare",
                      brief=f"{number(surplus, 2)} times the need: the rest stirs, and is there when a pump dies.")
    elif surplus < 1.0 - 1e-9:
        sheet.caution("oxygen-short", "warning",
                      "Air: the pumps blow less than the oxygen balance asks for with its safety factor, in the "
                      "hottest hour.", lead="Air below need",
                      brief="The pumps blow less than the oxygen balance asks for in the hottest hour.")


def what_matters(sheet: Sheet) -> None:
    """Each input moved by its own uncertainty, ranked by what that does to oxygen in the bath."""
    bath = bath_of(sheet, sheet["water.temperature"])
    three = guesses_of(sheet, bath)
    air = scheme.air_m3_s(sheet) * M3_S_IN_L_H
    rows = ranking(bath, three, air)
    sheet.put("oxygen.what_matters", rows, note="One at a time, the others likely. Temperature 2 °C, air pressure 3 "
                                                "%, air and "
                                                "pumped flow 20 % either way: engineering judgment, no source.")


STEPS = (warmest, saturation, levels, plants, demand, supply, surface_alone, compare, what_matters,
         *metered.STEPS, judge)
