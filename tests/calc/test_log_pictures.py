"""What the log looks like: strips, year, rows, yield; and the sixty invented days, in which three things go wrong."""

from __future__ import annotations

import json
import re
from datetime import datetime, timedelta
from xml.etree import ElementTree

import pytest

from calc import Plan, api
from calc.keeping import harvests, invented, today
from calc.keeping.bath import Bath
from calc.keeping.entries import many, values_of
from calc.render.keeping import aligned, leaves, rows, strips, year

NOW = datetime(2026, 11, 25, 7, 30)
PLACE = Bath(Plan(invented.PLAN))
LOG = invented.entries(NOW)


def log(*given):
    found, aside = many([{"at": (NOW - timedelta(days=days)).strftime("%Y-%m-%dT%H:%M"), "typed": typed,
                          "kind": kind[0] if kind else "reading"} for days, typed, *kind in given])
    assert not aside
    return found


def whole(picture):
    """The picture as XML, with no number that is none."""
    assert not re.search(r"nan|inf\b", picture.lower().replace("info", ""))
    return ElementTree.fromstring(picture)


def test_the_invented_days_are_the_same_each_time_marked_and_without_a_fault():
    assert invented.entries(NOW) == LOG and all(one.invented for one in LOG)
    assert len({one.id for one in LOG}) == len(LOG) and all(one.moment < NOW for one in LOG)
    assert not [values_of(one).faults for one in LOG if values_of(one).faults]
    assert (LOG[-1].moment.date() - LOG[0].moment.date()).days == invented.DAYS - 1
    assert "invented" in invented.NAME and not Plan(invented.PLAN).faults


def test_three_things_go_wrong_in_them():
    by_day = {(one.moment.date() - LOG[0].moment.date()).days: values_of(one).numbers for one in LOG
              if one.kind == "reading"}
    # Nobody there, and no acid; a stone clogs; a hot week.
    assert not {22, 23, 24} & set(by_day) and by_day[25]["ph"] > 6.5
    assert by_day[39]["oxygen"] < 5.0 < by_day[41].get("oxygen", 6.0)
    assert by_day[59]["temperature"] > PLACE.bands["temperature"].high > by_day[50]["temperature"]
    found = today.today(PLACE, LOG, NOW)
    assert found.lead == "pH high, water warm, reservoir low."
    assert [one.code for one in found.acts[:3]] == ["cool", "top-up", "acid"]
    assert next(one for one in found.soon if one.code == "change").words == "by Fri, Nov 27"


@pytest.mark.parametrize("wide", [True, False])
def test_the_strips_are_whole_and_say_what_they_show(wide):
    drawn = whole(strips.picture(PLACE, LOG, NOW, wide))
    text = " ".join(drawn.itertext())
    assert "6.7, 0.2 high" in text and "76, 5 high" in text and "topped up 2.6 gal" in text
    circles = [one.get("class") for one in drawn.iter("{http://www.w3.org/2000/svg}circle")]
    assert circles.count("dot newest") == 4 and "dot out" in circles
    inside = [float(one.get("cx")) for one in drawn.iter("{http://www.w3.org/2000/svg}circle")]
    assert min(inside) >= 44.0 and max(inside) <= strips.WIDTHS[wide]


def test_a_pause_breaks_the_line_and_is_named():
    drawn = whole(strips.picture(PLACE, log((9, {"ph": "6"}), (8, {"ph": "6"}), (2, {"ph": "6.1"}), (1, {"ph": "6"})),
                                 NOW, True))
    lines = [one for one in drawn.iter("{http://www.w3.org/2000/svg}polyline")
             if one.get("class") == "ink" and len(one.get("points").split()) == 2]
    assert len(lines) == 2 and "none" in list(drawn.itertext())


def test_nothing_read_is_no_picture():
    empty = year.weeks(PLACE, [], NOW)
    assert strips.picture(PLACE, [], NOW, True) == "" == year.picture(PLACE, empty, True)
    assert strips.table(PLACE, [], NOW) == "" == year.table(PLACE, empty) == rows.table(PLACE, [], 5)[0]
    assert strips.sentence(PLACE, []) == "No reading in these two weeks."


def test_the_table_of_the_strips_holds_the_same_values():
    table = strips.table(PLACE, LOG, NOW)
    assert table.count("<tr>") == 1 + 14 and "<td>6.7</td><td>1.48</td><td>76</td><td>7.1</td>" in table


@pytest.mark.parametrize("wide", [True, False])
def test_the_year_has_a_bar_a_week_and_marks_those_that_leave_the_green(wide):
    drawn = whole(year.picture(PLACE, year.weeks(PLACE, LOG, NOW), wide))
    kinds = [one.get("class") for one in drawn.iter("{http://www.w3.org/2000/svg}rect")]
    # Nine or ten weeks of four quantities; the stone's week, the weeks away and hot leave the green.
    assert kinds.count("week") + kinds.count("week out") == 4 * 10 and kinds.count("week out") >= 3
    assert kinds.count("heads") == 7
    found = year.weeks(PLACE, LOG, NOW)
    assert sum(week.heads for week in found) == 21 and len(found) == 52
    assert year.sentence(PLACE, found).endswith("21 heads cut.")


