"""Mends of the water's temperature: shade, insulation, where things stand, and what is asked of it."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice
from typing import TYPE_CHECKING

from . import board
from .trying import Candidate, Said, number, set_to, text, typed

if TYPE_CHECKING:
    from ..solve import Design

HIGH = Said("heat.high", "the warmest water")
LOW = Said("heat.low", "the coldest water")
COOL = Said("heat.cool_least", "the cooling needed")
WARM = Said("heat.warm_least", "the heating needed")
# Foam board of R 5 an inch, as under Raft; one R of the US is 0.1761 m2K/W.
R_OF_AN_INCH = 5.0 * 0.1761


def _about(design: Design) -> tuple[Said, ...]:
    """The end of the day that is out of its band comes first."""
    low, cold = number(design, "heat.low"), number(design, "heat.band_low")
    return (LOW, HIGH, WARM) if low is not None and cold is not None and low < cold else (HIGH, LOW, COOL)


def shade(design: Design) -> Iterable[Candidate]:
    """No sun on the bath."""
    if number(design, "place.sun_peak"):
        yield Candidate({"place.sun": "none"}, "Shade the bath", _about(design))
        yield from set_to(design, "place.reservoir", "shaded", "Shade the reservoir", *_about(design))


def _foam(design: Design, inches: int) -> tuple[str, dict[str, str]]:
    """(its thickness in words, the changes) of foam round the bath and, where there is one, the reservoir."""
    both = text(design, "water.scheme") == "circulating"
    changes = {}
    for key in ("heat.wall_insulation", "heat.reservoir_insulation")[:2 if both else 1]:
        changes[key] = typed(design, key, (number(design, key) or 0.0) + inches * R_OF_AN_INCH)
    thick = f"{inches * 25} mm" if design.system == "metric" else f"{inches} in"
    return f"{thick} of foam round {'bath and reservoir' if both else 'the bath'}", changes


def insulate(design: Design) -> Iterable[Candidate]:
    """An inch or two of foam round the bath and the reservoir."""
    for inches in (1, 2):
        words, changes = _foam(design, inches)
        yield Candidate(changes, f"Put {words}", _about(design))


def shade_and_insulate(design: Design) -> Iterable[Candidate]:
    """No sun, and foam all round; a reservoir in the ground besides."""
    if number(design, "place.sun_peak"):
        words, changes = _foam(design, 2)
        yield Candidate({"place.sun": "none", **changes}, f"Shade it, and put {words}", _about(design))
        if text(design, "place.reservoir") == "beside":
            yield Candidate({"place.sun": "none", **changes, "place.reservoir": "buried"},
                            f"Shade it, bury the reservoir, and put {words}", _about(design))


def cooler_reservoir(design: Design) -> Iterable[Candidate]:
    """A reservoir in the ground or indoors."""
    for choice, act in (("buried", "Bury the reservoir"), ("indoors", "Put the reservoir indoors")):
        yield from set_to(design, "place.reservoir", choice, act, *_about(design))


def moving_air(design: Design) -> Iterable[Candidate]:
    """A fan: evaporation cools."""
    high, warm = number(design, "heat.high"), number(design, "heat.band_high")
    if high is not None and warm is not None and high > warm:
        yield from set_to(design, "place.moving_air", "moving", "Let a fan move the air", *_about(design))


def more_water(design: Design) -> Iterable[Candidate]:
    """More water follows the day more slowly."""
    if text(design, "reservoir.shape") == "known volume":
        volume = number(design, "reservoir.known_volume")
        brim = number(design, "reservoir.brim_volume")
        for factor in (1.5, 2.0) if volume else ():
            changes = {"reservoir.known_volume": typed(design, "reservoir.known_volume", (volume or 0.0) * factor)}
            if brim is not None and volume is not None:
                changes["reservoir.brim_volume"] = typed(design, "reservoir.brim_volume", brim + volume * factor)
            yield Candidate(changes, f"Keep {changes['reservoir.known_volume']} in a larger reservoir", _about(design))


def thicker_raft(design: Design) -> Iterable[Candidate]:
    """A thicker raft keeps heat out, and in."""
    for one in board.thicker_foam(design):
        yield Candidate(one.changes, one.act, _about(design))


def another_place(design: Design) -> Iterable[Candidate]:
    """A heated room, or a cool basement."""
    if text(design, "place.setting") not in ("heated room", "own"):
        yield Candidate({"place.setting": "heated room", "place.air_high": "", "place.air_low": ""},
                        "Put the bath in a heated room", _about(design))
    elif text(design, "place.setting") == "heated room":
        yield Candidate({"place.setting": "cool basement", "place.air_high": "", "place.air_low": ""},
                        "Put the bath in a cool basement", _about(design))


def wider_band(design: Design) -> Iterable[Candidate]:
    """The crop's own band, where a narrower one was asked for."""
    typed_ends = [key for key in ("heat.keep_low", "heat.keep_high") if number(design, key) is not None]
    if typed_ends:
        yield Candidate(dict.fromkeys(typed_ends, ""), "Keep the crop's own band", (COOL, WARM))


def _far(design: Design) -> bool:
    """Whether the water is so far out of its band that no small thing brings it back."""
    high, warm, low, cold = (number(design, f"heat.{key}") for key in ("high", "band_high", "low", "band_low"))
    off = max((high or 0.0) - (warm or 99.0), (cold or -99.0) - (low or 0.0))
    return off > 1.5


def small_things(design: Design) -> Iterable[Candidate]:
    """What takes off, or brings, a degree at most: a fan, a thicker raft, more water."""
    if not _far(design):
        for finder in (moving_air, thicker_raft, more_water):
            yield from islice(finder(design), 1)


MENDS = (shade, small_things, insulate, wider_band, cooler_reservoir, shade_and_insulate, another_place)
