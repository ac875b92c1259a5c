"""Layouts against outside counts, known bounds, and brute force over lattices."""

from itertools import combinations
from math import hypot, inf, pi, sqrt

import pytest
from hypothesis import given, settings, strategies as st

from calc.geometry import layout

ROW = sqrt(3) / 2
# (length, width, spacing, centre to edge, square, staggered along, staggered across); published counts of 4 x 4 are in
# the data file of Skiena & Revilla, Programming Challenges; the others are lattice counts worked out outside this code.
COUNTS = (
    (4.0, 4.0, 1.0, 0.5, 16, 14, 14),
    (2.4384, 1.2192, 0.2032, 0.1016, 72, 69, 72),
    (1.2, 0.6, 0.2, 0.1, 18, 17, 15),
    (1.2, 0.6, 0.15, 0.075, 32, 30, 32),
    (1.0, 1.0, 0.2, 0.1, 25, 23, 23),
)


@pytest.mark.parametrize("long, wide, spacing, edge, square, along, across", COUNTS)
def test_outside_counts(long, wide, spacing, edge, square, along, across):
    a, b = long - 2 * edge, wide - 2 * edge
    row, rows = layout.square_size(a, b, spacing)
    assert row * rows == square

    def staggered(a, b):
        odd, even, rows = layout.staggered_size(a, b, spacing, spacing * ROW)
        return (rows + 1) // 2 * odd + rows // 2 * even

    assert (staggered(a, b), staggered(b, a)) == (along, across)
    assert layout.rectangle(long, wide, edge, spacing, layout.SQUARE).count == square
    assert layout.rectangle(long, wide, edge, spacing, layout.STAGGERED).count >= max(along, across)
    assert layout.rectangle(long, wide, edge, spacing).count >= max(square, along, across)


def test_circles_in_a_large_square():
    row, rows = layout.square_size(624.0, 624.0, 8.0)
    assert row * rows == 6241
    odd, even, rows = layout.staggered_size(624.0, 624.0, 8.0, 8.0 * ROW)
    # Ninety whole gaps make ninety-one rows.
    assert rows == 91 and (rows + 1) // 2 * odd + rows // 2 * even == 7144


def closest(points):
    return min((hypot(a[0] - b[0], a[1] - b[1]) for a, b in combinations(points, 2)), default=inf)


def brute(region, spacing, steps):
    """The most points of any plain lattice on a comb of offsets, told inside from outside by distances alone."""
    def inside(x, y):
        if not (region.x0 - 1e-9 <= x <= region.x1 + 1e-9 and region.y0 - 1e-9 <= y <= region.y1 + 1e-9):
            return False
        if region.disc and hypot(x - region.disc[0], y - region.disc[1]) > region.disc[2] + 1e-9:
            return False
        if any(abs(x - seam) < region.seam_clear - 1e-9 for seam in region.seams_x) or any(
                abs(y - seam) < region.seam_clear - 1e-9 for seam in region.seams_y):
            return False
        for left, bottom, long, wide in region.keepouts:
            dx = max(left - x, x - left - long, 0.0)
            dy = max(bottom - y, y - bottom - wide, 0.0)
            if hypot(dx, dy) < region.clear - 1e-9 or dx == dy == 0.0:
                return False
        return True

    best = 0
    for turned in (False, True):
        a, b = (region.y1 - region.y0, region.x1 - region.x0) if turned else (
            region.x1 - region.x0, region.y1 - region.y0)
        for row_pitch, shift in ((spacing, 0.0), (spacing * ROW, spacing / 2)):
            for i in range(steps):
                for j in range(steps):
                    u, v = spacing * i / steps, row_pitch * j / steps
                    count = 0
                    for first in (0, 1) if shift else (0,):
                        now = 0
                        for row in range(int(b / row_pitch) + 2):
                            start = u + (shift if (row + first) % 2 else 0.0) - spacing
                            for place in range(int(a / spacing) + 3):
                                x, y = start + place * spacing, v + row * row_pitch
                                if turned:
                                    x, y = y, x
                                now += inside(region.x0 + x, region.y0 + y)
                        count = max(count, now)
                    best = max(best, count)
    return best


sides = st.floats(0.2, 1.3)
spacings = st.floats(0.12, 0.4)
patterns = st.sampled_from((layout.BEST, layout.SQUARE, layout.STAGGERED))


