"""The sheet of water and air: one drawing to scale with lettered parts, their sizes, the levels, what goes round."""

from __future__ import annotations

from html import escape

from ...figures import count
from ...solve import Design
from .. import signs, verdicts
from . import ink, leaf, shop, stand
from .ink import Point

WIDE = 180.0
# Topics whose verdict is told here when it is tight or fails, and whose cautions are.
TOPICS = ("water", "circulation", "air", "oxygen")
MOST_MENDS, LONG_MENDS = 3, 700


class Picture:
    """The drawing while it is made; the air side stands at the wall, on the side where no hose goes up."""

    def __init__(self, found: stand.Stand):
        self.found, self.design = found, found.design
        self.right = not found.beside
        # A plan with much to look at has a lower drawing.
        self.section = stand.Section(found, 38, 30, 92, 44 if len(mends(found.design)) > LONG_MENDS else 60)
        self.parts = self.section.parts
        self.air = bool(self.design.value("air.stones"))
        self.low = 0.0

    def wall(self, distance: float) -> float:
        """A place so far from the wall."""
        return WIDE - 3 - distance if self.right else 3 + distance

    def drawn(self) -> str:
        """The whole drawing."""
        section = self.section
        section.vessels()
        hose = section.supply()
        pipe = section.drain()
        if self.air:
            self._air_side()
        if hose:
            self._water_letters(hose, pipe)
        self._levels()
        bottom = max(section.bottom + 5, self.low)
        return ink.drawing(WIDE, bottom, "Water and air", "The bath cut through, with each part lettered", self.parts)

    def letter(self, name: str, at: Point, to: Point) -> None:
        """A lettered ring with its leader."""
        self.parts.append(ink.line("hair", at, to) + ink.letter(*at, name))

    def _water_letters(self, hose: list[Point], pipe: list[Point]) -> None:
        rim = self.design.value("bath.fill") == "rim"
        out = -1.0 if self.right else 1.0
        pump = hose[0]
        self.letter("A", (pump[0] - 7.5, pump[1] - 5), (pump[0] - 3, pump[1] + 0.5))
        lane = (hose[1][0] + hose[2][0]) / 2, hose[1][1]
        self.letter("B", (lane[0], lane[1] + 6.5), lane)
        self._valve(hose)
        tip = hose[-1]
        self.letter(
            "D",
            (tip[0] - out * (7 if self.right else 11), tip[1] - (8.5 if rim else 4)),
            (tip[0], tip[1] - (2 if rim else 0)),
        )
        if not pipe:
            return
        top, foot, _ = pipe
        side = -1.0 if top[0] > self.section.x(self.found.shown_length / 2) else 1.0
        half = (top[1] + self.section.zero) / 2
        self.letter("E", (top[0] + side * 8, half + 1), (top[0] + side * 1.3, half))
        self.letter("F", (top[0] + side * 7, top[1] - 8.5), (top[0] + side * 0.5, top[1] - 2))
        middle = ((pipe[1][0] + pipe[2][0]) / 2, foot[1])
        self.letter("G", (middle[0], middle[1] + 7), (middle[0], middle[1] + 1.3))

    def _valve(self, hose: list[Point]) -> None:
        """The valve in the upright of the hose, just above the bench."""
        x = hose[2][0]
        y = (hose[2][1] + hose[3][1]) / 2 + 3
        self.parts.append(
            ink.shape("part", [(x - 1.7, y - 2.4), (x + 1.7, y - 2.4), (x - 1.7, y + 2.4), (x + 1.7, y + 2.4)])
        )
        out = -1.0 if self.right else 1.0
        self.letter("C", (x + out * 7, y - 2), (x + out * 1.4, y))

    def _air_side(self) -> None:
        section, found = self.section, self.found
        rim = section.y(found.depth)
        shelf = rim - 9
        wall = self.wall
        ground = section.y(found.ground)
        top = shelf - 14
        x0 = min(wall(0), wall(3))
        self.parts.append(ink.rect("wood", x0, top, 3, ground - top))
        self.parts.append(ink.rect("wood", min(wall(3), wall(21)), shelf, 18, 1.8))
        self.parts.append(ink.rect("part", min(wall(6), wall(17)), shelf - 6, 11, 6))
        pump, valve, split = (wall(17), shelf - 3), wall(21), (wall(26), shelf - 3)
        self.parts.append(ink.line("air", pump, split))
        lean = -1.0 if self.right else 1.0
        self.parts.append(
            ink.shape(
                "part",
                [(valve - lean * 1.5, shelf - 4.6), (valve - lean * 1.5, shelf - 1.4), (valve + lean * 1.5, shelf - 3)],
            )
        )
        self.parts.append(ink.rect("part", split[0] - 2, split[1] - 2, 4, 4))
        self.letter("H", (wall(11.5), shelf - 11), (wall(11.5), shelf - 6))
        self.letter("I", (valve, shelf - 10.5), (valve, shelf - 4.2))
        many = int(self.design.value("air.stones") or 0) > 1
        if many:
            self.letter("K", (split[0] + lean * 3, shelf - 11.5), (split[0], split[1] - 2))
        self._lines(split, lean, rim)
        self._cords(shelf, lean)
        self.low = ground + 4

    def _lines(self, split: Point, lean: float, rim: float) -> None:
        section, found = self.section, self.found
        end = section.x(found.shown_length) if self.right else section.x(0)
        near = end + lean * 5
        stone = section.x(found.shown_length * 0.5)
        floor = section.zero - 1.6
        self.parts.append(
            ink.line(
                "air",
                (split[0], split[1] - 1),
                (near, split[1] - 1),
                (near, rim),
                (end + lean * (6 + section.inset(0) * section.per), floor),
                (stone, floor),
            )
        )
        self.parts.append(ink.rect("black", stone - 3.5, section.zero - 2.6, 7, 1.9))
        for at, (dx, dy) in enumerate(((0, 4), (1.8, 6.5), (-1.2, 8.5))):
            if section.zero - dy - 1 > section.y(found.water) + 1.5:
                self.parts.append(ink.circle("part", stone + dx, section.zero - dy - 1, 0.6 + 0.1 * at))
        self.letter("M", (stone - lean * 9, section.zero - 6.5), (stone - lean * 3, section.zero - 2))
        self.letter("L", ((split[0] + near) / 2, rim + 4), ((split[0] + near) / 2, split[1] - 1))
        store = found.reservoir
        if store is None or self.design.value("air.aerated") != "bath and reservoir":
            return
        edge = section.x(store.left + store.top) if self.right else section.x(store.left)
        low = section.y(store.floor) - 1.4
        inside = edge + lean * (3 + (store.top - store.base) / 2 * section.per)
        over = section.y(store.floor + store.depth) - 1.5
        if not self.right:
            # The way to a reservoir that stands beside leads under the bath.
            return
        away = split[0] + 1
        target = edge + lean * 9
        self.parts.append(
            ink.line("air", (away, split[1] + 2), (away, over), (edge + lean * 2, over), (inside, low), (target, low))
        )
        self.parts.append(ink.rect("black", target - 2.5, section.y(store.floor) - 2.3, 5, 1.7))
        self.letter("N", (target + 2, low - 7), (target, low - 1))

    def _cords(self, shelf: float, lean: float) -> None:
        """The outlet, and two cords that hang lower than it before they rise."""
        wall, section, found = self.wall, self.section, self.found
        outlet = wall(3), shelf + 11
        self.parts.append(ink.rect("part", min(wall(-0.5), wall(3.5)), outlet[1] - 3, 4, 6))
        for shift in (-1, 1):
            self.parts.append(
                ink.line("hair", (wall(1.5) + shift * 0.6, outlet[1] - 1), (wall(1.5) + shift * 0.6, outlet[1] + 1))
            )
        dip = outlet[1] + 9
        start = wall(3.5)
        self.parts.append(
            ink.curve("cord", (start, outlet[1]), ((wall(7), dip), (wall(12), dip), (wall(11), shelf + 2)))
        )
        self.letter("O", (wall(12.5), outlet[1] - 4.5), (wall(3.5), outlet[1] - 1))
        self.letter("P", (wall(16), dip + 1), (wall(10), dip - 2.5))
        store = found.reservoir
        if store is None:
            return
        edge = section.x(store.left + store.top) if self.right else section.x(store.left)
        over = section.y(store.floor + store.depth) - 2
        ground = section.y(found.ground) - 3
        pump = section.x(store.left + store.top * (0.3 if not found.beside else 0.55)), section.y(store.floor) - 3
        if self.right:
            half = wall(22), (over + ground) / 2
            self.parts.append(
                ink.curve(
                    "cord",
                    (start, outlet[1] + 1.5),
                    ((wall(6), ground), (wall(14), ground), half),
                    ((wall(30), over), (edge + 6, over - 3), (edge - 2, over)),
                )
            )
            self.parts.append(ink.line("cord", (edge - 2, over), (pump[0] + 3.5, pump[1])))

    def _levels(self) -> None:
        """Levels running and stopped, in words beside the vessels, opposite of the air side."""
        section, found, design = self.section, self.found, self.design
        rows: list[tuple[float, str, str, bool]] = [(found.water, "running", design.shown("bath.water_depth"), True)]
        after = design.value("water.depth_after_stop")
        if found.reservoir and isinstance(after, float) and found.water - after > 1e-4:
            rows.append((after, "stopped", design.shown("water.depth_after_stop"), False))
        rows.append((0.0, "floor", "0", False))
        store = found.reservoir
        if store:
            rows += [
                (store.floor + store.stopped, "stopped", shop.length(design, store.stopped), False),
                (store.floor + store.level, "running", shop.length(design, store.level), True),
            ]
        column = 21.0 if self.right else WIDE - 21.0
        # Words two lines tall keep that far apart; each set is pushed down from the one above.
        last = -99.0
        for height, words, size, bold in sorted(rows, key=lambda row: -row[0]):
            y = section.y(height)
            at = max(y, last + 8.6)
            last = at
            lean = 1.0 if self.right else -1.0
            aim = section.x(0) - 1 if self.right else section.x(found.shown_length) + 1
            if store and height < store.floor + store.depth and words != "floor" and height < found.water - 0.2:
                aim = section.x(store.left) - 1 if self.right else section.x(store.left + store.top) + 1
            self.parts.append(ink.line("hair", (column + lean, at), (column + lean * 5, y), (aim, y)))
            anchor = "end" if self.right else "start"
            kind = "bold" if bold else ""
            self.parts.append(
                ink.text(column, at - 0.4, words, kind, anchor) + ink.text(column, at + 3.6, size, kind, anchor)
            )


