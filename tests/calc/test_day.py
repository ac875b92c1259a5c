"""The list of a day: what it asks for, in which order, with which amounts; and the commands and requests that ask."""

from __future__ import annotations

import json
import subprocess
import sys
from datetime import date, datetime, timedelta
from html import unescape
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import Plan, api
from calc.command_line import main
from calc.keeping import routine, today
from calc.keeping.bath import Bath
from calc.keeping.chemistry import mixed_ec, round_down
from calc.keeping.entries import from_json, many

ROOT = Path(__file__).resolve().parents[2]
SALTS = {"feed.way": "salts"}
NOW = datetime(2026, 11, 25, 7, 20)
_BATHS: dict[str, Bath] = {}


def bath(plan):
    key = json.dumps(plan, sort_keys=True)
    if key not in _BATHS:
        _BATHS[key] = Bath(Plan.from_mapping(plan))
    return _BATHS[key]


def day(plan, typed=None, log=(), now=NOW, **more):
    reading = from_json({"at": "2026-11-25T07:12", "typed": typed}) if typed else None
    entries, aside = many(list(log))
    assert not aside
    return today.today(bath(plan), entries, now, reading, **more)


def act(found, code):
    return next((one for one in found.acts if one.code == code), None)


def codes(found):
    return [one.code for one in found.acts]


ALL = {"ph": "6.7", "temperature": "79", "ec": "1.31", "level": "8.2", "oxygen": "5.4"}


def test_a_day_with_everything_wrong_in_the_order_of_its_chemistry():
    found = day(SALTS, ALL)
    assert codes(found) == ["air", "cool", "top-up", "acid", "strainer", "look"]
    assert found.state == "tight" and found.lead == "pH high, water warm, reservoir low, oxygen low."
    assert found.text == "Six things, about 52 minutes. The first four go in this order."


def test_the_top_up_is_what_the_level_lacks():
    # The reservoir of 16 gal stands 10 in deep: 1.8 in are 2.88 gal.
    found = act(day(SALTS, ALL), "top-up")
    assert found.amount == "2.88 gal" and found.reason.startswith("The reservoir stands 1.8 in under its mark.")
    assert found.log["typed"]["added"] == "2.88 gal"


def test_nutrients_in_the_top_up_are_for_the_ec_that_plain_water_would_leave():
    # 65.87 gal of working water less 2.88: 1.31 mS/cm mixed with tap water of the plan.
    place = bath(SALTS)
    plain = place.number("feed.water_conductivity")
    mixed = plain + (1.31 - plain) * (65.87 - 2.88) / 65.87
    assert mixed_ec(1.31, plain, 65.87 - 2.88, 2.88) == pytest.approx(mixed)
    aimed = place.with_readings({"today.ec": f"{mixed:.6g} mS/cm", "today.temperature": "79 F"})
    words = aimed.shown("today.bottle_a")
    poured = act(day(SALTS, ALL), "top-up").reason
    assert f"Add tap water first, then {words} of concentrate A, stirred in, then {words} of concentrate B" in poured


def test_acid_is_poured_in_parts_no_larger_than_the_first_pour_two_hours_apart():
    found = act(day(SALTS, {"ph": "6.7", "temperature": "68", "ec": "1.45"}), "acid")
    first = bath(SALTS).with_readings({"today.ph": "6.7", "today.temperature": "68", "today.ec": "1.45"}).result(
        "today.first_pour")
    assert all(one.amount <= first for one in found.pours) and len(found.pours) == 4
    assert [b.at - a.at for a, b in zip(found.pours, found.pours[1:], strict=False)] == [timedelta(hours=2)] * 3
    assert found.pours[0].at > NOW and found.pours[-1].condition == "only above 6"
    assert found.caution.lead == "Goggles and gloves."


@pytest.mark.parametrize("hour, clocks", [(19, ["8 pm"]), (17, ["6 pm", "8 pm"]), (22, ["7 am", "9 am", "11 am",
                                                                                       "1 pm"]), (3, ["7 am"])])
def test_nobody_is_asked_to_pour_at_night(hour, clocks):
    now = datetime(2026, 11, 25, hour, 20)
    reading = from_json({"at": f"2026-11-25T{hour:02d}:12", "typed": {"ph": "6.7", "ec": "1.45"}})
    found = act(today.today(bath(SALTS), [], now, reading), "acid")
    assert [one.clock for one in found.pours][:len(clocks)] == clocks
    assert all(7 <= one.at.hour < 22 for one in found.pours)
    # A pour alone is no night's work either: what is left waits for a new reading.
    assert len(found.pours) == len(clocks) or len(clocks) == 1