@given(st.floats(0.1, 4.0), st.floats(0.1, 4.0), st.floats(0.01, 0.2), spacings, patterns)
@settings(max_examples=150, deadline=None)
def test_rectangle_holes_keep_their_distances(long, wide, edge, spacing, pattern):
    found = layout.rectangle(long, wide, edge, spacing, pattern)
    assert found.count == layout.rectangle_count(long, wide, edge, spacing, pattern)
    assert (found.count == 0) == (long < 2 * edge - 1e-9 or wide < 2 * edge - 1e-9)
    assert closest(found.points) >= spacing - 1e-9
    assert all(edge - 1e-8 <= x <= long - edge + 1e-8 and edge - 1e-8 <= y <= wide - edge + 1e-8
               for x, y in found.points)
    a, b = max(long - 2 * edge, 0.0), max(wide - 2 * edge, 0.0)
    assert found.count <= layout.most_points(a * b, 2 * (a + b), spacing) + 1e-6


@given(sides, sides, spacings)
@settings(max_examples=40, deadline=None)
def test_rectangle_is_not_beaten_by_brute_force(long, wide, spacing):
    region = layout.Region(0.0, 0.0, long, wide)
    assert layout.rectangle(long, wide, 0.0, spacing).count >= brute(region, spacing, 8)


@given(sides, sides, spacings)
@settings(max_examples=40, deadline=None)
def test_the_search_finds_what_arithmetic_finds(long, wide, spacing):
    for pattern in (layout.BEST, layout.SQUARE, layout.STAGGERED):
        assert layout.search(layout.Region(0.0, 0.0, long, wide), spacing, pattern).count == \
            layout.rectangle(long, wide, 0.0, spacing, pattern).count


keepout = st.tuples(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.floats(0.02, 0.4), st.floats(0.02, 0.4))


def check(region, spacing, pattern):
    found = layout.search(region, spacing, pattern)
    for places, axis in ((region.seams_x, 0), (region.seams_y, 1)):
        assert all(abs(point[axis] - seam) >= region.seam_clear - 1e-8 for point in found.points for seam in places)
    assert closest(found.points) >= spacing - 1e-9
    for x, y in found.points:
        assert region.x0 - 1e-8 <= x <= region.x1 + 1e-8 and region.y0 - 1e-8 <= y <= region.y1 + 1e-8
        if region.disc:
            assert hypot(x - region.disc[0], y - region.disc[1]) <= region.disc[2] + 1e-8
        for left, bottom, long, wide in region.keepouts:
            assert hypot(max(left - x, x - left - long, 0.0), max(bottom - y, y - bottom - wide, 0.0)) \
                >= region.clear - 1e-8
    return found


@given(sides, sides, spacings, st.lists(keepout, min_size=1, max_size=3), st.floats(0.01, 0.05), patterns)
@settings(max_examples=60, deadline=None)
def test_keepouts_are_kept_clear(long, wide, spacing, keepouts, clear, pattern):
    check(layout.Region(0.0, 0.0, long, wide, None, tuple(keepouts), clear), spacing, pattern)


@given(sides, sides, st.floats(0.15, 0.4), st.lists(keepout, min_size=1, max_size=2), st.floats(0.01, 0.05))
@settings(max_examples=40, deadline=None)
def test_keepouts_are_not_beaten_by_brute_force(long, wide, spacing, keepouts, clear):
    region = layout.Region(0.0, 0.0, long, wide, None, tuple(keepouts), clear)
    assert layout.search(region, spacing).count >= brute(region, spacing, 9)


@given(st.floats(0.1, 0.6), st.floats(0.12, 0.4), patterns)
@settings(max_examples=40, deadline=None)
def test_round_boards(radius, spacing, pattern):
    region = layout.Region(0.0, 0.0, 2 * radius, 2 * radius, (radius, radius, radius))
    found = check(region, spacing, pattern)
    assert 1 <= found.count <= layout.most_points(pi * radius ** 2, 2 * pi * radius, spacing) + 1e-6
    if pattern == layout.BEST:
        assert found.count >= brute(region, spacing, 9)


@given(st.floats(0.2, 0.6), st.floats(0.12, 0.4), st.floats(0.01, 0.08))
@settings(max_examples=30, deadline=None)
def test_half_discs(radius, spacing, edge):
    region = layout.Region(edge, edge, radius - edge, 2 * radius - edge, (radius, radius, radius - edge))
    assert check(region, spacing, layout.BEST).count >= brute(region, spacing, 9)


@given(sides, sides, spacings, st.floats(0.02, 0.1), st.integers(0, 3), st.integers(0, 2), st.booleans())
@settings(max_examples=40, deadline=None)
def test_seams_are_kept_clear_and_not_beaten(long, wide, spacing, clear, across, along, hatch):
    region = layout.Region(
        0.0, 0.0, long, wide, None, ((long / 3, wide / 4, 0.1, 0.07),) if hatch else (), 0.03,
        tuple(long * number / (across + 1) for number in range(1, across + 1)),
        tuple(wide * number / (along + 1) for number in range(1, along + 1)), clear)
    assert check(region, spacing, layout.BEST).count >= brute(region, spacing, 8)


