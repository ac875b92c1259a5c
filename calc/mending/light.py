"""Mends of light: hours, lamps, and the aim."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil
from typing import TYPE_CHECKING

from .trying import Candidate, Said, number, scaled, text, typed

from ..topics.verdicts.light import IN_THE_OPEN

if TYPE_CHECKING:
    from ..solve import Design

DAY = Said("light.dli", "the light of a day")
AIM = Said("light.dli_target", "the light aimed for")
POWER = Said("light.power", "the lamps' power")
LONGEST_H, HOUR = 18.0, 3600.0
# µmol/J of the best lamps sold: from memory, not verified.
BEST_LAMP = 3.5


def hours(design: Design) -> Iterable[Candidate]:
    """As many hours as reach the aim, with night enough left."""
    needed, now = number(design, "light.hours_needed"), design.plan.values.get("light.hours")
    if not isinstance(now, float):
        return
    if needed and abs(needed - now) > 0.02 * now and needed <= LONGEST_H * HOUR:
        words = typed(design, "light.hours", needed)
        yield Candidate({"light.hours": words}, f"Light them {words} a day", (DAY, POWER))
    if now > LONGEST_H * HOUR or (needed or 0.0) > now:
        words = typed(design, "light.hours", LONGEST_H * HOUR)
        yield Candidate({"light.hours": words}, f"Light them {words} a day", (DAY, POWER))


def more_lamps(design: Design) -> Iterable[Candidate]:
    """As many lamps as are needed, where fewer are there."""
    have, needed = number(design, "light.have"), number(design, "light.lamps_needed")
    if have is not None and needed is not None and have != needed:
        words = f"{needed - have:,.0f} more" if needed > have else f"{have - needed:,.0f} fewer"
        yield Candidate({"light.have": str(int(needed))}, f"Hang {words}", (DAY, POWER))


def stronger_lamp(design: Design) -> Iterable[Candidate]:
    """Lamps of more, or of fewer, watts."""
    share = number(design, "light.dli_share")
    if share and text(design, "light.by") == "lamp" and number(design, "light.lamp_output") is None:
        yield from scaled(design, "light.lamp_power", (1.0 / share,), "Take lamps of {}", DAY, POWER)


def nearer_lamp(design: Design) -> Iterable[Candidate]:
    """Lamps hung so that the meter shows what is needed."""
    needed = number(design, "light.ppfd_needed")
    now = number(design, "light.ppfd")
    if needed and now and text(design, "light.by") == "ppfd":
        words = typed(design, "light.ppfd_reading", needed, needed > now)
        where = "lower" if needed > now else "higher"
        yield Candidate({"light.ppfd_reading": words}, f"Hang the lamps {where}, until the meter shows {words}", (DAY,))
    if needed and now and text(design, "light.by") == "lux":
        reading = number(design, "light.lux_reading")
        words = typed(design, "light.lux_reading", (reading or 0.0) * needed / now, needed > now)
        where = "lower" if needed > now else "higher"
        yield Candidate({"light.lux_reading": words}, f"Hang the lamps {where}, until the meter shows {words}", (DAY,))


def fitting_aim(design: Design) -> Iterable[Candidate]:
    """An aim at the crop's lower end, or what there is light for."""
    low, high, aim = (number(design, key) for key in ("crops.dli_low", "crops.dli_high", "light.dli_target"))
    share = number(design, "light.dli_share")
    if low is not None and high is not None and aim is not None and not low <= aim <= high:
        yield Candidate({"light.target": ""}, "Aim for what the crop needs", (AIM, DAY))
    elif low is not None and aim is not None and share is not None and low < aim and share < 1.0:
        words = typed(design, "light.target", low)
        yield Candidate({"light.target": words}, f"Aim for {words}", (AIM,))


def a_lamp(design: Design) -> Iterable[Candidate]:
    """Lamps, where there are none and the sun is too little; fewer of them hang where the circuit bears them."""
    if text(design, "light.by") == "none":
        yield Candidate({"light.by": "lamp"}, "Hang lamps", (DAY, POWER))


def spare_watts(design: Design) -> Iterable[Candidate]:
    """Lamps that give more light for their power, where the circuit is full."""
    power, limit = number(design, "light.power"), number(design, "energy.circuit_limit")
    if power is not None and limit is not None and power > limit:
        best = number(design, "light.lamp_efficacy")
        for factor in (1.25, 1.5) if best else ():
            wanted = (best or 0.0) * factor
            if wanted <= BEST_LAMP:
                yield Candidate({"light.lamp_efficacy": f"{ceil(wanted * 10.0 - 1e-9) / 10.0:g} µmol/J"},
                                f"Take lamps of {ceil(wanted * 10.0 - 1e-9) / 10.0:g} µmol/J", (POWER,))


def shade(design: Design) -> Iterable[Candidate]:
    """A shade cloth, where the sun is too much."""
    cloth, hangs = number(design, "light.cloth"), number(design, "light.shade")
    if cloth is not None and hangs is not None and cloth > hangs:
        words = typed(design, "light.shade", cloth)
        yield Candidate({"light.shade": words}, f"Hang shade cloth of {words}", (DAY,))


def all_of_the_sun(design: Design) -> Iterable[Candidate]:
    """In the open nothing keeps sun out, where the share let in is still the guess for a cover."""
    if text(design, "place.setting") == IN_THE_OPEN and not design.plan.own("light.cover"):
        yield Candidate({"light.cover": "100 %"}, "Let in 100 % of the sun: nothing stands over it", (DAY,))


MENDS = (shade, all_of_the_sun, hours, more_lamps, nearer_lamp, stronger_lamp, fitting_aim, spare_watts, a_lamp)