def test_bottles_whose_buffers_nobody_knows_get_a_jug_test_and_then_pours():
    assert act(day({}, {"ph": "6.7", "ec": "1.45"}), "jug").reason.startswith("pH 6.7 where you aim for 5.8.")
    found = day({}, {"ph": "6.7", "ec": "1.45"}, extra={"today.jug_volume": "1 L", "today.jug_acid": "4 drops"})
    # 0.2 mL a liter, in 249.3 L, in pours rounded down.
    poured = sum(one.amount for one in act(found, "acid").pours)
    assert 0.95 * 0.2e-6 * 249.3456 < poured <= 0.2e-6 * 249.3456


@pytest.mark.parametrize("ph, wanted, other", [("4.2", "add the pH-up", "add the acid"),
                                               ("7.1", "add the acid", "add the pH-up")])
def test_a_jug_is_tried_with_what_moves_the_ph_the_right_way(ph, wanted, other):
    found = act(day({}, {"ph": ph, "ec": "1.45"}), "jug")
    assert wanted in found.reason and other not in found.reason
    assert ("Acid into water" in found.caution.text) is (wanted == "add the acid")


@pytest.mark.parametrize("ph, code", [("8.3", "acid"), ("8.4", "jug"), ("9.2", "jug")])
def test_a_ph_so_high_that_no_sum_is_sure_gets_a_jug_test(ph, code):
    found = day(SALTS, {"ph": ph, "ec": "1.45"})
    assert act(found, code) and len({"acid", "jug"} & set(codes(found))) == 1
    if code == "jug":
        assert "algae" in act(found, "jug").reason
        by_jug = day(SALTS, {"ph": ph, "ec": "1.45"}, extra={"today.jug_volume": "1 L", "today.jug_acid": "12"})
        # 0.6 mL a liter in 249.3 L; what is poured of it today is no more.
        assert 0 < sum(one.amount for one in act(by_jug, "acid").pours) <= 0.6e-6 * 249.3456


@pytest.mark.parametrize("half", [{"today.jug_volume": "1 L"}, {"today.jug_acid": "12"}])
def test_half_a_jug_test_leaves_the_line_that_asks_for_it(half):
    assert act(day({}, {"ph": "6.9"}, extra=half), "jug").title == "Try the pH in a jug first"


def test_a_jug_test_without_a_ph_does_not_say_which_bottle_it_was():
    found = day({}, {"ec": "1.45"}, extra={"today.jug_volume": "1 L", "today.jug_acid": "12"})
    assert not {"acid", "base"} & set(codes(found)) and act(found, "jug").title == "Type the pH of the bath"


def test_a_jug_test_is_told_in_whole_sentences():
    found = day({}, {"ph": "6.9"}, extra={"today.jug_volume": "1 L", "today.jug_acid": "12"})
    assert ". The acid of your jug test takes it down to 5.8;" in act(found, "acid").reason


@pytest.mark.parametrize("plan", [{}, SALTS])
def test_two_concentrates_in_a_top_up_have_their_caution_with_an_ec_and_without(plan):
    for typed in ({"level": "5"}, {"level": "5", "ec": "0.9"}):
        assert act(day(plan, typed), "top-up").caution.lead == "A and B never meet undiluted:"


def test_of_salts_that_are_weighed_calcium_goes_in_last():
    found = act(day({"feed.way": "powders"}, {"ec": "0.8"}), "nutrients")
    assert found.reason.index("Epsom salt") < found.reason.index("stirred in, then") < found.reason.index("Calcium")
    assert found.caution.lead == "Each dissolved in a bucket of its own:"


def test_what_is_exchanged_says_where_it_is_taken_and_where_it_goes():
    found = act(day(SALTS, {"ec": "2.6"}), "thin")
    assert "The reservoir alone holds 16 gal" in found.reason and "never into a stream" in found.caution.text
    assert "reservoir alone" not in act(day({**SALTS, "water.scheme": "aerated"}, {"ec": "2.6"}), "thin").reason


@pytest.mark.parametrize("kind, where, while_", [("circulating", "with the pump running", "when the pump runs"),
                                                 ("aerated", "over the bubbles", "when the air runs"),
                                                 ("still", "stirred in", "then stir")])
def test_a_dose_is_poured_where_the_water_of_this_kind_of_bath_moves(kind, where, while_):
    found = act(day({**SALTS, "water.scheme": kind}, {"ph": "6.9", "ec": "1.45"}), "acid")
    assert where in found.caution.text and found.pours[0].condition == while_
    assert ("inlet" in found.reason + found.caution.text) is (kind == "circulating")


@pytest.mark.parametrize("kind, lead", [("circulating", "Reservoir low."), ("aerated", "Water level low.")])
def test_one_vessel_has_no_reservoir_that_could_be_low(kind, lead):
    assert day({"water.scheme": kind}, {"level": "5"}).lead == lead


