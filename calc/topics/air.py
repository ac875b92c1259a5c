"""How much air the water is asked to get, and which pumps, stones and hoses bring it down there."""

from __future__ import annotations

from dataclasses import dataclass
from operator import add
from typing import TYPE_CHECKING

from .. import units
from ..data.pumps import AIR_PUMPS
from ..data.pumps import SOURCE as PUMPS_SOURCE
from ..declare import Choice, Field, Result, Row, Table, Verdict, only_when
from ..errors import Unanswered
from ..models.balance import (
    HIGH,
    LIKELY,
    LOW,
    M3_S_IN_L_H,
    air_band,
    air_needed,
    limits,
)
from ..numeric.choose import MOST_OF_LARGEST, choose_pumps
from ..relations import air as physics
from ..relations.base import PRACTICE
from . import saturated, scheme
from .blowing import grid, pressure, pumps, stones
from .breathing import bath_of, guesses_of, hottest
from .owned import air_pumps, called, names
from .warmth import HOTTEST_C, high_of_day, put_hottest
from .verdicts.air import judge

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "air"
TITLE = "Air"
QUESTION = "How much air does the water need, and which pumps bring it down there?"
VERDICT = Verdict("Air", {"fits": "Enough air.", "tight": "Air is tight.", "fails": "Too little air.",
                          "open": "Air needs an answer."})

GALLON_M3 = 3.785411784e-3
LITRE_M3 = 1e-3
MINUTE_S, HOUR_S = 60.0, 3600.0
OPTIMUM_L_GAL, FLOOR_L_GAL = 28.0, 15.0
PRACTICE_SOURCE = f"28 L per US gallon as the optimum and 15 as the floor: {PRACTICE}; it is said without a time"
OXYGEN, OPTIMUM, FLOOR, OWN = "oxygen", "optimum", "floor", "own"
PER_MINUTE, PER_HOUR, UNCHOSEN = "per minute", "per hour", "unchosen"
BATH_ONLY, ALL_WATER = "bath", "bath and reservoir"
WATTS, PRICE = "fewest watts", "lowest price"
MANY_PUMPS = 8
ROUNDS, SETTLED_K, HAIR = 8, 0.05, 1e-9
EACH_PUMP_W, EACH_PUMP_PRICE = 3.0, 5.0
JUDGMENT = "engineering judgment, no source"

