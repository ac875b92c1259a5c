"""A bath is built from a drawing, not from a list of numbers: bath, reservoir and pipes, cut through the middle.

Two drawings of one scale and hand: ``tank`` tells sizes, water and heights, with the bath from above below; ``air``
tells what moves: air down, water up and back.
"""

from __future__ import annotations

from ..data.fittings import HOSE_SPEED_M_S
from ..solve import Design
from . import from_above, svg, vessels
from .drawing import INCH, counted, length_of, say_length, vessel, width_of
from .levels import Levels
from .placing import Box, Labels
from .svg import text_width

PIPE_HALF_LEAST, PIPE_HALF_MOST = 3.5, 7.0
BAR_LEAST, BAR_MOST = 44.0, 130.0
# How much water a vessel holds is what one looks for first.
LARGE = 16.0
# Metres under a stone from which on it is said to hang.
OFF_THE_FLOOR = 0.01
BARS_US = tuple(inches * 0.0254 for inches in (3, 6, 12, 24, 48, 120, 240, 480))
BARS_METRIC = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0)


class Section:
    """One section while it is being drawn."""

    def __init__(self, design: Design, wide: bool, at: Levels, labels: Labels):
        self.design, self.wide, self.at, self.labels = design, wide, at, labels
        self.parts: list[str] = []
        self.said: list[str] = []

    def say(self, value: float, small: str = "cm") -> str:
        return say_length(self.design, value, small)

    # --- what both drawings show ---

    def vessels(self, stones: bool) -> None:
        """Stand, water, reservoir, raft and walls, one over another."""
        at, labels = self.at, self.labels
        self.parts += vessels.stand(at, labels)
        self.parts += vessels.water(at)
        if stones:
            self.stones()
        if at.reservoir is not None:
            key = "reservoir.known_volume" if at.guessed else ""
            self.parts += vessels.reservoir(at.reservoir, labels, key)
            self.parts += vessels.sizes_of_reservoir(at.reservoir, self.design)
        self.parts += vessels.raft(self.design, at, labels)
        self.overflow()
        self.parts += vessels.bath(at, labels)
        self.parts += vessels.breaks(at, labels)
        self.hose()

    def stones(self) -> None:
        """Stones and bubbles, in the bath and, where it gets air, in the reservoir."""
        drawn, self.spots, self.stone, self.stone_tall = vessels.stones(self.design, self.at)
        self.parts += drawn
        low = self.at.reservoir
        if low is not None and low.share is not None and self.design.value("air.stones_reservoir"):
            x, y = low.left + low.taper + (low.right - low.left - 2 * low.taper) * 0.4, low.floor
            self.parts.append(svg.rect("stone solid", x - 9, y - 6, 18, 5))
            rise = y - 6 - low.y(low.share)
            self.parts += [svg.circle("air", x + dx, y - 6 - rise * share, 1.8)
                           for dx, share in ((-3, .25), (3, .5), (-1, .75)) if rise > 14]

    @property
    def pumped(self) -> bool:
        """Whether water is pumped up."""
        return self.at.reservoir is not None and self.design.value("circulation.flow") != 0.0

    def hose(self) -> None:
        """The hose from the pump to the bath; keeps where its upright part and its end are."""
        low, at = self.at.reservoir, self.at
        self.hose_x = at.right
        if low is None or not self.pumped:
            if low is not None:
                self.said.append("No water is pumped.")
            return
        inside = low.right - low.left - 2 * low.taper
        pump_x = low.right - low.taper - min(30.0 if self.wide else 17.0, inside * 0.3)
        over = at.rim - at.above * at.scale - 14.0
        end = over + 16.0 if at.water is None else min(over + 22.0, at.y(at.water) - 4.0)
        end = max(end, over + 8.0)
        if at.beside:
            self.hose_x = pump_x
            ways = [(pump_x, low.floor - 18), (pump_x, over), (at.right - 9, over), (at.right - 9, end)]
        else:
            self.hose_x = max(at.right, low.right) + (19.0 if self.wide else 15.0)
            level = at.floor + vessels.BENCH + (low.rim - at.floor - vessels.BENCH) * 0.55
            ways = [(pump_x, low.floor - 18), (pump_x, level), (self.hose_x, level), (self.hose_x, over),
                    (at.right - 9, over), (at.right - 9, end)]
        if at.fill != "rim":
            # Beside the bath the overflow's pipe lies along the floor, and the hose over it.
            y = max(min(at.y(at.inlet), at.floor - (24.0 if at.beside else 4.0)), at.rim + 8.0)
            ways = (ways[:2] + [(pump_x, y), (at.right - at.slope - 2, y)] if at.beside and y > low.rim
                    else [(pump_x, low.floor - 18), (pump_x, low.rim - 12), (low.left - 18, low.rim - 12),
                          (low.left - 18, y), (at.right - at.slope - 2, y)] if at.beside
                    else [*ways[:2], (self.hose_x, ways[1][1]), (self.hose_x, y), (at.right - at.slope - 2, y)])
        self.over = over if at.fill == "rim" else ways[-1][1]
        self.ways = ways
        self.parts += [svg.line("pipe", *ways), *(svg.lit(f"circulation.hose_{side}", *ways)
                                                  for side in ("bore", "length"))]
        self.labels.block_line(*ways, half=4.0)
        if at.fill != "rim" and at.floor - ways[-1][1] > 1.0:
            x = at.right - at.slope - 10
            self.parts.append(svg.lit("bath.inlet_height", (x, at.floor), (x, ways[-1][1])))
        self.parts += vessels.pump(pump_x, low.floor, self.labels, self.wide)
        if at.fill == "floor with check valve":
            x, y = ways[-2][0] + (ways[-1][0] - ways[-2][0]) * 0.5, ways[-1][1]
            self.parts += [svg.shape("solid", (x + 6, y - 6), (x + 6, y + 6), (x - 5, y)),
                           svg.line("ink", (x - 6, y - 7), (x - 6, y + 7))]
        self.said.append({"rim": "The hose rises from the pump and fills the bath over the rim.",
                          "floor": "The hose fills the bath below the water, without a check valve."}.get(
            at.fill, "The hose fills the bath below the water, with a check valve, drawn as a triangle."))

    def overflow(self) -> None:
        """The standpipe, or the hole in the wall, and the way back to the reservoir."""
        low, at = self.at.reservoir, self.at
        self.standpipe: tuple[float, float] | None = None
        if low is None or at.water is None or not self.pumped:
            return
        bore = length_of(self.design, "circulation.overflow_bore") or 0.03
        half = min(max(bore / 2 * at.across, PIPE_HALF_LEAST), PIPE_HALF_MOST)
        top = at.y(max(at.water - (length_of(self.design, "bath.film") or 0.0), 0.0))
        wall = self.design.value("circulation.overflow_place") == "wall"
        # The standpipe stands on the side away from the hose; beside the bath it is near the reservoir.
        side = at.right - at.slope if at.beside else at.left + at.slope
        inward = -1.0 if at.beside else 1.0
        x = side + inward * min(max(at.wide * 0.2, half + 8), at.wide * 0.35)
        enter = low.left + low.taper + min(24.0, (low.right - low.left) * 0.25)
        down = low.rim + 12.0
        if wall:
            out = (at.right + 12 + half) if at.beside else (at.left - 12 - half)
            level = at.floor + vessels.BENCH + (low.rim - at.floor - vessels.BENCH) * 0.35
            points = [(side - inward * 0.0, top + half), (out, top + half)]
            points += ([(enter, top + half), (enter, max(down, top + half + 6))] if at.beside
                       else [(out, level), (enter, level), (enter, down)])
        elif at.beside:
            level = at.floor - half - 5.0
            points = [(x, top), (x, level), (enter, level), (enter, max(down, level + 6))]
        else:
            level = at.floor + vessels.BENCH + (low.rim - at.floor - vessels.BENCH) * 0.28
            points = [(x, top), (x, level), (enter, level), (enter, down)]
        self.parts += vessels.pipe(points, half, self.labels)
        self.standpipe = points[1] if wall else (points[0][0], max(level, at.floor + half))
        self.said.append("The overflow" + (f", {self.say(bore, 'mm')} in bore," if bore else "")
                         + " takes the water back to the reservoir.")

    def scale_bar(self, corners: list[tuple[float, float]]) -> None:
        """A bar of a round length at the first of the corners (its left end, its height) that is free."""
        at = self.at
        if at.broken or at.across != at.scale:
            return
        bars = BARS_METRIC if self.design.system == "metric" else BARS_US
        length = next((one for one in bars if one * at.scale >= BAR_LEAST), None)
        if length is None or length * at.scale > BAR_MOST:
            return
        wide, words = length * at.scale, self.say(length)
        for x, y in corners:
            if self.labels.free(x, y - 20, x + max(wide, text_width(words)), y + 4):
                self.labels.put([words], [(x, y - 12, "start")], "label faded")
                self.labels.block(x, y - 4, x + wide, y + 4)
                self.parts += [svg.rect("cut", x, y - 2, wide / 2, 4),
                               svg.rect("solid", x + wide / 2, y - 2, wide / 2, 4)]
                return

    def lift(self, outer: float) -> None:
        """The dimension from low water to the end of the hose, at ``outer``."""
        at, low = self.at, self.at.reservoir
        if low is None or not at.lift or not self.pumped:
            return
        bottom = low.y(at.low_share)
        top = self.over + 14.0 if at.fill == "rim" else self.over
        if bottom - top < 8:
            return
        ends = [(low.right - low.inset(bottom), bottom), (max(at.right + 8, 0 if at.beside else self.hose_x + 5), top)]
        for x, y in ends:
            self.parts.append(svg.line("lead", (x, y), (outer + 6, y)))
            self.labels.block_line((x, y), (outer + 6, y), half=1)
        self.parts.append(svg.dim_up(outer, top, bottom, "circulation.lift"))
        self.labels.block_line((outer, top), (outer, bottom), half=5)
        words = self.say(at.lift)
        middle = (top + bottom) / 2
        heights = [middle, middle - 30, middle + 30, middle - 60, middle + 60]
        places = [(outer + 9, y, "start") for y in heights] + [(outer - 9, y, "end") for y in heights]
        number, unit = words.rsplit(" ", 1)
        self.labels.put([(words, "lift"), (number, f"{unit} lift"), words], places, "dim",
                        below=f"{words} lift, from low water to the end of the hose")
        self.said.append(f"The lift from low water in the reservoir to the end of the hose is {words}.")

    def finish(self, name: str, title: str, bottom: float) -> str:
        """Notes below, and the whole drawing."""
        notes = list(self.at.notes)
        baths = self.design.value("bath.count")
        if isinstance(baths, int) and baths > 1:
            notes.append(f"One of {baths:,} equal baths" + (" on this reservoir" if self.at.reservoir else ""))
        low = self.labels.write_below(bottom, notes)
        said = " ".join([*self.said, *(f"{note}." for note in notes)])
        return svg.drawing(name + ("" if self.wide else "-narrow"), self.labels.width, low + 8, title, said,
                           self.parts + self.labels.parts)


