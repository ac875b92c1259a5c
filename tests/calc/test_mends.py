"""Every mend does what it says: it was offered after a solve, and another solve, from nothing, comes to the same."""

import json
import random

import pytest

from calc import api, mends as machine
from calc.mending import OF_TOPIC
from calc.mends import ALL, MOST, MOST_SOLVES, RANK, mends, mends_of
from calc.plan import FIELDS, Plan, default_text, find_column
from calc.solve import Memory, solve
from calc.topics import TOPICS

BAD = ("tight", "fails")
# Plans with a bad verdict: what was typed, the topic, and the mend that comes first.
PUMP = {"circulation.pumps.1.name": "Mine", "circulation.pumps.1.shutoff_head": "2 m",
        "circulation.pumps.1.top_flow": "1500 L/h", "circulation.pumps.1.power": "22 W"}
LARGE = {**PUMP, "circulation.pumps.1.shutoff_head": "5 m", "circulation.pumps.1.top_flow": "12000 L/h"}
LAMP = {"light.by": "lamp", "light.lamp_power": "65 W", "light.hours": "16 h", "light.target": "14.5 mol/m2/d"}
SALTS = {"feed.way": "salts", "feed.target": "leafy"}
WRITTEN = (
    ({**PUMP, "circulation.hose_bore": "1/2 in", "circulation.lift": "12 in", "circulation.drains": "2"},
     "circulation", "Take 5/8 in hose"),
    ({**PUMP, "units": "metric", "circulation.hose_bore": "13 mm", "circulation.lift": "25 cm",
      "circulation.drains": "2"}, "circulation", "Take 16 mm hose"),
    ({**PUMP, "circulation.throttled": "20 gph"}, "circulation", "Open the valve"),
    ({**PUMP, "circulation.rise": "4 in"}, "circulation", "Allow 1 1/2 in of rise"),
    ({**LARGE, "units": "metric"}, "circulation", "Fit "),
    ({"bath.fill": "floor"}, "water", "Fill over the rim"),
    ({"units": "metric", "reservoir.shape": "box", "reservoir.depth": "40 cm", "reservoir.water_depth": "39 cm"},
     "water", "Keep the reservoir only 3"),
    ({"bath.stands_on": "floor", "bath.room_area": "8 ft2"}, "water", "Put the bath on the ground"),
    ({"bath.depth": "12 in", "bath.water_depth": "11.9 in"}, "water", "Fill the bath 10 1/2 in deep"),
    ({"board.thickness": "1/2 in", "board.plant_mass": "1 lb"}, "board", "Take foam 1 in thick"),
    ({"board.thickness": "1 1/2 in", "board.spacing": "3 in"}, "board", "Take foam 2 1/2 in thick"),
    ({"board.wanted": "40", "board.spacing": "8 in"}, "board", "Be content with 18 sites"),
    ({"oxygen.target": "9 mg/L"}, "air", "Ask for 7.9 mg/L"),
    ({"water.scheme": "still"}, "oxygen", "Hang an air stone in it"),
    ({"place.setting": "summer greenhouse", "units": "metric"}, "heat", "Put the bath in a heated room"),
    ({"place.setting": "cool basement", "crops.rows.1.crop": "basil"}, "heat", "Put 2 in of foam round"),
    ({**LAMP, "light.have": "1"}, "light", "Hang 1 more"),
    ({**LAMP, "light.have": "9"}, "light", "Light them 3.5 h a day"),
    ({"acidity.target_ph": "7.2"}, "acidity", "Aim for pH 6.5"),
    ({"units": "metric", "acidity.alkalinity": "350"}, "acidity", "Mix three quarters reverse-osmosis"),
    ({**SALTS, "feed.strength": "200 %"}, "feed", "Mix it at 9"),
    ({**SALTS, "acidity.target_ph": "7.5"}, "feed", "Aim for pH 5.8"),
    ({"outage.hours": "24 h"}, "outage", "Plan to be there within"),
    ({"outage.hours": "8 h"}, "outage", "Keep an air pump of "),
    ({"light.by": "ppfd", "light.ppfd_reading": "80", "light.hours": "16 h"}, "light", "Hang the lamps lower"),
    ({"use.holiday": "60 d"}, "use", "Have it topped up every 29 days"),
    ({"water.scheme": "still", "use.holiday": "90 d"}, "use", "Have a little water added every "),
    ({"schedule.aim": "heads", "schedule.heads": "12"}, "schedule", "Ask for 3 a week"),
    ({"crops.rows.1.crop": "strawberry"}, "crops", "Grow leaf lettuce"),
    ({"energy.other_power": "2 kW", "light.by": "none"}, "energy", "Leave only 1100 W"),
)


