"""From grams to bottles: trace-element stock, concentrates A and B, and the order of mixing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ...data import salts as salt_data
from ...data.salts import ELEMENTS, WORDS
from ...declare import Row
from ...models import recipe
from .. import scheme
from .choices import BOTTLES, FULL_SHARE, HALF_A_STEP, SALTS, SCALES, STOCK
from .mix import mixture, salt_keys, sources_of, water_brought

if TYPE_CHECKING:
    from ...sheet import Sheet

# A cold shed or cellar, where the salt tables have a second column.
COLD_C = 10.0


def is_stocked(source_key: str) -> bool:
    """Whether a salt belongs in the trace-element stock: all traces but iron chelates, which go with bottle A."""
    return salt_data.is_micro(source_key) and salt_data.BY_KEY[source_key].bottle == "B"


def micro_stock(sheet: Sheet) -> None:
    """Trace elements as a strong stock, for their pinches cannot be weighed batch by batch."""
    if sheet.text("feed.way") != SALTS:
        return
    found, strength, step = mixture(sheet), sheet["feed.micro_strength"], SCALES[sheet.text("feed.scale")]
    rows: list[Row] = []
    coarse: list[str] = []
    for key in salt_keys(sheet):
        grams = found.grams_l[key] * strength
        if grams <= 0.0 or not is_stocked(key):
            continue
        salt = salt_data.BY_KEY[key]
        weighed = recipe.rounded(grams, step)
        rows.append({"salt": salt.name, "key": key, "mass": grams / 1000.0, "weighed": weighed / 1000.0,
                     "off": weighed / grams - 1.0, "share": grams / (salt.solubility_g_l or float("inf")),
                     "hazard": salt.hazard})
        if abs(weighed / grams - 1.0) > HALF_A_STEP:
            coarse.append(salt.name.lower())
    if not rows:
        return
    sheet.put("feed.micro_stock", rows, note="Grams per liter of solution times the strength of the stock.",
              source="; ".join(dict.fromkeys(salt_data.BY_KEY[row["key"]].dissolves for row in rows)))
    sheet.put("feed.micro_dose", sheet.result("feed.batch") / strength, note="Solution divided by the strength.")
    if coarse:
        sheet.caution("feed-coarse-scale", "warning", f"Trace elements: your scale is too coarse for "
                      f"{', '.join(coarse)}, even in a liter of stock. Borrow one that shows 0.01 g, or buy a ready "
                      "mix and put its label in as a powder. Ten times too much boron or copper kills plants.",
                      lead="Scale too coarse",
                      brief="For traces take a scale that shows 0.01 g, or a ready mix: too much kills plants.")
    full = [row["salt"] for row in rows if row["share"] > FULL_SHARE]
    if full:
        sheet.caution("feed-stock-full", "warning", f"Trace-element stock: {', '.join(full)} may not dissolve at this "
                      "strength. Make the stock weaker.", lead="Stock may not dissolve",
                      brief=f"{full[0]} may not dissolve at this strength: make the stock weaker.")


def rounding(sheet: Sheet) -> None:
    """What the scale's steps do to each element."""
    found, sources = mixture(sheet), sources_of(sheet)
    if sheet.text("feed.way") == BOTTLES:
        return
    litres, step = sheet.result("feed.batch") * 1000.0, SCALES[sheet.text("feed.scale")]
    stock_off = {row["key"]: row["off"] for row in sheet.rows_if_any("feed.micro_stock")}
    weighed = {key: grams * (1.0 + stock_off[key]) if key in stock_off
               else recipe.rounded(grams * litres, step) / litres for key, grams in found.grams_l.items()}
    then = recipe.bring(sources, weighed, water_brought(sheet))
    rows: list[Row] = [{"element": element, "exact": found.reached[element], "weighed": then.get(element, 0.0),
                        "off": then.get(element, 0.0) / found.reached[element] - 1.0}
                       for element in ELEMENTS if found.reached.get(element, 0.0) > 0.0]
    sheet.put("feed.rounded", rows, note="Each mass to the nearest step of the scale; trace elements from their "
              "stock.")
    lost = [row for row in rows if abs(row["off"]) > HALF_A_STEP]
    if lost:
        sheet.caution("feed-rounding", "note", "Scale: rounding to its steps changes "
                      + ", ".join(f"{WORDS[row['element']].lower()} by {row['off']:+.0%}" for row in lost)
                      + ". Weigh a larger amount as a concentrate, or use a finer scale.", lead="Rounded weights",
                      brief=f"The scale's steps change {WORDS[lost[0]['element']].lower()} by {lost[0]['off']:+.0%}: "
                            "weigh more at a time.")


