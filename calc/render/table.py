"""The design as CSV, for a spreadsheet: inputs, results, holes, lists and every table of the page."""

from __future__ import annotations

import csv
import io

from ..cells import safe
from ..plan import FIELDS, default_text
from ..solve import RESULT_TOPIC, Design
from ..topics import TOPICS
from . import extras, pieces

# Topics whose tables have lines of their own.
LISTED = ("board", "parts")
# Topics that answer for one day: their answers are in no file.
OF_A_DAY = frozenset(topic.NAME for topic in TOPICS if topic.FIELDS and all(field.transient for field in topic.FIELDS))


def write(design: Design) -> str:
    """One CSV text with a first column that says what each line is."""
    out = io.StringIO()
    writer = csv.writer(out)

    def line(*cells: object) -> None:
        writer.writerow([safe("" if cell is None else str(cell)) for cell in cells])

    line("part", "key", "name", "value", "detail")
    for key, field in FIELDS.items():
        if design.plan.asked(field) and not field.transient:
            typed = design.plan.typed(key, default_text(field, design.system))
            line("input", key, field.label, typed, design.faults.get(key, ""))
    for key, answer in design.answers.items():
        if answer.spec.kind != "rows" and RESULT_TOPIC[key] not in OF_A_DAY:
            line("result", key, answer.spec.label, design.shown(key), answer.relation.name if answer.relation else "")
    for row in design.value("parts.shopping") or []:
        line("buy", "", row["item"], row["quantity"], row["size"])
    for row in design.value("parts.cuts") or []:
        line("cut", "", row["item"], row["quantity"], row["size"])
    for number, hole in enumerate(design.value("board.holes") or [], 1):
        place = [design.shown_as("board.length", hole[axis]) for axis in ("x", "y")]
        line("hole", hole["board"], number, *place)
    for name, extra in extras.OF_TOPIC.items():
        if name in LISTED or name in OF_A_DAY:
            continue
        with pieces.noting_tables() as tables:
            extra(design)
        for caption, heads, rows in tables:
            line("heads", name, caption, *heads)
            for row in rows:
                line("row", name, caption, *row)
    for one in design.cautions:
        if one.topic in OF_A_DAY:
            continue
        line("caution", one.code, one.level, one.text, one.lead, one.brief, "standing" if one.standing else "")
    for given in design.verdicts.values():
        if given.topic not in OF_A_DAY:
            line("verdict", given.topic, given.state, given.text, given.lead, given.figure)
    return out.getvalue()