def _room(wide: bool, air: bool) -> tuple[float, float]:
    """What stays free at the left and the right for lettering."""
    if air:
        return (96.0, 158.0) if wide else (34.0, 90.0)
    return (122.0, 126.0) if wide else (72.0, 88.0)


def _levels(design: Design, wide: bool, air: bool, top: float, most_wide: float = 0.0) -> Levels | None:
    length, _ = vessel(design, "bath")
    if length is None or length_of(design, "bath.depth") is None:
        return None
    width = width_of(wide)
    left, right = _room(wide, air)
    return Levels(design, wide, left, width - right, top, most_wide)


def tank(design: Design, wide: bool) -> str:
    """The bath cut open along its length, over its reservoir, and from above, as SVG text; "" while length or depth
    are not known. To scale, but for the hose, the pump and what the drawing itself names as not to scale."""
    across = from_above.width_of_bath(design)
    at = _levels(design, wide, False, 78.0, across or 0.0)
    if at is None:
        return ""
    one = Section(design, wide, at, Labels(width_of(wide)))
    one.said.append(f"The bath is {one.say(at.length)} long at the rim and {one.say(at.depth)} deep inside.")
    top = at.rim - at.above * at.scale - 42.0
    _across_rim(one, top)
    one.vessels(False)
    _depths(one)
    one.lift(max(one.hose_x, at.right, at.reservoir.right if at.reservoir else 0.0)
             + (26.0 if wide else 20.0))
    _floor_length(one)
    _volumes(one)
    _stopped(one)
    start = max(at.lowest + 8, one.labels.lowest()) + 10
    bottom = from_above.bath(one.design, at, one.labels, one.parts, one.said, start)
    one.scale_bar([(at.right + 12, start + 60), (at.right + 12, at.lowest - 14), (2.0, bottom + 18)])
    bottom = max(bottom, one.labels.lowest())
    return one.finish("bath-section", "The bath cut through, and from above", bottom)


