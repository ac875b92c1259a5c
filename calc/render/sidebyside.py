"""Plans beside one another as a sheet: sentences, drawings to one scale, what was answered differently, what it does.

The bars of a line share one scale that starts at nothing, so that their lengths may be compared; better and worse are
said in words and by a sign, never by color alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from .. import compare, overview
from ..compare import LETTERS, Change, Outcome
from ..solve import Design
from . import miniature
from .signs import sign

# Of a column's width; the widest of the drawings takes so much.
WIDEST = 94.0
MOST_ROWS = 10
_SIGNS = {
    "better": '<circle cx="16" cy="16" r="12.5"/><path d="M16 9.5v13M9.5 16h13"/>',
    "worse": '<path d="M4 4h24v24H4zM9.5 16h13"/>', "same": '<path d="M5 12h22M5 20h22"/>',
    "other": '<path d="M5 16h22"/>', "open": '<path d="M5 16h22" stroke-dasharray="4 4"/>'}
SETTLED = ("better", "worse", "same")


@dataclass(frozen=True)
class Beside:
    """One of the plans: its name, what is said under it, its design, and where it opens ("" where it does not)."""

    name: str
    note: str
    design: Design
    href: str = ""


def sheet(plans: Sequence[Beside]) -> str:
    """The whole comparison of two to four plans; the first is what the others are held to."""
    designs = [one.design for one in plans]
    different = compare.differences(designs)
    sentences = "".join(
        f'<p class="in-a-sentence"><b class="letter" aria-hidden="true">{LETTERS[at]}</b><span><span '
        f'class="visually-hidden">{LETTERS[at]}: </span>{escape(compare.sentence(designs, at))}</span></p>'
        for at in range(1, len(designs)))
    asked = compare.count_asked(designs)
    # What decides comes first; a long list folds, so that what it does is met before the end of it.
    told = different if len(different) <= MOST_ROWS + 2 else different[:MOST_ROWS]
    rows = "".join(_asked(one) for one in told) or _empty(len(plans), "All questions are answered alike.")
    said = "".join(_outcome(one) for one in compare.outcomes(designs))
    agreeing = compare.agreements(designs)
    scale = "The bars of a line share one scale and start at nothing."
    alike = "".join(f"<li>{escape(label)} <b>{escape(shown)}</b></li>" for label, shown in agreeing)
    return (f'<div class="sentences">{sentences}</div>'
            f'<table class="abreast" data-plans="{len(plans)}"><caption class="visually-hidden">Plans side by side; '
            f"better and worse are said against A</caption><thead>{_drawings(plans, len(different), asked)}</thead>"
            f'<tbody>{_heading(len(plans), "What you answered differently", "")}{rows}</tbody>'
            f'<tbody>{_heading(len(plans), "What that does", scale)}'
            f"{_verdicts(designs)}{said}</tbody></table>"
            f"{_others(different[len(told):], len(plans))}"
            f'<details class="fold agreeing"><summary><strong>{len(agreeing)} questions that agree</strong></summary>'
            f"<ul>{alike}</ul></details>")


def _others(different: Sequence[compare.Asked], plans: int) -> str:
    """The questions answered differently that decide less, folded."""
    if not different:
        return ""
    heads = "".join(f'<th scope="col">{letter}</th>' for letter in LETTERS[:plans])
    return (f'<details class="fold more-answers"><summary><strong>{len(different)} more that you answered differently'
            f'</strong></summary><table class="abreast" data-plans="{plans}"><thead><tr><td></td>{heads}</tr></thead>'
            f'<tbody>{"".join(map(_asked, different))}</tbody></table></details>')


def _drawings(plans: Sequence[Beside], different: int, asked: int) -> str:
    """The head of the table: each plan's drawing, all to one scale, its letter and its name."""
    drawn = [miniature.draw(one.design) for one in plans]
    widest = max((one.wide for one in drawn if one), default=1.0)
    cells = ""
    for letter, plan, one in zip(LETTERS, plans, drawn, strict=False):
        picture = one.svg.replace("<svg ", f'<svg width="{one.wide / widest * WIDEST:.1f}%" ', 1) if one else ""
        name = f'<a href="{escape(plan.href)}">{escape(plan.name)}</a>' if plan.href else escape(plan.name)
        note = f"<small>{escape(plan.note)}</small>" if plan.note else ""
        cells += (f'<th scope="col"><div class="miniature">{picture}</div><p class="named"><b class="letter" '
                  f'aria-hidden="true">{letter}</b><span class="visually-hidden">{letter}: </span>{name}{note}</p>'
                  "</th>")
    return (f'<tr class="drawn"><td><small>Drawn to one scale.<br>{different} of {asked} questions differ.</small></td>'
            f"{cells}</tr>")


