"""The few operations that the page may ask of Python: plain JSON text in, plain JSON text out, never a traceback."""

from __future__ import annotations

import json
from base64 import b64encode
from collections.abc import Callable
from datetime import date
from typing import Any

from . import history, units
from .errors import Told, UnreadableQuantity
from .plan import (
    FIELDS,
    LONGEST_TEXT,
    TABLES,
    Plan,
    default_text,
    flatten,
    lasting,
    table_default,
    whole_characters,
)
from .render import link, page
from .settle import Settling
from .solve import Design, as_json, solve
from .switching import field_of, switched
from .topics import BY_NAME

# A module that the first sheet's answer does not need is imported by the operation that does: a first visit waits for
# each of them.

# What crosses the border is JSON: its types are known only once a value has been looked at.
Json = dict[str, Any]

LONGEST_FILE = 1_000_000
LONGEST_NAME = 60
DEEPEST = 20
# The one page that this Python serves types on and on: what its last question came to is the start of the next.
_SETTLING, _SHELF, _TEXTS = Settling(), page.Shelf(), page.Texts()


def _plan(request: Json) -> Plan:
    return _SETTLING.read(request.get("plan"))


def _design(request: Json) -> Design:
    return _SETTLING.whole(_plan(request))


def _names(request: Json) -> list[str] | None:
    """The topics a page shows; ``None`` for all."""
    topics = request.get("topics")
    return [str(name) for name in topics] if isinstance(topics, list) and topics else None


def _texts(request: Json, name: str) -> list[str]:
    """A list of texts in what the page asks; nothing else counts."""
    found = request.get(name)
    return [str(one) for one in found] if isinstance(found, list) else []


def _workings(request: Json) -> Json:
    keys = request.get("keys")
    wanted = [str(key) for key in keys] if isinstance(keys, list) else None
    return {"workings": page.workings(_design(request), wanted)}


def _solve(request: Json) -> Json:
    """What is in sight of a plan; of the pieces that the page has (``have``, their marks) it gets only those changed.

    A planner names the ``step`` in sight, whether its drawing has room (``wide``) and which folds are ``open``; a guide
    names its ``topics``. Whatever else the plan has comes with ``rest``. Who asks for what is ``quick`` gets it first,
    and is told where there is ``more`` of the sheet to ask for.
    """
    plan, names, step = _plan(request), _names(request), page.step_named(request.get("step"))

    def make(design: Design) -> page.Pieces:
        if names:
            from .render import small
            return small.pieces(names, _texts(request, "answers"), design)
        return page.of_step(design, step, request.get("wide") is not False, shelf=_SHELF)
    topics = names or (step.quick if request.get("quick") else ()) or step.topics
    design, pieces = _SETTLING.first(plan, [name for name in topics if name in BY_NAME], make)
    # Who names neither step nor topics asks about the whole plan.
    whole = bool(request.get("results")) or not (names or "step" in request)
    if whole:
        design = _SETTLING.whole(plan)
    answer = _answer(request, design, pieces)
    if not names and not design.passed.isdisjoint(step.topics):
        answer["more"] = True
    if whole:
        answer["link"] = link.write(plan)
    if names:
        from .render import living
        design, answer["living"] = _SETTLING.first(plan, topics, lambda design: {
            text: living.shown(text, design) for text in _texts(request, "living")})
    if request.get("results"):
        answer["results"] = as_json(design)["results"]
    return answer


def _answer(request: Json, design: Design, pieces: page.Pieces) -> Json:
    """The pieces that the page lacks, their marks, those that a fault holds back, and the faults."""
    regions, marks = page.changed(pieces, _have(request))
    faults = _SETTLING.faults(design)
    offers = {key: fault.offers for key, fault in faults.items() if isinstance(fault, Told) and fault.offers}
    return {"regions": regions, "marks": marks, "old": page.lost(design, pieces), "faults": faults, "offers": offers}


def _have(request: Json) -> dict[str, str]:
    return request["have"] if isinstance(request.get("have"), dict) else {}


