"""A spreadsheet file of a plan: list, figures, nutrients and calendar, with sums that follow what is typed into it.

Written by the package XlsxWriter, which only this module imports; a page fetches it when a reader asks for the file.
"""

from __future__ import annotations

from datetime import date, datetime
from io import BytesIO
from math import ceil
from typing import Any

from ... import cells, units
from ...data.salts import WORDS
from ...plan import MADE_WITH
from ...solve import RESULT_TOPIC, Design
from ...topics import BY_NAME
from .. import answers, calendar
from ..paper import leaf
from ..table import OF_A_DAY
from . import tables

NAME = "workbook.xlsx"
# The file's own clock stands still, so that one plan always gives one file.
MADE = datetime(2020, 1, 1)
LACKING = (f"{NAME} needs the Python package XlsxWriter, which is not installed here. Install it, or take list.csv, "
           "holes.csv and results.json.")
ACTS = {"sow": "Sow", "transplant": "Move to the raft", "apart": "Move apart", "harvest": "Harvest"}
COUNTED = {"sow": "seeds", "transplant": "plants", "apart": "plants", "harvest": "heads"}
# XlsxWriter carries no types.
Book = Any


class _Page:
    """One sheet while it is written, row by row from the top."""

    def __init__(self, book: Book, styles: dict[str, Any], name: str, widths: tuple[float, ...], said: str):
        self.sheet, self.styles, self.row = book.add_worksheet(name), styles, 0
        for column, wide in enumerate(widths):
            self.sheet.set_column(column, column, wide)
        self.sheet.set_landscape()
        self.sheet.fit_to_pages(1, 0)
        self.line(said, style="note")
        self.row += 1

    def cell(self, column: int, value: object, style: str = "") -> None:
        """A cell of the row: numbers and dates as such, text as text whatever it begins with, ``None`` as nothing."""
        look = self.styles.get(style)
        if value is None or value == "":
            if style:
                self.sheet.write_blank(self.row, column, None, look)
        elif isinstance(value, date):
            self.sheet.write_datetime(self.row, column, datetime(value.year, value.month, value.day),
                                      self.styles["date"])
        elif isinstance(value, (int, float)) and not isinstance(value, bool):
            self.sheet.write_number(self.row, column, value, look)
        else:
            text = str(value)
            self.sheet.write_string(self.row, column, text,
                                    self.styles["quoted"] if cells.needs_apostrophe(text) else look)

    def line(self, *values: object, style: str = "") -> None:
        """A row of cells."""
        for column, value in enumerate(values):
            self.cell(column, value, style)
        self.row += 1

    def heads(self, *values: str) -> int:
        """A row of headings; the number of the row under it, as a spreadsheet counts."""
        self.line(*values, style="head")
        return self.row + 1

    def sum(self, column: int, formula: str, value: float, style: str = "sum") -> None:
        """A live sum, with what it comes to now for programs that do not reckon."""
        self.sheet.write_formula(self.row, column, f"={formula}", self.styles.get(style), value)


def _styles(book: Book) -> dict[str, Any]:
    looks = {"head": {"bold": True, "bottom": 1, "text_wrap": True, "valign": "bottom"}, "note": {"italic": True},
             "sum": {"bold": True, "top": 1}, "date": {"num_format": "yyyy-mm-dd", "align": "left"},
             "yours": {"border": 1, "bg_color": "#FFF8DC"}, "money": {"border": 1, "bg_color": "#FFF8DC",
             "num_format": "0.00"}, "money sum": {"bold": True, "top": 1, "num_format": "0.00"},
             "share": {"num_format": "0%"}, "quoted": {"quote_prefix": True}, "live": {}}
    return {name: book.add_format(look) for name, look in looks.items()}


def _list(page: _Page, design: Design) -> None:
    rows = tables.list_rows(design)
    first = page.heads("Shop", "Thing", "Size as sold", "Need", "Unit", "Owned", "To buy", "Pack size", "Packs",
                       "Price of what you buy")
    cost = 0.0
    for shop, thing, size, need, unit, owned, packs, pack, _, price, _ in rows:
        here = page.row + 1
        for column, value in enumerate((shop, thing, size, need, unit)):
            page.cell(column, value)
        page.cell(5, owned, "yours")
        assert isinstance(need, (int, float)) and isinstance(owned, (int, float)) and isinstance(packs, int)
        missing = max(need - owned, 0.0)
        page.sum(6, f"MAX(D{here}-F{here},0)", missing, "live")
        page.cell(7, pack)
        if isinstance(pack, (int, float)):
            page.sum(8, f"ROUNDUP(G{here}/H{here}-0.000001,0)", ceil(missing / pack - 1e-6), "live")
        else:
            page.cell(8, packs)
        page.cell(9, price, "money")
        cost += price if isinstance(price, float) else 0.0
        page.row += 1
    last = page.row
    page.row += 1
    page.cell(0, "All priced lines", "sum")
    page.sum(9, f"SUM(J{first}:J{last})", cost, "money sum")
    lines = page.row + 1
    page.row += 1
    page.cell(0, "Tax and postage")
    page.cell(9, 0.0, "money")
    page.row += 1
    page.cell(0, "Total", "sum")
    page.sum(9, f"J{lines}+J{lines + 1}", cost, "money sum")
    baths = int(design.value("parts.copies") or 1) * int(design.value("bath.count") or 1)
    page.row += 1
    page.cell(0, "Baths")
    page.cell(9, baths, "yours")
    page.row += 1
    page.cell(0, "A bath", "sum")
    page.sum(9, f"J{lines + 2}/J{lines + 3}", cost / baths, "money sum")
    page.row += 2
    page.line(f"Prices are in {design.value('energy.currency') or 'your currency'}. Pack sizes are common ones; your "
              "shop's may differ.", style="note")


