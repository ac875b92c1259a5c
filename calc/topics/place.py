"""Where the bath stands: how hard the air presses there, and how much oxygen it holds."""

from __future__ import annotations

from ..declare import Field, Result
from ..relations import atmosphere

NAME = "place"
TITLE = "Place"
QUESTION = "How high does the bath stand, and what is the air like?"

FIELDS = (
    Field("place.altitude", "length", "Altitude", ("300 ft", "100 m"), -500.0, 5500.0, "ft", "m",
          help="above the sea, of the room or yard; a map or a phone tells", why="low country; higher air holds less "
        "oxygen"),
    Field("place.pressure", "pressure", "Air pressure, if you measure it", ("", ""), 50000.0, 111500.0, "kPa", "kPa",
          help="read by a barometer at the bath; not the weather report's figure, which is reduced to sea level",
          why="empty: worked out from the altitude", optional=True),
    Field("place.air_temperature", "temperature", "Temperature of the air the pump draws", ("68 F", "20 "
        "C"), 0.0, 40.0, "F",
          "C", help="of the room or yard where the air pump hangs", why="room temperature"),
    Field("place.humidity", "ratio", "Relative humidity", ("50 %", "50 %"), 0.0, 1.0, "%", "%",
          help="of the air the pump draws; it matters little", why="a middling room"),
)
TABLES = ()

RESULTS = (
    Result("place.air_pressure", "pressure", "Air pressure at the place", "kPa", "kPa"),
    Result("place.air_oxygen", "concentration", "Oxygen in a litre of that air", "mg/L", "mg/L"),
)


def pressure(sheet) -> None:
    """Air pressure: as measured, or from the altitude."""
    measured = sheet.get("place.pressure")
    if measured is None:
        sheet.work("place.air_pressure", atmosphere.pressure_at_altitude, altitude_m=sheet["place.altitude"])
        return
    sheet.put("place.air_pressure", measured, note="As you measured it.")
    expected = atmosphere.pressure_at_altitude(altitude_m=sheet["place.altitude"])
    # Weather moves the barometer by some 3 %; more means a wrong altitude or a figure reduced to sea level.
    if abs(measured / expected - 1.0) > 0.05:
        sheet.caution("place-pressure", "warning",
                      f"Air pressure of {sheet.show(measured, 'pressure', 'kPa', 'kPa')} does not suit this "
                      f"altitude, where "
                      f"{sheet.show(expected, 'pressure', 'kPa', 'kPa')} is usual. A weather report's figure is "
                      f"reduced to "
                      "sea level: clear the field, or correct the altitude.")


def air(sheet) -> None:
    """Oxygen in a litre of the air drawn in."""
    sheet.work("place.air_oxygen", atmosphere.oxygen_in_air, temperature_c=sheet["place.air_temperature"],
               pressure_pa=sheet.result("place.air_pressure"), humidity=sheet["place.humidity"])


STEPS = (pressure, air)
