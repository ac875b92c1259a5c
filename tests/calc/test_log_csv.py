"""The log as CSV: an exact round trip, a spreadsheet's and a logger's habits, and no cell that runs as a formula."""

from __future__ import annotations

import csv
import io
from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.keeping import incoming, sheets
from calc.keeping.entries import METER_UNITS, NAMES, Entry, many, values_of
from calc.keeping.sheets import COLUMNS, NUMBERS, TEXTS

TEXT = st.text(st.characters(blacklist_categories=("Cs",), blacklist_characters="\0"), max_size=30)
CELL = st.one_of(TEXT, st.sampled_from(["=1+1", "'=1+1", "''=x", "+5 C", "-3", "@a", "\tx", "\rx", "\n-", "'", "5,9",
                                        'a "b"', "a;b", "\ufeffx", "-", "- 5", "'-5", "'5"]))
TYPED = st.dictionaries(st.sampled_from(["time", *NUMBERS, *TEXTS, "unheard"]), CELL.filter(bool), max_size=8)
UNITS = st.dictionaries(st.sampled_from([*METER_UNITS, "unheard"]), st.sampled_from(["F", "C", "ppm500", "x"]),
                        max_size=3)
MOMENT = st.datetimes(datetime(2000, 1, 1), datetime(2099, 12, 31)).map(lambda one: one.strftime("%Y-%m-%dT%H:%M"))
ENTRY = st.builds(Entry, id=TEXT.filter(bool), kind=st.sampled_from(NAMES), at=MOMENT, typed=TYPED, units=UNITS,
                  bath=TEXT, changed=TEXT, invented=st.booleans(),
                  before=st.lists(st.dictionaries(st.sampled_from("ab"), CELL), max_size=2).map(tuple),
                  more=st.dictionaries(st.sampled_from(["newer", "other"]), st.one_of(CELL, st.integers(), st.none()),
                                       max_size=2))


@given(st.lists(ENTRY, min_size=1, max_size=4, unique_by=lambda one: one.id))
def test_what_is_written_is_read_back_letter_by_letter(entries):
    found = incoming.read(sheets.write(entries))
    assert found.own and not found.trouble and not found.told and not found.questions
    assert found.entries == entries


def test_the_first_line_holds_the_documented_columns_and_letters_are_kept():
    entries, _ = many([{"at": "2026-11-25T07:12", "typed": {"ec": "1310", "remark": "µ"}, "units": {"ec": "µS/cm"}}])
    text = sheets.write(entries)
    assert text.startswith("\ufeffkind,time,temperature,temperature unit,ec,ec unit,ph,")
    rows = list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff"))))
    assert list(rows[0]) == list(COLUMNS)
    assert (rows[0]["time"], rows[0]["ec"], rows[0]["ec unit"], rows[0]["remark"]) == (
        "2026-11-25T07:12", "1310", "µS/cm", "µ")


def test_our_lines_survive_a_spreadsheet_of_another_language():
    entries, _ = many([{"id": "a", "at": "2026-11-25T07:12", "typed": {"time": "2026-11-25T07:12", "ec": "1.31",
                                                                        "ph": "5.9", "added": "2.9"}},
                       {"id": "b", "at": "2026-11-05T19:00", "typed": {"ph": "6"}}])
    rows = list(csv.reader(io.StringIO(sheets.write(entries).removeprefix("\ufeff"))))
    place = rows[0].index("at")
    for row, said in zip(rows[1:], ("05.11.2026 19:00", "25.11.2026 07:12"), strict=True):
        row[place] = said
        row[:] = [cell.replace(".", ",") if cell in ("1.31", "5.9", "2.9") else cell for cell in row]
    out = io.StringIO()
    csv.writer(out, delimiter=";").writerows(rows)
    found = incoming.read(out.getvalue(), "metric")
    assert [one.at for one in found.entries] == ["2026-11-05T19:00", "2026-11-25T07:12"]
    assert not found.questions
    assert values_of(found.entries[1], "metric").numbers == pytest.approx({"ec": 1.31, "ph": 5.9, "added": 2.9e-3})


LOGGER = "sep=;\r\nDate;Time;pH;EC (mS/cm);Water temp °C;Notes\r\n"


def test_a_loggers_file_with_semicolons_and_decimal_commas():
    found = incoming.read(LOGGER + "25/11/2026;7:12 am;5,9;1,310;22,5;clear\r\n26/11/2026;7:12;n/a;1,4;foo;\r\n",
                          "metric")
    assert [(one.head, one.field, one.unit) for one in found.columns] == [
        ("Date", "date", ""), ("Time", "clock", ""), ("pH", "ph", ""), ("EC (mS/cm)", "ec", "mS/cm"),
        ("Water temp °C", "temperature", "C"), ("Notes", "remark", "")]
    first, second = found.entries
    assert (first.at, second.at) == ("2026-11-25T07:12", "2026-11-26T07:12")
    assert values_of(first).numbers == pytest.approx({"ph": 5.9, "ec": 1.31, "temperature": 22.5})
    assert first.text("remark") == "clear"
    # What is no number comes in as not measured, and is told; n/a needs no telling.
    assert second.typed.keys() == {"time", "ec"}
    assert found.told == ["Row 3: “foo” is no Temperature. It comes in as not measured."]
    assert not found.questions


