"""Entries, their values, questions about odd ones, merging, and everything in one file."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.errors import UnreadableQuantity
from calc.keeping import incoming, sanity, times, whole
from calc.keeping.entries import METER_UNITS, NotUnderstood, as_json, from_json, many, values_of
from calc.keeping.merging import merge

FIRST = {"id": "a", "at": "2026-11-25T07:12", "typed": {"time": "Nov 25, 2026 7:12 am", "ph": "5,9", "ec": "655",
                                                        "temperature": "74", "acid": "12 drops"},
         "units": {"ec": "ppm500", "temperature": "F"}, "changed": "2026-11-25T07:13"}


@pytest.mark.parametrize("text, at", [
    ("2026-11-25T07:12", "2026-11-25T07:12"), ("2026-11-25 19:12:59", "2026-11-25T19:12"),
    ("11/25/2026 7:12 pm", "2026-11-25T19:12"), ("25.11.2026 07:12", "2026-11-25T07:12"),
    ("Nov 25, 2026 7 am", "2026-11-25T07:00"), ("25 Nov 2026", "2026-11-25T12:00"),
    ("25/11/26 7:12", "2026-11-25T07:12"),
    ("2026/11/25, 7.12", "2026-11-25T07:12"), ("2026-11-25T07:12:00+01:00", "2026-11-25T07:12")])
def test_moments_as_people_and_meters_write_them(text, at):
    written = times.read(text)
    found = written.at("month") or written.at("day")
    assert times.show(found) == at


@pytest.mark.parametrize("text", ["", "today", "2026-13-25 7:12", "2026-11-31", "25:12", "2026-11-25 25:00", "7:12"])
def test_what_is_no_moment_is_told(text):
    with pytest.raises(UnreadableQuantity, match="must be a day and an hour"):
        times.read(text)


def test_values_take_the_units_of_the_meter():
    found = values_of(from_json(FIRST))
    assert found.numbers == pytest.approx({"ph": 5.9, "ec": 1.31, "temperature": 23.33333, "acid": 6e-7})
    assert from_json(FIRST).text("ph") == "5,9", "kept as typed"


@pytest.mark.parametrize("scale, value", [("ppm500", 1.4), ("ppm640", 1.09375), ("ppm700", 1.0)])
def test_the_three_scales_of_ppm(scale, value):
    entry = from_json({**FIRST, "typed": {"ec": "700"}, "units": {"ec": scale}})
    assert values_of(entry).numbers["ec"] == pytest.approx(value)


def test_a_text_that_is_no_number_is_a_fault_and_the_rest_counts():
    found = values_of(from_json({**FIRST, "typed": {"ph": "sour", "ec": "1.3", "added": "-2"}, "units": {}}))
    assert found.numbers == pytest.approx({"ec": 1.3})
    assert found.faults["ph"].startswith("pH must be a number") and "0 or more" in found.faults["added"]


KEYS = st.sampled_from(["id", "at", "kind", "typed", "units", "version", "before"])


@given(st.recursive(st.none() | st.booleans() | st.floats(allow_nan=False) | st.text(max_size=9),
                    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(KEYS, inner, max_size=5)))
def test_any_data_is_an_entry_or_set_aside(given_):
    found, aside = many([given_])
    assert len(found) + len(aside) == 1
    for one in found:
        values_of(one)
        assert from_json(as_json(one)) == one


def ask(typed, last=None, system="us", units=None, most=None):
    return sanity.questions(typed, units or {}, last or {}, system, METER_UNITS, most)


@pytest.mark.parametrize("typed, last, words, offers", [
    ({"ph": "58"}, {"ph": 5.9}, "Did you mean 5.8? Last time it read 5.9.", ["5.8"]),
    ({"ph": "580"}, {}, "Did you mean 5.8?", ["5.8"]),
    ({"temperature": "22.5"}, {"temperature": 21.6}, "Is your meter set to °C? 22.5 °C is 72.5 °F.", ["22.5 C"]),
    ({"ec": "655"}, {"ec": 1.3}, "Does your meter show ppm500? 655 ppm500 is 1.31 mS/cm.", ["655 ppm500"]),
    ({"ec": "1310"}, {"ec": 1.4}, "Does your meter show µS/cm? 1,310 µS/cm is 1.31 mS/cm.", ["1310 µS/cm"]),
    ({"ec": "146"}, {"ec": 1.4}, "Did you mean 1.46? Last time it read 1.4.", ["1.46"]),
    ({"oxygen": "69"}, {"oxygen": 7.3}, "Did you mean 6.9? Last time it read 7.3.", ["6.9"]),
    ({"oxygen": "92"}, {}, "Does your meter show percent of saturation? Set it to mg/L.", []),
    ({"ph": "8.2"}, {"ph": 5.9}, "That is a large step. Last time it read 5.9. Measure once more.", []),
    ({"ph": "0.01"}, {}, "No bath with living plants reads so. Check the meter and measure once more.", [])])
def test_an_odd_value_is_asked_about_with_a_guess(typed, last, words, offers):
    asked, faults = ask(typed, last)
    (one,) = asked.values()
    assert one.words == words and [text for _, text in one.offers][:len(offers) or None] == offers and not faults
    assert one.keep == f"Keep {next(iter(typed.values()))}"


def test_a_meter_in_fahrenheit_is_asked_about_in_metric():
    asked, _ = ask({"temperature": "72"}, {"temperature": 21.0}, "metric")
    one = asked["temperature"]
    assert one.words == "Is your meter set to °F? 72 °F is 22.2 °C." and one.unit == "F"


@pytest.mark.parametrize("typed", [{"ph": "5.9"}, {"ec": "1.4"}, {"temperature": "74"}, {"oxygen": "7"}, {"ph": ""},
                                   {"remark": "58"}])
def test_what_is_usual_is_not_asked_about(typed):
    assert ask(typed, {"ph": 6.1, "ec": 1.5, "temperature": 22.0, "oxygen": 7.5}) == ({}, {})


def test_more_than_the_vessel_or_the_water_holds_is_asked_about():
    asked, faults = ask({"level": "82", "added": "100", "oxygen": "12", "ec": "x"}, most={"level": 0.4, "added": 0.25,
                                                                                         "oxygen": 8.9})
    assert asked["level"].words == "That is deeper than your reservoir, 15.75 in. Which unit did you mean?"
    assert asked["added"].words.startswith("That is more than all the water of your plan, 66")
    poured, _ = ask({"fertilizer": "999999", "acid": "99999999"}, most={"added": 0.25})
    assert poured["fertilizer"].words == poured["acid"].words == asked["added"].words
    assert asked["oxygen"].words == "Water this warm holds 8.9 mg/L. Calibrate the meter in air."
    assert faults.keys() == {"ec"}


def entries(*given):
    found, aside = many(list(given))
    assert not aside
    return found


def test_merging_the_same_twice_changes_nothing():
    mine = entries(FIRST)
    once = merge(mine, entries(FIRST, {"at": "2026-11-26T07:00", "typed": {"ph": "6"}}))
    assert len(once.entries) == 2 and len(once.added) == 1 and once.known == ("a",)
    twice = merge(once.entries, once.entries)
    assert twice.entries == once.entries and not twice.added and not twice.changed


def test_the_same_reading_from_another_file_is_not_doubled_and_fills_what_is_open():
    other = entries({"at": FIRST["at"], "typed": {"ec": "1.31 mS/cm", "oxygen": "7", "remark": "clear"}})
    done = merge(entries(FIRST), other)
    (one,) = done.entries
    assert one.id == "a" and one.text("oxygen") == "7" and one.text("ec") == "655" and done.changed == ("a",)


def test_two_readings_of_one_minute_that_differ_are_both_kept():
    done = merge(entries(FIRST), entries({"at": FIRST["at"], "typed": {"ph": "6.4"}}))
    assert sorted(one.text("ph") for one in done.entries) == ["5,9", "6.4"]


def test_the_later_wording_stands_and_the_earlier_is_kept_in_it():
    later = {**FIRST, "typed": {"ph": "6.0"}, "changed": "2026-11-26T09:00"}
    for mine, theirs in ((FIRST, later), (later, FIRST)):
        (one,) = merge(entries(mine), entries(theirs)).entries
        assert one.text("ph") == "6.0" and one.before[0]["typed"]["ph"] == "5,9"
        again = merge([one], entries(theirs))
        assert again.entries == (one,)


ROW = st.tuples(st.sampled_from("abc"), st.sampled_from(["2026-11-25T07:12", "2026-11-26T07:12"]),
                st.sampled_from(["5.9", "6.4"]), st.sampled_from(["", "1", "2"]))


@given(st.lists(ROW, max_size=6), st.lists(ROW, max_size=6))
def test_merging_loses_no_value_and_settles(mine, theirs):
    one, other = (many([{"id": name, "at": at, "typed": {"ph": ph}, "changed": changed}
                        for name, at, ph, changed in rows])[0] for rows in (mine, theirs))
    done = merge(one, other)
    said = json.dumps([as_json(entry) for entry in done.entries])
    for entry in (*one, *other):
        assert json.dumps(entry.text("ph")) in said
    assert merge(done.entries, other).entries == done.entries
    assert not merge(done.entries, other).added


def test_everything_goes_into_one_file_and_comes_back():
    log = entries(FIRST, {"kind": "harvested", "at": "2026-11-26T08:00", "typed": {"mass": "900 g", "count": "6"}})
    text = whole.write(log, [{"id": "p", "plan": {"bath.length": "4 ft"}}], [{"id": "b", "name": "x"}],
                       {"probe": {"t": "temperature:C"}}, saved="2026-11-26T09:00")
    found = whole.read(text)
    assert found.entries == log and found.plans[0]["plan"] == {"bath.length": "4 ft"} and not found.told
    assert found.baths == [{"id": "b", "name": "x"}] and found.mappings == {"probe": {"t": "temperature:C"}}
    assert not found.newer and not found.aside


def test_what_a_newer_version_wrote_is_set_aside_and_told_line_by_line():
    newer = {**FIRST, "version": 2, "typed": {"silicon": "3"}}
    text = json.dumps({"format": whole.FORMAT, "version": 2, "entries": [FIRST, newer, {"kind": "dreamed", "at": "x"}],
                       "weather": [1]})
    found = whole.read(text)
    assert [one.id for one in found.entries] == ["a"] and found.newer
    assert found.told == ["A newer version wrote this file: what is understood of it comes in.",
                          "Line 2: A newer version wrote this entry.",
                          "Line 3: This version does not know the kind of entry 'dreamed'.",
                          "The file has parts that this version does not know: weather."]
    assert found.aside[0][0] == newer and found.aside[-1][0] == {"weather": [1]}
    again = whole.read(whole.write(found.entries, aside=[one for one, _ in found.aside]))
    assert [one for one, _ in again.aside] == [one for one, _ in found.aside]


@pytest.mark.parametrize("text, words", [("{", "cut short"), ("[]", "holds no log"), ('{"a": 1}', "holds no log"),
                                         ("[" * 100_000, "cut short")])
def test_a_file_that_is_none_of_ours_gets_a_sentence(text, words):
    assert words in whole.read(text).trouble


def test_a_plan_of_the_planner_is_taken_as_a_plan():
    assert whole.read('{"plan": {"bath.length": "4 ft"}, "version": 2}').plans == [
        {"plan": {"bath.length": "4 ft"}, "version": 2}]


def test_an_entry_without_a_moment_is_set_aside():
    with pytest.raises(NotUnderstood, match="Date and time must be"):
        from_json({"typed": {"ph": "6"}})


OLD = Path(__file__).resolve().parents[1] / "fixtures" / "log_v1"


def test_files_of_version_1_are_read_as_they_were_written():
    everything = whole.read((OLD / "everything.json").read_text(encoding="utf-8"))
    rows = incoming.read((OLD / "log.csv").read_bytes().decode("utf-8"))
    assert rows.own and not rows.told and rows.entries == everything.entries and len(rows.entries) == 17
    assert not everything.told and not everything.newer and everything.plans[0]["plan"]["feed.way"] == "salts"
    own = {one.id: one for one in everything.entries}
    assert values_of(own["own-1"]).numbers == pytest.approx({"ph": 5.9, "ec": 1.31, "temperature": 22.5, "acid": 6e-7})
    assert own["own-1"].text("remark") == "=looks well\nsecond line" and own["own-1"].before[0]["typed"] == {"ph": "59"}
    assert values_of(own["own-2"]).numbers == pytest.approx({"count": 6.0, "mass": 0.90718474})
    assert sum(one.invented for one in everything.entries) == 14
