"""Water up to the bath by a pump, and back by gravity."""

from math import pi

import fluids
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from calc.models.curves import QUADRATIC, Curve, operating_flow
from calc.data import fittings
from calc.plan import Plan
from calc.relations import overflow
from calc.solve import solve
from calc.topics import circulation

L_H = 1e-3 / 3600
WATER = (998.2, 1.0016e-3)


def design(**given):
    return solve(Plan.from_mapping({key.replace("__", "."): value for key, value in given.items()}))


def one_pump(**more):
    return [{"name": "P", "shutoff_head": "2 m", "top_flow": "2000 L/h", "power": "20 W", **more}]


def codes(found):
    return {caution.code for caution in found.cautions}


def test_a_parabola_and_a_quadratic_system_have_a_closed_form():
    # PMP-01 and PMP-02
    curve = Curve(2.0, 2000 * L_H, QUADRATIC)
    flow = operating_flow(curve, lambda q: 0.6 + 1.5e-7 * (q / L_H) ** 2)
    assert flow / L_H == pytest.approx(1467.60, abs=0.5)
    assert curve.push_at(flow) == pytest.approx(0.9231, abs=0.002)


def test_the_printed_pump_and_hose():
    # PMP-03
    flow = circulation.operate(Curve(2.0, 2000 * L_H, QUADRATIC), (0.6, 0.0127, 3.0, 3.5, *WATER))
    assert flow / L_H == pytest.approx(696.7, rel=0.01)


def test_a_whole_plan_adds_up_lift_hose_and_fittings():
    found = design(circulation__pumps=one_pump(), circulation__lift="0.6 m", circulation__hose_bore="12.7 mm",
                   circulation__hose_length="3 m", circulation__elbows="1", circulation__tees="1",
                   water__temperature="20 C")
    # One elbow 2.1, one tee 2.4, and the exit 1: more than the 3.5 of the printed row, so a little less water.
    expected = circulation.operate(Curve(2.0, 2000 * L_H, QUADRATIC), (0.6, 0.0127, 3.0, 5.5, *WATER))
    assert found.value("circulation.flow") == pytest.approx(expected, rel=1e-3)
    assert found.value("circulation.flow") / L_H < 696.7
    lift_and_losses = 0.6 + found.value("circulation.friction") + found.value("circulation.fitting_loss")
    assert found.value("circulation.head") == pytest.approx(lift_and_losses, rel=1e-9)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.5, 8.0), st.floats(200.0, 15000.0), st.floats(0.0, 0.9), st.floats(0.008, 0.05),
       st.floats(0.1, 30.0), st.floats(0.0, 15.0))
def test_agrees_with_another_library_and_lies_on_both_curves(shutoff, top, share, bore, length, k_sum):
    curve, lift = Curve(shutoff, top * L_H, QUADRATIC), share * shutoff
    system = (lift, bore, length, k_sum, *WATER)
    flow = circulation.operate(curve, system)
    above = circulation.system_head(flow * (1 + 1e-6), *system) - curve.push_at(flow * (1 + 1e-6))
    below = circulation.system_head(flow * (1 - 1e-6), *system) - curve.push_at(flow * (1 - 1e-6))
    assert above >= -1e-6 * shutoff and below <= 1e-6 * shutoff

    def spare(q):
        speed = q / (pi / 4 * bore * bore)
        friction = fluids.friction_factor(fluids.Reynolds(V=speed, D=bore, rho=WATER[0], mu=WATER[1]), eD=1.5e-6 / bore)
        return curve.push_at(q) - lift - (friction * length / bore + k_sum) * speed**2 / (2 * 9.80665)
    other = brentq(spare, 1e-12, curve.top_flow)
    reynolds = other / (pi / 4 * bore) * WATER[0] / WATER[1]
    if reynolds > 4500:
        assert flow == pytest.approx(other, rel=0.01)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.0, 3.0), st.floats(0.0, 3.0))
def test_higher_is_never_more_water(one, other):
    low, high = sorted((one, other))
    curve = Curve(2.5, 2500 * L_H, QUADRATIC)
    flows = [circulation.operate(curve, (lift, 0.019, 2.0, 5.0, *WATER)) for lift in (low, high)]
    assert flows[1] <= flows[0] * (1 + 1e-9)


def test_target_is_turnover_times_all_baths():
    found = design(bath__count="3", circulation__turnover="2 /h")
    assert found.value("circulation.target_flow") == pytest.approx(6 * found.value("water.bath_volume") / 3600)
    assert found.value("circulation.turnover") == pytest.approx(
        found.value("circulation.flow") / (3 * found.value("water.bath_volume")))


def test_the_pump_chosen_has_the_fewest_watts_that_suffice():
    for turnover in ("0.5 /h", "1 /h", "3 /h", "8 /h"):
        found = design(circulation__turnover=turnover)
        wanted = found.value("circulation.target_flow")
        enough = [row for row in found.value("circulation.pump_flows") if row["flow"] >= wanted]
        assert found.value("circulation.power") == min(row["watts"] for row in enough)
        assert found.value("circulation.flow") >= wanted


def test_no_pump_large_enough_gives_the_one_that_moves_most_and_says_so():
    found = design(circulation__turnover="300 /h")
    assert "pump-too-small" in codes(found)
    assert found.value("circulation.flow") == max(row["flow"] for row in found.value("circulation.pump_flows"))


def test_a_named_pump_under_the_lift_is_a_fault_beside_it():
    found = design(circulation__pump="p", circulation__pumps=one_pump(), circulation__lift="2.5 m",
                   air__rule="optimum")
    assert "cannot lift" in found.faults["circulation.pump"] and "circulation.flow" not in found.answers
    assert found.value("air.delivered") > 0