WHEN = scheme.WITH_AIR
FIELDS = only_when(WHEN, (
    Field("air.rule", "choice", "Air to aim for", (OXYGEN, OXYGEN), choices=(
        Choice(OXYGEN, "Oxygen balance, with safety"),
        Choice(OPTIMUM, "Rule of practice: 28 L a gallon"),
        Choice(FLOOR, "Least by practice: 15 L a gallon"),
        Choice(OWN, "My own rate"),
    ), help="what the roots take up, or a rule of growers; both are shown",
        why="the balance follows your plants, water and warmth; the rule of practice follows the volume alone"),
    Field("air.reading", "choice", "The rule of practice means", (UNCHOSEN, UNCHOSEN), choices=(
        Choice(UNCHOSEN, "Not said yet: taken as every minute"), Choice(PER_MINUTE, "So much every minute"),
        Choice(PER_HOUR, "So much every hour"),
    ), help="quoted without a time; every hour is a sixtieth of every minute",
        why="pump plates are printed in liters a minute, so that stands until you choose"),
    Field("air.own_rate", "air_rate", "My own air rate", ("1 L/min/gal", "0.25 L/min/L"), 0.0, 10.0, "L/min/gal",
          "L/min/L", help="air for each gallon or liter of water", why="a placeholder; put in the rate you trust",
          when=(("air.rule", (OWN,)),)),
    Field("air.aerated", "choice", "Which water gets air", (ALL_WATER, ALL_WATER), choices=(
        Choice(ALL_WATER, "Bath and reservoir"), Choice(BATH_ONLY, "The baths only"),
    ), help="the reservoir can have stones too", why="the rule is quoted per gallon of working water",
          when=scheme.WITH_RESERVOIR),
    Field("air.depth", "length", "Depth of the stones", ("", ""), 0.0, 5.0, "in", "cm",
          help="from the water line down to the top of the stone, in the bath",
          why="empty: the bath's water depth less the height of a stone", optional=True),
    Field("air.stone_height", "length", "Height of a stone", ("1 in", "25 mm"), 0.0, 0.5, "in", "mm",
          help="of the stone lying on the floor", why="engineering judgment; measure yours"),
    Field("air.stone_pressure", "pressure", "Pressure a wet stone takes", ("1 kPa", "1 kPa"), 0.0, 50000.0, "inH2O",
          "kPa", help="to push air through the wet pores, beside the depth",
          why="coarse stones 0.3 to 2 kPa: an assumption, from memory, not verified; fine ceramic takes 1 to 5 kPa"),
    Field("air.stone_flow", "flow", "Air for each stone", ("20 L/min", "20 L/min"), 1e-7, 0.1, "L/min", "L/min",
          help="how much one stone is meant to pass; each has its own hose",
          why="a large disc or bar stone: engineering judgment, no source; small stones pass about 4 L/min "
              "(FAO 589, chapter 4, as quoted in an article)"),
    Field("air.stone_area", "area", "Floor for each stone", ("4 ft2", "0.4 m2"), 0.01, 100.0, "ft2", "m2",
          help="a stone for so much floor, so that no corner stands still",
          why="engineering judgment, no source; FAO 589, chapter 4, as quoted in an article, has one for 2 to 4 m²"),
    Field("air.hose_bore", "length", "Air hose bore", ("3/8 in", "9.5 mm"), 0.001, 0.2, "in", "mm",
          help="inside diameter of the hose to one stone",
          why="3/8 in keeps friction small at 20 L/min: engineering judgment"),
    Field("air.hose_length", "length", "Air hose to one stone", ("6 ft", "2 m"), 0.0, 200.0, "ft", "m",
          help="from the pump to the stone", why="an invented example; measure your own"),
    Field("air.goal", "choice", "Choose pumps for", (WATTS, WATTS), choices=(
        Choice(WATTS, "the fewest watts"), Choice(PRICE, "the lowest price"),
    ), help="what to keep small", why="air pumps run day and night, so watts soon cost more than the pump"),
    Field("air.spare", "yesno", "Enough if one pump dies", ("no", "no"),
          help="the largest stopped, the least air wanted still comes",
          why="no: it costs more; yes is worth it where nobody looks in every day"),
))

TABLES = (
    Table("air.pumps", "Air pumps I can get", (
        Field("name", "text", "Pump", help="any name"),
        Field("free_flow", "flow", "Free-air flow", ("10 L/min", "10 L/min"), 1e-7, 1.0, "L/min", "L/min",
              help="the flow on the plate, with nothing to push against"),
        Field("shutoff", "pressure", "Shut-off pressure", ("20 kPa", "20 kPa"), 1.0, 1e6, "psi", "kPa",
              help="the most it can push, when no air moves; a plate may call it maximum pressure"),
        Field("power", "power", "Power", ("6 W", "6 W"), 0.01, 50000.0, "W", "W", help="from the plug, on the plate"),
        Field("price", "money", "Price", minimum=0.0, maximum=1e6, optional=True, help="optional"),
        Field("owned", "whole", "I own", minimum=0, maximum=1000, optional=True, help="how many you already have"),
        Field("points", "text", "Measured points", optional=True,
              help="optional, L/min @ kPa: 20 @ 0, 14 @ 5, 6 @ 15"),
    ), AIR_PUMPS, help="plate values; with measured points the curve goes through them instead of a straight line",
        why=PUMPS_SOURCE, when=WHEN),
)

