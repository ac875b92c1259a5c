"""Water up to the bath by a pump, and back by gravity."""

from fractions import Fraction
from math import pi

import fluids
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from calc.data import fittings
from calc.models.curves import QUADRATIC, Curve, operating_flow
from calc.plan import Plan
from calc.render import section
from calc.render.extras.circulation import extra
from calc.solve import solve
from calc.topics import circulation, manifold

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
    # One elbow 2.1, one tee 2.4, the valve 3 x 0.02554, and the exit 1: more than the 3.5 of the printed row, so a
    # little less water.
    expected = circulation.operate(Curve(2.0, 2000 * L_H, QUADRATIC), (0.6, 0.0127, 3.0, 5.57662, *WATER))
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
    found = design(circulation__pump="example w6")
    assert [row["name"] for row in found.value("circulation.pump_flows") if row["runs"]] == ["Example W6"]
    # An invented pump is known by what it gives, which is what one asks for; the reader's own keeps its name.
    assert found.value("circulation.pump_name") == (
        f"a pump that gives {found.shown('circulation.flow')} at {found.shown('circulation.head')}")


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


def test_every_default_result_answers_without_fault():
    for system in ("us", "metric"):
        found = design(units=system)
        only_where_asked = {"circulation.owned_words", "circulation.valve_loss",
                            *(spec.key for spec in manifold.RESULTS)}
        assert {spec.key for spec in circulation.RESULTS if spec.key not in found.answers} == only_where_asked
        assert not {key for key in found.faults if key.startswith("circulation.")}


# --- which pump ------------------------------------------------------------------------------------------------------

def row(name, **more):
    return {"name": name, "shutoff_head": "3 m", "top_flow": "1000 L/h", "power": "20 W", "price": "30", **more}


# A hose so wide that friction is nothing: the flow is the top flow times the root of (1 - lift / shut-off).
WIDE = {"circulation__hose_bore": "100 mm", "circulation__lift": "0.75 m", "circulation__turnover": "2 /h",
        "units": "metric"}


def test_no_example_takes_part_beside_a_pump_of_the_readers_own():
    keys = {f"circulation.pumps.9.{column}": text for column, text in row("Mine").items()}
    found = solve(Plan.from_mapping({**keys, "units": "metric"}))
    assert [one["name"] for one in found.value("circulation.pump_flows")] == ["Mine"]
    named = solve(Plan.from_mapping({**keys, "circulation.pump": "Example W2"}))
    assert "step back" in named.faults["circulation.pump"]


def test_a_pump_owned_runs_is_not_bought_and_the_sentence_says_by_how_much():
    # 180 L a bath, twice an hour: 360 L/h wanted. Mine: 1000 x root(1 - 0.75/3) = 866 L/h, 2.4 times as much.
    rows = [row("Mine", owned="2"), row("Thrifty", power="5 W")]
    found = design(circulation__pumps=rows, **WIDE)
    assert found.value("circulation.flow") / L_H == pytest.approx(866.0, rel=0.01)
    assert found.value("circulation.pump_name") == "Mine" and found.value("circulation.power") == 20
    assert found.value("circulation.pumps_chosen") == []
    assert not [line for line in found.value("parts.shopping") if line["item"].startswith("Water pump")]
    words = found.value("circulation.owned_words")
    assert words.startswith("What you own is enough") and "2.4 times" in words and "1 more is a spare" in words


def test_a_pump_owned_that_is_too_small_gives_way_to_one_on_the_list_that_is_not():
    # Small: 200 x root(1 - 0.75/3) = 173 L/h, 48 % of 360.
    rows = [row("Small", top_flow="200 L/h", owned="1"), row("Enough")]
    found = design(circulation__pumps=rows, **WIDE)
    assert found.value("circulation.pump_name") == "Enough"
    assert [one["name"] for one in found.value("circulation.pumps_chosen")] == ["Enough"]
    words = found.value("circulation.owned_words")
    assert "not enough" in words and "48 %" in words.replace("%", " %").replace("  ", " ")
    alone = design(circulation__pumps=rows[:1] + [row("Smaller", top_flow="190 L/h")], **WIDE)
    assert alone.value("circulation.pump_name") == "Small" and "pump-too-small" in codes(alone)


def test_a_pump_near_its_shut_off_is_chosen_only_where_no_other_reaches_the_flow():
    # Weak works at 0.75 of 0.8 m, 94 % of its shut-off, and gives 3000 x root(1 - 0.9375) = 750 L/h; Strong 866.
    weak = row("Weak", shutoff_head="0.8 m", top_flow="3000 L/h", power="4 W")
    both = design(circulation__pumps=[weak, row("Strong")], **WIDE)
    assert both.value("circulation.pump_name") == "Strong" and "water-pump-strained" not in codes(both)
    alone = design(circulation__pumps=[weak], **WIDE)
    assert alone.value("circulation.pump_name") == "Weak" and "water-pump-strained" in codes(alone)
    small = row("Tiny", top_flow="100 L/h")
    assert design(circulation__pumps=[weak, small], **WIDE).value("circulation.pump_name") == "Weak"


def test_one_inch_more_lift_must_not_take_a_quarter_of_the_flow_unnoticed():
    # At 775 mm Weak gives 3000 x root(1 - 0.775/0.8) = 530 L/h, 71 % of 750; Strong 861 of 866.
    weak = row("Weak", shutoff_head="0.8 m", top_flow="3000 L/h")
    found = design(circulation__pumps=[weak], **WIDE)
    assert found.value("circulation.flow_higher") / L_H == pytest.approx(530.3, rel=0.01)
    text = next(one.text for one in found.cautions if one.code == "lift-touchy")
    assert found.shown("circulation.flow") in text and found.shown("circulation.flow_higher") in text
    assert "lift-touchy" not in codes(design(circulation__pumps=[row("Strong")], **WIDE))


