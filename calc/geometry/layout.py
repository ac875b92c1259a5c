"""Finds where holes go in a board: pure geometry, so that it can be tested against brute force without any trade.

Lengths are in metres. A lattice is rows of holes ``pitch`` apart, rows ``row_pitch`` apart; a staggered lattice shifts
every other row by half a pitch. Rectangles without keep-outs are answered by arithmetic; every other outline by trying
each offset at which the number of holes can change.
"""

from __future__ import annotations

from bisect import bisect
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from math import ceil, floor, hypot, sqrt

from ..relations.layout import grid_pieces, square_size, staggered_size, whole

GUARD = 1e-9
ROW = sqrt(3) / 2
SQUARE, STAGGERED, BEST = "square", "staggered", "best"
ROWS = "rows"
EXACT_HOLES = 60
EXACT_CURVES = 9
FEW_HOLES = 250
QUICK_OFFSETS = 10
MOST_PRESSED = 6
PRESSED_OFFSETS = 24
MOST_OFFSETS = 400
MOST_ROWS_TRIED = 2000
Rectangle = tuple[float, float, float, float]


@dataclass(frozen=True)
class Layout:
    """Holes of one board.

    ``pattern`` is "square", "staggered" or "rows" (straight rows, each filled on its own); ``along`` says which side
    the rows follow, "length" or "width". ``points`` are hole centres (x, y) from the board's corner, in m.
    """

    pattern: str
    along: str
    pitch_m: float
    row_pitch_m: float
    points: tuple[tuple[float, float], ...]

    @property
    def count(self) -> int:
        """How many holes."""
        return len(self.points)


@dataclass(frozen=True)
class Region:
    """Where hole centres may lie: a rectangle (x0, y0, x1, y1), within a disc (x, y, radius) if there is one, and
    at least ``clear`` from every keep-out rectangle (x, y, length, width), and at least ``seam_clear`` from every seam
    (lines at x in ``seams_x`` and at y in ``seams_y``). All in m."""

    x0: float
    y0: float
    x1: float
    y1: float
    disc: tuple[float, float, float] | None = None
    keepouts: tuple[Rectangle, ...] = ()
    clear: float = 0.0
    seams_x: tuple[float, ...] = ()
    seams_y: tuple[float, ...] = ()
    seam_clear: float = 0.0

    def turned(self) -> Region:
        """The same region with its two axes exchanged."""
        disc = (self.disc[1], self.disc[0], self.disc[2]) if self.disc else None
        return Region(self.y0, self.x0, self.y1, self.x1, disc,
                      tuple((y, x, wide, long) for x, y, long, wide in self.keepouts), self.clear,
                      self.seams_y, self.seams_x, self.seam_clear)

    def spans(self, y: float) -> list[tuple[float, float]]:
        """The stretches of the line at height ``y`` on which a centre may lie, from left to right."""
        if y < self.y0 - GUARD or y > self.y1 + GUARD:
            return []
        if self.seams_y:
            place = bisect(self.seams_y, y)
            for seam in self.seams_y[max(0, place - 1):place + 1]:
                if abs(y - seam) < self.seam_clear - GUARD:
                    return []
        low, high = self.x0, self.x1
        if self.disc:
            x, middle, radius = self.disc
            square = (radius + GUARD) ** 2 - (y - middle) ** 2
            if square < 0.0:
                return []
            half = sqrt(square)
            low, high = max(low, x - half), min(high, x + half)
        found = [(low, high)] if high >= low - GUARD else []
        for seam in self.seams_x:
            # Seams come in order, so only the last stretch can be cut.
            if found and found[-1][0] < seam + self.seam_clear and found[-1][1] > seam - self.seam_clear:
                start, end = found.pop()
                if start <= seam - self.seam_clear + GUARD:
                    found.append((start, seam - self.seam_clear))
                if end >= seam + self.seam_clear - GUARD:
                    found.append((seam + self.seam_clear, end))
        for x, bottom, long, wide in self.keepouts:
            away = max(bottom - y, y - bottom - wide, 0.0)
            square = (self.clear - GUARD) ** 2 - away ** 2
            if square <= 0.0 or away >= self.clear:
                continue
            half = sqrt(square)
            left, right = x - half, x + long + half
            cut = []
            for start, end in found:
                if right <= start or left >= end:
                    cut.append((start, end))
                    continue
                if left >= start:
                    cut.append((start, left))
                if right <= end:
                    cut.append((right, end))
            found = cut
        return found

    def circles(self) -> list[tuple[float, float, float]]:
        """The curved parts of the outline: the disc, and round each corner of a keep-out."""
        found = [self.disc] if self.disc else []
        for x, y, long, wide in self.keepouts:
            found += [(x + dx, y + dy, self.clear) for dx in (0.0, long) for dy in (0.0, wide)]
        return found

    def most(self, spacing_m: float) -> float:
        """A rough count of the holes it could hold, for deciding how thoroughly to search."""
        area = (self.x1 - self.x0 + spacing_m) * (self.y1 - self.y0 + spacing_m)
        return area / (ROW * spacing_m ** 2)