def test_no_pump_reaches_the_lift():
    found = design(circulation__lift="9 m")
    assert "No pump on the list can lift" in found.faults["circulation.lift"]


def test_a_name_that_is_not_on_the_list():
    assert "Example W1" in design(circulation__pump="Nobody's").faults["circulation.pump"]


def test_a_named_pump_is_taken_though_another_is_cheaper():
    assert design(circulation__pump="example w6").value("circulation.pump_name") == "Example W6"


def test_measured_points_are_followed():
    found = design(circulation__pumps=one_pump(points="2000 @ 0, 1000 @ 1.5, 0 @ 2"), circulation__lift="1.5 m",
                   circulation__hose_bore="2 in", circulation__elbows="0")
    assert found.value("circulation.flow") / L_H == pytest.approx(1000, rel=0.01)
    bad = design(circulation__pumps=one_pump(points="2000 @ 0, 1000"))
    assert bad.faults["circulation.pumps"].startswith("Measured points of P")


def test_a_narrow_hose_is_warned_of_with_the_size_to_take():
    found = design(circulation__pump="Example W7", circulation__hose_bore="1/2 in")
    assert found.value("circulation.velocity") > 1.5 and "hose-speed" in codes(found)
    assert "hose or wider" in found.value("circulation.hose_advice")


@pytest.mark.parametrize("pump, rise", [("Example W1", 0.008), ("Example W2", 0.0127), ("Example W4", 0.025)])
def test_overflow_is_the_smallest_pipe_that_takes_the_flow_half_blocked(pump, rise):
    found = design(circulation__pump=pump, circulation__lift="0.7 m", circulation__rise=f"{rise * 1000} mm")
    bore = found.value("circulation.overflow_bore")
    need = 2 * found.value("circulation.flow")
    assert found.value("circulation.drain_flow") == pytest.approx(need)
    sizes = [size.bore_m for size in fittings.PVC_PIPES]
    assert overflow.standpipe_flow(rim_bore_m=bore, head_m=rise) >= need
    smaller = sizes[sizes.index(bore) - 1]
    assert bore == sizes[0] or overflow.standpipe_flow(rim_bore_m=smaller, head_m=rise) < need


def test_film_over_the_overflow_takes_the_flow():
    found = design()
    taken = overflow.standpipe_flow(rim_bore_m=found.value("circulation.overflow_bore"),
                                    head_m=found.value("circulation.film_depth"))
    assert taken == pytest.approx(found.value("circulation.flow"), rel=1e-9)
    assert found.value("circulation.film_depth") < 0.0127


def test_two_overflows_still_work_with_one_blocked_outright():
    one, two = design(circulation__drains="1"), design(circulation__drains="2", circulation__blockage="10 %")
    assert two.value("circulation.drain_flow") == pytest.approx(two.value("circulation.flow"))
    assert "second-drain" in codes(one) and "second-drain" not in codes(two)


def test_too_little_rise_is_a_danger_with_a_remedy():
    found = design(circulation__rise="1 mm", circulation__pump="Example W7")
    assert "overflow-too-small" in codes(found) and "circulation.overflow_bore" not in found.answers
    assert found.value("circulation.power") == 220


def test_rise_over_the_rim_spills():
    assert "rise-over-rim" in codes(design(circulation__rise="3 in"))
    assert "rise-over-rim" not in codes(design())


def test_gravity_drain():
    wide = design()
    assert wide.value("circulation.drain_capacity") > wide.value("circulation.drain_flow")
    flat = design(circulation__drain_fall="1 cm", circulation__drain_length="400 m")
    assert "drain-too-small" in codes(flat)
    assert "fall" in design(circulation__drain_fall="3 ft", circulation__drain_length="1 ft").faults[
        "circulation.drain_length"]


@pytest.mark.parametrize("name, inches", [("1/2 in", 0.602), ("3/4 in", 0.804), ("1 in", 1.029), ("1-1/4 in", 1.36),
                                          ("1-1/2 in", 1.59), ("2 in", 2.047)])
def test_pvc_bores_are_the_average_not_the_nominal(name, inches):
    size = next(size for size in fittings.PVC_PIPES if size.name.startswith(name + " "))
    assert size.bore_m / 0.0254 == pytest.approx(inches, abs=0.005)


@pytest.mark.parametrize("inches, screwed", [(0.5, 2.1), (0.75, 1.7), (1, 1.5), (1.25, 1.3), (1.5, 1.2), (2, 1.0)])
def test_elbows(inches, screwed):
    row = fittings.nearest_size(inches * 0.0254, fittings.SCREWED_ELBOWS)
    assert row.k == pytest.approx(screwed) and "Rishel" in row.source
    assert fittings.nearest_size(inches * 0.0254, fittings.SMOOTH_ELBOWS).k < screwed


@pytest.mark.parametrize("inches, k", [(0.5, 2.4), (0.75, 2.1), (1, 1.9), (1.5, 1.6), (2, 1.4)])
def test_tees(inches, k):
    assert fittings.nearest_size(inches * 0.0254, fittings.TEES).k == pytest.approx(k)


def test_glued_elbows_follow_the_library_roughness_factor():
    for row, bore_mm in zip(fittings.SMOOTH_ELBOWS, (15.80, 20.93, 26.64, 40.89, 52.50), strict=False):
        assert row.k == pytest.approx(30 * fluids.fittings.ft_Crane(bore_mm / 1000), abs=30 * 0.001)


def test_every_default_result_answers_without_fault():
    for system in ("us", "metric"):
        found = design(units=system)
        assert [spec.key for spec in circulation.RESULTS if spec.key not in found.answers] == []
        assert not {key for key in found.faults if key.startswith("circulation.")}
