"""One file per topic that shows more than rows of answers: its drawings, charts and tables, by the topic's name."""

from . import (
    acidity,
    air,
    board,
    circulation,
    crops,
    feed,
    heat,
    light,
    outage,
    oxygen,
    parts,
    schedule,
    today,
    use,
)

OF_TOPIC = {"crops": crops.extra, "board": board.extra, "circulation": circulation.extra,
            "air": air.extra, "oxygen": oxygen.extra, "heat": heat.extra, "acidity": acidity.extra, "feed": feed.extra,
            "light": light.extra, "use": use.extra, "outage": outage.extra, "schedule": schedule.extra,
            "today": today.extra,
            "parts": parts.extra}
