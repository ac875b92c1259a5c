"""What people really type: understood, or answered with what to type, beside the field they typed it in."""

import json
from datetime import date

import pytest

from calc import api, units
from calc.plan import FIELDS, Plan
from calc.render import link
from calc.solve import as_json, solve

INCH = 0.0254


def fault_of(key: str, typed: str, **more) -> str:
    """The one fault of a plan with this answer, as the reader sees it beside that field."""
    return solve(Plan({"light.by": "lamp", **more, key: typed})).faults[key]


@pytest.mark.parametrize("key, typed, value", [
    ("acidity.start_ph", "pH 7.9", 7.9), ("acidity.start_ph", "7.9 pH", 7.9), ("acidity.target_ph", "ph: 6,1", 6.1),
    ("acidity.target_ph", "PH=6", 6.0), ("water.temperature", "74 degrees", (74 - 32) / 1.8),
    ("water.temperature", "74°", (74 - 32) / 1.8), ("water.temperature", "74 deg.", (74 - 32) / 1.8),
    ("water.temperature", "20 degrees Celsius", 20.0),
    ("water.temperature", "74 degrees F", (74 - 32) / 1.8), ("board.pot", "2 in net pot", 2 * INCH),
    ("board.pot", "3 3/4\" net pots", 3.75 * INCH), ("board.pot", "5 cm pot", 0.05),
    ("bath.length", "about 50 in", 50 * INCH), ("bath.length", "~ 4 ft 2 in", 50 * INCH),
    ("bath.length", "50 inches long", 50 * INCH), ("bath.length", "ca. 120 cm inside", 1.2),
    ("energy.breaker", "15 amp breaker", 15.0), ("energy.voltage", "120 volts AC", 120.0),
    ("bath.count", "2 baths", 2), ("bath.count", "two", 2), ("light.have", "none", 0), ("light.have", "3 lamps", 3),
    ("board.pot", "2-inch", 2 * INCH), ("board.pot", "2-inch net pot", 2 * INCH), ("board.pot", "two inches", 2 * INCH),
    ("board.pot", "net pot 2 in", 2 * INCH), ("bath.count", "two baths", 2), ("bath.length", "4-ft 2-in", 50 * INCH),
    ("board.thickness", "3-5/8 in", 3.625 * INCH), ("bath.length", "four ft", 48 * INCH),
    ("air.spare", "y", True), ("air.spare", "No", False),
])
def test_words_around_a_number_are_understood(key, typed, value):
    plan = Plan({"light.by": "lamp", key: typed})
    assert plan.faults == {} and plan.values[key] == pytest.approx(value)


@pytest.mark.parametrize("typed, system, hint", [
    # 74 F is 42 x 5/9 = 23.3 C and allowed; 20 C is 68 F and allowed; 200 F is 93 C, and -5 C is 23 F, and -5 F less.
    ("74 degrees", "metric", " If you mean Fahrenheit, type 74 F."),
    ("74", "metric", " If you mean Fahrenheit, type 74 F."),
    ("20 degrees", "us", " If you mean Celsius, type 20 C."), ("200", "metric", ""), ("-5", "metric", ""),
    ("74 C", "metric", ""), ("20 F", "us", ""),
])
def test_degrees_that_are_allowed_on_the_other_scale_are_answered_with_what_to_type(typed, system, hint):
    low, high = ("0 °C", "40 °C") if system == "metric" else ("32 °F", "100 °F")
    expected = f"Water temperature must be between {low} and {high}.{hint}"
    assert fault_of("water.temperature", typed, units=system) == expected


def test_a_bare_degree_is_of_the_reader_s_own_units():
    assert Plan({"units": "metric", "water.temperature": "22 degrees"}).values["water.temperature"] == 22.0


@pytest.mark.parametrize("typed", ["5 gal per day", "5 gal a day", "5 gal imperial", "5 gal 3", "5 gal water 3"])
def test_words_that_would_change_a_size_are_not_passed_over(typed):
    assert "reservoir.known_volume" in Plan({"reservoir.known_volume": typed}).faults


