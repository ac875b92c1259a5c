"""The build sheet and the calendar: how many sheets, whose numbers, and that nothing typed becomes markup."""

import re
from datetime import date

import pytest

from calc import solve
from calc.plan import Plan
from calc.render import calendar as ical
from calc.render.paper import boards, build, calendar, cover, cut, files, leaf, stand, test_week, water_air
from tests.calc import whole

PLANS = sorted(file.stem for file in whole.PLANS.glob("*.json"))


def sheet_of(design, kind="sheet"):
    return files.SHEETS[kind](leaf.Paper(design, "Plan"))


def plain(html):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html).replace("\u00a0", " "))


@pytest.fixture(scope="module")
def example():
    return solve(Plan({}))


@pytest.mark.parametrize("name", PLANS)
def test_six_sheets_at_most_and_one_more_for_each_further_board(name):
    design = whole.plan(name)
    many = sheet_of(design).count('<section class="leaf')
    assert many <= 6 + max(len(boards.of(design)) - 2, 0)
    # Numbered in their order, each saying how many there are.
    html = sheet_of(design)
    assert [f"Sheet {at} of {many}" in html for at in range(1, many + 1)] == [True] * many


@pytest.mark.parametrize("name", PLANS)
def test_four_sheets_of_calendar_at_most_and_two_of_the_list(name):
    assert 1 <= sheet_of(whole.plan(name), "calendar").count('<section class="leaf') <= 4
    assert 1 <= sheet_of(whole.plan(name), "list").count('<section class="leaf') <= 2


@pytest.mark.parametrize("name", ["", *PLANS])
def test_every_danger_of_the_plan_is_told_in_full(name, example):
    design = whole.plan(name) if name else example
    said = plain(sheet_of(design))
    for one in design.cautions:
        if one.level == "danger":
            words = plain(re.sub(r"[<>&]", " ", one.text)).split()
            # The end of the text, for the lead may take the place of its beginning.
            assert " ".join(words[-6:])[:40] in said.replace("&#x27;", "'"), one.code


@pytest.mark.parametrize("name", ["bath.length", "bath.depth", "board.pot", "schedule.start", "air.pumps.1.free_flow"])
def test_a_plan_with_a_fault_still_prints_and_says_no_nonsense(name):
    design = solve(Plan.from_mapping({name: "5 gal"}))
    for kind in files.SHEETS:
        html = sheet_of(design, kind)
        assert '<section class="leaf' in html
        for word in ("NaN", "nan ", "None", "Traceback", "not a number", "inf "):
            assert word not in plain(html), (kind, word)


def test_the_levels_of_the_test_day_are_those_of_the_plan(example):
    checks = {one.do: one.says for one in test_week.checks(example)}
    # 10 in of water, less the film of 1/2 in over the pipe; the reservoir takes 2.63 of its 10 gal of room over 6 in.
    assert checks["Fill the bath until it runs over the pipe"] == "9 1/2 in"
    assert checks["and the bath at"] == example.shown("water.depth_after_stop") == "9 1/2 in"
    rise = 6 * example.value("water.drain_back_volume") / example.value("water.reservoir_headroom")
    assert stand.stopped_level(example) / 0.0254 == pytest.approx(10 + rise)
    # A gallon at 132 gph takes 3,600 s / 132.
    assert checks["Bucket and watch at the inlet: 1 gal takes"] == f"{3600 / 132.1:.0f} s"


def test_one_inlet_of_several_baths_is_timed_not_the_flow_of_all():
    design = whole.plan("four_baths")
    checks = {one.do: one.says for one in test_week.checks(design)}
    a_gallon = 3_600 / (design.value("circulation.flow") * 3_600 / 3.785411784e-3 / 4)
    assert checks["Bucket and watch at the inlet of each bath: 1 gal takes"] == f"{a_gallon:.0f} s"


def test_a_flood_is_told_once_among_the_dangers(example):
    told = [text for _, _, text in cover.dangers(solve(Plan({"bath.length": "12 ft", "bath.width": "4 ft"})))]
    assert sum("runs back" in text for text in told) == 1
    # What is tight and no danger is told as before.
    tight = solve(Plan({"units": "metric", "bath.length": "240 cm", "bath.width": "120 cm"}))
    assert [state for state, _, _ in cover.dangers(tight)][0] == "tight"


def test_a_notch_takes_nothing_off_the_size_of_a_disc():
    bucket, halves = boards.of(whole.plan("bucket")), boards.of(whole.plan("round_tub"))
    assert bucket[0].wide == pytest.approx(bucket[0].tall) == pytest.approx(280.0, abs=0.5)
    assert [one.wide for one in halves] == pytest.approx([494.0, 494.0], abs=0.1)


