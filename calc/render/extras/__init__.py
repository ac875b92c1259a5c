"""One file per topic that shows more than rows of answers: its drawings, charts and tables, by the topic's name."""

from . import acidity, air, board, circulation, light, oxygen, parts, use, water

OF_TOPIC = {"water": water.extra, "board": board.extra, "air": air.extra, "circulation": circulation.extra,
            "oxygen": oxygen.extra, "acidity": acidity.extra, "light": light.extra, "use": use.extra,
            "parts": parts.extra}
