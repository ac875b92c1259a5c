"""Sums of air: by the rule of practice, at the stone, from the pumps, and how many stones and hoses."""

from __future__ import annotations

from ... import units
from ...topics import air as topic
from ...topics import scheme
from .pad import NoSum, Pad, Term
from .water import all_baths, length, volume

LITRES_A_GALLON = 3.785411784


def water(pad: Pad) -> None:
    every = pad.text(scheme.KEY) == scheme.CIRCULATING and pad.text("air.aerated") == topic.ALL_WATER
    pad.shows("Water that gets air", all_baths(pad) + volume(pad, "water.reservoir_volume") if every
              else all_baths(pad), "gal", "L")


def _gallons(pad: Pad) -> Term:
    """Water in gallons for every reader: the rule of practice is said by the gallon."""
    found = volume(pad, "air.water")
    return found if pad.us else pad.gives("In gallons", found / pad.num(LITRES_A_GALLON), "gal")


def _by_rule(pad: Pad, litres: float, per_hour: bool) -> None:
    found = _gallons(pad) * pad.num(litres)
    if per_hour:
        pad.shows("Liters an hour, a minute", found / pad.num(60.0), "L/min")
    else:
        pad.shows("Liters a minute", found, "L/min")


def optimum_per_minute(pad: Pad) -> None:
    _by_rule(pad, topic.OPTIMUM_L_GAL, False)


def optimum_per_hour(pad: Pad) -> None:
    _by_rule(pad, topic.OPTIMUM_L_GAL, True)


def floor_per_minute(pad: Pad) -> None:
    _by_rule(pad, topic.FLOOR_L_GAL, False)


def floor_per_hour(pad: Pad) -> None:
    _by_rule(pad, topic.FLOOR_L_GAL, True)


def practice_optimum(pad: Pad) -> None:
    _by_rule(pad, topic.OPTIMUM_L_GAL, _read_per_hour(pad))


def practice_floor(pad: Pad) -> None:
    _by_rule(pad, topic.FLOOR_L_GAL, _read_per_hour(pad))


def _read_per_hour(pad: Pad) -> bool:
    return pad.text("air.reading") == topic.PER_HOUR


def target(pad: Pad) -> None:
    rule = pad.text("air.rule")
    if rule == topic.OXYGEN:
        oxygen_need(pad)
    elif rule == topic.OWN:
        pad.shows("At your own rate", volume(pad, "air.water")
                  * pad.read("air.own_rate", "air_rate", "L/min/gal", "L/min/L"), "L/min")
    else:
        _by_rule(pad, topic.OPTIMUM_L_GAL if rule == topic.OPTIMUM else topic.FLOOR_L_GAL, _read_per_hour(pad))


def oxygen_need(pad: Pad) -> None:
    """The likely air with its safety factor; where stirring asks for more, that is no sum of this."""
    likely = pad.read("air.oxygen_likely", "flow", "L/min") * pad.read("oxygen.safety", "ratio", "")
    if likely.value < units.convert(pad.value("air.stirring"), "flow", "L/min"):
        raise NoSum
    pad.shows("With its safety factor", likely, "L/min")


def stone_depth(pad: Pad) -> None:
    if pad.design.value("air.depth") is not None:
        raise NoSum
    pad.shows("Water, less the stone", length(pad, "bath.water_depth") - length(pad, "air.stone_height"), "in", "cm")


def water_pressure(pad: Pad) -> None:
    """An inch of water presses as an inch of water; a centimetre presses 0.0981 kPa, a little less when warm."""
    dense = pad.inputs("density_kg_m3")
    deep = pad.put(pad.inputs("depth_m"), "length", "in", "cm")
    if pad.us:
        pad.shows("Inches, times how dense the water is", deep * pad.num(dense / 1000.0), "inH2O")
    else:
        pad.shows("Depth in m, times gravity and density", deep / pad.num(100.0) * pad.num(units.GRAVITY)
                  * pad.num(dense / 1000.0), "", "kPa")


def back_pressure(pad: Pad) -> None:
    parts = ("air.water_pressure", "air.stone_pressure", "air.hose_pressure")
    pad.shows("Water, wet stone, hose", pad.total(pad.read(key, "pressure", "inH2O", "kPa") for key in parts),
              "inH2O", "kPa")


def _each(pad: Pad, count: int, value: Term) -> Term:
    """So many of one kind."""
    return pad.num(float(count)) * value


def delivered(pad: Pad) -> None:
    pad.shows("Pumps, times what each gives", pad.total(
        _each(pad, row["quantity"], pad.put(row["delivered"], "flow", "L/min"))
        for row in pad.rows("air.pumps_running")), "L/min")


