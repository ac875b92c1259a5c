"""Sums inside topics, each beside arithmetic that a reader can follow, and texts that hold on one side only."""

import json
from math import ceil

import pytest

from calc.plan import Plan
from calc.solve import solve

LITRE, DAY = 1e-3, 86400
# Steam tables: heat of evaporation at 20 C in MJ/kg; vapor pressure at 20 C in Pa.
LATENT_20_C, VAPOR_20_C = 2.4535, 2339.0


def design(rows=None, **answers):
    return solve(Plan.from_mapping({"units": "metric", **{key.replace("__", "."): text
                                                          for key, text in answers.items()}, **(rows or {})}))


def codes(found):
    return {one.code for one in found.cautions}


def caution(found, code):
    return next(one for one in found.cautions if one.code == code)


# --- place and heat ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("setting, high, low, floor, sun, air", [
    ("heated room", 22, 18, 18, 0, 0.05), ("cool basement", 17, 15, 14, 0, 0.05),
    ("summer greenhouse", 35, 19, 22, 500, 0.5), ("spring polytunnel", 24, 6, 11, 500, 0.5),
    ("open yard", 31, 17, 20, 800, 0.5)])
def test_a_setting_fills_in_its_day(setting, high, low, floor, sun, air):
    found = design(place__setting=setting, place__sun="as the setting", place__moving_air="as the setting")
    assert [found.value(f"place.{key}") for key in ("day_high", "day_low", "floor", "sun_peak", "air_speed")] == [
        high, low, floor, sun, air]
    assert found.value("place.day_high_hour") == 15 and found.value("place.day_low_hour") == 5


def test_vapor_is_that_of_the_mean_temperature():
    found = design(place__setting="own", place__air_high="22 C", place__air_low="18 C", place__humidity="40 %",
                   place__floor_temperature="18 C")
    assert found.value("place.vapour") == pytest.approx(0.4 * VAPOR_20_C, rel=3e-3)


def test_high_and_low_may_not_cross_nor_their_hours_meet():
    warm = design(place__setting="own", place__air_high="18 C", place__air_low="19 C", place__floor_temperature="18 C")
    assert "above the high" in warm.faults["place.air_low"] and "18 °C or less" in warm.faults["place.air_low"]
    even = design(place__setting="own", place__air_high="18 C", place__air_low="18 C", place__floor_temperature="18 C")
    assert even.faults == {}
    hours = design(place__high_hour="15:00", place__low_hour="15:00")
    assert "place.low_hour" in hours.faults


def hot(**more):
    return design(**{"place__setting": "summer greenhouse", "water__temperature": "24 C", "heat__crop": "lettuce",
                     "heat__performance": "2.5", "heat__bottle": "2 L", "heat__freezer": "-18 C", **more})


def test_cooling_in_watts_kilowatt_hours_and_bottles():
    found = hot()
    least = found.value("heat.cool_least")
    assert least > 0 and found.value("heat.band_high") == 25
    assert found.value("heat.cooler_energy") == pytest.approx(least * 0.024 / 2.5)
    assert found.value("heat.cooler_draw") == pytest.approx(found.value("heat.cool_peak") / 2.5)
    # 2 kg from -18 C: ice at 2.09 kJ/kg K, 333.6 kJ/kg to melt, water at 4.19 up to 25 C: 951.7 kJ a bottle.
    each = 2 * (18 * 2.09 + 333.6 + 25 * 4.19)
    assert found.value("heat.bottles") == pytest.approx(least * DAY / 1000 / each, abs=1.02)
    assert found.value("heat.bottles") == ceil(found.value("heat.bottles"))
    assert {"heat-bottles", "heat-appliance", "heat-too-warm"} <= codes(found)
    assert found.value("heat.warm_least") == 0 and found.value("heat.heater_energy") == 0


def test_heat_of_a_day_comes_and_goes_alike_and_evaporation_weighs_its_heat():
    rows = {row["way"]: row["energy"] for row in hot().value("heat.streams")}
    assert sum(rows.values()) == pytest.approx(0, abs=0.01 * max(map(abs, rows.values())))
    assert hot().value("heat.evaporated") > 0