RESULTS = (
    Result("air.water", "volume", "Water that gets air, all of it", "gal", "L"),
    Result("air.practice_optimum", "flow", "Rule of practice, 28 L a gallon, all the water", "L/min", "L/min"),
    Result("air.practice_floor", "flow", "Rule of practice, 15 L a gallon, all the water", "L/min", "L/min"),
    Result("air.optimum_per_minute", "flow", "28 L a gallon, if the rule means every minute", "L/min", "L/min"),
    Result("air.optimum_per_hour", "flow", "28 L a gallon, if the rule means every hour", "L/min", "L/min"),
    Result("air.floor_per_minute", "flow", "15 L a gallon, if the rule means every minute", "L/min", "L/min"),
    Result("air.floor_per_hour", "flow", "15 L a gallon, if the rule means every hour", "L/min", "L/min"),
    Result("air.oxygen_low", "flow", "Air for all, for the oxygen in the hottest hour, low", "L/min", "L/min"),
    Result("air.oxygen_likely", "flow", "Air for all, for the oxygen in the hottest hour, likely", "L/min",
           "L/min"),
    Result("air.oxygen_high", "flow", "Air for all, for the oxygen in the hottest hour, high", "L/min", "L/min"),
    Result("air.stirring", "flow", "Least air to stir all the water", "L/min", "L/min"),
    Result("air.oxygen_need", "flow", "Oxygen balance for all, with safety and stirring", "L/min", "L/min"),
    Result("air.target", "flow", "Air to aim for, all the water", "L/min", "L/min"),
    Result("air.stone_depth", "length", "Depth of the stones", "in", "cm", 16),
    Result("air.water_pressure", "pressure", "Pressure of the water over the stone", "inH2O", "kPa"),
    Result("air.hose_pressure", "pressure", "Friction in a hose at a stone's full flow", "inH2O", "kPa"),
    Result("air.back_pressure", "pressure", "Pressure the pump works against", "inH2O", "kPa"),
    Result("air.pump_flows", "rows", "What each pump on the list delivers down there"),
    Result("air.pumps_chosen", "rows", "Air pumps to buy"),
    Result("air.pumps_words", "text", "Air pumps to ask for"),
    Result("air.pumps_running", "rows", "Air pumps that run"),
    Result("air.pump_count", "count", "Air pumps, all"),
    Result("air.delivered", "flow", "Air delivered at depth, all pumps", "L/min", "L/min"),
    Result("air.delivered_one_dead", "flow", "Air left with the largest pump dead", "L/min", "L/min"),
    Result("air.power", "power", "Air pumps, power of all", "W", "W"),
    Result("air.price", "money", "Air pumps, price of all"),
    Result("air.pneumatic_power", "power", "Of which reaches the air", "W", "W"),
    Result("air.stones", "count", "Air stones, all"),
    Result("air.stones_per_bath", "count", "Air stones in one bath"),
    Result("air.stones_reservoir", "count", "Air stones in the reservoir"),
    Result("air.stone_rows", "rows", "Where the stones lie in one bath"),
    Result("air.stone_spacing", "length", "Stone to nearest stone", "in", "cm", 8),
    Result("air.hose_total", "length", "Air hose in all", "ft", "m"),
    Result("air.manifolds", "count", "Manifolds, all"),
    Result("air.outlets", "count", "Outlets with a valve, on all manifolds"),
    Result("air.check_valves", "count", "Check valves, all"),
    Result("air.readings", "rows", "What each rule and reading would take"),
    Result("air.owned_flow", "flow", "Air from all the pumps I own", "L/min", "L/min"),
    Result("air.owned_words", "text", "Whether the pumps I own suffice"),
    Result("air.optimum_water", "volume", "Water that all these pumps keep at 28 L a gallon", "gal", "L"),
    Result("air.floor_water", "volume", "Water that all these pumps keep at 15 L a gallon", "gal", "L"),
)


