"""What a reader's hands do in the planner: type, press, open what is folded, and read what came of it."""

from __future__ import annotations

from tests.site.waiting import until

VOLUME = 'output[data-key="water.working_volume"]'


def volume(page) -> str:
    """The working volume as the page shows it."""
    return page.locator(VOLUME).first.inner_text()


def settle(page) -> None:
    """Wait until what was typed has been answered, in sight and out of sight."""
    page.evaluate("() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve)))")
    page.evaluate("async () => { await raftwright.run({op: 'link_read', fragment: ''}); }")
    until(page, "() => !document.querySelector('form[data-plan]:not([data-settled])')")


def reach(page, selector: str):
    """What a selector finds, its step in sight and the folds it lies in open."""
    page.evaluate("""(selector) => { let at = document.querySelector(selector);
        const step = at.closest("section[data-step]");
        if (step && !step.hasAttribute("data-here")) location.hash = `#step=${step.dataset.step}`;
        for (; at; at = at.parentElement) if (at.tagName === "DETAILS") at.open = true; }""", selector)
    settle(page)
    return page.locator(selector)


def press(page, action: str) -> None:
    """Press a button by its action, opening the menu it lies in."""
    reach(page, f'[data-action="{action}"]').first.click()


def fill(page, name: str, text: str) -> None:
    """Type an answer, its step in sight and the fold it lies in open, and leave the field."""
    field = reach(page, f'[name="{name}"]')
    if field.evaluate("(one) => one.tagName") == "SELECT":
        field.select_option(text)
    else:
        field.fill(text)
    field.blur()
    settle(page)


def told(page) -> str:
    """What the page says in its line and in its notices."""
    return page.evaluate("""[...document.querySelectorAll('#action-status, [data-notice]')]
        .map((one) => one.textContent).join(' ')""")


def choose(page, choice: str) -> None:
    """Answer the question whether a plan may take another's place."""
    page.locator(f'dialog[open] [data-choice="{choice}"]').click()
