"""The answer to some signs: what is likely, why, what to check in which order, what to ask next, when to throw away."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import sqrt
from typing import Any

from . import weigh
from .causes import CAUSES
from .checks import CHECKS
from .signs import SIGNS

MOST_CAUSES, MOST_CHECKS, WORTH = 5, 4, 0.05
# A cause less likely than this is not named beside the others; a question that tells less is not asked.
LEAST_SHOWN, LEAST_BITS = 0.02, 0.02
SURE, STOP_FROM = 0.8, 0.3


@dataclass(frozen=True)
class Found:
    """What signs come to: shares by cause (likeliest first), checks in their order, and the next question.

    ``note`` are words for a sign that the log tells ("74 °F, 4 above its band").
    """

    present: tuple[str, ...]
    absent: tuple[str, ...]
    shares: Mapping[str, float]
    checks: tuple[str, ...]
    question: str
    gain: float
    note: Mapping[str, str]

    @property
    def first(self) -> str:
        """The likeliest cause."""
        return next(iter(self.shares))


def checks_of(shares: Mapping[str, float], present: Iterable[str], absent: Iterable[str]) -> list[str]:
    """Checks by how likely and how harmful what they are for is, the quicker first; each once.

    The second check of a cause counts half of its first, the third a quarter, and so on; harm counts by its root.
    What a check would tell and is known already is not asked for again.
    """
    known = {*present, *absent}
    scores: dict[str, float] = {}
    for key, share in shares.items():
        if share < WORTH:
            continue
        cause = CAUSES[key]
        left = [one for one in cause.checks if not known & set(CHECKS[one].tells)]
        for place, check in enumerate(left):
            worth = share * sqrt(cause.harm) * 0.5 ** place / CHECKS[check].minutes ** 0.1
            scores[check] = scores.get(check, 0.0) + worth
    return sorted(scores, key=lambda check: -scores[check])


def find(present: Iterable[str], absent: Iterable[str] = (), unsure: Iterable[str] = (),
         note: Mapping[str, str] | None = None) -> Found:
    """Weigh signs seen against signs looked for and not seen; ``unsure`` are questions answered "I can't tell".

    Raises KeyError for a sign that is none of ``SIGNS``.
    """
    there = tuple(dict.fromkeys(present))
    gone = tuple(sign for sign in dict.fromkeys(absent) if sign not in there)
    for sign in (*there, *gone):
        SIGNS[sign]
    found = weigh.shares(there, gone)
    ordered = dict(sorted(found.items(), key=lambda one: -one[1]))
    asked = weigh.questions(found, (*gone, *unsure), there)
    sign, gain = asked[0] if asked and asked[0][1] >= LEAST_BITS else ("", 0.0)
    if next(iter(ordered.values())) > 0.95:
        sign, gain = "", 0.0
    checks = tuple(checks_of(ordered, there, gone)[:MOST_CHECKS]) or ("wait",)
    return Found(there, gone, ordered, checks, sign, gain, dict(note or {}))


def verdict(found: Found) -> tuple[str, str]:
    """Bold words and a sentence: what is likely, and how likely."""
    if not found.present and not found.absent:
        return "What do you see?", "Tick all that is so; one sign is enough to begin."
    cause, share = CAUSES[found.first], found.shares[found.first]
    name = cause.name[:1].lower() + cause.name[1:] if not cause.name.startswith("pH") else cause.name
    if found.first == "other":
        return "These signs point nowhere yet.", "Answer the question below, or add a sign."
    lead = f"{'Most likely' if share >= 0.4 else 'Perhaps'}: {name}."
    tens = round(share * 10)
    words = ("Nearly all baths with these signs have it." if share > 0.95 else
             f"Of ten baths with these signs, {tens} {'has' if tens == 1 else 'have'} it." if tens else
             "It is one of many.")
    return lead, f"{words} {cause.lead}"


def _said(name: str, found: Found, cause_key: str) -> str:
    """One piece of evidence in words."""
    sign = name.removeprefix("no ")
    note = found.note.get(name, "")
    title = SIGNS[sign].title
    if name.startswith("no "):
        return f"{title}: not seen" + (f" ({note})" if note else "")
    tens = round(weigh.shown_by(CAUSES[cause_key], sign) * 10)
    often = f"seen in {tens} of 10 baths with it" if tens else "hardly ever seen with it"
    return f"{title}{f' ({note})' if note else ''}: {often}"


def _cause(key: str, found: Found) -> dict[str, Any]:
    cause, share = CAUSES[key], found.shares[key]
    plus, minus = weigh.evidence(cause, found.present, found.absent)
    return {"cause": key, "name": cause.name, "share": share, "tenths": weigh.tenths(share),
            "for": [_said(name, found, key) for name in plus],
            "against": [_said(name, found, key) for name in minus],
            "cure": cause.cure, "checks": list(cause.checks), "stop": cause.stop, "source": cause.source[0],
            "status": cause.source[1]}


def _after(found: Found, seen: bool) -> str:
    """What one answer to the question makes of the likeliest cause, in a few words."""
    more, less = ((*found.present, found.question), found.absent) if seen else (
        found.present, (*found.absent, found.question))
    after = weigh.shares(more, less)
    best = max(after, key=lambda key: after[key])
    name = CAUSES[best].name
    name = name[:1].lower() + name[1:] if not name.startswith("pH") else name
    if best == found.first:
        before, tens = round(found.shares[best] * 10), round(after[best] * 10)
        change = "rises to" if tens > before else "falls to" if tens < before else "stays at"
        return f"{name} {change} {tens} in 10"
    return f"{name} comes first, {weigh.tenths(after[best])}"


def _question(found: Found, unsure: Iterable[str]) -> dict[str, Any] | None:
    if not found.question:
        return None
    sign = SIGNS[found.question]
    rest = weigh.questions(found.shares, (*found.absent, *unsure, found.question), found.present)
    other = SIGNS[rest[0][0]].ask if rest else ""
    return {"sign": sign.key, "ask": sign.ask, "how": sign.how, "bits": found.gain,
            "yes": _after(found, True), "no": _after(found, False),
            "unsure": f"then the next best: {other[:1].lower()}{other[1:]}" if other else "then this is all"}


def stop_of(found: Found) -> str:
    """When to stop and throw away: of the likeliest cause that knows it."""
    for key, share in found.shares.items():
        if share >= STOP_FROM and CAUSES[key].stop:
            return CAUSES[key].stop
    return ""


def as_json(found: Found, unsure: Iterable[str] = ()) -> dict[str, Any]:
    """All of it as plain data: the contract of the command ``trouble`` and of the page."""
    lead, text = verdict(found)
    known = bool(found.present or found.absent)
    shown = [key for key, share in found.shares.items() if share >= LEAST_SHOWN][:MOST_CAUSES] if known else []
    cautions = list(dict.fromkeys(CHECKS[key].caution for key in found.checks if CHECKS[key].caution))
    return {"signs": [{"sign": key, "title": SIGNS[key].title, "note": found.note.get(key, "")}
                      for key in found.present],
            "not_seen": list(found.absent), "verdict": {"lead": lead, "text": text,
                                                        "sure": known and found.shares[found.first] >= SURE},
            "question": _question(found, unsure), "causes": [_cause(key, found) for key in shown],
            "checks": [{"check": key, "lead": CHECKS[key].lead, "text": CHECKS[key].text,
                        "minutes": CHECKS[key].minutes, "status": CHECKS[key].status}
                       for key in found.checks] if known else [],
            "cautions": cautions if known else [], "stop": stop_of(found) if known else "",
            "weights": weights(found) if known else []}


def weights(found: Found) -> list[dict[str, Any]]:
    """Every number behind an answer: for each cause shown its weight, and its share of each sign known."""
    return [{"cause": CAUSES[key].name, "weight": CAUSES[key].weight,
             "signs": {SIGNS[sign].title: weigh.shown_by(CAUSES[key], sign)
                       for sign in (*found.present, *found.absent)},
             "share": share, "source": CAUSES[key].source[0], "status": CAUSES[key].source[1]}
            for key, share in found.shares.items() if share >= LEAST_SHOWN]
