"""The drill template on paper: how to print and join it, the table and the row that save pages, then every tile."""

from __future__ import annotations

from html import escape

from ...figures import count
from . import ink, leaf
from .boards import MM, Board, Hole, of
from .tiles import PAGE_TALL, TALL, Tile, Tiling, bars, key_map, said_tile

# From here on the table and one repeating row are offered ahead of the tiles; and tiles are no longer drawn at all.
MANY, MOST = 12, 150
# Maps on the first page of a short template and of a long one, and on each page of maps after it.
MAPS_A_PAGE, FIRST_MAPS, MORE_MAPS = 4, 2, 6
# Lines of a table of holes that a sheet of Letter holds in one column, and its columns.
LINES, COLUMNS = 44, 3
STRIP, STRIPS_A_PAGE, STRIP_STEP = 71.0, 3, 170.0
MOST_KINDS = 2
PRINTING = ("Choose “actual size”, no fitting to the page. Measure both bars with the tape you build with. Within "
            "0.5 mm, or 1/64 in: go on.")
BAR_OFF = ("Divide 100 by what you measured, times the scale you printed at. 97 mm at 100 %: print at 103.1 %. Right "
           "along but wrong across: the paper slips; turn the pages a quarter, or drill from the table of holes.")
JOINING = ("Cut along the thin frame. Lay each next page over the dashed strip until diamonds of one letter cover each "
           "other, and glue. A page without a neighbor says where its corner lies. Edges flush with the board, prick "
           "every cross, lift it off, then drill.")


class Lengths:
    """Lengths in mm as this plan's builder writes them."""

    def __init__(self, paper: leaf.Paper):
        self.design = paper.design

    def __call__(self, value: float) -> str:
        return self.design.shown_as("board.length", value / MM).replace("-", "−")

    def bare(self, value: float) -> str:
        """The same without its unit, for a table whose head says it."""
        return self(value).removesuffix(" in").removesuffix(" mm")

    @property
    def unit(self) -> str:
        """The unit that bare lengths are in."""
        return "in" if self.design.system == "us" else "mm"


def hole_columns(boards: list[Board], lengths: Lengths, lines: int, columns: int) -> list[list[str]]:
    """Every hole's place as tables: columns by sheet; ``lines`` a column holds."""
    cells: list[list[str]] = [[]]
    left = lines
    for board in boards:
        rows = [_hole_row(hole, lengths) for hole in board.holes]
        rows += [f'<tr><th scope="row">notch</th><td class="n">{leaf.keep(lengths.bare(one.centre[0]))}</td>'
                 f'<td class="n">{leaf.keep(lengths.bare(one.centre[1]))}</td></tr>' for one in board.notches]
        while rows:
            if left < 5:
                cells.append([])
                left = lines
            part, rows = rows[:left - 2], rows[left - 2:]
            cells[-1].append(f'<table class="holes"><caption>{escape(board.name)}</caption><thead><tr><th scope="col">'
                             f'Hole</th><th scope="col" class="n">along</th><th scope="col" class="n">across</th></tr>'
                             f'</thead><tbody>{"".join(part)}</tbody></table>')
            left -= len(part) + 2
    joined = ["".join(column) for column in cells if column]
    return [joined[at:at + columns] for at in range(0, len(joined), columns)]


def _hole_row(hole: Hole, lengths: Lengths) -> str:
    return (f'<tr><th scope="row">{hole.number}</th><td class="n">{leaf.keep(lengths.bare(hole.x))}</td>'
            f'<td class="n">{leaf.keep(lengths.bare(hole.y))}</td></tr>')


class Row:
    """One kind of row of holes that repeats on a board: where its holes are along it, and where it is laid."""

    def __init__(self, places: tuple[float, ...], numbers: list[int], laid: list[float]):
        self.places, self.numbers, self.laid = places, numbers, laid