def practice_rate(litres_per_gallon: float, reading: str) -> float:
    """The practice rule as air per water and second (1/s)."""
    return litres_per_gallon * LITRE_M3 / GALLON_M3 / (HOUR_S if reading == PER_HOUR else MINUTE_S)


def reading_of(sheet: Sheet) -> str:
    """How the rule of practice is read: as chosen by who takes the rule; per minute stands while nobody chose."""
    chosen = sheet.input_if_any("air.reading", str)
    return str(chosen) if chosen in (PER_MINUTE, PER_HOUR) else PER_MINUTE


def practice(sheet: Sheet) -> None:
    """Air by the rule of practice, under both readings."""
    every = scheme.circulates(sheet) and sheet.text("air.aerated") == ALL_WATER
    water = (sheet.result("water.working_volume") if every
             else sheet.whole("bath.count") * sheet.result("water.bath_volume"))
    sheet.put("air.water", water, note="All the working water." if every
              else "Water in one bath, times the number of baths.")
    reading = reading_of(sheet)
    for name, litres in (("optimum", OPTIMUM_L_GAL), ("floor", FLOOR_L_GAL)):
        for key, one in ((f"air.practice_{name}", reading), (f"air.{name}_per_minute", PER_MINUTE),
                         (f"air.{name}_per_hour", PER_HOUR)):
            sheet.work(key, physics.air_by_water, volume_m3=water, rate_per_s=practice_rate(litres, one))


def _likely_need(sheet: Sheet, temperature_c: float) -> float | None:
    """Air in m3/s that the balance likely asks for at a water temperature; ``None`` where no amount would do."""
    bath = bath_of(sheet, temperature_c)
    litres = air_needed(bath, guesses_of(sheet, bath)[LIKELY], sheet["oxygen.target"])
    return None if litres is None else max(litres / M3_S_IN_L_H * sheet["oxygen.safety"], _stirring(sheet))


def _stirring(sheet: Sheet) -> float:
    return float(sheet["oxygen.stirring"] * sheet.whole("bath.count") * sheet.result("water.surface_area"))


def settle(sheet: Sheet) -> None:
    """The hottest hour and the air blown, each of which moves the other, found together.

    Blown air cools and its pumps warm; warmer water asks for more air. A few rounds settle it. Where pumps come in
    steps so coarse that it swings to and fro, the warmer of the two is kept, which asks for more air.
    """
    if sheet.optional("oxygen.hottest") is not None:
        put_hottest(sheet, None, "")
        return
    fixed = None if sheet.text("air.rule") == OXYGEN else _by_rule(sheet)
    high = high_of_day(sheet, 0.0, 0.0)
    seen = [] if high is None else [high]
    while seen and len(seen) < ROUNDS:
        target = _likely_need(sheet, min(max(seen[-1], sheet["water.temperature"]), HOTTEST_C)) if fixed is None \
            else fixed
        if target is None:
            break
        found = _pick(sheet, target)
        high = high_of_day(sheet, found.flow, found.watts)
        if high is None:
            break
        seen.append(high)
        if abs(seen[-1] - seen[-2]) < SETTLED_K:
            break
    if not seen:
        put_hottest(sheet, None, "")
    elif len(seen) > 1 and abs(seen[-1] - seen[-2]) >= SETTLED_K:
        put_hottest(sheet, max(seen[-2:]), "Worked out together with the air, but pumps come in coarse steps: it "
                    "swings between two answers, and the warmer is kept.")
    else:
        put_hottest(sheet, seen[-1], "Worked out together with the air blown in, which cools the water and is "
                    f"chosen by its warmth: settled in {len(seen) - 1} round{'' if len(seen) == 2 else 's'}.")


