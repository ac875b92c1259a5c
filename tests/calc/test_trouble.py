"""Trouble: written cases, the arithmetic of the weights, plain words, the next question, and what the log tells."""

from __future__ import annotations

import json
from datetime import datetime
from math import isclose, log2

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import Plan, api
from calc.command_line import main
from calc.keeping.bath import Bath
from calc.keeping.entries import many
from calc.keeping.trouble import weigh
from calc.keeping.trouble.answer import as_json, find
from calc.keeping.trouble.causes import CAUSES
from calc.keeping.trouble.checks import CHECKS
from calc.keeping.trouble.from_log import told
from calc.keeping.trouble.plain import understood
from calc.keeping.trouble.signs import SIGNS, WHERE
from calc.relations import base
from calc.render.keeping import leaves, reasons
from tests.calc.trouble_cases import CASES

SOME = st.lists(st.sampled_from(sorted(SIGNS)), max_size=6, unique=True)


@pytest.mark.parametrize("words, present, absent, cause, check", CASES, ids=[case[0][:50] for case in CASES])
def test_a_written_case(words, present, absent, cause, check):
    found = find(present, absent)
    assert (found.first, found.checks[0]) == (cause, check)


def test_forty_cases_and_half_of_them_from_extension_services_and_universities():
    named = [case for case in CASES if not case[0].startswith("from memory")]
    assert len(CASES) >= 40 and len(named) >= 20
    assert len({case[0] for case in CASES}) == len(CASES)


def test_each_row_has_a_source_and_a_status_and_nothing_hangs_in_the_air():
    statuses = {value for name, value in vars(base).items() if name.isupper() and isinstance(value, str)}
    for cause in CAUSES.values():
        assert set(cause.signs) <= set(SIGNS) and set(cause.checks) <= set(CHECKS) and cause.checks
        assert cause.source[0] and (cause.source[1] in statuses or cause.source[1].endswith("no source"))
        assert 1 <= cause.harm <= 4 and cause.weight > 0.0 and cause.cure and cause.lead
        assert all(0.0 < share < 1.0 for share in cause.signs.values())
    assert {sign.where for sign in SIGNS.values()} == set(WHERE)
    assert {one.drawn for one in SIGNS.values() if one.drawn} == set(leaves.NAMES)
    assert {key for cause in CAUSES.values() for key in cause.checks} == set(CHECKS)
    # Every sign but those that any bath shows tells something of some cause.
    assert {sign for cause in CAUSES.values() for sign in cause.signs} == set(SIGNS)


def test_shares_are_weight_times_the_shares_of_signs_over_their_sum():
    found = weigh.shares(["slimy"], ["warm"])
    by_hand = {key: cause.weight * cause.signs.get("slimy", 0.04) * (1.0 - cause.signs.get("warm", 0.12))
               for key, cause in CAUSES.items()}
    whole = sum(by_hand.values())
    assert all(isclose(found[key], by_hand[key] / whole) for key in CAUSES)


@given(SOME, SOME)
def test_shares_are_one_together_and_never_sure(present, absent):
    found = weigh.shares(present, [sign for sign in absent if sign not in present])
    assert isclose(sum(found.values()), 1.0) and all(0.0 < share < 1.0 for share in found.values())


def test_what_is_open_is_counted_in_bits():
    assert weigh.bits({"a": 0.5, "b": 0.5}) == 1.0 and weigh.bits({"a": 1.0}) == 0.0
    assert weigh.bits({"a": 0.25, "b": 0.75}) == pytest.approx(-0.25 * log2(0.25) - 0.75 * log2(0.75))


def test_the_gain_of_a_question_is_what_both_answers_leave_by_their_chances():
    found = weigh.shares(["slimy"])
    yes = sum(share * weigh.shown_by(CAUSES[key], "smell") for key, share in found.items())
    left = (yes * weigh.bits(weigh.shares(["slimy", "smell"]))
            + (1.0 - yes) * weigh.bits(weigh.shares(["slimy"], ["smell"])))
    assert weigh.expected_gain(found, "smell") == pytest.approx(weigh.bits(found) - left)


@given(SOME)
def test_no_question_is_expected_to_confuse_and_the_first_tells_most(present):
    gains = weigh.questions(weigh.shares(present), present)
    assert all(gain > -1e-12 for _, gain in gains) and gains[0][1] == max(gain for _, gain in gains)
    assert not {sign for sign, _ in gains} & set(present)


@given(SOME, SOME)
def test_any_signs_are_answered_as_plain_data_and_as_html(present, absent):
    found = find(present, absent)
    said = as_json(found)
    json.dumps(said, allow_nan=False)
    pieces = reasons.answer(found)
    assert all(isinstance(html, str) for html in pieces.values())
    if present:
        assert said["causes"] and said["checks"] and said["verdict"]["lead"]
    for check in said["checks"]:
        assert not set(CHECKS[check["check"]].tells) & set(present)


