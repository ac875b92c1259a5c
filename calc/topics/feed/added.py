"""Salts that were weighed in already: what they come to, element by element, and what a meter should show."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...data import salts as salt_data
from ...declare import Choice, Field, Result, Table
from ...models import recipe
from ...relations import feed as physics
from .choices import GOOD_EC
from .mix import alkalinity, chelate_source, tap_brought, wanted_of

if TYPE_CHECKING:
    from ...sheet import Sheet

FIELDS = (
    Field("feed.added_water", "volume", "Water they went into", ("", ""), 1e-4, 1000.0, "gal", "L", optional=True,
          help="of the salts I added; empty: the solution to mix", why="empty: the solution to mix"),
)
TABLES = (
    Table("feed.added", "Salts I added", (
        Field("name", "choice", "Salt", choices=(Choice("", "choose"), *(
            Choice(one.key, one.name) for one in salt_data.SALTS))),
        Field("mass", "mass", "Weighed in", minimum=0.0, maximum=1000.0, us="g", metric="g")),
        max_rows=24, help="into plain tap water: what have I now?", why="empty: nothing was added by hand"),
)
RESULTS = (
    Result("feed.added_elements", "text", "What I added makes, in mg/L"),
    Result("feed.added_ec", "conductivity", "EC of what I added, with the tap's", "mS/cm", "mS/cm"),
    Result("feed.added_low", "conductivity", "A good meter may show of it as little as", "mS/cm", "mS/cm"),
    Result("feed.added_high", "conductivity", "and of it as much as", "mS/cm", "mS/cm"),
)
ORDER = ("N", "P", "K", "Ca", "Mg", "S", "Fe", "Mn", "Zn", "B", "Cu", "Mo", "Na", "Cl")
# Beyond these shares of the formula an element is named.
SHORT, MUCH = 0.7, 1.4


def added(sheet: Sheet) -> None:
    """Element by element in mg/L, with what the tap brings, and the conductivity of it all."""
    rows = sheet.rows("feed.added")
    if not rows:
        return
    typed = sheet.optional("feed.added_water")
    litres = 1000.0 * (sheet.result("feed.batch") if typed is None else typed)
    found = {element: amount for element, amount in tap_brought(sheet).items() if amount > 0.0}
    for row in rows:
        grams = 1000.0 * row["mass"] / litres
        for element, share in chelate_source(sheet, row["name"]).shares:
            found[element] = found.get(element, 0.0) + physics.element_from_salt(salt_g_l=grams, share=share)
    said = [f"{element} {sheet.shown_as('feed.water_ca', found[element]).removesuffix(' mg/L')}"
            for element in ORDER if found.get(element, 0.0) > 0.0]
    sheet.put("feed.added_elements", ", ".join(said), note="Grams over liters, times the share of the element in each "
              "salt, and what the tap brings; no acid is counted.", source=physics.element_from_salt.relation.source)
    ec = sheet.work("feed.added_ec", physics.conductivity_25, **recipe.charges(found, alkalinity(sheet)))
    for end, share in (("low", 1.0 - GOOD_EC), ("high", 1.0 + GOOD_EC)):
        sheet.put(f"feed.added_{end}", ec * share, note="A tenth either way: a prediction within that is a good one.")
    _beside_formula(sheet, found)
    _too_strong(sheet, ec)


def _beside_formula(sheet: Sheet, found: dict[str, float]) -> None:
    """Name what is far from the formula aimed at."""
    off = [f"{element} {sheet.shown_as('feed.water_ca', found.get(element, 0.0)).removesuffix(' mg/L')} for "
           f"{sheet.shown_as('feed.water_ca', amount)}" for element, amount in wanted_of(sheet).items()
           if element in ORDER and amount > 0.0 and not SHORT <= found.get(element, 0.0) / amount <= MUCH]
    if off:
        sheet.caution("feed-added-off", "note", f"What I added: far from the formula in {'; '.join(off)}. A formula is "
                      "no law, but look whether a salt was left out, or weighed twice.", lead="Far from the formula",
                      brief=f"{off[0]}{f' and {len(off) - 1} more' if len(off) > 1 else ''}: left out, or twice?")


def _too_strong(sheet: Sheet, ec: float) -> None:
    """More than the crops are said to stand: water goes in before a plant does."""
    most = sheet.result_if_any("crops.ec_high")
    if most is None or ec <= (1.0 + GOOD_EC) * most:
        return
    shown = sheet.shown("feed.added_ec")
    sheet.caution("feed-added-strong", "warning", f"What I added makes {shown}, and your crops are said to like "
                  f"{sheet.shown_as('feed.added_ec', most)} at most. Measure it, and thin it with water before you "
                  "plant.", lead="Too strong", brief=f"What I added makes {shown}: thin it before you plant.")
    sheet.verdict("tight", f"What you added makes {shown}, and your crops are said to like "
                  f"{sheet.shown_as('feed.added_ec', most)} at most. Measure it, and thin it with water before you "
                  "plant.", shown, "Too strong.")
