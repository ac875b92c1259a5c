"""What the water topic shows beside its rows of answers."""

from __future__ import annotations

from ...solve import Design
from .. import section
from ..pieces import figure


def extra(design: Design) -> str:
    """The bath in section."""
    return figure(section.bath_section(design), "The bath in section.")
