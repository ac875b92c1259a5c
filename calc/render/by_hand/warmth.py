"""Sums of warmth: what heater and cooler take in a day, and how slowly the water follows the air."""

from __future__ import annotations

from .energy import HOURS, watts
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


SUMS = {"heat.heater_energy": heater_energy, "heat.cooler_energy": cooler_energy, "heat.cooler_draw": cooler_draw,
        "heat.time_constant": time_constant}
