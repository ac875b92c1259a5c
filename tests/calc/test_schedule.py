"""The calendar: dates in order, never a site too many, and the same answer as counting plants day by day."""

import json
from collections import Counter
from datetime import date, timedelta

import pytest
from hypothesis import given, settings, strategies as st

from calc.data import crops as data
from calc.plan import Plan
from calc.render import page
from calc.solve import as_json, solve
from calc.topics import schedule

KEYS = [crop.key for crop in data.CROPS]
SMALL = ["leaf lettuce", "basil", "dill", "celery", "arugula", "pak choi"]


def design(plan=None, rows=None, **more):
    text = {name.replace("__", "."): value for name, value in more.items()}
    return solve(Plan.from_mapping({**(plan or {}), **text, **({"crops.rows": rows} if rows else {})}))


def day(text):
    return date.fromisoformat(text)


def standing(one):
    """Plants close and plants wide on each day, counted batch by batch from the dates alone."""
    close, wide = Counter(), Counter()
    for row in one.value("schedule.batches"):
        apart = day(row["apart"]) if row["apart"] else day(row["transplant"])
        at = day(row["transplant"])
        while at < day(row["free"]):
            (close if at < apart else wide)[at] += row["plants"]
            at += timedelta(1)
    return close, wide


@st.composite
def plans(draw):
    keys = draw(st.lists(st.sampled_from(SMALL), min_size=1, max_size=3, unique=True))
    plan = {"schedule.aim": draw(st.sampled_from(["sites", "heads"])),
            "schedule.heads": str(draw(st.integers(1, 400))), "schedule.weeks": str(draw(st.integers(1, 60))),
            "schedule.every": str(draw(st.integers(1, 60))), "schedule.pace": draw(st.sampled_from(
                ["slow", "middle", "fast"])), "schedule.germination": f"{draw(st.integers(5, 100))} %",
            "schedule.culls": f"{draw(st.integers(0, 95))} %", "schedule.raft_loss": f"{draw(st.integers(0, 90))} %",
            "schedule.turnaround": str(draw(st.integers(0, 60))),
            "schedule.stages": draw(st.sampled_from(["one", "two"])),
            "bath.length": f"{draw(st.integers(30, 300))} in", "bath.count": str(draw(st.integers(1, 4)))}
    return plan, [{"crop": key} for key in keys]


@settings(max_examples=120, deadline=None)
@given(plans())
def test_no_day_ever_uses_more_sites_than_exist(given_plan):
    one = design(*given_plan)
    assert one.faults == {}, one.faults
    there = one.value("board.sites") * one.plan.values["bath.count"]
    close, wide = standing(one)
    room = 0.0
    if given_plan[0]["schedule.stages"] == "two":
        room = (one.plan.values["schedule.close_spacing"] / one.value("board.spacing_used")) ** 2
    for at in set(close) | set(wide):
        assert close[at] * room + wide[at] <= there + 1e-6
    busy = one.value("schedule.busy")
    assert all(0 <= row["sites"] <= there and row["free"] == there - row["sites"] for row in busy)
    assert one.value("schedule.sites_used") == max((row["sites"] for row in busy), default=0)
    if room == 0.0 and wide:
        assert one.value("schedule.sites_used") == max(wide.values())


@settings(max_examples=60, deadline=None)
@given(plans())
def test_dates_are_in_order_and_seeds_are_never_fewer_than_plants(given_plan):
    one = design(*given_plan)
    for row in one.value("schedule.batches"):
        steps = [row["sow"], row["transplant"], *([row["apart"]] if row["apart"] else []), row["ready"],
                 row["harvest"], row["free"]]
        assert steps == sorted(steps) and row["sow"] < row["transplant"] < row["harvest"]
        assert row["seeds"] >= row["cells"] >= row["plants"] >= row["heads"] >= 0
        assert row["plants"] >= 1
    starts = [row["sow"] for row in one.value("schedule.batches")]
    assert starts == sorted(starts)
    if starts:
        assert one.value("schedule.first_harvest") == min(day(row["harvest"]) for row in one.value("schedule.batches"))


