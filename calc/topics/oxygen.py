"""What the roots breathe, what bubbles and surface bring, and where they meet: physics beside the rule of practice."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from ..bracket import narrow
from ..data import roots as data
from ..declare import Choice, Field, Result
from ..errors import Unanswered
from ..relations import oxygen as physics
from ..relations import roots as root_physics
from ..relations.atmosphere import PRESSURE_RANGE_PA, STANDARD_PA

NAME = "oxygen"
TITLE = "Oxygen"
QUESTION = "How much oxygen do the roots need, and how much gets into the water?"

M3_S_IN_L_H = 3.6e6
HOURS_A_DAY = 24.0
HOT_ROOTS_C = 30.0
MOST_AIR_L_H = 1e7
CLOSE = 1e-12
TEMPERATURE_SWING_C, PRESSURE_SWING, FLOW_SWING = 2.0, 0.03, 0.2
TABLE_C = tuple(range(0, 41, 5))
CLEAN_WATER, FREE_FALL = 1.8, 1.0


def _choices(words: dict[str, str]) -> tuple[Choice, ...]:
    return tuple(Choice(value, label) for value, label in words.items())


FIELDS = (
    Field("oxygen.crop", "choice", "Plants", ("head", "head"), choices=_choices(data.ROOT_WORDS),
          help="the largest stage that stands in the bath at one time", why="heads ready to cut breathe most"),
    Field("oxygen.plants", "whole", "Plants in all baths", ("", ""), 0, 100000,
          help="empty: every site of every board is taken", why="empty: a full raft breathes most", optional=True),
    Field("oxygen.conductivity", "whole", "Conductivity of the solution, in µS/cm", ("1600", "1600"), 0, 20000,
          help="1.6 mS/cm is 1600; salts take away about half a percent of the oxygen", why="a middling leaf solution"),
    Field("oxygen.beta", "ratio", "Saturation beside that of clean water", ("", ""), 0.9, 1.0, "%", "%",
          help="if somebody measured it; field books call it beta", why="empty: worked out from the conductivity",
          optional=True),
    Field("oxygen.stones", "choice", "Kind of stones", ("stone", "stone"), choices=_choices(data.STONE_WORDS),
          help="small bubbles give up more of their oxygen, and need more pressure", why="what most shops sell"),
    Field("oxygen.transfer", "ratio", "Oxygen taken up at my depth, if measured", ("", ""), 0.0001, 0.5, "%", "%",
          help="share of the oxygen blown in that dissolves in clean, empty water; field books call it SOTE",
          why="empty: from the kind of stones and their depth", optional=True),
    Field("oxygen.surface", "choice", "Air over the water", ("still", "still"), choices=_choices(data.SURFACE_WORDS),
          help="only the water that the raft leaves open takes part", why="most small baths stand indoors"),
    Field("oxygen.reservoir_open", "area", "Open water in the reservoir", ("0 ft2", "0 m2"), 0.0, 1000.0, "ft2", "m2",
          help="water surface of the reservoir that is not under a lid", why="0: a lid keeps light and dirt out"),
    Field("oxygen.return_fall", "length", "Free fall of the returning water", ("0 in", "0 cm"), 0.0, 3.0, "in", "cm",
          help="from the end of the return pipe down to the reservoir's water; 0 when it ends under water",
          why="0: the safe side; a fall brings oxygen and noise"),
    Field("oxygen.target", "concentration", "Oxygen to keep", ("6 mg/L", "6 mg/L"), 1.0, 14.0, "mg/L", "mg/L",
          help="growers keep 5 to 6", why=data.LEVELS[0][3]),
    Field("oxygen.hottest", "temperature", "Water in the hottest hour", ("77 F", "25 C"), 0.0, 40.0, "F", "C",
          help="of the warmest day you plan for; warm water holds less while roots breathe more",
          why="25 C: the warmest a lettuce pond is meant to be (Cornell, from memory, not verified)"),
    Field("oxygen.safety", "ratio", "Safety factor on the air", ("150 %", "150 %"), 1.0, 10.0, "%", "%",
          help="100 % is none", why="half as much again, for stones that clog: engineering judgement, no source"),
    Field("oxygen.stirring", "flow", "Least air to stir, for each square metre of bath", ("2 L/min", "2 "
        "L/min"), 0.0, 0.01,
          "L/min", "L/min", help="so that no corner stands still",
          why="a stone of about 4 L/min for every 2 to 4 m2: FAO 589, chapter 4, as quoted in an article"),
)
TABLES = ()

RESULTS = (
    Result("oxygen.saturation", "concentration", "Oxygen that the water can hold", "mg/L", "mg/L", headline=True),
    Result("oxygen.saturation_hottest", "concentration", "The same in the hottest hour", "mg/L", "mg/L"),
    Result("oxygen.saturation_table", "rows", "Oxygen that the water can hold, by temperature"),
    Result("oxygen.plant_count", "count", "Plants counted"),
    Result("oxygen.demand_low", "count", "Oxygen wanted, mg an hour, low"),
    Result("oxygen.demand", "count", "Oxygen wanted, mg an hour, likely"),
    Result("oxygen.demand_high", "count", "Oxygen wanted, mg an hour, high"),
    Result("oxygen.efficiency", "ratio", "Share of the oxygen blown in that dissolves, in the standard test", "%", "%"),
    Result("oxygen.transfer_bath", "turnover", "Transfer coefficient, baths", "/h", "/h"),
    Result("oxygen.transfer_reservoir", "turnover", "Transfer coefficient, reservoir", "/h", "/h"),
    Result("oxygen.bath_low", "concentration", "Oxygen in the bath, low", "mg/L", "mg/L"),
    Result("oxygen.bath", "concentration", "Oxygen in the bath, likely", "mg/L", "mg/L", headline=True),
    Result("oxygen.bath_high", "concentration", "Oxygen in the bath, high", "mg/L", "mg/L"),
    Result("oxygen.reservoir_low", "concentration", "Oxygen in the reservoir, low", "mg/L", "mg/L"),
    Result("oxygen.reservoir", "concentration", "Oxygen in the reservoir, likely", "mg/L", "mg/L"),
    Result("oxygen.reservoir_high", "concentration", "Oxygen in the reservoir, high", "mg/L", "mg/L"),
    Result("oxygen.brought", "count", "Oxygen the bubbles bring, mg an hour"),
    Result("oxygen.per_kwh", "count", "Oxygen the bubbles bring for each kWh, mg"),
    Result("oxygen.air_physics_low", "flow", "Air that holds the target in the hottest hour, low", "L/min", "L/min"),
    Result("oxygen.air_physics", "flow", "Air that holds the target in the hottest hour, likely", "L/min", "L/min"),
    Result("oxygen.air_physics_high", "flow", "Air that holds the target in the hottest hour, high", "L/min", "L/min"),
    Result("oxygen.air_stirring", "flow", "Least air to stir", "L/min", "L/min"),
    Result("oxygen.air_need", "flow", "Air needed, with safety and stirring", "L/min", "L/min", headline=True),
    Result("oxygen.optimum_over_need", "ratio", "Practice optimum, beside the air needed", "times", "times"),
    Result("oxygen.floor_over_need", "ratio", "Practice floor, beside the air needed", "times", "times"),
    Result("oxygen.delivered_over_need", "ratio", "Air delivered, beside the air needed", "times", "times"),
    Result("oxygen.levels", "rows", "Levels that are spoken of, and by whom"),
    Result("oxygen.research_limit", "concentration", "Lettuce was unhurt down to", "mg/L", "mg/L"),
    Result("oxygen.what_matters", "rows", "What matters most"),
)


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
    return (bath.plants * guess.root_g * guess.root_rate * warmth + bath.bath_l * water, bath.reservoir_l * water)


@lru_cache(maxsize=64)
def limit_at_20(depth_m: float) -> float:
    """The level in mg/L that bubbles at a depth drive clean water of 20 C to: the standard test's yardstick."""
    return physics.saturation_at_depth(
        saturation_mg_l=physics.saturation_one_atmosphere(temperature_c=20.0, salinity=0.0), depth_m=depth_m,
        pressure_pa=STANDARD_PA)


