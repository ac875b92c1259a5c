"""Mends of the raft: foam, spacing, pots, the number of boards, gaps and notches."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from ..data import crops as crop_data
from .trying import Candidate, Said, number, result_rows, scaled, set_to, text, typed

if TYPE_CHECKING:
    from ..solve import Design

SPARE = Said("board.spare_load", "what a board can still carry", "falls", "rises")
FOAM = Said("board.freeboard", "the foam above the water", "shrinks", "grows")
WEB = Said("board.web", "the foam between two holes", "shrinks", "grows")
SITES = Said("board.sites", "the sites in each bath", "fall", "rise")
MASS = Said("board.mass", "the heaviest board")
LONG = Said("board.length", "each board's length", "shrinks", "grows")
EDGE = Said("board.edge_draught", "the depth of the low edge")
SOAKED = Said("board.draught_soaked", "the depth of the soaked board")
COVER = Said("board.cover", "the share of water covered")
WEDGE = Said("board.fall_to_wedge", "the fall before the raft wedges")
FLOATS = (FOAM, SPARE, SOAKED, EDGE, MASS)
# Foam as it is usually cut: common practice, no published source.
INCHES = (0.5, 0.75, 1.0, 1.5, 2.0, 2.5, 3.0, 4.0)
MILLIMETRES = (20, 25, 30, 40, 50, 60, 80, 100)
LOW_M = 0.03


def barely_floats(design: Design) -> bool:
    """Whether a board stands low in the water, dips at one edge, or sinks once it is soaked."""
    thick, above = number(design, "board.thickness"), number(design, "board.freeboard")
    deepest = max(number(design, "board.edge_draught") or 0.0, number(design, "board.draught_soaked") or 0.0)
    return thick is not None and ((above is not None and above < LOW_M) or deepest > 0.9 * thick)


def crowded(design: Design) -> bool:
    """Whether holes leave little foam, or a board is heavy for one person."""
    web, mass, most = (number(design, f"board.{key}") for key in ("web", "mass", "max_mass"))
    return (web is not None and web < LOW_M) or (mass is not None and most is not None and mass > most)


def if_it_floats_badly(design: Design) -> Iterable[Candidate]:
    """Thicker foam, where the raft asks for it."""
    if barely_floats(design):
        yield from thicker_foam(design)


def thicker_foam(design: Design) -> Iterable[Candidate]:
    """The next thicknesses sold."""
    now = number(design, "board.thickness")
    if now is None:
        return
    metric = design.system == "metric"
    sold = [one / 1000.0 for one in MILLIMETRES] if metric else [one * 0.0254 for one in INCHES]
    for thick in [one for one in sold if one > now * 1.01][:3]:
        words = typed(design, "board.thickness", thick)
        yield Candidate({"board.thickness": words}, f"Take foam {words} thick", FLOATS)


def closed_cells(design: Design) -> Iterable[Candidate]:
    """Foam that hardly takes up water."""
    if text(design, "board.foam").startswith("EPS"):
        yield Candidate({"board.foam": "XPS IV"}, "Take foam with closed cells (XPS)", (SOAKED, *FLOATS))


def wider_spacing(design: Design) -> Iterable[Candidate]:
    """Fewer plants to the board."""
    now = number(design, "board.spacing_used")
    for factor in (1.125, 1.25, 1.5) if now and (barely_floats(design) or crowded(design)) else ():
        words = typed(design, "board.spacing", (now or 0.0) * factor, True, 0.5 if design.system == "us" else 10.0)
        yield Candidate({"board.spacing": words}, f"Set the plants {words} apart", (SITES, WEB, *FLOATS))


def fewer_sites(design: Design) -> Iterable[Candidate]:
    """As many sites as there is room for, or fewer for the foam to bear."""
    wanted, sites = number(design, "board.wanted"), number(design, "board.sites")
    if wanted is not None and sites is not None and wanted > sites:
        yield Candidate({"board.wanted": str(int(sites))}, f"Be content with {int(sites):,} sites", (SITES,))
    elif sites and sites >= 4 and (barely_floats(design) or crowded(design)):
        for share in (0.75, 0.5):
            count = int(sites * share)
            yield Candidate({"board.wanted": str(count)}, f"Plant {count:,} sites in each bath", (SITES, *FLOATS))


def closer(design: Design) -> Iterable[Candidate]:
    """A closer spacing, or a smaller margin, where more sites are wanted than fit."""
    wanted, sites = number(design, "board.wanted"), number(design, "board.sites")
    now = number(design, "board.spacing_used")
    if wanted is None or sites is None or now is None or wanted <= sites:
        return
    yield from scaled(design, "board.margin", (0.75,), "Leave {} at the edge", SITES)
    for factor in (0.9, 0.8):
        words = typed(design, "board.spacing", now * factor, False, 0.25 if design.system == "us" else 5.0)
        yield Candidate({"board.spacing": words}, f"Set the plants {words} apart", (SITES, WEB))


def smaller_pot(design: Design) -> Iterable[Candidate]:
    """A smaller pot leaves more foam."""
    web = number(design, "board.web")
    if web is not None and web < 0.05:
        yield from scaled(design, "board.pot", (0.75, 0.5), "Take pots of {}", WEB, SITES,
                          step=0.25 if design.system == "us" else 5.0)


def more_boards(design: Design) -> Iterable[Candidate]:
    """A raft in more boards, each lighter and shorter."""
    count = number(design, "board.count")
    mass, most = number(design, "board.mass"), number(design, "board.max_mass")
    long = max(number(design, "board.length") or 0.0, number(design, "board.width") or 0.0)
    too_long = long > (number(design, "board.max_length") or long) + 1e-9
    if count is None or not (too_long or (mass is not None and most is not None and mass > most)):
        return
    yield from set_to(design, "board.split", "auto", "Let the raft be split for one person", MASS, LONG)
    for along in (int(count) + 1, 2 * int(count)):
        yield Candidate({"board.split": "number", "board.boards_along": str(along), "board.boards_across": "1"},
                        f"Cut the raft into {along} boards", (MASS, LONG))


def two_lift(design: Design) -> Iterable[Candidate]:
    """Two people at a board that is too heavy for one."""
    mass, most = number(design, "board.mass"), number(design, "board.max_mass")
    if mass is not None and most is not None and most < mass <= 2.0 * most:
        words = typed(design, "board.max_mass", 2.0 * most)
        yield Candidate({"board.max_mass": words}, f"Lift each board with two people, {words} together", (MASS,))


def closer_edge(design: Design) -> Iterable[Candidate]:
    """A raft nearer to the wall, so that less light reaches the water; or farther, so that it does not wedge."""
    cover = number(design, "board.cover")
    if cover is not None and cover < 0.95:
        yield from scaled(design, "board.clearance", (0.5, 0.25), "Leave {} all round", COVER,
                          step=0.125 if design.system == "us" else 1.0)
    if number(design, "board.fall_to_wedge") is not None:
        yield from scaled(design, "board.clearance", (1.5, 2.0, 3.0), "Leave {} all round", WEDGE)


def notch(design: Design) -> Iterable[Candidate]:
    """Notches for the pipes of the plan."""
    yield from set_to(design, "board.notches", "pipes", "Cut notches for pipes and hoses", SITES)


def lighter_crop(design: Design) -> Iterable[Candidate]:
    """A lighter crop that suits a raft, where one crop is grown and weighs much."""
    rows = result_rows(design, "crops.table")
    mass = number(design, "crops.fresh_mass")
    if len(rows) != 1 or mass is None or number(design, "board.plant_mass") is not None or not barely_floats(design):
        return
    lighter = [one for one in crop_data.CROPS if one.fitness.text not in ("risky", "poor", "no")
               and 0.5 * (one.mass.low + one.mass.high) < 0.8 * mass and one.key != rows[0]["crop"]]
    for one in sorted(lighter, key=lambda crop: -crop.mass.high)[:2]:
        yield Candidate({"crops.rows.1.crop": one.key}, f"Grow {one.name.lower()}", (SPARE, MASS, SITES))


def in_the_wall(design: Design) -> Iterable[Candidate]:
    """The overflow in the wall, where no notch lets a standpipe through."""
    if text(design, "board.notches") == "none":
        yield from set_to(design, "circulation.overflow_place", "wall", "Set the overflow in the wall", SITES)


MENDS = (if_it_floats_badly, closed_cells, notch, in_the_wall, closer_edge, more_boards, two_lift, closer, smaller_pot,
         wider_spacing, fewer_sites, lighter_crop)
