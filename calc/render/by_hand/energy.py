"""Sums of electricity: watts added up, kilowatt-hours, what they cost a year, and the circuit they hang on."""

from __future__ import annotations

from .pad import NoSum, Pad, Term

HOURS, DAYS = 24.0, 365.0


def watts(pad: Pad, key: str) -> Term:
    """Power of an answer or a question."""
    return pad.read(key, "power", "W")


def kwh(pad: Pad, key: str) -> Term:
    """Energy of an answer."""
    return pad.read(key, "energy", "kWh")


def power(pad: Pad) -> None:
    parts = ("air.power", "circulation.power", "energy.other_power")
    pad.shows("Pumps and other loads", pad.total(watts(pad, key) for key in parts if pad.design.value(key)), "W")


def per_day(pad: Pad) -> None:
    pad.shows("Watts, all day", watts(pad, "energy.power") * pad.num(HOURS) / pad.num(1000.0), "kWh")


def _year(pad: Pad, key: str) -> Term:
    return watts(pad, key) * pad.num(HOURS) * pad.num(DAYS) / pad.num(1000.0)


def per_year(pad: Pad) -> None:
    pad.shows("Watts, all year", _year(pad, "energy.power"), "kWh")


def _tariff(pad: Pad) -> Term:
    return pad.num(pad.value("energy.tariff"))


def _cost(pad: Pad, key: str) -> None:
    pad.shows("kWh, times the price of one", kwh(pad, key) * _tariff(pad))


def cost_per_year(pad: Pad) -> None:
    _cost(pad, "energy.per_year")


def lamps_per_year(pad: Pad) -> None:
    pad.shows("A day, times the days of a year", kwh(pad, "light.energy_per_day") * pad.num(DAYS), "kWh")


def lamps_cost_per_year(pad: Pad) -> None:
    _cost(pad, "energy.lamps_per_year")


def lamps_low_cost(pad: Pad) -> None:
    """Cheap hours and the others of a day, each at its price, all year."""
    hours = pad.read("light.hours", "time", "h")
    cheap = pad.num(min(pad.value("energy.low_hours"), pad.value("light.hours")) / 3600.0)
    year = kwh(pad, "energy.lamps_per_year")
    night = pad.gives("Cheap part of it", year * cheap / hours, "kWh")
    if cheap.value == hours.value:
        pad.shows("At the cheap price", night * pad.num(pad.value("energy.low_tariff")))
        return
    pad.shows("Each at its price", night * pad.num(pad.value("energy.low_tariff")) + (year - night) * _tariff(pad))


def lamps_low_saving(pad: Pad) -> None:
    pad.shows("One price, less two", pad.num(pad.value("energy.lamps_cost_per_year"))
              - pad.num(pad.value("energy.lamps_low_cost")))


def warmth_per_year(pad: Pad) -> None:
    """Heater or cooler, whichever the day needs, for the days it runs."""
    days = pad.value("energy.season_days")
    for key in ("heat.heater_energy", "heat.cooler_energy"):
        found = pad.design.value(key)
        if found and abs(found * days - pad.value("energy.warmth_per_year")) <= 1e-9 * found * days:
            pad.shows("A day, times the days it runs", kwh(pad, key) * pad.whole("energy.season_days"), "kWh")
            return
    raise NoSum


def warmth_cost_per_year(pad: Pad) -> None:
    _cost(pad, "energy.warmth_per_year")


def all_per_year(pad: Pad) -> None:
    parts = ("energy.per_year", "energy.lamps_per_year", "energy.warmth_per_year")
    pad.shows("All that draws", pad.total(kwh(pad, key) for key in parts if pad.design.value(key)), "kWh")


def all_cost_per_year(pad: Pad) -> None:
    _cost(pad, "energy.all_per_year")


def flood_share(pad: Pad) -> None:
    minutes = pad.gives("Minutes of a day", pad.whole("energy.floods_per_day")
                        * pad.read("energy.flood_minutes", "time", "min"), "min")
    pad.shows("Of 1,440", minutes / pad.num(1440.0) * pad.num(100.0), "%")


def flood_per_year(pad: Pad) -> None:
    year = pad.gives("All year", _year(pad, "circulation.power"), "kWh")
    pad.shows("That share of it", year * pad.read("energy.flood_share", "ratio", "%") / pad.num(100.0), "kWh")


def flood_saving(pad: Pad) -> None:
    year = pad.gives("All year", _year(pad, "circulation.power"), "kWh")
    pad.shows("What is saved, times the price", (year - kwh(pad, "energy.flood_per_year")) * _tariff(pad))


def circuit_limit(pad: Pad) -> None:
    pad.shows("80 % of amps times volts", pad.num(0.8) * pad.read("energy.breaker", "current", "A")
              * pad.read("energy.voltage", "voltage", "V"), "W")


def circuit_load(pad: Pad) -> None:
    """Pumps, lamps, and the heater or the cooler where one is counted."""
    parts = ["energy.power"] + (["light.power"] if pad.design.value("light.power") else [])
    rest = pad.value("energy.circuit_load") - sum(pad.value(key) for key in parts)
    if rest > 1e-9:
        parts.append(min(("heat.warm_peak", "heat.cooler_draw"), key=lambda key: abs(pad.value(key) - rest)))
    pad.shows("All at one time", pad.total(watts(pad, key) for key in parts), "W")


def circuit_share(pad: Pad) -> None:
    pad.shows("Load, over limit", watts(pad, "energy.circuit_load") / watts(pad, "energy.circuit_limit")
              * pad.num(100.0), "%")


SUMS = {
    "energy.power": power, "energy.per_day": per_day, "energy.per_year": per_year,
    "energy.cost_per_year": cost_per_year, "energy.lamps_per_year": lamps_per_year,
    "energy.lamps_cost_per_year": lamps_cost_per_year, "energy.warmth_per_year": warmth_per_year,
    "energy.lamps_low_cost": lamps_low_cost, "energy.lamps_low_saving": lamps_low_saving,
    "energy.warmth_cost_per_year": warmth_cost_per_year, "energy.all_per_year": all_per_year,
    "energy.all_cost_per_year": all_cost_per_year, "energy.flood_share": flood_share,
    "energy.flood_per_year": flood_per_year, "energy.flood_saving": flood_saving,
    "energy.circuit_limit": circuit_limit, "energy.circuit_load": circuit_load, "energy.circuit_share": circuit_share,
}