def bubble_transfer(bath: Bath, guess: Guess, air_l_h: float) -> float:
    """Transfer by an air flow in L/h of water brought to the bubbles' limit."""
    return (air_l_h * bath.air_oxygen_mg_l * guess.efficiency * guess.alpha * guess.fouling
            * physics.THETA ** (bath.temperature_c - 20.0) / limit_at_20(bath.depth_m))


def boxes(bath: Bath, guess: Guess, air_l_h: float) -> dict[str, float]:
    """The numbers of the two-box balance for an air flow, by argument name of the relation."""
    surface, limit = limits(bath)
    bath_demand, reservoir_demand = demands(bath, guess)
    # m/d times m2 is m3/d.
    film = guess.surface_m_d * physics.THETA ** (bath.temperature_c - 20.0) * 1000.0 / HOURS_A_DAY
    found = {"demand_bath_mg_h": bath_demand, "demand_reservoir_mg_h": reservoir_demand,
             "exchange_l_h": bath.exchange_l_h, "return_limit_mg_l": surface, "critical_mg_l": data.CRITICAL_MG_L,
             "return_gain": physics.fall_gain(fall_m=bath.return_fall_m, temperature_c=bath.temperature_c,
                                              quality=CLEAN_WATER, shape=FREE_FALL)}
    for name, share, area in (("bath", bath.bath_share, bath.bath_open_m2),
                              ("reservoir", 1.0 - bath.bath_share, bath.reservoir_open_m2)):
        bubbles, open_water = bubble_transfer(bath, guess, air_l_h * share), film * area
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
                         getattr(data.FOULING, which), getattr(film, which)) for which in (LOW, LIKELY, HIGH)}


