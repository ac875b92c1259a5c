"""Volumes, weight and the trap that floods a room."""

import pytest
from hypothesis import given, strategies as st

from calc.plan import Plan
from calc.solve import Memory, solve

GALLON = 0.003785411784
INCH = 0.0254


def value(key, **plan):
    return solve(Plan({name.replace("__", "."): text for name, text in plan.items()})).value(key)


def codes(**plan):
    design = solve(Plan({name.replace("__", "."): text for name, text in plan.items()}))
    return {one.code for one in design.cautions}


def levels(**plan):
    design = solve(Plan({name.replace("__", "."): text for name, text in plan.items()}))
    return {one.code: one.level for one in design.cautions}


def test_a_box_holds_length_times_width_times_water_depth():
    got = value("water.bath_volume", bath__length="48 in", bath__width="24 in", bath__water_depth="10 in")
    assert got == pytest.approx(48 * 24 * 10 * INCH**3)
    # 231 cubic inches to the US gallon, by definition.
    assert got / GALLON == pytest.approx(48 * 24 * 10 / 231)


def test_the_small_raft_garden_of_the_extension_sheet():
    # Sweat, Tyson, Hochmuth, HS943, UF/IFAS: 4 x 8 ft, at least 5 in of water; 1.219 x 2.438 x 0.127 m = 378 L.
    got = value("water.bath_volume", bath__length="8 ft", bath__width="4 ft", bath__water_depth="5 in")
    assert got == pytest.approx(0.378, rel=0.01)


def test_a_tote_is_a_prismatoid_and_not_an_average():
    plan = dict(bath__shape="tapered box", bath__length="60 cm", bath__width="40 cm", bath__base_length="30 cm",
                bath__base_width="10 cm", bath__depth="30 cm", bath__water_depth="30 cm")
    # Integrating (30 + 30 z)(10 + 30 z) over 0..1, times 30 cm.
    assert value("water.bath_volume", **plan) == pytest.approx(0.30 * (0.3 * 0.1 + (0.3 * 0.3 + 0.3 * 0.1) / 2
                                                                       + 0.3 * 0.3 / 3))


def test_the_opening_is_taken_at_the_water_line():
    plan = dict(bath__shape="tapered box", bath__length="60 cm", bath__width="40 cm", bath__base_length="50 cm",
                bath__base_width="30 cm", bath__depth="40 cm", bath__water_depth="20 cm")
    assert value("water.opening_length", **plan) == pytest.approx(0.55)
    assert value("water.opening_width", **plan) == pytest.approx(0.35)
    assert value("water.rim_to_water", **plan) == pytest.approx(0.20)


def test_a_known_volume_is_taken_as_it_was_measured():
    plan = dict(bath__shape="known volume", bath__known_volume="28 gal")
    assert value("water.bath_volume", **plan) / GALLON == pytest.approx(28)
    deeper = dict(plan, bath__known_depth="5 in", bath__water_depth="10 in")
    assert value("water.bath_volume", **deeper) / GALLON == pytest.approx(56)


def test_floor_load_of_thirty_centimetres_of_water():
    # FLR-01: 0.30 m of water at 20 C is 299.5 kg/m2, 61.3 psf; the tank adds nothing here.
    plan = dict(bath__water_depth="30 cm", bath__depth="40 cm", bath__tank_mass="0")
    assert value("water.floor_pressure", **plan) / 9.80665 == pytest.approx(299.5, abs=0.3)
    # The ground carries it; a floor over a room, built for 40 psf, is to be asked about; a small room is not enough.
    assert "floor-load" not in codes(**plan)
    assert levels(bath__stands_on="floor", **plan)["floor-load"] == "warning"
    assert levels(bath__stands_on="floor", bath__room_area="1.4 m2", **plan)["floor-load"] == "danger"


def test_a_bath_on_a_floor_by_hand():
    """49.9 gal of water at 8.33 lb and a 20 lb bath are 436 lb, and 569 lb with the reservoir's 16 gal.

    8 square feet carry 54 psf, a room of 120 square feet 4.7 psf on the whole; half the bath, 218 lb, is on each line
    of legs. At 150 psf allowed nothing is tight.
    """
    found = solve(Plan({"bath.stands_on": "bench"}))
    psf = 47.88025898
    assert found.value("water.floor_pressure") / psf == pytest.approx(435.7 / 8, rel=0.01)
    assert found.value("water.room_pressure") / psf == pytest.approx((435.7 + 16 * 8.33) / 120, rel=0.01)
    text = next(one.text for one in found.cautions if one.code == "floor-load")
    assert "218 lb" in text and "tight" in text and "engineer" in text
    assert levels(bath__stands_on="bench", bath__floor_allowance="150 psf")["floor-load"] == "note"
    assert "floor-load" not in codes(bath__stands_on="floor", bath__floor_allowance="150 psf")


