"""What the water-use topic shows beside its rows of answers."""

from __future__ import annotations

from ...solve import Design
from .. import chart
from ..pieces import figure, rows_table


def extra(design: Design) -> str:
    """The ways of reckoning side by side, and how conductivity drifts."""
    return _ways(design) + _drift(design)


def _ways(design: Design) -> str:
    rows = [{"way": row["way"], "source": row["source"],
             **{which: design.shown_as("use.per_day", row[which]) for which in ("low", "likely", "high")}}
            for row in design.value("use.ways") or []]
    return rows_table("Water a day for all plants at their thirstiest",
                      [("way", "Way"), ("low", "Low"), ("likely", "Likely"), ("high", "High"), ("source", "Source")],
                      rows) if rows else ""


def _drift(design: Design) -> str:
    rows = design.value("use.drift") or []
    if not rows:
        return ""
    def points(column: str) -> list[tuple[float, float]]:
        return [(row["day"], row[column]) for row in rows]
    drawn = figure(lambda wide: chart.lines(
        [chart.Line("meter, topped up with your solution", points("feed")),
         chart.Line("meter, topped up with plain water", points("plain")),
         chart.Line("nutrients alone, with your solution", points("feed_nutrients")),
         chart.Line("nutrients alone, with plain water", points("plain_nutrients"))],
        "days", "mS/cm, just topped up", "EC over four weeks", wide=wide),
        "The gap between meter and nutrients is what the source water leaves behind; no meter tells the two apart.")
    def ec(value: float) -> str:
        return design.shown_as("use.ec_feed", value)
    table = rows_table("EC at each top-up", [
        ("day", "Day"), ("feed_before", "Top-up: before"), ("feed", "Top-up: after"), ("plain_before", "Plain: before"),
        ("plain", "Plain: after")],
        [{"day": f"{row['day']:.0f}", **{column: ec(row[column]) for column in (
            "feed_before", "feed", "plain_before", "plain")}} for row in rows])
    return (f'{drawn}<details class="more" data-keep="use-drift"><summary>EC before and after each '
            f"top-up</summary>{table}</details>")
