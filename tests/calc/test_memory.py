"""Solving with a memory of the last time comes to exactly what solving afresh does, whatever was typed in between.

The tests named after a broken rule break it, and see that what compares the two solutions tells.
"""

import random
from dataclasses import replace

import pytest

from calc.errors import Pending, Unanswered
from calc.plan import FIELDS, TABLES, UNITS, Plan, default_text
from calc.render import page
from calc.settle import Settling
from calc.sheet import Sheet
from calc.solve import GIVERS, SPECS, Design, Memory, Walk, as_json, solve
from calc.steps import STEPS
from calc.topics import TOPICS
from calc.traced import Traced

TOPIC_OF_STEP = {step: topic.NAME for topic in TOPICS for step in topic.STEPS}
PARTS, SEQUENCES = 10, 100


def texts(field):
    """What somebody may type into one field: its default, nothing, nonsense, a bound, another choice, a number."""
    if field.kind == "choice":
        return [choice.value for choice in field.choices] + ["none of these"]
    if field.kind == "yesno":
        return ["yes", "no"]
    bounds = [f"{bound:g}" for bound in (field.minimum, field.maximum) if bound is not None]
    return [*(default_text(field, system) for system in ("us", "metric")), "", "x", "1", "3", "12 in", *bounds]


def edit(dice):
    """One answer typed: any field, any cell of a table, and the system of units more often than its share."""
    kind = dice.random()
    if kind < 0.08:
        return UNITS.key, dice.choice(["us", "metric"])
    if kind < 0.25:
        table = TABLES[dice.choice(sorted(TABLES))]
        column = dice.choice(table.columns)
        cells = ["", "x", "1", "5", "Some name", *(choice.value for choice in column.choices)]
        return f"{table.key}.{dice.randint(1, 3)}.{column.key}", dice.choice(cells)
    key = dice.choice(sorted(FIELDS))
    return key, dice.choice(texts(FIELDS[key]))


def whole(design):
    """All that a solution says, in its order."""
    return (design.system, list(design.answers.items()), list(design.faults.items()), design.cautions,
            dict(design.waiting), dict(design.limits), list(design.verdicts.items()))


def both(before, after, memory=None):
    """The second of two plans, solved with a memory of the first and afresh."""
    memory = memory or Memory()
    memory.solve(Plan(before))
    return memory.solve(Plan(after)), solve(Plan(after))


@pytest.mark.parametrize("part", range(PARTS))
def test_a_thousand_sequences_of_edits_change_no_answer(part):
    dice = random.Random(part)
    memory, typed, topics, given = Memory(), {}, set(), set()
    for number in range(SEQUENCES):
        # One memory through all of them, and now and then a plan that has nothing to do with the last.
        typed = {} if number % 5 == 0 else dict(typed)
        edits = [edit(dice) for _ in range(dice.randint(1, 3))]
        for key, text in edits:
            typed[key] = text
            kept = memory.solve(Plan(typed))
            topics.update(TOPIC_OF_STEP[step] for step in memory.ran)
            given.update((key, TOPIC_OF_STEP[step]) for step in memory.ran for key in memory.before(step).answers)
        assert whole(kept) == whole(solve(Plan(typed))), (typed, edits)
    assert topics == {topic.NAME for topic in TOPICS}
    assert len(given) > 200 and all(topic in GIVERS[key] for key, topic in given)


@pytest.mark.parametrize("part", range(4))
def test_a_plan_worked_out_in_pieces_and_left_half_way_comes_to_the_same(part):
    dice = random.Random(200 + part)
    memory, typed, before, passed = Memory(), {}, None, 0
    for _ in range(60):
        key, text = edit(dice)
        typed = {**typed, key: text}
        before = plan = Plan.from_mapping(typed, before)
        fresh = solve(Plan(dict(typed)))
        step = dice.choice(STEPS)
        some = memory.some(plan, step.topics)
        passed += len(some.passed)
        for topic in (name for name in step.topics if some.has(name)):
            if fresh.faults == some.faults:
                assert some.verdict(topic) == fresh.verdict(topic), (typed, topic)
            for key in (key for key, givers in GIVERS.items() if topic in givers):
                if fresh.faults == some.faults:
                    assert some.value(key) == fresh.value(key), (typed, key)
        walk = Walk(memory, plan)
        whether = dice.random() < 0.5
        while walk.on() and (whether or dice.random() < 0.9):
            pass
        if whether:
            assert whole(walk.design()) == whole(fresh), typed
        elif dice.random() < 0.3:
            assert whole(memory.solve(plan)) == whole(fresh), typed
    assert passed > 100


def test_what_was_left_out_cannot_be_looked_at():
    memory = Memory()
    design = memory.some(Plan({}), ("water",))
    assert "air" in design.passed and "water" not in design.passed
    assert design.shown("water.bath_volume") and design.verdict("water") and design.has("air")
    for look in (lambda: design.value("air.target"), lambda: design.verdict("air"), lambda: design.waits("air"),
                 lambda: design.cautions_of("air"), lambda: design.answers,
                 lambda: design.cautions, lambda: design.verdicts):
        with pytest.raises(Pending):
            look()
    # Nor is anything kept of it: the next whole plan finds all of it.
    assert whole(memory.solve(Plan({}))) == whole(solve(Plan({})))


