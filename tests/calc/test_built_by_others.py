"""What published rafts asked for: each answer worked by hand beside it, and each refusal in its words."""

import pytest

from calc import Plan, solve
from calc.history import as_today

INCH, GALLON = 0.0254, 231 * 0.0254**3


def design(units="us", **answers):
    return solve(Plan.from_mapping({"units": units, **{key.replace("__", "."): text for key, text in answers.items()}}))


def said(found, code):
    return next((one for one in found.cautions if one.code == code), None)


# --- whole sheets and the width of a saw cut ------------------------------------------------------------------------

SHEET_BATH = {"bath__length": "97 in", "bath__width": "49 in", "board__clearance": "0.5 in", "board__spacing": "12 in"}


def test_one_sheet_that_fits_untrimmed_is_bought_once():
    halves = design(**SHEET_BATH)
    # Two halves of 48 x 48 in and a cut of 1/8 in are 96 1/8 in of a 96 in sheet: the gap of 1/2 in takes the 1/8.
    assert halves.value("board.count") == 2 and halves.value("board.sheets") == 1
    assert halves.value("board.waste") == pytest.approx(0.0, abs=1e-9) and halves.value("board.waste") >= 0.0
    whole = design(**SHEET_BATH, board__split="whole")
    assert whole.value("board.count") == 1 and whole.value("board.sheets") == 1


def test_a_gap_narrower_than_the_cut_takes_nothing():
    # The same boards, with a gap that a cut of 3/4 in would more than fill.
    assert design(**SHEET_BATH, board__kerf="3/4 in").value("board.sheets") == 2


def test_whole_boards_follow_the_sheet_and_not_the_arms():
    long = design(bath__length="193 in", bath__width="49 in", board__clearance="0.5 in", board__split="whole")
    assert long.value("board.count") == 2 and long.value("board.length") == pytest.approx(96 * INCH)


# --- the flow that is wanted ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("length, per_hour", [("100 cm", 1.0), ("8 m", 200 / 1200), ("2 m", 200 / 300)])
def test_turnover_follows_the_size_of_the_bath(length, per_hour):
    # 200 L/h into each bath, but at most once an hour and at least once in four: baths of 150, 1,200 and 300 L.
    found = design("metric", bath__length=length, bath__width="60 cm", bath__water_depth="25 cm")
    assert found.value("circulation.turnover_wanted") * 3600 == pytest.approx(max(per_hour, 0.25))


def test_a_flow_may_be_asked_for_as_a_flow_or_over_the_surface():
    flow = design(circulation__wanted_flow="100 gph")
    assert flow.value("circulation.target_flow") == pytest.approx(100 * GALLON / 3600)
    # 1.2 x 0.6 m at 24 m3/m2 a day: 0.72 x 24 / 24 = 0.72 m3 an hour.
    loading = design("metric", circulation__loading="24 m3/m2/d")
    assert loading.value("circulation.target_flow") * 3600 == pytest.approx(0.72)
    assert loading.value("circulation.turnover_wanted") * 3600 == pytest.approx(0.72 / 0.18)


def test_two_ways_of_asking_for_a_flow_contradict():
    both = design(circulation__wanted_flow="100 gph", circulation__turnover="1 /h")
    assert "turnover wanted is put in as well" in both.faults["circulation.wanted_flow"]


def test_plans_of_version_1_keep_their_turnover_and_their_inverter():
    kept = as_today({}, 1)
    assert kept["circulation.turnover"] == "1 /h" and kept["outage.inverter_idle"] == "0 W"


def test_the_overflow_is_told_for_the_closed_valve_too():
    found = design()
    assert found.value("circulation.flow") > found.value("circulation.target_flow")
    assert found.shown("circulation.target_flow") in found.value("circulation.overflow_closed")
    # Nothing smaller is named where the pump gives no more than is wanted.
    assert design(circulation__wanted_flow="2000 gph").value("circulation.overflow_closed") is None


# --- a volume and its opening ---------------------------------------------------------------------------------------

POURED = {"bath__shape": "known volume", "bath__known_volume": "109 L", "bath__known_depth": "7.6 cm",
          "bath__water_depth": "7.6 cm", "bath__depth": "8.9 cm"}


def test_a_volume_is_held_against_its_opening():
    # 0.109 / 0.076 = 1.43 m2, and 1.2 x 0.6 m is 0.72.
    clash = design("metric", **POURED)
    assert "1.43 m²" in said(clash, "opening-clash").text and "0.72 m²" in said(clash, "opening-clash").text
    assert clash.verdict("water").state == "tight" and said(clash, "opening-clash").lead == "Opening too small"
    assert said(design("metric", **POURED, bath__length="143 cm", bath__width="1 m"), "opening-clash") is None
    wide = design("metric", **POURED, bath__length="3 m", bath__width="1 m")
    assert said(wide, "opening-clash").lead == "Opening too large"
    assert said(design("metric", bath__shape="known volume"), "opening-clash") is None


# --- powders --------------------------------------------------------------------------------------------------------

RICH = {"name": "20-20-20", "n": "20 %", "nh4": "14 %", "p": "20 %", "k": "20 %"}


def test_a_powder_of_ammonium_is_refused_with_the_reason():
    fault = design(feed__way="powders", feed__powders=[RICH]).faults["feed.powders"]
    assert fault.startswith("20-20-20: 70 % of its nitrogen is ammonium or urea") and "15 %" in fault
    allowed = design(feed__way="powders", feed__powders=[RICH], feed__ammonium_ceiling="75 %")
    assert not allowed.faults and allowed.value("feed.masses")[0]["mass"] > 0.0
    # Beside a powder of nitrate a little of it may go in, and nothing is refused.
    mixed = design(feed__way="powders", feed__powders=[RICH, {"name": "Calcium nitrate", "n": "15.5 %", "ca": "19 %"}])
    assert not mixed.faults