# --- nothing pumped --------------------------------------------------------------------------------------------------

def test_no_turnover_is_an_answer_and_what_follows_uses_it():
    some, none = design(), design(circulation__turnover="0")
    assert not none.faults and not none.waiting and not none.limits
    for key in ("flow", "turnover", "power", "drain_flow"):
        assert none.value(f"circulation.{key}") == 0.0
    assert none.value("circulation.overflow_bore") is None and "second-drain" not in codes(none)
    assert none.value("water.drain_back_volume") == 0.0
    assert none.value("energy.power") == pytest.approx(some.value("energy.power") - some.value("circulation.power"),
                                                       abs=7)
    items = {line["item"] for line in none.value("parts.shopping")}
    assert not items & {"Water hose", "Valve for the water hose", "Overflow strainer"}
    assert not [one for one in none.value("board.notch_rows") if one["what"] in ("standpipe", "fill hose")]
    # What is blown into the reservoir no longer reaches the roots, so the bath itself needs no less.
    assert none.value("oxygen.transfer_bath") >= some.value("oxygen.transfer_bath")


def test_an_empty_list_of_water_pumps_pumps_nothing_and_says_so():
    found = solve(Plan.from_mapping({f"circulation.pumps.{number}.name": "" for number in range(1, 21)}))
    assert found.value("circulation.flow") == 0.0 and not found.faults and not found.waiting
    text = next(one.text for one in found.cautions if one.code == "no-water-pump")
    assert found.shown("circulation.target_flow") in text


# --- throttled -------------------------------------------------------------------------------------------------------

def test_a_throttled_flow_is_the_flow_of_all_that_follows():
    # Strong at 400 L/h gives 3 x (1 - 0.16) = 2.52 m; 0.75 m is lift and a wide hose asks next to nothing.
    pumps = [row("Strong")]
    found = design(circulation__pumps=pumps, circulation__throttled="400 L/h", **WIDE)
    assert found.value("circulation.flow") / L_H == pytest.approx(400)
    assert found.value("circulation.flow_open") / L_H == pytest.approx(866, rel=0.01)
    assert found.value("circulation.turnover") * 3600 == pytest.approx(400 / 180)
    assert found.value("circulation.head") == pytest.approx(2.52)
    assert found.value("circulation.valve_loss") == pytest.approx(1.77, abs=0.005)
    assert found.value("circulation.power") == 20
    assert found.value("circulation.drain_flow") / L_H == pytest.approx(800)
    text = next(one.text for one in found.cautions if one.code == "valve-open")
    assert "866 L/h" in text or "867 L/h" in text
    assert found.shown("circulation.overflow_flow") in text
    free = design(circulation__pumps=pumps, **WIDE)
    assert found.value("circulation.overflow_bore") < free.value("circulation.overflow_bore")
    assert "valve-open" not in codes(free)


def test_more_than_the_pump_gives_is_no_throttled_flow():
    found = design(circulation__pumps=[row("Strong")], circulation__throttled="900 L/h", **WIDE)
    assert "fully open" in found.faults["circulation.throttled"]


def test_the_listed_valve_is_in_the_head():
    # Crane: a full-bore ball valve takes 3 fT of a velocity head, by an independent library too.
    for size, bore in zip(fittings.BALL_VALVES, (0.01580, 0.02093, 0.02664, 0.04089, 0.05250), strict=True):
        library = fluids.fittings.K_ball_valve_Crane(D1=bore, D2=bore, angle=0)
        assert size.k == pytest.approx(library, abs=3 * 0.001)
    # 3/4 in hose: two elbows of 1.7, the valve of 3 x 0.02369, and the exit of 1, in velocity heads.
    found = design()
    speed = found.value("circulation.velocity")
    assert found.value("circulation.fitting_loss") == pytest.approx(4.47107 * speed**2 / (2 * 9.80665), rel=1e-6)
    valve = next(line for line in found.value("parts.shopping") if line["item"] == "Valve for the water hose")
    assert "full bore" in valve["size"]


def test_the_page_lists_the_overflows_and_draws_no_pump_where_none_runs():
    rows = design().value("circulation.overflow_choices")
    html = extra(design())
    assert "Overflows that take the flow of one bath" in html and all(one["pipe"] in html for one in rows)
    none = design(circulation__turnover="0")
    assert "Overflows that take" not in extra(none)
    assert "No water is pumped." in section.tank(none, True)
    assert "No water is pumped." not in section.tank(design(), True)


def test_lengths_of_a_us_plan_are_in_inches_and_their_fractions():
    # A length that somebody saws is shown in eighths of an inch, never as 13.07 in.
    found = design(units="us", circulation__turnover="8 /h")
    assert "one inch more" in found.answers["circulation.flow_higher"].note
    number, unit = found.shown("circulation.weir_length").rsplit(" ", 1)
    assert unit == "in" and "." not in number
    inches = sum(float(Fraction(part)) for part in number.split())
    assert inches == pytest.approx(found.value("circulation.weir_length") / 0.0254, abs=1 / 16)
    metric = design(units="metric")
    assert "25 mm more" in metric.answers["circulation.flow_higher"].note
