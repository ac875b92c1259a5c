"""What the search finds: the built pages as short documents, and their index, made once and read by the page's script.

An entry is a part of a guide, a part of Safety, a word, a question, a result, a formula, a table, or a page. It keeps
its kind, title and address; of its text only the words go into the index, and a line to tell it by.
"""

from __future__ import annotations

import html
import json
import os
import re
import shutil
import subprocess
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from . import bundle, glossary, reference
from .setup import MODULES, ROOT, Trouble

if TYPE_CHECKING:
    from .guides import Guide

# How much of a text tells an entry from its like.
LINE = 90
# What people type for what this site calls otherwise: shop words, other trades' words, British words.
ALSO = {
    "Reservoir": "sump tote barrel bin", "Bath": "tank tub vat trough pond", "Raft": "lid float styrofoam",
    "Board": "styrofoam polystyrene sheet", "Net pot": "basket cup", "Plug": "cube sponge rockwool",
    "Nutrient solution": "feed food soup", "Fertilizer": "fertiliser feed nutrients", "Chiller": "cooler fridge",
    "Deep water culture (raft)": "DWC hydroponics", "Dissolved oxygen": "DO aeration", "Air stone": "bubbler diffuser",
    "Air line": "airline tubing", "Air pump": "bubbler", "Full change": "replace renew flush",
    "Alkalinity": "KH hardness",
    "GFCI, or RCD": "ground fault breaker FI", "Concentrate A and B": "stock", "Trace elements": "micronutrients",
    "Overflow standpipe": "bulkhead drain", "Check valve": "non-return nonreturn", "Top-up": "topping refill",
    "EC, electrical conductivity": "TDS salinity strength", "Algae": "green", "Site": "hole spot",
    "Kilowatt-hour (kWh)": "electricity bill", "Siphon": "syphon", "Lux": "brightness", "Nursery": "seedlings",
}
_SKIP = re.compile(r"<(svg|script|style|nav|form|aside)\b.*?</\1>", re.DOTALL)
_TAG = re.compile(r"<[^>]+>")
_HEADING = re.compile(r'<h2[^>]*\bid="([^"]+)"[^>]*>(.*?)</h2>', re.DOTALL)
_MAIN = re.compile(r"<main\b.*?>(.*)</main>", re.DOTALL)


@dataclass(frozen=True)
class Entry:
    """One thing to find: its kind, title, address below the top, a line about it, and all words that lead to it."""

    kind: str
    title: str
    at: str
    line: str
    words: str = ""


def plain(markup: str) -> str:
    """The text of HTML in one line."""
    return " ".join(html.unescape(_TAG.sub(" ", _SKIP.sub(" ", markup))).split())


def shortened(text: str, most: int = LINE) -> str:
    """The beginning of a text, cut between words."""
    return text if len(text) <= most else text[:most].rsplit(" ", 1)[0].rstrip(",;:") + " …"


def parts(kind: str, title: str, path: str, page: str, summary: str) -> Iterable[Entry]:
    """A page by its headings: its beginning under its own title, each part after that under both."""
    main = _MAIN.search(page)
    text = main[1] if main else page
    heads = list(_HEADING.finditer(text))
    first = plain(text[:heads[0].start()] if heads else text)
    yield Entry(kind, title, path, shortened(summary), f"{summary} {first}")
    for head, after in zip(heads, [*heads[1:], None], strict=True):
        body = plain(text[head.end():after.start() if after else len(text)])
        yield Entry(kind, f"{title}: {plain(head[2])}", f"{path}#{head[1]}", shortened(body), body)


def _declared() -> Iterable[Entry]:
    """Questions and results of the planner."""
    from calc.render import answers
    from calc.plan import FIELDS, Plan
    from calc.solve import SPECS, solve
    from calc.steps import STEPS
    step_of = {topic: step for step in STEPS for topic in step.topics}
    example = solve(Plan({}))
    topic_of = _topics()
    for key, field in FIELDS.items():
        if step := step_of.get(topic_of.get(key, "")):
            yield Entry("question", field.label, f"plan/index.html#step={step.name}",
                        shortened(field.help or f"A question of the step {step.title}."), field.help)
    for key, spec in SPECS.items():
        step = step_of.get(topic_of.get(key, ""))
        if step and spec.kind != "rows":
            at = (f"workings/{step.name}/index.html#{key}" if answers.has_row(key, example)
                  else f"plan/index.html#step={step.name}")
            yield Entry("result", spec.label, at, f"In the step {step.title}.")


