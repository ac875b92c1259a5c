"""Mends of a power cut: the wish, the battery, and more time in the water."""

from __future__ import annotations

from collections.abc import Iterable
from math import floor
from typing import TYPE_CHECKING

from . import heat, water
from .trying import Candidate, Said, number, scaled, text, typed

if TYPE_CHECKING:
    from ..solve import Design

TIME = Said("outage.hours_to_alarm", "the time to 4 mg/L", "shrinks", "grows")
WISH = Said("outage.hours", "the time to bridge", "shrinks", "grows")
BATTERY = Said("outage.battery", "the battery")
CURRENT = Said("outage.battery_current", "the current from the battery")
END = Said("outage.end", "oxygen after the hours to bridge")
ROOM = Said("outage.room_left", "room left in the reservoir", "shrinks", "grows")
KEPT = Said("outage.bath_kept", "the water that stays")
# From here on cables get thick.
HEAVY_A = 8.0


def small_pump(design: Design) -> Iterable[Candidate]:
    """A small direct-current pump on a battery that holds 4 mg/L."""
    power = number(design, "outage.power")
    if number(design, "outage.pump_watts") is None and text(design, "outage.backup") == "dc" and power:
        words, battery = design.shown("outage.power"), design.shown("outage.battery")
        yield Candidate({"outage.pump_watts": words}, f"Keep an air pump of {words} and a battery of {battery} ready")
    if text(design, "outage.backup") == "inverter":
        yield Candidate({"outage.backup": "dc", "outage.pump_watts": ""},
                        "Take an air pump for direct current, without an inverter", (CURRENT, BATTERY))


def higher_voltage(design: Design) -> Iterable[Candidate]:
    """A battery of more volts needs less current."""
    volts = number(design, "outage.voltage")
    if (number(design, "outage.battery_current") or 0.0) < HEAVY_A:
        return
    for wanted in (24.0, 48.0):
        if volts is not None and volts < wanted:
            yield Candidate({"outage.voltage": f"{wanted:g} V"}, f"Take a battery of {wanted:g} V", (CURRENT, BATTERY))


def smaller_wish(design: Design) -> Iterable[Candidate]:
    """As long as the bath lasts by itself."""
    lasts, wish = number(design, "outage.hours_to_alarm"), number(design, "outage.hours")
    first = number(design, "outage.hours_to_alarm_low")
    for one in (lasts, first):
        if one and wish and one < wish:
            half_hours = floor(one / 1800.0 + 1e-9) * 0.5
            if half_hours >= 0.5:
                yield Candidate({"outage.hours": f"{half_hours:g} h"}, f"Plan to be there within {half_hours:g} h",
                                (WISH, BATTERY))


def more_water(design: Design) -> Iterable[Candidate]:
    """Deeper water holds more oxygen."""
    depth, spare = number(design, "bath.water_depth"), number(design, "water.rim_to_water")
    if depth and spare and spare > 0.03:
        words = typed(design, "bath.water_depth", depth + 0.5 * spare, False)
        yield Candidate({"bath.water_depth": words}, f"Fill the bath {words} deep", (TIME, KEPT))


def keep_the_water(design: Design) -> Iterable[Candidate]:
    """Fill over the rim, so that the water stays."""
    for one in water.over_the_rim(design):
        yield Candidate(one.changes, one.act, (TIME, KEPT, END))
    for one in water.fuller_by_less(design):
        yield Candidate(one.changes, one.act, (ROOM,))


def cooler(design: Design) -> Iterable[Candidate]:
    """Cool water holds more and roots take up less."""
    for one in heat.shade(design):
        yield Candidate(one.changes, one.act, (TIME, END))


def fewer_plants(design: Design) -> Iterable[Candidate]:
    """Fewer roots breathe less."""
    sites = number(design, "board.sites")
    for share in (0.75, 0.5) if sites and sites >= 4 and number(design, "oxygen.plants") is None else ():
        count = int((sites or 0.0) * share)
        yield Candidate({"board.wanted": str(count)}, f"Plant {count:,} sites in each bath", (TIME, END))


def lighter_draw(design: Design) -> Iterable[Candidate]:
    """One small pump in place of all of them."""
    if number(design, "outage.pump_watts") is not None:
        yield from scaled(design, "outage.pump_watts", (0.5, 0.25), "Run only {} of pump", CURRENT, BATTERY)


MENDS = (keep_the_water, small_pump, lighter_draw, smaller_wish, cooler, more_water, fewer_plants, higher_voltage)