def test_a_band_typed_the_wrong_way_round_is_told():
    assert "below 25 °C" in hot(heat__keep_low="26 C").faults["heat.keep_low"]
    assert "above 15 °C" in hot(heat__keep_high="14 C").faults["heat.keep_high"]
    assert hot(heat__keep_low="20 C", heat__keep_high="20.5 C").faults == {}


# --- board ---------------------------------------------------------------------------------------------------------


def test_a_raft_of_twice_the_longest_board_is_two_boards_and_not_three():
    found = design(bath__length="240 cm", bath__width="60 cm", board__clearance="0", board__max_length="120 cm",
                   board__max_mass="400 kg", board__sheet_length="250 cm", board__sheet_width="120 cm")
    assert found.value("board.count") == 2
    assert design(bath__length="240 cm", bath__width="60 cm", board__clearance="0", board__max_length="119 cm",
                  board__max_mass="400 kg", board__sheet_length="250 cm",
                  board__sheet_width="120 cm").value("board.count") == 3


def test_two_sites_wanted_go_to_both_ends():
    # 100 by 13 cm: centers keep 40 + 23 = 63 mm from the ends, so 874 mm lie between them.
    found = design(bath__length="100 cm", bath__width="13 cm", board__clearance="0", board__hole="46 mm",
                   board__pot="50 mm", board__margin="40 mm", board__wanted="2", board__split="number",
                   board__boards_along="1", board__boards_across="1", board__notches="none",
                   circulation__overflow_place="wall")
    assert found.value("board.sites") == 2 and found.value("board.spacing_used") == pytest.approx(0.874)


def test_more_sites_than_fit_are_told():
    wide = dict(bath__length="100 cm", bath__width="100 cm", board__clearance="0", board__hole="46 mm",
                board__spacing="200 mm", board__pattern="square", board__notches="none",
                circulation__overflow_place="wall", board__split="number", board__boards_along="1",
                board__boards_across="1")
    # Centers within 874 mm: 5 by 5.
    assert "wanted-too-many" not in codes(design(board__wanted="25", **wide))
    assert "there is room for 25" in caution(design(board__wanted="26", **wide), "wanted-too-many").text


def test_a_web_of_an_inch_is_enough():
    assert "thin-web" not in codes(design(board__spacing="76 mm", board__hole="50 mm", board__pot="55 mm"))
    assert "thin-web" in codes(design(board__spacing="75 mm", board__hole="50 mm", board__pot="55 mm"))


# --- air, circulation ----------------------------------------------------------------------------------------------


def test_stones_shared_evenly_are_not_rounded_up_twice():
    # 60 L in the bath and 60 L in the reservoir, two pumps with a stone each: one stone to each water.
    pump = {"name": "Own", "free_flow": "4 L/min", "shutoff": "20 kPa", "power": "3 W", "price": "9", "owned": "2"}
    found = design({"air.pumps": [pump]}, bath__length="60 cm", bath__width="40 cm", bath__depth="30 cm",
                   bath__water_depth="25 cm", reservoir__shape="known volume", reservoir__known_volume="60 L",
                   air__stone_flow="5 L/min", air__aerated="bath and reservoir", air__stone_area="0.4 m2",
                   oxygen__plants="4", oxygen__hottest="22 C")
    assert [found.value(f"air.{key}") for key in ("stones_per_bath", "stones_reservoir", "stones", "check_valves",
                                                  "manifolds", "pump_count")] == [1, 1, 2, 2, 2, 2]
    assert found.value("air.power") == 6 and found.value("air.price") == 0
    assert found.value("air.delivered_one_dead") == pytest.approx(found.value("air.delivered") / 2)


def test_an_overflow_with_no_rise_is_a_fault_of_its_own():
    assert "more than 0" in design(bath__film="0", circulation__rise="").faults["bath.film"]
    assert design(bath__film="5 mm", circulation__rise="").faults == {}