def _topics() -> dict[str, str]:
    """The topic that asks a question or gives a result."""
    from calc.topics import TOPICS
    return {one.key: topic.NAME for topic in TOPICS for one in (*topic.FIELDS, *topic.RESULTS)}


def entries(folder: Path, found: list[Guide], words: list[glossary.Word]) -> list[Entry]:
    """Everything there is to find in a built folder, in an order that the same sources always give."""
    from calc.relations.base import RELATIONS
    held: list[Entry] = []
    for guide in found:
        held += parts("guide", guide.title, guide.path, (folder / guide.path).read_text(encoding="utf-8"),
                      guide.summary)
    held += parts("safety", "Safety", "safety/index.html", (folder / "safety/index.html").read_text(encoding="utf-8"),
                  "Electricity, load, water, tools: read this before you build.")
    held += [Entry("word", word.name, f"{glossary.PAGE}#{word.anchor}", shortened(word.means),
                   f"{word.means} {' '.join(word.uses)} {ALSO.get(word.name, '')}") for word in words]
    held += _declared()
    held += [Entry("reference", sheet.title, sheet.path, shortened(sheet.summary), sheet.summary)
             for sheet in reference.SHEETS]
    held += [Entry("formula", one.title, reference.address(one.name), shortened(f"Holds for: {one.valid}.", 60),
                   " ".join(symbol.meaning for symbol in one.symbols.values())) for one in RELATIONS.values()]
    for path, title, summary, more in (
            ("plan/index.html", "The planner", "All questions and all answers, a step a sheet.", "calculator plan"),
            ("club/index.html", "A club", "One list for all, shares, rota, a handout.", "group school members together "
             "cost each bulk order rounds turns"),
            ("lesson/index.html", "A lesson", "Worksheet, answer key, six activities.", "school class teacher math"),
            ("guides/check-yourself/index.html", "Check yourself", "Twenty questions, answers folded.", "exam quiz"),
            ("checked/index.html", "Checked against", "Every value from outside beside what the code gives.", "test"),
            ("offline/index.html", "Take it offline", "A stick, an installed page, or paper.", "download usb print"),
            ("api/index.html", "From a script", "The same calculations from Python and a terminal.", "python command")):
        held.append(Entry("page", title, path, summary, f"{summary} {more}"))
    return held


def index(held: list[Entry]) -> str:
    """The ready index of the entries as the library writes it; made by the very library and rules that read it."""
    script = bundle.esbuild(["--bundle", "--format=cjs", "--platform=node", "--target=es2022",
                             str(ROOT / "site_src" / "tools" / "make_index.js")], paths=[MODULES])
    documents = [{"id": number, "title": one.title, "text": one.words or one.line} for number, one in enumerate(held)]
    node = shutil.which("node")
    if not node:
        raise Trouble("node was not found. Install Node.js 20 or later, then run this again.")
    done = subprocess.run([node, "-e", script], input=json.dumps(documents), capture_output=True, text=True,
                          encoding="utf-8", env=dict(os.environ))
    if done.returncode != 0:
        raise Trouble(f"The index of the search could not be made:\n{done.stderr.strip()[-800:]}")
    return done.stdout


def asset(folder: Path, found: list[Guide], words: list[glossary.Word]) -> bytes:
    """The script that holds entries and index; a page from a disk may load it, where it may fetch nothing."""
    held = entries(folder, found, words)
    # Pages and kinds are said once: each entry names them by number.
    pages = list(dict.fromkeys(one.at.partition("#")[0] for one in held))
    kinds = list(dict.fromkeys(one.kind for one in held))
    rows = [[kinds.index(one.kind), one.title, pages.index(path), place, one.line]
            for one in held for path, _, place in [one.at.partition("#")]]
    return bundle.constant_script("raftwrightFinding", {"kinds": kinds, "pages": pages, "entries": rows,
                                                        "index": json.loads(index(held))})