@pytest.mark.parametrize("typed, system, day", [
    ("2027-03-01", "us", date(2027, 3, 1)), ("3/1/2027", "us", date(2027, 3, 1)), ("3/25/27", "us", date(2027, 3, 25)),
    ("3-1-2027", "us", date(2027, 3, 1)), ("25/3/2027", "us", date(2027, 3, 25)), ("1.3.2027", "us", date(2027, 3, 1)),
    ("1.3.2027", "metric", date(2027, 3, 1)), ("25/3/2027", "metric", date(2027, 3, 25)),
    ("3/25/2027", "metric", date(2027, 3, 25)), ("3/3/2027", "metric", date(2027, 3, 3)),
    ("March 1, 2027", "us", date(2027, 3, 1)), ("1 Mar 2027", "metric", date(2027, 3, 1)),
    ("1. September 2027", "metric", date(2027, 9, 1)), ("2027/3/1", "us", date(2027, 3, 1)),
])
def test_dates_are_read_as_they_are_said(typed, system, day):
    assert Plan({"units": system, "schedule.start": typed}).values["schedule.start"] == day


@pytest.mark.parametrize("typed, system, sentence", [
    ("3/1/2027", "metric", "First day of sowing could be 2027-01-03 or 2027-03-01: type the one you mean, as year, "
                           "month, day."),
    ("soon", "us", "First day of sowing must be a date, written like 2027-03-15: year, month, day."),
    ("13/32/2027", "us", "First day of sowing must be a day that the calendar has, written like 2027-03-15."),
    ("Monday 3 2027", "us", "First day of sowing must be a date, written like 2027-03-15: year, month, day."),
    ("3/1/1999", "us", "First day of sowing must be between 2000-01-01 and 2100-12-31."),
])
def test_what_is_no_one_date_is_told(typed, system, sentence):
    assert fault_of("schedule.start", typed, units=system) == sentence


def test_a_change_of_units_does_not_turn_a_date_round():
    turned = api._switch_system({"plan": {"schedule.start": "3/1/2027"}, "to": "metric"})["plan"]
    assert Plan(turned).values["schedule.start"] == date(2027, 3, 1)


@pytest.mark.parametrize("key, typed, sentence", [
    ("bath.length", "50 in x 30 in", "Bath length takes one size, and “50 in x 30 in” has several: type one of "
     "them here, like 48 in, 4 ft or 120 cm, and each other in its own field."),
    ("bath.length", "50x30", "Bath length takes one size, and “50x30” has several: type one of them here, like "
     "48 in, 4 ft or 120 cm, and each other in its own field."),
    ("bath.length", "50 by 30 in", "Bath length takes one size, and “50 by 30 in” has several: type one of them "
     "here, like 48 in, 4 ft or 120 cm, and each other in its own field."),
    ("bath.count", "yes", "Number of equal baths asks for more than yes or no: type how many, like 4."),
    ("light.have", "no", "Lamps installed asks for more than yes or no: type how many, like 4."),
    ("bath.length", "yes", "Bath length asks for more than yes or no: type a length, like 48 in, 4 ft or 120 cm."),
    ("air.spare", "maybe", "Enough if one pump dies must be yes or no."),
    ("bath.length", "0", "Bath length must be more than 0."),
    ("bath.length", "-5 in", "Bath length must be more than 0."),
    ("bath.length", "0.1 in", "Bath length must be 0.4 in or more."),
    ("bath.length", "9000 ft", "Bath length must be 2,300 in or less."),
    ("parts.copies", "0", "Copies of the whole plan must be 1 or more."),
    ("parts.copies", "5000", "Copies of the whole plan must be 1,000 or less."),
    ("energy.other_power", "-3 W", "Other loads that always run must be 0 W or more."),
    ("acidity.target_ph", "15", "pH you want must be between 4.5 and 8.5."),
    ("water.temperature", "-4 C", "Water temperature must be between 32 °F and 100 °F."),
])
def test_what_is_not_understood_is_told_in_one_sentence(key, typed, sentence):
    assert fault_of(key, typed) == sentence


