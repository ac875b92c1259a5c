"""What breathes in the plan's water: bath, plants and hottest hour as air, oxygen and outage all read them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..models import balance
from ..models.balance import M3_S_IN_L_H, Bath, Guess
from ..relations import oxygen as oxygen_physics

if TYPE_CHECKING:
    from ..sheet import Sheet

AS_CROPS = "crops"


def plants_of(sheet: Sheet) -> float:
    """How many plants breathe: as counted by the reader, or every site of every bath."""
    counted = sheet.optional("oxygen.plants")
    return counted if counted is not None else sheet.result("board.sites") * sheet["bath.count"]


def root_stage_of(sheet: Sheet) -> str:
    """Whose roots breathe, as a key of the root masses: as chosen, or the thirstiest of the crops."""
    chosen = sheet["oxygen.crop"]
    return sheet.result("crops.root_stage") if chosen == AS_CROPS else chosen


def bath_of(sheet: Sheet, temperature_c: float) -> Bath:
    """The water, plants and air of the plan, with the water at a temperature in C."""
    baths = sheet["bath.count"]
    bath_l = baths * sheet.result("water.bath_volume") * 1000.0
    reservoir_l = sheet.result("water.reservoir_volume") * 1000.0
    share = 1.0 if sheet["air.aerated"] == "bath" else bath_l / (bath_l + reservoir_l)
    return Bath(
        temperature_c=temperature_c, pressure_pa=sheet.result("place.air_pressure"),
        salinity=oxygen_physics.salinity_from_conductivity(conductivity_ms_cm=sheet["oxygen.conductivity"]),
        beta=sheet.optional("oxygen.beta"), plants=plants_of(sheet), bath_l=bath_l,
        reservoir_l=reservoir_l,
        bath_open_m2=baths * sheet.result("water.surface_area") * max(1.0 - sheet.result("board.cover"), 0.0),
        reservoir_open_m2=sheet["oxygen.reservoir_open"], depth_m=sheet.result("air.stone_depth"), bath_share=share,
        exchange_l_h=sheet.result("circulation.flow") * M3_S_IN_L_H, return_fall_m=sheet["oxygen.return_fall"],
        air_oxygen_mg_l=sheet.result("place.air_oxygen"))


def hottest(sheet: Sheet) -> float:
    """Water in the hottest hour: never cooler than the water is now."""
    return max(sheet["oxygen.hottest"], sheet["water.temperature"])


def guesses_of(sheet: Sheet, bath: Bath) -> dict[str, Guess]:
    """The three choices for the plan's plants, stones and surface."""
    return balance.guesses(root_stage_of(sheet), sheet["oxygen.stones"], sheet["oxygen.surface"], bath.depth_m,
                   bath.temperature_c, sheet.optional("oxygen.transfer"))