def balance(sheet: Sheet) -> None:
    """Air by the oxygen balance: what holds the oxygen wanted through the hottest hour."""
    bath = bath_of(sheet, hottest(sheet))
    three = guesses_of(sheet, bath)
    target = sheet["oxygen.target"]
    sheet.put("air.stirring", _stirring(sheet),
              note="Least air for a square meter, times the water of all baths.",
              source="FAO 589, chapter 4, as quoted in an article")
    found = air_band(bath, three, target)
    worst = air_needed(bath, three[LOW], target)
    at_worst = (f" With every uncertain number at its bad end at once it would be "
                f"{sheet.shown_as('air.oxygen_high', worst / M3_S_IN_L_H)}." if worst is not None else
                " With every uncertain number at its bad end at once no amount would do.")
    for key, which, share in (("oxygen_low", HIGH, "One bath in twenty needs less. "), ("oxygen_likely", LIKELY, ""),
                              ("oxygen_high", LOW, "One bath in twenty needs more. ")):
        air = found[which]
        if air is not None:
            sheet.put(f"air.{key}", air / M3_S_IN_L_H,
                      note=f"{share}Least air whose steady oxygen in the bath is the oxygen to keep, by narrowing "
                           f"down.{at_worst if which == LOW else ''}")
    likely = found[LIKELY]
    if likely is None:
        most = sheet.shown_as("oxygen.target", limits(bath)[1])
        sheet.caution("oxygen-target-out-of-reach", "warning",
                      f"Air: no amount of it likely holds {sheet.shown('oxygen.target')} in the "
                      f"hottest hour: bubbles drive this water to {most} at most. Ask for less oxygen to keep, or keep "
                      "the water cooler.", lead="Aim out of reach",
                      brief=f"No air holds {sheet.shown('oxygen.target')} in the hottest hour; bubbles reach {most} "
                            "at most.")
        raise Unanswered("oxygen.target")
    saturated.say_near_limit(sheet, bath, three[LIKELY], target, likely)
    if found[LOW] is None:
        sheet.caution("oxygen-target-may-fail", "note",
                      "Air: in about one bath in twenty no amount of it would hold the oxygen you want in the hottest "
                      "hour. Cooler water would.", lead="Aim may fail",
                      brief="One bath in twenty stays under your oxygen in the hottest hour; cooler water helps.")
    sheet.put("air.oxygen_need",
              max(likely / M3_S_IN_L_H * sheet["oxygen.safety"], sheet.result("air.stirring")),
              note="The likely air times the safety factor, and never less than stirs the water.")


def _rate(sheet: Sheet) -> float:
    """Air for each volume of water and second (1/s), by the rule of practice or the reader's own rate."""
    rule = sheet.text("air.rule")
    if rule == OWN:
        return sheet["air.own_rate"]
    return practice_rate(OPTIMUM_L_GAL if rule == OPTIMUM else FLOOR_L_GAL, reading_of(sheet))


def _by_rule(sheet: Sheet) -> float:
    return sheet.result("air.water") * _rate(sheet)


def aim(sheet: Sheet) -> None:
    """The air aimed for, by the rule chosen."""
    rule, reading = sheet.text("air.rule"), reading_of(sheet)
    if rule == OXYGEN:
        sheet.put("air.target", sheet.result("air.oxygen_need"),
                  note="The oxygen balance in the hottest hour, with its safety factor, and enough to stir.")
    else:
        sheet.work("air.target", physics.air_by_water, volume_m3=sheet.result("air.water"), rate_per_s=_rate(sheet))
    if rule not in (OPTIMUM, FLOOR):
        return
    minute, hour = (sheet.shown(f"air.{rule}_per_{time}") for time in ("minute", "hour"))
    asked = sheet.shown("air.oxygen_need") if sheet.result_if_any("air.oxygen_need") else ""
    physics_says = f" The oxygen balance asks for {asked}." if asked else ""
    chosen = sheet.input_if_any("air.reading", str) != UNCHOSEN
    says = (f"you read it {reading}" if chosen else
            "you have not chosen, so per minute stands: choose, with both in sight")
    sheet.caution("air-reading", "note" if chosen else "warning",
                  f"Air rule: {PRACTICE}, and it is said without a time. Read per minute it asks for {minute}, read "
                  f"per hour for {hour}; {says}.{physics_says} A rule of thumb is not oxygen physics: start where you "
                  "can, and watch the roots.", lead="The rule of practice",
                  brief=f"Per minute it asks for {minute}, per hour for {hour}: say how you read it.")