def test_a_bath_without_air_is_not_sent_to_look_at_its_stones():
    found = act(day({"water.scheme": "still"}, {"oxygen": "3.5"}), "air").reason
    assert "no air stone" in found and "every stone" not in found


@pytest.mark.parametrize("degrees", ["24", "110 C"])
def test_a_temperature_that_no_bath_has_asks_for_a_reading_and_neither_for_ice_nor_for_a_heater(degrees):
    assert set(codes(day(SALTS, {"temperature": degrees}))) & {"check-meter", "warm", "cool"} == {"check-meter"}


def test_cold_water_that_holds_much_oxygen_is_not_told_as_too_much_of_it():
    # 10.5 mg/L at 55 F and 10.1 at 59 F (Benson and Krause), where the plan's water of 68 F holds 9.
    found = {one.name: one for one in day({}, {"oxygen": "10.2", "temperature": "55"}).gauges}
    assert found["oxygen"].word == "in"
    assert {one.name: one for one in day({}, {"oxygen": "9.8"}).gauges}["oxygen"].word == "in"
    assert {one.name: one for one in day({}, {"oxygen": "12", "temperature": "68"}).gauges}["oxygen"].word == "high"


def oxygen_of(typed, log=()):
    return {one.name: one for one in day({}, typed, log).gauges}["oxygen"]


def test_warm_water_that_cannot_hold_so_much_oxygen_is_told_of():
    # Fresh water of 27 C under one atmosphere holds 7.97 mg/L (Benson and Krause, from memory); 300 ft up and with
    # nutrients in it a little less, and never the 9.9 of water at the cold end of the plan's band.
    found = oxygen_of({"oxygen": "9.5", "temperature": "27 C"})
    assert found.word == "high" and 7.7 < found.band.high < 7.97 and "this warm" in found.band.why
    assert oxygen_of({"oxygen": "7.5", "temperature": "27 C"}).word == "in"
    # Water too hot for the oxygen to keep has no band of its own; low stays low.
    hot = oxygen_of({"oxygen": "5", "temperature": "48 C"})
    assert hot.word == "low" and hot.band.high > hot.band.low
    # A temperature of last week says nothing of today's water.
    last = [{"at": "2026-11-18T07:12", "kind": "reading", "typed": {"temperature": "27 C"}}]
    assert oxygen_of({"oxygen": "9.5"}, last).word == "in"


def test_a_low_ph_gets_the_base_and_a_strong_solution_gets_water():
    assert act(day(SALTS, {"ph": "5.1", "ec": "1.45"}), "base").title.startswith("Bring the pH up, in ")
    found = act(day(SALTS, {"ec": "2.4"}), "thin")
    assert found.reason.startswith("EC 2.4 mS/cm is above 1.5 mS/cm") and "Take out" in found.reason


def test_a_day_brings_no_more_than_half_a_ms_of_nutrients():
    found = act(day(SALTS, {"ec": "0.6"}), "nutrients")
    assert "brings it to 1.1 mS/cm. More than that in one day is hard on roots" in found.reason
    assert found.pours[0].amount == pytest.approx(2 * found.pours[1].amount)
    assert found.pours[1].at - found.pours[0].at == timedelta(minutes=30)


def test_within_the_band_the_ec_is_left_alone_unless_another_is_wanted():
    assert not {"nutrients", "thin"} & set(codes(day(SALTS, {"ec": "1.3"})) + codes(day(SALTS, {"ec": "1.75"})))
    assert act(day(SALTS, {"ec": "1.3"}, extra={"today.ec_target": "1.5"}), "nutrients")


def test_within_the_band_the_ph_is_left_alone():
    found = day(SALTS, {"ph": "6.3", "ec": "1.48", "temperature": "68"}, [
        {"kind": "cleaned", "at": "2026-11-24T08:00", "typed": {"code": "strainer"}},
        {"kind": "done", "at": "2026-11-25T06:00", "typed": {"code": "look"}}])
    assert codes(found) == [] and (found.state, found.lead) == ("fits", "Leave it alone.")


def test_a_reading_that_cannot_be_right_asks_for_the_meter_before_anything_is_poured():
    found = day(SALTS, {"ph": "12", "ec": "1.4"})
    assert codes(found)[0] == "check-meter" and not act(found, "acid") and found.lead == "Check a reading first."


def test_without_a_reading_the_calendar_speaks():
    found = day(SALTS)
    assert found.state == "open" and codes(found) == ["strainer", "look"]
    assert found.text.startswith("Type what your meters say; one reading is enough.")


