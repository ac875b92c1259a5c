"""A plan keeps what was typed, and tells every fault beside its field."""

import pytest
from hypothesis import given, strategies as st

from calc import units
from calc.plan import FIELDS, TABLES, Plan, bounds_sentence, find_column, read_cell
from calc.solve import solve

GOOD_AND_ODD = ["1 in", "3 5/8 in", "1e9", "0.0001 mm", "100 L/min"]
BAD_LENGTHS = ["", "wet", "-4 in", "0", "1e400", "nan", "inf", "-inf", "5 gal", "<script>alert(1)</script>", "9" * 400]


@pytest.mark.parametrize("system", ["us", "metric"])
def test_the_defaults_have_no_fault(system):
    design = solve(Plan({"units": system}))
    assert design.faults == {}
    assert design.limits == {}


@pytest.mark.parametrize("typed", BAD_LENGTHS)
def test_a_bad_length_is_told_by_name_and_kept(typed):
    plan = Plan({"bath.length": typed})
    assert list(plan.faults) == ["bath.length"]
    assert plan.faults["bath.length"].startswith("Bath length")
    assert plan.faults["bath.length"].endswith(".")
    assert plan.text["bath.length"] == typed


def test_a_wrong_dimension_names_both_quantities():
    message = Plan({"bath.length": "5 gal"}).faults["bath.length"]
    assert "volume" in message and "length" in message


def test_a_bound_is_said_in_the_readers_units():
    assert "in" in Plan({"bath.depth": "900 in"}).faults["bath.depth"]
    assert "m" in Plan({"units": "metric", "bath.depth": "9 m"}).faults["bath.depth"]


@pytest.mark.parametrize("system", ["us", "metric"])
def test_a_bound_typed_back_as_it_was_told_is_allowed(system):
    for _key, field in FIELDS.items():
        for bound, up in ((field.minimum, True), (field.maximum, False)):
            if bound is not None and field.kind != "whole":
                told = units.show_bound(bound, field.kind, system, field.us, field.metric, up)
                assert told in bounds_sentence(field, system)
                read_cell(field, told, system)


def test_a_bare_number_takes_the_chosen_system():
    assert Plan({"bath.length": "48"}).values["bath.length"] == pytest.approx(48 * 0.0254)
    assert Plan({"units": "metric", "bath.length": "48"}).values["bath.length"] == pytest.approx(0.48)


def test_a_choice_reads_its_value_in_any_case_and_names_the_allowed_ones():
    assert Plan({"bath.shape": "Tapered Box"}).values["bath.shape"] == "tapered box"
    message = Plan({"bath.shape": "cube"}).faults["bath.shape"]
    assert "tapered box" in message and "known volume" in message


def test_questions_that_do_not_apply_are_not_checked():
    plan = Plan({"bath.shape": "round", "bath.length": "wet"})
    assert "bath.length" not in plan.faults


def test_a_list_of_rows_replaces_the_default_rows():
    plan = Plan.from_mapping({"air.pumps": [{"name": "Mine", "free_flow": "40 L/min", "shutoff": "20 kPa",
                                             "power": "30 W"}]})
    assert [row["name"] for row in plan.rows["air.pumps"]] == ["Mine"]


def test_numbers_and_yes_no_are_taken_from_json():
    plan = Plan.from_mapping({"bath.length": 50, "air.spare": True})
    assert plan.text == {"bath.length": "50", "air.spare": "yes"}
    assert plan.faults == {}


@pytest.mark.parametrize("given_plan", [[], None, "text", 3])
def test_a_plan_that_is_no_mapping_is_a_fault(given_plan):
    assert "plan" in Plan.from_mapping(given_plan).faults


def test_an_unknown_question_is_told_and_the_rest_is_read():
    plan = Plan.from_mapping({"bath.colour": "blue", "bath.length": "50 in"})
    assert "bath.colour" in plan.faults
    assert plan.values["bath.length"] == pytest.approx(1.27)


def test_changed_leaves_out_the_defaults():
    plan = Plan({"bath.length": "48 in", "bath.width": "25 in"})
    assert plan.changed() == {"bath.width": "25 in"}


def test_cells_are_found_by_key():
    table, row, column = find_column("air.pumps.2.name")
    assert (table.key, row, column.key) == ("air.pumps", 2, "name")
    assert find_column("air.pumps.0.name") is None
    assert find_column("air.pumps.x.name") is None


def test_every_field_says_where_its_default_comes_from():
    silent = [key for key, field in FIELDS.items() if key != "units" and field.default != ("", "") and not field.why]
    assert silent == []


def test_a_newcomer_needs_at_most_eight_answers():
    for shape in ("box", "tapered box", "round", "tapered round", "known volume"):
        plan = Plan({"bath.shape": shape})
        asked = [key for key, field in FIELDS.items() if field.essential and plan.asked(field)]
        assert len(asked) <= 8, (shape, asked)


@given(st.sampled_from(sorted(FIELDS) + [f"{key}.1.{column.key}" for key, table in TABLES.items()
                                         for column in table.columns]),
       st.one_of(st.text(max_size=400), st.sampled_from(BAD_LENGTHS + GOOD_AND_ODD)))
def test_any_text_in_any_field_is_answered_not_raised(key, typed):
    design = solve(Plan({key: typed}))
    assert all(isinstance(text, str) and text for text in design.faults.values())
    for name, answer in design.answers.items():
        if isinstance(answer.value, float):
            assert answer.value == answer.value and abs(answer.value) != float("inf"), name
            # Frost is below 0 C, and an index is a logarithm.
            signed = answer.spec.kind == "temperature" or name in ("air.margin", "feed.calcium_phosphate_index")
            assert answer.value >= 0 or signed, name


def test_rows_may_be_given_in_place_of_a_choice_or_as_bare_names():
    rows = [{"element": "N", "amount": "100 mg/L"}, {"element": "K", "amount": 150}]
    listed = Plan.from_mapping({"feed.target": rows, "feed.way": "salts",
                                "feed.salts": ["potassium_nitrate", "Calcium nitrate tetrahydrate"]})
    mapped = Plan.from_mapping({"feed.target": {"N": 100, "K": "150 mg/L"}})
    for plan in (listed, mapped):
        assert plan.faults == {} and plan.values["feed.target"] == "own"
        assert [(row["element"], row["amount"]) for row in plan.rows["feed.own_target"]] == [("N", 100.0), ("K", 150.0)]
    assert [row["name"] for row in listed.rows["feed.salts"]] == ["potassium_nitrate", "calcium_nitrate_4h"]
    wrong = Plan.from_mapping({"feed.target": {"Unobtainium": 5}})
    assert "Row 1: Element must be one of" in wrong.faults["feed.own_target.1.element"]
