"""What each setting of a bath takes for granted of its weather, what crops like, and who says so."""

from __future__ import annotations

from dataclasses import dataclass

from ..relations.base import ABSTRACT, COPY, MEMORY, PRACTICE, PUBLISHED
from .crops import AEROPONIC, CAROTTI, CORNELL, FAO, GLASSHOUSE, MALUDIN

JUDGMENT = "engineering judgment, no published source"


@dataclass(frozen=True)
class Setting:
    """One setting: air in C with the clock hours of its high and low, sun, floor, and whether the air moves."""

    key: str
    name: str
    air_high_c: float
    air_low_c: float
    air: str
    sun: str
    floor_c: float
    high_hour: float = 15.0
    low_hour: float = 5.0


STILL, MOVING = "still", "moving"
NO_SUN, GLASS, OPEN_SUN = "none", "behind glass", "open"
SETTINGS: tuple[Setting, ...] = (
    Setting("heated room", "Heated room", 22.0, 18.0, STILL, NO_SUN, 18.0),
    Setting("cool basement", "Cool basement", 17.0, 15.0, STILL, NO_SUN, 14.0),
    Setting("summer greenhouse", "Greenhouse in summer", 35.0, 19.0, MOVING, GLASS, 22.0),
    Setting("spring polytunnel", "Hoop house in spring", 24.0, 6.0, MOVING, GLASS, 11.0),
    Setting("open yard", "Open yard in summer", 31.0, 17.0, MOVING, OPEN_SUN, 20.0),
)
BY_KEY: dict[str, Setting] = {one.key: one for one in SETTINGS}
SETTING_SOURCE = f"round figures for such a place: {JUDGMENT}; a thermometer that keeps high and low is better"

# Air over the bath in m/s: rooms are taken as nearly still, yards and vented houses as a light draught.
AIR_SPEED_M_S = {STILL: 0.05, MOVING: 0.5}
# Sun on a level square metre at its height, W/m2: what a fine but not perfect summer noon brings, and two thirds of it.
SUN_W_M2 = {NO_SUN: 0.0, GLASS: 500.0, OPEN_SUN: 800.0}
# The sun's arc, clock hours with summer time.
SUNRISE, SUNSET = 6.0, 20.0

# Convection at surfaces in W/m2K, still air: upward over a warm top, and at walls. ISO 6946 (also ISO 13789, table 8),
# read in open implementations; so is 4 + 4 v for moving air.
TOP_CONVECTION, WALL_CONVECTION = 5.0, 2.5
EMISSIVITY = 0.9
WATER_EMISSIVITY = 0.95
# Shares of the sun taken up: foam under leaves, open water, a pale wall; and how much of the wall it sees.
FOAM_ABSORBS, WATER_ABSORBS, WALL_ABSORBS, WALL_SUNLIT = 0.4, 0.9, 0.5, 0.25
# Resistances in m2K/W: plastic 3 mm thick; a bath flat on a floor; ground round a buried tank; air under a lid, from
# ISO 6946. The middle two, and all shares of the sun above, are engineering judgment.
PLASTIC_R, FLOOR_R, GROUND_R, LID_R = 0.016, 0.1, 0.5, 0.16
INDOORS_C = 20.0
# Where a reservoir may stand.
BESIDE, SHADED, BURIED, INDOORS = "beside", "shaded", "buried", "indoors"
# Quiet pools gave off 74 % of what the formula for pools says: Smith, Löf, Jones (1998), ASHRAE Transactions 104(1A).
QUIET_POOL = 0.74

PRACTICE_LOW_C, PRACTICE_HIGH_C = (55.0 - 32.0) / 1.8, (85.0 - 32.0) / 1.8
COLD_REASON = "colder roots take up little, and growth nearly stops"
WARM_REASON = "warmer water holds less oxygen while roots need more, and root rot thrives"


def both(low_c: float, high_c: float) -> str:
    """A span of temperatures for readers of either system."""
    return f"{low_c:.0f} to {high_c:.0f} °C, {low_c * 1.8 + 32:.0f} to {high_c * 1.8 + 32:.0f} °F"


@dataclass(frozen=True)
class Band:
    """Root temperature a crop likes, in C, with why it ends where it does, and the source."""

    key: str
    name: str
    low_c: float
    high_c: float
    cold: str
    warm: str
    source: str


_TABLE = f"a common table of growers: {MEMORY}"
BANDS: tuple[Band, ...] = (
    Band("any", "No crop in mind: the practice band", PRACTICE_LOW_C, PRACTICE_HIGH_C, COLD_REASON, WARM_REASON,
         f"55 to 85 °F: {PRACTICE}"),
    Band("lettuce", "Lettuce", 15.0, 25.0, COLD_REASON, "root rot is likelier, and warmer still growth may fall",
         f"15 to 25 °C alike: {AEROPONIC} ({ABSTRACT}); not above 25 °C: {CORNELL}, quoted second hand. Above it "
         f"trials part: growth fell from 26 °C ({GLASSHOUSE}, abstract), or was best at 28 °C in air of 24 °C "
         f"({CAROTTI}, abstract)"),
    Band("pak choi", "Bok choy (pak choi)", 18.0, 25.0, COLD_REASON, "growth falls, and root rot is likelier",
         f"fall above 26 °C: {GLASSHOUSE} ({ABSTRACT}); best at 25 °C on a raft: {MALUDIN} ({ABSTRACT}); "
         f"low end: {_TABLE}"),
    Band("spinach", "Spinach", 16.0, 20.0, COLD_REASON, "Pythium kills its roots in warmer water",
         f"Cornell spinach handbook: {MEMORY}; roots stop growing above 26 °C (J. SHITA 10(4):225, abstract)"),
    Band("basil", "Basil", 20.0, 25.0, "basil is hurt by cold long before it freezes", WARM_REASON,
         f"20 to 25 °C as optimum: FAO 589, Appendix 1 ({PUBLISHED}); for the air, taken for the water too"),
    Band("kale", "Kale", 18.0, 22.0, COLD_REASON, WARM_REASON, _TABLE),
    Band("chard", "Chard", 16.0, 24.0, COLD_REASON, WARM_REASON, f"{FAO} ({COPY}), printed for the air"),
    Band("herbs", "Parsley or cilantro", 18.0, 22.0, COLD_REASON, "cilantro bolts in warmth", _TABLE),
    Band("watercress", "Watercress", 12.0, 20.0, COLD_REASON, WARM_REASON, _TABLE),
    Band("strawberry", "Strawberry", 15.0, 20.0, COLD_REASON, "crowns and roots rot in warmth", _TABLE),
)
BAND_BY_KEY: dict[str, Band] = {one.key: one for one in BANDS}
