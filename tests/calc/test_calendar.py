"""The iCalendar file, read back by a general library and by the letter of RFC 5545."""

import json
from datetime import date, timedelta

import icalendar
import pytest
from hypothesis import given, settings, strategies as st

from calc import api
from calc.plan import Plan
from calc.render import calendar
from calc.solve import solve


def ask(**plan):
    text = json.dumps({"op": "calendar", "plan": {name.replace("__", "."): value for name, value in plan.items()}})
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
    wanted = {f"{row['sow']}-leaf-lettuce-{row['batch']}-{what}@{calendar.HOST}": row[what]
              for row in rows for what in ("sow", "transplant", "apart", "harvest")}
    assert found == wanted and len(rows) == 6


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
    line = "SUMMARY:" + calendar.escape(words)
    folded = calendar.fold(line)
    assert folded.endswith("\r\n") and unfold(folded) == line + "\r\n"
    assert all(len(piece.encode("utf-8")) <= 75 for piece in folded.split("\r\n"))


@given(st.text(st.characters(exclude_categories=("Cs", "Cc", "Zl", "Zp")), max_size=200))
def test_an_escaped_text_is_read_back_by_the_library(words):
    text = ("BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:x\r\nBEGIN:VEVENT\r\nUID:1\r\nDTSTAMP:20270301T000000Z\r\n"
            + calendar.fold("SUMMARY:" + calendar.escape(words)) + "END:VEVENT\r\nEND:VCALENDAR\r\n")
    assert str(read(text).walk("VEVENT")[0]["SUMMARY"]) == words


@pytest.mark.parametrize(("text", "written"), [
    ("a,b;c\\d", "a\\,b\\;c\\\\d"), ("one\ntwo", "one\\ntwo"), ("one\r\ntwo", "one\\ntwo"), ("bell\x07", "bell")])
def test_escapes_are_those_of_the_standard(text, written):
    assert calendar.escape(text) == written


def test_one_plan_gives_one_file():
    assert ask() == ask()
    names = [line for line in ask().split("\r\n") if line.startswith("UID:")]
    assert len(set(names)) == len(names) == 48


def test_a_second_import_moves_the_events_of_the_same_batches():
    def names(text):
        return {str(event["UID"]) for event in read(text).walk("VEVENT")}
    assert names(ask()) == names(ask(schedule__pace="fast", schedule__germination="60 %"))


def test_no_dates_make_no_file():
    assert ask(schedule__start="wet") == ""
    assert ask(schedule__sites="1") == ""
