"""The checker of access that the tests put into a page, and what they ask of it."""

from __future__ import annotations

# Only what breaks a rule is listed: describing every element that keeps one takes most of the time, and is not read.
AXE_RULES = """axe.run(document, {resultTypes: ['violations'],
    runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']})"""
AXE_COLOURS = """axe.run(document, {resultTypes: ['violations'],
    runOnly: {type: 'rule', values: ['color-contrast', 'link-in-text-block']}})"""


def checker() -> str:
    """The checker's program."""
    from tools import setup
    return (setup.MODULES / "axe-core" / "axe.min.js").read_text(encoding="utf-8")