# One plan for each thing that a finder looks for and no plan above has.
LOOKED_FOR = (
    {"crops.rows.1.crop": "basil", "crops.rows.1.sites": "40", "crops.rows.2.crop": "spinach",
     "crops.rows.2.sites": "40"},
    {**LARGE, "circulation.drain_length": "40 ft", "circulation.drain_fall": "1/2 in", "circulation.drains": "6"},
    {**LARGE, "bath.count": "4", "circulation.header_bore": "1/2 in"},
    {**LARGE, "circulation.pumps.1.top_flow": "90000 L/h", "bath.count": "20", "circulation.header_bore": "8 in",
     "circulation.branch_bore": "2 in", "circulation.hose_bore": "4 in", "circulation.main_fall": "0.4 in",
     "circulation.main_length": "500 ft"},
    {"bath.length": "10 ft", "board.split": "number", "board.sheet_length": "12 ft", "board.plant_mass": "6 oz"},
    {"schedule.sites": "4", "schedule.aim": "sites"},
    {**LAMP, "light.have": "40"},
    {**SALTS, "feed.scale": "1 g", "feed.strength": "200 %", "feed.stock_strength": "400"},
    {**SALTS, "feed.target": "own"},
    {"feed.way": "powders", "feed.target": "fruiting"},
    {"air.hose_bore": "1/8 in", "air.hose_length": "50 ft", "air.rule": "own", "oxygen.target": "8 mg/L",
     "air.own_rate": "0.01 L/min/gal", "oxygen.stones": "bare hose"},
    {"air.pumps.1.name": "Mine", "air.pumps.1.free_flow": "4 L/min", "air.pumps.1.shutoff": "10 kPa",
     "air.pumps.1.power": "3 W", "air.pumps.1.owned": "1", "bath.depth": "4 ft", "bath.water_depth": "3 ft"},
    {"oxygen.hottest": "95 F", "heat.keep_high": "66 F", "air.rule": "own", "air.own_rate": "0.001 L/min/gal"},
    {"outage.pump_watts": "300 W"},
    {"board.clearance": "4 in", "board.notches": "none", "board.foam": "EPS I"},
    {"bath.shape": "tapered box", "bath.base_length": "30 in", "board.clearance": "1/4 in"},
    {"light.sun": "dli", "light.outdoor": "60 mol/m2/d", "light.cover": "80 %"},
    {"bath.liner": "frame", "bath.length": "8 ft", "reservoir.brim_volume": "90 gal"},
    {"water.scheme": "still", "use.fall": "1/4 in"},
    {"acidity.acid": "citric", "acidity.strength_percent": "30 %"},
    {"acidity.target_ph": "8.3", "acidity.base": "hydroxide", "acidity.start_ph": "7"},
    {"light.by": "lux", "light.lux_reading": "5000 lux"},
    {"light.by": "ppfd", "light.ppfd_reading": "80"},
    {"air.rule": "optimum", "oxygen.stones": "bare hose", "schedule.aim": "heads"},
    {"place.setting": "open yard", "place.sun": "open"},
    {"use.topup_strength": "150 %"},
)


def dangers(design):
    return {one.code for one in design.cautions if one.level == "danger" and not one.standing}


def told_by(text, before, after):
    """Whether "... from A to B" (or "...: B") says a number of both designs as a reader sees it there."""
    for key, answer in after.answers.items():
        now, was = after.shown(key), before.shown(key)
        if answer.spec.kind != "rows" and now and text.endswith(f" {now}") and now != was:
            start = text.removesuffix(now)
            number = was.rpartition(" ")[0] or was
            if start.endswith((f" from {was} to ", f" from {number} to ")) or (not was and start.endswith(": ")):
                return True
    return False


def inputs_told(text, before, after):
    """The same for a number that the mend itself typed."""
    return any(text.endswith(f" to {after.shown(key)}") for key in FIELDS
               if after.plan.values.get(key) is not None and after.shown(key) != before.shown(key))


