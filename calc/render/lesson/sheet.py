"""The worksheet and its answer key as HTML: problem, blank lines, room for the answer; every sum on the key is the one
by hand that the planner shows."""

from __future__ import annotations

from html import escape

from ... import units
from ...solve import SPECS, Design
from ..by_hand import by_hand
from .problems import LEVELS, Problem, text


def problems_of(design: Design) -> dict[str, int]:
    """The problems that a plan has numbers for: the result asked for, and the number on the sheet.

    Where an answer lies just between two roundings a sum may end on the other one: that is no problem for a class.
    """
    asked = [problem.key for level in LEVELS for problem in level.problems
             if (reckoned := by_hand(problem.key, design)) and reckoned.endswith(design.shown(problem.key))]
    return {key: number for number, key in enumerate(asked, 1)}


def unit_of(problem: Problem, design: Design) -> str:
    """The unit of an answer as it stands behind the number; the currency for money."""
    spec = SPECS[problem.key]
    if spec.kind == "money":
        return str(design.value("energy.currency") or "")
    if problem.unit or spec.kind not in units.KINDS:
        return problem.unit
    kind = units.KINDS[spec.kind]
    return units.written((spec.metric or kind.metric) if design.system == "metric" else (spec.us or kind.us))


def _problem(problem: Problem, design: Design, numbered: dict[str, int]) -> str:
    number = numbered[problem.key]
    lines = "<span></span>" * problem.lines
    return (f'<li value="{number}" id="problem-{number}"><p>{escape(text(problem, design, numbered))}</p>'
            f'<div class="lines" aria-hidden="true">{lines}</div>'
            f'<p class="answer">Answer: <span class="blank"></span> {escape(unit_of(problem, design))}</p></li>')


def worksheet(design: Design, numbered: dict[str, int], whose: str) -> str:
    """All levels with their problems; ``whose`` says where the numbers are from."""
    parts = [f'<p class="whose">Numbers: {escape(whose)}.</p>'
             "<p>Carry four digits from line to line, and round each answer to three.</p>"
             '<p class="name-line">Name <span class="blank"></span> Date <span class="blank short"></span></p>']
    for level in LEVELS:
        held = [problem for problem in level.problems if problem.key in numbered]
        if held:
            helps = "".join(f"<li>{escape(one)}</li>" for one in level.helps(design.system))
            parts.append(f'<section class="level"><h3>{escape(level.title)}</h3>'
                         f'<div class="helps"><p>You may need:</p><ul>{helps}</ul></div>'
                         f'<ol class="problems">{"".join(_problem(one, design, numbered) for one in held)}</ol>'
                         "</section>")
    return "".join(parts)


def answer_key(design: Design, numbered: dict[str, int]) -> str:
    """The answers with their sums, a line of the sum to a line."""
    rows = []
    own_units = {problem.key: problem.unit for level in LEVELS for problem in level.problems}
    for key, number in numbered.items():
        said = f"{design.shown(key)} {own_units[key]}".strip()
        lines = "<br>".join(escape(line) for line in by_hand(key, design).split("\n"))
        rows.append(f'<tr><th scope="row">{number}</th><td class="number">{escape(said)}</td>'
                    f"<td>{lines}</td></tr>")
    return ('<div class="table-scroll" tabindex="0" role="region" aria-label="Answers and sums"><table class="rows">'
            '<caption class="visually-hidden">Answers and sums</caption><thead><tr><th scope="col">Problem</th>'
            '<th scope="col">Answer</th><th scope="col">By hand</th></tr></thead>'
            f"<tbody>{''.join(rows)}</tbody></table></div>")
