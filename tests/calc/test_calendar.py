"""The iCalendar file, read back by a general library and by the letter of RFC 5545."""

import json
from datetime import date, timedelta

import icalendar
import pytest
from hypothesis import given, settings, strategies as st

from calc import api, icalendar as ical
from calc.keeping import waterwork
from calc.keeping.rounds import METERS_D, STRAINER_D
from calc.plan import Plan
from calc.render import calendar
from calc.solve import solve


def ask(name="", **plan):
    typed = {key.replace("__", "."): value for key, value in plan.items()}
    text = json.dumps({"op": "calendar", "name": name, "plan": typed})
    return json.loads(api.run(text))["text"]


def read(text):
    return icalendar.Calendar.from_ical(text.encode("utf-8"))


def unfold(text):
    return text.replace("\r\n ", "")


def test_every_date_of_every_batch_is_an_event_of_a_whole_day():
    plan = {"schedule.stages": "two", "schedule.weeks": "6"}
    rows = solve(Plan(plan)).value("schedule.batches")
    text = calendar.write(solve(Plan(plan)))
    found = {}
    for event in read(text).walk("VEVENT"):
        start, end = event["DTSTART"].dt, event["DTEND"].dt
        assert type(start) is date and end - start == timedelta(1)
        found[str(event["UID"])] = start.isoformat()
    who = calendar.whose(solve(Plan(plan)))
    wanted = {f"{row['sow']}-leaf-lettuce-{row['batch']}-{what}-{who}@{calendar.HOST}": row[what]
              for row in rows for what in ("sow", "transplant", "apart", "harvest")}
    assert {uid: day for uid, day in found.items() if not uid.startswith("water-")} == wanted and len(rows) == 6


def recurring(event):
    """The days of an event of a whole day, its repeats among them, by the rule as it is written."""
    first = event["DTSTART"].dt
    if "RRULE" not in event:
        return [first]
    (every,), (last,) = event["RRULE"]["INTERVAL"], event["RRULE"]["UNTIL"]
    assert event["RRULE"]["FREQ"] == ["DAILY"] and first < last
    left_out = {one.dt for one in event["EXDATE"].dts} if "EXDATE" in event else set()
    days = [first + timedelta(at) for at in range(0, (last - first).days + 1, every)]
    assert left_out <= set(days)
    return [day for day in days if day not in left_out]


@pytest.mark.parametrize("plan", [{}, {"water.scheme": "still"}, {"use.longest_keep": "21 d"},
                                  {"schedule.stages": "two", "schedule.weeks": "30", "units": "metric"}])
