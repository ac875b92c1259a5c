"""One file per question of the trade: what it asks, what it answers and how; listed in the order they are solved."""

from . import (
    acidity,
    air,
    board,
    circulation,
    crops,
    energy,
    feed,
    heat,
    light,
    outage,
    oxygen,
    parts,
    place,
    schedule,
    use,
    water,
)

TOPICS = (place, crops, water, board, schedule, light, circulation, air, oxygen, heat, acidity, feed, use, energy,
          outage, parts)