def test_a_reservoir_of_known_volume_has_no_rim_until_it_is_measured():
    """1,000 L filled to somewhere says nothing of the brim: 1,600 L was once made up from a depth nobody typed."""
    typed = solve(Plan({"reservoir.known_volume": "1,000 L"}))
    assert typed.value("water.reservoir_volume") == pytest.approx(1.0)
    assert typed.value("water.reservoir_capacity") is None and typed.value("water.reservoir_headroom") is None
    assert "reservoir-brim" in {one.code for one in typed.cautions}
    assert not typed.faults and not typed.waiting
    measured = solve(Plan({"reservoir.known_volume": "1,000 L", "reservoir.brim_volume": "1,100 L"}))
    assert measured.value("water.reservoir_headroom") == pytest.approx(0.1)
    assert "reservoir-brim" not in {one.code for one in measured.cautions}
    short = solve(Plan({"reservoir.known_volume": "1,000 L", "reservoir.brim_volume": "900 L"}))
    assert "less than the" in short.faults["reservoir.brim_volume"]
    # The untouched example has both of its numbers; a link to it needs neither.
    assert solve(Plan({})).value("water.reservoir_headroom") / GALLON == pytest.approx(10)
    assert Plan({"reservoir.brim_volume": "26 gal"}).changed() == {}
    both = {"reservoir.known_volume": "20 gal", "reservoir.brim_volume": "26 gal"}
    assert Plan(both).changed() == both


def test_the_film_of_a_bath_of_any_shape_is_its_surface_times_its_height():
    """Half a drum, 88 cm long and 57 cm across, filled by the jug: the film is a slab at the widest place.

    0.88 x 0.57 m x 12 mm is 6.02 L. In proportion to its 112 L over 28.5 cm it would be 4.7 L, a fifth too little.
    """
    plan = {"bath.shape": "known volume", "bath.known_volume": "112 L", "bath.length": "88 cm", "bath.width": "57 cm",
            "bath.depth": "30 cm", "bath.water_depth": "28.5 cm", "bath.film": "12 mm"}
    found = solve(Plan(plan))
    assert found.value("water.drain_back_rim") - found.value("water.hose_volume") == pytest.approx(
        0.88 * 0.57 * 0.012, rel=1e-9)


def test_filling_over_the_rim_returns_only_the_film_and_the_hose():
    plan = dict(bath__film="1 in", bath__length="48 in", bath__width="24 in")
    film = 48 * 24 * INCH**3
    hose = value("water.hose_volume", **plan)
    assert value("water.drain_back_volume", **plan) == pytest.approx(film + hose)
    assert "roots-dry" not in codes(**plan)


def test_filling_through_the_floor_returns_the_whole_bath():
    plan = dict(bath__fill="floor", bath__length="48 in", bath__width="24 in", bath__water_depth="10 in")
    hose = value("water.hose_volume", **plan)
    assert value("water.drain_back_volume", **plan) == pytest.approx(48 * 24 * 10 * INCH**3 + hose)
    assert value("water.depth_after_stop", **plan) == 0
    assert {"roots-dry", "drain-back-flood"} <= codes(**plan)


def test_a_large_reservoir_takes_the_drain_back():
    assert "drain-back-flood" not in codes(bath__fill="floor", reservoir__shape="box", reservoir__length="2 m",
                                           reservoir__width="2 m", reservoir__depth="1 m",
                                            reservoir__water_depth="20 cm")


def test_a_check_valve_is_not_trusted_blindly():
    assert {"check-valve", "valve-flood"} <= codes(bath__fill="floor with check valve")


def test_baths_on_one_reservoir_add_up():
    one, three = value("water.working_volume"), value("water.working_volume", bath__count="3")
    assert three - one == pytest.approx(2 * value("water.bath_volume"))


@pytest.mark.parametrize("vessel", ["bath", "reservoir"])
def test_water_deeper_than_the_tank_is_told_and_the_rest_answers(vessel):
    design = solve(Plan({f"{vessel}.water_depth": "40 in", f"{vessel}.depth": "12 in"}))
    assert "12 in or less" in design.faults[f"{vessel}.water_depth"]
    other = "water.reservoir_volume" if vessel == "bath" else "water.bath_volume"
    assert design.value(other) > 0
    assert design.value("water.working_volume") is None


@given(st.sampled_from(["box", "tapered box", "round", "tapered round"]), st.floats(0.05, 0.5), st.floats(0.01, 0.5))
def test_more_water_is_never_less_mass(shape, depth, more):
    def mass(water_depth):
        plan = Plan({"bath.shape": shape, "bath.depth": "120 cm", "bath.water_depth": f"{water_depth:.6f} m"})
        # The water and what it stands on; most of a whole solution is about other things.
        return Memory().some(plan, ("water",)).value("water.mass")
    assert mass(depth + more) > mass(depth)