def band(bath: Bath, three: dict[str, Guess], air_l_h: float) -> dict[str, tuple[float, float]]:
    """Steady (bath, reservoir) as low, likely and high.

    Deep stones can hold water a little above the surface's saturation, and then an eager surface takes oxygen away: so
    the ends of the band try both ends of the surface.
    """
    films = (three[LOW].surface_m_d, three[HIGH].surface_m_d, three[LIKELY].surface_m_d)
    found = {LIKELY: steady(bath, three[LIKELY], air_l_h)}
    for which, pick in ((LOW, min), (HIGH, max)):
        tried = [steady(bath, replace(three[which], surface_m_d=film), air_l_h) for film in films] + [found[LIKELY]]
        found[which] = (pick(bath_level for bath_level, _ in tried), pick(level for _, level in tried))
    return found


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


def _bath(sheet, temperature_c: float) -> Bath:
    baths = sheet["bath.count"]
    bath_l = baths * sheet.result("water.bath_volume") * 1000.0
    reservoir_l = sheet.result("water.reservoir_volume") * 1000.0
    share = 1.0 if sheet["air.aerated"] == "bath" else bath_l / (bath_l + reservoir_l)
    return Bath(
        temperature_c=temperature_c, pressure_pa=sheet.result("place.air_pressure"),
        salinity=physics.salinity_from_conductivity(conductivity_ms_cm=sheet["oxygen.conductivity"] / 1000.0),
        beta=sheet.get("oxygen.beta"), plants=sheet.result("oxygen.plant_count"), bath_l=bath_l,
        reservoir_l=reservoir_l,
        bath_open_m2=baths * sheet.result("water.surface_area") * max(1.0 - sheet.result("board.cover"), 0.0),
        reservoir_open_m2=sheet["oxygen.reservoir_open"], depth_m=sheet.result("air.stone_depth"), bath_share=share,
        exchange_l_h=sheet.result("circulation.flow") * M3_S_IN_L_H, return_fall_m=sheet["oxygen.return_fall"],
        air_oxygen_mg_l=sheet.result("place.air_oxygen"))


