"""What today's readings say about the bath, and which of them cannot be right."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ...data.salts import ATOMIC_MASS
from ...errors import OutOfRange, Unanswered
from ...figures import number
from ...models import recipe
from ...relations import acidity as water_physics
from ...relations import feed as feed_physics
from ..feed import strength as feed_strength
from ..feed.choices import BOTTLES

if TYPE_CHECKING:
    from ...sheet import Sheet

JUDGMENT = "engineering judgment, no source"
LIKELY_PH = (3.0, 10.0)
HIGHEST_EC = 5.0
# A first pour is this share of it all, and never moves the pH by more than the step even in a bath that has lost nine
# tenths of its phosphate.
FIRST_SHARE, STEP_PH, LEFT_OF_PHOSPHATE = 0.25, 0.5, 0.1
NEAR_PH, NEAR_EC = 0.1, 0.05
# Above this pH the sum of the acid rests on carbon dioxide in balance with the air, which algae or a meter that is off
# belie: from 8.6, a first pour would take water that holds 0.5 mmol/L of alkalinity below pH 4
# (engineering judgment; worked with the formulas of ``relations.acidity`` for water closed to the air).
SURE_PH = 8.3
# How far a volume may pass what the plan holds, where the brim is known and where it is not.
MEASURED, UNMEASURED = 1.1, 1.5
STRONGEST_FEED = 2.0
USUAL_PH = (5.5, 6.5)


@dataclass(frozen=True)
class Doubt:
    """A reading that cannot be right: ``about`` is ph, ec, volume or strength, ``words`` a sentence."""

    about: str
    words: str


@dataclass(frozen=True)
class Recipe:
    """The plan's feed without any acid: what it reaches in mg/L, its EC, and that of plain water, in mS/cm."""

    fit: recipe.Fit
    ec: float
    adds: float
    plain: float


def volume(sheet: Sheet) -> float:
    """Water in the bath in m3: typed, or all the working water."""
    typed = sheet.optional("today.volume")
    return sheet.result("water.working_volume") if typed is None else typed


def temperature(sheet: Sheet) -> float:
    """Temperature of the bath in C."""
    typed = sheet.optional("today.temperature")
    return sheet["water.temperature"] if typed is None else typed


def co2_atm(sheet: Sheet) -> float:
    """Carbon dioxide of the air, in atm."""
    return sheet["acidity.air_co2"] * 1e-6 * sheet.result("place.air_pressure") / water_physics.ATMOSPHERE_PA


def target_ph(sheet: Sheet) -> float:
    """The pH aimed at: typed for today, that of the plan, or the middle of what the crops like."""
    typed = sheet.optional("today.ph_target")
    planned = sheet.input_if_any("acidity.target_ph") if typed is None else typed
    if planned is not None:
        return planned
    return (sheet.result("crops.ph_low") + sheet.result("crops.ph_high")) / 2.0


def band(sheet: Sheet) -> tuple[float, float]:
    """The pH within which the bath is left alone."""
    low, high = sheet.result_if_any("crops.ph_low"), sheet.result_if_any("crops.ph_high")
    return USUAL_PH if low is None or high is None else (low, high)


def holds(sheet: Sheet) -> float | None:
    """The most water that bath and reservoir could hold, in m3; ``None`` where the plan does not know."""
    working = sheet.result_if_any("water.working_volume")
    if working is None:
        return None
    headroom, rim = sheet.result_if_any("water.reservoir_headroom"), sheet.result_if_any("water.rim_to_water")
    surface, baths = sheet.result_if_any("water.surface_area"), sheet.input_if_any("bath.count", int)
    room = (headroom or 0.0) + (rim or 0.0) * (surface or 0.0) * (baths or 1)
    return (working + room) * (UNMEASURED if headroom is None else MEASURED)


def room(sheet: Sheet, litres_m3: float) -> float | None:
    """Room for more water before the reservoir is full, in m3."""
    working, headroom = sheet.result_if_any("water.working_volume"), sheet.result_if_any("water.reservoir_headroom")
    return None if working is None or headroom is None else max(working + headroom - litres_m3, 0.0)


def ec_at_25(sheet: Sheet) -> float | None:
    """EC now in mS/cm at 25 C; ``None`` where none was typed."""
    typed = sheet.optional("today.ec")
    if typed is None or sheet.yes("feed.meter_compensates"):
        return typed
    return feed_physics.conductivity_to_25(conductivity_ms_cm=typed, temperature_c=temperature(sheet))


def recipe_of(sheet: Sheet) -> Recipe:
    """The plan's feed as it is given to a bath that runs: no first fill's acid counts."""
    fit, whole, adds = feed_strength.full_dose(sheet)
    plain = sheet.result("feed.water_conductivity")
    return Recipe(fit, max(whole, plain), adds, plain)


def recipe_if_any(sheet: Sheet) -> Recipe | None:
    """The same; ``None`` where the feed questions have no answer."""
    try:
        return recipe_of(sheet)
    except (Unanswered, OutOfRange):
        return None


def strength_share(sheet: Sheet, known: Recipe) -> float:
    """How strong the bath is, as a share of the recipe, by its EC; 1 where no EC was typed."""
    ec = sheet.optional("today.ec")
    if ec is None or ec > HIGHEST_EC or known.ec <= known.plain:
        return 1.0
    share = ((ec_at_25(sheet) or 0.0) - known.plain) / (known.ec - known.plain)
    return min(max(share, 0.0), STRONGEST_FEED)


def phosphate(sheet: Sheet) -> float | None:
    """Phosphate in the bath in mmol/L, by recipe and EC; ``None`` where it is not known.

    A bottle's label does not name the buffers in it, so bottles never tell.
    """
    if sheet.text("feed.way") == BOTTLES:
        return None
    known = recipe_if_any(sheet)
    if known is None or known.fit.reached.get("P", 0.0) <= 1e-6:
        return None
    return known.fit.reached["P"] / ATOMIC_MASS["P"] * strength_share(sheet, known)


def why_no_sum(ph: float, way: str) -> str:
    """Why no dose can be told for a pH in a bath fed in that way, as it stands behind "for"."""
    if ph > SURE_PH:
        return "so high a pH comes of algae, of hard water or of the meter, and no sum tells which"
    return ("ready bottles hold buffers that no label names" if way == BOTTLES else
            "your recipe does not tell how much phosphate there is")


def doubts(sheet: Sheet) -> tuple[Doubt, ...]:
    """The readings that cannot be right."""
    found = []
    ph, ec, typed, most = (sheet.optional("today.ph"), sheet.optional("today.ec"), sheet.optional("today.volume"),
                           holds(sheet))
    if ph is not None and not LIKELY_PH[0] <= ph <= LIKELY_PH[1]:
        found.append(Doubt("ph", f"A pH of {number(ph, 4)} is outside {LIKELY_PH[0]:g} to {LIKELY_PH[1]:g}, where no "
                           "bath with living plants is. Check the meter in its two buffers and measure again."))
    if ec is not None and ec > HIGHEST_EC:
        found.append(Doubt("ec", f"An EC of {sheet.shown_as('today.ec_now', ec)} is more than any nutrient solution "
                           "has. If your meter shows µS/cm or ppm, type the unit: 1500 µS/cm, 750 ppm500."))
    if typed is not None and most is not None and typed > most:
        found.append(Doubt("volume", f"{sheet.shown_as('today.water', typed)} is more than the bath and reservoir "
                           f"of your plan hold, about {sheet.shown_as('today.water', most)}. Check the volume and "
                           "its unit."))
    return tuple(found)