def _rest(request: Json) -> Json:
    """A short time's work on what is not in sight; once all is ``done``, what follows the plan as a whole.

    The page asks again and again until it is, and leaves off when another plan was typed. ``said`` is the mark of the
    texts that it has; it gets those of answers that say something else now.
    """
    design = _SETTLING.go_on(plan := _plan(request))
    if design is None:
        return {"done": False}
    if _names(request):
        return {"done": True, "link": link.write(plan), **_answer(request, design, {})}
    step = page.step_named(request.get("step"))
    tables = f"figures-{step.name}" in _texts(request, "open")
    answer = _answer(request, design, page.of_plan(design, _SHELF)
                     | page.of_step(design, step, request.get("wide") is not False, tables, _SHELF))
    # Which rows there are is told of the sheet in sight also while its fold is closed: who opens it finds them there.
    rows, marks = page.rows(design, step, _have(request))
    answer["regions"] |= rows
    answer["marks"] |= marks
    texts, said = _TEXTS.changed(page.texts(design), str(request.get("said", "")))
    return {"done": True, "link": link.write(plan), "texts": texts, "said": said, **answer}


def _mends(request: Json) -> Json:
    """Changes that would make bad verdicts fit, by topic: for some ``topics``, for those of a ``step``, or for all.

    The page asks when the typing pauses, a step or a topic at a time: each takes about as long as a dozen answers.
    """
    from . import mends
    wanted = _texts(request, "topics") or (page.step_named(request["step"]).topics if "step" in request else mends.ALL)
    return {"mends": mends.as_json(mends.mends_of(_plan(request), wanted, _SETTLING.memory))}


def _link_read(request: Json) -> Json:
    fragment = str(request.get("fragment", ""))
    plan, notes = link.read(fragment)
    made = link.maker(fragment)
    said = {"maker": {"name": made.name, "note": made.note}} if made else {}
    return {"plan": plan, "notes": notes, **said, **({"newer": True} if link.is_newer(fragment) else {})}


def _csv(request: Json) -> Json:
    from .render import table
    return {"text": table.write(_design(request))}


def _square_code(request: Json) -> Json:
    from .render import square_code
    try:
        picture, note = square_code.picture(str(request.get("text", ""))[:link.LONGEST])
    except ImportError:
        return {"error": "The part that draws square codes is not installed here."}
    return {"svg": picture, "note": note}


def _calendar(request: Json) -> Json:
    """The dates of a plan with its ``name`` as iCalendar."""
    from .render import calendar
    from .render.paper import leaf
    design = _design(request)
    return {"text": calendar.write(design, leaf.Paper(design, _plan_name(request)).own_name)}


def _plan_name(request: Json) -> str:
    from .render.paper import leaf
    return whole_characters(str(request.get("name") or "")).strip()[:LONGEST_NAME] or leaf.UNNAMED


def _files(request: Json) -> Json:
    """The menu of files of a plan, and the plan's name."""
    from .render.saved import menu
    return {"html": menu.html(_design(request)), "name": _plan_name(request)}


def _file(request: Json) -> Json:
    """One ``file`` of a plan with its ``name``: its content as ``text`` or as ``base64``, its ``type``, and what it is
    ``called`` when it is saved on a ``day`` (2026-11-26, or "")."""
    from .render.paper import files, leaf
    from .render.saved import menu
    design, name, file = _design(request), _plan_name(request), str(request.get("file"))
    try:
        made = files.write(leaf.Paper(design, name), file)
    except ValueError as error:
        return {"error": str(error)}
    try:
        day = date.fromisoformat(str(request.get("day"))).isoformat()
    except ValueError:
        day = ""
    called = menu.called(name, day, file, len(design.value("board.pieces") or []))
    content = {"text": made} if isinstance(made, str) else {"base64": b64encode(made).decode("ascii")}
    return {"called": called, "type": menu.TYPES[file.rpartition(".")[2]], **content}


def _paper(request: Json) -> Json:
    """The sheets of one ``kind`` for a plan, with its ``name``, its ``link`` and the link's ``code`` as SVG."""
    from .render.paper import files, leaf
    kind = str(request.get("kind"))
    if kind not in files.SHEETS:
        return {"error": f"“{kind[:20]}” is not a kind of sheet."}
    name = _plan_name(request)
    paper = leaf.Paper(_design(request), name, str(request.get("link") or ""), str(request.get("code") or ""))
    return {"html": files.SHEETS[kind](paper), "name": name}