# --- the list -------------------------------------------------------------------------------------------------------


def test_own_lines_are_bought_and_a_price_without_a_line_is_told():
    lines = [{"name": "Liner", "count": "2", "price": "18"}, {"name": "Screws", "count": "1"}]
    found = design(parts__own_lines=lines, parts__copies="2")
    rows = {row["item"]: row for row in found.value("parts.shopping")}
    assert rows["Liner"]["quantity"] == 4 and rows["Liner"]["total"] == pytest.approx(72.0)
    assert rows["Screws"]["each"] is None
    idle = said(design(parts__prices=[{"name": "Lumber", "price": "30"}, {"name": "Net pot", "price": "1"}]),
                "price-unused")
    assert "“Lumber” is not on this plan's list" in idle.text and "Net pot" not in idle.text
    assert said(design(), "price-unused") is None


def test_a_plug_fills_its_hole_and_takes_the_place_of_the_pot():
    found = design(board__holder="plugs", board__pot="1 in")
    assert found.value("board.hole_diameter") == pytest.approx(INCH)
    items = [row["item"] for row in found.value("parts.shopping")]
    assert "Plug for the board" in items and "Net pot" not in items
    grip = design(board__holder="plugs", board__pot="1.18 in")
    assert grip.value("board.hole_diameter") == pytest.approx(1.125 * INCH)
    odd = design(board__holder="plugs", board__pot="0.4 in")
    assert odd.value("board.hole_diameter") == pytest.approx(0.4 * INCH) and "none in stock" in odd.value("board.saw")
    assert "let the plug fall through" in design(board__holder="plugs", board__pot="1 in", board__hole="1.1 in"
                                                 ).faults["board.hole"]
    assert design(board__holder="plugs", board__pot="1 in", board__hole="0.9 in").value(
        "board.hole_diameter") == pytest.approx(0.9 * INCH)


# --- what a head weighs and comes to --------------------------------------------------------------------------------


def test_heads_follow_the_size_asked_for_and_the_board_of_a_still_bath():
    sizes = [design(crops__heads=size).value("crops.fresh_mass") for size in ("small", "middle", "large")]
    small, middle, large = sizes
    assert small < middle < large and middle == pytest.approx((small + large) / 2)
    still = {"water__scheme": "still", "crops__heads": "large"}
    sits = {way: design(**still, crops__board_sits=way).value("crops.fresh_mass")
            for way in ("fixed", "rests", "floats")}
    # A trial in Hawaii: 220 g under a board that stays up, 7 % less where it came to rest, 19 % less afloat.
    assert sits["fixed"] == pytest.approx(large) == pytest.approx(0.220)
    assert sits["rests"] == pytest.approx(0.93 * large) and sits["floats"] == pytest.approx(0.81 * large)


def test_a_week_a_year_and_a_head():
    found = design(parts__copies="2", parts__years="4", parts__supplies="0.20", parts__price="3")
    heads = 2 * found.value("schedule.heads_per_week") * 365 / 7
    assert found.value("parts.heads_per_year") == pytest.approx(heads)
    assert found.value("parts.mass_per_week") == pytest.approx(heads * 7 / 365 * found.value("crops.fresh_mass"))
    year = found.value("energy.all_per_year") or found.value("energy.per_year")
    assert found.value("parts.energy_per_head") == pytest.approx(2 * year / heads)
    bill = found.value("energy.all_cost_per_year") or found.value("energy.cost_per_year")
    each = (found.value("parts.cost") / 4 + 2 * bill) / heads + 0.20
    assert found.value("parts.cost_per_head") == pytest.approx(each)
    assert found.value("parts.gain_per_year") == pytest.approx((3 - each) * heads)
    assert said(found, "head-costs-more") is None
    assert said(design(parts__price="0.01"), "head-costs-more").level == "note"


# --- the battery that is there --------------------------------------------------------------------------------------


def test_hours_of_a_battery_on_a_dc_pump():
    # 7 Ah, half of it used, a quarter more for age: 2.8 Ah at 12 V are 33.6 Wh, 8.4 h for 4 W.
    found = design(outage__own_charge="7 Ah", outage__pump_watts="4 W")
    assert found.value("outage.own_hours") / 3600 == pytest.approx(7 * 0.5 / 1.25 * 12 / 4)
    assert said(found, "outage-own-battery") is None
    short = design(outage__own_charge="5 Ah", outage__pump_watts="4 W")
    assert "6 h" in said(short, "outage-own-battery").text


def test_an_inverter_draws_for_itself_and_cuts_out():
    # 10 W through 85 % and 5 W idle draw 16.76 W; of 100 Ah at 12 V 40 % may go before the cut-out, less a quarter.
    found = design(outage__own_charge="100 Ah", outage__backup="inverter", outage__pump_watts="10 W",
                   outage__cutout="60 %")
    drawn = 10 / 0.85 + 5
    assert found.value("outage.own_share") == pytest.approx(0.4)
    assert found.value("outage.own_hours") / 3600 == pytest.approx(100 * 12 * 0.4 / 1.25 / drawn)
    assert found.value("outage.battery_energy") == pytest.approx(drawn * 8 / 1000)
    assert found.value("outage.battery") == pytest.approx(drawn * 8 / 12 / 0.4 * 1.25)
