"""Words that people write around a number: those that change nothing are passed over, the others get an answer."""

from __future__ import annotations

import re

# Ahead of a number: it is what they measured, and it is all there is to work with.
_AHEAD = re.compile(r"(?:(?:about|approx\.?|approximately|around|ca\.?|roughly)\s+|~\s*|≈\s*)", re.IGNORECASE)
_PH = re.compile(r"ph\s*[:=]?\s*(?=[\d.,+-])", re.IGNORECASE)
_SIZES = re.compile(r"\d[^x×*]*?\s*(?:[x×*]|\bby\b)\s*\d", re.IGNORECASE)
_HEXADECIMAL = re.compile(r"0x", re.IGNORECASE)
# Behind a number or its unit: what was measured, or how. None of them changes a size.
_BEHIND = frozenset(
    "net pot pots netpot netpots basket long wide deep high tall thick across inside outside drum barrel tote tub tank "
    "bath baths reservoir raft board boards foam hose hoses pipe pipes tubing breaker circuit pump pumps lamp lamps "
    "bulb bulbs plant plants head heads site sites hole holes leg legs stone stones row rows crop crops elbow elbows "
    "each ac dc mains of water".split())
_COUNTS = {word: number for number, word in enumerate(
    "zero one two three four five six seven eight nine ten eleven twelve".split())}
# "2-inch" is 2 inch; a hyphen behind which a digit stands is part of a fraction or a date, and no business of this.
_HYPHEN = re.compile(r"(?<=\d)-(?=[^\W\d])")
_LEADING_WORD = re.compile(r"([^\W\d_]+)[\s:=]+(?=\S)")
YES_OR_NO = frozenset(("yes", "no", "y", "n", "true", "false"))
BARE_DEGREES = frozenset(("degrees", "degree", "degs", "deg", "°", "º"))


def without_ahead(text: str, kind: str) -> str:
    """The text without words ahead of its number that change nothing; "pH 7.9" is 7.9 where a number is asked."""
    found = _AHEAD.match(text)
    if found:
        text = text[found.end():]
    if kind == "number":
        text = _PH.sub("", text, count=1) if _PH.match(text) else re.sub(r"\s*ph$", "", text, flags=re.IGNORECASE)
    text = _HYPHEN.sub(" ", _without_names(text, kind))
    first, gap, rest = text.partition(" ")
    if first.lower() in _COUNTS:
        text = f"{_COUNTS[first.lower()]}{gap}{rest}"
    return "0" if kind == "whole" and text.lower() == "none" else text


def _without_names(text: str, kind: str) -> str:
    """The text without the name of the thing ahead of its size: "net pot 2 in" is 2 in."""
    rest = text
    while kind not in ("money", "tariff") and (found := _LEADING_WORD.match(rest)) and found[1].lower() in _BEHIND:
        rest = rest[found.end():]
    return rest if rest[:1].isdigit() or rest.partition(" ")[0].lower() in _COUNTS else text


def without_degrees(word: str) -> str:
    """A unit of temperature without the word degrees, which alone says nothing of the unit."""
    first, _, rest = word.partition(" ")
    return rest.strip() if first.lower().rstrip(".") in BARE_DEGREES else word


def without_behind(word: str) -> str:
    """A unit without the words behind it that change nothing: "in net pot" is in, "baths" is nothing."""
    parts = word.replace(",", " ").split()
    while parts and parts[-1].lower().rstrip(".") in _BEHIND:
        parts.pop()
    return " ".join(parts)


def sizes_in(text: str) -> bool:
    """Whether several sizes were written where one belongs, like 50 in x 30 in."""
    return bool(_SIZES.search(text)) and not _HEXADECIMAL.match(text)