@settings(max_examples=60, deadline=None)
@given(plans())
def test_whole_batches_never_beat_littles_law(given_plan):
    one = design(*given_plan)
    if given_plan[0]["schedule.aim"] == "sites":
        assert one.value("schedule.heads_per_week") <= one.value("schedule.most_heads") + 1e-9


@given(st.integers(1, 200), st.integers(0, 100), st.integers(1, 60), st.integers(0, 60), st.integers(0, 3000),
       st.floats(0.05, 1.0))
def test_the_largest_batch_fits_and_one_more_plant_does_not(wide, close, every, rest, sites, room):
    stay = schedule.Stay(10, close, wide, rest, 0, room)
    most = stay.most_plants(sites, every)
    assert most >= 0 and (most == 0 or stay.sites(most, every) <= sites)
    assert stay.sites(most + 1, every) > sites


@given(st.integers(0, 1000), st.lists(st.floats(0.0, 1e3), min_size=1, max_size=8))
def test_a_split_never_sums_to_more_than_the_whole(whole, parts):
    found = schedule.split(whole, parts)
    assert sum(found) == (whole if sum(parts) > 0 else 0) and min(found) >= 0


@pytest.mark.parametrize(("heads", "days", "sites"), [(7, 24, 28), (12, 28, 48), (20, 35, 100)])
def test_heads_a_week_ask_for_the_sites_of_the_pipeline(heads, days, sites):
    rows = [{"crop": "leaf lettuce", "raft_days": str(days)}]
    one = design(rows=rows, schedule__aim="heads", schedule__heads=str(heads), bath__length="200 in",
                 bath__width="60 in")
    assert one.value("schedule.sites_needed") == sites and one.value("schedule.fits") is True
    assert one.value("schedule.heads_per_week") == heads
    # Little's law is the floor that whole weekly batches stand on.
    assert heads * days / 7 <= sites
    assert one.value("schedule.sites_used") == sites


def test_seeds_allow_for_both_losses():
    one = design(rows=[{"crop": "leaf lettuce"}], schedule__aim="heads", schedule__heads="12", bath__length="100 in",
                 bath__width="50 in")
    assert one.value("schedule.seeds_per_batch") == 15
    # 21 days of nursery, a sowing each week: three trays stand side by side.
    assert one.value("schedule.nursery_cells") == 45


def test_clumps_are_sown_several_seeds_to_a_cell():
    row = design(rows=[{"crop": "cilantro"}]).value("schedule.batches")[0]
    assert row["seeds"] == 8 * row["cells"]


def test_the_default_calendar_by_hand():
    one = design()
    row = one.value("schedule.batches")[1]
    assert (row["sow"], row["transplant"], row["ready"], row["harvest"]) == (
        "2027-03-08", "2027-03-29", "2027-04-22", "2027-04-30")
    assert one.value("schedule.sowings") == 16
    assert date(2027, 3, 1).weekday() == 0


def test_a_wish_that_does_not_fit_is_told_with_what_would():
    one = design(schedule__aim="heads", schedule__heads="12")
    assert one.value("schedule.fits") is False
    assert one.value("schedule.sites_needed") == 60
    text = next(caution.text for caution in one.cautions if caution.code == "schedule-too-many")
    there = one.value("schedule.sites_available")
    assert f"need 60 sites and there are {there}" in text and f"build {60 - there} more sites" in text
    # Cut after 24 days and not after 32, four batches stand side by side and not five.
    assert "needs 48" in text
    assert one.value("schedule.heads_per_week") == there // 5


def test_too_few_sites_for_one_plant_say_how_rarely_to_sow():
    one = design(rows=[{"crop": "celery"}], schedule__sites="5")
    assert one.value("schedule.batches") == [] and one.value("schedule.sites_used") == 0
    text = next(caution.text for caution in one.cautions if caution.code == "schedule-none-celery")
    assert "sow every 18 days instead" in text and "Give it 13 sites" in text
    again = design(rows=[{"crop": "celery"}], schedule__sites="5", schedule__every="18")
    assert len(again.value("schedule.batches")) > 0