def rows_of(board: Board) -> tuple[bool, list[Row]]:
    """(whether rows run across, kinds of rows) of the few that repeat; none where each row is another."""
    best: tuple[bool, list[Row]] = (False, [])
    fewest = len(board.holes)
    for turned in (False, True):
        lines: dict[int, list[Hole]] = {}
        for hole in board.holes:
            lines.setdefault(round((hole.x if turned else hole.y) * 2), []).append(hole)
        kinds: dict[tuple[int, ...], Row] = {}
        for _, found in sorted(lines.items()):
            found.sort(key=lambda one: one.y if turned else one.x)
            places = tuple(one.y if turned else one.x for one in found)
            key = tuple(round(one * 2) for one in places)
            row = kinds.setdefault(key, Row(places, [one.number for one in found], []))
            row.laid.append(found[0].x if turned else found[0].y)
        strips = sum(_strips(board, turned) for _ in kinds)
        if len(kinds) <= MOST_KINDS and all(len(row.laid) > 1 for row in kinds.values()) and strips < fewest:
            fewest, best = strips, (turned, list(kinds.values()))
    return best


def _strips(board: Board, turned: bool) -> int:
    long = board.tall if turned else board.wide
    return max(1, -int(-(long - 10) // STRIP_STEP))


def _strip(board: Board, row: Row, turned: bool, at: int, top: float, lengths: Lengths) -> list[str]:
    """One length of a repeating row, with the board's edge where it has one."""
    low, high = (board.box[1], board.box[3]) if turned else (board.box[0], board.box[2])
    start = low + at * STRIP_STEP
    middle = STRIP / 2
    parts = [ink.line("hair", (0, middle), (180, middle))]
    for edge, words in ((low, "edge of the board"), (high, "other edge of the board")):
        if start - 1 <= edge <= start + 181:
            x = edge - start
            parts.append(ink.line("edge", (x, 2), (x, STRIP - 2)))
            parts.append(ink.text(x + (4.5 if edge == low else -2), middle, words, "faded", "middle", turn=-90))
    for number, place in enumerate(row.places, 1):
        x = place - start
        if -board.hole_mm / 2 - 4 <= x <= 184 + board.hole_mm / 2:
            parts.append(ink.circle("drill", x, middle, board.hole_mm / 2))
            parts.append(ink.line("hair", (x, middle - board.hole_mm / 2 - 4), (x, middle + board.hole_mm / 2 + 4)))
            if 0 <= x <= 180:
                parts.append(ink.circle("prick", x, middle, 1.0))
                parts.append(ink.text(x + 2 if x < 150 else x - 2, middle - 3, f"{number}: {lengths(place)}",
                                      "bold halo", "start" if x < 150 else "end"))
    if start + 180 < high:
        parts.append(ink.line("dash", (170, 0), (170, STRIP)) + ink.text(
            168, middle, f"glue piece {at + 2} over this strip", "faded halo", "middle", turn=-90))
    return [ink.rect("grid", 0, top, 180, STRIP), ink.window(0, top, 180, STRIP, parts)]


class Template:
    """All sheets of the template of one plan."""

    def __init__(self, paper: leaf.Paper):
        self.paper, self.lengths = paper, Lengths(paper)
        self.boards = of(paper.design)
        self.tilings = [Tiling(board) for board in self.boards]
        self.tiles = sum(len(tiling.wanted) for tiling in self.tilings)
        self.long = 1 + self.tiles > MANY
        self.kinds = [(board, *rows_of(board)) for board in self.boards] if self.long else []
        self.made: list[str] = []

    def sheets(self) -> str:
        """Every sheet; one that says what is lacking where there is no board yet."""
        if not self.boards:
            return leaf.leaf("Drill template", [], "<p>This plan has no boards yet: a size is missing or cannot be "
                             "worked with. The planner’s step 2 says which.</p>", self._foot(1, 1, "Nothing to drill"),
                             first=True)
        first = FIRST_MAPS if self.long else MAPS_A_PAGE
        maps = 1 + max(0, -(-(len(self.boards) - first) // MORE_MAPS))
        tables = hole_columns(self.boards, self.lengths, LINES, COLUMNS) if self.long else []
        strips = self._strip_pages()
        drawn = self.tiles <= MOST
        ahead = maps + len(tables) + len(strips)
        self.pages = ahead + (self.tiles if drawn else 0)
        self._how(ahead, len(tables), len(strips), drawn)
        for number in range(1, maps):
            self._maps(number)
        for table in tables:
            self._table(table)
        for title, body in strips:
            self._plain(title, "one repeating row, 1:1", body, "Repeating row")
        if drawn:
            for tiling in self.tilings:
                for tile in tiling.wanted:
                    self._tile(tiling, tile)
        return "".join(self.made)

    @property
    def number(self) -> int:
        """The page that is made next."""
        return len(self.made) + 1

    def _foot(self, number: int, pages: int, what: str, scale: str = "1:1, print at 100 %") -> list[tuple[str, str]]:
        return [("Plan", self.paper.name), (f"Page {number} of {pages}", what), ("Scale", scale),
                ("Built by, date", "")]

    def _plain(self, title: str, fact: str, body: str, what: str, scale: str = "1:1, print at 100 %",
               first: bool = False) -> None:
        holes = sum(len(board.holes) for board in self.boards)
        facts = [fact, f"{count(holes)} hole{'' if holes == 1 else 's'}, {self.lengths(self.boards[0].hole_mm)} across"]
        self.made.append(leaf.leaf(title, facts, body, self._foot(self.number, self.pages, what, scale), first=first,
                                   kind="" if first else "from-top"))

    def _map_of(self, at: int) -> str:
        tiling, board = self.tilings[at], self.boards[at]
        many = len(tiling.wanted)
        ahead = sum(len(one.wanted) for one in self.tilings[:at])
        first = self.pages - self.tiles + ahead + 1
        where = (f"page {first}" if many == 1 else f"pages {count(first)} to {count(first + many - 1)}") \
            if self.tiles <= MOST else f"{count(many)} pages at 1:1, not drawn here"
        if board.count > 1:
            where += f"; make {count(board.count)}"
        wide, tall = (84.0, 56.0) if len(self.boards) > 1 else (176.0, 70.0)
        scale = min(wide / board.wide, tall / board.tall)
        said = f"{len(board.holes)} holes, parted into {many} pages"
        drawn = ink.drawing(board.wide * scale + 2, board.tall * scale + 2, board.name, said,
                            key_map(tiling, None, 1, 1, wide, tall, named=True))
        return f"<figure><h3>{escape(board.name)}</h3>{drawn}<figcaption>{escape(where)}</figcaption></figure>"

    def _how(self, ahead: int, tables: int, strips: int, drawn: bool) -> None:
        shown = range(min(len(self.boards), MAPS_A_PAGE if not self.long else FIRST_MAPS))
        kind = "cols two" if len(self.boards) > 1 else ""
        maps = f'<div class="{kind}">{"".join(self._map_of(at) for at in shown)}</div>'
        note = "<p class=\"said\">From above. Hatched parts hold no center, notch or mark, and have no page.</p>"
        body = leaf.block("", maps + note)
        if self.long:
            body += self._offer(ahead, tables, strips, drawn)
        two = ink.drawing(180, 24, "Two bars", "One must measure 4 in, one 100 mm", bars(1, 2))
        body += leaf.block("Print at 100 %", f"<p>{leaf.keep(PRINTING)}</p>{two}")
        mark = "the disc’s center" if self.boards[0].disc else "the black corner"
        body += ('<div class="cols two">' + leaf.block("If a bar is off", f"<p>{leaf.keep(BAR_OFF)}</p>")
                 + leaf.block("Join and prick", f"<p>Start at {mark}. {JOINING}</p>") + "</div>")
        checked = {one.number: one for one in (*self.boards[0].holes[:1], *self.boards[-1].holes[-1:])}
        checks = "".join('<p><span class="tick-box"></span>'
                         f"Hole {one.number} is {leaf.keep(self.lengths(one.x))} along and "
                         f"{leaf.keep(self.lengths(one.y))} across</p>" for one in checked.values())
        body += leaf.block("Check before the first hole", checks)
        self._plain("Drill template", f"1:1, {count(self.pages)} pages; this is page 1", body, "How to print and join",
                    "maps small; tiles 1:1", first=True)

    def _offer(self, ahead: int, tables: int, strips: int, drawn: bool) -> str:
        ways = [f"the <b>table of holes</b>, {count(tables)} page{'' if tables == 1 else 's'}: measure every hole"]
        if strips:
            pages = "1 page" if strips == 1 else f"{count(strips)} pages"
            ways.append(f"<b>one repeating row</b>, {pages}: lay it where the page says")
        said = (f"{'; or '.join(ways)}. {'Both stand' if strips else 'It stands'} first: "
                f"<b>print pages 1 to {count(ahead)}</b> and stop there.")
        rest = (f" The tiles of every hole at 1:1 are the {count(self.tiles)} pages after them." if drawn else
                f" All tiles at 1:1 would be {count(self.tiles)} pages; they are not drawn.")
        return leaf.block(f"Rather not print {count(self.tiles)} tiles?", f"<p>Take {said}{rest}</p>", kind="boxed")

    def _maps(self, number: int) -> None:
        first = FIRST_MAPS if self.long else MAPS_A_PAGE
        start = first + (number - 1) * MORE_MAPS
        shown = range(start, min(start + MORE_MAPS, len(self.boards)))
        body = f'<div class="cols two">{"".join(self._map_of(at) for at in shown)}</div>'
        self._plain("More boards", "their tiles", body, "Maps", "maps small")

    def _table(self, columns: list[str]) -> None:
        board = self.boards[0]
        said = ("From the center of the disc: along and across two marked diameters; − is left, or toward you."
                if board.disc else "From the black corner of each board: along its length first, then across.")
        units = "in inches" if self.lengths.unit == "in" else "in millimeters"
        body = (f"<p>{said} All {units}.</p>"
                f'<div class="cols three top">{"".join(f"<div>{one}</div>" for one in columns)}</div>')
        self._plain("Table of holes", units, body, "Table of holes", "none needed")

    def _strip_pages(self) -> list[tuple[str, str]]:
        """(title, body) of the sheets with repeating rows."""
        found: list[tuple[str, str]] = []
        done: dict[object, str] = {}
        for board, turned, kinds in self.kinds:
            for number, row in enumerate(kinds):
                way = "row across" if turned else "row"
                name = f"{board.name}, {way} {'AB'[number]}" if len(kinds) > 1 else f"{board.name}, every {way}"
                same = (tuple(round(one * 2) for one in row.places), round(board.wide), round(board.tall), turned)
                if same in done:
                    continue
                done[same] = name
                pieces = [_strip(board, row, turned, at, 2 + (at % STRIPS_A_PAGE) * (STRIP + 2), self.lengths)
                          for at in range(_strips(board, turned))]
                words = ", ".join(self.lengths.bare(one) for one in row.laid)
                said = (f"Lay the long line at {'these lengths along' if turned else 'these widths across'}, the edge "
                        f"line on the board’s edge: {words} {self.lengths.unit}.")
                for start in range(0, len(pieces), STRIPS_A_PAGE):
                    part = pieces[start:start + STRIPS_A_PAGE]
                    drawn = ink.drawing(180, 2 + len(part) * (STRIP + 2), name, said,
                                        [one for piece in part for one in piece])
                    found.append((name, f'<div><p class="said">{leaf.keep(said)}</p>{drawn}</div>'))
        return found

    def _tile(self, tiling: Tiling, tile: tuple[int, int]) -> None:
        board, name = tiling.board, said_tile(tile)
        parts = Tile(tiling, tile, self.lengths).drawn()
        top = TALL + 8
        parts += key_map(tiling, tile, 0, top, 21, 25)
        title = f"{board.name}, tile {name}"
        x, y = tiling.corner(tile)
        big = 6.5 if ink.width(title, 6.5) < 52 else 4.2
        parts += [ink.text(26, top + 5, title, "bold", size=big),
                  ink.text(26, top + 11, f"page {self.number} of {self.pages}"),
                  ink.text(26, top + 16, self.paper.name[:26]),
                  ink.text(26, top + 21, "its lower left corner lies at"),
                  ink.text(26, top + 25.5, f"{self.lengths(x)}, {self.lengths(y)}"), *bars(78, top)]
        drawn = ink.drawing(180, PAGE_TALL, title, f"{self.paper.name}, page {self.number} of {self.pages}", parts)
        self.made.append(f'<section class="leaf tile" aria-label="{escape(title)}" data-board="{board.numbers[0]}" '
                         f'data-tile="{name}"><figure>{drawn}</figure></section>')


def sheets(paper: leaf.Paper) -> str:
    """The whole template."""
    return Template(paper).sheets()
