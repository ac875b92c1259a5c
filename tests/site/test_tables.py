"""The printed tables say what published tables say, and run the way physics does."""

import pytest
from tools import tables


def numbers(printed):
    return [[float(cell) for cell in row[1:]] for row in printed.rows]


@pytest.mark.parametrize("celsius, held", [(0, 14.62), (10, 11.29), (20, 9.09), (30, 7.56), (40, 6.41)])
def test_oxygen_at_the_sea_is_the_published_table(celsius, held):
    # US Geological Survey tables after 2011 and Standard Methods 4500-O, both by Benson and Krause (1984).
    assert numbers(tables.oxygen())[celsius][0] == held


def test_oxygen_falls_with_warmth_and_with_altitude():
    rows = numbers(tables.oxygen())
    assert len(rows) == 41 and all(len(row) == len(tables.ALTITUDES_M) for row in rows)
    assert all(row == sorted(row, reverse=True) for row in rows)
    assert all(list(column) == sorted(column, reverse=True) for column in zip(*rows, strict=True))


def test_every_row_has_a_cell_for_every_head():
    for printed in tables.every():
        assert all(len(row) == len(printed.heads) for row in printed.rows), printed.anchor
