"""The signs that stand beside a word: fits, tight, does not work, needs an answer, danger; drawn once, used by name."""

from __future__ import annotations

WORDS = {"fits": "fits", "tight": "tight", "fails": "does not work", "open": "needs an answer", "danger": "danger"}
SPOKEN = {"fits": "Fits", "tight": "Tight", "fails": "Does not work", "open": "Needs an answer", "danger": "Danger"}

_DRAWN = {
    "fits": '<circle cx="16" cy="16" r="12.5"/><path d="M10 16.5l4.3 4.3L22.3 12"/>',
    "tight": '<path d="M13 6v20M19 6v20M2 16h8M6 12l4 4-4 4M30 16h-8M26 12l-4 4 4 4"/>',
    "fails": '<path d="M4 4h24v24H4zM10.5 10.5l11 11M21.5 10.5l-11 11"/>',
    "open": '<circle cx="16" cy="16" r="12.5" stroke-dasharray="4.6 3.2"/>'
            '<path d="M12 13a4 4 0 1 1 5.6 3.6c-1.2.6-1.6 1.3-1.6 2.7M16 22.6v.2"/>',
    "danger": '<path d="M16 4.5L29 27H3zM16 12.5v7M16 23v.3"/>',
}


def symbols() -> str:
    """All signs, to stand once on a page; it shows nothing by itself."""
    drawn = "".join(f'<symbol id="sign-{name}" viewBox="0 0 32 32">{shape}</symbol>' for name, shape in _DRAWN.items())
    return f'<svg class="symbols" width="0" height="0" aria-hidden="true">{drawn}</svg>'


def shape(state: str) -> str:
    """What a sign is drawn with, in a square of 32, for a drawing that has no symbols."""
    return _DRAWN[state]


def sign(state: str) -> str:
    """One sign; a word must stand beside it, for it says nothing to who cannot see it."""
    return f'<svg class="sign {state}" aria-hidden="true"><use href="#sign-{state}"/></svg>'
