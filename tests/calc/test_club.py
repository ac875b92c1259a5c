"""A club's sums worked by hand, its rota and shares as properties, and its file there and back."""

from __future__ import annotations

import json
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import api
from calc.club import answer, buying, files, invented, record
from calc.club.rota import rota
from calc.club.shares import given_out, parts, settled, shares
from calc.command_line import main
from calc.render.club import handout
from calc.render.club import page as club_page

BENCH = {"bath.length": "72 in", "bath.width": "24 in", "bath.depth": "12 in", "bath.water_depth": "10 in"}


def club_of(**more) -> record.Club:
    """Three members, three baths of the example and two of a longer bench, from March 1."""
    given_ = {"name": "Test club", "start": "2027-03-01", "members": [{"id": one, "name": one.title()} for one in (
        "ana", "bo", "cy")], "baths": [{"id": "a", "name": "Tote", "count": "3", "plan": {}},
                                       {"id": "b", "name": "Bench", "count": "2", "plan": BENCH}], **more}
    return record.read(given_)


def line(found: buying.Buying, thing: str):
    return next(one for one in found.lines if one.thing == thing)


# --- sums by hand ----------------------------------------------------------------------------------------------------


def test_pots_are_summed_and_then_rounded_to_packs():
    # 18 sites and 10 % spare: 19.8, so 20 pots a tote, 60 for three. 28 sites: 30.8, so 31 pots a bench, 62 for two.
    # 60 + 62 = 122 pots: two packs of 100. Rounded before the sum it would have been 100 + 100 for 60 and 62 as well,
    # and 5 times 25 or 50 where each bath had bought its own.
    found = buying.buying(club_of())
    pots = line(found, "Net pot")
    assert (pots.need, buying.shop.pack_of(pots, "us")) == (122, (2, 100))


def test_hose_is_summed_and_then_cut_from_coils():
    # Each bath has 6 ft of supply hose: five of them 30 ft, one coil of 50 ft and not five of 10 ft.
    hose = line(buying.buying(club_of()), "Water hose")
    assert hose.need == pytest.approx(5 * 6 * 0.3048)
    assert buying.shop.to_buy(hose, "us") == "50 ft"


def test_a_litre_of_each_bottle_is_summed_over_unlike_baths():
    alone = [buying.buying(club_of(baths=[{"name": "x", "count": "1", "plan": plan}])) for plan in ({}, BENCH)]
    each = [line(one, "Bottle A (invented)").need for one in alone]
    all_of_it = line(buying.buying(club_of()), "Bottle A (invented)").need
    assert all_of_it == pytest.approx(3 * each[0] + 2 * each[1])


def test_tools_are_bought_once_unless_each_has_its_own():
    once, each = buying.buying(club_of()), buying.buying(club_of(shared_tools=False))
    for thing in ("Hole saw", "pH meter", "EC meter"):
        assert line(once, thing).need == 1 and line(each, thing).need == 5, thing
    assert line(once, buying.WORN).need == 3, "one for each who builds"


def test_a_tool_bought_once_costs_once():
    priced = {**BENCH, "parts.prices.1.name": "Hole saw", "parts.prices.1.price": "12"}
    found = buying.buying(club_of(baths=[{"name": "x", "count": "4", "plan": priced}]))
    assert line(found, "Hole saw").price == pytest.approx(12.0)
    own = buying.buying(club_of(shared_tools=False, baths=[{"name": "x", "count": "4", "plan": priced}]))
    assert line(own, "Hole saw").price == pytest.approx(48.0)