@pytest.mark.parametrize("shape, key, plan", [
    ("tapered box", "bath.base_length", {"bath.length": "36 3/4 in", "bath.base_length": "45 in"}),
    ("tapered box", "bath.base_width", {"bath.width": "18 1/2 in", "bath.base_width": "20 in"}),
    ("tapered round", "bath.base_diameter", {"bath.diameter": "18 in", "bath.base_diameter": "19 in"}),
])
def test_a_floor_larger_than_the_rim_is_told_and_nothing_is_drawn_from_it(shape, key, plan):
    found = solve(Plan({"bath.shape": shape, **plan}))
    assert "at the floor is more than at the rim" in found.faults[key]
    assert found.value("water.bath_volume") is None and found.value("board.holes") is None
    assert found.value("water.reservoir_volume") > 0


def test_straight_walls_may_be_typed_as_tapered():
    straight, tapered = solve(Plan({})), solve(Plan({"bath.shape": "tapered box", "bath.base_length": "48 in"}))
    assert tapered.faults == {}
    assert tapered.value("water.bath_volume") == pytest.approx(straight.value("water.bath_volume"))


@pytest.mark.parametrize("worse", [
    {"bath.stands_on": "floor", "bath.length": "30 in"}, {"bath.stands_on": "floor", "bath.room_area": "12 ft2"},
    {"bath.fill": "floor"}, {"bath.water_depth": "11.9 in"},
    {"bath.liner": "frame", "bath.length": "8 ft", "bath.width": "4 ft"}])
def test_a_worse_verdict_does_not_hide_that_nobody_knows_whether_a_stop_floods(worse):
    said, known = (solve(Plan({"reservoir.brim_volume": brim, **worse})).verdict("water") for brim in ("", "200 gal"))
    assert said.state == known.state and said.state in ("tight", "fails") and said.lead == known.lead
    assert said.text.startswith(known.text) and "what the reservoir holds to the brim" in said.text
    assert "brim" not in known.text


@pytest.mark.parametrize("worse", [
    # 3 ft of water is 187 psf, where a room's floor is built for 40.
    {"bath.stands_on": "floor", "bath.length": "20 ft", "bath.width": "8 ft", "bath.depth": "40 in",
     "bath.water_depth": "36 in"},
    {"bath.liner": "frame", "bath.length": "12 ft", "bath.depth": "20 in", "bath.water_depth": "18 in",
     "bath.wall_thickness": "1/2 in"}])
def test_a_hose_that_cannot_be_read_hides_no_heavy_bath_and_no_weak_frame(worse):
    whole = solve(Plan.from_mapping({**worse, "reservoir.brim_volume": "900 gal"})).verdicts["water"]
    faulty = solve(Plan.from_mapping({**worse, "circulation.hose_bore": "bad"}))
    assert whole.state == "fails" and "circulation.hose_bore" in faulty.faults
    assert (faulty.verdicts["water"].state, faulty.verdicts["water"].lead) == ("fails", whole.lead)


def test_a_reservoir_s_place_that_cannot_be_read_hides_no_heavy_bath():
    heavy = {"bath.stands_on": "floor", "bath.depth": "40 in", "bath.water_depth": "36 in"}
    for typed in (heavy, {**heavy, "place.reservoir": "elsewhere"}):
        found = solve(Plan.from_mapping(typed))
        assert ("place.reservoir" in found.faults) == ("place.reservoir" in typed)
        assert [one.level for one in found.cautions if one.code == "floor-load"] == ["warning"], typed


def test_a_tall_reservoir_on_a_floor_over_a_room_is_told_of():
    low = {"bath.stands_on": "floor", "bath.depth": "7 in", "bath.water_depth": "5 in", "reservoir.shape": "round",
           "reservoir.diameter": "22 in", "reservoir.depth": "30 in", "reservoir.water_depth": "24 in"}
    found = solve(Plan.from_mapping(low))
    # 5 in of water is 26 psf, and 24 in at 62.3 lb/ft3 124.6 psf, where a room is built for 40.
    assert found.value("water.floor_pressure") < found.value("water.floor_allowance")
    assert found.value("water.reservoir_pressure") == pytest.approx(2 * 62.32 * 47.8803, rel=2e-3)
    said = next(one for one in found.cautions if one.code == "floor-load")
    assert said.level == "warning" and "the reservoir's water presses 125 psf" in said.text
    assert found.verdicts["water"].state == "tight" and "125 psf" in found.verdicts["water"].text
    flat = solve(Plan.from_mapping({**low, "reservoir.water_depth": "6 in", "reservoir.diameter": "48 in"}))
    assert flat.verdicts["water"].state == "fits"
    for elsewhere in ({"place.reservoir": "buried"}, {"bath.stands_on": "ground"}, {"water.scheme": "aerated"}):
        one = solve(Plan.from_mapping({**low, **elsewhere}))
        assert one.value("water.reservoir_pressure") is None, elsewhere
