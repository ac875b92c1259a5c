"""Too warm, too cold, too little oxygen: what saves the roots comes before any chemistry."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, floor

from .. import units
from ..errors import OutOfRange
from ..figures import number
from ..relations import heat as physics
from ..topics import scheme
from ..topics.outage import ICE_COOLS_C
from .acts import Act, Caution
from .bath import Bath

HEAT_J_KG_K = 4186.0
MOST_BOTTLES = 12
ALARM_MG_L, ACT_NOW_MG_L = 4.0, 3.0
MARGIN_C = 0.5
WORDS = dict(enumerate(("One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven",
                        "Twelve"), 1))
HANDS = Caution("Unplug the pumps", "before your hands go in.")


def _degrees(bath: Bath, difference: float) -> str:
    metric = bath.system == "metric"
    return f"{number(difference if metric else difference * 1.8, 2)} {units.written('C' if metric else 'F')}"


def _celsius(bath: Bath, value: float) -> str:
    return bath.show("temperature", value)


def _bottle(bath: Bath, water_c: float) -> tuple[float, float] | None:
    """Size of a bottle in m3 and the heat that it takes up in J."""
    size, freezer = bath.number("heat.bottle"), bath.number("heat.freezer")
    if size is None or freezer is None:
        return None
    try:
        return size, physics.bottle_cold(mass_kg=size * 1000.0, freezer_c=freezer, water_c=water_c)
    except OutOfRange:
        return None


def cool(bath: Bath, value: float) -> Act | None:
    """Shade and frozen bottles, where the water is above its band."""
    band = bath.bands["temperature"]
    if band.word(value) != "high":
        return None
    holds = bath.saturation(value)
    said = f"Water of {_celsius(bath, value)}"
    why = (f"{said} holds {number(holds, 2)} mg/L of oxygen, and roots take more; root rot likes it." if holds else
           f"{said} holds little oxygen, and root rot likes it.")
    aim = max(band.high - MARGIN_C, value - ICE_COOLS_C)
    then = ("Then measure", f"water in three hours. Aim under {_celsius(bath, band.high)}.")
    bottle, water = _bottle(bath, value), bath.working
    if bottle is None or water is None:
        return Act("cool", "Shade the bath", why, then=then)
    joules = water * 1000.0 * HEAT_J_KG_K
    many = ceil(joules * (value - aim) / bottle[1] - 1e-9)
    size = units.show(bottle[0], "volume", bath.system, "L", "L")
    if many > MOST_BOTTLES:
        return Act("cool", "Shade the bath and cool the air", f"{why} It would take {many} frozen bottles of {size}: "
                   "shade, wind over wet cloth and night air come first; a chiller if this stays.", then=then)
    if many > 1 and many * bottle[1] / joules > ICE_COOLS_C:
        # Roots bear no faster fall at once; what is left comes with the next reading.
        many -= 1
    takes = many * bottle[1] / joules
    bottles = f"{many} {'bottle' if many == 1 else 'bottles'}"
    return Act("cool", "Shade the bath, float ice", f"{why} {WORDS[many]} frozen {bottles.partition(' ')[2]} of {size} "
               f"{'takes' if many == 1 else 'take'} about {_degrees(bath, takes)} off.", bottles,
               Caution("Closed bottles,", "never loose ice: melted, it thins the solution."), then, minutes=10,
               log={"kind": "done"})


def warm(bath: Bath, value: float) -> Act | None:
    """What to do in cold water."""
    band = bath.bands["temperature"]
    if band.word(value) != "low":
        return None
    return Act("warm", "Warm the bath", f"Water of {_celsius(bath, value)} is below {_celsius(bath, band.low)}: roots "
               "take up little, and phosphorus least. Cover it, wrap it, or hang in a heater with a thermostat.",
               caution=Caution("Mains by water:", "a heater made for water, on a GFCI (residual-current) outlet."),
               then=("Then measure", f"water tomorrow morning. Aim over {_celsius(bath, band.low)}."),
               minutes=10, log={"kind": "done"})


def air(bath: Bath, values: Mapping[str, float]) -> Act | None:
    """What to do where the meter shows too little oxygen."""
    value, band = values.get("oxygen"), bath.bands.get("oxygen")
    if value is None or band is None or band.word(value) != "low":
        return None
    holds = bath.saturation(values.get("temperature", bath.number("water.temperature") or 20.0))
    share = f", {floor(100 * value / holds)} % of what this water holds" if holds else ""
    now = value < ALARM_MG_L
    title = "Bring air in now" if now else "Bring the oxygen up"
    bridge = " Until then, dip out water and pour it back from a foot (30 cm) up." if value < ACT_NOW_MG_L else ""
    look = ("See that every stone bubbles, that no line is off or kinked, and that the pump is not hot."
            if scheme.has_air(bath.sheet) else "Your plan has no air stone: hang one in, the air pump above the water.")
    return Act("air", title, f"{bath.show('oxygen', value)} is below {bath.show('oxygen', band.low)}{share}. "
               f"{look}{bridge}", caution=HANDS,
               then=("Then measure", "oxygen in an hour, and in the warmest hour of the day."), minutes=10,
               log={"kind": "done"})


def acts(bath: Bath, values: Mapping[str, float]) -> list[Act]:
    """The lines that warmth and oxygen ask for."""
    found = [air(bath, values)]
    if "temperature" in values:
        found += [cool(bath, values["temperature"]), warm(bath, values["temperature"])]
    return [one for one in found if one is not None]
