"""Crops: the table says where each cell is from, and the common range never promises what one crop forbids."""

import json

import pytest
from hypothesis import given, settings, strategies as st

from calc.data import crops as data
from calc.data import roots
from calc.plan import Plan
from calc.relations.base import MEMORY, PRACTICE, PUBLISHED
from calc.render import page, sheets
from calc.render.extras import crops as extra
from calc.solve import as_json, solve
from calc.topics import board, crops

KEYS = [crop.key for crop in data.CROPS]
CHOICES = st.lists(st.sampled_from(KEYS), min_size=1, max_size=crops.MOST_CROPS, unique=True)


def design(*rows, **plan):
    given_rows = [{"crop": row} if isinstance(row, str) else row for row in rows]
    text = {name.replace("__", "."): value for name, value in plan.items()}
    return solve(Plan.from_mapping({**text, **({"crops.rows": given_rows} if rows else {})}))


def codes(one):
    return {caution.code for caution in one.cautions}


def test_there_are_fifteen_crops_and_more_that_a_raft_can_grow():
    assert sum(crop.fitness.text not in ("no", "poor") for crop in data.CROPS) >= 15
    assert len(set(KEYS)) == len(KEYS)


@pytest.mark.parametrize("crop", data.CROPS, ids=KEYS)
def test_every_cell_has_a_range_a_source_and_a_status(crop):
    for name in data.CELLS:
        cell = getattr(crop, name)
        assert 0 < cell.low <= cell.high, name
        assert cell.source, name
        assert cell.status.startswith(PUBLISHED) or cell.status in (MEMORY, PRACTICE, data.JUDGMENT), name
    for name in data.WORDS:
        words = getattr(crop, name)
        assert words.text and words.source and words.status, name
    assert crop.fitness.text in data.FITNESS and crop.stage.text in roots.ROOT_MASS_G
    assert crop.spacing.low <= crop.planned_spacing.low <= crop.spacing.high
    assert crop.pot.low < crop.planned_spacing.low
    assert 10 <= crop.root.low < crop.root.high <= 26 and 4.5 < crop.ph.low < crop.ph.high < 7.5


def test_cells_read_in_print_are_as_printed():
    # FAO 589 Appendix 1, the line of basil; Currey and others 2019 by their abstract.
    parsley, dill = data.BY_KEY["parsley"], data.BY_KEY["dill"]
    assert (parsley.nursery.low, parsley.nursery.high) == (35, 42) and dill.mass.high == pytest.approx(0.0242, abs=5e-4)
    basil, parsley, cilantro = data.BY_KEY["basil"], data.BY_KEY["parsley"], data.BY_KEY["cilantro"]
    assert (basil.spacing.low, basil.spacing.high) == pytest.approx((0.15, 0.25))
    assert (basil.ph.low, basil.ph.high, basil.ph.status) == (5.5, 6.5, PUBLISHED)
    assert parsley.mass.high - parsley.mass.low == pytest.approx(0.0133, abs=5e-4)
    assert cilantro.mass.high - cilantro.mass.low == pytest.approx(0.0210, abs=5e-4)


@pytest.mark.parametrize("system", ["us", "metric"])
def test_leaf_lettuce_keeps_the_boards_own_spacing(system):
    one = design(units=system)
    field = next(field for field in board.FIELDS if field.key == "board.spacing")
    written = field.default[system == "metric"] or {"us": "8 in", "metric": "200 mm"}[system]
    assert one.shown("crops.spacing") == written == {"us": "8 in", "metric": "200 mm"}[system]
    assert one.value("crops.root_stage") == "head"


@given(st.sampled_from(data.CROPS))
def test_a_half_inch_never_brings_plants_closer(crop):
    metric, us = crop.spacing_for("metric"), crop.spacing_for("us")
    assert metric <= us + 1e-9 <= metric + 0.0127 + 2e-9
    assert us / 0.0127 == pytest.approx(round(us / 0.0127))


@settings(max_examples=60, deadline=None)
@given(CHOICES)
def test_the_common_range_lies_in_every_crops_range_or_is_not_given(keys):
    one = design(*keys)
    assert one.faults == {}
    for need in crops.NEEDS:
        low, high = (one.value(f"crops.{need.key}_{end}") for end in ("low", "high"))
        cells = [getattr(data.BY_KEY[key], need.cell) for key in keys]
        if low is None:
            assert high is None and f"crops-{need.key}" in codes(one)
            assert any(row["what"] == need.name for row in one.value("crops.conflicts"))
            assert any(one_cell.low > other.high for one_cell in cells for other in cells)
        else:
            assert all(cell.low <= low <= high <= cell.high for cell in cells)
    assert one.value("crops.spacing") == max(data.BY_KEY[key].spacing_for("us") for key in keys)


@given(st.lists(st.sampled_from(data.CROPS), min_size=2, max_size=8, unique=True), st.sampled_from(crops.NEEDS))
def test_adding_a_crop_never_widens_the_common_range(found, need):
    cells = [getattr(crop, need.cell) for crop in found]
    before, after = crops.common(cells[:-1]), crops.common(cells)
    if after is not None:
        assert before is not None and before[0] <= after[0] <= after[1] <= before[1]


