"""The planner as sheets with index tabs: one step in sight, its drawing, verdicts, questions and answers, and the list
of steps as table of contents and summary at once."""

from __future__ import annotations

from html import escape

from ..data.versions import VERSION
from ..declare import Topic
from ..solve import Design
from ..steps import STEPS, Step
from ..topics import BY_NAME
from . import answers, form, lists, pictures, signs, verdicts

ROOT = "../"
LINES_IN_THE_LIST = 3
# What is printed of a plan has pages of its own.
PAPER_PAGES = (("sheet", "Build sheet"), ("list", "Shopping list"), ("template", "Drill template"),
               ("calendar", "Calendar"))
PAPER = ('<p class="paper-links"><b>On paper:</b> ' + ", ".join(
    f'<a href="{ROOT}{name}/index.html">{words}</a>' for name, words in PAPER_PAGES)
    + f'. <a href="{ROOT}files/index.html">Files to save</a></p>')


def region(name: str, html: str, tag: str = "div", kind: str = "") -> str:
    """A place of the page that follows the plan."""
    return f'<{tag} data-region="{name}"{f" class={chr(34)}{kind}{chr(34)}" if kind else ""}>{html}</{tag}>'


# --- what follows the plan -------------------------------------------------------------------------------------------


def picture(step: Step, design: Design, wide: bool) -> str:
    """The drawings of a step, made for a wide or a narrow place."""
    return "".join(draw(design, wide) for draw in pictures.OF_STEP.get(step.name, ()))


def keys(step: Step, design: Design) -> str:
    """The answers in front, those that this kind of bath has."""
    return "".join(answers.front(key, design) for key in step.keys)


def to_come(design: Design) -> dict[str, dict[str, str]]:
    """What the page lacks when it is painted, by step: settings whole, and drawings for wide and narrow places.

    It is a file of its own, fetched once the sheet in sight stands there.
    """
    return {step.name: {"settings": form.settings(step, design), "wide": picture(step, design, True),
                        "narrow": picture(step, design, False)} for step in STEPS}


def count_of_figures(step: Step, design: Design) -> int:
    """How many answers a step has in all."""
    return sum(answers.has_row(spec.key, design)
               for topic in verdicts.topics_of(step, design) for spec in topic.RESULTS)


def summary(step: Step, design: Design) -> str:
    """What the list of steps says of one: key figure and verdict, a danger on a line of its own."""
    said = verdicts.given(step, design)
    shown = said[:LINES_IN_THE_LIST]
    if len(said) > LINES_IN_THE_LIST and all(one.state == "fits" for one in said[1:]):
        shown = said[:1]
    lines = [_line(one.figure, one.state) for one in shown]
    lines += [_line(one.lead, "danger") for one in verdicts.triggered(design, step.topics)]
    return "".join(lines)


def _line(figure: str, state: str) -> str:
    return (f'<span class="line"><span>{escape(figure)}<span class="visually-hidden">, </span></span>'
            f'{_word(state)}</span>')


def _word(state: str) -> str:
    return f'<span class="word {state}">{signs.sign(state)}<span>{signs.WORDS[state]}</span></span>'


def bar(step: Step, design: Design) -> str:
    """The one line of a step in the bar of a phone: its worst verdict."""
    if verdicts.triggered(design, step.topics):
        state, figure = "danger", verdicts.triggered(design, step.topics)[0].lead
    else:
        worst = next(iter(verdicts.given(step, design)), None)
        state, figure = (worst.state, worst.figure) if worst else ("open", "")
    return f"<span>{escape(figure)}</span>{_word(state)}"


def of_plan(design: Design) -> dict[str, str]:
    """What follows the plan as a whole, by region: the dangers, the list of steps, the bars."""
    found = {"dangers": verdicts.dangers(design)}
    for step in STEPS:
        found[f"list-{step.name}"] = summary(step, design)
        found[f"bar-{step.name}"] = bar(step, design)
    return found


# --- a sheet ---------------------------------------------------------------------------------------------------------


