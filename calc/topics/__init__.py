"""One file per question of the trade: what it asks, what it answers and how; listed in the order they are solved."""

from . import (
    acidity,
    air,
    board,
    circulation,
    energy,
    feed,
    heat,
    light,
    oxygen,
    parts,
    place,
    use,
    water,
)

TOPICS = (place, water, board, circulation, air, oxygen, heat, acidity, feed, light, use, energy, parts)