def test_cost_a_bath_and_a_member_by_hand():
    # Typed: 122 pots for 40.00, hose 25.50, meters 60 and 30; nothing else priced but the example's pumps, which are
    # set to nothing. Tax and postage 14.50. In all 40 + 25.50 + 60 + 30 + 14.50 = 170.00: 34.00 a bath of five, 56.67 a
    # member of three.
    first = buying.buying(club_of())
    prices = {buying.key_of(one): "0" for one in first.lines if one.price is not None}
    for thing, price in (("Net pot", "40"), ("Water hose", "25.50"), ("pH meter", "$60"), ("EC meter", "30")):
        prices[buying.key_of(line(first, thing))] = price
    found = buying.buying(club_of(prices=prices, extra="14.50"))
    assert (found.priced, found.extra, found.total) == (15550, 1450, 17000)
    assert found.shown(found.total / found.baths) == "$34.00"
    assert found.shown(found.total / 3) == "$56.67"
    said = answer.as_json({"start": "2027-03-01", "members": [{"name": "A"}, {"name": "B"}, {"name": "C"}],
                           "baths": [{"name": "Tote", "count": "3", "plan": {}}, {"count": 2, "plan": BENCH}],
                           "prices": prices, "extra": "14.50"})
    assert said["cost"]["total"] == 170.0 and said["cost"]["a_bath"] == 34.0 and said["cost"]["a_member"] == 56.67


def test_shares_and_what_is_owed_by_hand():
    # 100.00 for three with 1, 1 and 2 shares: 25, 25 and 50. Cy pays 70 in one shop, Ana 30 in the other, Bo nothing.
    members = (record.Member("a", "Ana"), record.Member("b", "Bo"), record.Member("c", "Cy", 2))
    costs = {"Wood": 7000, "Air": 3000}
    who = given_out(costs, members, {"Wood": "c", "Air": "a"})
    found = shares(costs, members, who)
    assert [(one.part, one.paid, one.balance) for one in found] == [(2500, 3000, 500), (2500, 0, -2500),
                                                                    (5000, 7000, 2000)]
    assert [(one.giver.name, one.taker.name, one.amount) for one in settled(found)] == [
        ("Bo", "Cy", 2000), ("Bo", "Ana", 500)]


def test_the_dearest_shop_goes_to_who_has_spent_least():
    members = tuple(record.Member(one, one) for one in "abc")
    who = given_out({"Seeds": 500, "Wood": 9000, "Air": 4000, "Water": 4500}, members, {})
    # Wood to a; Water to b; Air to c; then Seeds to c, who has spent 40.
    assert {shop: one.id for shop, one in who.items()} == {"Wood": "a", "Water": "b", "Air": "c", "Seeds": "c"}
    assert given_out({"Wood": 9000}, members, {"Wood": "b"})["Wood"].id == "b"
    assert given_out({"Wood": 9000}, (record.Member("x", "X", 0), record.Member("y", "Y")), {})["Wood"].id == "y"


def test_prices_in_another_currency_are_left_out_and_told():
    euro = {**BENCH, "energy.currency": "€", "parts.prices.1.name": "Net pot", "parts.prices.1.price": "0.30"}
    found = buying.buying(club_of(baths=[{"name": "Tote", "count": "1", "plan": {}},
                                         {"name": "Bench", "count": "1", "plan": euro}]))
    assert found.money == "$"
    assert found.notes == ("Prices of “Bench” are in €, those of the club in $: they are not in the sum.",)


def test_plans_of_both_systems_are_summed_in_the_units_of_the_club():
    metric = {"units": "metric", "bath.length": "150", "bath.width": "60", "bath.depth": "30"}
    for system, hose in (("us", "ft"), ("metric", " m")):
        found = buying.buying(club_of(units=system, baths=[{"name": "Tote", "count": "1", "plan": {}},
                                                           {"name": "Long", "count": "1", "plan": metric}]))
        assert all(kind.design.system == system for kind in found.kinds)
        assert found.kinds[1].design.value("bath.length") == pytest.approx(1.5)
        assert buying.shop.to_buy(line(found, "Air hose"), system).endswith(hose)


# --- properties ------------------------------------------------------------------------------------------------------

MEMBERS = st.lists(st.text("abcdef", min_size=1, max_size=4), min_size=1, max_size=14, unique=True).map(tuple)