def _heading(columns: int, words: str, under: str) -> str:
    small = f"<small>{under}</small>" if under else ""
    return f'<tr class="heading"><th scope="rowgroup" colspan="{columns + 1}">{words}{small}</th></tr>'


def _empty(columns: int, words: str) -> str:
    return f'<tr><td colspan="{columns + 1}">{words}</td></tr>'


def _asked(one: compare.Asked) -> str:
    hint = f"<small>{escape(one.hint)}</small>" if one.hint and len(one.hint) <= 48 else ""
    cells = "".join(f"<td>{f'<b>{escape(shown)}</b>' if other or at == 0 else f'<i>{escape(shown)}</i>'}</td>"
                    for at, (shown, other) in enumerate(zip(one.shown, one.other, strict=True)))
    return f'<tr data-asked="{escape(one.key)}"><th scope="row">{escape(one.label)}{hint}</th>{cells}</tr>'


def _changed(change: Change) -> str:
    """Better, worse or the same: a sign and its words; nothing for the first plan."""
    if not change.words:
        return ""
    return (f'<span class="change {change.state}"><svg class="sign" viewBox="0 0 32 32" aria-hidden="true">'
            f'{_SIGNS[change.state]}</svg><span>{escape(change.words)}</span></span>')


def _verdicts(designs: Sequence[Design]) -> str:
    cells = ""
    for at, design in enumerate(designs):
        said = "".join(f'<span class="word {one.state}">{sign(one.state)}<span>{escape(one.words)}</span></span>'
                       for one in overview.standings(design))
        cells += f"<td>{said}{_changed(compare.standing(designs, at))}</td>"
    return f'<tr data-outcome="verdicts"><th scope="row">Verdicts</th>{cells}</tr>'


def _outcome(one: Outcome) -> str:
    note = f"<small>{escape(one.note)}</small>" if one.note else ""
    # What is in another currency has no place on the scale.
    values = [value for value, change in zip(one.values, one.changes, strict=True) if change.state != "other"]
    top = max([abs(value) for value in (*values, *one.limits) if value is not None] or [1.0]) or 1.0
    cells = "".join(f"<td><b>{escape(shown)}</b>"
                    f'{_bar(value if change.state != "other" else None, limit, top)}{_changed(change)}</td>'
                    for shown, value, limit, change in zip(one.shown, one.values, one.limits, one.changes, strict=True))
    return f'<tr data-outcome="{escape(one.key)}"><th scope="row">{escape(one.label)}{note}</th>{cells}</tr>'


def _bar(value: float | None, limit: float | None, top: float) -> str:
    """A bar from nothing on the scale of its line, with a mark at what it is held to; the number stands over it."""
    def share(part: float) -> str:
        return f"{max(part, 0.0) / top * 96.0:.1f}%"
    if value is None:
        return ""
    mark = (f'<line class="ink" x1="{share(limit)}" x2="{share(limit)}" y1="0" y2="14"/>' if limit is not None else "")
    return (f'<svg class="bar-line" width="100%" height="14" aria-hidden="true" focusable="false">'
            f'<rect class="wood" x="0" y="3" width="100%" height="8"/>'
            f'<rect class="solid" x="0" y="3.5" width="{share(value)}" height="7"/>{mark}'
            '<line class="ink" x1="1" x2="1" y1="0" y2="14"/></svg>')
