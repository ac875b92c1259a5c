"""What kind of bath it is, and so what it has: nothing of what is absent is asked, worked out, drawn or bought."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..declare import Choice, Field, Over
from ..errors import Unanswered

if TYPE_CHECKING:
    from ..sheet import Sheet

KEY = "water.scheme"
CIRCULATING, AERATED, STILL = "circulating", "aerated", "still"
WITH_RESERVOIR = ((KEY, (CIRCULATING,)),)
WITH_AIR = ((KEY, (CIRCULATING, AERATED)),)
ONE_VESSEL = ((KEY, (AERATED, STILL)),)
SEVERAL = (*WITH_RESERVOIR, ("bath.count", Over(1)))

FIELD = Field(
    KEY, "choice", "Kind of bath", (CIRCULATING, CIRCULATING), choices=(
        Choice(CIRCULATING, "Bath with pump and reservoir"),
        Choice(AERATED, "One vessel with an air stone"),
        Choice(STILL, "One vessel, no pump and no air"),
    ), help="what is not there is not asked for, and not bought",
    why="a bath kept full from a reservoir; many begin with a tote and an air stone", essential=True)


def circulates(sheet: Sheet) -> bool:
    """Whether there is a reservoir and a water pump."""
    return sheet.text(KEY) == CIRCULATING


def pumps_water(sheet: Sheet) -> bool:
    """Whether water is pumped round at all: not where no turnover is wanted, nor where there is no pump."""
    if not circulates(sheet) or sheet.input_if_any("circulation.turnover") == 0.0:
        return False
    try:
        return bool(sheet.rows("circulation.pumps"))
    except Unanswered:
        return True


def has_air(sheet: Sheet) -> bool:
    """Whether air is blown at all."""
    return sheet.text(KEY) != STILL


def reservoir_m3(sheet: Sheet) -> float:
    """Water in the reservoir while running; nothing where there is none."""
    return sheet.result("water.reservoir_volume") if circulates(sheet) else 0.0


def flow_m3_s(sheet: Sheet) -> float:
    """Water that is pumped round."""
    return sheet.result("circulation.flow") if circulates(sheet) else 0.0


def water_pump_w(sheet: Sheet) -> float:
    """What the water pump draws."""
    return sheet.result("circulation.power") if circulates(sheet) else 0.0


def air_m3_s(sheet: Sheet) -> float:
    """Air that really arrives at the stones."""
    return sheet.result("air.delivered") if has_air(sheet) else 0.0


def air_pump_w(sheet: Sheet) -> float:
    """What the air pumps draw."""
    return sheet.result("air.power") if has_air(sheet) else 0.0


def bath_air_share(sheet: Sheet) -> float:
    """Share of the air that goes into the baths; the rest goes into the reservoir."""
    if not circulates(sheet) or sheet.text("air.aerated") == "bath":
        return 1.0
    bath = sheet.whole("bath.count") * sheet.result("water.bath_volume")
    return bath / (bath + sheet.result("water.reservoir_volume"))
