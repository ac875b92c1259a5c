"""One file per question of the trade: what it asks, what it answers and how; listed in the order they are solved."""

from . import air, board, circulation, crops, energy, oxygen, parts, place, schedule, water

TOPICS = (place, crops, water, board, air, circulation, oxygen, energy, schedule, parts)
