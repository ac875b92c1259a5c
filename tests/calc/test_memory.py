"""Solving with a memory of the last time comes to exactly what solving afresh does, whatever was typed in between."""

from hypothesis import given, settings, strategies as st

from calc.plan import FIELDS, TABLES, Plan, default_text
from calc.render import page
from calc.solve import Memory, as_json, solve
from calc.topics import TOPICS


def texts(field):
    """What somebody may type into one field: its default, nothing, nonsense, a bound, another choice, a number."""
    if field.kind == "choice":
        return st.sampled_from([choice.value for choice in field.choices] + ["none of these"])
    if field.kind == "yesno":
        return st.sampled_from(["yes", "no"])
    bounds = [f"{bound:g}" for bound in (field.minimum, field.maximum) if bound is not None]
    defaults = [default_text(field, system) for system in ("us", "metric")]
    return st.sampled_from([*defaults, "", "x", "1", "3", "12 in", *bounds])


EDITS = st.sampled_from(sorted(FIELDS)).flatmap(lambda key: st.tuples(st.just(key), texts(FIELDS[key])))
CELLS = st.sampled_from(sorted(TABLES)).flatmap(lambda key: st.tuples(
    st.builds(lambda row, column: f"{key}.{row}.{column.key}", st.integers(1, 3), st.sampled_from(TABLES[key].columns)),
    st.sampled_from(["", "x", "1", "5", "Some name"])))


@settings(max_examples=60, deadline=None)
@given(st.lists(EDITS | CELLS, min_size=1, max_size=6))
def test_a_memory_changes_no_answer(edits):
    memory, shelf, text = Memory(), page.Shelf(), {}
    for key, typed in edits:
        text[key] = typed
        kept, fresh = solve(Plan(dict(text)), memory), solve(Plan(dict(text)))
        assert as_json(kept) == as_json(fresh)
        assert page.parts(kept, shelf=shelf) == page.parts(fresh)
        assert page.texts(kept) == page.texts(fresh)


def test_a_memory_runs_only_what_an_answer_touches():
    memory = Memory()
    solve(Plan({}), memory)
    before = dict(memory.records)
    solve(Plan({"energy.tariff": "0.99"}), memory)
    again = {step for step, record in memory.records.items() if before[step] is not record}
    assert again and len(again) < len(before) / 4


def test_every_step_is_its_own():
    steps = [step for topic in TOPICS for step in topic.STEPS]
    assert len(steps) == len(set(steps))
