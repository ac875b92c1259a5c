"""One file per topic that shows more than rows of answers: its drawings, charts and tables, by the topic's name."""

from . import air, board, circulation, crops, oxygen, parts, schedule, water

OF_TOPIC = {"water": water.extra, "board": board.extra, "air": air.extra, "circulation": circulation.extra,
            "oxygen": oxygen.extra, "parts": parts.extra, "crops": crops.extra, "schedule": schedule.extra}