def _key(design: Design) -> list[tuple[str, str, str]]:
    """(letter, part, its size) of what this plan has."""
    shown, found = design.shown, []
    if design.value("water.scheme") == "circulating":
        rim = design.value("bath.fill") == "rim"
        found += [
            ("A", "Water pump.", f"{shown('circulation.flow')} at {shown('circulation.head')}"),
            ("B", "Supply hose.", f"{shown('circulation.hose_bore')} bore, cut {shown('circulation.hose_length')}"),
            ("C", "Valve.", "full bore, to throttle the pump"),
            (
                "D",
                "Inlet over the rim." if rim else "Inlet under the water.",
                "a small hole under the bend stops a siphon" if rim else "with a check valve, or it runs back",
            ),
        ]
        top = shop.standpipe_top(design)
        drains = int(design.value("circulation.drains") or 1)
        many = f"{drains} of " if drains > 1 else ""
        if design.value("circulation.overflow_place") == "inside" and top:
            found.append(
                (
                    "E",
                    f"Standpipe, {many}{shown('circulation.overflow_pipe')}.",
                    f"top {shop.length(design, top)} above the floor",
                )
            )
        else:
            found.append(
                (
                    "E",
                    f"Overflow in the wall, {many}{shown('circulation.overflow_pipe')}.",
                    f"{shop.length(design, top)} above the floor" if top else "",
                )
            )
        found += [
            ("F", "Strainer.", "on every overflow, lifts off to clean"),
            (
                "G",
                f"Drain, {shown('circulation.overflow_pipe')}.",
                f"{shown('circulation.drain_length')}, falls {shown('circulation.drain_fall')}",
            ),
        ]
    stones = int(design.value("air.stones") or 0)
    if stones:
        pumps = sum(int(row["quantity"]) for row in design.value("air.pumps_chosen") or []) or 1
        found += [
            (
                "H",
                f"{count(pumps)} air pumps." if pumps > 1 else "Air pump.",
                f"{shown('air.delivered')}, hung above the water",
            ),
            ("I", "Check valve.", "arrow to the bath, one behind each pump"),
        ]
        if stones > 1:
            found.append(("K", "Manifold.", f"{count(stones)} outlets, each with a valve"))
        found.append(
            (
                "L",
                f"Air line, {shown('air.hose_bore')} bore.",
                f"{count(stones)} piece{'s' if stones > 1 else ''}, each {shown('air.hose_length')}",
            )
        )
        here = int(design.value("air.stones_per_bath") or 1)
        which = "each" if (design.value("bath.count") or 1) > 1 else "the"
        found.append(
            (
                "M",
                "Stone in the bath." if here == 1 else f"{count(here)} stones in {which} bath.",
                f"weighted, {shown('air.depth') or shown('bath.water_depth')} under water"
                if design.value("air.depth")
                else "weighted, on the floor",
            )
        )
        rest = stones - here * int(design.value("bath.count") or 1)
        if rest > 0 and design.value("water.scheme") == "circulating":
            found.append(
                (
                    "N",
                    "Stone in the reservoir." if rest == 1 else f"{count(rest)} stones in the reservoir.",
                    "weighted, away from the pump",
                )
            )
        found += [
            ("O", "GFCI (RCD) outlet.", "above the water, out of splashes"),
            ("P", "Drip loop.", "lowest point under the outlet, in every cord"),
        ]
    return found


