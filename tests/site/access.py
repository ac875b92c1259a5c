"""What the tests put into a page that is looked at as it stands: the checker of access, and nothing for Python."""

from __future__ import annotations

# Only what breaks a rule is listed: describing every element that keeps one takes most of the time, and is not read.
AXE_RULES = """axe.run(document, {resultTypes: ['violations'],
    runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']})"""
AXE_COLOURS = """axe.run(document, {resultTypes: ['violations'],
    runOnly: {type: 'rule', values: ['color-contrast', 'link-in-text-block']}})"""

# Pages as they are until Python comes, which it never does: it would only be started to be left for the next page.
WITHOUT_PYTHON = "window.Worker = class { postMessage() {} terminate() {} };"


def checker() -> str:
    """The checker's program."""
    from tools import setup
    return (setup.MODULES / "axe-core" / "axe.min.js").read_text(encoding="utf-8")