@given(MEMBERS, st.dates(date(2026, 1, 1), date(2030, 12, 31)), st.integers(8, 52), st.integers(1, 4))
def test_the_rota_is_fair(members, start, weeks, on_duty):
    found = rota(members, start, weeks, on_duty)
    assert len(found) == weeks
    turns = dict.fromkeys(members, 0)
    for at, week in enumerate(found):
        assert week.first == start + timedelta(days=7 * at) and week.last == week.first + timedelta(days=6)
        assert len(set(week.on_duty)) == len(week.on_duty) == min(on_duty, len(members))
        assert (week.stand_in == "") == (on_duty >= len(members)) and week.stand_in not in week.on_duty
        for who in week.on_duty:
            turns[who] += 1
        assert max(turns.values()) - min(turns.values()) <= 1, "somebody has two turns more than another"
        if at and len(members) >= 2 * on_duty:
            assert not set(week.on_duty) & set(found[at - 1].on_duty), "two weeks in a row"


@given(st.integers(0, 10_000_000), st.lists(st.integers(0, 20), min_size=1, max_size=30))
def test_parts_are_the_whole_and_each_within_a_cent(total, weights):
    found = parts(total, weights)
    if sum(weights):
        assert sum(found) == total
        assert all(abs(part - total * weight / sum(weights)) < 1 for part, weight in zip(found, weights, strict=True))
    else:
        assert found == [0] * len(weights)


@given(st.lists(st.integers(0, 20), min_size=1, max_size=12), st.dictionaries(st.sampled_from(buying.shop.SHOPS),
                                                                             st.integers(0, 500_000)))
def test_after_the_transfers_nobody_owes_anything(weights, costs):
    members = tuple(record.Member(str(at), f"M{at}", weight) for at, weight in enumerate(weights))
    who = given_out(costs, members, {})
    assert set(who) == set(costs)
    found = shares(costs, members, who)
    assert sum(one.part for one in found) == sum(one.paid for one in found) == sum(costs.values())
    left = {one.member: one.balance for one in found}
    moves = settled(found)
    assert len(moves) < len(members)
    for one in moves:
        assert one.amount > 0
        left[one.giver] += one.amount
        left[one.taker] -= one.amount
    assert set(left.values()) == {0}


# --- bad input -------------------------------------------------------------------------------------------------------


def test_every_fault_names_its_field():
    club = record.read({"name": 7, "weeks": "0", "on_duty": "five", "start": "soon", "members": [
        {"name": "Ana", "shares": "-1"}, {"name": " "}, "Bo"], "baths": [
            {"count": "many", "plan": {}}, {"count": 1}, 3]})
    assert dict(club.faults) == {
        "start": "First day of the rota must be a date, written like 2027-03-15: year, month, day. You typed “soon”.",
        "weeks": "Weeks of the rota: give a whole number from 8 to 52, not “0”.",
        "on_duty": "On duty in each week: give a whole number from 1 to 4, not “five”.",
        "members": "Members: 1 of the lines cannot be read.",
        "members.1.shares": "Members, line 1, shares: give a whole number from 0 to 20, not “-1”.",
        "members.2.name": "Members, line 2, name: give a name, or take the line away.",
        "baths": "Baths: 1 of the lines cannot be read.",
        "baths.1.count": "Baths, line 1, how many: give a whole number from 1 to 200, not “many”.",
        "baths.2.plan": "Baths, line 2, plan: there is none that can be read; choose it anew.",
    }
    assert [one.name for one in club.members] == ["Ana"]


@pytest.mark.parametrize("text", ["free", "-3", "99999999999", "12 kg"])
def test_a_price_that_cannot_be_read_is_told_and_not_counted(text):
    first = buying.buying(club_of())
    key = buying.key_of(line(first, "Net pot"))
    found = buying.buying(club_of(prices={key: text}, extra=text))
    assert [name for name, _ in found.faults] == [f"prices.{key}", "extra"]
    assert all(text in sentence for _, sentence in found.faults)
    assert found.extra == 0 and line(found, "Net pot").price is None


WORDS = ("members", "baths", "name", "count", "plan", "id", "prices", "buyers", "start", "weeks", "shares")
ODD = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8)),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.sampled_from(WORDS), inner, max_size=4)),
    max_leaves=12)


@settings(max_examples=60)
@given(ODD)
def test_nothing_that_a_file_may_hold_is_an_error(given_):
    made = club_page.parts(given_)
    assert made["handout"].count('<section class="leaf') == 2
    assert all(isinstance(sentence, str) for sentence in made["faults"].values())


