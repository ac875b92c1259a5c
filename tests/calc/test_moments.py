"""Dates and hours of the day, against the standard library's own reading, and refused in a sentence otherwise."""

from datetime import date, datetime

import pytest
from hypothesis import given, strategies as st

from calc import moments
from calc.errors import UnreadableQuantity


@given(st.dates(moments.EARLIEST, moments.LATEST))
def test_a_date_reads_as_the_library_reads_it(day):
    assert moments.read_date(f" {day:%Y-%m-%d} ") == day == date.fromisoformat(moments.show_date(day))


@given(st.integers(0, 1439), st.sampled_from(["us", "metric"]))
def test_an_hour_shown_reads_as_the_same_minute(minutes, system):
    assert round(moments.read_clock(moments.show_clock(minutes / 60, system)) * 60) == minutes


@given(st.times())
def test_hours_with_am_and_pm_follow_the_library(when):
    typed = datetime.combine(date(2024, 1, 1), when).strftime("%I:%M %p")
    assert moments.read_clock(typed) == when.hour + when.minute / 60


@pytest.mark.parametrize("typed, hours", [("5 am", 5), ("5pm", 17), ("12 am", 0), ("12 pm", 12), ("15", 15),
                                          ("6.30", 6.5), ("0:00", 0), ("3 p.m.", 15), ("14 h", 14)])
def test_hours_as_people_type_them(typed, hours):
    assert moments.read_clock(typed) == hours


@pytest.mark.parametrize("typed", ["", "24", "13 pm", "0 am", "12:60", "noon", "5 in", "٣ pm", "-3", "1e1", "5:3"])
def test_what_is_no_hour_is_refused(typed):
    with pytest.raises(UnreadableQuantity, match="hour"):
        moments.read_clock(typed)


@pytest.mark.parametrize("typed", ["", "2027-02-30", "15/13/2027", "3/1/2027", "2027-13-01", "1999-12-31", "2101-01-01",
                                   "٢٠٢٧-٠٣-٠١", "2027-3-1-1", "soon"])
def test_what_is_no_date_is_refused(typed):
    with pytest.raises(UnreadableQuantity, match="2027|between"):
        moments.read_date(typed)
