"""Mends of bath and reservoir: the way the bath is filled, room in the reservoir, depth, and the floor."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from .trying import Candidate, Said, known, number, said, scaled, set_to, text, typed

if TYPE_CHECKING:
    from ..solve import Design

BACK = Said("water.drain_back_volume", "what runs back")
ROOM = Said("water.reservoir_headroom", "room in the reservoir", "shrinks", "grows")
LEFT = Said("water.depth_after_stop", "what stays in the bath at a stop")
FLOOR = Said("water.room_pressure", "the load over the room")
STANDS = Said("water.floor_pressure", "the load where it stands")
MASS = Said("water.bath_mass", "one full bath")
# From this share of the room on, what runs back is worth a thought.
NEAR_FULL = 0.6
LOW_WALL_M = 0.05
BULGE = Said("water.wall_bulge", "the bulge of the long wall")
RIM = Said("water.rim_to_water", "the rim's height over the water")


def over_the_rim(design: Design) -> Iterable[Candidate]:
    """Filled over the rim, a bath cannot run back through the pump."""
    yield from set_to(design, "bath.fill", "rim", "Fill over the rim", BACK, LEFT)


def check_valve(design: Design) -> Iterable[Candidate]:
    """A check valve keeps most of the water up, where the bath is filled through its floor."""
    if text(design, "bath.fill") == "floor":
        yield Candidate({"bath.fill": "floor with check valve"}, "Fit a check valve", (BACK, LEFT))
        yield from scaled(design, "bath.inlet_height", (1.5,), "Set the inlet {} above the floor", BACK, LEFT)
        depth = number(design, "bath.water_depth")
        if depth:
            words = typed(design, "bath.inlet_height", 0.75 * depth)
            yield Candidate({"bath.inlet_height": words}, f"Set the inlet {words} above the floor", (LEFT, BACK))


def fuller_by_less(design: Design) -> Iterable[Candidate]:
    """Less water in the reservoir while running, so that what runs back finds room."""
    found = known(design, "water.drain_back_volume", "water.reservoir_capacity", "water.reservoir_volume")
    if found is None or found[0] < NEAR_FULL * (found[1] - found[2]):
        return
    back, full, running = found
    if text(design, "reservoir.shape") == "known volume":
        for spare in (1.1, 1.25, 1.5):
            if full - back * spare > 0.1 * full:
                words = typed(design, "reservoir.known_volume", full - back * spare, False)
                yield Candidate({"reservoir.known_volume": words}, f"Keep only {words} in the reservoir", (ROOM,))
    elif back < full:
        shares = [max(full - back * spare, 0.2 * full) / running for spare in (1.1, 1.25, 1.5)] if running else []
        yield from scaled(design, "reservoir.water_depth", shares,
                          "Keep the reservoir only {} deep in water", ROOM)


def larger_reservoir(design: Design) -> Iterable[Candidate]:
    """A reservoir that takes what runs back."""
    found = known(design, "water.drain_back_volume", "water.reservoir_volume")
    room = number(design, "water.reservoir_headroom")
    if found is None or (room is not None and found[0] < NEAR_FULL * room):
        return
    back, running = found
    if text(design, "reservoir.shape") == "known volume":
        for spare in (1.25, 1.5):
            words = typed(design, "reservoir.brim_volume", running + back * spare)
            yield Candidate({"reservoir.brim_volume": words}, f"Take a reservoir that holds {words} to the brim",
                            (ROOM,))
    else:
        yield from scaled(design, "reservoir.depth", (1.25, 1.5, 2.0), "Take a reservoir {} deep", ROOM)


def less_film(design: Design) -> Iterable[Candidate]:
    """Less water over the overflow: the part of the bath that runs back."""
    room = number(design, "water.reservoir_headroom")
    if room is not None and (number(design, "water.drain_back_rim") or 0.0) > NEAR_FULL * room:
        yield from scaled(design, "bath.film", (0.75, 0.5), "Keep {} of water over the overflow", BACK,
                          step=0.125 if design.system == "us" else 1.0)


def shallower(design: Design) -> Iterable[Candidate]:
    """Less water in the bath: lighter, and farther from its rim; never to make a count and a size agree."""
    if said(design, "opening-clash"):
        return
    spare = number(design, "water.rim_to_water")
    about = (RIM, MASS) if spare is not None and spare < LOW_WALL_M else (FLOOR, STANDS, MASS)
    yield from scaled(design, "bath.water_depth", (0.9, 0.75, 0.5), "Fill the bath {} deep", *about)


def deeper_bath(design: Design) -> Iterable[Candidate]:
    """A higher wall over the same water."""
    spare = number(design, "water.rim_to_water")
    if spare is not None and spare < LOW_WALL_M:
        yield from scaled(design, "bath.depth", (1.1, 1.25), "Take a bath {} deep", RIM)


def on_the_ground(design: Design) -> Iterable[Candidate]:
    """On the ground no floor has to bear it."""
    yield from set_to(design, "bath.stands_on", "ground", "Put the bath on the ground", FLOOR)


def brace_the_frame(design: Design) -> Iterable[Candidate]:
    """Braces, or thicker lumber, where the wall of a frame bows."""
    found = known(design, "water.wall_braces", "bath.length", "bath.width")
    if found is None or not found[0]:
        return
    span = max(found[1:]) / (found[0] + 1)
    words = typed(design, "bath.wall_span", span, False)
    yield Candidate({"bath.wall_span": words}, f"Brace the long walls every {words}", (BULGE,))
    yield from scaled(design, "bath.wall_thickness", (1.5, 2.0, 3.0), "Take frame walls {} thick", BULGE)


MENDS = (brace_the_frame, over_the_rim, check_valve, fuller_by_less, less_film, larger_reservoir, on_the_ground,
         shallower, deeper_bath)
