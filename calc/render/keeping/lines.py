"""The lines of today as HTML: verdict, what to do with its pours, what was done, what is coming."""

from __future__ import annotations

from datetime import datetime
from html import escape

from ... import moments
from ...keeping.acts import Act, Caution, day_words
from ...keeping.bath import Bath
from ...keeping.today import Day
from .. import svg
from ..signs import SPOKEN, sign
from . import marks

WIDE, RULE_TOP, RULE_TALL = 270.0, 62.0, 22.0
CYLINDER = (26.0, 46.0)
PROBE = ('<svg class="probe" viewBox="0 0 32 32" aria-hidden="true"><path d="M9 4h14v8H9zM16 12v12M13 24h6v4h-6z"/>'
         "</svg>")


def verdict(day: Day) -> str:
    """The day's verdict: high and low have signs of their own, for a reading is no danger."""
    word = next((one.word for one in day.gauges if one.word in ("high", "low")), "")
    picture = marks.mark(word) if day.state == "tight" and word else sign(day.state)
    spoken = SPOKEN.get(day.state, "")
    return (f'<div class="verdict" data-verdict="today" data-state="{day.state}">{picture}<div><p>'
            f'<span class="visually-hidden">{spoken}: </span><strong class="{day.state}">{escape(day.lead)}</strong> '
            f"{escape(day.text)}</p></div></div>")


def _caution(one: Caution, root: str) -> str:
    more = (f' <a href="{escape(root)}safety/index.html#{escape(one.code)}">In full on Safety</a>' if one.code else "")
    mark = f' data-caution="{escape(one.code)}"' if one.code else ""
    return (f'<p class="caution-line"{mark}>{sign("danger")}<span><strong class="danger">{escape(one.lead)}</strong> '
            f"{escape(one.text)}{more}</span></p>")


def _tick(code: str, name: str, title: str) -> str:
    return (f'<input type="checkbox" class="tick" id="todo-{escape(code)}" data-{name}="{escape(code)}" '
            f'aria-label="{escape(title)}">')


def _cylinder(x: float, share: float) -> str:
    """A measuring cylinder standing on the rule, filled to a share."""
    wide, tall = CYLINDER
    low = RULE_TOP - 4
    high = tall * 0.85 * share
    left = x - wide / 2
    ticks = "".join(f"M{svg.num(left)} {svg.num(low - tall * 0.85 * part / 4)}h6" for part in range(1, 5))
    return (svg.rect("water", left, low - high, wide, high)
            + f'<path class="ink" fill="none" d="M{svg.num(left - 3)} {svg.num(low - tall)}l3 3V{svg.num(low)}h'
              f'{svg.num(wide)}V{svg.num(low - tall)}M{svg.num(left - 6)} {svg.num(low)}h{svg.num(wide + 12)}"/>'
            + f'<path class="ink thin" d="{ticks}"/>')


def _hours(first: datetime, last: datetime, system: str) -> tuple[float, float, list[tuple[float, str]]]:
    """From and to in hours since the first midnight, and the hours that have a number."""
    start = first.hour - 1.0
    span = (last - first).total_seconds() / 3600.0
    end = first.hour + first.minute / 60.0 + span + 1.0
    every = 1 if end - start <= 10 else 2

    def words(hour: int) -> str:
        clock = moments.show_clock(hour % 24, system)
        return clock.replace(":00 ", " ") if system != "metric" else clock
    return start, end, [(float(hour), words(hour)) for hour in range(int(start) + 1, int(end) + 1, every)]


