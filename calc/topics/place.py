"""Where the bath stands: how hard the air presses there, how much oxygen it holds, and what weather the day brings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..data import weather
from ..data.weather import BESIDE, BURIED, INDOORS, SHADED
from ..declare import Choice, Field, Result
from ..relations import atmosphere
from ..relations import heat as physics
from . import scheme

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "place"
TITLE = "Place"
QUESTION = "How high does the bath stand, and what are its air, sun and floor like?"
VERDICT = None

OWN, AS_SETTING = "own", "as the setting"
FROM_SETTING = "empty: from the setting"
# Weather that the relations for humid air hold for.
COLDEST_C, HOTTEST_C = -20.0, 50.0


def _assumed(one: weather.Setting) -> str:
    return (f"{one.name}: air {weather.both(one.air_low_c, one.air_high_c)}, {one.air}; sun: {one.sun}; floor "
            f"{one.floor_c:g} °C, {one.floor_c * 1.8 + 32:.0f} °F")

FIELDS = (
    Field("place.altitude", "length", "Altitude", ("300 ft", "100 m"), -500.0, 5500.0, "ft", "m",
          help="above the sea; a map or a phone tells", why="a guess: low country; higher air holds less "
          "oxygen"),
    Field("place.pressure", "pressure", "Measured air pressure", ("", ""), 50000.0, 111500.0, "kPa", "kPa",
          help="by a barometer at the bath, not the weather report's figure",
          why="empty: worked out from the altitude", optional=True),
    Field("place.air_temperature", "temperature", "Air at the air pump", ("68 F", "20 "
        "C"), 0.0, 40.0, "F",
          "C", help="the air it draws; hang a thermometer beside it", why="a guess: room temperature"),
    Field("place.humidity", "ratio", "Relative humidity", ("50 %", "50 %"), 0.0, 1.0, "%", "%",
          help="of that air, midway from low to high; a hygrometer tells",
          why="a guess: a middling room"),
    Field("place.setting", "choice", "Where the bath stands", ("heated room", "heated room"), choices=tuple(
        Choice(one.key, one.name) for one in weather.SETTINGS) + (Choice(OWN, "My own weather"),),
        help="sets air, sun and floor for a day; each can be overruled below",
        why=f"{'. '.join(map(_assumed, weather.SETTINGS))}. These are {weather.SETTING_SOURCE}"),
    Field("place.air_high", "temperature", "Air, daily high", ("", ""), COLDEST_C, HOTTEST_C, "F", "C",
          help="beside the bath, on the day you plan for", why=FROM_SETTING, optional=True),
    Field("place.air_low", "temperature", "Air, daily low", ("", ""), COLDEST_C, HOTTEST_C, "F", "C",
          help="beside the bath, in the night of that day", why=FROM_SETTING, optional=True),
    Field("place.high_hour", "clock", "Hour of the high", ("", ""), help="like 3 pm or 15:00",
          why="empty: from the setting, 15:00 (3 pm)", optional=True),
    Field("place.low_hour", "clock", "Hour of the low", ("", ""), help="like 5 am or 05:00",
          why="empty: from the setting, 05:00 (5 am)", optional=True),
    Field("place.moving_air", "choice", "Air at the bath", (AS_SETTING, AS_SETTING), choices=(
        Choice(AS_SETTING, "As the setting says"), Choice(weather.STILL, "Still"),
        Choice(weather.MOVING, "Moving: a light draft")),
        help="moving air takes more heat from walls and open water",
        why=f"still is {weather.AIR_SPEED_M_S[weather.STILL]:g} m/s, moving {weather.AIR_SPEED_M_S[weather.MOVING]:g} "
            f"m/s: {weather.JUDGMENT}"),
    Field("place.sun", "choice", "Sun on the bath", (AS_SETTING, AS_SETTING), choices=(
        Choice(AS_SETTING, "As the setting says"), Choice(weather.NO_SUN, "None"),
        Choice(weather.GLASS, "Behind glass or film"), Choice(weather.OPEN_SUN, "Open"), Choice(OWN, "My own figure")),
        help="direct sun on board, walls and open water",
        why=f"{weather.SUN_W_M2[weather.GLASS]:g} W/m² at the sun's height behind glass, "
            f"{weather.SUN_W_M2[weather.OPEN_SUN]:g} open, from 6 to 20 o'clock: {weather.JUDGMENT}"),
    Field("place.sun_strength", "irradiance", "Sun at its height", ("600 W/m2", "600 W/m2"), 0.0, 1300.0, "W/m2",
          "W/m2", help="on a level square meter at midday, as it reaches the bath",
          why="a placeholder; put in your own",
          when=(("place.sun", (OWN,)),)),
    Field("place.floor_temperature", "temperature", "Floor or ground", ("", ""), COLDEST_C, HOTTEST_C, "F", "C",
          help="under the vessels, or the ground round a buried one", why=FROM_SETTING, optional=True),
    Field("place.reservoir", "choice", "Where the reservoir stands", (BESIDE, BESIDE), choices=(
        Choice(BESIDE, "Beside the bath, in the sun"), Choice(SHADED, "In the same air, shaded"),
        Choice(BURIED, "Buried in the ground"), Choice(INDOORS, "Indoors, in a heated room")),
        help="covered, but for the open water asked for with oxygen",
        why=f"the commonest case; indoors is taken as {weather.INDOORS_C:g} °C all day", when=scheme.WITH_RESERVOIR),
    Field("place.water_start", "temperature", "Water when you fill it", ("", ""), 0.0, 40.0, "F", "C",
          help="a thermometer in the tap water; tells how long it settles", why="empty: the water temperature above",
          optional=True),
)
TABLES = ()

RESULTS = (
    Result("place.air_pressure", "pressure", "Air pressure at the place", "kPa", "kPa"),
    Result("place.air_oxygen", "concentration", "Oxygen in a liter of that air", "mg/L", "mg/L"),
    Result("place.day_high", "temperature", "Air of the day, high", "F", "C"),
    Result("place.day_low", "temperature", "Air of the day, low", "F", "C"),
    Result("place.day_high_hour", "clock", "Air is warmest at"),
    Result("place.day_low_hour", "clock", "Air is coolest at"),
    Result("place.air_speed", "speed", "Air over the bath", "ft/s", "m/s"),
    Result("place.sun_peak", "irradiance", "Sun at its height", "W/m2", "W/m2"),
    Result("place.floor", "temperature", "Floor or ground taken", "F", "C"),
    Result("place.vapour", "pressure", "Vapor in the air, all day", "kPa", "kPa"),
)


def pressure(sheet: Sheet) -> None:
    """Air pressure: as measured, or from the altitude."""
    measured = sheet.optional("place.pressure")
    if measured is None:
        sheet.work("place.air_pressure", atmosphere.pressure_at_altitude, altitude_m=sheet["place.altitude"])
        return
    sheet.put("place.air_pressure", measured, note="As you measured it.")
    expected = atmosphere.pressure_at_altitude(altitude_m=sheet["place.altitude"])
    # Weather moves the barometer by some 3 %; more means a wrong altitude or a figure reduced to sea level.
    if abs(measured / expected - 1.0) > 0.05:
        sheet.caution("place-pressure", "warning",
                      f"Air pressure of {sheet.shown('place.pressure')} does not suit this "
                      f"altitude, where "
                      f"{sheet.shown_as('place.pressure', expected)} is usual. A weather report's figure is "
                      f"reduced to "
                      "sea level: clear the field, or correct the altitude.", lead="Pressure and altitude",
                      brief=f"{sheet.shown('place.pressure')} does not suit; "
                            f"{sheet.shown_as('place.pressure', expected)} is usual at this altitude.")


def air(sheet: Sheet) -> None:
    """Oxygen in a litre of the air drawn in."""
    sheet.work("place.air_oxygen", atmosphere.oxygen_in_air, temperature_c=sheet["place.air_temperature"],
               pressure_pa=sheet.result("place.air_pressure"), humidity=sheet["place.humidity"])


def _day_value(sheet: Sheet, setting: weather.Setting | None, key: str, result: str, attribute: str,
               example: str) -> float:
    """One figure of the day: typed, or from the setting."""
    typed = sheet.optional(key)
    if typed is not None:
        sheet.put(result, typed, note="As you put it in.")
        return typed
    if setting is None:
        sheet.fault(key, f"{example} is empty: with your own weather no setting fills it in; enter it, or choose a "
                         "setting.")
    value: float = getattr(setting, attribute)
    sheet.put(result, value, note=f"{setting.name}: taken for granted.", source=weather.SETTING_SOURCE)
    return value


def day(sheet: Sheet) -> None:
    """Air, hours and floor of the day planned for: as typed, or as the setting says."""
    setting = weather.BY_KEY.get(sheet.text("place.setting"))
    high = _day_value(sheet, setting, "place.air_high", "place.day_high", "air_high_c", "Air, daily high")
    low = _day_value(sheet, setting, "place.air_low", "place.day_low", "air_low_c", "Air, daily low")
    if low > high:
        key, words = "place.air_high", "Air, daily high is below the low"
        if sheet.optional("place.air_low") is not None:
            key, words = "place.air_low", "Air, daily low is above the high"
        limit = sheet.shown("place.day_high" if key == "place.air_low" else "place.day_low")
        sheet.fault(key, f"{words}: enter {limit} or {'less' if key == 'place.air_low' else 'more'}, or give both.")
    hours = weather.BY_KEY["heated room"] if setting is None else setting
    high_hour = _day_value(sheet, hours, "place.high_hour", "place.day_high_hour", "high_hour", "Hour of the high")
    low_hour = _day_value(sheet, hours, "place.low_hour", "place.day_low_hour", "low_hour", "Hour of the low")
    if high_hour == low_hour:
        key = "place.low_hour" if sheet.optional("place.low_hour") is not None else "place.high_hour"
        sheet.fault(key, "Hour of the high and hour of the low are the same: enter another hour, like "
                         f"{'5 am' if key == 'place.low_hour' else '3 pm'}.")


def floor(sheet: Sheet) -> None:
    """Temperature of floor or ground."""
    setting = weather.BY_KEY.get(sheet.text("place.setting"))
    _day_value(sheet, setting, "place.floor_temperature", "place.floor", "floor_c", "Floor or ground")


def sun(sheet: Sheet) -> None:
    """How the air moves and how strong the sun is at its height."""
    setting = weather.BY_KEY.get(sheet.text("place.setting"))
    air, shine = sheet.text("place.moving_air"), sheet.text("place.sun")
    moving = air if air != AS_SETTING else setting.air if setting else weather.STILL
    sheet.put("place.air_speed", weather.AIR_SPEED_M_S[moving], note=f"Air taken as {moving}.",
              source=weather.JUDGMENT)
    if shine == OWN:
        sheet.put("place.sun_peak", sheet["place.sun_strength"], note="As you put it in.")
        return
    kind = shine if shine != AS_SETTING else setting.sun if setting else weather.NO_SUN
    sheet.put("place.sun_peak", weather.SUN_W_M2[kind], note=f"Sun: {kind}.", source=weather.JUDGMENT)


def vapour(sheet: Sheet) -> None:
    """The vapour in the air: the same all day, as much as the humidity says halfway between low and high."""
    mean = 0.5 * (sheet.result("place.day_high") + sheet.result("place.day_low"))
    damp = {"humidity": sheet["place.humidity"], "temperature_c": mean}
    sheet.put("place.vapour", physics.vapour_in_air(**damp), physics.vapour_in_air, damp,
              note="Humidity, times what air halfway between low and high can hold; colder air drops the rest as dew.",
              source=physics.saturation_pressure.relation.source)


STEPS = (pressure, air, day, floor, sun, vapour)