def test_what_is_one_or_the_same_is_told_as_such():
    assert year.sentence(PLACE, year.weeks(PLACE, log((2, {"count": "1"}, "harvested")), NOW)) == "1 head cut."
    found = strips.series(PLACE, log((2, {"ph": "6"}), (1, {"ph": "6"})), strips.start_of(NOW), NOW)
    assert strips.sentence(PLACE, found) == "pH 6 each time; always in its band."


def test_a_slip_that_was_kept_is_told_and_takes_the_scale_of_no_picture():
    kept = log((3, {"ph": "6.0", "ec": "1.4"}), (2, {"ph": "65", "ec": "1500"}), (1, {"ph": "6.2", "ec": "1.4"}))
    (ph, ec) = strips.series(PLACE, kept, strips.start_of(NOW), NOW)
    assert [value for _, value in ph.points] == [6.0, 6.2] and ph.odd == ec.odd == 1
    assert strips.sentence(PLACE, [ph]) == ("pH from 6 to 6.2, now 6.2; always in its band; left out, since no water "
                                            "shows it: 1 value.")
    assert year.sentence(PLACE, year.weeks(PLACE, kept, NOW)) == "Every week stayed in its band."
    # The list still has it, to be put right.
    assert "</span>65</td>" in rows.table(PLACE, kept, 9)[0]
    # Where nothing else was read, it stands as it is.
    (alone,) = strips.series(PLACE, log((1, {"ph": "65"})), strips.start_of(NOW), NOW)
    assert [value for _, value in alone.points] == [65.0] and alone.odd == 0


def test_a_day_of_another_year_says_which():
    html, _ = rows.table(PLACE, log((0, {"ph": "6"}), (366, {"ph": "6.1"}), (367, {}, "changed")), 9)
    text = re.sub(r"<[^>]+>", " ", html)
    assert "Wed, Nov 25  " in text and "Tue, Nov 25, 2025 to Tue, Nov 24: no reading" in text
    assert "Mon, Nov 24, 2025" in text and "Sun, Nov 23, 2025" in text


def test_a_winter_without_readings_is_hatched():
    found = year.weeks(PLACE, log((200, {"ph": "6"}), (100, {"ph": "6"}), (1, {"ph": "6"})), NOW)
    drawn = whole(year.picture(PLACE, found, True))
    assert [one for one in drawn.iter("{http://www.w3.org/2000/svg}rect") if one.get("class") == "blank"]
    assert year.sentence(PLACE, year.weeks(PLACE, log((1, {"ph": "6"})), NOW)) == "Every week stayed in its band."


def test_a_row_says_what_was_read_added_and_how_far_out():
    html, before = rows.table(PLACE, LOG, 20)
    assert before == len(LOG) - 20 and html.count("<tr ") >= 20
    assert 'data-reading="' in html and 'data-event="' in html and "visually-hidden\">high: " in html
    assert "roots look brown at row 3" in html and "Cleaned: strainer" in rows.table(PLACE, LOG, 40)[0]
    gap, _ = rows.table(PLACE, log((9, {"ph": "6"}), (2, {"ph": "<b>"})), 5)
    assert "no reading" in gap and "<b>" not in gap and "&lt;b&gt;" in gap


def test_the_yield_is_what_was_logged_over_the_time():
    entries = log((28, {"ph": "6"}), (20, {"count": "4", "mass": "600 g"}, "harvested"),
                  (10, {"count": "4"}, "harvested"), (5, {"added": "40 L"}), (1, {"ph": "6"}))
    found = harvests.of_log(PLACE, entries, NOW)
    assert (found.heads, found.mass, found.weeks) == (8, 0.6, 4.0) and found.water == pytest.approx(0.04)
    said = {one["code"]: one for one in harvests.as_json(PLACE, found)["rows"]}
    assert said["heads"]["value"] == 2.0 and said["mass"]["value"] == pytest.approx(0.15)
    assert said["head"]["value"] == pytest.approx(0.15) and said["water"]["value"] == pytest.approx(0.005)
    # 113.88 kWh a year: 8.74 in four weeks.
    assert said["energy"]["value"] == pytest.approx(600 / (113.88 * 28 / 365), rel=1e-3)
    # At 17 cents a kWh, 8.74 kWh cost 1.485 for eight heads.
    assert said["cost"]["value"] == pytest.approx(0.17 * 113.88 * 28 / 365 / 8, rel=1e-3)
    assert [said[code]["words"] for code in ("heads", "mass", "head", "water", "energy")] == [
        "2", "0.331 lb", "5.29 oz", "1.32 gal", "2.42 oz"]
    assert harvests.of_log(PLACE, log((1, {"count": "4"}, "harvested")), NOW) is None
    assert harvests.as_json(PLACE, None) == {}


