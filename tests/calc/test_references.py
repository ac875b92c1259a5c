"""Every relation against values from outside the project, and enough of them."""

import math
from collections import Counter
from pathlib import Path

import pytest

import calc.relations
from calc.relations import RELATIONS, geometry, pipe, water
from calc.relations.base import MEMORY, PRACTICE, PUBLISHED, STANDARD
from tests import references

ROWS = references.rows()


@pytest.mark.parametrize("row", ROWS, ids=[f"{row['relation']}-{number}" for number, row in enumerate(ROWS)])
def test_a_relation_gives_the_outside_value(row):
    got = RELATIONS[row["relation"]].function(**row["inputs"])
    assert abs(got - row["expected"]) <= row["tolerance"] + 1e-12 * abs(row["expected"])


def test_every_relation_has_two_values_from_outside():
    counts: Counter[str] = Counter()
    for row in ROWS:
        status = RELATIONS[row["relation"]].status
        # A definition is its own authority; a rule of thumb can only be checked against how it is said.
        if row["kind"] in references.COUNTED or (row["kind"], status) in (("definition", STANDARD), ("practice", PRACTICE)):
            counts[row["relation"]] += 1
    assert {name: counts[name] for name in RELATIONS if counts[name] < 2} == {}


def test_every_row_says_where_it_is_from():
    assert [row for row in ROWS if len(row["source"]) < 5 or row["kind"] not in references.KINDS] == []


def test_every_relation_says_what_a_reader_needs():
    for name, one in RELATIONS.items():
        assert one.title and one.formula and one.valid and one.source, name
        assert one.status in (PUBLISHED, STANDARD, PRACTICE, MEMORY), name
        assert (one.function.__doc__ or "").strip(), name


def test_every_module_of_relations_is_loaded():
    folder = Path(calc.relations.__file__).parent
    loaded = {name.split(".")[0] for name in RELATIONS}
    assert {file.stem for file in folder.glob("*.py")} - {"__init__", "base", "limits"} == loaded


@pytest.mark.parametrize("relative_roughness", [0.0, 1e-5, 1e-3, 0.02])
def test_friction_factor_follows_a_general_library_over_the_range(relative_roughness):
    fluids = pytest.importorskip("fluids")
    for power in range(6, 36):
        number = 10 ** (power / 4 + 1)
        expected = fluids.friction_factor(Re=number, eD=relative_roughness, Method="Colebrook")
        assert pipe.friction_factor(number, relative_roughness) == pytest.approx(expected, rel=1e-9)


def test_water_follows_the_international_formulation_over_the_range():
    iapws = pytest.importorskip("iapws")
    for degrees in range(1, 41, 3):
        state = iapws.IAPWS95(T=degrees + 273.15, P=0.101325)
        assert water.water_density(degrees) == pytest.approx(state.rho, rel=3e-5)
        assert water.water_viscosity(degrees) == pytest.approx(state.mu, rel=0.01)


def test_volumes_match_numerical_integration():
    def integrate(area, depth, steps=20_000):
        return sum(area((step + 0.5) / steps) for step in range(steps)) * depth / steps

    def between(base, top):
        return lambda share: base + (top - base) * share
    length, width, diameter = between(0.5, 0.61), between(0.22, 0.4), between(0.26, 0.31)
    assert geometry.tapered_box_volume(0.61, 0.4, 0.5, 0.22, 0.37) == pytest.approx(
        integrate(lambda share: length(share) * width(share), 0.37), rel=1e-8)
    assert geometry.frustum_volume(0.31, 0.26, 0.37) == pytest.approx(
        integrate(lambda share: math.pi / 4 * diameter(share) ** 2, 0.37), rel=1e-8)
