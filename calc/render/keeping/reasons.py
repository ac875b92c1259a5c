"""Trouble as HTML: tiles of signs to tick, then what it may be, why, what to ask and to check, when to throw away."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from html import escape
from typing import Any

from ...keeping.trouble.answer import Found, as_json
from ...keeping.trouble.causes import CAUSES
from ...keeping.trouble.checks import CHECKS
from ...keeping.trouble.signs import SIGNS, WHERE, Sign
from .. import svg
from ..signs import sign
from . import leaves

BAR = (300.0, 14.0)


def _tile(one: Sign, ticked: bool, note: str) -> str:
    """One sign to tick, with its drawing if it has one; what the log says of it stands beside."""
    said = (f'<small><strong>from your log:</strong> {escape(note)}</small>' if note else
            f"<small>{escape(one.more)}</small>")
    return (f'<label class="sign-tile{" drawn" if one.drawn else ""}" data-sign="{one.key}">'
            f'{leaves.picture(one.drawn)}<span><input type="checkbox" class="tick" name="sign" value="{one.key}"'
            f'{" checked" if ticked else ""}> <span><span class="sign-name">{escape(one.title)}</span> {said}</span>'
            "</span></label>")


def tiles(ticked: Iterable[str] = (), note: Mapping[str, str] | None = None) -> str:
    """All signs by where one looks; those that the log tells are ticked, with its words."""
    there, words = set(ticked), note or {}
    parts = []
    for where, (title, more) in WHERE.items():
        # Those with a drawing stand first, side by side.
        here = sorted((one for one in SIGNS.values() if one.where == where), key=lambda one: not one.drawn)
        rows = "".join(_tile(one, one.key in there, words.get(one.key, "")) for one in here)
        parts.append(f'<section class="signs" id="signs-{where}"><h2>{title}</h2><p class="note">{escape(more)}</p>'
                     f'<div class="sign-tiles">{rows}</div></section>')
    return "".join(parts)


def share_bar(share: float, words: str, name: str) -> str:
    """A share on ten notches."""
    wide, tall = BAR
    notches = "".join(f"M{svg.num(wide * part / 10)} 0v4" for part in range(1, 10))
    return (f'<svg class="tenths" viewBox="0 0 {svg.num(wide)} {svg.num(tall)}" role="img" '
            f'aria-label="{escape(f"{name}: {words}")}">{svg.rect("wood", 0, 0, wide, tall)}'
            f'{svg.rect("bar", 0, 0, wide * share, tall)}<path class="ink thin" d="{notches}"/>'
            f'{svg.rect("ink thin", 0.5, 0.5, wide - 1, tall - 1)}</svg>')


def _cause(place: int, one: Mapping[str, Any]) -> str:
    plus = "".join(f'<li class="for"><span aria-hidden="true">+</span><span class="visually-hidden">for: </span> '
                   f"{escape(words)}</li>" for words in one["for"])
    minus = "".join(f'<li class="against"><span aria-hidden="true">–</span><span class="visually-hidden">against: '
                    f"</span> {escape(words)}</li>" for words in one["against"])
    return (f'<li data-cause="{one["cause"]}"><p class="cause-head"><strong>{place}. {escape(one["name"])}</strong> '
            f'<span>{escape(one["tenths"])}</span></p>{share_bar(one["share"], one["tenths"], one["name"])}'
            f'<ul class="evidence">{plus}{minus}</ul><p class="cure">{escape(one["cure"])}</p></li>')


def _question(asked: Mapping[str, Any] | None) -> str:
    if asked is None:
        return ""
    rows = "".join(f'<button type="button" data-answer="{value}"><strong>{words}</strong> <span>{escape(asked[key])}'
                   "</span></button>" for value, words, key in (("yes", "Yes", "yes"), ("no", "No", "no"),
                                                               ("unsure", "I can’t tell", "unsure")))
    return (f'<section class="next-question" data-question="{asked["sign"]}"><p class="note">The question that tells '
            f'most now</p><h2>{escape(asked["ask"])}</h2><p>{escape(asked["how"])}</p>{rows}</section>')


def _weights(rows: Iterable[Mapping[str, Any]]) -> str:
    """Every number behind the answer, as a table."""
    found = list(rows)
    if not found:
        return ""
    heads = list(found[0]["signs"])
    head = "".join(f"<th scope=\"col\">{escape(name)}</th>" for name in heads)
    body = "".join(
        f'<tr><th scope="row">{escape(one["cause"])}</th><td>{one["weight"]:g}</td>'
        + "".join(f"<td>{one['signs'][name]:.2g}</td>" for name in heads)
        + f'<td>{one["share"]:.2f}</td><td>{escape(one["source"])} ({escape(one["status"])})</td></tr>'
        for one in found)
    return (f'<details class="fold small" data-keep="weights"><summary><strong>Show the weights</strong> <small>'
            f'{len(found)} causes, {len(heads)} signs, each with its source</small></summary><p>A cause’s weight times '
            "the share of baths with it that show each sign; all causes together make 1. The weights are engineering "
            "judgment; that a sign belongs to a cause is from the source.</p>"
            f'<div class="scroll" tabindex="0"><table><thead><tr><th scope="col">Cause</th><th scope="col">Weight</th>'
            f'{head}<th scope="col">Share</th><th scope="col">Source</th></tr></thead><tbody>{body}</tbody></table>'
            "</div></details>")


def whole_table() -> str:
    """All rows behind Trouble: causes with signs, checks, cure, source and status; then signs with their share."""
    causes = "".join(
        f'<tr><th scope="row">{escape(one.name)}</th><td>{one.weight:g}</td><td>{one.harm}</td><td>'
        + escape("; ".join(f"{SIGNS[key].title.lower()} {share:g}" for key, share in one.signs.items())) + "</td><td>"
        + escape("; ".join(f"{CHECKS[key].lead} {CHECKS[key].text}" for key in one.checks)) + "</td><td>"
        + escape(one.cure) + f"</td><td>{escape(one.source[0])} ({escape(one.source[1])})</td></tr>"
        for one in CAUSES.values())
    signs = "".join(f'<tr><th scope="row">{escape(one.title)}</th><td>{escape(one.more)}</td><td>{one.often:g}</td>'
                    f"<td>{escape(one.status)}</td></tr>" for one in SIGNS.values())
    return ('<div class="scroll" tabindex="0"><table><caption>Causes</caption><thead><tr><th scope="col">Cause</th>'
            '<th scope="col">Weight</th><th scope="col">Harm, 1 to 4</th><th scope="col">Share of such baths that show '
            'a sign</th><th scope="col">Checks (common practice, no published source)</th><th scope="col">Cure</th>'
            f'<th scope="col">Source</th></tr></thead><tbody>{causes}</tbody></table></div>'
            '<div class="scroll" tabindex="0"><table><caption>Signs</caption><thead><tr><th scope="col">Sign</th>'
            '<th scope="col">More exactly</th><th scope="col">Share of all baths that show it</th>'
            f'<th scope="col">Status</th></tr></thead><tbody>{signs}</tbody></table></div>')


def _bracketed(words: str) -> str:
    return f" ({words})" if words else ""


def answer(found: Found, unsure: Iterable[str] = ()) -> dict[str, str]:
    """The regions of an answer: verdict, chosen signs, question, causes, checks, stop, weights."""
    said = as_json(found, unsure)
    lead = said["verdict"]
    chosen = "".join(
        f'<li><span>{escape(one["title"])}{escape(_bracketed(one["note"]))}</span> '
        f'<button type="button" class="quiet" data-remove="{one["sign"]}">remove</button></li>'
        for one in said["signs"])
    checks = "".join(f'<li data-check="{one["check"]}"><strong>{escape(one["lead"])}</strong> '
                     f'{escape(one["text"])}</li>' for one in said["checks"])
    cautions = "".join(f'<p class="caution-line">{sign("danger")}<span>{escape(words)}</span></p>'
                       for words in said["cautions"])
    stop = (f'<div class="verdict stop">{sign("fails")}<div><p><strong class="fails">Stop and throw away</strong> '
            f'{escape(said["stop"])}</p></div></div>' if said["stop"] else "")
    causes = "".join(_cause(place, one) for place, one in enumerate(said["causes"], 1))
    return {
        "verdict": f'<div class="verdict" data-verdict="trouble">{sign("open")}<div><p><strong class="open">'
                   f'{escape(lead["lead"])}</strong> {escape(lead["text"])}</p></div></div>',
        "chosen": f'<ul class="chosen">{chosen}</ul>' if chosen else "",
        "question": _question(said["question"]),
        "causes": f'<ol class="causes">{causes}</ol>' if causes else "",
        "checks": f'<ol class="checks">{checks}</ol>{cautions}' if checks else "",
        "stop": stop, "weights": _weights(said["weights"]),
    }