def test_known_small_discs():
    # Seven points a spacing apart just fit a disc of that radius: one in the middle, six round it.
    region = layout.Region(0.0, 0.0, 2.0, 2.0, (1.0, 1.0, 1.0))
    assert layout.search(region, 1.0).count == 7
    # A square of side 1 has its corners 0.7072 from the middle.
    assert layout.search(layout.Region(0.0, 0.0, 2.0, 2.0, (1.0, 1.0, 0.7072)), 1.0).count == 4
    assert layout.search(layout.Region(0.0, 0.0, 2.0, 2.0, (1.0, 1.0, 0.0)), 1.0).count == 1


def test_a_keepout_over_everything_leaves_nothing():
    assert layout.search(layout.Region(0.0, 0.0, 1.0, 1.0, None, ((-0.1, -0.1, 1.2, 1.2),), 0.02), 0.2).count == 0


@given(st.floats(0.6, 3.0), st.floats(0.4, 2.0), st.floats(0.1, 0.3), st.integers(1, 60))
@settings(max_examples=60, deadline=None)
def test_a_wanted_number_is_spread_as_widely_as_it_goes(long, wide, spacing, wanted):
    def count(distance):
        return layout.rectangle_count(long, wide, 0.05, distance)

    found = layout.spread(wanted, spacing, long + wide, 0.001, count)
    if found is None:
        assert count(spacing) < wanted
        return
    assert found >= spacing and count(found) >= wanted
    assert found >= long + wide or count(found + 0.001) < wanted


# Sheet, piece, kerf (m), pieces with one direction for all: worked out outside this code.
SHEETS = (
    (2.4384, 1.2192, 0.6, 1.2, 0.003, 4), (2.4384, 1.2192, 0.6096, 1.2192, 0.0, 4),
    (2.4384, 1.2192, 0.4, 0.6, 0.003, 12), (2.5, 0.6, 0.59, 0.79, 0.002, 3),
)


@pytest.mark.parametrize("long, wide, piece_long, piece_wide, kerf, one_way", SHEETS)
def test_sheets(long, wide, piece_long, piece_wide, kerf, one_way):
    assert layout.pieces_from_sheet(long, wide, piece_long, piece_wide, kerf, 0) == one_way
    assert layout.pieces_from_sheet(long, wide, piece_long, piece_wide, kerf) >= one_way


def test_turning_some_pieces_gains_one():
    # A 5 x 5 sheet parted into 5 x 3 and 5 x 2 gives two upright pieces and one flat; one direction gives two.
    assert layout.pieces_from_sheet(5.0, 3.0, 3.0, 2.0, 0.0, 0) == 2
    assert layout.pieces_from_sheet(5.0, 5.0, 3.0, 2.0, 0.0, 0) == 2
    assert layout.pieces_from_sheet(5.0, 5.0, 3.0, 2.0, 0.0) == 3


@given(st.floats(1.0, 3.0), st.floats(0.5, 1.5), st.floats(0.1, 1.6), st.floats(0.1, 1.6), st.floats(0.0, 0.01))
@settings(max_examples=80, deadline=None)
def test_pieces_never_hold_more_foam_than_the_sheet(long, wide, piece_long, piece_wide, kerf):
    found = layout.pieces_from_sheet(long, wide, piece_long, piece_wide, kerf)
    assert found * piece_long * piece_wide <= long * wide * (1 + 1e-6)
    assert found >= layout.pieces_from_sheet(long, wide, piece_long, piece_wide, kerf, 0)


def test_a_long_raft_costs_as_much_more_work_as_it_is_longer(monkeypatch):
    tried = []
    size = layout.staggered_size
    monkeypatch.setattr(layout, "staggered_size", lambda *sides: tried.append(sides) or size(*sides))

    def lattices(length):
        layout.rectangle.cache_clear()
        layout._best_lattice.cache_clear()
        tried.clear()
        return layout.rectangle(length, 1.2, 0.06, 0.15).count, len(tried)

    (half, few), (whole, more), (double, most) = map(lattices, (15.0, 30.0, 60.0))
    assert whole >= 1600 and half >= 800 and double >= 3200
    # A lattice to try for each row that could be pressed in, by arithmetic on its two sides; never one for each hole.
    assert few < more <= 2.1 * few and more < most <= 2.1 * more
    assert more < 2 * (30.0 + 1.2) / 0.15
