"""The sheet of building: step by step, a picture at the left, a sentence with this plan's own sizes at the right."""

from __future__ import annotations

from dataclasses import dataclass

from ...figures import count
from ...solve import Design
from . import boards, cover, ink, leaf, shop, template

WIDE, TALL = 42.0, 25.0
GROUND = 23.0
# So few steps stand together at the top.
FEW = 8


@dataclass(frozen=True)
class Step:
    """One box: what to do, in HTML whose sizes are bold, and its picture."""

    title: str
    text: str
    parts: tuple[str, ...]


def bold(text: str) -> str:
    """A size, or a count, that the eye finds first; it never breaks."""
    return f"<b>{leaf.keep(text)}</b>" if text else ""


def _vessel(left: float, right: float, top: float, bottom: float, level: float | None = None) -> list[str]:
    made = []
    if level is not None:
        made.append(
            ink.shape("water", [(left + 1.2, level), (right - 1.2, level), (right - 2.5, bottom), (left + 2.5, bottom)])
        )
    return [
        *made,
        ink.line(
            "wall",
            (left - 1.5, top),
            (left, top),
            (left + 2.5, bottom),
            (right - 2.5, bottom),
            (right, top),
            (right + 1.5, top),
        ),
    ]


def _ground() -> str:
    return ink.line("hair", (0, GROUND + 0.4), (WIDE, GROUND + 0.4))


def _stand_picture() -> tuple[str, ...]:
    return (
        ink.rect("wood", 5, 7, 32, 2.2),
        ink.rect("wood", 7, 9.2, 2.4, GROUND - 9.2),
        ink.rect("wood", 32.6, 9.2, 2.4, GROUND - 9.2),
        ink.rect("part", 13, 3.4, 16, 3.4),
        ink.circle("part", 21, 5.1, 1),
        ink.line("hair", (18.6, 3.6), (18.6, 6.6)),
        ink.line("hair", (23.4, 3.6), (23.4, 6.6)),
        _ground(),
    )


def _place_picture() -> tuple[str, ...]:
    return (
        *_vessel(8, 34, 8, GROUND),
        ink.rect("part", 13, 4, 16, 3.4),
        ink.circle("part", 21, 5.7, 1),
        ink.line("hair", (18.6, 4.2), (18.6, 7.2)),
        ink.line("hair", (23.4, 4.2), (23.4, 7.2)),
        _ground(),
    )


def _drill(x: float, y: float) -> list[str]:
    """A drill with a hole saw, its teeth at (x, y)."""
    return [
        ink.rect("part", x - 2.6, y - 12, 5.2, 7.5),
        ink.line("part bare", (x + 2.6, y - 10.5), (x + 6.5, y - 10.5), (x + 6.5, y - 6.5)),
        ink.line("part bare", (x, y - 4.5), (x, y - 3)),
        ink.rect("part", x - 2.8, y - 3, 5.6, 3),
    ]


def _floor_hole() -> tuple[str, ...]:
    return (*_vessel(4, 38, 6, 20), *_drill(30, 19.5), ink.across(31, 36, 23.6, ""))


def _standpipe_picture(words: str) -> tuple[str, ...]:
    return (
        ink.line("wall", (3, 19), (39, 19)),
        ink.rect("part", 13, 4, 5, 18),
        ink.rect("part", 11.5, 17, 8, 1.6),
        ink.rect("black", 11.5, 19.7, 8, 1.6),
        ink.upright(26, 4, 18.6, words, False, False),
        ink.line("hair", (18.5, 4), (27, 4)),
    )


def _wall_hole_picture(words: str) -> tuple[str, ...]:
    return (
        *_vessel(4, 30, 4, 21, 9),
        ink.rect("part", 27, 7.4, 9, 4),
        ink.upright(39, 9.4, 21, "", False, False),
        ink.text(17, 16, words, "", "middle"),
    )