def check(plan, topic, mend):
    """That a mend is an ordinary change that does what it says, and no harm."""
    before, after = solve(plan), solve(Plan({**plan.text, **mend.changes}))
    old, new = before.verdicts[topic], after.verdicts[topic]
    assert RANK[new.state] < RANK[old.state] and new.state in ("fits", "tight"), mend
    assert not after.faults and not dangers(after) - dangers(before), mend
    for name, given in before.verdicts.items():
        if name in after.verdicts and name != topic:
            assert RANK[after.verdicts[name].state] <= RANK[given.state], (mend, name)
    figures = new.figure and mend.consequence == f"{old.figure} becomes {new.figure}"
    words = mend.consequence.lower() == new.lead.rstrip(".").lower()
    assert told_by(mend.consequence, before, after) or inputs_told(mend.consequence, before, after) or figures \
        or words, mend
    return new.state


def random_plan(dice):
    """A plan with some answers at choices, bounds, defaults and near them."""
    text = {"units": dice.choice(["us", "metric"])}
    for key in dice.sample(sorted(FIELDS), 5):
        field = FIELDS[key]
        if field.transient or field.kind in ("text", "date", "clock"):
            continue
        choices = [choice.value for choice in field.choices] or [default_text(field, text["units"])]
        if field.kind == "yesno":
            choices = ["yes", "no"]
        text[key] = dice.choice(choices)
        value = Plan(text).values.get(key)
        if isinstance(value, float) and value:
            number, _, unit = default_text(field, text["units"]).partition(" ")
            if number.replace(".", "").isdigit():
                text[key] = f"{float(number) * dice.choice([0.25, 0.5, 0.8, 1.25, 2.0, 4.0]):g} {unit}".strip()
    return Plan(text)


@pytest.mark.parametrize("text, topic, first", WRITTEN, ids=lambda one: str(one)[:40])
def test_a_written_plan_is_offered_its_smallest_mend_first(text, topic, first):
    plan = Plan(text)
    assert not solve(plan).faults and solve(plan).verdicts[topic].state in BAD
    found = mends(plan, topic)
    assert 1 <= len(found) <= MOST and found[0].act.startswith(first), found
    states = {check(plan, topic, mend) for mend in found}
    assert len(states) == 1


def test_the_written_plans_are_many_and_in_both_systems():
    assert len(WRITTEN) >= 12 and len({topic for _, topic, _ in WRITTEN}) >= 10
    assert {Plan(text).system for text, _, _ in WRITTEN} == {"us", "metric"}


@pytest.mark.parametrize("part", range(4))
def test_mends_of_random_plans_do_what_they_say(part):
    dice, offered = random.Random(700 + part), 0
    for _ in range(8):
        plan = random_plan(dice)
        design, memory = solve(plan), Memory()
        found = mends_of(plan, ALL, memory)
        for topic, given in design.verdicts.items():
            some = found.get(topic, ())
            assert len(some) <= MOST and (not some or (given.state in BAD and not design.faults))
            assert len({mend.id for mend in some}) == len(some) == len({mend.act for mend in some})
            for mend in some:
                check(plan, topic, mend)
            offered += len(some)
    assert offered


def test_no_mend_where_nothing_is_amiss_or_an_answer_is_at_fault():
    plan = Plan({})
    for topic, given in solve(plan).verdicts.items():
        if given.state not in BAD:
            assert mends(plan, topic) == ()
    text, topic, _ = WRITTEN[0]
    assert mends(Plan({**text, "board.pot": "wet"}), topic) == ()
    assert mends(plan, "place") == mends(plan, "no such topic") == ()


def test_trials_are_few_run_only_what_they_touch_and_leave_the_memory_alone(monkeypatch):
    solved, ran, truth = [], [], Memory.solve

    def counted(self, plan):
        found = truth(self, plan)
        solved.append(plan)
        ran.append(len(self.ran))
        return found
    every = sum(len(topic.STEPS) for topic in TOPICS)
    for text, topic, _ in WRITTEN:
        plan, memory = Plan(text), Memory()
        memory.solve(plan)
        before = dict(memory._records)
        with monkeypatch.context() as patch:
            patch.setattr(Memory, "solve", counted)
            with_memory = mends(plan, topic, memory)
        assert len(solved) <= MOST_SOLVES + 1 and ran[0] == 0 and all(count < every for count in ran)
        assert memory._records == before and with_memory == mends(plan, topic)
        solved.clear()
        ran.clear()