def _key(design: Design, side: str) -> str:
    """The field that a size of the bath was typed in."""
    round_ones = {"length": "diameter", "base_length": "base_diameter"}
    is_round = design.value("bath.shape") in ("round", "tapered round")
    return "bath." + (round_ones.get(side, side) if is_round else side)


def _across_rim(one: Section, y: float) -> None:
    at, labels = one.at, one.labels
    words = one.say(at.length)
    one.parts += [svg.dim_across(at.left, at.right, y, _key(one.design, "length")),
                  svg.line("dim thin", (at.left, y - 4), (at.left, at.rim - 4)),
                  svg.line("dim thin", (at.right, y - 4), (at.right, at.rim - 4))]
    labels.block_line((at.left, y), (at.right, y), half=5)
    middle = (at.left + at.right) / 2
    labels.put([f"{words} at the rim", words], [(middle, y - 15, "middle"), (at.left, y - 15, "start"),
                                                (2, y - 15, "start")], "dim", below=f"{words} at the rim")


def _depths(one: Section) -> None:
    """Depth and water at the left, each on its own line."""
    at, labels = one.at, one.labels
    inner = at.left - 19.0
    apart = text_width(one.say(at.water)) + 16.0 if at.water is not None else 25.0
    if inner - apart - text_width(one.say(at.depth)) < 12.0:
        apart = 25.0
    outer = inner - apart
    lines = [(outer, at.rim, at.depth, "bath.depth", "deep, floor to rim")]
    if at.water is not None:
        lines.append((inner, at.y(at.water), at.water, "bath.water_depth", "of water"))
        one.said.append(f"The water stands {one.say(at.water)} deep, {one.say(at.depth - at.water)} below the rim.")
    else:
        lines = [(inner, at.rim, at.depth, "bath.depth", "deep, floor to rim")]
    for x, top, _, key, _ in lines:
        one.parts += [svg.dim_up(x, top, at.floor, key), svg.line("dim thin", (x - 5, top), (at.left - 9, top))]
        labels.block_line((x, top), (x, at.floor), half=5)
    one.parts.append(svg.line("dim thin", (lines[0][0] - 5, at.floor), (at.left + at.slope - 6, at.floor)))
    labels.block_line((lines[0][0], at.floor), (at.left, at.floor), half=2)
    for number, (x, top, value, _, what) in enumerate(lines):
        middle = (top + at.floor) / 2
        words = one.say(value)
        places = [(x - 8, middle, "end"), (x - 8, middle - 14, "end"), (x - 8, middle + 14, "end"),
                  (x + 4, at.floor + 16 + 4, "end"), (x, top - 16, "middle"), (x + 4, at.floor + 22, "end")]
        if number == 0 and len(lines) == 2:
            places = [(x - 8, middle, "end"), (x - 8, middle - 14, "end"), (x + 6, top - 14, "end"),
                      (x + 6, top - 14, "middle")]
        labels.put([words], places, "dim", below=f"{words} {what}")