def _test_picture() -> tuple[str, ...]:
    return (
        *_vessel(4, 38, 5, 18, 8),
        ink.rect("white", 29, 7.5, 3, 14),
        ink.line("part bare", (29, 7.5), (29, 21)),
        ink.line("part bare", (32, 7.5), (32, 21)),
        ink.text(17, 14.5, "24 h", "bold", "middle", 5),
        ink.line("edge", (8, 23.5), (38, 23.5)),
    )


def _boards_picture() -> tuple[str, ...]:
    return (
        ink.rect("part", 3, 3, 36, 18),
        ink.line("edge", (3, 12.5), (39, 12.5)),
        ink.line("edge", (15, 12.5), (15, 21)),
        ink.line("edge", (27, 12.5), (27, 21)),
        ink.shape("black", [(38, 12.5), (35.5, 11.5), (35.5, 13.5)]),
        ink.text(21, 8.6, "cut 1 first", "faded", "middle"),
    )


def _mark_picture(disc: bool) -> tuple[str, ...]:
    made = [ink.circle("part", 21, 12.5, 11)] if disc else [ink.rect("part", 4, 3, 34, 19)]
    for x, y in ((14, 9), (21, 15), (28, 9)):
        made += [
            ink.circle("hole", x, y, 2),
            ink.line("hair", (x - 3.2, y), (x + 3.2, y)),
            ink.line("hair", (x, y - 3.2), (x, y + 3.2)),
        ]
    made.append(ink.circle("black", 21, 12.5, 0.8) if disc else ink.shape("black", [(4, 22), (8, 22), (4, 18)]))
    return tuple(made)


def _drill_picture() -> tuple[str, ...]:
    return (
        ink.rect("foam", 2, 15, 38, 5),
        ink.rect("wood", 3, 20, 8, 3),
        ink.rect("wood", 31, 20, 8, 3),
        *_drill(20, 16),
        ink.line("dash", (17.2, 15), (17.2, 20)),
        ink.line("dash", (22.8, 15), (22.8, 20)),
    )


def _notch_picture() -> tuple[str, ...]:
    return (
        ink.line("edge", (22, 3), (2, 3), (2, 9), (9, 9)),
        ink.line("edge", (22, 22), (2, 22), (2, 16), (9, 16)),
        ink.curve("edge", (9, 9), ((14, 9), (14, 16), (9, 16))),
        ink.line("edge", (22, 3), (40, 3), (40, 22), (22, 22)),
        ink.rect("part", 27, 3, 3, 19),
        ink.text(31, 13.5, "tape"),
    )


def _hose_picture() -> tuple[str, ...]:
    return (
        *_vessel(3, 24, 9, GROUND, 14),
        ink.rect("part", 10, 18.5, 6, 4),
        ink.line("hose", (13, 18.5), (13, 5), (36, 5)),
        ink.shape("part", [(24, 3), (24, 7), (28, 3), (28, 7)]),
        ink.shape("black", [(40, 5), (35.5, 2.8), (35.5, 7.2)]),
        _ground(),
    )


def _air_picture() -> tuple[str, ...]:
    return (
        ink.rect("part", 2, 3, 11, 6),
        ink.rect("wood", 1, 9, 14, 1.6),
        ink.line("air", (13, 6), (24, 6), (24, 19.6), (33, 19.6)),
        ink.shape("part", [(16, 4.4), (16, 7.6), (19, 6)]),
        ink.rect("part", 22, 4, 4, 4),
        ink.shape("water", [(8, 13), (40, 13), (40, 21.5), (8, 21.5)]),
        ink.rect("black", 31, 18.6, 7, 2),
        ink.line("air", (24, 13), (24, 19.6), (31, 19.6)),
        ink.circle("part", 33, 16, 0.8),
        ink.circle("part", 35.5, 14.4, 0.9),
    )