def test_a_reading_of_two_days_ago_doses_nothing():
    log = [{"at": "2026-11-23T07:00", "typed": {"ph": "7.2", "ec": "1.1"}}]
    found = day(SALTS, log=log)
    assert found.state == "open" and not act(found, "acid") and "older than a day" in found.text
    assert next(one for one in found.gauges if one.name == "ph").value == 7.2


def test_the_last_reading_of_the_log_counts_and_the_one_before_it_is_shown():
    log = [{"at": "2026-11-24T07:00", "typed": {"ph": "5.9"}}, {"at": "2026-11-25T07:00", "typed": {"ph": "6.8"}},
           {"at": "2027-01-01T07:00", "typed": {"ph": "4"}}]
    one = next(one for one in day(SALTS, log=log).gauges if one.name == "ph")
    assert (one.value, one.before, one.word, one.distance) == (6.8, 5.9, "high", "0.3")


def test_a_tick_takes_its_line_away_until_the_next_reading():
    log = [{"at": "2026-11-25T07:00", "typed": {"ph": "6.8", "ec": "1.45"}},
           {"kind": "done", "at": "2026-11-25T07:15", "typed": {"code": "acid", "remark": "acid, first pour"}}]
    found = day(SALTS, log=log)
    assert not act(found, "acid") and found.done[0][:2] == ("acid", "acid, first pour")
    again = day(SALTS, log=[*log, {"at": "2026-11-25T07:18", "typed": {"ph": "6.7", "ec": "1.45"}}])
    assert act(again, "acid")


def test_what_was_only_poured_is_no_reading():
    log = [{"at": "2026-11-25T07:00", "typed": {"ph": "6.8", "ec": "1.48"}},
           {"at": "2026-11-25T07:15", "typed": {"acid": "7 mL", "code": "acid"}}]
    found = day(SALTS, log=log)
    assert found.latest.moment == datetime(2026, 11, 25, 7, 0) and not act(found, "acid")


@pytest.mark.parametrize("typed, due", [({"code": "strainer"}, False), ({"what": "Strainer, pump"}, False), ({}, False),
                                        ({"what": "lamp"}, True)])
def test_a_cleaning_counts_for_what_it_names(typed, due):
    found = day(SALTS, log=[{"kind": "cleaned", "at": "2026-11-24T08:00", "typed": typed}])
    assert bool(act(found, "strainer")) == due


def test_an_old_solution_is_changed_and_nothing_is_mended_in_it():
    log = [{"kind": "changed", "at": "2026-09-20T10:00", "typed": {}}]
    found = day(SALTS, ALL, log)
    assert "change" in codes(found) and not {"top-up", "acid"} & set(codes(found))
    assert "It is 66 days old, and 56 days is the most" in act(found, "change").reason
    assert "acid" in codes(day(SALTS, ALL, log, put_off=True))
    soon = day(SALTS, ALL, [{"kind": "changed", "at": "2026-10-02T10:00", "typed": {}}]).soon
    assert next(one for one in soon if one.code == "change").words == "by Fri, Nov 27"


def test_a_line_put_off_is_away_until_its_day_and_comes_back():
    tomorrow, after = date(2026, 11, 26), date(2026, 11, 28)
    found = day(SALTS, ALL, off={"strainer": tomorrow, "acid": after, "air": after})
    assert codes(found) == ["air", "cool", "top-up", "look"], "what saves the roots is not put off"
    assert [(one.code, one.title, one.until) for one in found.later] == [
        ("acid", "Bring the pH down, in four pours", after), ("strainer", "Clean the overflow strainer", tomorrow)]
    assert found.text.startswith("Four things")
    for now, there in ((NOW.replace(day=26), {"strainer"}), (NOW.replace(day=28), {"strainer", "acid"})):
        log = [{"at": f"2026-11-{now.day}T07:00", "typed": ALL}]
        found = day(SALTS, log=log, now=now, off={"strainer": tomorrow, "acid": after})
        assert {"strainer", "acid"} & set(codes(found)) == there
    old = [{"kind": "changed", "at": "2026-09-20T10:00", "typed": {}}]
    found = day(SALTS, ALL, old, off={"change": tomorrow})
    assert "acid" in codes(found) and "change" not in codes(found), "a bath that is not emptied is mended"


def test_doses_go_by_the_water_that_is_there_while_the_top_up_waits():
    whole, there = (day(SALTS, ALL, off=off) for off in ({}, {"top-up": date(2026, 11, 26)}))
    # The mark is 10 in, the reservoir stands at 8.2 in: 16 gal x 0.18 = 2.88 gal are missing of the 65.9 gal in all.
    share = 1 - 2.88 / (bath(SALTS).working * 1000 / 3.785411784)
    def acid(found):
        return sum(one.amount for one in act(found, "acid").pours)
    assert share == pytest.approx(0.956, abs=0.002)
    assert act(there, "top-up") is None and act(whole, "top-up") is not None
    assert acid(there) == pytest.approx(acid(whole) * share, rel=0.06)
    assert acid(there) <= acid(whole)
    assert "after the top-up" not in [one.condition for one in act(there, "acid").pours]