def test_the_work_on_the_water_is_in_it_from_the_first_plants_to_the_last_harvest(plan):
    design = solve(Plan.from_mapping(plan))
    events = {str(one["UID"]).split("-")[1]: one for one in read(calendar.write(design)).walk("VEVENT")
              if str(one["UID"]).startswith("water-")}
    rows = design.value("schedule.batches")
    first = min(date.fromisoformat(row["transplant"]) for row in rows)
    last = max(date.fromisoformat(row["harvest"]) for row in rows)
    assert recurring(events["fill"]) == [max(first - timedelta(7), design.value("schedule.start"))]
    assert recurring(events["readings"]) == [first]
    circulates = plan.get("water.scheme") != "still"
    for code, every in (("round", 7), ("strainer", STRAINER_D), ("meters", METERS_D),
                        ("change", int(design.value("use.replace_after") // 86_400))):
        wanted = [first + timedelta(day) for day in range(every, (last - first).days + 1, every)]
        if code == "strainer" and not circulates:
            assert code not in events
            continue
        assert recurring(events[code]) == wanted, code
    changes = set(recurring(events["change"]))
    every = int(design.value("use.days_to_top_up") // 86_400)
    wanted = [day for day in (first + timedelta(at) for at in range(every, (last - first).days + 1, every))
              if day not in changes]
    if plan.get("water.scheme") == "still":
        # Its roots breathe in the gap of air that the falling water leaves: it is not filled up again.
        assert wanted and "top" not in events
        wanted = []
    assert (recurring(events["top"]) if wanted else []) == wanted
    assert design.shown("water.working_volume") in str(events["change"]["DESCRIPTION"])


def test_a_series_from_which_days_are_left_out_is_read_back():
    days = tuple(date(2027, 3, 1) + timedelta(at) for at in (0, 5, 15, 20))
    work = waterwork.Work("top-up", 5, "Top up", "Water")
    text = ical.write([calendar._of_water(waterwork.Dated(work, days), "x")], days[0], calendar.PRODUCT)
    (event,) = read(text).walk("VEVENT")
    assert tuple(recurring(event)) == days


def test_two_plans_in_one_calendar_leave_each_other_alone_and_one_plan_moves_its_own():
    def names(**plan):
        return {str(event["UID"]) for event in read(ask(**plan)).walk("VEVENT")}

    longer = {"bath__length": "60 in"}
    assert not names() & names(**longer), "without names each plan is another"
    assert not names(name="Tote") & names(name="Bucket") and not names(name="Tote") & names()
    water = {one for one in names(name="Tote") if one.startswith("water-")}
    assert len(water) == 7 and water == {one for one in names(name="Tote", **longer) if one.startswith("water-")}


@settings(max_examples=20, deadline=None)
@given(st.integers(1, 30), st.integers(1, 20), st.dates(date(2000, 1, 1), date(2100, 12, 31)))
def test_any_calendar_comes_back_through_the_library(every, weeks, start):
    text = ask(schedule__every=str(every), schedule__weeks=str(weeks), schedule__start=start.isoformat())
    if not text:
        return
    found = read(text)
    assert not found.errors and all(not event.errors for event in found.walk("VEVENT"))
    # The library may fold elsewhere, but unfolded it writes what was read.
    again = read(found.to_ical().decode("utf-8"))
    for one, other in zip(found.walk("VEVENT"), again.walk("VEVENT"), strict=True):
        assert all(str(one[name]) == str(other[name]) for name in ("UID", "SUMMARY", "DESCRIPTION"))
        assert one["DTSTART"].dt == other["DTSTART"].dt
        assert one["DTSTAMP"].dt.isoformat() == f"{start.isoformat()}T00:00:00+00:00"


def test_lines_end_in_crlf_and_hold_75_octets_at_most():
    text = ask()
    lines = text.split("\r\n")
    assert lines[-1] == "" and "\n" not in text.replace("\r\n", "") and "\r" not in text.replace("\r\n", "")
    assert max(len(line.encode("utf-8")) for line in lines) <= 75
    assert any(line.startswith(" ") for line in lines)
    assert lines[:2] == ["BEGIN:VCALENDAR", "VERSION:2.0"] and lines[-2] == "END:VCALENDAR"
    assert "\\," in unfold(text)


@given(st.text(max_size=400))
def test_folding_loses_nothing_and_cuts_no_letter(words):
    line = "SUMMARY:" + ical.escape(words)
    folded = ical.fold(line)
    assert folded.endswith("\r\n") and unfold(folded) == line + "\r\n"
    assert all(len(piece.encode("utf-8")) <= 75 for piece in folded.split("\r\n"))


@given(st.text(st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp")), max_size=200))
def test_an_escaped_text_is_read_back_by_the_library(words):
    text = ("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\nBEGIN:VEVENT\r\nUID:1\r\nDTSTAMP:20270301T000000Z\r\n"
            + ical.fold("SUMMARY:" + ical.escape(words)) + "END:VEVENT\r\nEND:VCALENDAR\r\n")
    assert str(read(text).walk("VEVENT")[0]["SUMMARY"]) == words


@pytest.mark.parametrize(("text", "written"), [
    ("a,b;c\\d", "a\\,b\\;c\\\\d"), ("one\ntwo", "one\\ntwo"), ("one\r\ntwo", "one\\ntwo"), ("bell\x07", "bell")])
def test_escapes_are_those_of_the_standard(text, written):
    assert ical.escape(text) == written


def test_one_plan_gives_one_file():
    assert ask() == ask()
    names = [line for line in ask().split("\r\n") if line.startswith("UID:")]
    assert len(set(names)) == len(names) == 48 + 7


def test_a_second_import_moves_the_events_of_the_same_batches():
    def names(text):
        return {str(event["UID"]) for event in read(text).walk("VEVENT")}
    assert names(ask(name="Tote")) == names(ask(name="Tote", schedule__pace="fast", schedule__germination="60 %"))


def test_no_dates_make_no_file():
    assert ask(schedule__start="wet") == ""
    assert ask(schedule__sites="1") == ""


def test_a_still_bath_is_sent_to_no_plug_no_stone_and_no_mark():
    still, moved = (unfold(ask(water__scheme=scheme, schedule__start="2027-03-01")) for scheme in ("still", "aerated"))
    assert "Weekly round" in still and "let it stand a day" in still
    for word in ("air stones", "Unplug", "everything on", "up to the mark"):
        assert word not in still and word in moved.replace("\\,", ","), word