def _cord_picture() -> tuple[str, ...]:
    return (
        ink.rect("wood", 4, 1, 3, 22),
        ink.rect("part", 3.4, 5, 4.4, 7),
        ink.curve("cord", (7.8, 8.5), ((12, 24), (18, 24), (20, 14)), ((22, 8), (26, 8), (38, 8))),
        ink.shape("black", [(14.6, 20), (13.4, 22.4), (15.8, 22.4)]),
        ink.text(17, 23.4, "lowest"),
    )


def _fill_picture(stand: bool, reservoir: bool) -> tuple[str, ...]:
    made = _vessel(7, 35, 4, 11, 5.6) + [ink.rect("foam", 10, 4.4, 22, 2)]
    if stand:
        made += [
            ink.rect("wood", 6, 11.4, 30, 1.6),
            ink.rect("wood", 8, 13, 2, GROUND - 13),
            ink.rect("wood", 32, 13, 2, GROUND - 13),
        ]
    if reservoir:
        made += _vessel(14, 28, 15, GROUND, 18)
    return (*made, _ground())


def steps(design: Design) -> list[Step]:
    """The steps that this plan has, in order."""
    shown, each = design.shown, " each" if (design.value("bath.count") or 1) > 1 else ""
    wet, legs = design.value("water.scheme") == "circulating", bool(design.value("bath.legs"))
    found = [
        Step(
            "Stand" if legs else "Place",
            f"Level it both ways. It must carry {bold(shown('water.bath_mass'))}{each}"
            + (f", {bold(shown('water.leg_load'))} on each leg." if legs else ". No stone, no gap under its floor."),
            _stand_picture() if legs else _place_picture(),
        )
    ]
    if wet:
        found += _overflow(design)
    found += _raft(design)
    if wet:
        found.append(
            Step(
                "Pump and hose",
                f"Pump <b>A</b>, {bold(shown('circulation.hose_length'))} of hose, valve "
                "<b>C</b>, in at <b>D</b>."
                + (
                    " A small hole under the bend stops a siphon."
                    if design.value("bath.fill") == "rim"
                    else " A check valve keeps it from running back."
                ),
                _hose_picture(),
            )
        )
    stones = int(design.value("air.stones") or 0)
    if stones:
        split = f", manifold <b>K</b>, {bold(count(stones))} lines of" if stones > 1 else " and one line of"
        found.append(
            Step(
                "Air",
                f"Hang <b>H</b> above the water. Check valve <b>I</b>{split} "
                f"{bold(shown('air.hose_length'))}, a stone at {'each' if stones > 1 else 'its'} end.",
                _air_picture(),
            )
        )
    if stones or wet:
        found.append(
            Step(
                "Cords",
                "GFCI (RCD) outlet. Every cord hangs in a loop lower than its plug. Press the test "
                "button: it must trip.",
                _cord_picture(),
            )
        )
    below = f", {bold(shown('water.reservoir_volume'))} in the reservoir" if wet else ""
    found.append(
        Step(
            "Fill",
            f"{bold(shown('water.bath_volume'))} in the bath{each}{below}. Float the boards, go to the "
            "next sheet. No plants yet.",
            _fill_picture(legs, wet),
        )
    )
    return found


