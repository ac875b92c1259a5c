"""Signs in plain words: "brown roots", "bad smell"; what is not understood is said, with the nearest that are."""

from __future__ import annotations

import re
from collections.abc import Iterable

from .signs import SIGNS

_SMALL = frozenset("a an and are at is it its my no of on or the there to very with in has have".split())
_SAME = {"leaf": "leave", "colour": "color", "grey": "gray", "browning": "brown", "yellowing": "yellow",
         "smells": "smell", "smelly": "smell", "stinks": "smell", "stink": "smell", "slime": "slimy", "lower": "old",
         "bottom": "old", "older": "old", "new": "young", "top": "young", "younger": "young",
         "hot": "warm", "hanging": "hang", "droop": "hang", "rotten": "slimy", "mushy": "slimy",
         "fuzzy": "fuzz", "turn": "", "stuff": ""}
ENOUGH = 0.5


def _stem(word: str) -> str:
    word = _SAME.get(word, word)
    for end in ("ing", "ed", "es", "s"):
        if word.endswith(end) and len(word) - len(end) >= 3:
            word = word[:-len(end)]
            break
    return _SAME.get(word, word)


def _words(text: str) -> frozenset[str]:
    found = (_stem(word) for word in re.findall(r"[a-z]+", text.lower()) if word not in _SMALL)
    return frozenset(filter(None, found))


def _match(asked: frozenset[str], phrase: frozenset[str]) -> float:
    """How well two bags of words agree: shared over all."""
    return len(asked & phrase) / len(asked | phrase) if asked and phrase else 0.0


def _scores(text: str) -> list[tuple[float, str]]:
    asked = _words(text)
    found = []
    for place, (key, sign) in enumerate(SIGNS.items()):
        phrases = (key.replace("-", " "), sign.title, *sign.said)
        found.append((max(_match(asked, _words(phrase)) for phrase in phrases), -place, key))
    return [(score, key) for score, _, key in sorted(found, reverse=True)]


def understood(texts: Iterable[str]) -> tuple[list[str], dict[str, list[str]]]:
    """The signs that plain words mean, and for each text not understood the nearest signs' titles."""
    signs: list[str] = []
    unclear: dict[str, list[str]] = {}
    for text in texts:
        key = text.strip().lower().replace(" ", "-")
        score, best = (1.0, key) if key in SIGNS else _scores(text)[0]
        if score >= ENOUGH:
            if best not in signs:
                signs.append(best)
        else:
            unclear[text] = [SIGNS[name].title for nearness, name in _scores(text)[:3] if nearness > 0.0]
    return signs, unclear