def test_whatever_was_typed_stands_in_the_page_as_text():
    nasty = '<script>alert(1)</script>"&\'\ud800'
    made = club_page.parts({"name": nasty, "start": "2027-03-01", "members": [{"name": nasty, "id": nasty}], "baths": [
        {"name": nasty, "count": 1, "plan": {}, "id": nasty}], "prices": {nasty: nasty}, "extra": nasty},
        {nasty: "https://x.example"})
    html = "".join(one for one in made.values() if isinstance(one, str))
    assert "<script" not in html and "&lt;script&gt;" in html
    html.encode("utf-8")


def test_an_empty_club_says_what_is_open():
    said = answer.as_json({})
    assert said["verdict"]["state"] == "open"
    assert said["verdict"]["text"] == "Still open: members, baths, the first day of the rota."
    assert said["list"] == [] and said["rota"] == [] and said["cost"]["a_bath"] is None


# --- the handout -----------------------------------------------------------------------------------------------------


def test_the_handout_counts_what_it_has_no_room_for():
    members = [{"name": f"Member with a long name {at}"} for at in range(60)]
    baths = [{"name": f"Bath {at}", "count": 9, "plan": {"bath.length": f"{40 + at} in"}} for at in range(12)]
    club = record.read({"start": "2027-03-01", "weeks": "52", "on_duty": "4", "members": members, "baths": baths})
    made = handout.sheets(club, buying.buying(club), {}, {})
    assert made.count('<section class="leaf') == 2
    assert "Also: 9 × Bath 3" in made and " more." in made and "weeks stand on the club" in made


def test_the_invented_club_is_marked_and_priced():
    club = record.read(invented.CLUB)
    assert "invented" in club.name and club.faults == ()
    found = buying.buying(club)
    keys = {buying.key_of(one) for one in found.lines}
    assert set(invented.CLUB["prices"]) <= keys, "a price of the invented club stands for no line any more"
    assert found.total == sum(one.part for one in found.shares)


# --- the file --------------------------------------------------------------------------------------------------------


def read_file(standing: list, text: str) -> dict:
    """As the page asks."""
    return json.loads(api.run(json.dumps({"op": "club_read", "clubs": standing, "text": text})))


def test_a_file_comes_back_as_it_was_and_comes_twice_without_doubling():
    club = {**invented.CLUB, "stamp": "s", "changed": 5, "future": {"kept": True}}
    text = files.written(club)
    first = read_file([], text)
    assert first["club"]["members"] == club["members"] and first["club"]["baths"] == club["baths"]
    assert first["club"]["prices"] == club["prices"] and first["club"]["future"] == {"kept": True}
    assert "stamp" not in first["club"] and not first["original"]
    again = read_file([first["club"]], text)
    assert again["club"] == first["club"] and again["sum"] == "Lines of the file: 8 here already."
    assert read_file([again["club"]], files.written(again["club"]))["club"] == first["club"]


def test_a_file_that_says_something_else_is_put_beside_and_nothing_is_lost():
    here = {"id": "c", "name": "Here", "members": [{"id": "m", "name": "Ana", "shares": "1"}], "baths": [],
            "prices": {"x": "1"}}
    there = {**here, "name": "There", "members": [{"id": "m", "name": "Anna"}, {"id": "n", "name": "Bo"}],
             "prices": {"x": "2", "y": "3"}}
    found = read_file([here], files.written(there))
    assert [one["name"] for one in found["club"]["members"]] == ["Ana", "Anna", "Bo"]
    assert len({one["id"] for one in found["club"]["members"]}) == 3
    assert found["club"]["name"] == "Here" and found["club"]["prices"] == {"x": "1", "y": "3"}
    assert found["original"] and any("the club’s name (“There”)" in one for one in found["told"])
    again = read_file([found["club"]], files.written(there))
    assert again["club"] == found["club"], "a second time it doubles"


def test_a_file_without_ids_is_known_again_and_two_of_one_name_are_two():
    text = json.dumps({"kind": record.KIND, "format": 1, "name": "By hand", "members": [{"name": "Ana"}] * 2,
                       "baths": [{"name": "Tote", "count": 2, "plan": {}}]})
    first = read_file([], text)
    assert [one["name"] for one in first["club"]["members"]] == ["Ana", "Ana"]
    again = read_file([first["club"]], text)
    assert again["club"] == first["club"]


