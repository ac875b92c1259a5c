"""Every relation against values from outside the project, and enough of them."""

import math
import re
from collections import Counter
from pathlib import Path

import fluids
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

import calc.relations
from calc.errors import OutOfRange
from calc.relations import RELATIONS, air, base, geometry, overflow, pipe
from calc.relations.base import PRACTICE, PUBLISHED, STANDARD
from tests import references

ROWS = references.rows()


@pytest.mark.parametrize("row", ROWS, ids=[f"{row['relation']}-{number}" for number, row in enumerate(ROWS)])
def test_a_relation_gives_the_outside_value(row):
    got = RELATIONS[row["relation"]].function(**row["inputs"])
    assert abs(got - row["expected"]) <= row["tolerance"] + 1e-12 * abs(row["expected"])


STATUSES = (base.PUBLISHED, base.ABSTRACT, base.COPY, base.FITTED, base.PARTLY_FITTED, base.CHECKED, base.STANDARD,
            base.PRACTICE, base.MEMORY)


def test_every_relation_has_two_values_from_outside():
    counts: Counter[str] = Counter()
    for row in ROWS:
        status = RELATIONS[row["relation"]].status
        # A definition is its own authority; a rule of thumb can only be checked against how it is said.
        by_itself = (row["kind"], status) in (("definition", STANDARD), ("practice", PRACTICE))
        if row["kind"] in references.COUNTED or by_itself:
            counts[row["relation"]] += 1
    assert {name: counts[name] for name in RELATIONS if counts[name] < 2} == {}


def test_every_row_says_where_it_is_from():
    assert [row for row in ROWS if len(row["source"]) < 5 or row["kind"] not in references.KINDS] == []


def test_every_relation_says_what_a_reader_needs():
    for name, one in RELATIONS.items():
        assert one.title and one.formula and one.valid and one.source, name
        assert one.status in STATUSES, name
        # What stands on memory anywhere in its source never calls itself published and no more.
        # A book whose name alone is remembered, with algebra that is checked, is another thing.
        said = re.sub("(named|citation) from memory", "", one.source + one.valid)
        assert one.status != PUBLISHED or "from memory" not in said, name
        assert (one.function.__doc__ or "").strip(), name


def test_every_module_of_relations_is_loaded():
    folder = Path(calc.relations.__file__).parent
    loaded = {name.split(".")[0] for name in RELATIONS}
    assert {file.stem for file in folder.glob("*.py")} - {"__init__", "base", "limits"} == loaded


WATER = {"density_kg_m3": 998.2071, "viscosity_pa_s": 0.0010016}
AIR = {"density_kg_m3": 1.2046, "viscosity_pa_s": 1.8206e-5}
PIPE_K = 0.5


def library_factor(speed, bore, fluid, roughness=0.0):
    number = fluids.Reynolds(V=speed, D=bore, rho=fluid["density_kg_m3"], mu=fluid["viscosity_pa_s"])
    return fluids.friction_factor(Re=number, eD=roughness / bore, Method="Colebrook")


@pytest.mark.parametrize("relative_roughness", [0.0, 1e-5, 1e-3, 0.02, 0.05])
def test_friction_factor_follows_a_general_library_over_the_range(relative_roughness):
    for power in range(6, 60):
        number = 10 ** (power / 8 + 1)
        expected = fluids.friction_factor(Re=number, eD=relative_roughness, Method="Colebrook")
        assert pipe.friction_factor(number, relative_roughness) == pytest.approx(expected, rel=1e-11), number


@pytest.mark.parametrize("relative_roughness", [0.0, 1e-4, 0.05])
@pytest.mark.parametrize("number", [2040.001, 4e3, 1e5, 1e8, 1e12])
def test_friction_factor_satisfies_colebrook_itself(number, relative_roughness):
    root = math.sqrt(pipe.friction_factor(number, relative_roughness))
    right = -2 * math.log10(relative_roughness / 3.7 + 2.51 / (number * root))
    assert 1 / root == pytest.approx(right, rel=1e-12)