def _hottest(sheet) -> float:
    """Water in the hottest hour: never cooler than the water is now."""
    return max(sheet["oxygen.hottest"], sheet["water.temperature"])


def _guesses(sheet, bath: Bath) -> dict[str, Guess]:
    return guesses(sheet["oxygen.crop"], sheet["oxygen.stones"], sheet["oxygen.surface"], bath.depth_m,
                   bath.temperature_c, sheet.get("oxygen.transfer"))


def saturation(sheet) -> None:
    """The most the water can hold: now, in the hottest hour, and as a table by temperature."""
    salinity = physics.salinity_from_conductivity(conductivity_ms_cm=sheet["oxygen.conductivity"] / 1000.0)
    pressure, beta = sheet.result("place.air_pressure"), sheet.get("oxygen.beta")

    def at(temperature: float) -> float:
        if beta is None:
            return physics.saturation(temperature_c=temperature, pressure_pa=pressure, salinity=salinity)
        return beta * physics.saturation(temperature_c=temperature, pressure_pa=pressure, salinity=0.0)

    for key, temperature in (("oxygen.saturation", sheet["water.temperature"]),
                             ("oxygen.saturation_hottest", _hottest(sheet))):
        if beta is None:
            sheet.work(key, physics.saturation, temperature_c=temperature, pressure_pa=pressure, salinity=salinity)
        else:
            sheet.put(key, at(temperature), note="Saturation of clean water, times your share for the solution.",
                      source=physics.BENSON_KRAUSE.format("24 and 32"))
    sheet.put("oxygen.saturation_table", [{"temperature": float(t), "saturation": at(float(t))} for t in TABLE_C],
              note="Your solution at your air pressure, every five degrees from 0 to 40 C.",
              source=physics.BENSON_KRAUSE.format("24 and 32"))


def levels(sheet) -> None:
    """What others keep, and what research found."""
    sheet.put("oxygen.levels", [{"level": name, "oxygen": value, "meaning": meaning, "source": source}
                                for name, value, meaning, source in data.LEVELS],
              note="Growers' aims buy time and cover dead corners; the limit for growth in a trial is far lower.")
    sheet.put("oxygen.research_limit", data.RESEARCH_LIMIT_MG_L, note="Grown for 24 days at 24 C.",
              source=data.RESEARCH_SOURCE)


def plants(sheet) -> None:
    """How many plants breathe."""
    typed = sheet.get("oxygen.plants")
    if typed is not None:
        sheet.put("oxygen.plant_count", typed, note="As you put it in.")
    else:
        sheet.put("oxygen.plant_count", sheet.result("board.sites") * sheet["bath.count"],
                  note="Every site of every bath taken.")


def demand(sheet) -> None:
    """Oxygen wanted by roots and water, as low, likely and high."""
    bath = _bath(sheet, sheet["water.temperature"])
    three = _guesses(sheet, bath)
    for key, which in (("demand_low", HIGH), ("demand", LIKELY), ("demand_high", LOW)):
        sheet.put(f"oxygen.{key}", sum(demands(bath, three[which])),
                  note="Roots by mass and warmth, and the water's own use, in baths and reservoir.",
                  source=f"{data.ROOT_RATE_MG_G_H.source}; root mass: {data.ROOT_MASS_G[sheet['oxygen.crop']].source}; "
                         f"water: {data.WATER_MG_L_H.source}")
    if _hottest(sheet) > HOT_ROOTS_C and bath.plants > 0:
        sheet.caution("oxygen-hot-roots", "warning",
                      "Water above 30 C: roots are failing rather than breathing faster, and the demand shown is too "
                      "high. "
                      "Cool the water; more air does not mend it.")


