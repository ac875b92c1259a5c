"""The sheet of cutting and drilling: boards with their holes, the foam sheet with its cuts, the table, the cut list."""

from __future__ import annotations

from itertools import pairwise
from math import ceil

from ...figures import count
from ...solve import Design
from ..drawing import length_of
from . import boards, ink, leaf, shop, template

BOARDS_A_SHEET = 2
# Room for the boards in mm; lines of a table beside the stock sheet, in each of its columns.
LEFT, RIGHT, TALL, LOW = 26.0, 158.0, 57.0, 46.0
TABLE_LINES, TABLE_COLUMNS = 20, 2
GAP, UP_APART = 5.0, 4.3
# Width of the drawing of the foam sheet, mm; and the narrowest strip that is cut off, m.
STOCK_WIDE, TRIM_M = 90.0, 0.0015


class Places:
    """The boards of one sheet side by side, to one scale."""

    def __init__(self, shown: list[boards.Board], tallest: float):
        self.shown = shown
        wide = sum(board.wide for board in shown)
        tall = max(board.tall for board in shown)
        room = RIGHT - LEFT - GAP * (len(shown) - 1)
        self.per = min(room / wide, tallest / tall)
        self.scale = 1 / self.per
        total = wide * self.per + GAP * (len(shown) - 1)
        self.lefts: list[float] = []
        x = LEFT + max((RIGHT - LEFT - total) / 2, 0.0)
        for board in shown:
            self.lefts.append(x)
            x += board.wide * self.per + GAP
        self.top = 16.0
        self.bottom = self.top + tall * self.per

    def at(self, number: int, point: boards.Point) -> boards.Point:
        """Where a point of a board lies on the sheet."""
        box = self.shown[number].box
        return self.lefts[number] + (point[0] - box[0]) * self.per, self.bottom - (point[1] - box[1]) * self.per


def raft(shown: list[boards.Board], lengths: template.Lengths, tallest: float) -> tuple[str, str]:
    """(drawing, scale) of up to two boards with numbered holes and running dimensions from each board's mark."""
    places = Places(shown, tallest)
    parts: list[str] = []
    low = places.bottom
    for number, board in enumerate(shown):
        parts += _dots(places, number)
        parts.append(ink.shape("outline", [places.at(number, point) for point in board.outline]))
        radius = max(board.hole_mm / 2 * places.per, 0.6)
        named = _named(board, places.per, radius)
        for hole in board.holes:
            x, y = places.at(number, (hole.x, hole.y))
            parts.append(ink.circle("hole", x, y, radius))
            arm = radius + 0.8
            parts.append(ink.line("hair", (x - arm, y), (x + arm, y)) + ink.line("hair", (x, y - arm), (x, y + arm)))
            if hole.number in named:
                # Where a number would leave the board it stands at the other side.
                right = x + radius + 6 < places.lefts[number] + board.wide * places.per
                beside = x + (radius + 0.4) * (1 if right else -1)
                parts.append(
                    ink.text(beside, y - radius + 0.3, str(hole.number), "bold halo", "start" if right else "end")
                )
        low = max(low, _along(places, number, parts, lengths))
        parts += _sizes(places, number, lengths)
    if not shown[0].disc:
        _up(places, parts, lengths)
    drawn = ink.drawing(180, low + 4, "Boards from above", f"{sum(len(one.holes) for one in shown)} holes", parts)
    return drawn, f"1:{places.scale:.0f}" if places.scale >= 10 else f"1:{places.scale:.1f}"


def _named(board: boards.Board, per: float, radius: float) -> set[int]:
    """The holes whose number is drawn: all where there is room for it, else the first of each row, else none."""
    rows: dict[int, list[boards.Hole]] = {}
    for hole in board.holes:
        rows.setdefault(round(hole.y), []).append(hole)
    firsts = {min(row, key=lambda one: one.x).number for row in rows.values()}
    heights = sorted(rows)
    if any((above - below) * per < UP_APART for below, above in pairwise(heights)):
        return set()
    room = [(b - a) * per for row in rows.values() for a, b in pairwise(sorted(one.x for one in row))]
    # The last of a row has its number at the other side, toward that of the one before.
    wide = 2 * (ink.width(str(max((one.number for one in board.holes), default=0))) + radius + 0.4)
    return {one.number for one in board.holes} if all(one >= wide for one in room) else firsts