def test_one_hole_alone_has_no_foam_between_holes(example):
    assert "Foam left between holes" not in plain(sheet_of(whole.plan("bucket")))
    assert f"Foam left between holes: {example.shown('board.web')}." in plain(sheet_of(example))


def test_a_page_of_one_week_is_no_range_of_weeks():
    said = plain(sheet_of(whole.plan("two_crops"), "calendar"))
    assert "Weeks 1 to 12" in said and "Week 13 " in said and "13 to 13" not in said


def test_every_copy_of_a_plan_buys_its_own_foam():
    design = whole.plan("four_baths")
    sheets = next(row["quantity"] for row in design.value("parts.shopping") if row["item"] == "Foam sheet")
    assert sheets == 8 and f"buy {sheets};" in plain(cut.stock(design))


@pytest.mark.parametrize(("typed", "cuts"), [
    # Four boards of 35 7/8 by 47 1/2 in from two sheets of 96 by 48 in: half an inch comes off first.
    ({"bath.length": "12 ft", "bath.width": "4 ft"}, 3),
    # Three boards of 796 by 1,188 mm from a sheet of 2,500 by 1,200 mm.
    ({"units": "metric", "bath.length": "240 cm", "bath.width": "120 cm"}, 4),
    # Two boards as tall as the sheet: nothing to trim there.
    ({"bath.length": "48 in", "bath.width": "48 1/2 in"}, 2)])
def test_a_narrow_strip_of_the_foam_sheet_is_a_cut_as_well(typed, cuts):
    html = cut.stock(solve(Plan(typed)))
    assert f", {cuts} cut" in html
    assert re.findall(r">(\d)</text>", html)[-1] == str(cuts)


def test_a_disc_of_two_boards_is_cut_in_two():
    said = plain(sheet_of(whole.plan("round_tub")))
    assert "Mark its center. Cut it in 2 along the seam." in said


def test_the_hole_in_the_floor_gives_way_to_the_flange_of_its_fitting(example):
    said = plain(sheet_of(example))
    assert "1 1/8 in from the rim’s end, or as far in as the flange must be to lie flat" in said


def poured(design):
    """What the sheet says to pour, in its order."""
    html = test_week._mix(design)
    return [plain(one).strip() for one in re.findall(r"<p>.*?</p>", html)]


@pytest.mark.parametrize("name", ["round_tub", "us_tote", "four_baths", "still_crate"])
def test_salts_are_poured_in_the_order_of_the_plan_calcium_last_and_traces_from_their_stock(name):
    design = whole.plan(name)
    said = poured(design)
    salts = [one for one in said if re.search(r"\d (m|k)?g$", one)]
    assert salts[-1].startswith("Calcium nitrate") and "Potassium nitrate" in said[0]
    # Nobody can weigh what the stock holds: it is measured by the milliliter.
    assert [one for one in said if one.startswith("Trace-element stock")] and not any(
        word in " ".join(said) for word in ("molybdate", "Copper", "Boric"))
    order = [row["words"] for row in design.value("feed.order")]
    places = [next(at for at, words in enumerate(order) if one.rsplit(" ", 2)[0].lower() in words.lower())
              for one in said[:said.index(salts[-1]) + 1]]
    assert places == sorted(places)


def test_the_first_week_expects_less_than_grown_plants_drink_and_fills_no_still_vessel_up(example):
    drunk = {what: (says, alone) for what, says, alone in test_week._rows(example)}
    # All that goes, drunk and evaporated: a keeper cannot tell them apart at the mark.
    gone = example.value("use.per_day") + example.value("heat.evaporated")
    once, twice = (example.shown_as("use.per_day", many * gone).split()[0] for many in (1, 2))
    assert drunk["Top-up since yesterday, gal"] == (f"under {once}", f"0 to {twice}")
    still = whole.plan("still_crate")
    assert not [what for what, _, _ in test_week._rows(still) if what.startswith("Top-up")]
    said = plain(test_week._week(still))
    assert "do not fill it up to the board again" in said and "top up" not in said


def test_the_first_week_tops_up_as_the_plan_says(example):
    assert "top up with nutrient solution of 1.36 mS/cm, then" in plain(test_week._week(example))
    plainly = solve(Plan({"use.topup_strength": "0 %"}))
    assert "top up with plain water, then" in plain(test_week._week(plainly))


def test_two_bottles_are_poured_one_after_the_other(example):
    assert [one.rsplit(" ", 2)[0] for one in poured(example)[:2]] == ["Bottle A", "Bottle B"]


