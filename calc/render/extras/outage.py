"""What the outage topic shows beside its rows of answers."""

from __future__ import annotations

from ... import units
from ...solve import Design
from .. import chart
from ..pieces import rows_table

WAYS = (("likely", "likely"), ("low", "if all that is uncertain goes wrong"), ("high", "if all of it goes well"))


def _words(design: Design) -> str:
    cases: dict[str, str] = {row["what"]: row["case"] for row in design.value("outage.times") or []}
    return cases.get(design.value("outage.what"), "")


def fall(design: Design, wide: bool) -> str:
    """Oxygen in the bath against hours, with the alarm level as a fourth line; "" without a curve."""
    rows = design.value("outage.curves") or []
    if len(rows) < 2:
        return ""
    series = [chart.Line(words, [(row["hours"], row[way]) for row in rows]) for way, words in WAYS]
    alarm = max(row["level"] for row in design.value("outage.times"))
    level = design.shown_as("outage.end", alarm)
    series.append(chart.Line(f"alarm, {level}", [(rows[0]["hours"], alarm), (rows[-1]["hours"], alarm)]))
    at = next((row for row in rows if abs(row["hours"] * 3600.0 - (design.value("outage.hours") or 0.0)) < 1e-6), None)
    mark = (at["hours"], at["likely"], f"likely after {units.number(at['hours'])} h: "
            f"{design.shown_as('outage.end', at['likely'])}") if at else None
    top = max(row[way] for row in rows for way, _ in WAYS)
    case = _words(design)
    title = "Oxygen after a cut in the hottest hour" + (f": {case[:1].lower()}{case[1:]}" if case else "")
    return chart.lines(series, "hours since the cut", "oxygen in the bath, mg/L", title,
                       mark=mark, reach=(rows[-1]["hours"], max(top, alarm)), wide=wide)


def extra(design: Design) -> str:
    """The fall of oxygen, the time to each level in each case, and what to do in order."""
    times = [{**row, "level": design.shown_as("outage.end", row["level"])}
             for row in design.value("outage.times") or []]
    steps = design.value("outage.steps") or []
    text = ""
    if times:
        text += rows_table("Time to each level, from the hottest hour",
                           [("case", "What stops"), ("level", "Oxygen down to"), ("low_words", "Low"),
                            ("likely_words", "Likely"), ("high_words", "High")], times)
    if steps:
        text += rows_table("What to do, in order, when both stop",
                           [("order", "No."), ("step", "Do"), ("buys", "What it buys"), ("basis", "From")], steps)
    return text
