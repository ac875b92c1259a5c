"""What breathes in the plan's water: bath, plants and hottest hour as air, oxygen and outage all read them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..data import roots as data
from ..models import balance
from ..models.balance import M3_S_IN_L_H, Bath, Guess
from ..relations import oxygen as oxygen_physics
from . import scheme

if TYPE_CHECKING:
    from ..sheet import Sheet

MIDDLING_MS_CM = 1.6
AS_CROPS, BY_CALENDAR = "crops", "calendar"


def by_calendar(sheet: Sheet) -> bool:
    """Whether the calendar tells how large the roots are: it is asked to, and it has dates."""
    return (sheet.text("oxygen.crop") == BY_CALENDAR and sheet.optional("oxygen.plants", int) is None
            and bool(sheet.result_if_any("schedule.grown_plants")))


def plants_of(sheet: Sheet) -> float:
    """How many full-grown plants breathe: as counted by the reader, by the calendar's heaviest week, or every site."""
    counted = sheet.optional("oxygen.plants", int)
    if counted is not None:
        return counted
    if by_calendar(sheet):
        return sheet.result("schedule.grown_plants")
    return float(sheet.result("board.sites", int) * sheet.whole("bath.count"))


def root_stage_of(sheet: Sheet) -> str:
    """Whose roots breathe, as a key of the root masses: as chosen, or the thirstiest of the crops."""
    chosen = sheet.text("oxygen.crop")
    return sheet.result("crops.root_stage", str) if chosen in (AS_CROPS, BY_CALENDAR) else chosen


def conductivity_of(sheet: Sheet) -> float:
    """Conductivity of the solution in mS/cm: as typed, or the feed's, or of a middling leaf solution."""
    typed = sheet.optional("oxygen.conductivity")
    if typed is not None:
        return float(typed)
    return float(sheet.result_if_any("feed.ec") or MIDDLING_MS_CM)


def bath_of(sheet: Sheet, temperature_c: float) -> Bath:
    """The water, plants and air of the plan, with the water at a temperature in C."""
    baths = sheet.whole("bath.count")
    round_and_back = scheme.circulates(sheet)
    return Bath(
        temperature_c=temperature_c, pressure_pa=sheet.result("place.air_pressure"),
        salinity=oxygen_physics.salinity_from_conductivity(conductivity_ms_cm=conductivity_of(sheet)),
        beta=sheet.optional("oxygen.beta"), plants=plants_of(sheet),
        bath_l=baths * sheet.result("water.bath_volume") * 1000.0, reservoir_l=scheme.reservoir_m3(sheet) * 1000.0,
        bath_open_m2=baths * sheet.result("water.surface_area") * max(1.0 - sheet.result("board.cover"), 0.0),
        reservoir_open_m2=sheet["oxygen.reservoir_open"] if round_and_back else 0.0,
        depth_m=sheet.result("air.stone_depth") if scheme.has_air(sheet) else sheet["bath.water_depth"],
        bath_share=scheme.bath_air_share(sheet), exchange_l_h=scheme.flow_m3_s(sheet) * M3_S_IN_L_H,
        return_fall_m=sheet["oxygen.return_fall"] if round_and_back else 0.0,
        air_oxygen_mg_l=sheet.result("place.air_oxygen"))


def hottest(sheet: Sheet) -> float:
    """Water in the hottest hour, as ``warmth`` found it or the reader typed it."""
    return sheet.result("oxygen.hottest_used")


def guesses_of(sheet: Sheet, bath: Bath) -> dict[str, Guess]:
    """The three choices for the plan's plants, stones and surface."""
    blown = scheme.has_air(sheet)
    return balance.guesses(root_stage_of(sheet), sheet.text("oxygen.stones") if blown else data.NO_STONES,
                           sheet.text("oxygen.surface"), bath.depth_m, bath.temperature_c,
                           sheet.optional("oxygen.transfer") if blown else None)
