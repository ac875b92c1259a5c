"""Small pictures of where to measure, one beside each question that decides."""

from __future__ import annotations


def of(key: str) -> str:
    """The picture for a question, by its key."""
    path = '<path class="ink" d="M6 6l4 20h24l4-20"/>'
    return f'<svg viewBox="0 0 44 32" aria-hidden="true" data-of="{key}">{path}</svg>'