def sheet(step: Step, design: Design, here: bool) -> str:
    """One step as the build prints it; drawings out of sight, and what belongs to closed folds, come later."""
    name, number = step.name, STEPS.index(step) + 1
    listed = lists.OF_STEP.get(name)
    ways = PAPER if name == "shop" else ""
    dense = "".join(_of_topic(BY_NAME[one], design) for one in step.topics)
    return (
        f'<section class="sheet" data-step="{name}" id="step={name}" aria-labelledby="title-{name}"'
        f'{" data-here" if here else ""}>'
        f'<h1 id="title-{name}" tabindex="-1"><span class="number">{number}</span> {escape(step.title)}</h1>'
        f'<p class="sheet-question">{escape(step.question)}</p>'
        f'<div class="work">'
        f'<figure class="plate">{region(f"picture-{name}", picture(step, design, True) if here else "")}'
        f"<figcaption>{escape(step.caption)}</figcaption></figure>"
        f'<div class="side">{region(f"verdicts-{name}", verdicts.of_step(step, design), kind="verdicts")}'
        f'<fieldset class="deciding"><legend>{escape(step.ask_title)}</legend>'
        f'<p class="ask-note">{escape(step.ask_note)}<span data-guesses></span></p>'
        f"{form.deciding(step, design)}</fieldset></div>"
        f'{region(f"keys-{name}", keys(step, design), "dl", "keys")}</div>'
        f'{region(f"standing-{name}", verdicts.standing(step, design, ROOT))}'
        + ways + (region(f"list-of-{name}", listed(design), kind="lists") if listed else "")
        + f'<details class="fold" data-keep="more-{name}"><summary><strong>More settings '
          f'(<span data-count-asks>{form.count_of_settings(step, design)}</span>)</strong> '
          f"<small>{escape(step.settings)}</small></summary>"
          f'<div data-settings="{name}" class="brief">{form.settings_in_brief(step, design)}</div>'
          "</details>"
          f'<details class="fold" data-keep="figures-{name}"><summary><strong>All figures '
          f'({region(f"count-{name}", str(count_of_figures(step, design)), "span")})</strong> '
          "<small>each opens to its working</small></summary>"
          f'<p class="no-script"><a href="{ROOT}workings/{name}/index.html">How each was worked out</a></p>{dense}'
          f'{region(f"tables-{name}", "", kind="tables")}</details>'
        + _title_block(step, number) + "</section>")


def _of_topic(topic: Topic, design: Design) -> str:
    present = design.has(topic.NAME)
    rows = "".join(answers.plain_row(spec.key, design) for spec in topic.RESULTS) if present else ""
    return (f'<h2 class="of-topic">{escape(topic.TITLE)} <small>{escape(topic.QUESTION)}</small></h2>'
            f'{region(f"notes-{topic.NAME}", answers.waiting_note(topic, design) if present else "")}'
            f'{region(f"figures-{topic.NAME}", rows, kind="results")}')


def _title_block(step: Step, number: int) -> str:
    before = STEPS[number - 2] if number > 1 else None
    after = STEPS[number] if number < len(STEPS) else None
    back = _way("Back to", number - 1, before) if before else ""
    on = _way("On to", number + 1, after) if after else ""
    return (f'<footer class="title-block"><p>{back}</p><p><small>Sheet</small><b>{number} of {len(STEPS)}</b></p>'
            '<p><small>Drawn in</small><b><span data-units="us">inches, gallons</span>'
            '<span data-units="metric" hidden>centimeters, liters</span></b></p>'
            f'<p><small>Plan</small><b data-saved>the example</b></p><p class="on">{on}</p></footer>')


def _way(words: str, number: int, step: Step) -> str:
    return f'<small>{words} {number}</small><a href="#step={step.name}">{escape(step.title)}</a>'


