"""Sums of weight: water by the gallon or the litre, a full bath, and what it presses on floor and legs."""

from __future__ import annotations

from ... import units
from .pad import NoSum, Pad, Term
from .water import volume


def of_one(pad: Pad) -> Term:
    """What a gallon or a litre of the water weighs, at the temperature of the plan."""
    dense = pad.value("water.density")
    if pad.us:
        feet = pad.put(dense, "density", "lb/ft3")
        return pad.gives("A gallon weighs", feet * pad.num(231.0) / pad.num(1728.0), "lb")
    return pad.gives("A liter weighs", pad.put(dense, "density", "lb/ft3", "kg/m3") / pad.num(1000.0), "kg")


def mass(pad: Pad) -> None:
    pad.shows("All the water", volume(pad, "water.working_volume") * of_one(pad), "lb", "kg")


def bath_mass(pad: Pad) -> None:
    water = pad.gives("Its water", volume(pad, "water.bath_volume") * of_one(pad), "lb" if pad.us else "kg")
    pad.shows("With the empty bath", water + pad.read("bath.tank_mass", "mass", "lb", "kg"), "lb", "kg")


def _pressure(pad: Pad, heavy: Term, area: Term) -> None:
    if pad.us:
        pad.shows("Pounds on a square foot", heavy / area, "psf")
    else:
        on_one = pad.gives("Kilograms on a square meter", heavy / area, "kg")
        pad.shows("In kPa", on_one * pad.num(units.GRAVITY) / pad.num(1000.0), "", "kPa")


def floor_pressure(pad: Pad) -> None:
    _pressure(pad, pad.read("water.bath_mass", "mass", "lb", "kg"), pad.read("water.footprint", "area", "ft2", "m2"))


def room_pressure(pad: Pad) -> None:
    """All baths with their water, and the reservoir's water, over the whole room."""
    heavy = pad.times("bath.count", pad.read("water.bath_mass", "mass", "lb", "kg"))
    if pad.design.value("water.reservoir_volume"):
        heavy = heavy + volume(pad, "water.reservoir_volume") * of_one(pad)
    everything = pad.gives("All together", heavy, "lb" if pad.us else "kg")
    _pressure(pad, everything, pad.read("bath.room_area", "area", "ft2", "m2"))


def leg_load(pad: Pad) -> None:
    if pad.value("bath.legs") < 2:
        raise NoSum
    pad.shows("Shared among the legs", pad.read("water.bath_mass", "mass", "lb", "kg") / pad.whole("bath.legs"),
              "lb", "kg")


SUMS = {"water.mass": mass, "water.bath_mass": bath_mass, "water.floor_pressure": floor_pressure,
        "water.room_pressure": room_pressure, "water.leg_load": leg_load}