def delivered_one_dead(pad: Pad) -> None:
    most = max(row["delivered"] for row in pad.rows("air.pumps_running"))
    pad.shows("All, less the largest", pad.read("air.delivered", "flow", "L/min") - pad.put(most, "flow", "L/min"),
              "L/min")


def power(pad: Pad) -> None:
    pad.shows("Pumps, times their watts", pad.total(
        _each(pad, row["quantity"], pad.num(row["watts"])) for row in pad.rows("air.pumps_running")), "W")


def price(pad: Pad) -> None:
    pad.shows("Pumps to buy", pad.total(
        _each(pad, row["quantity"], pad.num(row["price"])) for row in pad.rows("air.pumps_chosen")))


def owned_flow(pad: Pad) -> None:
    pad.shows("Pumps you own, times what each gives", pad.total(
        _each(pad, row["owned"], pad.put(row["delivered"], "flow", "L/min"))
        for row in pad.rows("air.pump_flows") if row["owned"]), "L/min")


def _water_kept(pad: Pad, litres: float) -> None:
    air = pad.read("air.owned_flow", "flow", "L/min")
    if _read_per_hour(pad):
        air = pad.gives("In an hour", air * pad.num(60.0), "L")
    gallons = air / pad.num(litres)
    pad.shows("Over the rule", gallons if pad.us else gallons * pad.num(LITRES_A_GALLON), "gal", "L")


def optimum_water(pad: Pad) -> None:
    _water_kept(pad, topic.OPTIMUM_L_GAL)


def floor_water(pad: Pad) -> None:
    _water_kept(pad, topic.FLOOR_L_GAL)


def stones(pad: Pad) -> None:
    found = pad.times("bath.count", pad.whole("air.stones_per_bath"))
    if pad.design.value("air.stones_reservoir"):
        found = found + pad.whole("air.stones_reservoir")
    pad.shows("Baths, times the stones of each", found)


def hose_total(pad: Pad) -> None:
    pad.shows("A hose to each stone", pad.whole("air.stones") * pad.read("air.hose_length", "length", "ft", "m"),
              "ft", "m")


def per_kwh(pad: Pad) -> None:
    """Milligrams an hour over watts are grams for a kilowatt-hour."""
    pad.shows("mg an hour, over watts", pad.read("oxygen.brought", "mass_rate", "mg/h")
              / pad.read("air.power", "power", "W"), "g")


def _over_need(pad: Pad, key: str) -> None:
    pad.shows("Over the air needed", pad.read(key, "flow", "L/min") / pad.read("air.oxygen_need", "flow", "L/min"),
              "times")


def optimum_over_need(pad: Pad) -> None:
    _over_need(pad, "air.practice_optimum")


def floor_over_need(pad: Pad) -> None:
    _over_need(pad, "air.practice_floor")


def delivered_over_need(pad: Pad) -> None:
    _over_need(pad, "air.delivered")


def metered_weight(pad: Pad) -> None:
    """Both errors as shares of what the water lacks, each squared: the surer of the two counts for more."""
    guess, meter = pad.num(pad.inputs("guess_spread")), pad.num(pad.inputs("reading_spread"))
    guessed = pad.gives("Error of the guess as a share, squared", guess * guess)
    read = pad.gives("Error of the meter as a share, squared", meter * meter)
    pad.shows("The guess's part of both", pad.num(100.0) * guessed / (guessed + read), "%")


SUMS = {
    "air.water": water, "air.optimum_per_minute": optimum_per_minute, "air.optimum_per_hour": optimum_per_hour,
    "air.floor_per_minute": floor_per_minute, "air.floor_per_hour": floor_per_hour,
    "air.practice_optimum": practice_optimum, "air.practice_floor": practice_floor, "air.target": target,
    "air.oxygen_need": oxygen_need, "air.stone_depth": stone_depth, "air.water_pressure": water_pressure,
    "air.back_pressure": back_pressure, "air.delivered": delivered, "air.delivered_one_dead": delivered_one_dead,
    "air.power": power, "air.price": price, "air.owned_flow": owned_flow, "air.optimum_water": optimum_water,
    "air.floor_water": floor_water, "air.stones": stones, "air.hose_total": hose_total, "oxygen.per_kwh": per_kwh,
    "oxygen.optimum_over_need": optimum_over_need, "oxygen.floor_over_need": floor_over_need,
    "oxygen.delivered_over_need": delivered_over_need, "oxygen.metered_weight": metered_weight,
}