def test_a_conflict_is_told_in_plain_words_and_units():
    one = design("leaf lettuce", "tomato", "dill")
    text = next(caution.text for caution in one.cautions if caution.code == "crops-ec")
    assert text.startswith("EC: Leaf lettuce is usually kept at 1.2 mS/cm to 1.8 mS/cm, Tomato at 2 mS/cm to 4 mS/cm")
    assert one.value("crops.ec_low") is None
    text = next(caution.text for caution in design("dill", "tomato").cautions if caution.code == "crops-ec")
    assert text.startswith("EC: Dill is usually kept at 1 mS/cm to 1.8 mS/cm") and "grew alike from 0.5" in text
    cool = design("watercress", "pak choi", units="metric")
    text = next(caution.text for caution in cool.cautions if caution.code == "crops-root")
    assert "12 °C to 20 °C" in text and "21 °C to 25 °C" in text
    row = next(row for row in cool.value("crops.conflicts") if row["what"] == "Water temperature")
    assert (row["less"], row["more"], row["gap"]) == ("watercress", "pak choi", 1)


def test_ranges_that_only_touch_are_given_with_a_word():
    one = design("basil", "watercress")
    assert one.value("crops.root_low") == one.value("crops.root_high") == 20
    assert "crops-root" in codes(one)


def test_water_and_mass_are_averaged_by_share():
    one = design({"crop": "leaf lettuce", "share": "25 %"}, {"crop": "celery", "share": "75 %"})
    assert one.value("crops.water_low") == pytest.approx((0.25 * 0.10 + 0.75 * 0.40) * 1e-3)
    assert one.value("crops.fresh_mass") == pytest.approx(0.25 * 0.1565 + 0.75 * 0.55)
    by_count = design({"crop": "leaf lettuce", "sites": "5"}, {"crop": "celery", "sites": "15"})
    assert by_count.value("crops.water_low") == pytest.approx(one.value("crops.water_low"))


@pytest.mark.parametrize(("rows", "words"), [
    ([{"crop": "basil", "share": "70 %"}, {"crop": "kale", "share": "40 %"}], "the shares come to 110 %"),
    ([{"crop": "basil", "share": "100 %"}, {"crop": "kale"}], "no share is left for Kale"),
    ([{"crop": "basil"}, {"crop": "basil"}], "Sweet basil stands here twice"),
    ([{"crop": "basil", "sites": "4"}, {"crop": "kale"}], "give every crop a number of sites"),
    ([{"crop": "basil", "sites": "4", "share": "50 %"}], "no share beside a number"),
])
def test_rows_that_contradict_each_other_are_told(rows, words):
    one = design(*rows)
    assert words in one.faults["crops.rows"]
    assert one.value("crops.spacing") is None and one.value("schedule.sowings") is None
    assert {"schedule", "crops"} <= set(one.waiting) and one.value("water.working_volume") > 0


def test_no_crop_at_all_is_told():
    one = solve(Plan({"crops.rows.1.crop": ""}))
    assert "choose at least one crop" in one.faults["crops.rows"]


def test_an_unknown_crop_is_told_beside_its_cell():
    one = solve(Plan({"crops.rows.1.crop": "triffid"}))
    assert "must be one of: leaf lettuce" in one.faults["crops.rows.1.crop"]


def test_watercress_and_crops_that_no_raft_holds_are_cautioned():
    one = design("watercress", "tomato", "spinach", "mint")
    assert {"crops-watercress", "crops-fit-tomato", "crops-fit-spinach", "crops-mint"} <= codes(one)
    assert one.cautions[0].level == "danger"
    assert "crops-mint" not in codes(design("mint"))
    assert one.value("crops.root_stage") == "fruiting"


def test_what_is_shown_carries_status_and_is_plain_data():
    one = design("basil", "watercress", "pak choi")
    html = "".join(page.everything(one).values())
    assert data.JUDGMENT in html and MEMORY in html and "Where two crops part" in html
    json.dumps(as_json(one))
    assert extra.between(one, 0.2, 0.25, "length", "in", "cm") == "7.87 to 9.84 in"
    assert extra.between(design(units="metric"), 0.2, 0.2, "length", "in", "cm") == "20 cm"


def test_a_caution_escapes_nothing_that_was_typed_into_the_page():
    one = solve(Plan({"crops.rows.1.crop": "<b>leaf</b>"}))
    assert "<b>leaf" not in sheets.planner(one) + "".join(page.everything(one).values())


def test_feed_and_ph_are_held_against_the_crops_chosen():
    def codes(**plan):
        return {one.code for one in solve(Plan({key.replace("__", "."): text for key, text in plan.items()})).cautions}
    assert not {"feed-crops", "acidity-crops"} & codes()
    assert "feed-crops" in codes(feed__strength="200 %") and "feed-crops" in codes(feed__strength="30 %")
    assert "acidity-crops" in codes(acidity__target_ph="5") and "acidity-crops" in codes(acidity__target_ph="7")
