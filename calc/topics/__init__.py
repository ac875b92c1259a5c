"""One file per question of the trade: what it asks, what it answers and how; listed in the order they are solved."""

from ..declare import Topic, check_topic
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
    today,
    use,
    water,
)

TOPICS: tuple[Topic, ...] = (place, crops, water, circulation, board, schedule, light, acidity, feed, air, oxygen, heat,
                             use, energy, outage, today, parts)
for _topic in TOPICS:
    check_topic(_topic)
BY_NAME: dict[str, Topic] = {topic.NAME: topic for topic in TOPICS}
