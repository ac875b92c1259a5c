"""The rounds: checklists with the plan's numbers, reminders as iCalendar, the wall sheet; and the words of it all."""

from __future__ import annotations

import json
from datetime import date, datetime

import icalendar
import pytest

from calc import Plan, api
from calc.keeping import invented, reminders, routine, today
from calc.keeping.bath import Bath
from calc.keeping.entries import EVENT_FIELDS, KINDS, READING_FIELDS, from_json, many
from calc.keeping.trouble.causes import CAUSES
from calc.keeping.trouble.checks import CHECKS
from calc.keeping.trouble.signs import SIGNS
from calc.render.keeping import rounds
from tests.checks.test_words import wrong

NOW = datetime(2026, 11, 25, 7, 30)
PLACE = Bath(Plan(invented.PLAN))
PLANS = [invented.PLAN, {}, {"units": "metric"}, {"water.scheme": "still"}, {"water.scheme": "aerated"},
         {"bath.length": "none"}, {"feed.way": "powders"}]


def item(found, words):
    return next(one for one in found.items if words in one.text)


@pytest.mark.parametrize("plan", PLANS, ids=[json.dumps(plan)[:30] for plan in PLANS])
def test_every_round_is_there_for_every_kind_of_bath(plan):
    found = routine.lists(Bath(Plan(plan)))
    assert [one.code for one in found] == ["start", "daily", "weekly", "change", "between", "holiday", "heat", "power",
                                           "winter"]
    said = json.dumps([routine.as_json(one) for one in found], allow_nan=False)
    assert "None" not in said and "nan" not in said.lower()
    assert all(one.items and one.when for one in found)


def test_amounts_are_the_plans():
    start = routine.start(PLACE)
    assert item(start, "fill it with").amount == PLACE.design.shown("water.working_volume") == "65.9 gal"
    # 65.9 gal are 249 L; concentrates of a hundredfold.
    assert item(start, "fertilizer").amount == "2.49 L of each concentrate"
    assert item(start, "in halves").amount == PLACE.design.shown("acidity.volume")
    assert item(routine.holiday(PLACE), "the water lasts").amount == "about 29 days"
    # 0.357 gal drunk and 0.0287 gal evaporated.
    assert item(routine.weekly(PLACE), "gone in the week").amount == f"{PLACE.design.shown('use.gone')} a day"
    assert item(routine.heat_wave(PLACE), "top up in the morning").amount == PLACE.design.shown("use.gone")


@pytest.mark.parametrize("kind, absent", [
    ("aerated", ("reservoir", "hoses", "overflow", "pumps", "flow,", "strainer")),
    ("still", ("reservoir", "hoses", "overflow", "pump", "flow,", "strainer", "bubbles", "stone", "air line"))])
def test_one_vessel_is_not_asked_for_what_it_lacks(kind, absent):
    said = [f"{one.text} {one.caution}" for found in routine.lists(Bath(Plan({"water.scheme": kind})))
            for one in found.items]
    assert [text for text in said for word in absent if word in text.lower()] == []


@pytest.mark.parametrize("kind, unplug, wipe, out", [
    ("circulating", "pumps and heater", "bath, stones and strainer", "plants, roots, pots and stones"),
    ("aerated", "air pump and heater", "bath and stones", "plants, roots, pots and stones"),
    ("still", "the heater, if there is one", "bath", "plants, roots and pots")])
def test_each_kind_of_bath_is_unplugged_wiped_and_emptied_of_what_it_has(kind, unplug, wipe, out):
    place = Bath(Plan({"water.scheme": kind}))
    texts = [one.text for one in routine.change(place).items]
    assert f"Unplug {unplug}" in texts and f"Wipe {wipe}; rinse" in texts
    first = routine.between(place).items[0]
    assert first.text == f"Unplug everything; take out {out}" and f"Unplug {unplug}" in first.caution


def test_boards_go_back_only_over_a_solution_that_was_mixed_and_measured():
    texts = [one.text for one in routine.change(PLACE).items]
    mixed, dosed, back = (next(at for at, text in enumerate(texts) if words in text)
                          for words in ("Pumps on again", "pH into its band", "the boards go back"))
    assert mixed < dosed < back and texts[back].startswith("Measure EC and pH")
    assert "Air on again, to mix what follows" in [
        one.text for one in routine.change(Bath(Plan({"water.scheme": "aerated"}))).items]


def test_bleach_is_four_milliliters_a_liter_with_its_source_and_its_danger():
    found = routine.between(PLACE)
    bucket = item(found, "bleach of 5 %")
    assert bucket.amount == "40 mL" and "2.64 gal" in bucket.text and "3 hours" in bucket.source
    # 16 gal are 60.6 L: 242 mL.
    assert item(found, "Fill the reservoir").amount == "242 mL"
    assert "the gases can kill" in bucket.caution and item(found, "Rinse")


def test_a_time_away_longer_than_the_water_asks_for_more():
    away = Bath(Plan({**invented.PLAN, "use.holiday": "60 d"}))
    assert item(routine.holiday(away), "less than your time away").amount == away.design.shown("use.holiday_reservoir")


def test_the_power_cut_takes_the_plans_own_order_of_acts():
    found = routine.power_cut(PLACE)
    assert [one.text for one in found.items[1:-2]] == [row["step"] for row in PLACE.design.result("outage.steps")]