def test_a_drain_no_longer_than_its_fall_is_plumb():
    assert design(circulation__drain_fall="50 cm", circulation__drain_length="50 cm").faults == {}
    assert "0.5 m or more" in design(circulation__drain_fall="50 cm",
                                     circulation__drain_length="49 cm").faults["circulation.drain_length"]


# --- light, use ----------------------------------------------------------------------------------------------------


def test_lamps_that_are_off_are_not_told_to_burn_shorter():
    sunny = dict(light__by="ppfd", light__ppfd_reading="200", light__sun="dli", light__outdoor="50",
                 light__cover="60 %", light__target="32")
    assert "a day reach the aim" not in caution(design(light__hours="0 h", **sunny), "light-high").text
    assert "a day reach the aim" in caution(design(light__hours="4 h", **sunny), "light-high").text


def test_light_low_and_high_on_both_sides():
    # 14 wanted: under 12.6 is low; of 17 at most, over 18.7 is high. One hour of 200 is 0.72 mol.
    for reading, hours, low, high in (("200", 17.4, True, False), ("200", 17.6, False, False),
                                      ("300", 17.2, False, False), ("300", 17.4, False, True)):
        found = design(light__by="ppfd", light__ppfd_reading=reading, light__hours=f"{hours} h", light__target="14",
                       light__sun="none")
        assert ("light-low" in codes(found), "light-high" in codes(found)) == (low, high), hours


def test_water_by_light_and_the_most_that_its_heat_could_do():
    # 2 lamps of 65 W for 16 h: 2.08 kWh or 7.488 MJ a day; 143 umol/s each, 70 % of it: 11.53 mol or 2.453 MJ.
    found = design(light__by="lamp", light__lamp_power="65 W", light__lamp_efficacy="2.2", light__have="2",
                   light__hours="16 h", light__share="70 %", light__area="1 m2", light__sun="none",
                   place__air_temperature="20 C", oxygen__plants="4", use__cover="50 %")
    shone = 2 * 143 * 0.7 * 16 * 3600e-6 / 4.7
    assert found.value("use.heat_ceiling") / LITRE == pytest.approx(7.488 / LATENT_20_C, rel=3e-3)
    assert found.value("use.by_light") / LITRE == pytest.approx(shone * 0.5 / LATENT_20_C, rel=3e-3)
    assert design(light__by="lamp", light__area="1 m2", oxygen__plants="0").value("use.by_light") == 0


def watered(**more):
    return design(**{"bath__length": "100 cm", "bath__width": "60 cm", "bath__depth": "30 cm",
                     "bath__water_depth": "20 cm", "reservoir__shape": "known volume",
                     "reservoir__known_volume": "80 L", "reservoir__brim_volume": "120 L", "oxygen__plants": "20",
                     "use__basis": "own", "use__litres_per_plant": "200 mL", "use__least": "30 %",
                     "use__holiday": "14 d", "use__target_ec": "1.6 mS/cm", "use__source_ec": "0.4 mS/cm",
                     "use__uptake": "1.4 mS/cm", "use__topup_strength": "100 %", **more})


def test_reservoir_for_the_time_away():
    # 4 L a day. Of 80 L 56 may be used: 14 days. For 14 days 56 L / 0.7 = 80 L: just enough; for 21 days 120 L.
    found = watered()
    assert found.value("use.usable") == pytest.approx(56 * LITRE)
    assert found.value("use.days_to_top_up") == pytest.approx(14 * DAY)
    assert found.value("use.holiday_reservoir") == pytest.approx(80 * LITRE)
    assert found.value("use.holiday_short") == pytest.approx(0, abs=1e-9)
    longer = watered(use__holiday="21 d")
    assert longer.value("use.holiday_reservoir") == pytest.approx(120 * LITRE)
    assert longer.value("use.holiday_short") == pytest.approx(40 * LITRE)
    assert "use-away" in codes(longer) and "use-away" not in codes(watered(use__holiday="13 d"))
    # With what runs back, 120 L is more than the brim; 21 L less leave room for 7.2 L of film and the hose.
    assert "use-no-room" in codes(longer) and "use-no-room" not in codes(watered(use__holiday="15 d"))


