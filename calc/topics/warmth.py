"""How warm the plan's water gets in a day, for a given air: temperature, air and oxygen all stand on this one day."""

from __future__ import annotations

from math import pi
from typing import TYPE_CHECKING

from ..data import foam as foams
from ..data import light as light_data
from ..errors import OutOfRange, Unanswered
from ..models.water_day import WATER_RANGE_C, Day, Place, peak, simulate
from ..relations import air as air_physics
from ..relations import heat as physics
from ..relations import water as water_physics
from . import scheme

if TYPE_CHECKING:
    from ..sheet import Sheet

# Taken where the day cannot be worked out, and no hotter water is typed.
UNKNOWN_DAY_C = 25.0
HOTTEST_C = 40.0


def raft_resistance(sheet: Sheet) -> float:
    """What the raft keeps out, in m2K/W."""
    return physics.foam_resistance(r_per_inch=foams.BY_KEY[sheet.text("board.foam")].r_per_inch,
                                   thickness_m=sheet["board.thickness"])


def place_of(sheet: Sheet, air_m3_s: float, air_pump_w: float) -> Place:
    """Bath, reservoir and weather of the plan, with so much air blown in by pumps of so many watts."""
    round_bath = sheet.result("water.opening_shape", str) == "round"
    long, wide = sheet.result("water.opening_length"), sheet.result("water.opening_width")
    temperature = sheet["water.temperature"]
    heat = (water_physics.water_density(temperature_c=temperature)
            * water_physics.water_heat_capacity(temperature_c=temperature))
    pressure = sheet.result("place.air_pressure")
    high, low = sheet.result("place.day_high"), sheet.result("place.day_low")
    mass = air_m3_s * air_physics.air_density(temperature_c=0.5 * (high + low), pressure_pa=pressure)
    both = scheme.circulates(sheet)
    lamp_w_m2, lamp_h = _lamps(sheet)
    return Place(
        baths=sheet.whole("bath.count"), bath_m3=sheet.result("water.bath_volume"),
        reservoir_m3=scheme.reservoir_m3(sheet), surface_m2=sheet.result("water.surface_area"),
        open_share=max(1.0 - sheet.result("board.cover"), 0.0),
        perimeter_m=pi * long if round_bath else 2.0 * (long + wide), depth_m=sheet["bath.water_depth"],
        footprint_m2=sheet.result("water.footprint"), on_legs=sheet.whole("bath.legs") > 0,
        reservoir_depth_m=sheet["reservoir.water_depth"] if both else 1.0,
        reservoir_open_m2=sheet["oxygen.reservoir_open"] if both else 0.0,
        reservoir_stands=sheet.text("place.reservoir") if both else "", foam_r=raft_resistance(sheet),
        wall_r=sheet["heat.wall_insulation"], reservoir_r=sheet["heat.reservoir_insulation"] if both else 0.0,
        exchange_w_k=scheme.flow_m3_s(sheet) * heat,
        pump_w=scheme.water_pump_w(sheet) * sheet["heat.pump_share"] if both else 0.0,
        air_pump_w=air_pump_w * sheet["heat.air_pump_share"] if scheme.has_air(sheet) else 0.0, air_kg_s=mass,
        air_bath_share=scheme.bath_air_share(sheet), high_c=high, low_c=low,
        high_hour=sheet.result("place.day_high_hour"), low_hour=sheet.result("place.day_low_hour"),
        vapour_pa=sheet.result("place.vapour"), pressure_pa=pressure, air_speed_m_s=sheet.result("place.air_speed"),
        sun_w_m2=sheet.result("place.sun_peak"), floor_c=sheet.result("place.floor"), heat_j_m3k=heat,
        lamp_w_m2=lamp_w_m2, lamp_h=lamp_h)


def _lamps(sheet: Sheet) -> tuple[float, float]:
    """Lamp light that falls on the raft in W/m2, and for how many hours a day."""
    flux = sheet.result_if_any("light.ppfd") or 0.0
    hours = (sheet.input_if_any("light.hours") or 0.0) / 3600.0
    # µmol/m2/s over µmol/J is W/m2.
    return (flux / light_data.LAMP_MOL_PER_MJ, hours) if flux > 0.0 and hours > 0.0 else (0.0, 0.0)


def day_of(place: Place) -> Day:
    """The day, once it is known that the water neither freezes nor gets hotter than what is worked out."""
    found = simulate(place)
    every = found.bath if place.reservoir_m3 <= 0.0 else (*found.bath, *found.reservoir)
    if min(every) < WATER_RANGE_C[0]:
        raise OutOfRange("Water temperature: the water would freeze on such a day, which this sum does not follow.")
    if max(every) > WATER_RANGE_C[1]:
        raise OutOfRange("Water temperature: it would pass 60 °C on such a day, beyond what is worked out. Check the "
                         "sun and the size of the bath.")
    return found


def high_of_day(sheet: Sheet, air_m3_s: float, air_pump_w: float) -> float | None:
    """The day's highest bath temperature in C; ``None`` where no day could be worked out."""
    try:
        return peak(day_of(place_of(sheet, air_m3_s, air_pump_w)).bath, 1.0)[1]
    except (Unanswered, OutOfRange):
        return None


def put_hottest(sheet: Sheet, high_c: float | None, how: str) -> float:
    """Keep the water of the hottest hour: as typed, or the day's high, and never cooler than the water is now."""
    typed, now = sheet.optional("oxygen.hottest"), sheet["water.temperature"]
    if typed is not None:
        found, note = max(typed, now), "As you typed it; that overrules the day worked out under Temperature."
    elif high_c is None:
        found = max(UNKNOWN_DAY_C, now)
        note = "No day could be worked out, so 77 °F (25 °C) is taken, or the water as it is now if that is warmer."
    else:
        found, note = max(high_c, now), f"The highest of the day worked out under Temperature. {how}".strip()
        if now > high_c:
            note = "The water as it is now, which is warmer than the day would make it."
    if found > HOTTEST_C:
        raise OutOfRange(f"Oxygen: the water would reach {sheet.shown_as('oxygen.hottest', found)}, and oxygen is "
                         f"worked out up to {sheet.shown_as('oxygen.hottest', HOTTEST_C)}. Shade or cool it.")
    sheet.put("oxygen.hottest_used", found, note=note)
    return found