def _phone_bar(step: Step, design: Design) -> str:
    number = STEPS.index(step) + 1
    before, after = STEPS[max(number - 2, 0)], STEPS[min(number, len(STEPS) - 1)]
    return (f'<nav class="step-bar" aria-label="Steps" data-bar="{step.name}">'
            + (f'<a href="#step={before.name}" aria-label="Back to {escape(before.title)}">{_arrow("back")}</a>'
               if number > 1 else "<span></span>")
            + '<button type="button" data-action="steps" aria-expanded="false" aria-controls="steps"><span class="top">'
              f'<b>{number} {escape(step.short)}</b><u>all {len(STEPS)} steps</u></span>'
              f'{region(f"bar-{step.name}", bar(step, design), "span", "line")}</button>'
            + (f'<a href="#step={after.name}" aria-label="On to {escape(after.title)}">{_arrow("on")}</a>'
               if number < len(STEPS) else "<span></span>") + "</nav>")


def _arrow(way: str) -> str:
    path = "M15 5l-7 7 7 7" if way == "back" else "M9 5l7 7-7 7"
    return f'<svg viewBox="0 0 24 24" aria-hidden="true" class="arrow"><path d="{path}"/></svg>'


def _list_of_steps(design: Design) -> str:
    items = "".join(
        f'<li><a href="#step={step.name}"{" aria-current=" + chr(34) + "step" + chr(34) if number == 1 else ""}>'
        f'<span class="number">{number}</span><span class="name"><span class="long">{escape(step.title)}</span>'
        f'<span class="short">{escape(step.short)}</span><span class="visually-hidden">: </span></span>'
        f'{region(f"list-{step.name}", summary(step, design), "span", "lines")}</a></li>'
        for number, step in enumerate(STEPS, 1))
    return f'<nav class="steps" id="steps" aria-label="Steps of the plan"><ol>{items}</ol></nav>'


MENU = (
    '<details class="menu" data-keep="menu"><summary>Plan menu</summary><div>'
    "<h2>Pass it on</h2>"
    '<button type="button" data-action="copy-link">Copy a link to this plan</button>'
    '<button type="button" data-action="square-code">QR code of the link</button>'
    '<button type="button" data-action="print">Print the sheets</button>'
    '<button type="button" data-action="print-workings">Print with workings</button>'
    '<button type="button" data-action="save-file">Save as a file</button>'
    '<button type="button" data-action="csv">Table for a spreadsheet (CSV)</button>'
    '<button type="button" data-action="calendar">Calendar for my phone (iCalendar)</button>'
    "<h2>Bring one in</h2>"
    '<button type="button" data-action="open-file">Open a file</button>'
    f'<a href="{ROOT}index.html">Look at an example</a>'
    "<h2>This plan</h2>"
    '<button type="button" data-action="redo" disabled>Redo</button>'
    '<button type="button" data-action="reset">Erase plan</button>'
    '<p class="hosted" data-hosted hidden><label for="hosted-address">Address of the copy on the web that links should '
    'open on, if there is one</label><input type="url" id="hosted-address" placeholder="https://" autocomplete="url">'
    "</p></div></details>"
)


def plan_bar(design: Design) -> str:
    """The bar above the sheets: the plan's name, what it triggers, its units and its menu."""
    return ('<div class="plan-bar"><p class="plan-name"><b data-plan-name>Your raft bath</b> '
            '<span data-saved>the example, until you type</span></p>'
            '<p class="paper-note" hidden>To build from: print the Build sheet, Shopping list, Drill template and '
            "Calendar, from step 7. These pages are the answers.</p>"
            f'{region("dangers", verdicts.dangers(design))}{form.units_choice(design)}'
            '<button type="button" data-action="undo" disabled>Undo</button>'
            f"{MENU}</div>")


def planner(design: Design) -> str:
    """The whole planner, complete before any script runs."""
    return (f'{signs.symbols()}<form class="planner" data-plan="{VERSION}" {form.PLAIN}>{plan_bar(design)}'
            '<p class="action-status" id="action-status" role="status"></p>'
            '<p class="visually-hidden" id="spoken" role="status"></p>'
            '<div class="desk"><div class="sheets">'
            + "".join(sheet(step, design, step is STEPS[0]) for step in STEPS)
            + f"</div>{_list_of_steps(design)}</div>"
            f'<div class="bars">{"".join(_phone_bar(step, design) for step in STEPS)}</div></form>')