def test_crops_that_ask_for_more_sites_than_there_are_get_their_part():
    one = design(rows=[{"crop": "leaf lettuce", "sites": "60"}, {"crop": "basil", "sites": "30"}])
    assert "schedule-crop-sites" in {caution.code for caution in one.cautions}
    assert one.value("schedule.sites_used") <= one.value("schedule.sites_available")


def test_a_share_leaves_the_rest_of_the_raft_alone():
    one = design(rows=[{"crop": "leaf lettuce", "share": "50 %"}])
    assert one.value("schedule.sites_used") <= one.value("board.sites") // 2


def test_two_stages_hold_more_on_the_same_raft():
    plan = {"bath.length": "100 in", "bath.width": "50 in"}
    one, two = design(plan), design(plan, schedule__stages="two")
    assert two.value("schedule.heads_per_week") > one.value("schedule.heads_per_week")
    assert two.value("schedule.close_places") > 0 and one.value("schedule.close_places") is None
    assert two.value("schedule.batches")[0]["apart"] == "2027-04-01"


@pytest.mark.parametrize(("plan", "key", "words"), [
    ({"schedule.sites": "5000"}, "schedule.sites", "your boards have"),
    ({"schedule.stages": "two", "schedule.close_spacing": "9 in"}, "schedule.close_spacing", "closer than the full"),
    ({"schedule.stages": "two", "schedule.close_days": "32"}, "schedule.close_days", "so enter 31 or less"),
    ({"schedule.start": "1 March"}, "schedule.start", "must be a date, written like"),
    ({"schedule.weeks": "0"}, "schedule.weeks", "between 1 and 60"),
    ({"schedule.germination": "0 %"}, "schedule.germination", "between 5 % and 100 %"),
])
def test_bad_answers_get_a_sentence_and_the_rest_stands(plan, key, words):
    one = design(plan)
    assert words in one.faults[key] and list(one.faults) == [key]
    assert one.value("schedule.batches") is None and one.value("board.sites") > 0


def test_it_waits_for_a_board():
    one = design({"board.pot": "wet"})
    assert one.value("schedule.sites_used") is None
    assert one.waiting["schedule"] and one.value("crops.spacing") > 0


@settings(max_examples=25, deadline=None)
@given(st.lists(st.sampled_from(KEYS), min_size=1, max_size=8, unique=True), st.sampled_from(["us", "metric"]),
       st.sampled_from(["1", "60"]), st.sampled_from(["2000-01-01", "2100-12-31"]), st.sampled_from(["one", "two"]))
def test_extremes_never_raise_and_are_plain_data(keys, system, every, start, stages):
    one = design({"units": system, "schedule.every": every, "schedule.weeks": "60", "schedule.start": start,
                  "schedule.stages": stages, "schedule.aim": "heads", "schedule.heads": "20000",
                  "schedule.germination": "5 %", "schedule.culls": "95 %", "schedule.raft_loss": "90 %",
                  "schedule.turnaround": "60"}, [{"crop": key, "nursery_days": "200"} for key in keys])
    assert not {"crops", "schedule"} & set(one.limits)
    json.dumps(as_json(one), allow_nan=False)


def test_both_systems_draw_their_chart():
    for system in ("us", "metric"):
        html = page.everything(design({"units": system}))["tables-running"]
        assert "Sites busy by week" in html and "2027-04-12" in html


def test_a_calendar_past_the_last_year_of_dates_is_refused_in_words():
    assert design({"schedule.start": "2101-01-01"}).faults["schedule.start"].endswith("2100-12-31.")


def test_a_split_lost_to_whole_batches_is_said():
    def codes(rows, **more):
        found = design({**more}, rows)
        return {caution.code for caution in found.cautions}
    uneven = [{"crop": "leaf lettuce", "share": "90 %"}, {"crop": "basil", "share": "10 %"}]
    assert "schedule-split" in codes(uneven, **{"bath.length": "24 in"})
    assert "schedule-split" not in codes([{"crop": "leaf lettuce"}])