def _volumes(one: Section) -> None:
    """How much water bath and reservoir hold, written into it."""
    at, labels, design = one.at, one.labels, one.design
    if at.water is not None and design.value("water.bath_volume"):
        words = design.shown("water.bath_volume")
        middle, surface = (at.left + at.right) / 2, at.y(at.water)
        heights = [at.floor - 28, at.floor - 12, at.floor - 10, at.floor - 18, (surface + at.floor) / 2, at.floor - 38]
        room = (at.wide - text_width(words, LARGE if one.wide else svg.TEXT_SIZE)) / 2 - at.slope
        places = [(middle + dx, y, "middle") for y in heights if surface + 8 < y < at.floor - 8
                  for dx in (-20, 0, 30, -40, 45, -60, 60, -90, 90) if abs(dx) <= room]
        in_bath = "the bath" if design.value("bath.count") == 1 else "each bath"
        box = labels.put([words], places, "label strong", size=LARGE) if one.wide else None
        if box is None:
            labels.put([words], places, "label strong", below=f"{words} of water in {in_bath}")
        one.said.append(f"It holds {words}.")
    low = at.reservoir
    if low is not None and low.share is not None and design.value("water.reservoir_volume"):
        words = design.shown("water.reservoir_volume")
        surface = low.y(low.share)
        middle = (low.left + low.right) / 2
        places = [(x, y, "middle") for y in ((surface + low.floor) / 2, surface + 12, surface + 9, low.floor - 11)
                  for x in (middle, middle - 20, middle - 10, middle - 35) if surface + 7 < y]
        middle = (surface + low.floor) / 2
        beside = [(x, middle + dy, "start")
                  for x in (low.left - 12 - text_width(words), *(() if at.beside else (2.0,))) for dy in (0, 14, -14)]
        beside += [(low.right + 12, middle + dy, "start") for dy in (0, 14, -14)]
        box = labels.put([words], places, "label strong", size=LARGE) if one.wide else None
        box = box or labels.put([words], places, "label strong")
        if box is None:
            box = labels.put([words], beside, "label strong", below=f"{words} of water in the reservoir")
            _lead(one, box, low.left + low.taper + 6, middle)
        one.said.append(f"The reservoir holds {words} while the pump runs.")