DAYS = {"iso": "%Y-%m-%d", "slashes, year first": "%Y/%m/%d", "month": "%m/%d/%Y", "day": "%d.%m.%Y",
        "short day": "%d/%m/%y", "named": "%d %b %Y"}
CLOCKS = ("%H:%M", "%H:%M:%S", "%I:%M %p")
READINGS = st.lists(st.tuples(
    st.datetimes(datetime(2001, 1, 1), datetime(2099, 12, 31)), st.decimals("3", "9", places=1),
    st.none() | st.decimals("0.1", "4", places=2), st.none() | st.decimals("1", "35", places=1)),
    min_size=1, max_size=6)


@given(READINGS, st.sampled_from(sorted(DAYS)), st.sampled_from(CLOCKS), st.sampled_from(incoming.SEPARATORS),
       st.booleans(), st.sampled_from(["", "\ufeff"]), st.sampled_from(["\n", "\r\n"]), st.booleans(), st.booleans(),
       st.sampled_from(["", "-", "n/a", "NaN"]), st.sampled_from(["us", "metric"]))
@settings(max_examples=60)
def test_any_loggers_habits_come_to_the_same_readings(readings, days, clock, separator, commas, mark, end, apart, sep,
                                                      none, system):
    def number(value):
        return none if value is None else str(value).replace(".", ",") if commas else str(value)
    heads = ["Date", "Time", "pH", "EC (mS/cm)", "Temp °C"] if apart else ["Timestamp", "pH", "EC (mS/cm)", "Temp °C"]
    out = io.StringIO()
    writer = csv.writer(out, delimiter=separator, lineterminator=end)
    writer.writerow(heads)
    for at, *values in readings:
        when = [at.strftime(DAYS[days]), at.strftime(clock)]
        writer.writerow([*(when if apart else [" ".join(when)]), *map(number, values)])
    text = mark + (f"sep={separator}{end}" if sep else "") + out.getvalue()
    asked = {one.id: one for one in incoming.read(text, system).questions}
    order = "day" if days in ("day", "short day") else "month"
    # Only what the file cannot say is asked: an order of day and month that no date tells. Points mean day first.
    could_be_either = [at for at, *_ in readings if at.day <= 12 and at.day != at.month]
    tells = [at for at, *_ in readings if at.day > 12]
    assert ("order" in asked) == (days in ("month", "short day") and bool(could_be_either) and not tells)
    assert set(asked) <= {"order"}
    found = incoming.read(text, system, {"order": order})
    assert not found.trouble and [one.at for one in found.entries] == [f"{at:%Y-%m-%dT%H:%M}" for at, *_ in readings]
    for entry, (_, *values) in zip(found.entries, readings, strict=True):
        wanted = {name: value for name, value in zip(("ph", "ec", "temperature"), values, strict=True)
                  if value is not None}
        assert {name: float(one) for name, one in wanted.items()} == pytest.approx(dict(values_of(entry).numbers))


@settings(max_examples=40)
@given(st.lists(ENTRY, min_size=1, max_size=3, unique_by=lambda one: one.id), st.sampled_from(incoming.SEPARATORS))
def test_a_file_written_with_any_separator_comes_back(entries, separator):
    found = incoming.read(sheets.write(entries, separator))
    # A spreadsheet that parts cells with another sign writes decimal commas; what is typed as "5,9" is read as 5.9.
    kept = [{**one.typed, **{name: one.typed[name].replace(",", ".") for name in NUMBERS if name in one.typed}}
            for one in entries]
    got = [{**one.typed, **{name: one.typed[name].replace(",", ".") for name in NUMBERS if name in one.typed}}
           for one in found.entries]
    assert found.own and not found.told and got == kept
    assert [(one.id, one.at, one.bath, one.more) for one in found.entries] == [
        (one.id, one.at, one.bath, one.more) for one in entries]


def test_a_date_that_could_be_either_is_asked_and_the_answer_taken():
    text = LOGGER + "03/04/2026;7:12;5,9;1,4;22;\r\n"
    for system, taken in (("us", "2026-03-04T07:12"), ("metric", "2026-04-03T07:12")):
        found = incoming.read(text, system)
        assert [one.at for one in found.entries] == [taken]
        asked = found.questions[0]
        assert (asked.id, asked.words) == ("order", "03/04/2026 7:12 means")
        assert dict(asked.offers) == {"month": "March 4", "day": "April 3"}
    assert incoming.read(text, "us", {"order": "day"}).entries[0].at == "2026-04-03T07:12"


