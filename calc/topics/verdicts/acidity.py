"""Whether the water can be brought to a pH that the crops like, with what is to be poured."""

from __future__ import annotations

from typing import TYPE_CHECKING

from . import small

if TYPE_CHECKING:
    from ...sheet import Sheet

# More phosphorus or chloride than these from one dose, in mg/L, are worth a word: engineering judgment, no source.
MUCH_PHOSPHORUS, MUCH_CHLORIDE = 50.0, 70.0
NEAR_PH = 0.3


def judge(sheet: Sheet) -> None:
    """The pH wanted beside the crops' own, and what the first dose brings besides."""
    target, volume = sheet["acidity.target_ph"], sheet.result("acidity.volume")
    figure = f"pH {target:g}, {sheet.shown('acidity.volume')}" if volume > 0.0 else f"pH {target:g}"
    low, high = sheet.result_if_any("crops.ph_low"), sheet.result_if_any("crops.ph_high")
    if low is not None and high is not None and not low - 1e-9 <= target <= high + 1e-9:
        sheet.verdict("tight", f"You want pH {target:g}, and {low:g} to {high:g} suits your crops.", figure,
                      "Not the crops' pH.")
    for element, letter, much in (("phosphorus", "p", MUCH_PHOSPHORUS), ("chloride", "cl", MUCH_CHLORIDE)):
        if sheet.result(f"acidity.nutrient_{letter}") > much:
            sheet.verdict("tight", f"The first dose alone brings {sheet.shown(f'acidity.nutrient_{letter}')} of "
                          f"{element}, more than plants use. Take another acid for a part of it, or mix the water with "
                          "reverse-osmosis water.", figure, f"Much {element}.")
    sheet.verdict("fits", _dose(sheet, volume, target) + _later(sheet, target), figure)


def _dose(sheet: Sheet, volume: float, target: float) -> str:
    start = sheet["acidity.start_ph"]
    if volume <= 0.0:
        return f"Your water is at pH {start:g} and needs nothing poured for {target:g}."
    name, _, strength = sheet.result("acidity.product", str).partition(", ")
    product = f"{small(name)} ({strength})" if strength else small(name)
    return (f"{sheet.shown('acidity.volume')} of {product} brings all {sheet.shown('acidity.water')} from pH {start:g} "
            f"to {target:g}: half first, then measure.")


def _later(sheet: Sheet, target: float) -> str:
    settled = sheet.result("acidity.rebound_ph")
    if abs(settled - target) <= NEAR_PH:
        return ""
    return f" It drifts toward {settled:.1f} within days, so correct it once or twice."