def _key_html(design: Design) -> str:
    rows = _key(design)
    half = (len(rows) + 1) // 2
    columns = "".join(
        '<table class="key"><tbody>'
        + "".join(
            f'<tr><th scope="row">{name}</th><td><b>{leaf.keep(part)}</b> {leaf.keep(size)}</td></tr>'
            for name, part, size in part_rows
        )
        + "</tbody></table>"
        for part_rows in (rows[:half], rows[half:])
        if part_rows
    )
    return f'<div class="cols two top">{columns}</div>'


def _levels_table(design: Design, found: stand.Stand | None) -> str:
    shown = design.shown
    after = shown("water.depth_after_stop") if design.value("water.scheme") == "circulating" else ""
    rows = [("Bath", shown("bath.water_depth"), after or "the same", f"{shown('water.rim_to_water')} to the rim")]
    if found and found.reservoir:
        rows.append(
            (
                "Reservoir",
                shop.length(design, found.reservoir.level),
                shop.length(design, found.reservoir.stopped),
                f"{shown('water.reservoir_headroom')} to the brim",
            )
        )
    body = "".join(
        f'<tr><th scope="row">{name}</th><td class="n"><b>{leaf.keep(one)}</b></td><td class="n"><b>'
        f'{leaf.keep(two)}</b></td><td class="n">{leaf.keep(room)}</td></tr>'
        for name, one, two, room in rows
    )
    heads = "".join(f'<th scope="col" class="n">{one}</th>' for one in ("running", "stopped", "room, running"))
    return leaf.block(
        "Levels",
        f"<table><thead><tr><td></td>{heads}</tr></thead><tbody>{body}</tbody></table>",
        "from each floor; mark with tape",
    )