def supply(sheet) -> None:
    """Steady oxygen in bath and reservoir with the air delivered, as low, likely and high."""
    bath = _bath(sheet, sheet["water.temperature"])
    three = _guesses(sheet, bath)
    air = sheet.result("air.delivered") * M3_S_IN_L_H
    likely = three[LIKELY]
    if sheet.get("oxygen.transfer") is None:
        sheet.work("oxygen.efficiency", physics.standard_efficiency, depth_m=bath.depth_m,
                   per_metre=data.STONE_PER_METRE[sheet["oxygen.stones"]].likely)
    else:
        sheet.put("oxygen.efficiency", likely.efficiency, note="As you put it in.")
    numbers = boxes(bath, likely, air)
    for name, litres in (("bath", bath.bath_l), ("reservoir", bath.reservoir_l)):
        if litres > 0.0:
            sheet.put(f"oxygen.transfer_{name}", numbers[f"intake_{name}_l_h"] / litres / 3600.0,
                      note="Bubbles and open surface, over the water they serve.")
    found = band(bath, three, air)
    for place, (name, relation) in enumerate((("bath", physics.steady_bath), ("reservoir", physics.steady_reservoir))):
        sheet.put(f"oxygen.{name}_low", found[LOW][place], note="Most demand and least supply of the bands, all "
                                                                "together.")
        sheet.work(f"oxygen.{name}", relation, **numbers)
        sheet.put(f"oxygen.{name}_high", found[HIGH][place], note="Least demand and most supply of the bands, all "
                                                                  "together.")
    limit = limits(bath)[1]
    brought = sum(bubble_transfer(bath, likely, air * share) * max(limit - level, 0.0)
                  for share, level in zip((bath.bath_share, 1.0 - bath.bath_share), found[LIKELY], strict=False))
    sheet.put("oxygen.brought", brought, note="Transfer by bubbles, times how far the water is below their limit.")
    watts = sheet.result("air.power")
    if watts > 0.0:
        sheet.put("oxygen.per_kwh", brought / watts * 1000.0, note="What the bubbles bring in an hour, over the air "
                                                                   "pumps' power.")
    _alarms(sheet, found)


def _alarms(sheet, found: dict[str, tuple[float, float]]) -> None:
    low, likely = found[LOW][0], found[LIKELY][0]
    alarm, act = data.LEVELS[2][1], data.LEVELS[3][1]

    def say(value: float) -> str:
        return sheet.show(value, "concentration", "mg/L", "mg/L")

    if likely < act:
        sheet.caution("oxygen-low", "danger", f"Oxygen in the bath is likely only {say(likely)}: growers act at "
                                              f"{say(act)}. "
                      "Blow more air, cool the water, or grow fewer plants in it.")
    elif likely < alarm:
        sheet.caution("oxygen-low", "warning", f"Oxygen in the bath is likely {say(likely)}, below the usual alarm of "
                      f"{say(alarm)}. Blow more air, or cool the water.")
    elif likely < sheet["oxygen.target"]:
        sheet.caution("oxygen-below-target", "warning", f"Oxygen in the bath is likely {say(likely)}, below your aim "
                                                        f"of "
                      f"{say(sheet['oxygen.target'])}.")
    elif low < alarm:
        sheet.caution("oxygen-may-be-low", "note", f"Oxygen in the bath is likely {say(likely)}, but it could be "
                                                   f"{say(low)} if "
                      "everything that is uncertain went the wrong way at once. A meter settles it.")