def test_a_step_that_needs_a_topic_left_out_has_it_worked_out():
    # A fresh memory knows nothing of what the air stands on.
    design = Memory().some(Plan({}), ("air",))
    assert design.value("air.target") == solve(Plan({})).value("air.target") and "outage" in design.passed


def test_a_fault_of_a_topic_left_out_stays_until_it_is_looked_at_again():
    settling = Settling()
    wrong = {"energy.tariff": "15"}
    faulty = settling.whole(settling.read(wrong))
    assert "energy.tariff" in faulty.faults and "energy.tariff" not in faulty.plan.faults
    design, _ = settling.first(settling.read({**wrong, "bath.length": "50 in"}), ("water",), lambda design: None)
    assert "energy" in design.passed and settling.faults(design) == dict(faulty.faults)
    mended, _ = settling.first(settling.read({**wrong, "energy.tariff": "0.2"}), ("water",), lambda design: None)
    assert settling.faults(mended) == {}


def test_a_plan_read_from_the_one_before_is_the_same_plan():
    dice, typed, before = random.Random(11), {}, None
    for _ in range(1500):
        key, text = edit(dice)
        typed = dict(typed)
        if dice.random() < 0.25:
            typed.pop(key, None)
        else:
            typed[key] = text
        now, fresh = Plan.from_mapping(typed, before), Plan.from_mapping(typed)
        assert (now.values, now.rows, list(now.faults.items()), now.system) == (
            fresh.values, fresh.rows, list(fresh.faults.items()), fresh.system), typed
        before = now


@pytest.mark.parametrize("part", range(4))
def test_a_page_that_keeps_its_pieces_shows_what_a_new_one_does(part):
    dice = random.Random(100 + part)
    memory, shelf, typed = Memory(), page.Shelf(), {}
    for _ in range(15):
        key, text = edit(dice)
        typed[key] = text
        kept, fresh = memory.solve(Plan(dict(typed))), solve(Plan(dict(typed)))
        assert as_json(kept) == as_json(fresh), typed
        assert page.everything(kept, shelf) == page.everything(fresh), typed
        assert page.texts(kept) == page.texts(fresh), typed


@pytest.mark.parametrize("typed", [{}, {"units": "metric"}, {"bath.length": "x", "crops.rows.1.crop": "none"},
                                   {"bath.fill": "floor without valve", "light.have": "2"}])
def test_an_unchanged_plan_runs_nothing(typed):
    memory = Memory()
    memory.solve(Plan(typed))
    assert set(memory.ran) == set(TOPIC_OF_STEP)
    memory.solve(Plan(dict(typed)))
    assert memory.ran == ()


def test_a_tariff_runs_costs_and_lists_only():
    # What a head costs is one of the costs.
    memory = Memory()
    memory.solve(Plan({}))
    memory.solve(Plan({"energy.tariff": "0.99"}))
    assert {TOPIC_OF_STEP[step] for step in memory.ran} <= {"energy", "parts"}
    assert "energy" in {TOPIC_OF_STEP[step] for step in memory.ran} and len(memory.ran) <= 9


def test_every_step_is_its_own():
    assert len(TOPIC_OF_STEP) == sum(len(topic.STEPS) for topic in TOPICS)


def test_one_memory_is_not_anothers():
    memory = Memory()
    memory.solve(Plan({}))
    other = Memory()
    other.solve(Plan({}))
    assert set(other.ran) == set(TOPIC_OF_STEP)


# --- the rule, and what breaking it would do -------------------------------------------------------------------------

def blind_to_units(self, seen):
    """``same``, as it would be if the system of units were no reading."""
    return TRUE_SAME(self, {where: found for where, found in seen.items() if where[0] != "system"})


TRUE_SAME, TRUE_REPLAY, TRUE_LOOK = Traced.same, Sheet._replay, Sheet._look
# All sizes typed with their units, so that only the words change with the system.
SIZED = {key: default_text(field, "us") for key, field in FIELDS.items()
         if key != UNITS.key and default_text(field, "us")}


def test_a_record_that_ignores_the_system_of_units_is_caught(monkeypatch):
    kept, fresh = both(SIZED, SIZED | {"units": "metric"})
    assert whole(kept) == whole(fresh)
    monkeypatch.setattr(Sheet, "same", blind_to_units)
    kept, fresh = both(SIZED, SIZED | {"units": "metric"})
    assert whole(kept) != whole(fresh)
    assert kept.cautions != fresh.cautions