def test_friction_steps_up_and_never_down_where_turbulence_begins():
    assert pipe.friction_factor(2040.0, 0.0) == pytest.approx(64 / 2040, rel=1e-15)
    assert pipe.friction_factor(2040.001, 0.0) > 1.5 * pipe.friction_factor(2040.0, 0.0)


@pytest.mark.parametrize("bore", [0.004, 0.0127, 0.0254, 0.0525])
@pytest.mark.parametrize("litres_an_hour", [3, 30, 100, 500, 2000, 10_000])
@pytest.mark.parametrize("roughness", [0.0, 1.5e-6, 1e-4])
def test_pipe_friction_follows_a_general_library_over_a_grid(bore, litres_an_hour, roughness):
    flow = litres_an_hour / 3.6e6
    speed = flow / (math.pi / 4 * bore**2)
    loss = fluids.K_from_f(fd=library_factor(speed, bore, WATER, roughness), L=4.0, D=bore)
    assert pipe.friction_head(flow, bore, 4.0, roughness, **WATER) == pytest.approx(
        fluids.head_from_K(loss, V=speed), rel=1e-9)


@pytest.mark.parametrize("bore", [0.003, 0.004, 0.00635, 0.0127])
@pytest.mark.parametrize("litres_a_minute", [0.5, 2, 5, 10, 40])
def test_air_hose_friction_follows_a_general_library_over_a_grid(bore, litres_a_minute):
    flow = litres_a_minute / 60_000
    speed = flow / (math.pi / 4 * bore**2)
    loss = fluids.K_from_f(fd=library_factor(speed, bore, AIR), L=2.5, D=bore)
    assert air.tube_pressure_drop(flow, bore, 2.5, **AIR) == pytest.approx(
        fluids.dP_from_K(loss, rho=AIR["density_kg_m3"], V=speed), rel=1e-9)


@pytest.mark.parametrize("bore", [0.0158, 0.0266, 0.0409, 0.0525])
@pytest.mark.parametrize("fall", [0.05, 0.3, 2.0])
@pytest.mark.parametrize("length", [0.2, 3.0])
def test_full_drain_balances_energy_with_a_general_library(bore, fall, length):
    def unused_head(speed):
        friction = library_factor(speed, bore, WATER, 1.5e-6) * length / bore
        return fall - fluids.head_from_K(1 + PIPE_K + friction, V=speed)
    expected = brentq(unused_head, 0.2, 10.0, xtol=1e-12)
    pipe_and_water = {"fall_m": fall, "bore_m": bore, "length_m": length, "k_sum": PIPE_K, "roughness_m": 1.5e-6,
                      **WATER}
    assert pipe.drain_velocity(**pipe_and_water) == pytest.approx(expected, rel=1e-9)
    assert overflow.gravity_drain_flow(**pipe_and_water) == pytest.approx(
        expected * math.pi / 4 * bore**2, rel=1e-9)


def test_full_drain_settles_where_flow_is_neither_laminar_nor_turbulent():
    # A thin, long pipe: across the jump in friction no speed balances exactly, and the answer may not hop about.
    falls = [0.001 * step for step in range(1, 250)]
    speeds = [pipe.drain_velocity(fall, 0.004, 1.0, PIPE_K, 0.0, **WATER) for fall in falls]
    # The bracket closes to 1e-12, so equal speeds may differ by that much.
    assert all(slow <= fast * (1 + 1e-11) for slow, fast in zip(speeds, speeds[1:], strict=False))
    at_the_jump = pipe.LAMINAR_LIMIT * WATER["viscosity_pa_s"] / (WATER["density_kg_m3"] * 0.004)
    assert sum(abs(speed / at_the_jump - 1) < 1e-9 for speed in speeds) > 5


