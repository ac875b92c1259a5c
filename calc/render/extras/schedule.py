"""What the calendar shows beside its rows of answers."""

from __future__ import annotations

from ...solve import Design
from .. import chart
from ..pieces import rows_table

MOST_LISTED = 120
BATCHES = [("batch", "Batch"), ("name", "Crop"), ("seeds", "Seeds"), ("sow", "Sow"), ("transplant", "To the raft"),
           ("apart", "Move apart"), ("ready", "Ready from"), ("harvest", "Harvest by"), ("heads", "Heads")]
CROPS = [("name", "Crop"), ("sites_used", "Sites used"), ("seeds", "Seeds a sowing"), ("plants", "Plants a sowing"),
         ("heads", "Heads a sowing"), ("nursery_days", "Days in the nursery"), ("raft_days", "Days on the raft")]


def busy_chart(design: Design, wide: bool) -> str:
    """Sites busy by week beside the sites there are; "" without a week."""
    rows, there = design.value("schedule.busy") or [], design.value("schedule.sites_available")
    if not rows or there is None:
        return ""
    # A week is a step: level from its first day to its last.
    steps = [point for row in rows for point in ((row["week"] - 1.0, row["sites"]), (float(row["week"]), row["sites"]))]
    fullest = max(rows, key=lambda row: row["sites"])
    said = (f"The fullest is week {fullest['week']}, from {fullest['from']}, with {fullest['sites']:,} sites busy of "
            f"{there:,}.", f"The raft is followed for {len(rows)} weeks.")
    return chart.lines([chart.Line("sites busy", steps), chart.Line("sites there are", [(0.0, there),
                                                                                     (float(len(rows)), there)])],
                       "weeks from the first sowing", "sites", "Sites busy by week", said=said, wide=wide)


def extra(design: Design) -> str:
    """The busy weeks, each crop's part, and every date."""
    batches = design.value("schedule.batches") or []
    text = ""
    crops = design.value("schedule.per_crop") or []
    if crops:
        text += rows_table("Each crop's part", CROPS, crops)
    if not batches:
        return text
    columns = BATCHES if any(row["apart"] for row in batches) else [one for one in BATCHES if one[0] != "apart"]
    table = rows_table("Sowings with their dates", columns, batches[:MOST_LISTED])
    rest = len(batches) - MOST_LISTED
    more = f"<p>{rest:,} more are in the CSV file.</p>" if rest > 0 else ""
    weeks = rows_table("Sites busy by week", [("week", "Week"), ("from", "From"), ("sites", "Busy"), ("free", "Free")],
                       design.value("schedule.busy") or [])
    count = f"{len(batches):,} sowing{'' if len(batches) == 1 else 's'}"
    return (f'{text}<details class="more" data-keep="schedule-dates"><summary>All dates: {count}</summary>'
            f'{table}{more}</details><details class="more" data-keep="schedule-weeks"><summary>Sites busy, week by week'
            f"</summary>{weeks}</details>")