def test_the_request_takes_lines_put_off_and_says_when_they_return():
    asked = {"plan": SALTS, "entries": [], "now": "2026-11-25T07:20", "typed": {"ph": "6.7"},
             "off": {"strainer": "2026-11-28", "look": "someday"}}
    found = json.loads(api.run(json.dumps({"op": "today", **asked})))
    assert found["later"] == [{"code": "strainer", "act": "Clean the overflow strainer", "until": "2026-11-28",
                               "words": "Sat, Nov 28"}]
    left = {one["code"] for one in found["todo"]}
    assert "look" in left and "strainer" not in left
    assert 'data-later="strainer"' in found["html"]["todo"] and 'data-back="strainer"' in found["html"]["todo"]


def test_a_reading_put_right_is_not_held_against_itself():
    entries = [{"id": "a", "at": "2026-11-24T07:00", "typed": {"ph": "5.9"}},
               {"id": "b", "at": "2026-11-25T07:00", "typed": {"ph": "64"}}]
    asked = {"op": "reading_ask", "plan": SALTS, "entries": entries, "now": "2026-11-25T07:20", "typed": {"ph": "64"}}
    itself, earlier = (json.loads(api.run(json.dumps({**asked, **more}))) for more in ({}, {"without": "b"}))
    assert itself["last"]["ph"]["shown"] == "64" and earlier["last"]["ph"]["shown"] == "5.9"
    assert [one["text"] for one in earlier["asked"]["ph"]["offers"]] == ["6.4"]


@pytest.mark.parametrize("unit, typed, shown", [("C", 23.0, 73.4), ("F", 73.4, 73.4)])
def test_a_ruler_says_how_each_unit_of_a_meter_stands_on_it(unit, typed, shown):
    asked = {"op": "today", "plan": SALTS, "entries": [], "now": "2026-11-25T07:20", "typed": {"ph": "6.7"}}
    html = json.loads(api.run(json.dumps(asked)))["html"]
    rule = html["gauges"].split('data-gauge="temperature"')[1]
    factors = json.loads(unescape(rule.split('data-units="')[1].split('"')[0]))
    assert factors[unit][0] * typed + factors[unit][1] == pytest.approx(shown)
    ec = json.loads(unescape(html["gauges"].split('data-gauge="ec"')[1].split('data-units="')[1].split('"')[0]))
    # 655 on a meter that takes half a mg/L for a µS/cm is 1.31 mS/cm.
    assert ec["ppm500"][0] * 655 == pytest.approx(1.31) and ec["µS/cm"][0] * 1310 == pytest.approx(1.31)


def test_the_next_top_up_is_told_by_what_goes():
    log = [{"at": f"2026-11-{day}T07:00", "typed": {"level": level}} for day, level in ((21, "10"), (25, "9"))]
    soon = next(one for one in day(SALTS, log=log).soon if one.code == "top-up")
    # 1.6 gal in 4 days, and 0.64 gal are left to the lowest level of the band, 8.6 in: 1.6 days from 7 in the morning.
    assert soon.words == "Thu, Nov 26" and soon.why == "by the water that goes"


def test_the_calendar_sows_and_cuts_on_its_days_and_is_ticked_off():
    plan = {**SALTS, "schedule.start": "2026-11-25"}
    sow = act(day(plan), "sow:1-leaf-lettuce")
    assert (sow.title, sow.amount) == ("Sow tray 1", "4 seeds")
    ticked = {"kind": "planted", "at": "2026-11-25T07:10", "typed": {"code": "sow:1-leaf-lettuce"}}
    assert not act(day(plan, log=[ticked]), "sow:1-leaf-lettuce")
    later = day(plan, now=datetime(2027, 1, 18, 8, 0))
    cut = act(later, "cut:1-leaf-lettuce")
    assert cut.amount == "3 heads" and cut.then[0] == "Then weigh" and "It was due on Sun, Jan 17" in cut.reason


@pytest.mark.parametrize("scheme", ["aerated", "still"])
def test_one_vessel_has_no_strainer_and_its_level_is_the_baths(scheme):
    found = day({**SALTS, "water.scheme": scheme}, {"level": "9"})
    assert "strainer" not in codes(found)
    assert scheme == "still" or act(found, "top-up").reason.startswith("The bath stands 1 in under its mark.")
    stones = "every stone bubbles" in act(found, "look").reason.lower()
    assert stones == (scheme == "aerated")


