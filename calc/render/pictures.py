"""The drawings of each step of the planner, in the order they are shown."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from ..solve import Design
from . import section


def _bath(design: Design, wide: bool) -> str:
    del wide
    return section.bath_section(design)


OF_STEP: Mapping[str, tuple[Callable[[Design, bool], str], ...]] = {"tank": (_bath,)}