def _round(design: Design) -> str:
    shown = design.shown
    rows = [
        ("Water up the hose", shown("circulation.flow"), "circulation"),
        ("Each overflow must take", shown("circulation.drain_flow"), ""),
        ("Runs back at a stop", shown("water.drain_back_volume"), "back"),
        ("Air at the stones", shown("air.delivered"), "air"),
        ("Oxygen, hottest hour, likely", shown("oxygen.bath_hottest"), "oxygen"),
    ]
    body = ""
    for name, value, topic in rows:
        if not value:
            continue
        state = _state(design, topic)
        said = f" {leaf.state(state, {'fails': 'no', 'open': 'to answer'}.get(state, ''))}" if state else ""
        body += f'<tr><th scope="row">{escape(name)}</th><td class="n"><b>{leaf.keep(value)}</b>{said}</td></tr>'
    return leaf.block("What goes round", f'<table class="light"><tbody>{body}</tbody></table>')


def _state(design: Design, topic: str) -> str:
    """The state of a topic; of what runs back, whether the reservoir has room for it; "" where nothing is judged."""
    if topic == "back":
        return (
            "fits"
            if design.value("water.drain_back_volume") <= (design.value("water.reservoir_headroom") or 0.0)
            else "fails"
        )
    given = design.verdict(topic) if topic else None
    return given.state if given else ""


