"""What to change where a topic's verdict is tight or fails: one file a topic, its finders in ``MENDS``.

A finder takes a design and gives candidates, the smallest change first; ``calc.mends`` tries each by a real solve
before it is offered, so a finder may guess. What is small is put first in ``MENDS`` too.
"""

from __future__ import annotations

from collections.abc import Mapping

from . import acidity, air, board, circulation, crops, energy, feed, heat, light, outage, oxygen, schedule, use, water
from .trying import Candidate, Finder, Said

OF_TOPIC: Mapping[str, tuple[Finder, ...]] = {
    "crops": crops.MENDS, "water": water.MENDS, "circulation": circulation.MENDS, "board": board.MENDS,
    "schedule": schedule.MENDS, "light": light.MENDS, "acidity": acidity.MENDS, "feed": feed.MENDS, "air": air.MENDS,
    "oxygen": oxygen.MENDS, "heat": heat.MENDS, "use": use.MENDS, "energy": energy.MENDS, "outage": outage.MENDS,
}

__all__ = ["OF_TOPIC", "Candidate", "Finder", "Said"]