def test_faults_that_a_replay_drops_are_caught(monkeypatch):
    # A fault that one step alone finds, and an edit that has nothing to do with it.
    before = {"circulation.pumps.1.points": "100 gph at 5 ft, 200 gph at 6 ft"}
    kept, fresh = both(before, before | {"energy.tariff": "0.3"})
    assert "circulation.pumps" in fresh.faults and "circulation.pumps" not in fresh.plan.faults
    assert whole(kept) == whole(fresh)
    monkeypatch.setattr(Sheet, "_replay", lambda self, record: TRUE_REPLAY(self, replace(record, faults={})))
    kept, fresh = both(before, before | {"energy.tariff": "0.3"})
    assert whole(kept) != whole(fresh)
    assert "circulation.pumps" not in kept.faults


def test_a_shelf_that_ignores_the_system_of_units_is_caught(monkeypatch):
    def pieces_after_a_switch():
        shelf = page.Shelf()
        page.everything(solve(Plan(SIZED)), shelf)
        metric = solve(Plan(SIZED | {"units": "metric"}))
        return page.everything(metric, shelf), page.everything(metric)
    kept, fresh = pieces_after_a_switch()
    assert kept == fresh
    monkeypatch.setattr(Design, "same", blind_to_units)
    kept, fresh = pieces_after_a_switch()
    assert kept != fresh


def blind_to_recorded_faults(self, how, key):
    """``_look``, as it would be if rows saw only the faults that the plan was read with."""
    if how != "rows":
        return TRUE_LOOK(self, how, key)
    faults = self._faults
    self._faults = dict(self._plan.faults)
    try:
        return TRUE_LOOK(self, how, key)
    finally:
        self._faults = faults


def complain(sheet):
    """A step that finds fault with a table in the light of another answer."""
    if sheet["energy.tariff"] > 0.5:
        sheet.fault("crops.rows", "Too dear.")


def count(sheet):
    """A later step that takes the table as it is."""
    sheet.put("board.sites", len(sheet.rows("crops.rows")))


def counted(plan, records):
    """What two steps of our own write; every topic of the house asks for more than the rows before it reads them."""
    sheet = Sheet(plan, SPECS)
    for step in (complain, count):
        records[step] = sheet.do("crops", step, records.get(step))
    return sheet.written()


def test_rows_that_see_only_the_faults_of_the_plan_are_caught(monkeypatch):
    cheap, dear = Plan({"energy.tariff": "0.2"}), Plan({"energy.tariff": "0.9"})

    def dear_after_cheap():
        records = {}
        assert counted(cheap, records).answers["board.sites"].value == len(cheap.rows["crops.rows"])
        return counted(dear, records)
    fresh = counted(dear, {})
    assert fresh.faults == {"crops.rows": "Too dear."} and not fresh.answers
    assert fresh.waiting == {"crops": {"crops.rows"}}
    assert dear_after_cheap() == fresh
    monkeypatch.setattr(Sheet, "_look", blind_to_recorded_faults)
    assert dear_after_cheap() != fresh


# --- reading and writing ---------------------------------------------------------------------------------------------

@pytest.mark.parametrize("system, bath, pot, tariff, opening", [
    ("us", "12 3/16 in", "2 in", "0.17/kWh", "48 in"), ("metric", "31 cm", "51 mm", "0.17/kWh", "121.9 cm")])
def test_results_and_inputs_are_shown_as_declared(system, bath, pot, tariff, opening):
    plan = Plan({"units": system, "bath.depth": "12 3/16 in", "board.pot": "2 in", "energy.tariff": "0.17",
                 "bath.length": "48 in"})
    design, sheet = solve(plan), Sheet(plan, SPECS, solve(plan).answers)
    for one in (design, sheet):
        assert [one.shown(key) for key in ("bath.depth", "board.pot", "energy.tariff", "water.opening_length")] == [
            bath, pot, tariff, opening]
        assert one.shown_as("circulation.pumps.1.top_flow", 1 / 3600) == one.show(1 / 3600, "flow", "gph", "L/h")
    with pytest.raises(KeyError):
        sheet.shown_as("no.such", 1.0)


def test_what_is_not_there_is_not_shown():
    plan = Plan({"bath.depth": "x"})
    assert solve(plan).shown("bath.depth") == solve(plan).shown("water.opening_length") == ""
    assert solve(plan).shown("place.air_pressure") != ""
    with pytest.raises(Unanswered):
        Sheet(plan, SPECS).shown("bath.depth")
    with pytest.raises(Unanswered):
        Sheet(plan, SPECS).shown("water.opening_length")


def test_a_solution_cannot_be_changed():
    design = solve(Plan({}))
    for mapping in (design.answers, design.faults, design.waiting, design.limits, design.verdicts):
        with pytest.raises(TypeError):
            mapping["x"] = "y"
    with pytest.raises(AttributeError):
        design.cautions = ()


def test_whoever_looks_at_the_whole_is_told_of_any_change():
    shelf, looks = page.Shelf(), []

    def look(design):
        looks.append(design)
        return f"{len(design.faults)}"
    before, same, other = solve(Plan({})), solve(Plan({})), solve(Plan({"bath.depth": "x"}))
    assert [shelf.take("a", one, look) for one in (before, same, other)] == ["0", "0", "1"]
    assert looks == [before, other]