def test_one_clear_date_decides_for_the_whole_file():
    found = incoming.read(LOGGER + "03/04/2026;7:12;5,9;1,4;22;\r\n25/04/2026;7:12;5,9;1,4;22;\r\n", "us")
    assert not found.questions and found.entries[0].at == "2026-04-03T07:12"


def test_a_comma_before_three_digits_is_asked_where_no_cell_tells():
    text = "time;EC\r\n2026-11-25 7:12;1,310\r\n"
    found = incoming.read(text)
    assert found.questions[0].id == "comma" and values_of(found.entries[0]).numbers["ec"] == pytest.approx(1.31)
    found = incoming.read(text, answers={"comma": "thousands", "unit:EC": "mS/cm"})
    assert values_of(found.entries[0]).numbers["ec"] == pytest.approx(1310.0)


@pytest.mark.parametrize("head, cells, system, taken, value", [
    ("Temp", "21,22", "us", "C", 21.0), ("Temp", "68,71", "metric", "F", 20.0),
    ("EC", "1450,1500", "us", "µS/cm", 1.45),
    ("TDS (ppm)", "750,760", "us", "ppm500", 1.5), ("ppm", "700,690", "us", "ppm500", 1.4)])
def test_figures_that_no_bath_has_in_the_unit_taken_are_asked_about(head, cells, system, taken, value):
    name = "temperature" if head == "Temp" else "ec"
    text = f"time,{head}\n" + "".join(f"2026-11-2{day} 7:12,{cell}\n" for day, cell in enumerate(cells.split(",")))
    found = incoming.read(text, system)
    (asked,) = found.questions
    assert asked.id == f"unit:{head}" and asked.taken == taken == found.columns[1].unit
    assert values_of(found.entries[0]).numbers[name] == pytest.approx(value)
    # The answer is taken, whatever it is; a unit chosen for the column before is not asked about again.
    usual = "C" if system == "metric" and head == "Temp" else "F" if head == "Temp" else "mS/cm"
    assert incoming.read(text, system, {asked.id: usual}).entries[0].units[name] == usual
    assert not incoming.read(text, system, mapping={head: f"{name}:{usual}"}).questions


@pytest.mark.parametrize("head, cells", [("Temp", "68"), ("EC", "1.4"), ("Temp (F)", "21"), ("EC", "x")])
def test_a_unit_that_can_be_or_is_named_is_not_asked_about(head, cells):
    assert not incoming.read(f"time,{head},pH\n2026-11-25 7:12,{cells},6\n").questions


def test_a_row_with_more_cells_than_names_is_left_out_and_told():
    found = incoming.read("time,temp,ph\n2026-11-25 7:12,70,6,2\n2026-11-26 7:12,70,6.1\n2026-11-27 7:12,70,6.1,\n")
    assert [one.text("ph") for one in found.entries] == ["6.1", "6.1"]
    assert found.told == ["Row 2: it has more cells than the line of names, perhaps by a comma within a number. "
                          "The row is left out."]


def test_columns_may_be_named_once_and_for_all():
    text = "when,probe 1,probe 2\n2026-11-25T07:12,74,655\n"
    assert incoming.read(text).trouble.startswith("No column of this file is a date and time")
    found = incoming.read(text, mapping={"when": "time", "probe 1": "temperature:F", "probe 2": "ec:ppm500"})
    assert values_of(found.entries[0]).numbers == pytest.approx({"temperature": 23.3333333, "ec": 1.31})


@pytest.mark.parametrize("text, words", [
    ("", "has no rows"), ("only one line", "has no rows"), ('a,b\n"' + "x" * 140_000 + '",2\n', "not a table"),
    ("a,b\n1,2\n", "No column of this file is a date"), ("x" * (incoming.LONGEST + 1), "larger than any log")])
def test_a_file_that_is_none_gets_a_sentence(text, words):
    found = incoming.read(text)
    assert words in found.trouble and not found.entries


@given(st.text(max_size=300))
def test_any_text_at_all_is_answered(text):
    incoming.read(text)


def test_a_time_zone_is_told_and_the_clock_left_alone():
    found = incoming.read("time,pH\n2026-11-25T07:12:30Z,5.9\n")
    assert found.entries[0].at == "2026-11-25T07:12" and "carry a zone (Z)" in found.told[0]


def test_a_line_of_a_newer_version_is_set_aside_whole():
    entries, _ = many([{"at": "2026-11-25T07:12", "typed": {"ph": "5.9"}}])
    text = sheets.write(entries).replace("reading,", "harvest moon,")
    found = incoming.read(text)
    assert not found.entries and found.aside[0]["ph"] == "5.9" and "does not know the kind" in found.told[0]


@pytest.mark.parametrize("text, words", [
    ("PK\x03\x04\x14\0\n\0;", "save the sheet as CSV"), ("%PDF-1.4\n1 0 obj\n", "not a table"),
    ("a,b\n\0\0,1\n", "not a table")])
def test_a_file_that_is_no_text_gets_a_sentence_and_no_columns(text, words):
    found = incoming.read(text)
    assert words in found.trouble and not found.columns and not found.entries