def test_reminders_repeat_and_begin_when_they_are_due():
    found = reminders.reminders(PLACE, invented.entries(NOW), NOW)
    days = {one.code: (one.day, one.every) for one in found}
    assert days["change"] == (date(2026, 11, 27), 56) and days["strainer"] == (date(2026, 11, 25), 7)
    parsed = icalendar.Calendar.from_ical(reminders.write(found, NOW).encode())
    events = {str(one["UID"]).rpartition("-")[0]: one for one in parsed.walk("VEVENT")}
    assert events["change"]["RRULE"]["INTERVAL"] == [56] and events["change"].decoded("DTSTART") == date(2026, 11, 27)
    assert len(events) == len(found) and all(len(line.encode()) <= 75
                                             for line in reminders.write(found, NOW).split("\r\n"))


def test_two_baths_reminders_leave_each_other_alone():
    found = reminders.reminders(PLACE, [], NOW)

    def names(bath):
        text = reminders.write(found, NOW, bath)
        return {str(one["UID"]) for one in icalendar.Calendar.from_ical(text).walk("VEVENT")}
    assert names("a") == names("a") and not names("a") & names("b") and len(names("a")) == len(found)


def test_without_a_log_reminders_begin_today_and_a_still_bath_has_no_strainer():
    found = reminders.reminders(Bath(Plan({"water.scheme": "still"})), [], NOW)
    assert {one.code for one in found} == {"meters", "change"} and all(one.day == NOW.date() for one in found)


def test_the_wall_sheet_has_boxes_pours_and_blanks():
    log = invented.entries(NOW)
    html = rounds.wall(today.today(PLACE, log, NOW), PLACE)
    assert html.count("<tr>") == 1 + rounds.WALL_DAYS and "8 am: 7.7 mL" in html and "Goggles and gloves." in html


def test_the_pages_request():
    found = json.loads(api.run(json.dumps({"op": "routine", "plan": invented.PLAN, "entries": [], "codes": ["daily"],
                                           "now": "2026-11-25T07:30"})))
    assert [one["code"] for one in found["lists"]] == ["daily"] and 'data-round="daily"' in found["html"]
    assert found["calendar"].startswith("BEGIN:VCALENDAR")


def test_all_of_it_keeps_to_the_projects_words():
    said = [(one.key, words) for one in SIGNS.values() for words in (one.title, one.more, one.ask, one.how)]
    said += [(one.key, words) for one in CAUSES.values() for words in (one.name, one.lead, one.cure, one.stop)]
    said += [(key, f"{one.lead} {one.text} {one.caution}") for key, one in CHECKS.items()]
    said += [(one.key, words) for one in (*READING_FIELDS, *EVENT_FIELDS) for words in (one.label, one.help)]
    said += [(one.value, words) for one in KINDS for words in (one.label, one.help)]
    for plan in PLANS:
        place = Bath(Plan(plan))
        said += [(found.code, f"{found.title} {found.when} {one.text} {one.amount} {one.caution}")
                 for found in routine.lists(place) for one in found.items]
        for typed in ({"ph": "6.8", "temperature": "28 C", "ec": "0.9", "level": "8 in", "oxygen": "3"},
                      {"ph": "5", "temperature": "8 C", "ec": "2.6"}, {"ph": "12"}):
            for log in ([], [{"kind": "changed", "at": "2026-09-01T08:00"}]):
                day = today.today(place, many(log)[0], NOW, from_json({"at": "2026-11-25T07:12", "typed": typed}))
                said += [(one.code, f"{one.title} {one.reason} {one.caution} {one.then}") for one in day.acts]
                said += [(one.code, f"{one.what} {one.why} {one.words}") for one in day.soon]
    told = {line for where, text in said for line in wrong(where, text)}
    assert told == set()


@pytest.mark.parametrize("plan", PLANS, ids=[json.dumps(plan)[:30] for plan in PLANS])
def test_each_line_has_a_name_of_its_own_and_events_are_events(plan):
    for found in routine.lists(Bath(Plan(plan))):
        keys = [one.key for one in found.items]
        assert len(set(keys)) == len(keys) and all(keys)
        for one in found.items:
            assert not one.log or from_json({"at": "2026-11-25T07:12", **one.log}).kind == one.log["kind"]


def test_what_a_round_writes_is_what_today_and_the_reminders_count():
    now = "2026-11-25T07:00"
    for code, words, kind, lines in (("weekly", "overflow strainer", "cleaned", {"strainer"}),
                                     ("weekly", "pH meter", "checked", {"meters"}),
                                     ("between", "clean and dry", "cleaned", {"strainer"})):
        wrote = item(next(one for one in routine.lists(PLACE) if one.code == code), words).log
        assert wrote["kind"] == kind
        before, after = (today.today(PLACE, many(log)[0], NOW) for log in (
            [{"at": "2026-10-01T07:00", "kind": kind, "typed": wrote["typed"]}],
            [{"at": now, **wrote}]))
        assert lines <= {one.code for one in before.acts} and not lines & {one.code for one in after.acts}
    fresh = item(routine.start(PLACE), "fresh solution").log
    days = {one.code: one.day for one in reminders.reminders(PLACE, many([{"at": now, **fresh}])[0], NOW)}
    assert days["change"] == date(2027, 1, 20), "56 days after November 25"
    cut = item(routine.power_cut(PLACE), "note the cut").log
    assert "outage" in {one.code for one in today.today(PLACE, many([{"at": now, **cut}])[0], NOW).acts}


def test_an_acid_named_within_a_sentence_begins_small_and_what_is_not_worked_out_is_not_said():
    assert item(routine.change(PLACE), "pH into its band").text.startswith("pH into its band with phosphoric acid,")
    assert item(routine.power_cut(PLACE), "Prop the board up").amount == ""


@pytest.mark.parametrize("lasts, words", [(None, ""), (3600.0, "less than a day"), (100_000.0, "about 1 day"),
                                          (2.71e6, "about 31 days")])
def test_how_long_the_water_lasts_is_said_in_whole_days(lasts, words):
    assert routine._days(lasts) == words