def _dots(places: Places, number: int) -> list[str]:
    """Foam is dotted."""
    board = places.shown[number]
    x1, y1 = places.at(number, (board.box[0], board.box[1]))
    x2, y2 = places.at(number, (board.box[2], board.box[3]))
    if board.disc:
        return []
    made = []
    y = y1 - 2.5
    while y > y2 + 1:
        x = x1 + 2.5 + (1.5 if int((y1 - y) / 3) % 2 else 0)
        while x < x2 - 1:
            made.append(f"M{ink.num(x)} {ink.num(y)}h.01")
            x += 3
        y -= 3
    return [f'<path class="dots bare" d="{"".join(made)}"/>'] if made else []


def _sizes(places: Places, number: int, lengths: template.Lengths) -> list[str]:
    """Name and outer sizes of a board, and the mark it is measured from."""
    board = places.shown[number]
    left, top = places.lefts[number], places.bottom - board.tall * places.per
    right = left + board.wide * places.per
    many = "1 hole" if len(board.holes) == 1 else f"{count(len(board.holes))} holes"
    make = f", make {count(board.count)}" if board.count > 1 else ""
    said = next(
        (
            one
            for one in (f"{board.name}: {many}{make}", f"{board.name}{make}", board.name)
            if ink.width(one) < right - left + GAP - 1
        ),
        board.name,
    )
    made = [
        ink.text((left + right) / 2, top - 10.5, said, "bold", "middle"),
        ink.across(left, right, top - 4, lengths(board.wide)),
    ]
    for x in (left, right):
        made.append(ink.line("hair", (x, top - 0.8), (x, top - 5.2)))
    last = number == len(places.shown) - 1
    if last:
        made.append(ink.upright(right + 5, top, places.bottom, lengths(board.tall), False, False))
    x, y = places.at(number, (0.0, 0.0))
    if board.disc:
        made.append(
            ink.line("hair", (x - 4, y), (x + 4, y))
            + ink.line("hair", (x, y - 4), (x, y + 4))
            + ink.circle("black", x, y, 0.9)
        )
    else:
        made.append(ink.shape("black", [(x, y), (x + 3.2, y), (x, y - 3.2)]))
    return made


def _along(places: Places, number: int, parts: list[str], lengths: template.Lengths) -> float:
    """Running dimensions along a board, under it; where they end."""
    board = places.shown[number]
    if board.disc:
        return places.bottom
    found = sorted({round(hole.x, 1) for hole in board.holes})
    zero = places.at(number, (0.0, 0.0))[0]
    spots = [places.at(number, (x, 0.0))[0] for x in found]
    words = [lengths.bare(x) for x in found]
    level = places.bottom + 4.5
    close = any(
        b - a < max(ink.width(one), ink.width(two)) * 0.5 + ink.width(one) * 0.5
        for (a, one), (b, two) in pairwise(zip(spots, words, strict=True))
    )
    kept = -10.0
    parts.append(ink.circle("part", zero, level, 0.7))
    for x, said in zip(spots, words, strict=True):
        parts.append(
            ink.line("dim", (zero, level), (x, level)) + ink.line("hair", (x, places.bottom + 0.8), (x, level + 1))
        )
        parts.append(ink.shape("black", [(x, level), (x - 1.6, level - 0.6), (x - 1.6, level + 0.6)]))
        if close and x - kept < UP_APART:
            continue
        kept = x
        parts.append(
            ink.text(x + 1.2, level + 2.4, said, "", "end", turn=-90)
            if close
            else ink.text(x, level + 5, said, "", "middle")
        )
    longest = max((ink.width(one) for one in words), default=0.0)
    return level + (3 + longest if close else 6)