def test_each_check_says_what_to_do_when_it_is_off(example):
    for design in (example, whole.plan("bucket"), whole.plan("still_crate")):
        assert all(one.then and one.says for one in test_week.checks(design))
    assert any("Electrician" in one.then for one in test_week.checks(example))


def test_a_still_bath_has_no_pump_to_build(example):
    titles = [step.title for step in build.steps(whole.plan("still_crate"))]
    assert "Pump and hose" not in titles and "Air" not in titles and "Cords" not in titles
    assert {"Pump and hose", "Air", "Cords", "Standpipe", "Water test"} <= {step.title for step in build.steps(example)}


def test_parts_are_lettered_without_j_and_only_those_there_are(example):
    assert "".join(name for name, _, _ in water_air._key(example)) == "ABCDEFGHIKLMNOP"
    assert "".join(name for name, _, _ in water_air._key(whole.plan("bucket"))) == "HILMOP"


def test_the_standpipe_stands_in_its_notch(example):
    x, y = cover.standpipe_place(example)
    # In the middle of the far end: the raft ends 1/4 in from the wall, the notch 2 in deep and 2 1/4 in wide.
    assert x / 0.0254 == pytest.approx(48 - 0.25 - (2 - 2.25 / 2)) and y / 0.0254 == pytest.approx(12)


def test_the_cut_list_holds_pipe_hose_and_air_line(example):
    found = dict(cut.cut_list(example))
    assert found["Hose, 3/4 in bore"] == "6 ft" and found["Air line, 3/8 in bore"] == "3 of 6 ft"
    assert found["Standpipe, 1-1/4 in PVC Schedule 40"] == "1 of 9 1/2 in"


def test_the_wall_sheet_says_the_rounds_that_the_file_for_a_phone_repeats(example):
    events = ical.write(example)
    said = sheet_of(example, "calendar")
    for words, summary, days in (("weekly round", "Weekly round", 7),
                                 ("clean the overflow strainer", "Clean the overflow strainer", 7),
                                 ("check both meters in their liquids", "Check both meters in their liquids", 14)):
        assert words in said and f"INTERVAL={days}" in events.split(f"SUMMARY:{summary}")[0].rsplit("UID", 1)[1]


def test_the_calendar_and_the_file_for_a_phone_have_the_same_dates(example):
    for design in (example, whole.plan("two_crops")):
        weeks = calendar.weeks_of(design)
        batches = design.value("schedule.batches")
        events = [event for row in batches for event in ical.events(row)]
        for kind, part in (("sow", "seeds"), ("transplant", "plants"), ("harvest", "heads")):
            name = {"sow": "sow", "transplant": "move", "harvest": "cut"}[kind]
            assert sum(sum(getattr(week, name).values()) for week in weeks) == sum(row[part] for row in batches)
            for what, day, _, _ in events:
                if what == kind:
                    week = weeks[(date.fromisoformat(day) - weeks[0].start).days // 7]
                    assert getattr(week, name)


def test_no_more_sites_are_taken_than_the_plan_counts(example):
    for week in calendar.weeks_of(example):
        assert len(week.taken) == week.sites, week.start
        assert week.fresh <= week.taken


def test_a_full_year_of_weeks_is_four_sheets_and_the_rest_is_told():
    design = solve(Plan.from_mapping({"schedule.weeks": "52"}))
    html = sheet_of(design, "calendar")
    assert html.count('<section class="leaf') == 4 and "weeks more are in the iCalendar file" in html


def test_a_name_with_markup_stays_a_name(example):
    paper = leaf.Paper(example, '<b onclick="x">"me" & you</b>', link="https://example.invalid/#<i>")
    for kind, make in files.SHEETS.items():
        html = make(paper)
        assert "<b onclick" not in html and "#<i>" not in html, kind


def test_metric_and_us_say_the_same_tote():
    us, metric = (whole.plan(name) for name in ("us_tote", "us_tote_in_metric"))
    assert sheet_of(us).count('<section class="leaf') == sheet_of(metric).count('<section class="leaf')
    assert " in " in plain(sheet_of(us)) and "875 mm" in plain(sheet_of(metric)) or "876 mm" in plain(sheet_of(metric))


def test_no_style_and_no_handler_stands_in_a_sheet(example):
    for kind in files.SHEETS:
        html = sheet_of(example, kind)
        assert " style=" not in html and "<script" not in html and not re.search(r"\son[a-z]+=", html), kind


def test_a_document_has_its_style_inside_and_asks_nobody(example):
    for name in ("sheet.html", "list.html", "template.html", "calendar.html"):
        html = files.write(leaf.Paper(example, "Plan"), name)
        assert "@page" in html and "<link" not in html and "http" not in html.replace("http://www.w3.org/2000/svg", "")
