"""Today's answer in a sentence, the order of work, what to measure and when, and what can hurt."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...errors import Unanswered
from ...figures import number
from ...relations.base import PRACTICE
from .. import scheme
from ..feed.choices import BOTTLES
from .acid import acid_if_any
from .reading import band, target_ph, temperature, why_no_sum

if TYPE_CHECKING:
    from ...sheet import Sheet



def jug(up: bool) -> str:
    """How to find a dose in a jug: with acid, or where the pH has to go up, with pH-up."""
    return (f"Jug test: take a liter of bath water, add the {'pH-up' if up else 'acid'} that you will pour drop by "
            "drop, stir and measure, until its pH is the one you want. Type the jug and the drops.")


MIX_MIN = "half an hour"


def _ml(sheet: Sheet, key: str) -> str:
    return sheet.shown_as("today.first_pour", sheet.result(key))


def _ec_words(sheet: Sheet) -> str:
    now, aim = sheet.result_if_any("today.ec_now"), sheet.result_if_any("today.ec_aim")
    if now is None or aim is None:
        return ""
    def say(value: float) -> str:
        return sheet.shown_as("today.ec_now", value)
    if sheet.rows_if_any("today.salts"):
        return f"EC {say(now)} is below {say(aim)}: add nutrients."
    if sheet.result_if_any("today.water_instead") is not None:
        return f"EC {say(now)} is above {say(aim)}: add or exchange water."
    return f"EC {say(now)} is where you want it."


def _ph_words(sheet: Sheet) -> str:
    ph, pour, base = (sheet.optional("today.ph"), sheet.result_if_any("today.first_pour"),
                      sheet.result_if_any("today.base"))
    if pour:
        what = "pH-up" if base else "acid"
        low, high = band(sheet)
        if ph is not None and low <= ph <= high and sheet.optional("today.ph_target") is None:
            return f"pH {number(ph, 4)} is within {low:g} to {high:g}: leave it."
        if sheet.result_if_any("today.water_instead") is not None:
            # Water changes the pH, and its buffer with it: a dose for the bath as it is would be one for another bath.
            return f"Half an hour after that, measure the pH again: {what} comes last."
        if sheet.rows_if_any("today.salts"):
            return f"Half an hour after that, pour {_ml(sheet, 'today.first_pour')} of {what}, then measure."
        return f"Pour {_ml(sheet, 'today.first_pour')} of {what} first, then measure."
    if ph is None or sheet.result_if_any("today.ceiling") is not None:
        return ""
    target = target_ph(sheet)
    if pour is not None:
        return f"pH {number(ph, 4)} is where you want it."
    return f"pH {number(ph, 4)} where you want {target:g}: make the jug test, for what holds this pH is not known."


def _still(sheet: Sheet) -> bool:
    """Whether roots breathe from the gap of air over the falling water."""
    return not scheme.has_air(sheet)


def order(sheet: Sheet) -> None:
    """The answer in a sentence, and the order of work that makes it true."""
    typed = [sheet.optional(f"today.{key}") for key in ("ec", "ph", "jug_acid")]
    if all(one is None for one in typed):
        sheet.put("today.verdict", f"{'Measure' if _still(sheet) else 'Top up, measure'} EC and pH in the bath, and "
                  "type them here.",
                  note="Nothing is typed yet.")
        return
    doubt = sheet.result_if_any("today.ceiling_why", str)
    parts = [part for part in ("Check a reading first." if doubt else "", _ec_words(sheet), _ph_words(sheet)) if part]
    sheet.put("today.verdict", " ".join(parts) or "Type EC or pH.",
              note="From the answers below.")
    rows = ["Stir, and do not fill the bath up: the gap of air is the roots'." if _still(sheet) else
            f"Top up to the mark, with the {'pump' if scheme.circulates(sheet) else 'air'} running."]
    if doubt:
        rows.append(doubt)
    rows += _nutrient_steps(sheet) + _ph_steps(sheet)
    if len(rows) > 1:
        sheet.put("today.order", [{"step": number, "words": row} for number, row in enumerate(rows, 1)],
                  note="Water changes the EC and nutrients change the pH, so the acid comes last.")


def _nutrient_steps(sheet: Sheet) -> list[str]:
    bottles = sheet.result_if_any("today.bottle_a")
    if sheet.result_if_any("today.water_instead") is not None:
        return [f"Exchange {sheet.shown('today.exchange')} for water, or add {sheet.shown('today.water_instead')} if "
                f"there is room. Wait {MIX_MIN}, then measure EC and pH again and type them: the acid below no "
                "longer holds."]
    if not sheet.rows_if_any("today.salts"):
        return []
    first = ("Two thirds of A, thinned in a bucket of bath water; let it mix for 15 minutes; then two thirds of B."
             if bottles is not None and sheet.text("feed.way") != BOTTLES else
             "Two thirds of each, one after the other, each thinned or dissolved in its own bucket of water; "
             "calcium last.")
    return [f"{first} Never together undiluted.", f"Wait {MIX_MIN}, measure EC, add what is missing, and measure the "
            "pH again."]


def _ph_steps(sheet: Sheet) -> list[str]:
    pour, base = sheet.result_if_any("today.first_pour"), sheet.result_if_any("today.base")
    if pour:
        what = "pH-up" if base else "Acid"
        return [f"{what} last: thin {_ml(sheet, 'today.first_pour')} in a jug of bath water and pour it where the "
                f"water moves. Wait {MIX_MIN}, measure, type the new pH here, and go on from there."]
    low = sheet.optional("today.ph")
    if pour is None and low is not None and sheet.result_if_any("today.ceiling") is None:
        return [jug(low < target_ph(sheet))]
    return []


def measure(sheet: Sheet) -> None:
    """What to measure, and when: always, so that an empty form says where to begin."""
    sheet.put("today.measure", [
        {"what": "Level", "when": "first; the bath is not filled up to the board again" if _still(sheet) else
         "first: top up to the mark"},
        {"what": "EC and temperature",
         "when": f"after {'stirring' if _still(sheet) else 'topping up'}; again {MIX_MIN} after nutrients or water"},
        {"what": "pH", "when": f"after the EC is right; again {MIX_MIN} after each pour, and tomorrow"},
    ], note=f"Half an hour for a pumped or bubbled bath: {PRACTICE}.")


def cautions(sheet: Sheet) -> None:
    """What can hurt, at the point of use; what no dose can be given for."""
    pour, ceiling = sheet.result_if_any("today.first_pour"), sheet.result_if_any("today.ceiling")
    if pour or ceiling:
        sheet.caution("today-pouring", "danger", "Today: goggles and gloves. Acid into water, never water into acid. "
                      "Never near bleach, never straight into the other one. Keep it locked away from children.",
                      lead="Pouring today", brief="Goggles and gloves; acid into water; never near bleach.")
        product = acid_if_any(sheet)
        if product is not None and product.burns and sheet.result_if_any("today.base") is None:
            sheet.caution("acidity-burns", "danger", f"{product.words}: at this strength it burns skin and eyes. Leave "
                          "it, and thinning it, to people trained for it; buy it dilute instead.",
                          lead="Burns skin and eyes", brief="Too strong for beginners: buy it dilute.")
    why = sheet.result_if_any("today.ceiling_why", str)
    if why is not None:
        most = f" Pour no more than {_ml(sheet, 'today.ceiling')} until then." if ceiling is not None else ""
        sheet.caution("today-doubt", "warning", f"Today: {why}{most}", lead="Unsure dose",
                      brief="The dose of acid is unsure today: pour little, wait and measure.")
    if pour is None and ceiling is None and sheet.optional("today.ph") is not None and _far(sheet):
        ph = sheet["today.ph"]
        up = ph < target_ph(sheet)
        what = "pH-up" if up else "acid"
        sheet.caution("today-jug", "note", f"Today: no dose of {what}, for {why_no_sum(ph, sheet.text('feed.way'))}. "
                      f"{jug(up)}",
                      lead="Try a jug",
                      brief=f"No dose of {what} can be told: try it in a jug of bath water first.")
    if temperature(sheet) > 35.0:
        sheet.caution("today-warm", "warning", "Today: the water is warmer than roots bear; cool it before "
                                               "anything else.", lead="Too warm today",
                      brief="The water is warmer than roots bear: cool it first.")


def _far(sheet: Sheet) -> bool:
    try:
        return abs(sheet["today.ph"] - target_ph(sheet)) > 0.1
    except Unanswered:
        return False
