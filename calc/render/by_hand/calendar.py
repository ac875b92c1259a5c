"""Sums of the calendar: sites, heads, seeds and dates, counted batch by batch."""

from __future__ import annotations

from collections import Counter
from datetime import date
from typing import Any

from .pad import NoSum, Pad, Term

WEEK = 7.0


def sites_available(pad: Pad) -> None:
    if pad.design.value("schedule.sites") is not None:
        raise NoSum
    pad.shows("Baths, times the sites of each", pad.times("bath.count", pad.whole("board.sites")))


def heads_per_week(pad: Pad) -> None:
    pad.shows("Heads of a batch, in seven days", pad.whole("schedule.heads_per_batch") * pad.num(WEEK)
              / pad.whole("schedule.every"))


def stage_area(pad: Pad) -> None:
    """Plants of a stage, each in a square of its spacing."""
    spacing = pad.put(pad.inputs("spacing_m"), "length", "in", "cm")
    found = pad.gives("Squares of the spacing", pad.num(pad.inputs("plants")) * spacing * spacing,
                      "sq in" if pad.us else "sq cm")
    pad.shows("Square feet" if pad.us else "Square meters", found / pad.num(144.0 if pad.us else 10_000.0), "ft2", "m2")


def most_heads(pad: Pad) -> None:
    pad.shows("Sites, over the days a plant holds one", pad.num(pad.inputs("sites")) * pad.num(WEEK)
              / pad.num(pad.inputs("days")))


def _crops(pad: Pad) -> list[dict[str, Any]]:
    return [row for row in pad.rows("schedule.per_crop") if row["plants"]]


def _count(value: float) -> Term:
    return Term(f"{value:,.0f}", float(value))


def heads_per_batch(pad: Pad) -> None:
    if not pad.value("schedule.raft_loss"):
        raise NoSum
    kept = pad.num(1.0) - pad.read("schedule.raft_loss", "ratio", "")
    pad.shows("Heads", pad.total(pad.rounded(row["name"], _count(row["plants"]) * kept, up=False)
                                 for row in _crops(pad)))


def _cells(pad: Pad, row: dict[str, Any]) -> Term:
    """Cells to sow for the plants of a crop; one with several seeds hardly ever stays empty."""
    each = row["seeds"] // row["cells"]
    come_up = pad.num(1.0) - pad.read("schedule.culls", "ratio", "")
    if each == 1:
        come_up = pad.read("schedule.germination", "ratio", "") * come_up
    return pad.rounded(row["name"], _count(row["plants"]) / pad.gives("Come up and are kept", come_up))


def seeds_per_batch(pad: Pad) -> None:
    found = []
    for row in _crops(pad):
        cells, each = _cells(pad, row), row["seeds"] // row["cells"]
        found.append(cells if each == 1 else pad.gives(f"{row['name']}, seeds", cells * _count(each)))
    pad.shows("All crops", pad.total(found))


def nursery_cells(pad: Pad) -> None:
    found = []
    for row in _crops(pad):
        batches = pad.rounded("Batches raised at once", _count(row["nursery_days"]) / pad.whole("schedule.every"))
        found.append(pad.gives(row["name"], _count(row["cells"]) * batches))
    pad.shows("All crops", pad.total(found))


def sowings(pad: Pad) -> None:
    days = pad.gives("Days of sowing", pad.whole("schedule.weeks") * pad.num(WEEK))
    times = pad.rounded("Sowing days", days / pad.whole("schedule.every"))
    crops = _crops(pad)
    pad.shows("For each crop", times if len(crops) == 1 else times * _count(len(crops)))


def seeds_total(pad: Pad) -> None:
    times = Counter(row["crop"] for row in pad.rows("schedule.batches"))
    pad.shows("Sowings, times the seeds of each", pad.total(
        _count(times[row["crop"]]) * _count(row["seeds"]) for row in _crops(pad)))


def _harvest(pad: Pad, last: bool) -> None:
    """The day of sowing, and so many days in the nursery and on the raft."""
    rows = pad.rows("schedule.batches")
    row = (max if last else min)(rows, key=lambda one: one["harvest"])
    crop = next(one for one in _crops(pad) if one["crop"] == row["crop"])
    days = pad.gives("Nursery and raft", _count(crop["nursery_days"]) + _count(crop["raft_days"]), "days")
    pad.day(f"{row['name']}, sown", date.fromisoformat(row["sow"]), int(days.value))


def first_harvest(pad: Pad) -> None:
    _harvest(pad, False)


def last_harvest(pad: Pad) -> None:
    _harvest(pad, True)


SUMS = {
    "schedule.sites_available": sites_available, "schedule.heads_per_week": heads_per_week,
    "schedule.most_heads": most_heads, "schedule.heads_per_batch": heads_per_batch,
    "schedule.seeds_per_batch": seeds_per_batch, "schedule.nursery_cells": nursery_cells,
    "schedule.sowings": sowings, "schedule.seeds_total": seeds_total, "schedule.first_harvest": first_harvest,
    "schedule.last_harvest": last_harvest, "schedule.nursery_area": stage_area, "schedule.close_area": stage_area,
    "schedule.wide_area": stage_area,
}
