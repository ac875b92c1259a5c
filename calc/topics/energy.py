"""What the pumps draw, what that costs, and whether the circuit can carry it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..declare import Choice, Field, Result
from ..relations import electricity
from . import scheme

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "energy"
TITLE = "Running cost"
QUESTION = "What does it draw, what does it cost, and can the circuit carry it?"

FIELDS = (
    Field("energy.tariff", "tariff", "Price of electricity per kWh", ("0.17", "0.17"), 0.0, 100.0,
          help="in your own money, from your bill", why="an invented price; yours is on the bill"),
    Field("energy.other_power", "power", "Other loads that always run", ("0 W", "0 W"), 0.0, 1e6, "W", "W",
          help="a lamp or heater on the same circuit", why="none to begin with"),
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
    Field("energy.currency", "choice", "Money sign", ("$", "none"), choices=(
        Choice("$", "$"), Choice("€", "€"), Choice("£", "£"), Choice("none", "no sign")),
        help="only changes how a cost is written", why="a guess from the units"),
)
TABLES = ()

RESULTS = (
    Result("energy.power", "power", "Power, always on", "W", "W"),
    Result("energy.per_day", "energy", "Energy a day, what is always on", "kWh", "kWh"),
    Result("energy.per_year", "energy", "Energy a year, what is always on", "kWh", "kWh"),
    Result("energy.cost_per_year", "money", "Cost a year, what is always on"),
    Result("energy.lamps_per_year", "energy", "Energy a year, lamps", "kWh", "kWh"),
    Result("energy.lamps_cost_per_year", "money", "Cost a year, lamps"),
    Result("energy.all_cost_per_year", "money", "Cost a year, all together"),
    Result("energy.air_readings", "rows", "Cost a year of the air by each rule"),
    Result("energy.flood_share", "ratio", "Share of the day a timed pump would run", "%", "%"),
    Result("energy.flood_per_year", "energy", "Water pump on timed floods, energy a year", "kWh", "kWh"),
    Result("energy.flood_saving", "money", "A timed water pump would save each year"),
    Result("energy.circuit_limit", "power", "Most this circuit should carry all day", "W", "W"),
    Result("energy.circuit_share", "ratio", "Share of that limit used", "%", "%"),
)
DAYS_A_YEAR = 365


def power(sheet: Sheet) -> None:
    """Add up what is always on; without a pump found yet, say so by not answering."""
    total = scheme.air_pump_w(sheet) + scheme.water_pump_w(sheet) + sheet["energy.other_power"]
    sheet.put("energy.power", total, note="The pumps and other loads, from their labels.")


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
    cost = sheet.work("energy.lamps_cost_per_year", electricity.energy_cost, energy_kwh=year,
                      price_per_kwh=sheet["energy.tariff"])
    sheet.put("energy.all_cost_per_year", cost + sheet.result("energy.cost_per_year"),
              note="Pumps and other loads that are always on, and the lamps.")


def air_readings(sheet: Sheet) -> None:
    """What the air of each rule and reading would cost a year, so that the rule is chosen with its cost in sight."""
    rows = []
    for row in sheet.result_if_any("air.readings") or []:
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
    floods = sheet["energy.floods_per_day"]
    if floods * minutes > 24 * 60:
        sheet.fault("energy.flood_minutes",
                    f"Length of one flood: {floods} floods of {minutes:g} minutes are more than a day; enter "
                    f"{24 * 60 // floods} min or less.")
    share = sheet.work("energy.flood_share", electricity.flooding_share, floods_per_day=floods, minutes_each=minutes)
    pump = sheet.result("circulation.power")
    all_day = electricity.energy_used(power_w=pump, hours=24 * DAYS_A_YEAR)
    sheet.put("energy.flood_per_year", all_day * share, note="The water pump's energy for a year, times that share.")
    sheet.put("energy.flood_saving", all_day * (1 - share) * sheet["energy.tariff"],
              note="The water pump's yearly cost, less its cost on timed floods. The air pump runs all day in both.")


def circuit(sheet: Sheet) -> None:
    """Load on the circuit against the 80 % rule for loads that run three hours or more."""
    limit = sheet.work("energy.circuit_limit", electricity.continuous_limit, rating_a=sheet["energy.breaker"],
                       voltage_v=sheet["energy.voltage"])
    # Lamps of a bath burn longer than the three hours that make a load continuous.
    load = sheet.result("energy.power") + (sheet.result_if_any("light.power") or 0.0)
    share = load / limit
    sheet.put("energy.circuit_share", share, note="Power always on and the lamps', divided by that limit. Count what "
              "else is plugged into the same circuit.")
    if share > 1:
        sheet.caution("circuit", "danger",
                      f"Circuit: {sheet.shown_as('energy.power', load)} for hours on end is more than the "
                      f"{sheet.shown('energy.circuit_limit')} that this breaker should carry. Have a licensed "
                      "electrician add a circuit.")


def electricity_cautions(sheet: Sheet) -> None:
    """Mains power beside water, where there is any."""
    if not sheet.result("energy.power") and not sheet.result_if_any("light.power"):
        return
    sheet.caution("mains", "danger",
                  "Mains power by water: plug every pump into a GFCI (RCD) protected outlet, above the water line, "
                  "with a drip loop in each cord. Unplug before you reach into the water. Wiring is a licensed "
                  "electrician's work, and local code decides.")


STEPS = (power, use, lamps, air_readings, timed, circuit, electricity_cautions)