def readings(sheet: Sheet) -> None:
    """What each rule and reading would take, side by side: air, pumps and watts; cost is worked out with the others."""
    asked = [("The oxygen balance, with its safety factor", sheet.result_if_any("air.oxygen_need"))]
    for name, words in ((FLOOR, "15 L a gallon"), (OPTIMUM, "28 L a gallon")):
        asked += [(f"{words}, if the rule means every {time}", sheet.result(f"air.{name}_per_{time}"))
                  for time in ("hour", "minute")]
    rows = []
    for words, flow in asked:
        if flow is None:
            continue
        found = _pick(sheet, flow)
        rows.append({"rule": words, "flow": flow, "pumps": sum(found.counts) if found.enough else None,
                     "watts": found.watts if found.enough else None})
    sheet.put("air.readings", rows, note="From the same list of pumps; empty where the list cannot do it.",
              source=PRACTICE_SOURCE)


@dataclass(frozen=True)
class Pick:
    """The pumps that run: those owned first, then those to buy; ``enough`` is false where the list cannot do more."""

    counts: tuple[int, ...]
    bought: tuple[int, ...]
    flow: float
    watts: float
    enough: bool
    proved: bool = True
    bound: float = 0.0


def _price_of(row: Row, by_price: bool) -> float | None:
    """What one pump counts in the choice: watts or money, and its share of plugs, noise and things that fail."""
    if by_price:
        return None if row["price"] is None else row["price"] + EACH_PUMP_PRICE
    return float(row["watts"]) + EACH_PUMP_W


def _pick(sheet: Sheet, target: float) -> Pick:
    """Pumps for a target in m3/s. What is owned runs in any case; what is bought is the cheapest set for the rest."""
    rows = sheet.result_rows("air.pump_flows")
    by_price = sheet.text("air.goal") == PRICE
    owned = tuple(row["owned"] if row["delivered"] > 0.0 else 0 for row in rows)
    there = sum(count * row["delivered"] for count, row in zip(owned, rows, strict=True))
    costs = [_price_of(row, by_price) for row in rows]
    able = [place for place, row in enumerate(rows) if row["delivered"] > 0.0 and costs[place] is not None]
    # A pump near its shut-off gives next to nothing at one inch more: only where nothing else will do.
    able = [place for place in able if not rows[place]["strained"]] or able
    lacking, floor = target - there, _floor(sheet)
    if floor > 0.0 and there > 0.0:
        # Whatever pump is the largest may stop, an owned one too.
        lacking = max(lacking, floor + max(row["delivered"] for row in rows) - there)
    bought = [0] * len(rows)
    enough, proved, bound = True, True, 0.0
    if lacking > HAIR * target and target > 0.0:
        chosen = choose_pumps(tuple(rows[place]["delivered"] for place in able),
                              tuple(costs[place] or 0.0 for place in able), lacking, 0.0 if there > 0.0 else floor)
        enough = chosen is not None
        if chosen is not None:
            proved, bound = chosen.proved, chosen.bound
            for place, count in zip(able, chosen.counts, strict=True):
                bought[place] = count
    counts = tuple(map(add, owned, bought))
    return Pick(counts, tuple(bought), sum(count * row["delivered"] for count, row in zip(counts, rows, strict=True)),
                sum(count * row["watts"] for count, row in zip(counts, rows, strict=True)), enough, proved, bound)