def test_a_mend_is_said_in_a_few_plain_words_and_typed_in_the_readers_units():
    for text, topic, _ in WRITTEN:
        for mend in mends(Plan(text), topic):
            assert mend.act[0].isupper() and not mend.act.endswith(".") and len(mend.act) <= 120, mend
            assert mend.consequence and not mend.consequence.endswith(".") and len(mend.consequence) <= 110, mend
            assert "Example" not in mend.act + mend.consequence
            foreign = (" in", " ft", " gal", " gph", " F") if Plan(text).system == "metric" else (" cm", " mm", " L/h")
            assert not any(words.endswith(unit) for words in mend.changes.values() for unit in foreign), mend


def test_every_topic_with_mends_has_a_verdict_and_every_finder_finds_something():
    names = {topic.NAME for topic in TOPICS if topic.VERDICT}
    assert set(OF_TOPIC) <= names and set(ALL) == names
    designs = [solve(Plan(text)) for text in (*LOOKED_FOR, *(text for text, _, _ in WRITTEN))]
    idle = [f"{topic}: {finder.__name__}" for topic, finders in OF_TOPIC.items() for finder in finders
            if not any(list(finder(design)) for design in designs)]
    assert idle == []


def test_candidates_are_text_that_the_plan_can_read():
    for text in (*LOOKED_FOR, *(text for text, _, _ in WRITTEN)):
        design = solve(Plan(text))
        for finders in OF_TOPIC.values():
            for one in (one for finder in finders for one in finder(design)):
                assert one.changes and one.act, one
                for key in one.changes:
                    assert key in FIELDS or find_column(key), one


def test_a_change_that_harms_elsewhere_is_not_offered(monkeypatch):
    """The search is asked whether another verdict got worse: a candidate that floods the floor never comes back."""
    text, topic, _ = WRITTEN[0]
    harm = machine.Candidate({**mends(Plan(text), topic)[0].changes, "bath.fill": "floor"}, "Flood the floor")
    monkeypatch.setattr(machine, "OF_TOPIC", {topic: (lambda design: [harm],)})
    assert mends(Plan(text), topic) == ()


def test_the_page_asks_for_mends_apart_from_the_answers():
    text, topic, _ = WRITTEN[0]
    asked = json.loads(api.run(json.dumps({"op": "mends", "plan": text, "topics": [topic]})))["mends"]
    assert asked == json.loads(json.dumps(machine.as_json({topic: mends(Plan(text), topic)})))
    assert set(asked[topic][0]) == {"id", "act", "consequence", "changes"}
    assert "mends" not in json.loads(api.run(json.dumps({"op": "solve", "plan": text})))


def test_two_changes_that_mend_together_say_what_both_do():
    frame = {"bath.length": "8 ft", "bath.width": "4 ft", "bath.depth": "11 1/4 in", "bath.water_depth": "9 in",
             "bath.liner": "frame", "reservoir.known_volume": "50 gal", "reservoir.brim_volume": "60 gal"}
    first = mends(Plan(frame), "water")[0]
    assert " in the reservoir, and brace the long walls" in first.act
    assert first.consequence == "the water has its place"


def test_an_offered_change_writes_squares_as_the_page_does():
    aim = mends(Plan({"light.sun": "dli"}), "light")[0]
    assert aim.act == "Aim for 12 mol/m²/d" and aim.changes == {"light.target": "12 mol/m2/d"}


def test_a_count_and_sizes_that_do_not_agree_are_measured_again_and_not_typed_away():
    wrong = Plan({"bath.shape": "known volume", "bath.known_volume": "20 gal"})
    assert solve(wrong).verdict("water").lead == "Opening too large."
    assert mends(wrong, "water") == ()


def test_in_the_open_all_of_the_sun_is_offered_before_an_aim_is_lowered():
    dull = mends(Plan({"light.sun": "dli", "light.outdoor": "16", "place.setting": "open yard"}), "light")[0]
    # 16 mol with nothing over the plants, and 9.6 under a cover.
    assert dull.changes == {"light.cover": "100 %"}
    assert dull.consequence == "the light of a day rises from 9.6 to 16 mol/m²/d"