def _up(places: Places, parts: list[str], lengths: template.Lengths) -> None:
    """Running dimensions across, at the left, for all boards of the sheet."""
    found = sorted({round(hole.y, 1) for board in places.shown for hole in board.holes})
    level = places.lefts[0] - 5
    parts.append(
        ink.circle("part", level, places.bottom, 0.7) + ink.text(level - 2, places.bottom + 1.2, "0", "", "end")
    )
    kept = places.bottom
    for y in found:
        spot = places.at(0, (0.0, y))[1]
        parts.append(
            ink.line("dim", (level, places.bottom), (level, spot))
            + ink.line("hair", (level - 1, spot), (places.lefts[0] - 0.8, spot))
        )
        parts.append(ink.shape("black", [(level, spot), (level - 0.6, spot + 1.6), (level + 0.6, spot + 1.6)]))
        if kept - spot >= UP_APART:
            kept = spot
            parts.append(ink.text(level - 1.8, spot + 1.2, lengths.bare(y), "", "end"))


def stock(design: Design) -> str:
    """The foam sheet with the boards cut from it, and the order of the cuts."""
    long, wide = length_of(design, "board.sheet_length"), length_of(design, "board.sheet_width")
    across = length_of(design, "board.diameter")
    one, other = across or length_of(design, "board.length"), across or length_of(design, "board.width")
    each, sheets = design.value("board.pieces_per_sheet"), design.value("board.sheets")
    if not (long and wide and one and other and each and sheets):
        return ""
    kerf = length_of(design, "board.kerf") or 0.0
    ways = [
        (int((long + kerf) / (a + kerf) + 1e-6), int((wide + kerf) / (b + kerf) + 1e-6), a, b)
        for a, b in ((one, other), (other, one))
    ]
    columns, rows, a, b = max(ways, key=lambda one: one[0] * one[1])
    # Sheets are counted for the baths of one plan; each copy of it buys its own.
    copies = int(design.value("parts.copies") or 1)
    sheets = int(sheets) * copies
    wanted = int(design.value("bath.count") or 1) * copies
    if not across:
        wanted *= int(design.value("board.count") or 1)
    many = min(columns * rows, ceil(wanted / sheets))
    if not many:
        return leaf.block(
            "Foam sheet",
            f"<p>Buy {count(sheets)}. Cut along the seams: each board comes out narrower by "
            "half a saw cut at a seam.</p>",
        )
    drawn = _stock_drawn(design, (long, wide), (a, b), (columns, many), kerf, bool(across))
    size = f"{shop.length(design, long)} x {shop.length(design, wide)}"
    turned = each > columns * rows and wanted > many
    more = f"<p>{count(each)} fit on a sheet if some are turned.</p>" if turned else ""
    buy = f"; buy {count(sheets)}" if sheets > 1 else ""
    return leaf.block("Foam sheet", drawn + more, f"{size}{buy}; cuts in order")


def _left_over(side: float, board: float, pieces: int, kerf: float) -> float:
    """What is beyond so many boards and the saw cuts between them, in m: a strip of foam that is still to come off."""
    return side - pieces * board - (pieces - 1) * kerf