def _sum(request: Json) -> Json:
    """The sum of prices as typed (``texts``), with tax and postage (``extra``), and its part ``among`` so many."""
    design = _design(request)
    total, unread, extra = 0.0, 0, 0.0
    for text in [*_texts(request, "texts"), str(request.get("extra") or "")]:
        try:
            extra = max(units.parse(text, "money", design.system), 0.0) if text.strip() else 0.0
        except UnreadableQuantity:
            unread, extra = unread + 1, 0.0
        total += extra
    among, members = request.get("among"), str(request.get("members") or "").strip()
    each = total / among if isinstance(among, int) and among > 0 else total
    many = int(members) if members.isascii() and members.isdigit() else 0
    member = design.money(total / many) if many else ""
    return {"sum": design.money(total - extra), "total": design.money(total), "each": design.money(each),
            "member": member, "unread": unread}


def _overview(request: Json) -> Json:
    """A plan of whatever ``version`` at a glance: its small drawing, four figures and where it stands.

    What belongs to one plan among many; the page keeps it, and asks again only when the plan is another.
    """
    from . import overview
    from .render import miniature
    answers, notes = history.read_document({"plan": request.get("plan") or {}, "version": request.get("version")})
    design = _SETTLING.whole(_SETTLING.read(answers))
    drawn = miniature.draw(design)
    return {"figures": overview.figures(design), "system": design.system, "notes": history.first_of(notes),
            "standings": [[one.state, one.words] for one in overview.standings(design)],
            "drawing": {"svg": drawn.svg, "wide": drawn.wide, "tall": drawn.tall} if drawn else None}


def _picture(request: Json) -> Json:
    """A plan of whatever ``version`` as one picture under its ``name``, as the text of an SVG file."""
    from .render import poster
    answers, _ = history.read_document({"plan": request.get("plan") or {}, "version": request.get("version")})
    name = whole_characters(str(request.get("name") or "")).strip()[:LONGEST_NAME] or "A raft bath"
    return {"svg": poster.draw(_SETTLING.whole(_SETTLING.read(answers)), name)}


def _side_by_side(request: Json) -> Json:
    """Two to four plans (``plans``: name, note, href, plan, version) beside one another, as a sheet."""
    from . import compare
    from .render import sidebyside
    given = [one for one in request.get("plans") or () if isinstance(one, dict)][:compare.MOST]
    if len(given) < 2:
        return {"error": "Choose two to four plans."}
    beside = []
    for one in given:
        answers, _ = history.read_document({"plan": one.get("plan") or {}, "version": one.get("version")})
        words = {name: whole_characters(str(one.get(name) or "")) for name in ("name", "note", "href")}
        beside.append(sidebyside.Beside(design=solve(Plan.from_mapping(answers)), **words))
    return {"html": sidebyside.sheet(beside), "system": beside[0].design.system}


def _club(request: Json) -> Json:
    """What a ``club`` comes to: the pieces of its page, and faults by field; ``links`` and ``codes`` by bath."""
    from .render.club import page as club_page
    texts = [{str(key): str(value) for key, value in (request.get(name) or {}).items()} for name in ("links", "codes")]
    parts = club_page.parts(request.get("club"), *texts)
    return {"faults": parts.pop("faults"), "parts": parts}


def _club_write(request: Json) -> Json:
    from .club import files
    club = request.get("club")
    return {"text": files.written(club if isinstance(club, dict) else {})}


def _club_read(request: Json) -> Json:
    """What the ``text`` of a file brings to the ``clubs`` that stand here."""
    from .club import files
    clubs = [one for one in request.get("clubs") or () if isinstance(one, dict)]
    return files.merged(clubs, str(request.get("text", "")))


def _file_write(request: Json) -> Json:
    from .render.saved import data
    return {"text": data.kept(_plan(request))}


def _file_read(request: Json) -> Json:
    text = str(request.get("text", ""))
    if len(text) > LONGEST_FILE:
        return {"plan": None, "notes": ["This file is larger than any plan; nothing was read from it."]}
    if _depth(text) > DEEPEST:
        return {"plan": None,
                "notes": ["This file is not a plan: it is nested deeper than any plan. Nothing was changed."]}
    try:
        given = json.loads(text, parse_int=_whole)
    except (ValueError, RecursionError):
        return {"plan": None, "notes": ["This file is not a plan: it is not JSON text. Nothing was changed."]}
    if not isinstance(given, dict):
        return {"plan": None, "notes": ["This file is not a plan: it holds no list of answers. Nothing was changed."]}
    answer = _known(*history.read_document(given))
    if history.is_newer(given):
        answer["newer"] = True
    name = given.get("name") if isinstance(given.get("plan"), dict) else None
    if isinstance(name, str) and name.strip():
        answer["name"] = whole_characters(name).strip()[:LONGEST_NAME]
    return answer


