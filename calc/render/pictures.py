"""The drawings of each step of the planner, in the order they are shown; each is made for a wide or a narrow place."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ..solve import Design
from . import fill, plans, rulers, section
from .extras import heat, outage, schedule

Draw = Callable[[Design, bool], str]


# A drawing of which the design knows too little is an empty text.
OF_STEP: Mapping[str, tuple[Draw, ...]] = {
    "tank": (section.tank, rulers.floor),
    "raft": (plans.raft,),
    "air": (section.air, rulers.air, rulers.oxygen, rulers.hose),
    "nutrients": (fill.first_fill, rulers.conductivity, rulers.acidity),
    "light": (rulers.light, heat.day),
    "running": (outage.fall, schedule.busy_chart),
    "shop": (plans.drilling,),
}
