"""Mends of the calendar: fewer heads, other days between sowings, a younger harvest, a closer start."""

from __future__ import annotations

from collections.abc import Iterable
from math import floor
from typing import TYPE_CHECKING

from .trying import Candidate, Said, known, number, result_rows, set_to, text

if TYPE_CHECKING:
    from ..solve import Design

HEADS = Said("schedule.heads_per_week", "the heads a week", "fall", "rise")
NEEDED = Said("schedule.sites_needed", "the sites needed", "fall", "rise")
USED = Said("schedule.sites_used", "the sites in use", "fall", "rise")


def fewer_heads(design: Design) -> Iterable[Candidate]:
    """As many heads a week as there are sites for."""
    found = known(design, "schedule.heads", "schedule.sites_needed", "schedule.sites_available")
    if text(design, "schedule.aim") != "heads" or found is None or found[1] <= found[2]:
        return
    heads, needed, there = found
    first = min(int(heads) - 1, floor(heads * there / needed))
    for count in dict.fromkeys((first + 1, first, first - 1)):
        if 1 <= count < heads:
            yield Candidate({"schedule.heads": str(count)}, f"Ask for {count:,} a week", (NEEDED, HEADS))


def by_sites(design: Design) -> Iterable[Candidate]:
    """As many as the sites give."""
    if text(design, "schedule.aim") == "heads":
        yield from set_to(design, "schedule.aim", "sites", "Plan for the sites that you have", NEEDED, HEADS)


def other_days(design: Design) -> Iterable[Candidate]:
    """Sown more often, so that batches fill the sites; or more rarely, so that each has a plant."""
    now = number(design, "schedule.every")
    if now is None:
        return
    for every in (now - 1, now + 1, now // 2, now * 2):
        if 1 <= every <= 60 and every != now:
            yield Candidate({"schedule.every": f"{every:.0f}"}, f"Sow every {every:.0f} days", (USED, HEADS, NEEDED))


def younger(design: Design) -> Iterable[Candidate]:
    """A younger harvest frees the sites sooner."""
    for pace in {"slow": ("middle", "fast"), "middle": ("fast",)}.get(text(design, "schedule.pace"), ()):
        words = "Cut as young as the crop allows" if pace == "fast" else "Cut a little younger"
        about = (NEEDED, HEADS) if text(design, "schedule.aim") == "heads" else (HEADS, USED)
        yield Candidate({"schedule.pace": pace}, words, about)


def closer_start(design: Design) -> Iterable[Candidate]:
    """Young plants on a closer board."""
    yield from set_to(design, "schedule.stages", "two", "Start the plants on a closer board", HEADS, NEEDED)


def all_sites(design: Design) -> Iterable[Candidate]:
    """All the sites that the boards have."""
    if number(design, "schedule.sites") is not None:
        yield Candidate({"schedule.sites": ""}, "Use all the sites of the boards", (USED, HEADS))


def shares_of_sites(design: Design) -> Iterable[Candidate]:
    """Equal shares, where crops ask for more sites than there are."""
    rows = result_rows(design, "crops.table")
    cells = {f"crops.rows.{place}.sites": "" for place in range(1, len(rows) + 1)
             if design.plan.text.get(f"crops.rows.{place}.sites", "").strip()}
    if cells:
        yield Candidate(cells, "Share the sites out equally", (USED, HEADS))


MENDS = (fewer_heads, all_sites, shares_of_sites, younger, other_days, closer_start, by_sites)
