"""Sums of warmth: what heater and cooler take in a day, and how slowly the water follows the air."""

from __future__ import annotations

from .energy import HOURS, kwh, watts
from .pad import Pad, Term


def _performance(pad: Pad) -> Term:
    return pad.num(pad.value("heat.performance"))


def heater_energy(pad: Pad) -> None:
    pad.shows("Watts, all day", watts(pad, "heat.warm_least") * pad.num(HOURS) / pad.num(1000.0), "kWh")


def cooler_energy(pad: Pad) -> None:
    draw = pad.gives("Draws", watts(pad, "heat.cool_least") / _performance(pad), "W")
    pad.shows("Watts, all day", draw * pad.num(HOURS) / pad.num(1000.0), "kWh")


def cooler_draw(pad: Pad) -> None:
    pad.shows("Heat, over heat moved for each watt", watts(pad, "heat.cool_peak") / _performance(pad), "W")


def time_constant(pad: Pad) -> None:
    """Heat that warms the water by a degree, over the heat that a degree lets through."""
    kilojoules = pad.num(pad.inputs("heat_j_k") / 1000.0)
    hourly = pad.gives("Lost in an hour for each degree C", pad.num(pad.inputs("loss_w_k")) * pad.num(3.6), "kJ")
    pad.shows("Held for each degree C, over it", kilojoules / hourly, "h")


def pull_heat(pad: Pad) -> None:
    """Heat that all the water holds, as the working of the time has it."""
    held = pad.design.answers["heat.pull_least"].inputs
    joules, start, end = (float(str(held[name])) for name in ("heat_j_k", "start_c", "end_c"))
    degrees = pad.gives("Degrees C", pad.num(max(start, end)) - pad.num(min(start, end)))
    pad.shows("kJ for each, over 3,600", pad.num(joules / 1000.0) * degrees / pad.num(3600.0), "kWh")


def pull_least(pad: Pad) -> None:
    pad.shows("Heat, over the unit's watts", kwh(pad, "heat.pull_heat") * pad.num(1000.0)
              / watts(pad, "heat.unit_power"), "h")


SUMS = {"heat.heater_energy": heater_energy, "heat.cooler_energy": cooler_energy, "heat.cooler_draw": cooler_draw,
        "heat.time_constant": time_constant, "heat.pull_heat": pull_heat, "heat.pull_least": pull_least}