def staggered_lattices(b_m: float, spacing_m: float) -> list[tuple[float, float]]:
    """Staggered lattices (pitch, row pitch) worth trying over a height ``b``: equal triangles, then rows pressed
    together to fit one more row, with the holes of a row moved apart so that neighbours keep the spacing."""
    plain = whole(max(b_m, 0.0) / (spacing_m * ROW)) + 1
    found = [(spacing_m, spacing_m * ROW)]
    for rows in range(plain + 1, whole(max(b_m, 0.0) / (spacing_m / 2)) + 2):
        row_pitch = b_m / (rows - 1)
        found.append((max(spacing_m, 2 * sqrt(max(spacing_m ** 2 - row_pitch ** 2, 0.0))), row_pitch))
    return found


def _fits(pattern: str, kind: str) -> bool:
    return pattern in (BEST, kind)


@lru_cache(maxsize=4096)
def _best_lattice(a_m: float, b_m: float, spacing_m: float, pattern: str) -> tuple[int, str, str, float, float]:
    """(count, pattern, along, pitch, row pitch) of the fullest lattice in an a by b rectangle of centres."""
    best = (0, SQUARE, "length", spacing_m, spacing_m)
    if a_m < -GUARD or b_m < -GUARD:
        return best
    if _fits(pattern, SQUARE):
        across, rows = square_size(a_m, b_m, spacing_m)
        best = (across * rows, SQUARE, "length", spacing_m, spacing_m)
    if _fits(pattern, STAGGERED):
        for along, a, b in (("length", a_m, b_m), ("width", b_m, a_m)):
            for pitch, row_pitch in staggered_lattices(b, spacing_m):
                odd, even, rows = staggered_size(a, b, pitch, row_pitch)
                count = (rows + 1) // 2 * odd + rows // 2 * even
                # Only a real gain leaves the simpler pattern, which is easier to mark out.
                if count > best[0]:
                    best = (count, STAGGERED, along, pitch, row_pitch)
    return best


def rectangle_count(length_m: float, width_m: float, edge_m: float, spacing_m: float, pattern: str = BEST) -> int:
    """How many holes ``rectangle`` places; by arithmetic alone."""
    return _best_lattice(length_m - 2 * edge_m, width_m - 2 * edge_m, spacing_m, pattern)[0]


@lru_cache(maxsize=256)
def rectangle(length_m: float, width_m: float, edge_m: float, spacing_m: float, pattern: str = BEST,
              edge_y_m: float | None = None) -> Layout:
    """The most holes in a rectangular board without keep-outs, centred on it.

    ``edge_m`` is the least distance from a hole's centre to the board's edge (``edge_y_m``, where it differs, to the
    edges along the length), ``spacing_m`` the least distance between two centres (above zero).
    """
    edge_y_m = edge_m if edge_y_m is None else edge_y_m
    a, b = length_m - 2 * edge_m, width_m - 2 * edge_y_m
    count, kind, along, pitch, row_pitch = _best_lattice(a, b, spacing_m, pattern)
    if not count:
        return Layout(kind, along, pitch, row_pitch, ())
    if along == "width":
        a, b = b, a
    if kind == SQUARE:
        odd, rows = square_size(a, b, spacing_m)
        even, shift = odd, 0.0
    else:
        odd, even, rows = staggered_size(a, b, pitch, row_pitch)
        shift = pitch / 2
    used = (odd - 1) * pitch + (shift if even == odd and rows > 1 else 0.0)
    if along == "width":
        edge_m, edge_y_m = edge_y_m, edge_m
    left, bottom = edge_m + (a - used) / 2, edge_y_m + (b - (rows - 1) * row_pitch) / 2
    points = tuple((left + (shift if row % 2 else 0.0) + place * pitch, bottom + row * row_pitch)
                   for row in range(rows) for place in range(even if row % 2 else odd))
    if along == "width":
        points = tuple((x, y) for y, x in points)
    return Layout(kind, along, pitch, row_pitch, points)


