"""Mends of crops that do not go together: the one that parts from the others goes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from ..data import crops as crop_data
from .trying import Candidate, Said, number, result_rows

if TYPE_CHECKING:
    from ..solve import Design

EC = Said("crops.ec_high", "the highest EC that suits all")
SITES = Said("board.sites", "the sites in each bath", "fall", "rise")
NAMES = Said("crops.spacing", "the spacing that gives every crop room", "shrinks", "grows")


def without_one(design: Design) -> Iterable[Candidate]:
    """The crops but one, the one that most conflicts name first; with two crops, either."""
    rows = design.rows("crops.rows")
    conflicts = result_rows(design, "crops.conflicts")
    unfit = {row["crop"] for row in rows if crop_data.BY_KEY[row["crop"]].fitness.text in ("poor", "no", "risky")}
    named = [row[end] for row in conflicts for end in ("less", "more")]
    keys = sorted({*named, *unfit}, key=lambda key: (key not in unfit, -named.count(key)))
    places = {}
    for key in [f"crops.rows.{place}.crop" for place in range(1, 9)]:
        typed = design.plan.text.get(key)
        if typed:
            places[typed.strip().lower()] = key
    for crop in keys if len(rows) > 1 else ():
        one = crop_data.BY_KEY[crop]
        place = places.get(crop.lower()) or places.get(one.name.lower())
        if place:
            stem = place.removesuffix(".crop")
            changes = {place: "", **{f"{stem}.{column}": "" for column in ("share", "sites")
                                     if f"{stem}.{column}" in design.plan.text}}
            yield Candidate(changes, f"Leave {one.name.lower()} out", (NAMES, EC))


def a_fit_crop(design: Design) -> Iterable[Candidate]:
    """Leaf lettuce, where the only crop does not suit a raft."""
    rows = design.rows("crops.rows")
    if len(rows) == 1 and crop_data.BY_KEY[rows[0]["crop"]].fitness.text in ("poor", "no", "risky"):
        yield Candidate({"crops.rows.1.crop": "leaf lettuce"}, "Grow leaf lettuce", (NAMES, EC))


def more_room(design: Design) -> Iterable[Candidate]:
    """The spacing that gives every crop room, where a closer one was typed."""
    if number(design, "board.spacing") is not None:
        yield Candidate({"board.spacing": ""}, f"Set the plants {design.shown('crops.spacing')} apart", (SITES,))


MENDS = (without_one, a_fit_crop, more_room)