def _stock_drawn(
    design: Design, sheet: tuple[float, float], board: tuple[float, float], many: tuple[int, int], kerf: float,
    disc: bool
) -> str:
    left, top = 10.0, 6.0
    per = min(78 / sheet[0], 44 / sheet[1])
    wide, tall = sheet[0] * per, sheet[1] * per
    parts = [ink.rect("outline", left, top, wide, tall), ink.across(left, left + wide, top - 2, "")]
    parts.append(ink.text(left + wide / 2, top - 3.2, shop.length(design, sheet[0]), "bold mine", "middle"))
    parts.append(ink.upright(left - 2.5, top, top + tall, "", True))
    columns, count_of = many
    cuts = 0
    rows = ceil(count_of / columns)
    for row in range(rows):
        y = top + tall - (row + 1) * board[1] * per
        edge = row * columns
        here = min(columns, count_of - edge)
        if _left_over(sheet[1], board[1], row + 1, kerf) > TRIM_M:
            cuts += 1
            parts.append(ink.line("edge", (left, y), (left + wide, y)))
            parts.append(ink.letter(left + wide - 5, y, str(cuts)))
        for column in range(here):
            x = left + column * board[0] * per
            if disc:
                parts.append(ink.circle("part", x + board[0] * per / 2, y + board[1] * per / 2, board[0] * per / 2))
            name = f"Board {edge + column + 1}" if not disc else "Disc"
            size = ink.width(name) < board[0] * per - 1
            parts.append(
                ink.text(
                    x + board[0] * per / 2,
                    y + board[1] * per / 2 + 1.2,
                    name if size else str(edge + column + 1),
                    "bold",
                    "middle",
                )
            )
            end = x + board[0] * per
            if _left_over(sheet[0], board[0], column + 1, kerf) > TRIM_M:
                cuts += 1
                parts.append(ink.line("edge", (end, y), (end, y + board[1] * per)))
                parts.append(ink.letter(min(end, STOCK_WIDE - 3.2), y + board[1] * per * 0.7, str(cuts)))
    rest = tall - rows * board[1] * per
    if rest > 7:
        parts.append(ink.text(left + 3, top + rest / 2 + 1.2, "off-cut: test piece", "faded"))
    words = f"{count_of} pieces, {cuts} cuts"
    return ink.drawing(STOCK_WIDE, top + tall + 3, "The foam sheet and its cuts", words, parts)


def _notches(shown: list[boards.Board], lengths: template.Lengths) -> str:
    """Every notch in words."""
    rows = [
        f"<li>{leaf.keep(f'{board.name}, {one.what}: {lengths(one.width)} wide, {lengths(one.depth)} deep')}</li>"
        for board in shown
        for one in board.notches
    ]
    return leaf.block("Notches", f'<ul class="plain">{"".join(rows)}</ul>', "places in the table") if rows else ""


def _before(design: Design) -> str:
    pot = design.shown("board.pot")
    words = [
        f"Cut one hole in the off-cut: a {pot} net pot must hang by its rim."
        if design.value("board.holder") != "plugs"
        else "Cut one hole in the off-cut: a plug must hold in it.",
        "Drill half through, turn the board, finish from below.",
    ]
    # One hole alone has no foam between it and another.
    if design.shown("board.web") and any(len(board.holes) > 1 for board in boards.of(design)):
        words.append(f"Foam left between holes: {design.shown('board.web')}.")
    return leaf.block("Before the saw", "".join(f"<p>{leaf.keep(one)}</p>" for one in words))


def cut_list(design: Design) -> list[tuple[str, str]]:
    """(what, sizes) to cut besides the boards."""
    found = []
    baths = int(design.value("bath.count") or 1)
    each = " in each bath" if baths > 1 else ""
    pipe, top = design.shown("circulation.overflow_pipe"), shop.standpipe_top(design)
    drains = int(design.value("circulation.drains") or 1)
    if pipe and top and design.value("circulation.overflow_place") == "inside":
        found.append((f"Standpipe, {pipe}", f"{count(drains)} of {shop.length(design, top)}{each}"))
    if pipe and design.value("circulation.drain_length"):
        found.append((f"Drain, {pipe}", f"{design.shown('circulation.drain_length')}{each}"))
    if design.value("circulation.hose_length"):
        found.append((f"Hose, {design.shown('circulation.hose_bore')} bore", design.shown("circulation.hose_length")))
    if baths > 1 and design.value("circulation.branches_length"):
        found.append(
            (
                f"Branches, {design.shown('circulation.branch_bore')} bore",
                f"{count(baths)} pieces, {design.shown('circulation.branches_length')} in all",
            )
        )
    stones = int(design.value("air.stones") or 0)
    if stones:
        found.append(
            (f"Air line, {design.shown('air.hose_bore')} bore", f"{count(stones)} of {design.shown('air.hose_length')}")
        )
    return found