@pytest.mark.parametrize("plan, place, sentence", [
    ({"bath.shape": "tapered box", "bath.length": "4.5 in"}, "bath.length",
     "Bath length is less than the 44 in at the floor, which is our guess: measure both inside, and enter that or "
     "more, or put in the length at the floor as well."),
    ({"bath.shape": "tapered box", "bath.length": "40 in", "bath.base_length": "43 in"}, "bath.base_length",
     "Bath length at the floor is more than at the rim: measure both inside, and enter 40 in or less."),
    ({"bath.shape": "tapered box", "bath.base_length": "50 in"}, "bath.base_length",
     "Bath length at the floor is more than at the rim: measure both inside, and enter 48 in or less."),
    ({"bath.shape": "tapered round", "bath.diameter": "6 in"}, "bath.diameter",
     "Bath diameter is less than the 20 in at the floor, which is our guess: measure both inside, and enter that or "
     "more, or put in the diameter at the floor as well."),
    ({"bath.depth": "5 in"}, "bath.depth",
     "Bath inside depth is less than the water in it is deep: enter 10 in or more, or a smaller water depth."),
    ({"bath.water_depth": "20 in"}, "bath.water_depth",
     "Bath water depth is more than its inside depth: enter 12 in or less."),
    ({"board.spacing": "1 in"}, "board.spacing",
     "Spacing is no wider than the net pot, 2 in: enter more, or a smaller pot."),
    ({"board.pot": "8 in"}, "board.pot",
     "Net pot size is not smaller than the spacing: enter less than 8 in, or a wider spacing."),
    ({"air.stone_height": "12 in"}, "air.stone_height",
     "Height of a stone is more than the water in the bath is deep, so it would stand out of it: enter 10 in or less."),
    ({"bath.water_depth": "3/4 in"}, "bath.water_depth",
     "Bath water depth does not cover a stone, which is 1 in high: enter that or more, or put in lower stones."),
    ({"bath.fill": "floor", "bath.inlet_height": "20 in"}, "bath.inlet_height",
     "Inlet height over the floor is more than the water in the bath is deep: enter 10 in or less, or choose a "
     "bath filled over the rim."),
    ({"use.target_ec": "0.1"}, "use.target_ec",
     "EC aimed for leaves no room for nutrients: it must be more than the 0.137 mS/cm of the source water."),
    ({"use.source_ec": "3"}, "use.source_ec",
     "EC of the source water leaves no room for nutrients: it must be less than the 1.49 mS/cm aimed for in "
     "the bath."),
    ({"energy.floods_per_day": "96", "energy.flood_minutes": "15.5 min"}, "energy.flood_minutes",
     "Length of one flood: 96 floods of 15.5 minutes are more than a day; enter 15 min or less."),
    ({"energy.flood_minutes": "12 h"}, "energy.flood_minutes",
     "Length of one flood: 4 floods of 720 minutes are more than a day; enter 360 min or less."),
])
def test_a_fault_between_answers_is_told_beside_the_one_that_was_typed(plan, place, sentence):
    design = solve(Plan(plan))
    assert design.faults == {place: sentence}
    assert as_json(design)["faults"] == [{"field": place, "typed": plan[place], "message": sentence}]


def test_a_board_too_narrow_for_its_margin_names_the_bath_that_was_typed():
    design = solve(Plan({"bath.width": "4 in"}))
    assert list(design.faults) == ["bath.width"]
    assert design.faults["bath.width"].startswith("Bath width does not go with another answer. ")


def test_what_does_not_hang_on_the_fault_is_still_worked_out():
    design = solve(Plan({"bath.width": "4 in"}))
    assert design.value("water.bath_volume") == pytest.approx(48 * 4 * 10 * INCH**3)
    assert design.accused.keys() != design.faults.keys()


def test_no_field_is_told_between_two_bounds_of_which_one_says_nothing():
    for field in FIELDS.values():
        if field.minimum is not None and field.maximum is not None and field.kind == "length":
            told = Plan({field.key: "-90000 ft"}).faults.get(field.key, "")
            assert "between" not in told or field.minimum > 0.0 and field.maximum / field.minimum < 100.0, told


def read_file(**holds) -> dict:
    return json.loads(api.run(json.dumps({"op": "file_read", "text": json.dumps(holds)})))