def _overflow(design: Design) -> list[Step]:
    top = shop.standpipe_top(design)
    over = shop.length(design, top) if top else ""
    pipe = design.shown("circulation.overflow_pipe")
    found = []
    if design.value("circulation.overflow_place") == "inside":
        place = cover.standpipe_place(design)
        where = ""
        if place:
            length = design.value("bath.length") or design.value("bath.diameter") or 0.0
            end = min(place[0], length - place[0]) if length else place[0]
            # How wide a fitting's flange is only the fitting tells; the notch is placed for the pipe alone.
            where = (
                f" Its center lies plumb under {bold(shop.length(design, end))} from the rim’s end, or as far in as "
                "the flange must be to lie flat: then cut the notch as much deeper."
            )
        found += [
            Step(
                "Hole in the floor",
                f"Fitting in hand, saw to fit it.{where} Drill from inside, both hands.",
                _floor_hole(),
            ),
            Step(
                "Standpipe",
                f"Seat {leaf.keep(pipe)} in the bulkhead, its top {bold(over)} above the floor. Strainer on.",
                _standpipe_picture(over),
            ),
        ]
    else:
        found.append(
            Step(
                "Hole in the wall",
                f"For {leaf.keep(pipe)}, its lower edge {bold(over)} above the floor. "
                "Fitting in hand, saw to fit it. Strainer on.",
                _wall_hole_picture(over),
            )
        )
    found.append(
        Step(
            "Water test",
            "Fill with plain water to the overflow. Wait a day. Dry paper under the fitting must stay dry.",
            _test_picture(),
        )
    )
    return found


def _raft(design: Design) -> list[Step]:
    made = boards.of(design)
    if not made:
        return []
    lengths = template.Lengths(leaf.Paper(design))
    first, holes = made[0], sum(len(board.holes) for board in made)
    last = made[-1].holes[-1] if made[-1].holes else None
    disc = first.disc
    many = sum(board.count for board in made)
    size = (
        f"Cut the disc {bold(design.shown('board.diameter'))} across"
        if disc
        else f"Cut the sheet in the order of its numbers. Each board {bold(lengths(first.wide))} x "
        f"{bold(lengths(first.tall))}"
    )
    mark = "Mark its center." if disc else "Mark its black corner."
    parts = int(design.value("board.count") or 1)
    if disc and parts > 1:
        mark += f" Cut it in {count(parts)} along the seam{'' if parts == 2 else 's'}."
    check = f" Check hole {last.number}: {bold(lengths(last.x))} along, {bold(lengths(last.y))} across." if last else ""
    where = "the center" if disc else "the black corner"
    found = [
        Step("One board" if many == 1 else f"{count(many)} boards", f"{size}. {mark}", _boards_picture()),
        Step(
            f"Mark {count(holes)} center{'' if holes == 1 else 's'}",
            f"From {where}, or prick through the template.{check}",
            _mark_picture(disc),
        ),
        Step(
            "Drill",
            f"{bold(design.shown('board.hole_diameter'))} saw, slow, both hands. Half through, turn, finish. "
            "Mask on, sweep up wet.",
            _drill_picture(),
        ),
    ]
    notches, seams = [one for board in made for one in board.notches], any(board.seams for board in made)
    if notches or seams:
        widths = ", ".join(dict.fromkeys(lengths(one.width) for one in notches))
        cut = f"Cut the notches, {bold(widths)} wide. " if notches else ""
        found.append(
            Step(
                "Notch and seam" if notches and seams else "Notch" if notches else "Seam",
                f"{cut}Tape {'the seams and ' if seams else ''}every cut edge with foil tape: light feeds algae.",
                _notch_picture(),
            )
        )
    return found


def sheet(paper: leaf.Paper, number: int, pages: int) -> str:
    """The whole sheet."""
    design = paper.design
    found = steps(design)
    boxes = "".join(
        f'<li class="step"><figure>{ink.drawing(WIDE, TALL, step.title, "", step.parts)}</figure><div><h4>'
        f'<span class="tick-box"></span>{at}. {step.title}</h4><p class="said">{step.text}</p></div></li>'
        for at, step in enumerate(found, 1)
    )
    body = f'<ol class="steps-to-build{" few" if len(found) <= FEW else ""}">{boxes}</ol>'
    facts = [f"Letters are the parts on sheet {number - 1}", "Two people for lifting and for the boards"]
    return leaf.leaf(
        "Build",
        facts,
        body,
        [
            ("Plan", paper.name),
            (f"Sheet {number} of {pages}", "Build"),
            ("Pictures", "not to scale"),
            ("Built by, date", ""),
        ],
        str(number),
    )
