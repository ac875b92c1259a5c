"""What the feed topic shows beside its rows of answers: grams, elements as bars, bottles, order and rounding."""

from __future__ import annotations

from html import escape

from ... import units
from ...data.salts import NH4, NO3, WORDS
from ...declare import Row
from ...solve import Design
from .. import chart
from ..pieces import figure, rows_table


def _mg(value: float | None, design: Design) -> str:
    return "" if value is None else design.shown_as("feed.water_ca", value)


def _grams(kilograms: float | None, design: Design) -> str:
    return "" if kilograms is None else design.shown_as("feed.total_mass", kilograms)


def _millilitres(cubic_metres: float | None, design: Design) -> str:
    return "" if cubic_metres is None else design.shown_as("feed.micro_dose", cubic_metres)


def _change(share: float) -> str:
    """A change in percent with its sign, and none at nought."""
    percent = round(100.0 * share, 1)
    return f"{percent:+.1f} %" if percent else "0 %"


def _amount(row: Row, design: Design) -> str:
    return _millilitres(row["volume"], design) if row.get("volume") is not None else _grams(row["mass"], design)


def _fold(keep: str, summary: str, inside: str) -> str:
    return f'<details class="more" data-keep="{keep}"><summary>{summary}</summary>{inside}</details>' if inside else ""


def _weigh(design: Design) -> str:
    rows = [{"salt": row["salt"], "amount": _amount(row, design),
             "how": "from the trace-element stock" if row["micro"] and design.value("feed.micro_stock")
             and any(one["key"] == row["key"] for one in design.value("feed.micro_stock")) else ""}
            for row in design.value("feed.masses") or []]
    if not rows:
        return ""
    columns = [("salt", "What"), ("amount", "How much")]
    if any(row["how"] for row in rows):
        columns.append(("how", "Weighed"))
    return rows_table(f"For {design.shown('feed.batch')} of solution", columns, rows)


def _elements(design: Design) -> str:
    found = design.value("feed.reached") or []
    aimed = [row for row in found if row["target"]]
    bars = [chart.Bar(WORDS[row["element"]], 100.0 * row["reached"] / row["target"], 100.0,
                      f"{units.number(row['reached'])} of {_mg(row['target'], design)}") for row in aimed]
    picture = figure(lambda wide: chart.bars(bars, "Elements reached, as a share of what is wanted", most=150.0,
                                               aim_words="what is wanted", wide=wide),
                     "Each bar is the share of the aim that is reached. A tenth either way is near enough for leaves "
                     "(common practice, no published source).")
    rows = [{"element": ("of it " + WORDS[row["element"]].lower()) if row["element"] in (NO3, NH4)
             else WORDS[row["element"]], "target": _mg(row["target"], design), "reached": _mg(row["reached"], design),
             "water": _mg(row["water"], design), "falls": _mg(row["falls"], design)} for row in found]
    falls = [("falls", "Can fall out, not counted")] if any(row["falls"] for row in found) else []
    table = rows_table("Elements wanted and reached", [
        ("element", "Element"), ("target", "Wanted"), ("reached", "Reached"), ("water", "of it from water and "
                                                                                        "acid"), *falls],
        rows) if rows else ""
    return picture + table


def _advice(design: Design) -> str:
    rows = design.value("feed.advice") or []
    items = "".join(f"<li>{escape(row['words'])}</li>" for row in rows)
    return f"<ul>{items}</ul>" if items else ""


def _bottles(design: Design) -> str:
    rows = [{"bottle": row["bottle"], "salt": row["salt"], "amount": _amount(row, design),
             "full": "" if row["g_l"] is None else f"{units.number(row['g_l'])} of {row['limit_g_l']:,.0f} g/L",
             "why": row["why"]} for row in design.value("feed.concentrates") or []]
    table = rows_table(f"Bottles A and B of {design.shown('feed.stock_size')} each", [
        ("bottle", "Bottle"), ("salt", "Salt"), ("amount", "Into the bottle"),
        ("full", "Dissolved, of what can be (20 °C, from memory)"), ("why", "Why there")], rows) if rows else ""
    stock = [{"salt": row["salt"], "mass": _grams(row["mass"], design), "weighed": _grams(row["weighed"], design),
              "off": _change(row["off"]), "hazard": row["hazard"]} for row in design.value("feed.micro_stock") or []]
    if stock:
        table += rows_table("One liter of trace-element stock", [
            ("salt", "Salt"), ("mass", "In a liter"), ("weighed", "On your scale"), ("off", "Off by"),
            ("hazard", "Take care")], stock)
    return _fold("feed-bottles", "Concentrates: bottles A and B, and the trace-element stock", table)


def _steps(design: Design) -> str:
    items = "".join(f"<li>{escape(row['words'])}</li>" for row in design.value("feed.order") or [])
    return _fold("feed-order", "Straight into the water: the order", f"<ol>{items}</ol>" if items else "")


def _rounding(design: Design) -> str:
    rows = [{"element": WORDS[row["element"]], "exact": _mg(row["exact"], design),
             "weighed": _mg(row["weighed"], design), "off": _change(row["off"])}
            for row in design.value("feed.rounded") or []]
    return _fold("feed-rounded", "What your scale makes of it", rows_table(
        "Exact and as weighed", [("element", "Element"), ("exact", "Exact"), ("weighed", "As weighed"),
                                 ("off", "Change")], rows) if rows else "")


def _mend(design: Design) -> str:
    rows = [{"what": row["what"], "amount": _amount(row, design)} for row in design.value("feed.correct_rows") or []]
    return rows_table("To mend the running bath, weighed straight in", [("what", "What"), ("amount", "How much")],
                      rows) if rows else ""


def extra(design: Design) -> str:
    """Grams, elements, advice, concentrates, order, rounding and the running bath."""
    return "".join(part(design) for part in (_weigh, _elements, _advice, _mend, _bottles, _steps, _rounding))
