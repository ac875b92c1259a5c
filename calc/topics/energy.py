"""What the pumps draw, what that costs, and whether the circuit can carry it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .. import currencies
from ..declare import Choice, Field, Result, Verdict
from ..errors import Told, Unanswered
from ..figures import number
from ..relations import electricity
from . import cheaper, heat, pulling, scheme
from .verdicts.energy import judge

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "energy"
TITLE = "Running cost"
QUESTION = "What does it draw, what does it cost, and can the circuit carry it?"
VERDICT = Verdict("Electricity", {"fits": "One circuit carries it.", "tight": "The circuit is nearly full.",
                                  "fails": "Circuit overloaded.", "open": "The cost needs an answer."})

FIELDS = (
    Field("energy.tariff", "tariff", "Price of electricity per kWh", ("0.17", "0.17"), 0.0, 1e5,
          help="from your bill, like 0.17, 17 cents, €0.31, 28p or 1.90 kr", why="an invented price; yours is on the "
          "bill"),
    *cheaper.FIELDS,
    Field("energy.other_power", "power", "Other loads that always run", ("0 W", "0 W"), 0.0, 1e6, "W", "W",
          help="a fan, a controller; not lamps, heater or chiller", why="none to begin with"),
    Field("energy.voltage", "voltage", "Mains voltage", ("120 V", "230 V"), 5.0, 500.0, "V", "V",
          help="as printed on the pump", why="the usual supply"),
    Field("energy.breaker", "current", "Circuit breaker", ("15 A", "10 A"), 0.5, 200.0, "A", "A",
          help="the number on the breaker of that circuit", why="the smallest usual circuit"),
    Field("energy.floods_per_day", "whole", "Floods a day, for comparison", ("4", "4"), 0, 96,
          help="a timed system instead of running all day",
          why="15 minutes four times a day; common practice, no published source", when=scheme.WITH_RESERVOIR),
    Field("energy.flood_minutes", "time", "Length of one flood", ("15 min", "15 min"), 0.0, 86400.0, "min", "min",
          help="minutes that the pump runs at each flood", why="common practice, no published source",
          when=scheme.WITH_RESERVOIR),
    Field("energy.season_days", "whole", "Days of heater or chiller", ("365", "365"), 0, 366,
          help="days a year like the one under Temperature",
          why="every day like that one: the most it can come to"),
    Field("energy.currency", "choice", "Currency", ("$", "€"), choices=(
        *(Choice(one.sign, one.sign) for one in currencies.CURRENCIES), Choice(currencies.NONE, "no sign")),
        help="for every amount; nothing is exchanged",
        why="a guess from the units"),
)
TABLES = ()

RESULTS = (
    Result("energy.money", "text", "Currency of all amounts"),
    Result("energy.price_read", "text", "Price of electricity, as read"),
    Result("energy.power", "power", "Power of all that is always on", "W", "W"),
    Result("energy.per_day", "energy", "Electricity per day, always on", "kWh", "kWh"),
    Result("energy.per_year", "energy", "Electricity per year, always on", "kWh", "kWh"),
    Result("energy.cost_per_year", "money", "Electricity cost per year, always on"),
    Result("energy.lamps_per_year", "energy", "Electricity per year, all lamps", "kWh", "kWh"),
    Result("energy.lamps_cost_per_year", "money", "Electricity cost per year, all lamps"),
    *cheaper.RESULTS,
    Result("energy.warmth_per_year", "energy", "Electricity per year, heater and chiller", "kWh", "kWh"),
    Result("energy.warmth_cost_per_year", "money", "Electricity cost per year, heater and chiller"),
    Result("energy.all_per_year", "energy", "Electricity per year, all together", "kWh", "kWh"),
    Result("energy.all_cost_per_year", "money", "Electricity cost per year, all together"),
    Result("energy.air_readings", "rows", "Electricity cost per year of the air by each rule"),
    Result("energy.flood_share", "ratio", "Share of the day a timed pump would run", "%", "%"),
    Result("energy.flood_per_year", "energy", "Water pump on timed floods, energy a year", "kWh", "kWh"),
    Result("energy.flood_saving", "money", "A timed water pump would save each year"),
    Result("energy.circuit_limit", "power", "Most this circuit should carry all day", "W", "W"),
    Result("energy.circuit_load", "power", "All that may run on it at one time", "W", "W"),
    Result("energy.circuit_share", "ratio", "Share of that limit used", "%", "%"),
)
DAYS_A_YEAR = 365
# No household pays two dollars, euros or pounds for a kilowatt-hour; common practice, no published source.
LIKELY_CENTS = 2.0


def money(sheet: Sheet) -> None:
    """The one currency of the plan: as written with the price of electricity, else as chosen."""
    sign = sheet.input_if_any("energy.tariff.sign", str) or sheet.text("energy.currency")
    sheet.put("energy.money", sign, note="As written with the price of electricity, or as chosen where nothing is "
              "written there. Nothing is exchanged.")
    for table in ("air.pumps", "circulation.pumps", "parts.prices", "parts.own_lines"):
        try:
            others = {row["price_sign"] for row in sheet.rows(table)} - {"", sign}
        except Unanswered:
            continue
        if others:
            sheet.caution("mixed-money", "warning", f"Prices: some are written in {', '.join(sorted(others))}, while "
                          f"this plan counts in {'no currency' if sign == currencies.NONE else sign}. Nothing is "
                          "exchanged here, so their sum means nothing: write them all in one currency.",
                          lead="Mixed currencies",
                          brief=f"Some prices are in {', '.join(sorted(others))}: write them all in one currency.")


def tariff(sheet: Sheet) -> None:
    """The price of a kilowatt-hour as read; one that looks like cents is asked about before anything is worked out."""
    price, sign = sheet["energy.tariff"], sheet.result("energy.money", str)
    digits_after = 2 if round(price, 2) == price else 4
    said = currencies.amount(price, sign, digits_after)
    sure = sheet.input_if_any("energy.tariff.sure", bool)
    if price > LIKELY_CENTS and sign in currencies.OFTEN_IN_CENTS and not sure:
        cents = f"{number(price, 6)} {'pence' if sign == '£' else 'cents'}"
        written = sheet.input_if_any("energy.tariff.sign", str) or ""
        # With its currency, so that what was confirmed is confirmed for this amount alone.
        bare = f"{number(price, 6)} {'' if sign == currencies.NONE else sign}".strip()
        sheet.fault("energy.tariff", Told(
            f"Price of electricity per kWh: do you mean {cents}? Type {number(price / 100, 6)}, or {cents}. If one kWh "
            f"really costs {said}, type “{bare} {currencies.SURE}”. No cost is worked out until then.",
            ((cents, f"{number(price / 100, 6)} {written}".strip()), (f"Really {said}", f"{bare} {currencies.SURE}"))))
    sheet.put("energy.price_read", f"{said} a kWh", note="As you put it in, in the currency of this plan.")


def power(sheet: Sheet) -> None:
    """Add up what is always on; without a pump found yet, say so by not answering."""
    total = scheme.air_pump_w(sheet) + scheme.water_pump_w(sheet) + sheet["energy.other_power"]
    sheet.put("energy.power", total, note=f"{'The pumps and other' if scheme.has_air(sheet) else 'Other'} loads, from "
              "their labels.")


def use(sheet: Sheet) -> None:
    """Energy a day and a year, and its cost."""
    watts = sheet.result("energy.power")
    sheet.work("energy.per_day", electricity.energy_used, power_w=watts, hours=24)
    year = sheet.work("energy.per_year", electricity.energy_used, power_w=watts, hours=24 * DAYS_A_YEAR)
    sheet.work("energy.cost_per_year", electricity.energy_cost, energy_kwh=year,
               price_per_kwh=sheet["energy.tariff"])


def lamps(sheet: Sheet) -> None:
    """What the lamps add: they burn for hours a day, and often cost more than all the pumps."""
    year = sheet.result("light.energy_per_day") * DAYS_A_YEAR
    sheet.put("energy.lamps_per_year", year, note="What the lamps take in a day, every day of a year.")
    sheet.work("energy.lamps_cost_per_year", electricity.energy_cost, energy_kwh=year,
               price_per_kwh=sheet["energy.tariff"])


def warmth(sheet: Sheet) -> None:
    """What heater and cooler add, where the day that was worked out needs them."""
    day = ((sheet.result("heat.heater_energy") if heat.needs_heater(sheet) else 0.0)
           + (sheet.result("heat.cooler_energy") if heat.needs_cooler(sheet) else 0.0))
    days = sheet["energy.season_days"]
    year = day * days
    sheet.put("energy.warmth_per_year", year, note=f"What they use on the day that Temperature works out, for {days} "
              "days a year; nothing where the water leaves its band by less than a degree.")
    sheet.work("energy.warmth_cost_per_year", electricity.energy_cost, energy_kwh=year,
               price_per_kwh=sheet["energy.tariff"])


def together(sheet: Sheet) -> None:
    """Everything that draws: what is always on, lamps, heater and cooler, as far as each could be worked out."""
    on = "pumps and other loads" if scheme.has_air(sheet) else "loads"
    parts = {f"{on} that are always on": "energy.per_year", "lamps": "energy.lamps_per_year",
             "heater and chiller": "energy.warmth_per_year"}
    found = {words: sheet.result_if_any(key) for words, key in parts.items()}
    year = sheet.result("energy.per_year") + sum(
        kwh for words, kwh in found.items() if kwh is not None and parts[words] != "energy.per_year")
    counted = ", ".join(words for words, kwh in found.items() if kwh is not None)
    left = ", ".join(words for words, kwh in found.items() if kwh is None)
    note = f"Counted: {counted}." + (f" Not worked out, so not counted: {left}." if left else "")
    sheet.put("energy.all_per_year", year, note=note)
    cost = electricity.energy_cost(energy_kwh=year, price_per_kwh=sheet["energy.tariff"])
    sheet.put("energy.all_cost_per_year", cost, note=note)


def air_readings(sheet: Sheet) -> None:
    """What the air of each rule and reading would cost a year, so that the rule is chosen with its cost in sight."""
    rows = []
    for row in sheet.rows_if_any("air.readings"):
        if row["watts"] is not None:
            year = electricity.energy_used(power_w=row["watts"], hours=24 * DAYS_A_YEAR)
            rows.append({"rule": row["rule"], "cost": electricity.energy_cost(
                energy_kwh=year, price_per_kwh=sheet["energy.tariff"])})
    sheet.put("energy.air_readings", rows, note="Its pumps' watts, day and night, at your price.")


def timed(sheet: Sheet) -> None:
    """The same water pump on timed floods; the air must run on regardless."""
    if not scheme.circulates(sheet):
        return
    minutes = sheet["energy.flood_minutes"] / 60
    floods = sheet.whole("energy.floods_per_day")
    if floods * minutes > 24 * 60:
        sheet.fault("energy.flood_minutes",
                    f"Length of one flood: {floods} floods of {number(minutes)} minutes are more than a day; enter "
                    f"{24 * 60 // floods} min or less.", {"energy.floods_per_day": ""})
    share = sheet.work("energy.flood_share", electricity.flooding_share, floods_per_day=floods, minutes_each=minutes)
    pump = sheet.result("circulation.power")
    all_day = electricity.energy_used(power_w=pump, hours=24 * DAYS_A_YEAR)
    sheet.put("energy.flood_per_year", all_day * share, note="The water pump's energy for a year, times that share.")
    sheet.put("energy.flood_saving", all_day * (1 - share) * sheet["energy.tariff"],
              note="The water pump's yearly cost, less its cost on timed floods. The air pump runs all day in both.")


def _warmth_w(sheet: Sheet) -> float:
    """What the heater or the cooler draws in its hardest hour; nothing where none is needed or known."""
    try:
        heater = sheet.result("heat.warm_peak") if heat.needs_heater(sheet) else 0.0
        cooler = sheet.result("heat.cooler_draw") if heat.needs_cooler(sheet) else 0.0
    except Unanswered:
        return 0.0
    unit = sheet.optional("heat.unit_power")
    if unit is not None:
        # A thermostat switches a heater or a chiller on whole, however little it is needed for.
        kind = sheet.text("heat.unit_kind")
        heater = max(heater, unit) if heater and kind != pulling.CHILLER else heater
        cooler = max(cooler, unit / sheet["heat.performance"]) if cooler and kind != pulling.HEATER else cooler
    return float(max(heater, cooler))


def circuit(sheet: Sheet) -> None:
    """Load on the circuit against the 80 % rule for loads that run three hours or more."""
    limit = sheet.work("energy.circuit_limit", electricity.continuous_limit, rating_a=sheet["energy.breaker"],
                       voltage_v=sheet["energy.voltage"])
    # Lamps of a bath burn longer than the three hours that make a load continuous.
    load = sheet.result("energy.power") + (sheet.result_if_any("light.power") or 0.0) + _warmth_w(sheet)
    sheet.put("energy.circuit_load", load, note="Power always on, the lamps, and the heater or the chiller, whichever "
              "draws more: they do not run at one time. One that you have draws all it can while it is on.")
    share = load / limit
    sheet.put("energy.circuit_share", share, note="That load, divided by that limit. Count what else is plugged into "
              "the same circuit.")
    if share > 1:
        sheet.caution("circuit", "danger",
                      f"Circuit: {sheet.shown_as('energy.power', load)} for hours on end is more than the "
                      f"{sheet.shown('energy.circuit_limit')} that this breaker should carry. Have a licensed "
                      "electrician add a circuit.", lead="Circuit overloaded",
                      brief=f"{sheet.shown_as('energy.power', load)} where it should carry "
                            f"{sheet.shown('energy.circuit_limit')} at most.")


def electricity_cautions(sheet: Sheet) -> None:
    """Mains power beside water, where there is any."""
    if not sheet.result("energy.power") and not sheet.result_if_any("light.power"):
        return
    sheet.caution("mains", "danger",
                  "Mains power by water: plug every pump into a GFCI (RCD) protected outlet, above the water line, "
                  "with a drip loop in each cord. Unplug before you reach into the water. Wiring is a licensed "
                  "electrician's work, and local code decides.", lead="Mains by water",
                  brief="GFCI (RCD) outlet above the water, drip loops; unplug before you reach in.", standing=True)


STEPS = (money, tariff, power, use, lamps, *cheaper.STEPS, warmth, together, air_readings, timed, circuit,
         electricity_cautions, judge)