@pytest.mark.parametrize("top", [(0.61, 0.4), (0.5, 0.22), (0.7, 0.2)])
@pytest.mark.parametrize("base", [(0.5, 0.22), (0.61, 0.1)])
def test_tapered_box_matches_its_areas_added_up(top, base):
    def area(share):
        return math.prod(low + (high - low) * share for low, high in zip(base, top, strict=True))
    expected, error = quad(lambda z: area(z / 0.37), 0.0, 0.37)
    assert error < 1e-12
    assert geometry.tapered_box_volume(*top, *base, 0.37) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(("top", "base"), [(0.31, 0.26), (0.26, 0.31), (0.9, 0.05)])
def test_frustum_matches_its_areas_added_up(top, base):
    expected, error = quad(lambda z: math.pi / 4 * (base + (top - base) * z / 0.37) ** 2, 0.0, 0.37)
    assert error < 1e-12
    assert geometry.frustum_volume(top, base, 0.37) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(("name", "change", "words"), [
    ("geometry.box_volume", {"depth_m": 0.0}, "Depth must be more than 0 m."),
    ("geometry.size_at_depth", {"depth_m": 0.5}, "Depth of water must be between 0 and 0.4 m, the depth of the tank."),
    ("water.water_density", {"temperature_c": 40.1}, "Water temperature must be between 0 and 40 °C."),
    ("water.floor_pressure", {"area_m2": 0.0}, "Floor area must be more than 0 m²."),
    ("water.leg_load", {"legs": 0}, "Number of legs must be 1 or more."),
    ("air.air_viscosity", {"temperature_c": -51.0}, "Air temperature must be between -50 and 100 °C."),
    ("air.tube_pressure_drop", {"flow_m3_s": -1.0}, "Air flow must be 0 m³/s or more."),
    ("air.air_pump_line", {"pressure_pa": 20001.0},
     "Pressure the pump works against must be between 0 and 20,000 Pa, its shut-off pressure."),
    ("air.air_pump_line", {"shutoff_pa": 0.0}, "Shut-off pressure must be more than 0 Pa."),
    ("pipe.friction_factor", {"relative_roughness": 0.06}, "Roughness over bore must be between 0 and 0.05."),
    ("pipe.friction_head", {"flow_m3_s": -1e-9}, "Flow must be 0 m³/s or more."),
    ("pipe.drain_velocity", {"bore_m": 0.0}, "Bore must be more than 0 m."),
    ("pump.pump_curve", {"flow_m3_s": 1.0}, "the pump's top flow."),
    ("overflow.weir_flow", {"head_m": -0.001}, "Water above the rim must be 0 m or more."),
    ("floating.draught", {"hole_share": 1.0}, "Share of the board that is holes must be 0 or more and under 1."),
    ("floating.soaked_density", {"absorption": 1.1},
     "Water taken up, as a share of the volume must be between 0 and 1."),
    ("electricity.flooding_share", {"floods_per_day": 97.0}, "Floods must not take more than 24 hours a day."),
    ("layout.square_count", {"spacing_m": 0.0}, "Spacing must be more than 0 m."),
])
def test_outside_its_range_a_relation_says_what_may_be_entered(name, change, words):
    inputs = next(row["inputs"] for row in ROWS if row["relation"] == name)
    with pytest.raises(OutOfRange) as refused:
        RELATIONS[name].function(**{**inputs, **change})
    assert str(refused.value).endswith(words)


@pytest.mark.parametrize("name", [name for name in RELATIONS if name.split(".")[0] not in ("oxygen", "atmosphere",
                                                                                          "roots")])
@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_no_relation_lets_an_impossible_number_through(name, value):
    inputs = next(row["inputs"] for row in ROWS if row["relation"] == name)
    for argument in inputs:
        with pytest.raises(OutOfRange):
            RELATIONS[name].function(**{**inputs, argument: value})
