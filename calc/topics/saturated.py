"""Near saturation the last bit of oxygen asks for walls of pumps: this says so, and offers an aim that costs little."""

from __future__ import annotations

from functools import partial
from math import floor
from typing import TYPE_CHECKING

from ..data import roots
from ..models.balance import M3_S_IN_L_H, Bath, Guess, limits, steady

if TYPE_CHECKING:
    from ..sheet import Sheet

NEAR_LIMIT = 0.9
# Less air than what a target near saturation asks for, and the least oxygen that is an offer: what alarms.
CHEAPER = (("A tenth", 0.1), ("A quarter", 0.25), ("Half", 0.5))
LEAST_OFFERED_MG_L = roots.LEVELS[2][1]


def say_near_limit(sheet: Sheet, bath: Bath, likely: Guess, target: float, air_l_h: float) -> None:
    """Say that the last bit costs most, and offer what a tenth of the air holds, or the next share that is enough."""
    most = limits(bath)[0]
    if target <= NEAR_LIMIT * most or air_l_h <= 0.0:
        return
    say, flow = partial(sheet.shown_as, "oxygen.target"), partial(sheet.shown_as, "air.target")
    offers = ((words, floor(steady(bath, likely, air_l_h * share)[0] * 10.0) / 10.0) for words, share in CHEAPER)
    # What would alarm the next day is no offer, however little air it takes.
    offer = next(((f"{words} of that air holds {say(held)}: ask for that instead, or keep the water cooler.",
                   f"{words} of the air holds {say(held)}: ask for that, or keep the water cooler.")
                  for words, held in offers if LEAST_OFFERED_MG_L <= held < target), None)
    cooler = f"Half of that air would leave less than {say(LEAST_OFFERED_MG_L)}, which is too little: cool the water."
    whole, brief = offer or (cooler, cooler)
    sheet.caution("oxygen-target-near-limit", "warning",
                  f"Air: {say(target)} is {target / most:.0%} of all that this water can hold in the hottest hour, "
                  f"{say(most)}, and the last bit costs most: {flow(air_l_h / M3_S_IN_L_H)}. {whole}",
                  lead="Near saturation", brief=brief)
    sheet.verdict("tight", f"{say(target)} is {target / most:.0%} of all that this water can hold in the hottest hour, "
                  f"and the last bit costs most. {whole}", f"{flow(air_l_h / M3_S_IN_L_H)}", "The last bit costs most.")