def _figures(page: _Page, design: Design) -> None:
    page.heads("About", "Figure", "Value", "Unit", "As shown")
    for key, answer in design.answers.items():
        if not answers.has_row(key, design) or RESULT_TOPIC[key] in OF_A_DAY:
            continue
        value, unit = _value(answer.value, answer.spec.kind, design)
        page.line(BY_NAME[RESULT_TOPIC[key]].TITLE, answer.spec.label, value, unit, design.shown(key))


def _value(value: object, kind: str, design: Design) -> tuple[object, str]:
    """A result as a cell: a number in the unit that scripts get, a date, or nothing where it is words."""
    if isinstance(value, date):
        return value, ""
    if not isinstance(value, (int, float)) or isinstance(value, bool):
        return None, ""
    if kind == "money":
        return round(float(value), 2), str(design.value("energy.currency") or "")
    if kind in units.KINDS and kind != "whole":
        unit = units.KINDS[kind].script
        return float(f"{units.convert(float(value), kind, unit):.6g}"), unit
    return float(f"{value:.6g}"), ""


def _nutrients(page: _Page, design: Design) -> None:
    batch = design.value("feed.batch")
    rows = design.value("feed.masses") or []
    if batch and rows:
        litres = float(f"{batch * 1000:.6g}")
        page.cell(0, "Water to mix, L")
        page.cell(2, litres, "yours")
        volume = f"C{page.row + 1}"
        page.row += 2
        first = page.heads("What", "For a liter", "For all of it", "Unit")
        total = 0.0
        for row in rows:
            liquid = row.get("volume")
            per = (liquid * 1e6 if liquid else row["mass"] * 1000) / litres
            page.cell(0, row["salt"])
            page.cell(1, float(f"{per:.6g}"))
            page.sum(2, f"B{page.row + 1}*{volume}", float(f"{per:.6g}") * litres, "live")
            page.cell(3, "mL" if liquid else "g")
            total += 0.0 if liquid else float(f"{per:.6g}") * litres
            page.row += 1
        page.cell(0, "All that is weighed, g", "sum")
        page.sum(2, f'SUMIF(D{first}:D{page.row},"g",C{first}:C{page.row})', total)
        page.row += 2
    reached = design.value("feed.reached") or []
    if reached:
        page.heads("Element", "Wanted, mg/L", "Reached, mg/L", "Over or under, mg/L", "Share reached")
        for row in reached:
            page.cell(0, WORDS[row["element"]])
            wanted, got = (None if row[name] is None else float(f"{row[name]:.6g}")
                           for name in ("target", "reached"))
            page.cell(1, wanted)
            page.cell(2, got)
            if wanted and got is not None:
                here = page.row + 1
                page.sum(3, f"C{here}-B{here}", got - wanted, "live")
                page.sum(4, f"C{here}/B{here}", got / wanted, "share")
            page.row += 1


def _calendar(page: _Page, design: Design) -> None:
    batches = design.value("schedule.batches") or []
    found = sorted((date.fromisoformat(day), row["batch"], row["name"], what, row[COUNTED[what]], words)
                   for row in batches for what, day, _, words in calendar.events(row))
    if not found:
        return page.line("Nothing is sown in this plan: it has no day of sowing, or no site.")
    first = page.heads("Day", "Do", "Crop", "Batch", "Count", "Remark")
    for day, batch, name, what, many, words in found:
        page.line(day, ACTS[what], name, batch, many, words)
    last = page.row
    page.row += 1
    for what, words in ACTS.items():
        many = sum(one[4] for one in found if one[3] == what)
        if any(one[3] == what for one in found):
            page.cell(0, f"{words}, in all: {COUNTED[what]}", "sum")
            page.sum(4, f'SUMIF(B{first}:B{last},"{words}",E{first}:E{last})', many)
            page.row += 1


PAGES = (("List", (32, 34, 44, 9, 6, 9, 9, 10, 7, 14), "Framed cells are yours: change what you own and what you paid, "
          "and the sums follow.", _list),
         ("Figures", (16, 46, 14, 12, 60), "Every figure of the plan, in units of scripts and as the page shows it.",
          _figures),
         ("Nutrients", (40, 14, 14, 18, 14), "Change the liters and the amounts follow.", _nutrients),
         ("Calendar", (12, 18, 24, 8, 8, 90), "What to do on which day, with counts by crop.", _calendar))


def write(paper: leaf.Paper) -> bytes:
    """``workbook.xlsx``; ValueError with a sentence where the package that writes it is not installed."""
    try:
        import xlsxwriter
    except ImportError:
        raise ValueError(LACKING) from None
    out = BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False})
    book.set_properties({"title": paper.name, "comments": MADE_WITH, "created": MADE})
    styles = _styles(book)
    for name, widths, said, fill in PAGES:
        fill(_Page(book, styles, name, widths, f"{paper.name}. {said}"), paper.design)
    book.close()
    return out.getvalue()
