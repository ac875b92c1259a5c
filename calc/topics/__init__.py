"""One file per question of the trade: what it asks, what it answers and how; listed in the order they are solved."""

from . import air, board, circulation, energy, feed, oxygen, parts, place, water

TOPICS = (place, water, board, air, circulation, oxygen, feed, energy, parts)