def concentrates(sheet: Sheet) -> None:
    """Bottles A and B: what goes where, why, and whether it dissolves."""
    if sheet.text("feed.way") != SALTS:
        return
    found, strength = mixture(sheet), sheet["feed.stock_strength"]
    size = sheet.optional("feed.stock_volume")
    if size is None:
        size = sheet.result("feed.batch") / strength
        sheet.put("feed.stock_size", size, note="What this fill takes: its volume over the strength of the bottles.")
    else:
        sheet.put("feed.stock_size", size, note="As you put it in.")
    litres = size * 1000.0
    rows: list[Row] = []
    filled = {"A": 0.0, "B": 0.0}
    cold: dict[str, list[tuple[float, str]]] = {"A": [], "B": []}
    for key in salt_keys(sheet):
        grams_l = found.grams_l[key] * strength
        if grams_l <= 0.0 or is_stocked(key):
            continue
        salt = salt_data.BY_KEY[key]
        for bottle, part, why in recipe.bottles_of(key):
            share = grams_l * part / salt.solubility_g_l
            filled[bottle] += share
            cold[bottle].append((grams_l * part / (salt.cold_g_l or salt.solubility_g_l), salt.name))
            rows.append({"bottle": bottle, "salt": salt.name, "key": key, "mass": grams_l * part * litres / 1000.0,
                         "g_l": grams_l * part, "limit_g_l": salt.solubility_g_l, "share": share, "why": why})
    rows.sort(key=lambda row: row["bottle"])
    if sheet.rows_if_any("feed.micro_stock"):
        rows.append({"bottle": "B", "salt": STOCK, "key": "stock", "mass": None,
                     "volume": size * strength / sheet["feed.micro_strength"], "g_l": None,
                     "limit_g_l": None, "share": 0.0, "why": "measured by volume, never weighed by the pinch"})
    sheet.put("feed.concentrates", rows, note="Grams per liter of solution, times the strength and the size of the "
              "bottle. How full: grams per liter over the most that a liter of solution holds of this salt alone at "
              "20 °C.", source="; ".join(dict.fromkeys(salt_data.BY_KEY[row["key"]].dissolves for row in rows
                                                      if row["key"] in salt_data.BY_KEY)))
    sheet.put("feed.concentrate_dose", 1000.0 / strength, note="A thousand divided by the strength.")
    sheet.put("feed.concentrate_each", sheet.result("feed.batch") / strength, note="Solution divided by the strength.")
    for bottle, share in filled.items():
        if share > FULL_SHARE:
            sheet.caution(f"feed-full-{bottle}", "warning",
                          f"Bottle {bottle}: about {share:.0%} of what water takes up at 20 °C, so salt may stay or "
                          f"fall out, sooner in the cold. Make it weaker. (Shares of single salts simply added up.)",
                          lead=f"Bottle {bottle} full",
                          brief=f"About {share:.0%} of what water takes up: make it weaker.")
        elif (chilled := sum(part for part, _ in cold[bottle])) > FULL_SHARE:
            first, degrees = max(cold[bottle])[1], sheet.show(COLD_C, "temperature", "F", "C")
            sheet.caution(f"feed-cold-{bottle}", "note",
                          f"Bottle {bottle}: at {degrees} about {chilled:.0%} of what water takes up there, so salt "
                          f"may fall out, {first} first. Keep it warmer, or make it weaker.",
                          lead=f"Bottle {bottle} in the cold",
                          brief=f"At {degrees} salt may fall out, {first} first: keep it warmer or weaker.")


def order(sheet: Sheet) -> None:
    """The batch straight into the tank, in an order that does not cloud."""
    moving = (" and start the pumps" if scheme.pumps_water(sheet) else " and start the air" if scheme.has_air(sheet)
              else "")
    steps = [f"Fill the bath with nine tenths of the water{moving}."]
    if sheet.text("feed.way") == BOTTLES:
        steps += [f"Measure {row['salt']} into a bucket of water, pour it in, and let it mix for some minutes. Rinse "
                  "the measure." for row in sheet.result_rows("feed.masses")]
    else:
        rows = sheet.result_rows("feed.masses")
        brings = {source.key: source.brings for source in sources_of(sheet)}
        last = [row for row in rows if brings[row["key"]].get("Ca", 0.0) > 0.0]
        stocked = sheet.text("feed.way") == SALTS and [row for row in rows if is_stocked(row["key"])]
        steps += [f"{row['salt']}: dissolve it in its own bucket of water, pour it in."
                  for row in rows if row not in last and not (stocked and row in stocked)]
        if stocked:
            steps.append("Pour in the trace-element stock.")
        how = "where the water moves" if moving else "while you stir"
        steps += [f"{row['salt']} last of all: dissolved in a full bucket, slowly, {how}."
                  for row in last]
    steps.append("Fill up with water. After half an hour measure EC, then pH.")
    sheet.put("feed.order", [{"step": number, "words": words} for number, words in enumerate(steps, 1)],
              note="Calcium comes last and thin, so that it never meets strong sulfate or phosphate.")