def _lead(one: Section, box: Box | None, x: float, y: float) -> None:
    """A thin line from words on the left to what they speak of."""
    if box is not None and box[2] < x - 10:
        one.parts.append(svg.line("lead", (box[2] + 3, min(max(y, box[1] + 8), box[3] - 8)), (x, y)))


def _floor_length(one: Section) -> None:
    """The length at the floor of a bath that tapers."""
    at, labels = one.at, one.labels
    if abs(at.base - at.length) < 1e-6:
        return
    left, right, y = at.left + at.slope + 3, at.right - at.slope - 3, at.floor - 8
    one.parts.append(svg.dim_across(left, right, y, _key(one.design, "base_length")))
    words = one.say(at.base)
    middle = (left + right) / 2
    places = [(right - 6, y - 12, "end"), (middle, y - 12, "middle"), (left + 6, y - 12, "start"),
              (right - 40, y - 12, "end")]
    labels.block_line((left, y), (right, y), half=1)
    labels.put([f"{words} at the floor", words], [place for place in places if place[1] > at.rim + 8], "dim halo",
               below=f"{words} at the floor")
    one.said.append(f"At the floor it is {words} long.")


def _stopped(one: Section) -> None:
    """Where the water stands once the pump has stopped, in the bath and in the reservoir."""
    at, labels, design, low = one.at, one.labels, one.design, one.at.reservoir
    left = length_of(design, "water.depth_after_stop")
    if at.water is not None and left is not None and (at.water - left) * at.scale > 4 and one.pumped:
        inset, y = at.inset(left), at.y(left)
        one.parts.append(svg.line("stopped", (at.left + inset + 3, y), (at.right - inset - 3, y)))
    back, held = design.value("water.drain_back_volume"), design.value("water.reservoir_volume")
    if low is None or low.share is None or not back or not held or not one.pumped:
        return
    room = design.value("water.reservoir_headroom")
    over = room is not None and back > room * (1 + 1e-9)
    share = 1.0 if over else min(low.share * (1 + back / held), 1.0)
    y = low.y(share)
    inset = low.inset(y)
    one.parts.append(svg.line("stopped", (low.left + inset + 3, y), (low.right - inset - 3, y)))
    words = "runs over when the pump stops" if over else "rises to here when the pump stops"
    choices = ([("runs over when", "the pump stops"), ("runs over", "when the", "pump stops")] if over else
               [("rises to here", "when the pump", "stops"), ("rises to", "here when", "the pump", "stops")])
    box = None
    for lines in choices:
        wide = max(map(text_width, lines))
        ends = [low.left - 16.0, low.left - 34.0, 4.0 + wide, at.left - 6.0]
        box = box or labels.put([lines], [(x - wide, y + dy, "start") for x in ends for dy in (0, 14, -14, 26, 34, 50)
                                          if x <= low.left - 12], "label no" if over else "label")
    if box is None:
        labels.below.append(f"Dashed: the water {words}")
    _lead(one, box, low.left + inset + 3, y)
    one.said.append(f"When the pump stops, {design.shown('water.drain_back_volume')} run back, and the water in the "
                    f"reservoir {'runs over' if over else 'rises to the dashed line'}.")