STILL = {**SALTS, "water.scheme": "still"}


def test_a_still_bath_is_never_filled_up_to_its_mark():
    # 10 in deep, and 2 in of fall by its plan: within that there is nothing to pour, also where the EC is off.
    falls = day(STILL, {"level": "8.5", "ec": "1"}, [level("2026-11-06T07:12", "10")])
    assert "top-up" not in codes(falls) and "leak" not in codes(falls) and "nutrients" in codes(falls)
    assert {one.name: one.word for one in falls.gauges}["level"] == "in"
    # Below it, no more than 2 cm at once over the 8 square feet of the bath.
    low = act(day(STILL, {"level": "7.5"}), "top-up")
    assert low.title == "Add a little water, not up to the mark" and low.reason == (
        "The bath stands 2.5 in under its mark, and your plan lets it fall 2 in. Never fill it up to the board again: "
        "the gap of air is the roots'.")
    assert float(low.amount.removesuffix(" gal")) == pytest.approx(96 * 12 * 0.02 / 0.0254 / 231, rel=0.01)
    # A bath that may fall by a little only gains half of that, never the mark.
    narrow = act(day({**STILL, "use.fall": "0.5 in"}, {"level": "9.4"}), "top-up")
    assert float(narrow.amount.removesuffix(" gal")) == pytest.approx(96 * 12 * 0.35 / 231, rel=0.01)


def test_no_line_for_a_still_bath_sends_for_a_top_up_to_the_mark():
    leaks = day(STILL, {"level": "9"}, [level("2026-11-24T07:12", "10")])
    assert codes(leaks)[0] == "leak" and act(leaks, "leak").then == ("Then read", "the level again in an hour.")
    place = bath(STILL)
    said = [one.text for found in routine.lists(place) for one in found.items]
    thin = act(day(STILL, {"level": "9", "ec": "2.4"}), "thin").reason
    words = place.with_readings({"today.ec": "1 mS/cm"})
    said += [thin, str(words.result("today.order")), str(words.result("today.measure")),
             str(place.design.result("today.verdict")), place.design.verdicts["use"].text]
    assert [one for one in said if "top up" in one.lower() or "topping up" in one or "fill up" in one] == []
    assert "pour in as much water" in thin and "the gap of air is the roots'" in str(words.result("today.order"))
    soon = day(STILL, log=[level("2026-11-25T07:12", "9.5")]).soon
    assert "Water at its lowest" in [one.what for one in soon] and "Next top-up" not in [one.what for one in soon]
    # The others are topped up as ever.
    bubbled = bath({**SALTS, "water.scheme": "aerated"}).with_readings({"today.ec": "1 mS/cm"}).result("today.order")
    assert bubbled[0]["words"] == "Top up to the mark, with the air running."


def test_after_a_power_cut_the_first_thing_is_to_look():
    cut = {"kind": "failed", "at": "2026-11-25T02:00", "typed": {"what": "power"}}
    found = day(SALTS, {"ph": "6.7", "ec": "1.48"}, [cut])
    assert codes(found)[:2] == ["outage", "acid"] and "counts on 12 h of oxygen" in act(found, "outage").reason
    seen = {"kind": "done", "at": "2026-11-25T07:00", "typed": {"code": "outage"}}
    assert not act(day(SALTS, log=[cut, seen]), "outage")
    assert not act(day(SALTS, log=[{**cut, "at": "2026-11-20T02:00"}]), "outage")


def test_frozen_bottles_take_up_the_heat():
    # 65.87 gal of water from 79 to 76.1 F (25.5 to 24.5 C and half a degree of margin): 1.61 K of 249.3 kg.
    found = act(day(SALTS, {"temperature": "79"}), "cool")
    assert found.amount == "2 bottles" and found.reason.endswith("Two frozen bottles of 2 L take about 3.3 °F off.")
    assert "It would take" in act(day({**SALTS, "bath.length": "30 ft", "bath.width": "8 ft"}, {"temperature": "86"}),
                                  "cool").reason


def test_too_little_oxygen_comes_first_and_fails():
    found = day(SALTS, {"oxygen": "2.8", "temperature": "68"})
    assert found.state == "fails" and codes(found)[0] == "air" and "pour it back" in found.acts[0].reason


@pytest.mark.parametrize("value, digits, rounded", [(0.0, 2, 0.0), (7.29e-6, 2, 7.2e-6), (130.0, 2, 130.0),
                                                    (139.0, 2, 130.0)])
def test_a_dose_is_never_rounded_up(value, digits, rounded):
    assert round_down(value, digits) == pytest.approx(rounded)