def _depth(text: str) -> int:
    """How deep groups lie in groups in a text of JSON; Python in a browser has little room for that."""
    outside = "".join(text.replace("\\\\", "").replace('\\"', "").split('"')[::2])
    depth = deepest = 0
    for letter in outside:
        if letter in "[{":
            depth += 1
            deepest = max(deepest, depth)
        elif letter in "]}":
            depth -= 1
    return deepest


def _whole(text: str) -> int | str:
    """A whole number in a file; one of thousands of digits stays text, which the reading of its answer will tell."""
    return int(text) if len(text) <= LONGEST_TEXT else text


def _known(given: Json, notes: list[str]) -> Json:
    """The answers that this version asks for, and a sentence for each of the others."""
    text, told = flatten(given)
    return {"plan": {key: typed for key, typed in lasting(text).items() if field_of(key) is not None},
            "notes": history.first_of([*notes, *told.values()])}


def _plan_read(request: Json) -> Json:
    """A plan that the page kept, of whatever version, as one of today."""
    return _known(*history.read_document({"plan": request.get("plan") or {}, "version": request.get("version")}))


def _lesson(request: Json) -> Json:
    """A lesson with the numbers of a class (``class`` and ``units``), or with those of a plan that the page kept."""
    from .render import lesson
    if "class" in request:
        number = request["class"]
        if not isinstance(number, int) or not lesson.SMALLEST <= number <= lesson.LARGEST:
            return {"error": f"A class number is a whole number from {lesson.SMALLEST} to {lesson.LARGEST:,}."}
        return {"parts": lesson.of_class(number, str(request.get("units")))}
    plan = _plan_read(request)["plan"]
    return {"parts": lesson.parts(_design({"plan": plan}), lesson.OWN if plan else lesson.EXAMPLE)}


def _switch_system(request: Json) -> Json:
    """Write units onto bare numbers, so that a change of system changes no size: neither one that was typed nor, in a
    plan of somebody's own, one that was guessed."""
    to = "metric" if request.get("to") == "metric" else "us"
    text = switched(_plan(request), to, _SETTLING.whole)
    defaults = {key: default_text(field, to) for key, field in FIELDS.items()}
    for key, rows in TABLES.items():
        for number in range(1, len(rows.rows) + 1):
            for column in rows.columns:
                defaults[f"{key}.{number}.{column.key}"] = table_default(rows, number, column, to)
    return {"plan": text, "defaults": defaults}


def _keeping(name: str) -> Callable[[Json], Json]:
    """An operation of a running bath, whose modules are imported only when its pages ask."""
    def run_later(request: Json) -> Json:
        from . import keeping_api
        return keeping_api.run(name, request)
    return run_later


# What the pages of a running bath ask; ``calc.keeping_api`` says what each takes and gives.
KEEPING = ("log_open", "log_put", "log_fields", "reading_ask", "today", "log_csv_write", "log_csv_read",
           "log_all_write", "log_all_read", "log_says", "trouble_signs", "trouble",
           "log_pictures", "invented_days", "reading_link", "routine", "trouble_table")
OPERATIONS = {**{name: _keeping(name) for name in KEEPING},
              "solve": _solve, "rest": _rest, "workings": _workings, "mends": _mends, "link_read": _link_read,
              "csv": _csv, "file_write": _file_write, "file_read": _file_read, "plan_read": _plan_read,
              "square_code": _square_code, "paper": _paper, "files": _files, "file": _file, "sum": _sum,
              "calendar": _calendar, "overview": _overview, "side_by_side": _side_by_side, "picture": _picture,
              "club": _club, "club_write": _club_write, "club_read": _club_read,
              "lesson": _lesson, "switch_system": _switch_system}


def run(text: str) -> str:
    """Do one operation; an error comes back as ``{"error": sentence}``."""
    try:
        request = json.loads(text)
        operation = OPERATIONS.get(str(request.get("op"))) if isinstance(request, dict) else None
        if operation is None:
            return json.dumps({"error": "The page asked for something this version does not do; reload the page."})
        return json.dumps(operation(request), ensure_ascii=False, allow_nan=False)
    except Exception as problem:  # the border: whatever went wrong, the reader gets a sentence and keeps the plan
        return json.dumps({"error": "Something went wrong inside the calculation. Your answers are kept.",
                           "detail": f"{type(problem).__name__}: {problem}"[:500]})