def _floor(sheet: Sheet) -> float:
    """Air in m3/s that must still come with the largest pump dead; 0 where that is not asked for."""
    if not sheet.yes("air.spare"):
        return 0.0
    if sheet.text("air.rule") != OXYGEN:
        return sheet.result("air.practice_floor")
    return max(sheet.result_if_any("air.oxygen_likely") or 0.0, _stirring(sheet))


def choose(sheet: Sheet) -> None:
    """The pumps: those owned, and the fewest watts, or the lowest price, for what is lacking."""
    rows, target = sheet.result_rows("air.pump_flows"), sheet.result("air.target")
    by_price = sheet.text("air.goal") == PRICE
    unpriced = [row for row in rows if by_price and row["price"] is None]
    if unpriced:
        sheet.caution("air-no-price", "note", f"Left out of the choice by price, having none: {names(unpriced)}.",
                      lead="Pumps without price", brief=f"{len(unpriced)} left out of the choice by price.")
    if rows and len(unpriced) == len(rows) and target > 0.0 and not any(row["owned"] for row in rows):
        sheet.fault("air.goal", "No pump that can blow at this depth has a price: fill in prices, or choose the "
                                "fewest watts.")
    found = _pick(sheet, target)
    asked = sheet.shown("air.target")
    if not found.enough and rows:
        best = max(rows, key=lambda row: row["delivered"])
        gives = sheet.shown_as("air.delivered", best["delivered"])
        sheet.caution("air-pumps-too-small", "warning",
                      f"The air pumps on the list are too small for {asked}: {called(best, 'the largest')} gives "
                      f"{gives} at depth, so it would take more than {MOST_OF_LARGEST} of them. Put larger pumps on "
                      "the list, or check how the rule is read.", lead="Air pumps too small",
                      brief=f"The largest gives {gives} at depth, and {asked} is needed.")
    elif not rows and target > 0.0:
        sheet.caution("air-no-pump", "warning", f"No air pump is on the list, so no air is counted; {asked} would be "
                      "needed. Put in a pump, or choose a bath without air.", lead="No air pump",
                      brief=f"None is on the list; {asked} would be needed.")
    _put_chosen(sheet, rows, found, by_price)


def _put_chosen(sheet: Sheet, rows: list[Row], found: Pick, by_price: bool) -> None:
    running = [(count, row) for count, row in zip(found.counts, rows, strict=True) if count]
    buying = [(count, row) for count, row in zip(found.bought, rows, strict=True) if count]
    sheet.put("air.pumps_chosen", [
        {"name": row["name"], "quantity": count, "delivered": row["delivered"], "watts": row["watts"],
         "pressure": row["pressure"], "price": row["price"], "example": row["example"]} for count, row in buying],
        note=_proof(found, by_price))
    if buying:
        sheet.put("air.pumps_words", "; ".join(air_pumps(sheet, count, row) for count, row in buying),
                  note="Flow at the stones and the pressure it takes there: what a plate must promise, or more.")
    sheet.put("air.pumps_running", [
        {"name": row["name"], "quantity": count, "delivered": row["delivered"], "watts": row["watts"],
         "stones": row["stones"]} for count, row in running], note="Those you own, and those to buy.")
    count = sum(found.counts)
    sheet.put("air.pump_count", count, note="All the pumps that run, yours and those to buy.")
    sheet.put("air.delivered", found.flow, note="What each pump delivers at depth, times how many there are.")
    sheet.put("air.delivered_one_dead", found.flow - max((row["delivered"] for _, row in running), default=0.0),
              note="Without the largest of the pumps.")
    sheet.put("air.power", found.watts, note="The plates' watts, added up.")
    if all(row["price"] is not None for _, row in buying):
        sheet.put("air.price", float(sum(count * row["price"] for count, row in buying)),
                  note="Prices from the list, for what is to be bought; the prefilled ones are invented.",
                  source=PUMPS_SOURCE)
    sheet.put("air.pneumatic_power", sum(
        (count * physics.pneumatic_power(flow_m3_s=row["delivered"], pressure_pa=row["pressure"])
         for count, row in running), 0.0), physics.pneumatic_power, note="Flow times pressure, each pump at its own.")
    _say_pumps(sheet, running, count)


