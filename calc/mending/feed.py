"""Mends of the feed: strength, a salt that lacks, the source water, the scale and the bottles."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from ..data import salts as salt_data
from .acidity import a_little_higher, rain
from .trying import Candidate, Said, new_row, number, result_rows, said, scaled, text, typed

if TYPE_CHECKING:
    from ..solve import Design

EC = Said("feed.ec", "the EC of the fresh solution")
MASS = Said("feed.total_mass", "all that is weighed")
WATER_EC = Said("feed.water_conductivity", "the EC of the water alone")
LIME = Said("feed.calcium_phosphate_index", "the index of calcium phosphate")
STOCK = Said("feed.concentrate_dose", "the dose of each concentrate", "falls", "rises")
MICRO = Said("feed.micro_dose", "the trace stock to add")
MOST_SALTS = 4


def strength(design: Design) -> Iterable[Candidate]:
    """The strength that brings the EC to what suits the crops."""
    low, high, ec = (number(design, key) for key in ("crops.ec_low", "crops.ec_high", "feed.ec"))
    share, water = design.plan.values.get("feed.strength"), number(design, "feed.water_conductivity") or 0.0
    if low is None or high is None or ec is None or not isinstance(share, float) or low <= ec <= high:
        return
    for aim in (low if ec < low else high, 0.5 * (low + high)):
        if ec > water and aim > water:
            words = typed(design, "feed.strength", share * (aim - water) / (ec - water), ec < low)
            yield Candidate({"feed.strength": words}, f"Mix it at {words}", (EC,))


def lacking_salt(design: Design) -> Iterable[Candidate]:
    """A salt that brings what is short: of those that bring it, the easiest to weigh first, none restricted."""
    if text(design, "feed.way") != "salts":
        return
    rows = [row for row in result_rows(design, "feed.reached") if row["target"]]
    short = sorted((row for row in rows if row["reached"] < 0.97 * row["target"]),
                   key=lambda row: row["reached"] / row["target"])
    owned = {row["name"] for row in design.rows("feed.salts")}
    tried: list[str] = []
    for row in short[:2]:
        salts = [salt for salt in salt_data.SALTS if salt.key not in owned and salt.key not in tried
                 and not salt.restricted and salt_data.shares(salt.key).get(row["element"], 0.0) > 0.0]
        salts.sort(key=lambda salt: (len(salt_data.shares(salt.key)), -salt_data.shares(salt.key)[row["element"]]))
        for salt in salts[:MOST_SALTS // 2]:
            tried.append(salt.key)
            changes = new_row(design, "feed.salts", {"name": salt.key})
            if changes:
                yield Candidate(changes, f"Add {salt.name.lower()} to the salts", (EC, MASS))


def thinner_water(design: Design) -> Iterable[Candidate]:
    """Source water with less in it, where it brings too much or its acid does."""
    if any(one.code.startswith(("feed-water-", "feed-acid-passes", "feed-lime")) for one in design.cautions):
        yield from rain(design, (WATER_EC, EC, LIME))


def finer_scale(design: Design) -> Iterable[Candidate]:
    """A scale with finer steps."""
    finer = {"1 g": "0.1 g", "0.1 g": "0.01 g"}.get(text(design, "feed.scale"))
    if finer and said(design, "feed-coarse-scale", "feed-rounding"):
        yield Candidate({"feed.scale": finer}, f"Weigh on a scale that shows {finer}", (MASS,))


def weaker_bottles(design: Design) -> Iterable[Candidate]:
    """Concentrates that dissolve."""
    if not said(design, "feed-full-A", "feed-full-B", "feed-stock-full"):
        return
    yield from scaled(design, "feed.stock_strength", (0.75, 0.5), "Make the concentrates {} times as strong as the "
                      "feed", STOCK, step=5.0)
    yield from scaled(design, "feed.micro_strength", (0.5,), "Make the trace stock {} times as strong as the solution",
                      MICRO, step=500.0)


def a_little_thinner(design: Design) -> Iterable[Candidate]:
    """A tenth, a fifth, or a third less, so that calcium phosphate stays in solution."""
    index = number(design, "feed.calcium_phosphate_index")
    if index is not None and index > 0.0:
        yield from scaled(design, "feed.strength", (0.9, 0.8, 2 / 3), "Mix it at {}", EC, step=5.0)


def weigh_salts(design: Design) -> Iterable[Candidate]:
    """Single salts, where bottles or powders cannot bring what is short."""
    if text(design, "feed.way") in ("bottles", "powders") and said(design, "feed-short", "feed-no-iron"):
        yield Candidate({"feed.way": "salts"}, "Weigh single salts instead", (EC, MASS))


def ready_formula(design: Design) -> Iterable[Candidate]:
    """The leaf formula, where one of one's own lacks something."""
    if text(design, "feed.target") == "own":
        yield Candidate({"feed.target": "leafy"}, "Take the formula for leaf crops", (EC, MASS))


def lower_ph(design: Design) -> Iterable[Candidate]:
    """Lower pH keeps calcium phosphate in solution."""
    index, aim = number(design, "feed.calcium_phosphate_index"), number(design, "acidity.target_ph")
    low, high = number(design, "crops.ph_low"), number(design, "crops.ph_high")
    if index is not None and index > 0.0 and aim is not None:
        for value in (aim - 0.3, min(aim - 0.6, high or aim), 0.75 * (low or 5.5) + 0.25 * (high or 6.5)):
            if (low is None or value >= low) and value < aim:
                words = f"{round(value, 1):g}"
                yield Candidate({"acidity.target_ph": words}, f"Aim for pH {words}", (LIME,))


MENDS = (strength, lower_ph, a_little_thinner, lacking_salt, finer_scale, weaker_bottles, thinner_water,
         a_little_higher, ready_formula, weigh_salts)
