"""Mends of pH: the aim, the acid, and water that takes less of it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from .trying import Candidate, Said, number, text, typed

if TYPE_CHECKING:
    from ..solve import Design

DOSE = Said("acidity.volume", "the first dose")
PHOSPHORUS = Said("acidity.nutrient_p", "the phosphorus it brings")
CHLORIDE = Said("acidity.nutrient_cl", "the chloride it brings")
AIM = Said("acidity.target_ph", "the pH aimed for")
SETTLES = Said("acidity.rebound_ph", "the pH it drifts to")
ALKALINITY = Said("acidity.alkalinity", "the alkalinity")
IONS = ("feed.water_ca", "feed.water_mg", "feed.water_na", "feed.water_cl", "feed.water_s", "use.sodium",
        "use.chloride", "feed.water_ec", "use.source_ec")


def aim_of_the_crops(design: Design) -> Iterable[Candidate]:
    """The nearest pH that suits the crops."""
    low, high, aim = (number(design, key) for key in ("crops.ph_low", "crops.ph_high", "acidity.target_ph"))
    if low is None or high is None or aim is None or low <= aim <= high:
        return
    near = low if aim < low else high
    for value in (near, 0.5 * (low + high)):
        words = f"{round(value, 1):g}"
        yield Candidate({"acidity.target_ph": words}, f"Aim for pH {words}", (AIM, DOSE))


def rain(design: Design, about: tuple[Said, ...]) -> Iterable[Candidate]:
    """Tap water thinned with rain or filtered water, a quarter, half and three quarters of it."""
    alkalinity = number(design, "acidity.alkalinity")
    if not alkalinity:
        return
    for tap, words in ((0.75, "a quarter"), (0.5, "half"), (0.25, "three quarters")):
        changes = {"acidity.alkalinity": typed(design, "acidity.alkalinity", alkalinity * tap, True, 1.0)}
        for key in IONS:
            value = design.plan.values.get(key)
            if isinstance(value, float) and value > 0.0:
                changes[key] = typed(design, key, value * tap, True, 0.1 if value >= 1e-3 else 0.01)
        yield Candidate(changes, f"Mix {words} reverse-osmosis water in", about)


def thinner_water(design: Design) -> Iterable[Candidate]:
    """Less alkalinity asks for less acid."""
    yield from rain(design, (DOSE, PHOSPHORUS, CHLORIDE, SETTLES, ALKALINITY))


def lasting_acid(design: Design) -> Iterable[Candidate]:
    """An acid that microbes do not eat, that brings no chloride, and dilute enough for a beginner."""
    if text(design, "acidity.acid") in ("citric", "hydrochloric"):
        yield Candidate({"acidity.acid": "phosphoric"}, "Take phosphoric acid", (PHOSPHORUS, CHLORIDE, DOSE))
    strength = number(design, "acidity.strength_percent")
    if strength is not None and strength > 0.1:
        yield Candidate({"acidity.strength_percent": "10 %", "acidity.density": ""}, "Buy it as a 10 % solution",
                        (DOSE,))


def gentler_base(design: Design) -> Iterable[Candidate]:
    """Carbonate instead of lye."""
    if text(design, "acidity.base") == "hydroxide":
        yield Candidate({"acidity.base": "carbonate"}, "Take potassium carbonate", (DOSE,))


def a_little_higher(design: Design) -> Iterable[Candidate]:
    """A pH nearer to where the water comes to stand, as long as it suits the crops."""
    aim, high, settles = (number(design, key) for key in ("acidity.target_ph", "crops.ph_high", "acidity.rebound_ph"))
    if aim is None or high is None or settles is None or settles <= aim:
        return
    for value in (aim + 0.3, high):
        if aim < value <= min(high, settles) + 1e-9:
            words = f"{round(value, 1):g}"
            yield Candidate({"acidity.target_ph": words}, f"Aim for pH {words}", (DOSE, SETTLES, PHOSPHORUS))


MENDS = (aim_of_the_crops, lasting_acid, gentler_base, a_little_higher, thinner_water)
