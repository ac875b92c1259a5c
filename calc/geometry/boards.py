"""A raft parted into boards, each with its holes; the spacing holds across the seams too."""

from __future__ import annotations

from functools import lru_cache

from . import layout

Placed = tuple[float, float, float, float, layout.Layout]


@lru_cache(maxsize=64)
def board_layouts(raft_length_m: float, raft_width_m: float, round_raft: bool, gap_m: float, along: int, across: int,
                  keepouts: tuple[layout.Rectangle, ...], edge_m: float, hole_radius_m: float, spacing_m: float,
                  pattern: str, quick: bool = False) -> tuple[Placed, ...]:
    """(x, y, length, width, layout) of each board; x and y from the corner of the opening, holes from the board's.

    ``edge_m`` is board edge to hole centre; ``quick`` searches less, for trying many spacings.
    The spacing is kept across seams too: plants do not see them. Without keep-outs, boards of one size
    share one layout unless a layout of the whole raft holds more.
    """
    long, wide = raft_length_m / along, raft_width_m / across
    cells = [(column * long, row * wide) for row in range(across) for column in range(along)]
    shared = None
    if not round_raft and not keepouts:
        edges = [max(edge_m, spacing_m / 2) if count > 1 else edge_m for count in (along, across)]
        shared = layout.rectangle(long, wide, edges[0], spacing_m, pattern, edges[1])
        if along * across == 1:
            return ((gap_m, gap_m, long, wide, shared),)
    radius = raft_length_m / 2
    near = tuple((x - gap_m, y - gap_m, size, breadth) for x, y, size, breadth in keepouts)
    if round_raft and radius < edge_m - 1e-9:
        placed = layout.Layout(layout.SQUARE, "length", spacing_m, spacing_m, ())
    else:
        region = layout.Region(
            edge_m, edge_m, raft_length_m - edge_m, raft_width_m - edge_m,
            (radius, radius, radius - edge_m) if round_raft else None, near, hole_radius_m,
            tuple(long * number for number in range(1, along)), tuple(wide * number for number in range(1, across)),
            edge_m)
        placed = layout.search(region, spacing_m, pattern, quick)
    if shared and shared.count * along * across >= placed.count:
        return tuple((gap_m + x, gap_m + y, long, wide, shared) for x, y in cells)
    holes: list[list[tuple[float, float]]] = [[] for _ in cells]
    for x, y in placed.points:
        column, row = min(int(x / long), along - 1), min(int(y / wide), across - 1)
        holes[row * along + column].append((x - column * long, y - row * wide))
    found = []
    for (x, y), points in zip(cells, holes, strict=True):
        # A square of the grid wholly outside a round raft is no board.
        dx, dy = (max(low - radius, radius - low - size, 0.0) for low, size in ((x, long), (y, wide)))
        if not round_raft or dx * dx + dy * dy < radius * radius - 1e-12:
            found.append((gap_m + x, gap_m + y, long, wide, layout.Layout(
                placed.pattern, placed.along, placed.pitch_m, placed.row_pitch_m, tuple(points))))
    return tuple(found)


def cell_in_disc(x: float, y: float, long: float, wide: float, radius: float, strips: int = 400) -> float:
    """Area of a rectangle inside a circle round the origin, by the midpoint rule (within a thousandth)."""
    total = 0.0
    for number in range(strips):
        at = x + (number + 0.5) * long / strips
        half = max(radius * radius - at * at, 0.0) ** 0.5
        total += max(0.0, min(y + wide, half) - max(y, -half))
    return total * long / strips