def test_what_the_meter_shows_between_two_top_ups():
    # 200 L, 4 L a day: twice 14 days in four weeks, 56 L each. Before: nutrients (1.2*200 - 56*1.4)/144 and what the
    # source left, 0.4*200/144; then 56 L of feed (1.2 + 0.4) fill up.
    row = watered().value("use.drift")[1]
    left = (1.2 * 200 - 56 * 1.4) / 144
    assert row["day"] == 14
    assert row["feed_before"] == pytest.approx(left + 0.4 * 200 / 144)
    assert row["plain_before"] == pytest.approx(left + 0.4 * 200 / 144)
    assert row["plain"] == pytest.approx((left * 144 + 0.4 * 200 + 0.4 * 56) / 200)
    assert row["feed"] == pytest.approx((left * 144 + 0.4 * 200 + 1.6 * 56) / 200)
    assert row["plain_nutrients"] == pytest.approx(left * 144 / 200)


def test_plants_never_give_nutrients_back():
    # Taking 0.3, less 0.4 either way, is taking none: each fill of 56 L then adds its 1.2.
    grams, salt = 1.2 * 200, 0.4 * 200
    for _ in range(2):
        grams, salt = grams + 1.2 * 56, salt + 0.4 * 56
    assert watered(use__uptake="0.3 mS/cm").value("use.ec_feed_high") == pytest.approx((grams + salt) / 200)


def test_rising_and_falling_meters_are_told():
    # After two fills: (240 + 2*56*(1.2 - 1.4) + 80 + 2*56*0.4)/200 = 1.71 of 1.6; taking nothing it is 2.5.
    assert not codes(watered()) & {"use-rising", "use-falling"}
    assert "use-rising" in codes(watered(use__uptake="0 mS/cm"))
    assert "use-falling" in codes(watered(use__topup_strength="0 %"))


# --- pH and feed ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("base", ["carbonate", "hydroxide"])
def test_the_last_dose_of_a_base_reaches_what_was_wanted(base):
    found = design(acidity__alkalinity="5 mg/L", acidity__start_ph="6.0", acidity__target_ph="6.6", acidity__base=base)
    assert found.value("acidity.doses")[-1]["ph"] == pytest.approx(6.6, abs=1e-6)
    assert found.value("acidity.given") == (2 if base == "carbonate" else 1)


def test_the_curve_of_an_acid_ends_at_ph_4_and_that_of_a_base_at_9():
    down = design(acidity__alkalinity="60 mg/L", acidity__start_ph="7.5", acidity__target_ph="5.8")
    rows = down.value("acidity.titration")
    # Tenths of a pH from 7.5 down.
    assert [rows[0]["ph"], rows[-1]["ph"], len(rows)] == pytest.approx([7.5, 4.0, 36])
    assert rows[0]["volume"] == 0 and rows[-1]["volume"] > rows[-2]["volume"] > 0
    assert down.value("acidity.titration_in_air")[-1]["ph"] == pytest.approx(4.0)
    up = design(acidity__alkalinity="5 mg/L", acidity__start_ph="6.0", acidity__target_ph="6.6")
    assert up.value("acidity.titration")[-1]["ph"] == pytest.approx(9.0)


def test_a_prediction_of_conductivity_is_good_to_a_tenth():
    found = design()
    ec = found.value("feed.ec")
    assert found.value("feed.ec_low") == pytest.approx(0.9 * ec)
    assert found.value("feed.ec_high") == pytest.approx(1.1 * ec)


def test_words_for_the_water_change_where_the_table_does():
    for alkalinity, word in ((59, "soft"), (61, "moderately hard"), (121, "hard"), (181, "very hard")):
        said = design(acidity__alkalinity=f"{alkalinity} mg/L").value("acidity.water_kind")
        assert said.startswith(f"like {word} water"), said
    assert "its pH jumps" in design(acidity__alkalinity="59 mg/L").value("acidity.water_kind")
    assert "climbs back" in design(acidity__alkalinity="60 mg/L").value("acidity.water_kind")