@pytest.mark.parametrize("drawn", sorted(leaves.NAMES))
def test_each_sign_is_drawn(drawn):
    assert len(list(whole(leaves.picture(drawn)).iter())) > 8
    assert leaves.picture("nothing") == ""


def test_green_is_in_one_place_on_every_ruler_and_pointers_stop_at_the_ends():
    found = today.today(PLACE, LOG, NOW)
    for one in found.gauges:
        drawn = whole(aligned.ruler(PLACE, one))
        assert (drawn.get("data-from"), drawn.get("data-to")) == ("74.1", "143.9")
        low, high = float(drawn.get("data-low")), float(drawn.get("data-high"))
        assert low < high and one.word in drawn.get("aria-label") or one.word == "in"
        # No pointer, wherever it is moved to, covers a number: letters of 13 px stand some 9.5 px above their line.
        numbers = min(float(one.get("y")) for one in drawn.iter() if one.tag.endswith("text"))
        (now,) = (one for one in drawn.iter() if one.get("data-pointer") == "now")
        tips = [float(number) for shape in now for number in
                re.findall(r"[-\d.]+", shape.get("d") or shape.get("points"))[1::2]]
        assert max(tips) <= numbers - 9.5
    assert aligned.place(5.5, 5.5, 6.5) == pytest.approx(74.12)
    assert aligned.place(6.5, 5.5, 6.5) == pytest.approx(143.88)
    assert aligned.place(-99, 5.5, 6.5) == 0.0 and aligned.place(99, 5.5, 6.5) == aligned.WIDTH


def ask(op, **more):
    return json.loads(api.run(json.dumps({"op": op, **more})))


def test_the_pages_requests():
    given = ask("invented_days", now="2026-11-25T07:30", bath="b")
    assert given["entries"][0]["bath"] == "b" and given["plan"] == invented.PLAN
    assert ask("log_open", log="i", entries=given["entries"])["aside"] == []
    found = ask("log_pictures", log="i", plan=given["plan"], now="2026-11-25T07:30", most=3)
    assert found["invented"] == found["count"] == len(LOG) and found["rows"]["before"] == len(LOG) - 3
    assert found["strips"]["svg"].startswith("<svg") and "21 heads cut" in found["year"]["words"]
    assert {one["code"] for one in found["yield"]["rows"]} == {"heads", "mass", "head", "energy", "water", "cost"}
    assert set(ask("log_pictures", log="i", plan={}, now="2026-11-25T07:30", parts=["year"])) == {
        "count", "readings", "invented", "year"}
    says = ask("log_says", log="i", plan=given["plan"], now="2026-11-25T07:30")
    assert next(one for one in says["findings"] if one["code"] == "water")["changes"]["use.basis"] == "own"


def test_a_reading_from_a_link_is_read_and_nothing_is_kept():
    found = ask("reading_link", plan={}, now="2026-11-25T07:30",
                fragment="#reading=1&ph=5.9&ec=1480 µS/cm&foo=1&oxygen=x")
    assert found["typed"] == {"ec": "1480 µS/cm", "ph": "5.9", "oxygen": "x", "time": "2026-11-25T07:30"}
    assert (found["count"], found["unknown"]) == (2, ["foo"]) and "oxygen" in found["faults"]
    wrong = ask("reading_link", plan={}, now="2026-11-25T07:30", fragment="reading=1&ph=5.9&time=never")
    assert wrong["error"].startswith("Date and time must be")


def test_the_strips_are_told_by_how_often_they_left_their_band():
    def told(*phs):
        kept = log(*[(len(phs) - at, {"ph": ph}) for at, ph in enumerate(phs)])
        return strips.sentence(PLACE, strips.series(PLACE, kept, NOW - timedelta(days=14), NOW))
    assert told("58") == "pH 58, 52 high."
    assert told("6") == "pH 6, in its band."
    assert told("6", "6.2") == "pH from 6 to 6.2, now 6.2; always in its band."
    assert told("6.7", "6") == "pH from 6 to 6.7, now 6; outside its band 1 of 2 times."
    bare = strips.Series("ph", ((NOW, 6.0), (NOW, 6.1)), None, None)
    assert strips.sentence(PLACE, [bare]) == "pH from 6 to 6.1, now 6.1."


def test_what_cannot_be_read_is_marked_in_the_list():
    html, _ = rows.table(PLACE, log((1, {"temperature": "3 gal", "ph": "6"})), 9)
    assert '<td class="unread">3 gal</td>' in html and html.count('class="fault"') == 1
    assert "Temperature is a volume in “gal”; give a temperature" in html
    html, _ = rows.table(PLACE, log((1, {"count": "abc", "mass": "3 gal"}, "harvested")), 9)
    assert html.count('class="fault"') == 2 and "“abc” is not a number." in html