def pours(act: Act, bath: Bath) -> str:
    """Cylinders filled to scale over a rule of hours, and under it a tick, an amount, a time and a condition each."""
    if len(act.pours) < 2:
        return ""
    most = max(one.amount for one in act.pours) or 1.0
    first = act.pours[0].at
    start, end, numbers = _hours(first, act.pours[-1].at, bath.system)

    def x(hour: float) -> float:
        return 14.0 + (hour - start) / (end - start) * (WIDE - 28.0)

    def hour_of(at: datetime) -> float:
        return first.hour + first.minute / 60.0 + (at - first).total_seconds() / 3600.0
    parts = [svg.rect("wood", 0.5, RULE_TOP, WIDE - 1, RULE_TALL), svg.rect("ink thin", 0.5, RULE_TOP, WIDE - 1,
                                                                            RULE_TALL)]
    free = 2.0
    for hour, words in numbers:
        half = svg.text_width(words, 14.0) / 2
        parts.append(svg.line("ink thin", (x(hour), RULE_TOP), (x(hour), RULE_TOP + 6)))
        if x(hour) - half >= free and x(hour) + half <= WIDE - 2:
            parts.append(svg.text(x(hour), RULE_TOP + RULE_TALL - 4, words, "label faded", "middle", 14.0))
            free = x(hour) + half + 4
    far = all(hour_of(b.at) - hour_of(a.at) >= 0.75 for a, b in zip(act.pours, act.pours[1:], strict=False))
    for place, one in enumerate(act.pours):
        at = x(hour_of(one.at)) if far else WIDE * (place + 0.5) / len(act.pours)
        parts.append(_cylinder(at, one.amount / most))
    said = "; ".join(f"{one.words} at {one.clock}, {one.condition}" for one in act.pours)
    picture = svg.drawing(f"pours-{act.code}", WIDE, RULE_TOP + RULE_TALL + 2, "Pours by the hour", f"{said}.",
                          parts) if far else ""
    cells = "".join(
        f'<li data-pour="{escape(one.code)}">{_tick(one.code, "tick-pour", f"{one.words}, {one.clock}")}'
        f"<strong>{escape(one.words)}</strong> <span>{escape(one.clock)}</span> <small>{escape(one.condition)}</small>"
        "</li>" for one in act.pours)
    return f'<div class="pours">{picture}<ol>{cells}</ol></div>'


def line(act: Act, bath: Bath, root: str) -> str:
    """One line of today."""
    size, _, unit = act.amount.rpartition(" ")
    amount = (f'<span class="act-amount"><strong>{escape(size)}</strong> {escape(unit)}</span>' if act.amount else "")
    then = (f'<p class="act-then">{PROBE}<span><strong>{escape(act.then[0])}</strong> {escape(act.then[1])}</span></p>'
            if act.then else "")
    reason = escape(act.reason).replace(" %", "\u00a0%")
    return (f'<li data-todo="{escape(act.code)}">{_tick(act.code, "tick", act.title)}<div class="act">'
            f'<p class="act-head"><label for="todo-{escape(act.code)}">{escape(act.title)}</label>{amount}</p>'
            f'<p class="act-why">{reason}</p>{_caution(act.caution, root) if act.caution else ""}'
            f"{pours(act, bath)}{then}{_wait(act)}</div></li>")


def _wait(act: Act) -> str:
    """Until when a line is put off; only with scripts, since a page without them can keep nothing."""
    if not act.can_wait:
        return ""
    code = escape(act.code)
    return (f'<details class="later needs-script" data-wait="{code}"><summary>Not today</summary><p class="ways">'
            f'<button type="button" data-until="tomorrow" data-of="{code}">Tomorrow</button> '
            f'<label>or on <input type="date" data-until-day="{code}"></label> '
            f'<button type="button" data-until="day" data-of="{code}">Put it off</button></p></details>')


def todo(day: Day, bath: Bath, root: str) -> str:
    """All lines of today, those done last."""
    done = "".join(f'<li class="done" data-done="{escape(code)}"><s>{escape(words)}, {escape(clock(at, bath.system))}'
                   f'</s> <button type="button" class="undo" data-undo="{escape(code)}">Undo</button></li>'
                   for code, words, at in day.done)
    lines = "".join(line(act, bath, root) for act in day.acts)
    done += "".join(f'<li class="done" data-later="{escape(one.code)}"><span>{escape(one.title)}: put off until '
                    f'{escape(day_words(one.until, bath.system))}</span> <button type="button" class="undo" '
                    f'data-back="{escape(one.code)}">Bring it back</button></li>' for one in day.later)
    return f'<ol class="todo">{lines}{done}</ol>' if lines or done else '<p class="note">Nothing to do today.</p>'


def clock(at: str, system: str) -> str:
    """The hour of a kept moment."""
    moment = datetime.fromisoformat(at)
    return moments.show_clock(moment.hour + moment.minute / 60.0, system)


def soon(day: Day) -> str:
    """What is coming, with the day it is due."""
    rows = "".join(f'<tr data-soon="{escape(one.code)}"><td>{escape(one.what)} <small>{escape(one.why)}</small></td>'
                   f"<td><strong>{escape(one.words)}</strong></td></tr>" for one in day.soon)
    return f'<table class="soon"><tbody>{rows}</tbody></table>' if rows else ""