@given(st.dictionaries(st.sampled_from(["ph", "ec", "temperature", "oxygen", "level"]), st.one_of(
    st.floats(-10, 5000).map(str), st.sampled_from(["x", "", "1e300", "6", "1.4", "20 C"])), max_size=5),
    st.sampled_from([{}, SALTS, {"units": "metric"}, {"water.scheme": "still"}, {"bath.length": "none"}]))
def test_any_reading_is_answered_without_nan(typed, plan):
    place = bath(plan)
    said = today.as_json(day(plan, typed or None), place)
    del said["faults"]
    text = json.dumps(said, allow_nan=False)
    assert "not a number" not in text and "nan" not in text.lower()


def ask(op, **more):
    return json.loads(api.run(json.dumps({"op": op, **more})))


def test_the_pages_requests_of_a_log():
    rows = [{"id": "a", "at": "2026-11-24T07:00", "typed": {"ph": "5.9"}}]
    assert ask("log_open", log="one", entries=[*rows, {"version": 9}])["aside"][0]["newer"] is True
    put = ask("log_put", log="one", put=[{"at": "2026-11-25T07:00", "typed": {"ph": "6.7"}}], gone=["none"])
    assert put["count"] == 2 and put["entries"][0]["id"] == "2026-11-25T07:00-reading"
    found = ask("today", log="one", plan=SALTS, now="2026-11-25T07:20", root="../")
    assert found["verdict"]["lead"] == "pH high." and 'data-todo="acid"' in found["html"]["todo"]
    assert 'data-gauge="ph"' in found["html"]["gauges"]
    assert 'href="../safety/index.html#today-pouring"' in found["html"]["todo"]
    asked = ask("reading_ask", log="one", plan=SALTS, now="2026-11-25T07:20", typed={"ph": "58", "ec": "", "time": "x"})
    assert asked["asked"]["ph"]["offers"] == [{"words": "5.8", "text": "5.8"}] and asked["last"]["ph"]["shown"] == "6.7"
    assert asked["count"] == 1 and asked["faults"]["time"].startswith("Date and time must be")
    text = ask("log_csv_write", log="one")["text"]
    assert ask("log_csv_read", log="one", text=text, plan=SALTS)["known"] == 2
    assert len(ask("log_csv_read", log="other", text=text, plan=SALTS, bath="b")["put"]) == 2
    whole = ask("log_all_write", log="one", plans=[{"plan": SALTS}], now="2026-11-25T07:20")["text"]
    assert ask("log_all_read", log="one", text=whole)["known"] == 2
    assert ask("log_put", log="one", gone=["a"])["count"] == 1
    assert ask("log_fields")["reading"][0]["key"] == "reading.time"
    assert ask("today", plan=SALTS)["error"] == "The page did not say what time it is; reload it."


def test_the_command_prints_the_same(tmp_path, capsys):
    plan = tmp_path / "plan.json"
    plan.write_text(json.dumps(SALTS))
    log = tmp_path / "log.csv"
    log.write_text("time,pH\n2026-11-24 7:00,5.9\n")
    assert main(["today", str(plan), "--ph", "6.7", "--ec", "728ppm500", "--at", "2026-11-25T07:20", "--log",
                 str(log)]) == 0
    said = json.loads(capsys.readouterr().out)
    ph = next(one for one in said["gauges"] if one["name"] == "ph")
    assert (ph["value"], ph["before"]) == (6.7, 5.9) and said["todo"][0]["code"] == "acid"
    assert main(["today", str(plan), "--at", "soon"]) == 2
    assert capsys.readouterr().err == "--at must be a day and an hour, like 2026-11-25 7:12.\n"
    assert main(["today", str(plan), "--log", str(tmp_path / "none.csv")]) == 2


def test_nothing_of_this_is_imported_before_it_is_asked_for():
    code = ("import sys, json; from calc import api; api.run(json.dumps({'op': 'solve', 'plan': {}, 'step': 'tub'})); "
            "print([name for name in sys.modules if 'keeping' in name])")
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    assert done.stdout == "[]\n", done.stderr
    code = "import sys, calc.command_line; print('calc.keeping.today' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    assert done.stdout == "False\n", done.stderr


@pytest.mark.parametrize("time, words", [
    ("2026-11-29T07:20", "That is 4 days ahead: is the date right?"), ("2026-11-26T07:20", "That is tomorrow:"),
    ("2026-11-25T12:20", "That is later today:"), ("2026-11-25T08:00", None), ("2025-11-25T07:20", None)])
def test_a_date_ahead_is_asked_about_and_no_value_is_lost_by_it(time, words):
    found = ask("reading_ask", plan=SALTS, entries=[], now="2026-11-25T07:20", typed={"ph": "5.8", "time": time})
    assert found["count"] == 1
    assert found["faults"].get("time", "").startswith(words) if words else "time" not in found["faults"]