# --- crops and calendar --------------------------------------------------------------------------------------------


def grown(*names, **more):
    return design({"crops.rows": [{"crop": name} for name in names]}, **more)


def test_crops_that_only_just_meet_and_crops_that_do_not():
    # EC of lettuce 1.2 to 1.8, of spinach 1.8 to 2.3; of tomato 2.0 to 4.0: 0.2 more than lettuce takes.
    just = grown("leaf lettuce", "spinach")
    assert caution(just, "crops-ec").level == "note" and "just meet" in caution(just, "crops-ec").text
    assert just.value("crops.ec_low") == just.value("crops.ec_high") == 1.8
    apart = grown("leaf lettuce", "tomato")
    assert caution(apart, "crops-ec").level == "warning" and apart.value("crops.ec_low") is None
    row = next(row for row in apart.value("crops.conflicts") if row["what"] == "EC")
    assert (row["less"], row["more"], round(row["gap"], 9)) == ("leaf lettuce", "tomato", 0.2)
    assert "crops-ec" not in codes(grown("leaf lettuce", "basil"))


def test_one_board_for_crops_of_unlike_size():
    # Lettuce 20 cm; spinach 15 is under four fifths of it, pak choi is as wide.
    assert "crops-spacing" in codes(grown("leaf lettuce", "spinach"))
    assert "crops-spacing" not in codes(grown("leaf lettuce", "pak choi"))
    assert grown("leaf lettuce", "chard").value("crops.spacing") == pytest.approx(0.30)


def test_crops_that_are_warned_of():
    assert caution(grown("watercress"), "crops-watercress").level == "danger"
    assert "crops-mint" in codes(grown("mint", "basil")) and "crops-mint" not in codes(grown("mint"))
    assert caution(grown("spinach"), "crops-fit-spinach").level == "note"


def test_shares_of_crops():
    both = design({"crops.rows": [{"crop": "leaf lettuce", "share": "60 %"}, {"crop": "basil", "share": "50 %"}]})
    assert "110 %" in both.faults["crops.rows"]
    left = design({"crops.rows": [{"crop": "leaf lettuce", "share": "60 %"}, {"crop": "basil"}]})
    assert [row["share"] for row in left.value("crops.table")] == pytest.approx([0.6, 0.4])
    none = design({"crops.rows": [{"crop": "leaf lettuce", "share": "100 %"}, {"crop": "basil"}]})
    assert "no share is left for Sweet basil" in none.faults["crops.rows"]
    mixed = design({"crops.rows": [{"crop": "leaf lettuce", "sites": "6"}, {"crop": "basil"}]})
    assert "give every crop a number of sites" in mixed.faults["crops.rows"]


def test_close_spacing_lies_between_pot_and_full_spacing():
    def told(text):
        return design(schedule__stages="two", schedule__close_spacing=text, board__spacing="200 mm",
                      board__pot="50 mm").faults.get("schedule.close_spacing", "")
    assert "50 mm" in told("300 mm") and "200 mm" in told("300 mm")
    assert told("200 mm") and told("50 mm") and not told("100 mm")


# --- shopping ------------------------------------------------------------------------------------------------------


def test_the_list_names_the_hose_and_what_is_measured():
    found = design(air__hose_length="2 m")
    lines = {row["item"]: row for row in found.value("parts.shopping")}
    assert lines["Air hose"]["size"].startswith(f"{2 * found.value('air.stones'):.3g} m in all, ")
    assert lines["Clip or weight for the stone hose"]["quantity"] == found.value("air.stones")
    assert lines["Check valve for air"]["quantity"] == found.value("air.check_valves")
    assert json.dumps(lines["Meters for pH and EC"]["quantity"]) == "1"


def test_today_gives_an_order_of_work():
    found = solve(Plan({"units": "metric", "today.volume": "640 L", "today.ph": "6.9", "today.ph_target": "5.8"}))
    rows = found.value("today.order")
    assert [row["step"] for row in rows] == list(range(1, len(rows) + 1)) and len(rows) > 1
    assert rows[0]["words"].startswith("Top up")
