"""Mends of oxygen in the bath: more air where it counts, cooler water, fewer plants."""

from __future__ import annotations

from collections.abc import Iterable
from math import floor
from typing import TYPE_CHECKING

from . import air, heat
from .trying import Candidate, Said, number, scaled, set_to, text

if TYPE_CHECKING:
    from ..solve import Design

BATH = Said("oxygen.bath_hottest", "oxygen in the hottest hour")
DEMAND = Said("oxygen.demand", "what roots and water take up")
PLANTS = Said("oxygen.plant_count", "the plants counted")


def as_typed_heat(design: Design) -> Iterable[Candidate]:
    """The day's own heat, where a warmer hottest hour was typed."""
    if number(design, "oxygen.hottest") is not None:
        yield Candidate({"oxygen.hottest": ""}, "Take the day's own temperature", (BATH,))


def softer_aim(design: Design) -> Iterable[Candidate]:
    """An aim that the bath does reach."""
    target, likely = number(design, "oxygen.target"), number(design, "oxygen.bath_hottest")
    for aim in (likely, (likely or 0.0) - 0.3) if target and likely and likely < target else ():
        tenths = floor((aim or 0.0) * 10.0 + 1e-9) / 10.0
        if tenths >= 5.0:
            yield Candidate({"oxygen.target": f"{tenths:g} mg/L"}, f"Ask for {tenths:g} mg/L", (BATH,))


def safer(design: Design) -> Iterable[Candidate]:
    """More air than the likely figures ask for."""
    if text(design, "air.rule") == "oxygen":
        yield from scaled(design, "oxygen.safety", (4 / 3, 2.0), "Blow {} of the air needed", BATH, step=10.0)


def higher_aim(design: Design) -> Iterable[Candidate]:
    """More oxygen to keep: the pumps are chosen for it."""
    target = number(design, "oxygen.target")
    if target and text(design, "air.rule") == "oxygen":
        for aim in (target + 0.5, target + 1.0):
            yield Candidate({"oxygen.target": f"{aim:g} mg/L"}, f"Ask for {aim:g} mg/L", (BATH,))


def more_by_own_rate(design: Design) -> Iterable[Candidate]:
    """More of one's own rate of air."""
    if text(design, "air.rule") == "own":
        yield from scaled(design, "air.own_rate", (1.5, 2.0, 3.0), "Blow {}", BATH)


def falling_return(design: Design) -> Iterable[Candidate]:
    """A return that falls into the reservoir brings air with it."""
    if text(design, "water.scheme") == "circulating" and number(design, "oxygen.return_fall") == 0.0:
        fall = "20 cm" if design.system == "metric" else "8 in"
        yield Candidate({"oxygen.return_fall": fall}, f"Let the drain fall {fall} into the reservoir", (BATH,))


def air_into_it(design: Design) -> Iterable[Candidate]:
    """An air stone in a still bath."""
    if text(design, "water.scheme") == "still":
        yield Candidate({"water.scheme": "aerated"}, "Hang an air stone in it", (BATH,))


def fewer_plants(design: Design) -> Iterable[Candidate]:
    """No more plants than the surface feeds, or a share of them."""
    sites, feeds = number(design, "board.sites"), number(design, "oxygen.surface_plants")
    count = number(design, "bath.count") or 1.0
    if not sites:
        return
    wanted = [int(sites * share) for share in (0.75, 0.5)]
    if text(design, "water.scheme") == "still" and feeds:
        wanted = [int(feeds / count)]
    for one in wanted:
        if 1 <= one < sites:
            changes = {"board.wanted": str(one)}
            if number(design, "oxygen.plants") is not None:
                changes["oxygen.plants"] = str(int(one * count))
            yield Candidate(changes, f"Plant {one} site{'' if one == 1 else 's'} in each bath", (BATH, PLANTS, DEMAND))


def blown_into_the_bath(design: Design) -> Iterable[Candidate]:
    """All the air into the bath, none into the reservoir."""
    if text(design, "water.scheme") == "circulating":
        yield from set_to(design, "air.aerated", "bath", "Blow all the air into the bath", BATH)


MENDS = (air.finer_stones, air.by_oxygen, air.per_hour, as_typed_heat, more_by_own_rate, safer, higher_aim,
         falling_return, blown_into_the_bath, heat.shade, heat.insulate, air.one_more, air_into_it, softer_aim,
         fewer_plants, air.larger_pump)
