"""What the crops topic shows beside its rows of answers."""

from __future__ import annotations

from ...data import crops as data
from ...declare import Row
from ...solve import Design
from ..pieces import rows_table

# Cell, its title, kind of quantity and units; days and seeds are plain numbers.
SHOWN = (("spacing", "Spacing", "length", "in", "cm"), ("nursery", "Seed to raft, days", "number", "", ""),
         ("raft", "Raft to first cut, days", "number", "", ""), ("ec", "EC", "conductivity", "mS/cm", "mS/cm"),
         ("ph", "pH", "number", "", ""), ("root", "Water", "temperature", "F", "C"),
         ("dli", "Light of a day", "daily_light", "mol/m2/d", "mol/m2/d"),
         ("mass", "Harvest of a plant", "mass", "oz", "g"), ("water", "Drinks in a day, late", "volume", "fl oz", "L"),
         ("pot", "Net pot", "length", "in", "mm"), ("per_cell", "Seeds to a cell", "number", "", ""))
WORDED = (("habit", "Habit"), ("fitness", "On a raft"), ("begins", "Raised from"))


def between(design: Design, low: float, high: float, kind: str, us: str, metric: str) -> str:
    """A range as text; one number where both ends read alike."""
    first, last = (design.show(value, kind, us, metric) for value in (low, high))
    if first == last:
        return first
    number, _, unit = first.partition(" ")
    return f"{number} to {last}" if unit and last.endswith(" " + unit) else f"{first} to {last}"


def _cells(row: Row, design: Design) -> list[Row]:
    found = []
    for name, title, kind, us, metric in SHOWN:
        cell = row[name]
        found.append({"need": title, "range": between(design, cell["low"], cell["high"], kind, us, metric),
                      "note": cell["note"], "source": cell["source"], "status": cell["status"]})
    for name, title in WORDED:
        cell = row[name]
        text = data.FITNESS[cell["text"]] if name == "fitness" else cell["text"]
        found.append({"need": title, "range": text, "note": cell["note"], "source": cell["source"],
                      "status": cell["status"]})
    return found


def extra(design: Design) -> str:
    """Where crops part, and the chosen crops cell by cell."""
    rows = design.value("crops.table") or []
    if not rows:
        return ""
    parts = []
    conflicts = design.value("crops.conflicts") or []
    if conflicts:
        kinds = {"EC": ("conductivity", "mS/cm", "mS/cm"), "pH": ("number", "", ""),
                 "Water temperature": ("temperature", "F", "C"), "Light": ("daily_light", "mol/m2/d", "mol/m2/d")}
        listed = [{"what": row["what"], "less": data.BY_KEY[row["less"]].name,
                   "lower": between(design, row["less_low"], row["less_high"], *kinds[row["what"]]),
                   "more": data.BY_KEY[row["more"]].name,
                   "upper": between(design, row["more_low"], row["more_high"], *kinds[row["what"]])}
                  for row in conflicts]
        parts.append(rows_table("Where two crops part", [
            ("what", "Need"), ("less", "Wants less"), ("lower", "From, to"), ("more", "Wants more"),
            ("upper", "From, to")], listed))
    columns = [("need", "Need"), ("range", "Range"), ("note", "Remark"), ("source", "Source"),
               ("status", "How sure")]
    tables = "".join(rows_table(row["name"], columns, _cells(row, design)) for row in rows)
    parts.append('<details class="more" data-keep="crops-chosen"><summary>Crop table, with sources'
                 f"</summary>{tables}</details>")
    return "".join(parts)