def _meetings(one: tuple[float, float, float], other: tuple[float, float, float]) -> list[float]:
    """Heights at which two circles cross."""
    dx, dy = other[0] - one[0], other[1] - one[1]
    apart = hypot(dx, dy)
    if apart < GUARD or apart > one[2] + other[2] or apart < abs(one[2] - other[2]):
        return []
    along = (apart ** 2 + one[2] ** 2 - other[2] ** 2) / (2 * apart)
    off = sqrt(max(one[2] ** 2 - along ** 2, 0.0))
    middle = one[1] + along * dy / apart
    return [middle + off * dx / apart, middle - off * dx / apart]


def _offsets(region: Region, pitch: float, row_pitch: float, staggered: bool, exact: bool) -> list[float]:
    """Row offsets at which the count can change, so that one of them is as good as any offset there is.

    A best placement can be slid down and left until two holes touch the outline: two flats, a flat and an arc, or two
    arcs. Those are the heights listed. Without ``exact`` only the flats are, and an even comb between them.
    """
    heights = [(region.y0 + region.y1) / 2, (region.y0 + region.y1 + row_pitch) / 2, region.y0, region.y1]
    for _, y, _, wide in region.keepouts:
        heights += [y - region.clear, y + wide + region.clear, y, y + wide]
    for seam in region.seams_y:
        heights += [seam - region.seam_clear, seam + region.seam_clear]
    circles = region.circles()
    for _, y, radius in circles:
        heights += [y, y + row_pitch / 2, y - radius, y + radius]
    rows = max(1.0, (region.y1 - region.y0) / row_pitch)
    comb = 0
    if exact and circles:
        half = pitch / 2 if staggered else pitch
        walls = [region.x0, region.x1]
        for x, _, long, _ in region.keepouts:
            walls += [x - region.clear, x + long + region.clear, x, x + long]
        for seam in region.seams_x:
            walls += [seam - region.seam_clear, seam + region.seam_clear]
        for x, y, radius in circles:
            for wall in walls:
                for step in range(ceil((x - radius - wall) / half), floor((x + radius - wall) / half) + 1):
                    reach = sqrt(max(radius ** 2 - (wall + step * half - x) ** 2, 0.0))
                    heights += [y - reach, y + reach]
        for number, one in enumerate(circles):
            for other in circles[number:]:
                heights += _arc_meetings(one, other, pitch, row_pitch, staggered)
    else:
        comb = int(min(40, max(6, 1500 // rows))) if circles else 0
    found: dict[int, float] = {}
    for height in heights + [region.y0 + row_pitch * step / comb for step in range(comb)]:
        offset = (height - region.y0) % row_pitch
        found.setdefault(round(offset / GUARD), offset)
    return list(found.values())


def _arc_meetings(one: tuple[float, float, float], other: tuple[float, float, float], pitch: float, row_pitch: float,
                  staggered: bool) -> list[float]:
    """Row heights at which one hole lies on each of two arcs."""
    reach = one[2] + other[2]
    found = []
    dx, dy = other[0] - one[0], other[1] - one[1]
    for row in range(ceil((dy - reach) / row_pitch), floor((dy + reach) / row_pitch) + 1):
        shift = pitch / 2 if staggered and row % 2 else 0.0
        for place in range(ceil((dx - reach - shift) / pitch), floor((dx + reach - shift) / pitch) + 1):
            found += _meetings(one, (other[0] - shift - place * pitch, other[1] - row * row_pitch, other[2]))
    return found


def _row_spans(region: Region, offset: float, row_pitch: float) -> list[list[tuple[float, float]]]:
    rows = whole((region.y1 - region.y0 - offset) / row_pitch) + 1
    return [region.spans(region.y0 + offset + row * row_pitch) for row in range(rows)]


def _best_shift(rows: list[list[tuple[float, float]]], pitch: float, staggered: bool) -> tuple[int, float]:
    """(count, shift): the shift along the rows that puts the most holes in the spans, by one sweep over a pitch."""
    base, events = 0, []
    for number, spans in enumerate(rows):
        half = pitch / 2 if staggered and number % 2 else 0.0
        for low, high in spans:
            low, high = low - half - GUARD, high - half + GUARD
            # Every whole pitch in a span holds one hole at any shift; the rest of it holds one more at some shifts.
            turns = floor((high - low) / pitch)
            base += turns
            start, rest = low % pitch, high - low - turns * pitch
            events.append((start, 0))
            if start + rest >= pitch:
                base += 1
                events.append((start + rest - pitch, 1))
            else:
                events.append((start + rest, 1))
    events.sort()
    count = best = base
    shift, opened = 0.0, True
    for place, kind in events:
        if kind == 0:
            count += 1
            if count > best:
                best, shift, opened = count, place, True
        else:
            if opened and count == best:
                # The middle of the stretch leaves the same room on both sides.
                shift, opened = (shift + place) / 2, False
            count -= 1
    return best, shift


def _place(region: Region, offset: float, row_pitch: float, pitch: float, staggered: bool, shift: float,
           ) -> list[tuple[float, float]]:
    points = []
    for number, spans in enumerate(_row_spans(region, offset, row_pitch)):
        y = region.y0 + offset + number * row_pitch
        start = shift + (pitch / 2 if staggered and number % 2 else 0.0)
        for low, high in spans:
            first = ceil((low - GUARD - start) / pitch - 1e-12)
            last = floor((high + GUARD - start) / pitch + 1e-12)
            points += [(start + place * pitch, y) for place in range(first, last + 1)]
    return points


def _fill_rows(rows: list[list[tuple[float, float]]], spacing: float) -> list[list[float]]:
    """Each row filled on its own, from the left; allowed where the rows are a whole spacing apart."""
    filled = []
    for spans in rows:
        places: list[float] = []
        for low, high in spans:
            start = max(low, places[-1] + spacing) if places else low
            room = whole((high - start) / spacing) + 1 if high >= start - GUARD else 0
            if len(spans) == 1 and room:
                start += (high - start - (room - 1) * spacing) / 2
            places += [start + place * spacing for place in range(room)]
        filled.append(places)
    return filled


@lru_cache(maxsize=256)
def search(region: Region, spacing_m: float, pattern: str = BEST, quick: bool = False) -> Layout:
    """The most holes in any region, over square and staggered rows both ways round and every offset.

    Exact for small boards (about sixty holes and two keep-outs); above that the offsets across the
    rows are an even comb, and along the rows still exact. ``quick`` tries a few offsets only, and may miss some holes.
    Points are in the region's own coordinates.
    """
    most_holes = 0
    best: tuple[str, str, float, float, float, float] | None = None
    nothing = Layout(SQUARE, "length", spacing_m, spacing_m, ())
    if region.x1 < region.x0 - GUARD or region.y1 < region.y0 - GUARD:
        return nothing
    most, curves = region.most(spacing_m), len(region.circles())
    exact = most <= EXACT_HOLES and curves <= EXACT_CURVES and not quick
    few = most <= FEW_HOLES and not curves and not quick
    whole_disc = region.disc is not None and not region.keepouts and not (
        region.seams_x or region.seams_y) and _contains_disc(region, region.disc)
    for along, turned in (("length", region), ("width", region.turned())):
        if along == "width" and whole_disc:
            continue
        lattices = []
        if _fits(pattern, SQUARE):
            lattices.append((SQUARE, spacing_m, spacing_m))
        if _fits(pattern, STAGGERED):
            pairs = staggered_lattices(turned.y1 - turned.y0, spacing_m)
            if region.seams_x or region.seams_y or region.keepouts:
                pairs = pairs[:MOST_PRESSED]
            lattices += [(STAGGERED, *pair) for pair in (pairs if exact or few else pairs[:1])]
        for kind, pitch, row_pitch in lattices:
            offsets = _offsets(turned, pitch, row_pitch, kind == STAGGERED, exact)
            # Rows pressed together fill the height, so that few offsets leave them all on the board.
            pressed = kind == STAGGERED and pitch > spacing_m * (1 + GUARD)
            limit = PRESSED_OFFSETS if pressed else MOST_OFFSETS
            if quick:
                limit = QUICK_OFFSETS
            elif not (exact or few):
                limit = max(8, whole(MOST_ROWS_TRIED * row_pitch / max(turned.y1 - turned.y0, row_pitch)))
            if len(offsets) > limit:
                offsets = offsets[:: len(offsets) // limit + 1]
            for offset in offsets:
                rows = _row_spans(turned, offset, row_pitch)
                count, shift = _best_shift(rows, pitch, kind == STAGGERED)
                if count > most_holes:
                    most_holes, best = count, (kind, along, pitch, row_pitch, offset, shift)
                if pattern == BEST and kind == SQUARE:
                    count = sum(len(places) for places in _fill_rows(rows, spacing_m))
                    if count > most_holes:
                        most_holes, best = count, (ROWS, along, pitch, row_pitch, offset, 0.0)
    if best is None:
        return nothing
    kind, along, pitch, row_pitch, offset, shift = best
    turned = region if along == "length" else region.turned()
    if kind == ROWS:
        filled = _fill_rows(_row_spans(turned, offset, row_pitch), spacing_m)
        points = [(x, turned.y0 + offset + number * row_pitch) for number, places in enumerate(filled) for x in places]
    else:
        points = _place(turned, offset, row_pitch, pitch, kind == STAGGERED, shift)
    if along == "width":
        points = [(x, y) for y, x in points]
    return Layout(kind, along, pitch, row_pitch, tuple(points))


def _contains_disc(region: Region, disc: tuple[float, float, float]) -> bool:
    x, y, radius = disc
    return (region.x0 <= x - radius + GUARD and region.x1 >= x + radius - GUARD
            and region.y0 <= y - radius + GUARD and region.y1 >= y + radius - GUARD)


def most_points(area_m2: float, perimeter_m: float, spacing_m: float) -> float:
    """No arrangement of points this far apart in a convex region has more (Oler's inequality; from memory)."""
    return 2 * area_m2 / (sqrt(3) * spacing_m ** 2) + perimeter_m / (2 * spacing_m) + 1


def spread(wanted: int, spacing_m: float, widest_m: float, step_m: float,
           count: Callable[[float], int]) -> float | None:
    """The widest spacing, in steps above ``spacing_m``, at which ``count(spacing)`` is still at least ``wanted``.

    ``None`` when even ``spacing_m`` gives fewer.
    """
    if count(spacing_m) < wanted:
        return None
    low, high = 0, max(0, floor((widest_m - spacing_m) / step_m)) + 1
    if count(spacing_m + high * step_m) >= wanted:
        return spacing_m + high * step_m
    while high - low > 1:
        middle = (low + high) // 2
        if count(spacing_m + middle * step_m) >= wanted:
            low = middle
        else:
            high = middle
    return spacing_m + low * step_m


@lru_cache(maxsize=4096)
def pieces_from_sheet(sheet_length_m: float, sheet_width_m: float, piece_length_m: float, piece_width_m: float,
                      kerf_m: float, cuts: int = 2) -> int:
    """Pieces that straight cuts, each from edge to edge, get out of one sheet, turning pieces where that helps.

    ``cuts`` is how often a sheet may be parted into two blocks before each is cut into one grid of pieces. A lower
    bound of what is possible, and never less than one direction for all.
    """
    best = max(grid_pieces(sheet_length_m, sheet_width_m, piece_length_m, piece_width_m, kerf_m),
               grid_pieces(sheet_length_m, sheet_width_m, piece_width_m, piece_length_m, kerf_m))
    # Where a sheet gives dozens of pieces, a better mixture gains too little to search for.
    if not best or not cuts or best > 40:
        return best
    for turned in (False, True):
        long, wide = (sheet_width_m, sheet_length_m) if turned else (sheet_length_m, sheet_width_m)
        tried = set()
        for side in (piece_length_m, piece_width_m):
            for number in range(1, whole((long + kerf_m) / (side + kerf_m)) + 1):
                first = number * (side + kerf_m) - kerf_m
                rest = long - first - kerf_m
                if rest <= 0.0 or round(first, 9) in tried:
                    continue
                tried.add(round(first, 9))
                parts = pieces_from_sheet(first, wide, piece_length_m, piece_width_m, kerf_m, cuts - 1)
                best = max(best, parts + pieces_from_sheet(rest, wide, piece_length_m, piece_width_m, kerf_m, cuts - 1))
    return best
