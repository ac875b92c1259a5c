"""Whether the nutrient solution has what the plants need, as strong as the crops like it, and stays clear."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...data.salts import ELEMENTS, WORDS
from ...data.targets import CHLORINE_HARMS_MG_L
from ...declare import Row
from ..feed.choices import FULL_SHARE, NO_TRACE_MG_L
from . import counted, listed, percent, small, span

if TYPE_CHECKING:
    from ...sheet import Sheet

# Shares of an element's aim: a tenth short is told, half short starves (engineering judgment).
SHORT, STARVED = 0.9, 0.5
# An EC that was worked out is within a tenth.
NEAR_EC = 0.1
ONE_OF = {"salts": "salt", "powders": "powder", "bottles": "bottle"}


def judge(sheet: Sheet) -> None:
    """Elements, strength, ammonium, what falls out and what dissolves; the worst of them is the verdict."""
    figure = sheet.shown("feed.ec")
    _elements(sheet, figure)
    low, high = sheet.result_if_any("crops.ec_low"), sheet.result_if_any("crops.ec_high")
    ec = sheet.result("feed.ec")
    if low is not None and high is not None and not (1 - NEAR_EC) * low <= ec <= (1 + NEAR_EC) * high:
        sheet.verdict("tight", f"It comes to {figure}, and {_suits(sheet)} suits your crops. Change the strength or "
                      "the formula.", figure,
                      "Too strong for the crops." if ec > high else "Too thin for the crops.")
    chlorine = sheet.optional("feed.water_chlorine")
    if chlorine is not None and chlorine >= CHLORINE_HARMS_MG_L:
        sheet.verdict("tight", f"Your water holds {sheet.shown('feed.water_chlorine')} of chlorine, and "
                      f"{sheet.shown_as('feed.water_chlorine', CHLORINE_HARMS_MG_L)} cost lettuce 30 % of its leaf. "
                      "Let it stand in air for days, or filter it, before you plant.", figure, "Chlorine burns roots.")
    share = sheet.result_if_any("feed.ammonium_share")
    if share is not None and share > sheet["feed.ammonium_ceiling"] * (1 + 1e-6):
        sheet.verdict("tight", f"{sheet.shown('feed.ammonium_share')} of the nitrogen is ammonium, and you allow "
                      f"{sheet.shown('feed.ammonium_ceiling')}. In water it burns roots.", figure, "Much ammonium.")
    _clear(sheet, figure)
    sheet.verdict("fits", _made(sheet, low, high), figure)


def _elements(sheet: Sheet, figure: str) -> None:
    reached = {row["element"]: row["reached"] + row["falls"] for row in sheet.result_rows("feed.reached")}
    without = [small(WORDS[one]) for one in ELEMENTS if reached.get(one, 0.0) <= NO_TRACE_MG_L]
    if without:
        named = listed(without if len(without) < 4 else [*without[:2], f"{len(without) - 2} more elements"])
        sheet.verdict("fails", f"Plants cannot live without {named}, and it brings none of "
                      f"{'it' if len(without) == 1 else 'them'}.", figure, f"No {without[0]}.")
    rows = [row for row in sheet.result_rows("feed.reached") if row["target"]]
    short = sorted((row for row in rows if _share(row) < SHORT), key=_share)
    if not short:
        return
    worst, names = short[0], [small(WORDS[row["element"]]) for row in short]
    has, wanted = (sheet.shown_as("acidity.nutrient_p", one) for one in (reached[worst["element"]], worst["target"]))
    others = listed([names[1].capitalize(), *names[2:3]]) if len(names) > 1 else ""
    more = f" {others} fall{'' if len(names) > 2 else 's'} short too." if others else ""
    sheet.verdict("fails" if _share(worst) < STARVED else "tight",
                  f"It has {has} of {names[0]} where {wanted} is wanted.{more}", figure,
                  f"Too little {names[0]}.")


def _share(row: Row) -> float:
    """What was put in beside what is wanted; what falls out of it again is told by itself."""
    return float((row["reached"] + row["falls"]) / row["target"])


def _clear(sheet: Sheet, figure: str) -> None:
    """Salts that fall out of the solution, or do not dissolve in their bottle."""
    index = sheet.result_if_any("feed.calcium_phosphate_index")
    if index is not None and index > 0.0:
        sheet.verdict("tight", f"At pH {sheet.result('feed.calcium_phosphate_ph'):.1f}, where it may come to stand, "
                      "calcium phosphate can fall out as a white haze. Keep the pH down with small doses of acid.",
                      figure, "A white haze may form.")
    filled: dict[str, float] = {}
    for row in sheet.rows_if_any("feed.concentrates"):
        filled[row["bottle"]] = filled.get(row["bottle"], 0.0) + row["share"]
    full = {bottle: share for bottle, share in filled.items() if share > FULL_SHARE}
    if full:
        bottle = max(full, key=lambda one: full[one])
        sheet.verdict("tight", f"Bottle {bottle} takes {percent(full[bottle])} of what water dissolves at "
                      f"{sheet.show(20.0, 'temperature', 'F', 'C')}, so salt may fall out. Make it weaker.", figure,
                      "Bottles too strong.")


def _made(sheet: Sheet, low: float | None, high: float | None) -> str:
    kinds = counted(len(sheet.result_rows("feed.masses")), ONE_OF[sheet.text("feed.way")])
    total = sheet.result_if_any("feed.total_mass")
    what = f"{kinds}, {sheet.shown('feed.total_mass')} in all," if total else kinds
    suits = f", and {_suits(sheet)} suits your crops" if low is not None and high is not None else ""
    return f"{what} make {sheet.shown('feed.batch')} of nutrient solution at {sheet.shown('feed.ec')}{suits}."


def _suits(sheet: Sheet) -> str:
    return span(sheet.shown("crops.ec_low"), sheet.shown("crops.ec_high"))