def _proof(found: Pick, by_price: bool) -> str:
    """How the pumps to buy were chosen, in a sentence."""
    each = (f"{EACH_PUMP_PRICE:g} in your money more" if by_price else f"{EACH_PUMP_W:g} W more")
    counted = f"; each pump counts as {each}, for its plug, its noise and its chance to fail ({JUDGMENT})."
    if not found.proved:
        return (f"The best set found for the {'lowest price' if by_price else 'fewest watts'}; the list allows too "
                f"many ways to compare them all, and none can come under {units.number(found.bound)}{counted}")
    what = "has a lower price" if by_price else "takes fewer watts"
    return f"Every way to reach what is lacking was compared: no other set from the list {what}{counted}"


def _say_pumps(sheet: Sheet, running: list[tuple[int, Row]], count: int) -> None:
    strained = [row for _, row in running if row["strained"]]
    if strained:
        who = ", ".join(dict.fromkeys(called(row, "an air pump") for row in strained))
        sheet.caution("air-pump-strained", "warning",
                      f"Near its limit: {who} works within 15 % of its shut-off pressure at this "
                      "depth. A little more depth or a clogging stone stops it. Hang the stones higher, or take a "
                      "pump that pushes harder.", lead="Near its shut-off",
                      brief="A little more depth or a clogged stone stops the air: hang the stones higher.")
    if count > MANY_PUMPS:
        sheet.caution("air-many-pumps", "note",
                      f"{count} air pumps are many to hang, plug in and listen to. A larger pump or a blower on the "
                      "list may do the same with one plug.", lead="Many air pumps",
                      brief=f"{count} pumps to hang and plug in: a larger one may do the same.")
    if count:
        sheet.caution("air-pump-height", "warning",
                      "Hang air pumps above the water line: when a lower one stops, water can creep back through the "
                      "hose into the pump and onto the floor. Fit a check valve behind each pump all the same, and "
                      "give every cord a drip loop.", lead="Pump above water",
                      brief="Hang air pumps above the water line, with a check valve behind each.")


def owned(sheet: Sheet) -> None:
    """The other way round: what the pumps in the cupboard do, and how much water they would keep by the rule."""
    rows = sheet.result_rows("air.pump_flows")
    if not any(row["owned"] for row in rows):
        return
    flow = sum(row["owned"] * row["delivered"] for row in rows)
    sheet.put("air.owned_flow", flow, note="Each pump you own, at the depth of your stones.")
    target = sheet.result("air.target")
    has, asked = (sheet.shown_as("air.delivered", one) for one in (flow, target))
    if target > 0.0 and flow > 0.0:
        times = flow / target
        words = (f"enough: {has} at depth, {units.number(times, 2)} times the {asked} aimed for." if times >= 1.0
                 else f"not enough: {has} at depth, {times:.0%} of the {asked} aimed for.")
        sheet.put("air.owned_words", f"What you own is {words}",
                  note="Air from the pumps you own, beside the air to aim for.")
    if flow <= 0.0 or sheet.text("air.rule") not in (OPTIMUM, FLOOR):
        return
    for name, litres in (("optimum", OPTIMUM_L_GAL), ("floor", FLOOR_L_GAL)):
        sheet.put(f"air.{name}_water", flow / practice_rate(litres, reading_of(sheet)),
                  note=f"From the pumps you own, divided by the practice rate read {reading_of(sheet)}.",
                  source=PRACTICE_SOURCE)


STEPS = (practice, pressure, pumps, settle, balance, aim, choose, readings, stones, grid, owned, judge)