def test_an_answer_shows_why_asks_on_and_says_when_to_stop():
    said = as_json(find(["slimy", "warm"], ["oxygen-low"], note={"warm": "74 °F, 4 above its band"}))
    first = said["causes"][0]
    assert first["cause"] == "root-rot" and "half the roots come off" in said["stop"]
    assert "Water warm (74 °F, 4 above its band): seen in 6 of 10 baths with it" in first["for"]
    oxygen = next(one for one in said["causes"] if one["cause"] == "oxygen")
    assert oxygen["against"] == ["Oxygen low: not seen"]
    assert said["question"]["ask"].endswith("?") and said["question"]["unsure"].startswith("then the next best: ")
    assert said["weights"][0]["signs"] == {"Brown and slimy": 0.9, "Water warm": 0.6, "Oxygen low": 0.3}
    again = as_json(find(["slimy", "warm"], ["oxygen-low"], [said["question"]["sign"]]))
    assert again["question"]["sign"] != said["question"]["sign"]


def test_an_answer_to_the_question_does_what_it_said():
    said = as_json(find(["slimy", "warm"]))
    sign, words = said["question"]["sign"], said["question"]["yes"]
    after = find(["slimy", "warm", sign])
    assert words.startswith(CAUSES[after.first].name[:1].lower() + CAUSES[after.first].name[1:])


def test_nothing_seen_says_what_to_do():
    said = as_json(find([]))
    assert said["verdict"]["lead"] == "What do you see?" and not said["causes"] and not said["checks"]


@pytest.mark.parametrize("share, words", [(0.01, "less than 1 in 10"), (0.26, "about 3 in 10"),
                                          (0.96, "nearly certain")])
def test_shares_are_told_in_tenths(share, words):
    assert weigh.tenths(share) == words


@pytest.mark.parametrize("text, sign", [
    ("brown roots", "slimy"), ("bad smell", "smell"), ("bottom leaves turning yellow", "old-yellow"), ("no bubbles",
                                                                                                    "no-bubbles"),
    ("my pump is loud", "pump"), ("water level drops", "falls"), ("leaves droop", "wilt"), ("tip burn", "tips-brown"),
    ("white fuzzy stuff", "powder"), ("green slime", "green"), ("ph rises", "ph-climbs"), ("slimy", "slimy")])
def test_plain_words_are_understood(text, sign):
    assert understood([text]) == ([sign], {})


@pytest.mark.parametrize("key", sorted(SIGNS))
def test_each_sign_is_understood_by_its_own_words(key):
    for words in (key, SIGNS[key].title, *SIGNS[key].said):
        assert understood([words])[0] == [key], words


def test_words_that_are_no_sign_are_listed_with_the_nearest():
    signs, unclear = understood(["qwerty", "brown something odd here"])
    assert signs == [] and unclear["qwerty"] == [] and unclear["brown something odd here"]


def test_the_log_ticks_signs_and_rules_others_out():
    log, _ = many([{"at": f"2026-11-{day}T07:00", "typed": {"ph": str(5.5 + 0.15 * (day - 18)), "temperature": "80",
                                                            "oxygen": "6.9", "ec": "1.4"}} for day in range(18, 26)]
                  + [{"kind": "changed", "at": "2026-11-24T09:00", "typed": {}},
                     {"kind": "failed", "at": "2026-11-24T22:00", "typed": {"what": "power"}}])
    found = told(Bath(Plan({})), log, datetime(2026, 11, 25, 8, 0))
    assert {"warm", "ph-high", "ph-climbs", "fresh", "power"} <= set(found.present)
    assert {"oxygen-low", "cold", "ec-high", "ec-low"} <= set(found.absent)
    assert found.note["warm"] == "80 °F, 3 above its band" and found.note["oxygen-low"] == "6.9 mg/L, in its band"


def ask(op, **more):
    return json.loads(api.run(json.dumps({"op": op, **more})))


def test_the_pages_requests():
    rows = [{"at": "2026-11-25T07:00", "typed": {"temperature": "80"}}]
    tiles = ask("trouble_signs", entries=rows, plan={}, now="2026-11-25T08:00")
    assert 'value="warm" checked' in tiles["html"] and tiles["html"].count("<svg") == len(leaves.NAMES)
    said = ask("trouble", present=["slimy", "never heard"], said=["bad smell", "qwerty"], absent=["oxygen-low"],
               note=tiles["note"])
    assert said["causes"][0]["cause"] == "root-rot" and said["unclear"] == {"qwerty": []}
    assert 'data-question="' in said["html"]["question"] and 'data-cause="root-rot"' in said["html"]["causes"]
    table = ask("trouble_table")["html"]
    assert table.count("<tr>") == 2 + len(CAUSES) + len(SIGNS) and "e-GRO Edible Alert 3(1)" in table
    assert "Stop and throw away" in said["html"]["stop"] and "<table>" in said["html"]["weights"]


def test_the_command(capsys):
    assert main(["trouble", "brown roots", "bad smell", "--not", "low oxygen"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert said["causes"][0]["cause"] == "root-rot" and said["not_seen"] == ["oxygen-low"]
    assert main(["trouble", "qwerty"]) == 2
    assert capsys.readouterr().err.startswith("None of these words is a sign that is known here.")