def test_an_event_being_typed_hears_what_of_it_cannot_be_read():
    typed = {"count": "6.5", "mass": "abc", "what": "row 2", "time": "2026-11-29T07:20"}
    found = ask("reading_ask", plan=SALTS, entries=[], now="2026-11-25T07:20", kind="harvested", typed=typed)["faults"]
    assert found["count"] == "How many must be a whole number, like 4." and "abc" in found["mass"]
    assert found["time"].startswith("That is 4 days ahead") and set(found) == {"count", "mass", "time"}
    good = {"count": "six", "mass": "12 oz", "what": "row 2"}
    found = ask("reading_ask", plan=SALTS, entries=[], now="2026-11-25T07:20", kind="harvested", typed=good)
    assert found["faults"] == {}


def level(at, text, **more):
    return {"at": at, "kind": "reading", "typed": {"level": text, **more}}


@pytest.mark.parametrize("log, typed, there", [
    # 16 gal stand 10 in deep, and by the plan 0.39 gal goes in a day: 5 in are 8 gal, 1 in is 1.6.
    ([level("2026-11-24T07:12", "10")], "5", True), ([level("2026-11-24T07:12", "10")], "9", False),
    # In four weeks that much goes; 6 gal that were poured and are gone again in a day do not.
    ([level("2026-10-28T07:12", "10")], "5", False), ([level("2026-11-24T07:12", "8", added="6 gal")], "8", True),
    ([level("2026-11-24T07:12", "10"), {"at": "2026-11-24T09:00", "kind": "changed", "typed": {}}], "5", False),
    ([], "5", False)])
def test_more_water_gone_than_the_plan_says_is_looked_for_before_any_is_added(log, typed, there):
    found = day(SALTS, {"level": typed}, log)
    assert ("leak" in codes(found)) is there
    if there:
        assert codes(found)[0] == "leak" and not act(found, "leak").can_wait
        assert "in 24 hours" in act(found, "leak").reason and "overflow" in act(found, "leak").reason


def test_what_is_gone_is_said_in_the_readers_unit():
    assert act(day(SALTS, {"level": "5"}, [level("2026-11-24T07:12", "10")]), "leak").reason.startswith(
        "8 gal went in 24 hours, and by your plan 0.386 gal goes in a day.")


# Two plants beside an open oval bath in a hot greenhouse: far more evaporates than is drunk.
DRY_AIR = {**SALTS, "place.setting": "summer greenhouse", "bath.shape": "oval", "bath.length": "6 ft",
           "bath.width": "3 ft", "oxygen.plants": "2"}


def test_a_level_that_falls_as_the_plan_says_is_no_leak():
    place = bath(DRY_AIR)
    gone = place.number("use.gone") / 3.785411784e-3
    assert gone > 9 * place.number("use.per_day") / 3.785411784e-3
    # 16 gal stand 10 in deep: nine days at what the plan says.
    falls = f"{10 - 9 * gone / 1.6:.4f}"
    found = day(DRY_AIR, {"level": falls}, [level("2026-11-16T07:12", "10")])
    assert "top-up" in codes(found) and "leak" not in codes(found)
    # The same fall in one day is no plan's.
    assert "leak" in codes(day(DRY_AIR, {"level": falls}, [level("2026-11-24T07:12", "10")]))


@pytest.mark.parametrize("slip", [level("2026-11-24T07:12", "82"), level("2026-11-24T07:12", "1e9"),
                                  level("2026-11-24T07:12", "-5"),
                                  level("2026-11-24T07:12", "8.3", added="1e6 gal")])
def test_a_slip_that_was_kept_is_no_leak(slip):
    assert "leak" not in codes(day(SALTS, {"level": "8.2"}, [slip]))
    # Levels before and after it still tell: 10 to 5 in is 8 gal.
    before = level("2026-11-23T07:12", "10")
    assert act(day(SALTS, {"level": "5"}, [before, slip]), "leak").reason.startswith("8 gal went in 2 days" if (
        "added" not in slip["typed"]) else "5.28 gal went in 24 hours")


@pytest.mark.parametrize("plan, typed, title, words", [
    (SALTS, "12", "See why the reservoir stands high", "It stands 2 in over its mark. Did the pump stop"),
    ({**SALTS, "water.scheme": "aerated"}, "11", "See why the bath stands high", "It stands 1 in over its mark."),
    (SALTS, "99", "Read the level once more", "99 in is deeper than your reservoir, 16 in.")])
def test_a_level_over_its_mark_has_a_line_of_its_own(plan, typed, title, words):
    found = act(day(plan, {"level": typed}), "high")
    assert found.title == title and found.reason.startswith(words)
