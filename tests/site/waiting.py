"""How a test in a browser waits: for what it asserts, for as long as a busy machine may need, and never for a time."""

from __future__ import annotations

import time

from playwright.sync_api import Error

# What a page says that is being drawn anew, or is on its way to another address, when it is asked.
NOT_YET = ("Cannot read properties of null", "Cannot read properties of undefined", "Execution context was destroyed",
           "is null", "is not an object")


def until(page, expression: str, argument=None, seconds: float = 120) -> None:
    """Wait until an expression is true. (The browser tool's own wait evaluates text, which the policy forbids.)"""
    end = time.monotonic() + seconds
    while not _true(page, expression, argument, last=time.monotonic() > end):
        assert time.monotonic() < end, f"not within {seconds} s: {expression}; the page says: {told(page)!r}"
        page.wait_for_timeout(30)


def _true(page, expression: str, argument, last: bool) -> bool:
    """Whether it is true; a place that is not there yet is no mistake, unless it never comes."""
    try:
        return bool(page.evaluate(expression, argument))
    except Error as error:
        if last or not any(words in str(error) for words in NOT_YET):
            raise
        return False


def told(page) -> str:
    """What the page says to its reader."""
    return page.evaluate("""[...document.querySelectorAll('#action-status, [data-notice], [data-state-of]')]
        .map((one) => one.textContent).join(' | ')""")
