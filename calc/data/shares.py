"""How much of the data was read and how much is from memory: counted here once, for the tests and for the reader."""

from __future__ import annotations

from collections import Counter

from ..relations.base import MEMORY, PRACTICE, PUBLISHED
from . import crops, targets

READ, USUAL, JUDGED, REMEMBERED = "read", "usual practice", "judgment", "memory"
KINDS = (READ, USUAL, JUDGED, REMEMBERED)


def kind(status: str) -> str:
    """What a status is worth: one of KINDS."""
    if MEMORY in status:
        return REMEMBERED
    if status.startswith(PUBLISHED):
        return READ
    return USUAL if status == PRACTICE else JUDGED


def crop_cells() -> Counter[str]:
    """Cells and words of the crop table by KINDS."""
    return Counter(kind(getattr(crop, name).status) for crop in crops.CROPS for name in (*crops.CELLS, *crops.WORDS))


def formula_elements() -> Counter[str]:
    """Elements of the formulas on offer by KINDS."""
    return Counter(kind(one.status_of(element)) for one in targets.TARGETS if not one.retired for element in one.mg_l)


def said(counted: Counter[str]) -> str:
    """The shares in words, each in whole percent."""
    total = sum(counted.values())
    words = {READ: "were read in print, in an abstract or in a copy", USUAL: "are usual practice with no source",
             JUDGED: "are engineering judgment", REMEMBERED: "are from memory"}
    return ", ".join(f"{counted[one] / total * 100:.0f} % {words[one]}" for one in KINDS if counted[one])