# --- air and flow ---------------------------------------------------------------------------------------------------


def air(design: Design, wide: bool) -> str:
    """The same section with what moves: the air pump, its line and the stones; pump, hose and overflow. "" where
    nothing moves, and while the bath's length or depth are not known."""
    at = _levels(design, wide, True, 74.0)
    if at is None or design.value("water.scheme") == "still":
        return ""
    one = Section(design, wide, at, Labels(width_of(wide)))
    one.said.append(f"The bath is {one.say(at.length)} long and {one.say(at.depth)} deep inside.")
    if at.water is not None:
        one.said.append(f"Its water stands {one.say(at.water)} deep.")
    one.spots = []
    one.vessels(True)
    _air_line(one)
    _stone_depth(one)
    if one.pumped and at.reservoir is not None:
        # Words about the hose stand between it and the dimension of the lift, where there is room.
        outer = max(one.hose_x, at.right, at.reservoir.right) + ((76.0 if at.beside else 122.0) if wide else 18.0)
        one.lift(outer)
        _hose_words(one, outer)
        _overflow_words(one)
    one.scale_bar([(at.right + (60 if wide else 38), at.lowest - 14), (at.right + 120, at.lowest - 14),
                   (max(at.left, 2.0), at.lowest + 34)])
    return one.finish("air-section", "Air down, water up and back", max(at.lowest + 8, one.labels.lowest()) + 2)


def _air_line(one: Section) -> None:
    at, labels, design = one.at, one.labels, one.design
    if at.water is None:
        return
    x, y = 4.0, 10.0
    one.parts += [svg.rect("cut", x, y, 38, 24), svg.line("ink thin", (x + 9, y + 12), (x + 29, y + 12))]
    labels.block(x, y, x + 38, y + 24)
    down = at.left + max(at.slope, 0.0) + 9.0
    enter = at.left + 14.0
    level = one.stone + 3.0 if one.spots else at.floor - 5
    points = [(x + 38, y + 12), (enter, y + 12), (enter, at.rim + 2), (down, level)]
    if one.spots:
        points.append((one.spots[-1], level))
    one.parts.append(svg.line("air", *points))
    labels.block_line((x + 38, y + 12), (enter, y + 12), (enter, at.rim))
    arrives = design.shown("air.delivered") if design.value("air.delivered") else ""
    pumps = design.value("air.pump_count")
    what = counted(pumps, "air pump") if isinstance(pumps, int) and pumps > 1 else "air pump"
    place = [(enter + 8, y + 8, "start"), (x + 46, y - 3, "start")]
    labels.put([f"{arrives} of air", arrives] if arrives else [what], place, below=f"{what}: {arrives}")
    one.said.append(f"The {what} stands above the water"
                    + (f" and brings {arrives} to the stones." if arrives else "."))


def _stone_depth(one: Section) -> None:
    at, labels, design = one.at, one.labels, one.design
    deep = length_of(design, "air.stone_depth")
    if not one.spots or deep is None or at.water is None:
        return
    stones = len(design.value("air.stone_rows") or [])
    top, bottom = at.y(at.water), one.stone
    spot = min(one.spots, key=lambda x: abs(x - (at.left + at.right) / 2))
    x = spot + 22.0 if spot + 90 < at.right - at.slope else spot - 22.0
    one.parts += [svg.dim_up(x, top, bottom, "air.depth"),
                  svg.lit("air.stone_height", (spot + 12, bottom), (spot + 12, min(bottom + one.stone_tall, at.floor)))]
    labels.block_line((x, top), (x, bottom), half=3)
    words = one.say(deep)
    middle = (top + bottom) / 2
    places = [(x + side * 8, y, "start" if side > 0 else "end") for y in (middle, middle + 8, bottom - 6, top + 14)
              for side in (1, -1)]
    labels.put([words], places, "dim halo", below=f"{words} from the water to the top of the stones")
    over = at.water - deep - (length_of(design, "air.stone_height") or INCH)
    where = ("hang{}" if over > OFF_THE_FLOOR else "lie{} on the floor").format("s" if stones == 1 else "")
    one.said.append(f"{counted(stones, 'air stone')} {where}, {words} under the water.")