def _list(design: Design) -> str:
    rows = cut_list(design)
    if not rows:
        return ""
    items = "".join(f"<p>{leaf.keep(name)}: <b>{leaf.keep(size)}</b></p>" for name, size in rows)
    return leaf.block("Cut list", f'<div class="cols two tight-cols">{items}</div>', "besides the boards")


def _table(shown: list[boards.Board], lengths: template.Lengths, lines: int, columns: int) -> str:
    total = sum(len(board.holes) + len(board.notches) + 2 for board in shown)
    lines = min(lines, max(ceil(total / columns) + 1, 8))
    tables = template.hole_columns(shown, lengths, lines, columns)
    unit = lengths.unit
    if len(tables) == 1 and len(tables[0]) <= columns:
        inside = "".join(f"<div>{one}</div>" for one in tables[0])
        kind = {1: "", 2: "two", 3: "three"}[columns]
        body = f'<div class="cols {kind} top tight-cols">{inside}</div>'
    else:
        ends = [hole for board in shown for hole in (board.holes[0], board.holes[-1]) if board.holes]
        body = (
            "".join(
                f"<p>{one.number}: {leaf.keep(lengths(one.x))} along, {leaf.keep(lengths(one.y))} across</p>"
                for one in ends
            )
            + "<p>Every other stands in the table of holes of the drill template, and on the "
        )
        body += "lines of the drawing above.</p>"
    return leaf.block("Hole centers", body, f"in {unit}" if unit != "in" else "in inches")


def sheets_of(found: list[boards.Board]) -> list[list[boards.Board]]:
    """The boards by sheet; one empty sheet where there is no board."""
    return [found[at : at + BOARDS_A_SHEET] for at in range(0, len(found), BOARDS_A_SHEET)] or [[]]


def sheet(paper: leaf.Paper, number: int, pages: int, shown: list[boards.Board], first: bool) -> str:
    """One sheet of cutting and drilling."""
    design, lengths = paper.design, template.Lengths(paper)
    if not shown:
        body = "<p>This plan has no boards yet: a size is missing or cannot be worked with.</p>"
        return leaf.leaf("Cut and drill", [], body, _foot(paper, number, pages), str(number))
    drawn, scale = raft(shown, lengths, TALL if first else LOW)
    mark = (
        "Measure every hole from the center of the disc: along, then across; − is left, or toward you."
        if shown[0].disc
        else "Measure every hole from the black corner of its own board: along first, then across."
    )
    seam = " Boards butt at the seam." if any(board.seams for board in shown) else ""
    said = leaf.keep(f"From above, {scale}. {mark}{seam}")
    body = f"<figure>{drawn}<figcaption>{said}</figcaption></figure>"
    if first:
        body += (
            f'<div class="cols cut-cols"><div>{stock(design)}{_notches(shown, lengths)}{_before(design)}</div>'
            f"<div>{_table(shown, lengths, TABLE_LINES, TABLE_COLUMNS)}</div></div>{_list(design)}"
        )
    else:
        body += _table(shown, lengths, 29, 3) + _notches(shown, lengths)
    holes = sum(len(board.holes) for board in shown)
    facts = [
        f"Foam {design.shown('board.thickness')} thick, closed cell",
        f"{count(holes)} hole{'' if holes == 1 else 's'}, saw {design.shown('board.hole_diameter')}",
    ]
    return leaf.leaf("Cut and drill", facts, body, _foot(paper, number, pages), str(number))


def _foot(paper: leaf.Paper, number: int, pages: int) -> list[tuple[str, str]]:
    return [
        ("Plan", paper.name),
        (f"Sheet {number} of {pages}", "Cut and drill"),
        ("Scale", "as marked, at 100 %"),
        ("Built by, date", ""),
    ]
