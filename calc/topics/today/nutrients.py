"""Too weak or too strong: concentrate or salts to add, or water to add or exchange."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...errors import OutOfRange
from ...relations import feed as physics
from ..feed import concentrate, mix
from ..feed.choices import BOTTLES, SALTS, STOCK
from .reading import HIGHEST_EC, NEAR_EC, Recipe, ec_at_25, recipe_of, room, temperature, volume

if TYPE_CHECKING:
    from ...sheet import Sheet

# What bottles lack that were mixed for fresh water, whose acid brings it; a running bath takes little acid.
FED_BY_ACID = {"phosphoric": "phosphorus", "nitric": "nitrogen"}
THIRDS = "Add two thirds, let it mix, measure, then add the rest: EC does not add up exactly."


def water(sheet: Sheet) -> None:
    """The water that all of today's amounts are for."""
    if any(sheet.optional(f"today.{key}") is not None for key in ("volume", "ec", "ph", "jug_acid")):
        sheet.put("today.water", volume(sheet), note="As you put it in." if sheet.optional("today.volume") is not None
                  else "All the working water of the plan.")


def strength(sheet: Sheet) -> None:
    """EC now, and the EC aimed at."""
    typed = sheet.optional("today.ec")
    if typed is None or typed > HIGHEST_EC:
        return
    if sheet.yes("feed.meter_compensates"):
        sheet.put("today.ec_now", typed, note="As your meter shows it, in mS/cm.")
    else:
        sheet.work("today.ec_now", physics.conductivity_to_25, conductivity_ms_cm=typed,
                   temperature_c=temperature(sheet))
    aim, note = _aim(sheet)
    sheet.put("today.ec_aim", aim, note=note)


def _aim(sheet: Sheet) -> tuple[float, str]:
    typed = sheet.optional("today.ec_target")
    if typed is not None:
        return typed, "As you put it in."
    known = recipe_of(sheet)
    low, high = sheet.result_if_any("crops.ec_low"), sheet.result_if_any("crops.ec_high")
    if low is not None and high is not None and not low <= known.ec <= high:
        return min(max(known.ec, low), high), "What your crops like, as near to your recipe as that allows."
    return known.ec, "What your recipe has, without any acid, from its ions."


def weaker_or_stronger(sheet: Sheet) -> None:
    """What brings the EC to the aim."""
    typed, now = sheet.optional("today.ec"), ec_at_25(sheet)
    if typed is None or now is None or typed > HIGHEST_EC:
        return
    aim, known, litres = sheet.result("today.ec_aim"), recipe_of(sheet), volume(sheet)
    if now < aim - NEAR_EC:
        _add(sheet, known, now, aim, litres)
    elif now > aim + NEAR_EC:
        if aim <= known.plain:
            sheet.fault("today.ec_target", "EC you want must be more than the EC of your plain water, "
                        f"{sheet.shown_as('today.ec_now', known.plain)}.")
        _thin(sheet, known, now, aim, litres)


def _add(sheet: Sheet, known: Recipe, now: float, aim: float, litres_m3: float) -> None:
    if known.adds <= 0.0:
        raise OutOfRange("What a full dose adds must be more than 0 mS/cm to mend a bath.")
    share, litres = (aim - now) / known.adds, litres_m3 * 1e3
    way = sheet.text("feed.way")
    if way == BOTTLES:
        _bottles(sheet, share, litres)
        return
    stocked = [source.key for source in mix.sources_of(sheet) if way == SALTS and concentrate.is_stocked(source.key)]
    rows = [{"what": source.name, "mass": known.fit.grams_l[source.key] * litres * share / 1e3, "volume": None}
            for source in mix.sources_of(sheet) if source.key not in stocked and known.fit.grams_l[source.key] > 0.0]
    if any(known.fit.grams_l[key] > 0.0 for key in stocked):
        rows.append({"what": STOCK, "mass": None, "volume": litres_m3 / sheet["feed.micro_strength"] * share})
    sheet.put("today.salts", rows, note="Your recipe for this water, times the missing part of its EC; the acid of the "
              f"first fill counts for nothing here. {THIRDS}")
    if way == SALTS:
        numbers = {"volume_l": litres, "reads_ms_cm": now, "wanted_ms_cm": aim, "full_ms_cm": known.adds,
                   "dose_ml_l": 1e3 / sheet["feed.stock_strength"]}
        fed = FED_BY_ACID.get(sheet.text("acidity.acid"), "")
        short = f" Bottles for fresh water count on its acid and hold less {fed}: the salts are exact." if fed else ""
        each = physics.concentrate_to_add(**numbers) * 1e-6
        for key in ("today.bottle_a", "today.bottle_b"):
            sheet.put(key, each, relation=physics.concentrate_to_add, inputs=numbers,
                      note=f"The formula gives milliliters, for bottles that count on no acid.{short} {THIRDS}")


def _bottles(sheet: Sheet, share: float, litres: float) -> None:
    rows = [{"what": row["name"], "mass": None, "volume": row["dose"] * sheet["feed.strength"] * litres * share * 1e-6}
            for row in sheet.rows("feed.bottles") if row["dose"] > 0.0]
    sheet.put("today.salts", rows, note=f"The dose of each bottle, times the missing part of its EC. {THIRDS}")
    if len(rows) == 2:
        for key, row in zip(("today.bottle_a", "today.bottle_b"), rows, strict=True):
            sheet.put(key, row["volume"], note=f"{row['what']}: its dose, times the missing part of its EC. {THIRDS}")


def _thin(sheet: Sheet, known: Recipe, now: float, aim: float, litres_m3: float) -> None:
    numbers = {"volume_l": litres_m3 * 1e3, "reads_ms_cm": now, "wanted_ms_cm": aim, "water_ms_cm": known.plain}
    for key, function in (("today.water_instead", physics.water_to_add),
                          ("today.exchange", physics.solution_to_replace)):
        sheet.put(key, function(**numbers) / 1e3, relation=function, inputs=numbers, note="The formula gives liters.")
    left = room(sheet, litres_m3)
    if left is not None and sheet.result("today.water_instead") > left:
        sheet.caution("today-room", "warning", f"Today: the reservoir has room for only "
                      f"{sheet.shown_as('today.water', left)} more, so exchange water and do not just add it.",
                      lead="Reservoir nearly full",
                      brief=f"Room for only {sheet.shown_as('today.water', left)} more: exchange water instead.")
