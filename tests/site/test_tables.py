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


def test_crops_salts_and_formulas_are_all_there():
    from calc.data import crops, salts, targets
    found = {printed.anchor: printed for printed in tables.every()}
    assert len(found["crops"].rows) == len(crops.CROPS) >= 15
    assert len(found["salts"].rows) == len(salts.SALTS)
    assert len(found["targets"].rows) == sum(not one.retired for one in targets.TARGETS)
    lettuce = next(row for row in found["crops"].rows if row[0] == "Leaf lettuce")
    assert "18 to 30" in lettuce and "59 to 77" in lettuce and "published, read in a copy" in lettuce[-1]
    # Molar mass arithmetic on IUPAC weights: KNO3 is 38.67 % potassium and 13.85 % nitrogen.
    nitrate = next(row for row in found["salts"].rows if row[0].startswith("Potassium nitrate"))
    assert "K 38.7 %" in nitrate[2] and "N 13.9 %" in nitrate[2]