def mends(design: Design) -> str:
    """What is tight, fails or is dangerous on this sheet, and what is to be heeded."""
    found = []
    for topic in TOPICS:
        given = design.verdict(topic)
        if given is not None and given.state in ("tight", "fails"):
            found.append((given.state, given.lead, given.text))
    dangers = verdicts.triggered(design, TOPICS)
    found = [("danger", one.lead, one.brief) for one in dangers] + found
    takes = [one for one in design.cautions if one.level == "warning" and one.topic in ("circulation", "air", "oxygen")]
    found += [("", one.lead, one.brief) for one in takes]
    items = "".join(
        f'<p class="hurt">{signs.sign(state) if state else ""}<span><strong class="{state}">'
        f"{escape(lead.rstrip('.'))}.</strong> {leaf.keep(text)}</span></p>"
        for state, lead, text in found[:MOST_MENDS]
    )
    return leaf.block("Look at these", f'<div class="cols two top">{items}</div>') if items else ""


def sheet(paper: leaf.Paper, number: int, pages: int) -> str:
    """The whole sheet."""
    design = paper.design
    found = stand.of(design)
    picture = Picture(found) if found else None
    drawn = picture.drawn() if picture else ""
    figure = f"<figure>{drawn}</figure>" if drawn else "<p>There is no drawing yet: a size of the bath is missing.</p>"
    many = int(design.value("bath.count") or 1)
    body = (
        f"{figure}{_lines(design)}{_key_html(design)}"
        f'<div class="cols two top">{_levels_table(design, found)}{_round(design)}</div>{mends(design)}'
    )
    scale = f"To scale {picture.section.said_scale}" if picture else ""
    facts = [scale, f"One of {count(many)} baths alike" if many > 1 else "Pipes and cords as they run, not to scale"]
    return leaf.leaf(
        "Water and air",
        facts,
        body,
        [
            ("Plan", paper.name),
            (f"Sheet {number} of {pages}", "Water and air"),
            ("Scale", "as marked, at 100 %"),
            ("Built by, date", ""),
        ],
        str(number),
    )


def _lines(design: Design) -> str:
    """What each kind of line is."""
    parts, x = [], 0.0
    wet = design.value("water.scheme") == "circulating"
    kinds = [
        ("pipe", wet),
        ("hose", wet),
        ("air", bool(design.value("air.stones"))),
        ("cord", bool(design.value("air.stones"))),
        ("stopped", wet),
    ]
    words = {"pipe": "pipe", "hose": "hose", "air": "air line", "cord": "cord", "stopped": "level, pump stopped"}
    for kind, there in kinds:
        if not there:
            continue
        if kind == "pipe":
            parts.append(ink.line("part bare", (x, 2), (x + 11, 2)) + ink.line("part bare", (x, 4.4), (x + 11, 4.4)))
        else:
            parts.append(ink.line(kind, (x, 3.2), (x + 11, 3.2)))
        parts.append(ink.text(x + 13, 4.4, words[kind]))
        x += 15 + ink.width(words[kind]) + 4
    return f"<figure>{ink.drawing(180, 6.5, 'Kinds of lines', '', parts)}</figure>" if parts else ""