def need(sheet) -> None:
    """The air that holds the target through the hottest hour, beside the rule of practice."""
    bath = _bath(sheet, _hottest(sheet))
    three = _guesses(sheet, bath)
    target = sheet["oxygen.target"]
    stirring = sheet["oxygen.stirring"] * sheet["bath.count"] * sheet.result("water.surface_area")
    sheet.put("oxygen.air_stirring", stirring, note="Least air for a square metre, times the water of all baths.",
              source="FAO 589, chapter 4, as quoted in an article")
    found = {which: air_needed(bath, three[which], target) for which in (LOW, LIKELY, HIGH)}
    for key, which in (("air_physics_low", HIGH), ("air_physics", LIKELY), ("air_physics_high", LOW)):
        if found[which] is not None:
            sheet.put(f"oxygen.{key}", found[which] / M3_S_IN_L_H,
                      note="Least air whose steady oxygen in the bath is the target, by halving.")
    if found[LIKELY] is None:
        most = sheet.show(limits(bath)[1], "concentration", "mg/L", "mg/L")
        sheet.caution("oxygen-target-out-of-reach", "warning",
                      f"No amount of air likely holds {sheet.show(target, 'concentration', 'mg/L', 'mg/L')} in the "
                      f"hottest "
                      f"hour: bubbles drive this water to {most} at most. Aim lower, or keep the water cooler.")
        raise Unanswered("oxygen.target")
    if found[LOW] is None:
        sheet.caution("oxygen-target-may-fail", "note",
                      "If everything uncertain went the wrong way at once, no amount of air would hold your aim in the "
                      "hottest hour. Cooler water would.")
    air = max(found[LIKELY] / M3_S_IN_L_H * sheet["oxygen.safety"], stirring)
    sheet.put("oxygen.air_need", air, note="The likely air times the safety factor, and never less than stirs the "
                                           "water.")
    if air <= 0.0:
        return
    for key, other in (("optimum_over_need", "air.practice_optimum"), ("floor_over_need", "air.practice_floor"),
                       ("delivered_over_need", "air.delivered")):
        sheet.put(f"oxygen.{key}", sheet.result(other) / air, note="100 % is the air needed.")
    surplus = sheet.result("air.delivered") / air
    if surplus > 1.5:
        spare = sheet.result("air.power") * (1.0 - 1.0 / surplus)
        sheet.caution("oxygen-surplus", "note",
                      f"Air: you blow {surplus:.1f} times what the oxygen balance asks for. The rest is not for "
                      f"growth: it "
                      "stirs dead corners, and leaves something when stones clog or a pump dies. It draws about "
                      f"{sheet.show(spare, 'power', 'W', 'W')} day and night.")
    elif surplus < 1.0:
        sheet.caution("oxygen-short", "warning",
                      "Air: the pumps blow less than the oxygen balance asks for with its safety factor, in the "
                      "hottest hour.")


def what_matters(sheet) -> None:
    """Each input moved by its own uncertainty, ranked by what that does to oxygen in the bath."""
    bath = _bath(sheet, sheet["water.temperature"])
    three = _guesses(sheet, bath)
    air = sheet.result("air.delivered") * M3_S_IN_L_H
    rows = ranking(bath, three, air)
    sheet.put("oxygen.what_matters", rows, note="One at a time, the others likely. Temperature 2 C, air pressure 3 "
                                                "%, air and "
                                                "pumped flow 20 % either way: engineering judgement, no source.")


RANKED = (("Size of the roots", "root_g"), ("How fast roots breathe", "root_rate"), ("Breathing with warmth", "q10"),
          ("The water's own use", "water_mg_l_h"), ("What the stones give", "efficiency"),
          ("Transfer in solution beside clean water", "alpha"), ("Clogging of stones", "fouling"),
          ("Open surface", "surface_m_d"))


def ranking(bath: Bath, three: dict[str, Guess], air_l_h: float) -> list[dict]:
    """Rows of input, oxygen in the bath at both ends, and the swing between them; the largest swing first."""
    likely = three[LIKELY]
    rows = []

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
    return sorted(rows, key=lambda row: -row["swing"])


STEPS = (saturation, levels, plants, demand, supply, need, what_matters)