def test_half_a_character_is_told_and_harms_nothing():
    answer = read_file(plan={"circulation.pump": "A \ud800 B", "bath.width": "25 in"}, version=2)
    assert answer["plan"] == {"circulation.pump": "A \ufffd B", "bath.width": "25 in"}
    assert answer["notes"] == ["Pump has half a character in it, shown as \ufffd; type it anew."]
    answer = read_file(plan={"circulation.pump": "\ud83d\ude00 fine"}, version=2)
    assert answer["notes"] == [] and answer["plan"]["circulation.pump"] == "\U0001f600 fine"
    text, notes = link.read("#start=2&bath.length=50\ud800in&b\udc00=1")
    assert text == {"bath.length": "50\ufffdin"} and "not a question" in notes[0]
    assert link.write(Plan.from_mapping({"bath.length": "50 \udfff"}))
    for op in ("solve", "csv", "file_write", "calendar", "workings"):
        assert "error" not in json.loads(api.run(json.dumps({"op": op, "plan": {"bath.length": "50 \ud800"}})))


def test_a_list_in_place_of_an_answer_is_told_not_dropped_in_silence():
    answer = read_file(plan={"bath.length": ["30 in"], "bath.width": "25 in"}, version=2)
    assert answer == {"plan": {"bath.width": "25 in"}, "notes": [
        "Bath length holds a list or a group where one answer belongs; it was left out."]}
    answer = read_file(plan={"air.pumps": [{"name": ["x"], "power": {"a": 1}}]}, version=2)
    assert answer["notes"][0].startswith("Air pumps I can get, row 1: Pump holds a list")


def test_a_cell_as_long_as_a_book_is_told_and_left_out():
    answer = read_file(plan={"bath.length": "9" * 250_000, "air.pumps.1.name": "x" * 250_000, "bath.width": "25 in"},
                       version=2)
    assert answer["plan"] == {"bath.width": "25 in"}
    assert answer["notes"] == [
        "Bath length is 250,000 characters long, more than any answer; it was left out.",
        "Air pumps I can get, row 1: Pump is 250,000 characters long, more than any answer; it was left out."]


def test_a_row_of_five_thousand_digits_is_no_row():
    key = f"air.pumps.{'9' * 5000}.name"
    assert Plan({key: "x"}).rows["air.pumps"] == Plan({}).rows["air.pumps"]
    answer = read_file(plan={key: "x", "bath.width": "25 in"}, version=2)
    assert answer["plan"] == {"bath.width": "25 in"} and "is not a question" in answer["notes"][0]
    assert len(answer["notes"][0]) < 200
    assert "not a question" in link.read(f"#start=2&{key}=x")[1][0]


@pytest.mark.parametrize("value, kind, text", [
    (3.99e-9 * 1e-3, "volume", "less than 0.01 mL"), (3.99e-12, "mass", "less than 0.01 mg"), (5e-7, "mass", "0.5 mg"),
    (0.00123, "mass", "0.00123 kg"), (1e3, "concentration", "1,000 mg/L"), (0.0, "volume", "0 L")])
def test_trifles_are_shown_in_a_smaller_unit_or_as_less_than_something(value, kind, text):
    assert units.show(value, kind, "metric") == text


@pytest.mark.parametrize("value, text", [(3, "3"), (999_900_000, "999,900,000"), (28_553_727_591_696, "28.6 trillion"),
                                         (2.5e9, "2.5 billion"), (0.0, "0"), (1e20, "more than 1,000 trillion")])
def test_great_counts_get_words(value, text):
    assert units.count(value) == text


def test_a_list_of_what_is_allowed_holds_no_empty_word():
    sentence = fault_of("feed.salts.1.name", "table salt", **{"feed.way": "salts"})
    assert sentence.startswith("Row 1: Salt must be one of: calcium_nitrate, ") and ": ," not in sentence


@pytest.mark.parametrize("typed", [
    {"bath.film": "0"}, {"circulation.drain_fall": "50 ft"}, {"circulation.main_fall": "50 ft", "bath.count": "4"},
    {"board.sheet_width": "4 in"}, {"acidity.alkalinity": "0 mg/L"}, {"reservoir.known_depth": "1 cm"},
    {"bath.water_depth": "1/2 in", "water.scheme": "still"}, {"air.stone_pressure": "50 kPa"},
    {"board.pot": "6 in", "schedule.stages": "two"}, {"board.spacing": "3 in", "schedule.stages": "two"},
])
def test_no_default_is_accused_of_what_was_typed(typed):
    faults = solve(Plan(typed)).faults
    assert faults and set(faults) <= set(typed)