@pytest.mark.parametrize("text, told", [
    ("", "not JSON text"), ("{", "not JSON text"), ("[1]", "no club"), ("{\"plan\": {}}", "holds plans"),
    ("{\"kind\": \"raftwright club\", \"weeks\": NaN}", "not JSON text"), ("[" * 100_000, "nested deeper"),
    (" " * 5_000_001, "larger than any club"), ("{\"kind\": \"raftwright shelf\", \"plans\": []}", "holds plans")])
def test_a_broken_file_is_told_and_its_text_kept(text, told):
    found = read_file([{"id": "c"}], text)
    assert found["club"] is None and told in found["sum"] and found["original"] and "othing" in found["sum"]


def test_a_newer_file_is_read_as_far_as_known_and_kept():
    newer = {"kind": record.KIND, "format": 9, "id": "c", "name": "Then", "members": [{"id": "m", "name": "Ana",
             "moon": 1}], "baths": "later", "teams": [1]}
    found = read_file([], json.dumps(newer))
    assert found["original"] and "newer version" in found["told"][0]
    assert found["club"]["members"][0]["moon"] == 1 and found["club"]["teams"] == [1]
    assert found["club"]["baths"] == [] and any("baths are no list" in one for one in found["told"])


@settings(max_examples=60)
@given(ODD, ODD)
def test_any_file_merges_and_a_second_time_changes_nothing(here, there):
    standing = [{**here, "id": "c"}] if isinstance(here, dict) else []
    given_ = {**(there if isinstance(there, dict) else {}), "kind": record.KIND, "format": 1, "id": "c"}
    first = read_file(standing, json.dumps(given_, allow_nan=False, default=str) if _plain(given_) else "{}")
    if first["club"] is None:
        return
    assert isinstance(first["club"]["members"], list) and isinstance(first["club"]["baths"], list)
    again = read_file([first["club"]], json.dumps(given_))
    assert again["club"] == first["club"]


def _plain(value: object) -> bool:
    """Whether JSON has words for it."""
    try:
        json.dumps(value, allow_nan=False)
    except ValueError:
        return False
    return True


# --- scripts ---------------------------------------------------------------------------------------------------------


def test_the_command_prints_what_a_club_comes_to(tmp_path, capsys):
    file = tmp_path / "club.json"
    file.write_text(files.written(invented.CLUB), encoding="utf-8")
    assert main(["club", str(file)]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said == answer.as_json(invented.CLUB)
    assert len(said["rota"]) == 12 and said["rota"][0]["on_duty"] == ["Ana"]


@pytest.mark.parametrize("content, told", [("{", "not JSON text"), ("[]", "no club"), (None, "cannot be read")])
def test_the_command_tells_what_is_no_club(tmp_path, capsys, content, told):
    file = tmp_path / "club.json"
    if content is not None:
        file.write_text(content, encoding="utf-8")
    assert main(["club", str(file)]) == 2
    assert told in capsys.readouterr().err


@pytest.mark.parametrize("link, words", [("", "when the page has an address on the web"), ("h" * 420, "not drawn yet"),
                                         ("h" * 421, "its link is too long for a QR code")])
def test_the_handout_says_why_it_has_no_code(link, words):
    club = record.read({"name": "Bench", "baths": [{"id": "b1", "name": "Tote", "count": "1", "plan": {}}]})
    assert words in handout.sheets(club, buying.buying(club), {"b1": link}, {})


def test_what_was_typed_is_quoted_once():
    club = record.read({"extra": "abc", "baths": [{"id": "b1", "count": "1", "plan": {}}]})
    assert dict(buying.buying(club).faults)["extra"] == (
        "Tax and postage must be an amount of money, like 12.50; “abc” is not a number.")


def test_figures_of_several_baths_alike_are_those_of_each():
    def said(count):
        club = record.read({"baths": [{"id": "b1", "name": "Box", "count": count, "plan": {}}]})
        return handout.sheets(club, buying.buying(club), {}, {})
    assert "2 × Box <small>each:</small>" in said("2") and "1 × Box</h4>" in said("1")
