"""Signs beside a reading: high, low, in its band; a word always stands with them, and they are never red."""

from __future__ import annotations

from html import escape

_DRAWN = {
    "high": '<path d="M5 20h22M5 26h22M16 20V6M10 12l6-6 6 6"/>',
    "low": '<path d="M5 6h22M5 12h22M16 12v14M10 20l6 6 6-6"/>',
    "in": '<path d="M5 6h22M5 26h22"/><circle cx="16" cy="16" r="3.5"/>',
}
WORDS = {"high": "high", "low": "low", "in": "in its band"}


def mark(word: str) -> str:
    """The sign of a word ("high", "low", "in"); "" for another."""
    drawn = _DRAWN.get(word)
    return f'<svg class="band-sign {word}" viewBox="0 0 32 32" aria-hidden="true">{drawn}</svg>' if drawn else ""


def said(word: str, distance: str) -> str:
    """Sign and words: how far out, or that it is in its band."""
    if word not in WORDS:
        return ""
    words = f"{distance} {WORDS[word]}".strip()
    return f'<span class="band-word {word}">{mark(word)} <span>{escape(words)}</span></span>'
