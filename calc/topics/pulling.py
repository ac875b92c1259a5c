"""A chiller or a heater that is there: how long it takes to bring the water into its band, and whether it can."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..declare import Choice, Field, Over, Result
from ..errors import OutOfRange
from ..models.water_day import Place, loss_of_all, simulate
from ..relations import heat as physics

if TYPE_CHECKING:
    from ..sheet import Sheet

JOULES_A_KWH = 3.6e6
HAVE = (("heat.unit_power", Over(0)),)
UNSAID, CHILLER, HEATER = "unsaid", "chiller", "heater"

FIELDS = (
    Field("heat.unit_power", "power", "Chiller or heater I have", ("", ""), 1.0, 1e6, "W", "W", optional=True,
          help="heat it moves, from its plate, in W or BTU/h", why="empty: none, or not looked at yet"),
    Field("heat.unit_kind", "choice", "My unit cools or warms", (UNSAID, UNSAID), choices=(
        Choice(UNSAID, "Not said yet"), Choice(CHILLER, "A chiller: it cools"), Choice(HEATER, "A heater: it warms")),
        help="whether it is any help on the day you plan for", why="a plate's watts do not tell it", when=HAVE),
    Field("heat.unit_start", "temperature", "Water when I switch it on", ("", ""), 0.5, 45.0, "F", "C", optional=True,
          help="a thermometer in the water; empty: as you fill it", why="empty: the water as filled", when=HAVE),
)
RESULTS = (
    Result("heat.pull_to", "temperature", "The unit is to bring the water to", "F", "C"),
    Result("heat.pull_heat", "energy", "Heat to move for that", "kWh", "kWh"),
    Result("heat.pull_least", "time", "It takes, if nothing else warmed or cooled", "h", "h"),
    Result("heat.pull_time", "time", "It takes, on the day you plan for", "h", "h"),
)


def pull(sheet: Sheet, place: Place) -> None:
    """From the water as it is to the nearer end of the band."""
    power = sheet.optional("heat.unit_power")
    if power is None:
        return
    start = next(one for one in (sheet.optional("heat.unit_start"), sheet.optional("place.water_start"),
                                 sheet["water.temperature"]) if one is not None)
    low, high = sheet.result("heat.band_low"), sheet.result("heat.band_high")
    aim = min(max(start, low), high)
    sheet.put("heat.pull_to", aim, note="The nearer end of the band, or where it stands if that is within.")
    found = simulate(place)
    held = sum(box.heat_j_k for box in found.boxes)
    if sheet.text("heat.unit_kind") == (CHILLER if aim > start else HEATER) and aim != start:
        # It works the other way: no time would be the right one.
        return
    sheet.put("heat.pull_heat", held * abs(aim - start) / JOULES_A_KWH, note="Heat that all the water holds for each "
              "degree, times the degrees.")
    sheet.work("heat.pull_least", physics.bare_pull_time, heat_j_k=held, start_c=start, end_c=aim, power_w=power)
    asked = {"heat_j_k": held, "time_constant_s": physics.time_constant(held, loss_of_all(place, found)),
             "start_c": start, "end_c": aim, "rests_c": sheet.result("heat.mean"),
             "power_w": power if aim > start else -power}
    try:
        sheet.put("heat.pull_time", physics.pull_time(**asked), physics.pull_time, asked,
                  note="All water as one body, with the mean of the day; the reservoir's is mixed in by the pump.")
    except OutOfRange:
        _too_weak(sheet, aim, aim > start)


def _too_weak(sheet: Sheet, aim: float, warms: bool) -> None:
    """Air and sun work against the unit harder than it can."""
    unit, goal = sheet.shown("heat.unit_power"), sheet.shown_as("heat.pull_to", aim)
    name = "heater" if warms else "chiller"
    held = sheet.shown("heat.warm_least" if warms else "heat.cool_least")
    sheet.caution("unit-weak", "warning",
                  f"{name.capitalize()}: {unit} never brings the water to {goal} on the day you "
                  f"plan for; to hold it takes {held} day and night. Take a stronger one, shade or insulate.",
                  lead=f"{name.capitalize()} too weak", brief=f"{unit} never brings the water to {goal}.")
    sheet.verdict("tight", f"Your {name} of {unit} never brings the water to {goal} on the day you plan for. Take a "
                  "stronger one, shade or insulate.", unit, f"The {name} is too weak.")
