"""One file per question of the trade: what it asks, what it answers and how; listed in the order they are solved."""

from . import acidity, air, board, circulation, energy, oxygen, parts, place, water

TOPICS = (place, water, board, circulation, air, oxygen, acidity, energy, parts)
