"""Mends of water used: a reservoir for the time away, the time itself, the top-up, and the source water."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from ..topics.scheme import STILL
from .acidity import rain
from .trying import Candidate, Said, known, number, scaled, text, typed

if TYPE_CHECKING:
    from ..solve import Design

LASTS = Said("use.days_to_top_up", "the time until topping up", "shrinks", "grows")
SHORT = Said("use.holiday_short", "what lacks for the time away")
REPLACE = Said("use.replace_after", "the time until a full change", "shrinks", "grows")
AWAY = Said("use.holiday", "the time away", "shrinks", "grows")
EC = Said("use.ec_feed", "the EC after two months")
SODIUM = Said("use.sodium_after", "the time until sodium is at its limit", "shrinks", "grows")
SALT = Said("use.sodium", "sodium in the source water")
DAY_S = 86400.0


def shorter_away(design: Design) -> Iterable[Candidate]:
    """As many days away as the water lasts."""
    lasts, away = number(design, "use.days_to_top_up"), number(design, "use.holiday")
    if lasts and away and DAY_S <= lasts < away:
        words = typed(design, "use.holiday", lasts, False)
        days = words.removesuffix(" d")
        often = "every day" if days == "1" else f"every {days} days"
        # A still vessel is not filled up again: the roots above its falling water breathe air.
        act = "Have a little water added" if text(design, "water.scheme") == STILL else "Have it topped up"
        yield Candidate({"use.holiday": words}, f"{act} {often}", (AWAY, SHORT))


def fuller_reservoir(design: Design) -> Iterable[Candidate]:
    """More water in the reservoir, as far as what runs back leaves room; then a larger one."""
    found = known(design, "water.reservoir_volume", "use.holiday_reservoir")
    if text(design, "reservoir.shape") != "known volume" or found is None:
        yield from scaled(design, "reservoir.water_depth", (1.25, 1.5), "Keep the reservoir {} deep in water",
                          LASTS, SHORT)
        return
    running, needed = found
    capacity, back = number(design, "water.reservoir_capacity"), number(design, "water.drain_back_volume") or 0.0
    if capacity is not None and running < capacity - back:
        words = typed(design, "reservoir.known_volume", capacity - back, False)
        yield Candidate({"reservoir.known_volume": words}, f"Keep {words} in the reservoir", (LASTS, SHORT))
    for wanted in dict.fromkeys((max(needed, 1.5 * running), max(needed, 2.0 * running))):
        words = typed(design, "reservoir.known_volume", wanted)
        changes = {"reservoir.known_volume": words}
        if number(design, "reservoir.brim_volume") is not None:
            changes["reservoir.brim_volume"] = typed(design, "reservoir.brim_volume", 1.1 * wanted + back)
        yield Candidate(changes, f"Take a reservoir for {words} and what runs back", (LASTS, SHORT))


def lower_least(design: Design) -> Iterable[Candidate]:
    """Let the water fall farther before it is topped up."""
    yield from scaled(design, "use.least", (2 / 3, 1 / 3), "Let it fall to {} of the reservoir", LASTS, SHORT)
    if text(design, "water.scheme") != "circulating":
        yield from scaled(design, "use.fall", (1.5, 2.0), "Let the water fall by {}", LASTS)


def deeper_vessel(design: Design) -> Iterable[Candidate]:
    """More water in a vessel without reservoir."""
    if text(design, "water.scheme") != "circulating":
        for factor in (1.25, 1.5):
            depth, water = (design.plan.values.get(f"bath.{key}") for key in ("depth", "water_depth"))
            if isinstance(depth, float) and isinstance(water, float):
                words = typed(design, "bath.water_depth", water * factor)
                yield Candidate({"bath.water_depth": words, "bath.depth": typed(design, "bath.depth", depth * factor)},
                                f"Take a vessel for water {words} deep", (LASTS,))


def other_strength(design: Design) -> Iterable[Candidate]:
    """A top-up that keeps the EC where it is."""
    hold, strength, ec = (number(design, key) for key in ("use.hold_ec", "use.topup_strength", "use.topup_ec"))
    if hold and strength and ec:
        for share in (hold / ec, 0.5 * (1.0 + hold / ec)):
            words = typed(design, "use.topup_strength", strength * share, share > 1.0)
            yield Candidate({"use.topup_strength": words}, f"Top up at {words} of the strength", (EC,))


def thinner_water(design: Design) -> Iterable[Candidate]:
    """Source water with less salt."""
    yield from rain(design, (SODIUM, REPLACE, EC, SALT))


MENDS = (shorter_away, lower_least, fuller_reservoir, deeper_vessel, other_strength, thinner_water)
