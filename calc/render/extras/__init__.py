"""One file per topic that shows more than rows of answers: its drawings, charts and tables, by the topic's name."""

from . import air, board, circulation, feed, oxygen, parts, water

OF_TOPIC = {"water": water.extra, "board": board.extra, "air": air.extra, "circulation": circulation.extra,
            "oxygen": oxygen.extra, "feed": feed.extra, "parts": parts.extra}