def _hose_words(one: Section, outer: float) -> None:
    """The flow, and the hose, with the sign of what is tight where it is too narrow."""
    at, labels, design = one.at, one.labels, one.design
    flow = length_of(design, "circulation.flow")
    bore, speed = design.shown("circulation.hose_bore"), design.value("circulation.velocity")
    (x, low), (_, high) = max(zip(one.ways, one.ways[1:], strict=False),
                              key=lambda pair: abs(pair[0][1] - pair[1][1]) * (abs(pair[0][0] - pair[1][0]) < 1))
    middle = (low + high) / 2
    tight = bool(speed) and speed > HOSE_SPEED_M_S * (1 + 1e-9)
    if flow:
        words = design.shown("circulation.flow")
        one.parts.append(svg.shape("solid", (x - 6, high + 24), (x + 6, high + 24), (x, high + 13)))
        top = one.over if at.fill == "rim" else min(low, high)
        labels.put([words], [(x + 12, top + 3, "start"), (x + 12, top + 24, "start"), (x, top - 12, "middle"),
                             (x - 8, top - 12, "end"), (labels.width - 3, top - 12, "end"), (x + 12, middle, "start"),
                             (outer + 9, top + 3, "start")], below=f"{words} go round")
        one.said.append(f"{words} go up and come back.")
    if tight:
        one.parts.append(f'<path class="sign-tight" d="M{svg.num(x - 14)} {svg.num(middle)}h8m-4 -4l4 4l-4 4'
                         f'M{svg.num(x + 14)} {svg.num(middle)}h-8m4 -4l-4 4l4 4"/>')
        labels.block(x - 15, middle - 5, x + 15, middle + 5)
    if not bore:
        return
    lines = (f"{bore} hose:", "too narrow") if tight else (f"{bore} hose",)
    short = (bore, "hose:", "narrow") if tight else (bore, "hose")
    places = [(x + (20 if tight else 12), middle + dy, "start") for dy in (0, 24, 40, -22, 60)]
    places += [(outer + 9, (low + high) / 2 + dy, "start") for dy in (-36, 36, 52, -52, 70, 90, 0)]
    places += [(x + 8, max(low, high) + 18, "middle"), (x - 12, middle, "end")]
    labels.put([lines, short], places, "label tight" if tight else "label",
               below=f"{bore} hose" + (", too narrow" if tight else ""))
    one.said.append(f"The hose is {bore} in bore" + (", too narrow for that flow." if tight else "."))


def _overflow_words(one: Section) -> None:
    labels, design = one.labels, one.design
    pipe = length_of(design, "circulation.overflow_bore")
    if one.standpipe is None:
        return
    x, y = one.standpipe
    drains = design.value("circulation.drains")
    bore = say_length(design, pipe, "mm") if pipe else ""
    many = f"{drains} of " if isinstance(drains, int) and drains > 1 and bore else ""
    lines = (f"{many}{bore}".strip() or "the", "overflow" + ("s" if many else ""))
    left = one.at.left
    wide = max(map(text_width, lines))
    places = [(left - 8 - wide, y + dy, "start") for dy in (10, 24, 38, 0, -20)]
    places += [(3.0, y + dy, "start") for dy in (10, 24, 38, 52)]
    inside = [(x + 12, y - dy, "start") for dy in (30, 24, 36, 42)]
    box = labels.put([lines], places) or labels.put([lines], inside, "label halo",
                                                    below=f"Overflow, {many}{bore}".rstrip(", "))
    _lead(one, box, x - 6, y)


