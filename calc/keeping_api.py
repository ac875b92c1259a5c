"""What the pages of a running bath may ask, as plain data in and out; calc.api hands their requests on to here.

It stands beside the api and not in calc.keeping, since it asks those who draw as well as those who work out.

A page opens a log once (``log_open``), tells each change (``log_put``), and names the log in all it asks afterwards, so
that a year of readings crosses the border once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import asdict, replace
from datetime import date, datetime, timedelta
from typing import Any

from .errors import UnreadableQuantity
from .plan import Plan, whole_characters
from .solve import Memory
from .keeping import incoming, sanity, sheets, times, today, whole
from .keeping.bath import Bath
from .keeping.entries import (
    EVENT_FIELDS,
    KINDS,
    METER_UNITS,
    OF_KIND,
    READING,
    READING_FIELDS,
    Entry,
    NotUnderstood,
    as_json,
    from_json,
    in_order,
    many,
    unit_for,
    values_of,
)
from .keeping.latest import latest
from .keeping.merging import merge

Json = dict[str, Any]
# So far ahead of the page's clock a reading may stand without a question: a clock that is wrong by a little.
AHEAD = timedelta(hours=1)


class Desk:
    """The logs that pages have open, and the last plan solved."""

    def __init__(self) -> None:
        self.logs: dict[str, dict[str, Entry]] = {}
        self._sorted: dict[str, list[Entry]] = {}
        self.memory = Memory()
        self._bath: tuple[Mapping[str, str], Bath] | None = None

    def bath(self, request: Json) -> Bath:
        """The bath of the plan in a request; solved once as long as the plan stays the same."""
        given = request.get("plan")
        plan = Plan.from_mapping(given if isinstance(given, Mapping) else {})
        if self._bath is None or self._bath[0] != plan.text:
            self._bath = dict(plan.text), Bath(plan, self.memory)
        return self._bath[1]

    def log(self, request: Json) -> list[Entry]:
        """The entries of a request: given with it, or of the log that it names."""
        if isinstance(request.get("entries"), list):
            return many(request["entries"], _order(request))[0]
        name = str(request.get("log", ""))
        if name not in self._sorted:
            self._sorted[name] = in_order(self.logs.get(name, {}).values())
        return self._sorted[name]

    def open(self, name: str) -> dict[str, Entry]:
        """The entries of a log that is about to be changed."""
        self._sorted.pop(name, None)
        return self.logs.setdefault(name, {})


_DESK = Desk()


def _order(request: Json) -> str:
    plan = request.get("plan")
    metric = isinstance(plan, Mapping) and plan.get("units") == "metric"
    return times.order_of("metric" if metric else "us")


def _now(request: Json) -> datetime:
    """What the page's clock says; a page that tells none gets a sentence."""
    try:
        return times.read_moment(str(request.get("now", "")), times.MONTH_FIRST)
    except UnreadableQuantity:
        raise NotUnderstood("The page did not say what time it is; reload it.") from None


def _typed(request: Json) -> Entry | None:
    """The reading being typed, which is in no log yet."""
    typed = request.get("typed")
    if not isinstance(typed, Mapping) or not any(str(text).strip() for text in typed.values()):
        return None
    given = {"kind": READING, "typed": dict(typed), "units": request.get("units") or {},
             "at": str(typed.get("time") or request.get("now", ""))}
    try:
        return from_json(given, order=_order(request))
    except NotUnderstood:
        return from_json({**given, "at": str(request.get("now", ""))})


def log_open(request: Json) -> Json:
    """Take a whole log in hand: ``log`` its name, ``entries`` all of it. Gives what was set aside, with the reason."""
    kept, aside = many(request.get("entries"), _order(request))
    log = _DESK.open(str(request.get("log", "")))
    log.clear()
    log.update((one.id, one) for one in kept)
    return {"count": len(kept), "aside": [{"given": one, "why": why, "newer": newer} for one, why, newer in aside]}


def log_put(request: Json) -> Json:
    """Tell a change of the log in hand: ``put`` entries new or changed, ``gone`` names of those erased."""
    log = _DESK.open(str(request.get("log", "")))
    for name in request.get("gone") or ():
        log.pop(str(name), None)
    found, aside = many(request.get("put"), _order(request))
    log.update((one.id, one) for one in found)
    return {"count": len(log), "entries": [as_json(one) for one in found],
            "aside": [{"given": one, "why": why, "newer": newer} for one, why, newer in aside]}


def log_fields(request: Json) -> Json:
    """What is asked of a reading and of an event, with the units that meters show."""
    system = _DESK.bath(request).system

    def said(one: Any) -> Json:
        name = one.key.partition(".")[2]
        return {"key": one.key, "name": name, "kind": one.kind, "label": one.label, "help": one.help,
                "unit": unit_for(one, system), "units": list(METER_UNITS.get(name, ()))}
    return {"reading": [said(one) for one in READING_FIELDS], "event": [said(one) for one in EVENT_FIELDS],
            "kinds": [{"value": one.value, "label": one.label, "help": one.help} for one in KINDS]}


def _of_time(text: str, now: datetime, order: str) -> dict[str, str]:
    """What is odd in the moment of an entry being typed."""
    if not text.strip():
        return {}
    try:
        at = times.read_moment(text, order)
    except UnreadableQuantity as error:
        return {"time": f"Date and time {error}."}
    if at - now <= AHEAD:
        return {}
    days = (at.date() - now.date()).days
    said = "later today" if days == 0 else "tomorrow" if days == 1 else f"{days} days ahead"
    return {"time": f"That is {said}: is the date right? Today works with it from then on."}


def _event_ask(request: Json, kind: str) -> Json:
    """What cannot be read of an event being typed."""
    now, typed = _now(request), {str(key): str(text) for key, text in (request.get("typed") or {}).items()}
    entry = from_json({"kind": kind, "typed": typed, "units": request.get("units") or {},
                       "at": str(request.get("now", ""))})
    faults = {**values_of(entry, _DESK.bath(request).system).faults, **_of_time(typed.get("time", ""), now,
                                                                               _order(request))}
    return {"asked": {}, "faults": faults, "count": sum(bool(text.strip()) for text in typed.values()), "last": {}}


def reading_ask(request: Json) -> Json:
    """What is odd in a reading being typed, and the last value of each field as a help.

    ``without`` names a kept reading that is being put right: it is not held against itself. ``kind`` names an event
    that is being typed instead: of that only faults are told.
    """
    kind = request.get("kind", READING)
    if kind != READING and kind in OF_KIND:
        return _event_ask(request, str(kind))
    bath, now = _DESK.bath(request), _now(request)
    known = latest((one for one in _DESK.log(request) if one.id != request.get("without")), now, bath.system)
    typed = {str(key): str(text) for key, text in (request.get("typed") or {}).items()}
    taken = {str(key): str(unit) for key, unit in (request.get("units") or {}).items()}
    most: dict[str, float] = {}
    if bath.working is not None:
        most["added"] = bath.working
    depth = bath.sheet.input_if_any(f"{bath.vessel}.depth") or bath.mark
    if depth is not None:
        most["level"] = depth
    given = _typed(request)
    warm = None if given is None else values_of(given, bath.system).get("temperature")
    warm = known.values.get("temperature") if warm is None else warm
    full = None if warm is None else bath.saturation(warm)
    if full is not None:
        most["oxygen"] = full
    asked, faults = sanity.questions(typed, taken, known.values, bath.system, METER_UNITS, most)
    faults.update(_of_time(typed.get("time", ""), now, _order(request)))
    count = sum(bool(text.strip()) for key, text in typed.items() if key not in ("time", "remark", *faults))
    return {"asked": {name: {**asdict(one), "offers": [{"words": words, "text": text} for words, text in one.offers]}
                      for name, one in asked.items()},
            "faults": faults, "count": count,
            "last": {name: {"shown": bath.figure(name, value), "unit": unit_for(bath.field(name), bath.system),
                            "at": times.show(known.at[name])} for name, value in known.values.items()}}


def _put_off(request: Json) -> dict[str, date]:
    """Lines put off, by code, each until a day; what is no day is left out."""
    found = {}
    given = request.get("off")
    for code, until in (given if isinstance(given, Mapping) else {}).items():
        try:
            found[str(code)] = date.fromisoformat(str(until))
        except ValueError:
            continue
    return found


def today_list(request: Json) -> Json:
    """The day's list as data and as HTML: see ``calc.keeping.today``."""
    from .render.keeping import aligned, lines, rounds
    bath = _DESK.bath(request)
    extra = {str(key): str(text) for key, text in (request.get("extra") or {}).items()}
    day = today.today(bath, _DESK.log(request), _now(request), _typed(request), extra, bool(request.get("put_off")),
                      _put_off(request))
    root = str(request.get("root", "../"))
    return {**today.as_json(day, bath), "html": {
        "verdict": lines.verdict(day), "gauges": aligned.rulers(bath, day), "todo": lines.todo(day, bath, root),
        "soon": lines.soon(day), "wall": rounds.wall(day, bath)}}


def _names(request: Json, name: str) -> list[str]:
    """Signs in a request; what is none of this version's is left out."""
    from .keeping.trouble.signs import SIGNS
    found = request.get(name)
    return [str(one) for one in found if str(one) in SIGNS] if isinstance(found, list) else []


def trouble_signs(request: Json) -> Json:
    """The signs to tick, those of the log ticked already: ``html``; and its ``present``, ``absent``, ``note``."""
    from .render.keeping import reasons
    from .keeping.trouble.from_log import told
    found = told(_DESK.bath(request), _DESK.log(request), _now(request))
    return {"html": reasons.tiles(found.present, found.note), "present": list(found.present),
            "absent": list(found.absent), "note": found.note}


def trouble(request: Json) -> Json:
    """What signs come to: ``present`` (or plain words in ``said``), ``absent``, ``unsure``, ``note`` by sign."""
    from .render.keeping import reasons
    from .keeping.trouble.answer import as_json as answered
    from .keeping.trouble.answer import find
    from .keeping.trouble.plain import understood
    words = request.get("said")
    said, unclear = understood([str(one) for one in words] if isinstance(words, list) else [])
    unsure = _names(request, "unsure")
    note = {str(key): str(text) for key, text in (request.get("note") or {}).items()}
    found = find([*_names(request, "present"), *said], _names(request, "absent"), unsure, note)
    return {**answered(found, unsure), "unclear": unclear, "html": reasons.answer(found, unsure)}


def trouble_table(request: Json) -> Json:
    """Every row behind Trouble as HTML; takes nothing."""
    from .render.keeping import reasons
    return {"html": reasons.whole_table()}


def routine_lists(request: Json) -> Json:
    """The rounds as data and as HTML, and the reminders as iCalendar text."""
    from .render.keeping import rounds
    from .keeping import reminders, routine
    bath, now = _DESK.bath(request), _now(request)
    wanted = request.get("codes")
    found = [one for one in routine.lists(bath) if not isinstance(wanted, list) or one.code in wanted]
    return {"lists": [routine.as_json(one) for one in found], "html": rounds.checklists(found),
            "calendar": reminders.write(reminders.reminders(bath, _DESK.log(request), now), now,
                                        str(request.get("bath") or ""))}


def log_says(request: Json) -> Json:
    """What the last two weeks say (``findings``, some with a change of the plan) and what is due."""
    from .keeping import trends
    bath, log, now = _DESK.bath(request), _DESK.log(request), _now(request)
    return {"findings": trends.as_json(trends.findings(bath, log, now)),
            "due": trends.due_json(trends.due(bath, log, now), bath.system)}


def log_pictures(request: Json) -> Json:
    """The log to look at: strips and year (``wide`` or not) with a sentence and a table each, rows, and the yield.

    ``parts`` names some of them ("strips", "year", "rows", "yield"); ``most`` how many rows.
    """
    from .render.keeping import gains, rows, strips, year
    from .keeping import harvests
    bath, log, now = _DESK.bath(request), _DESK.log(request), _now(request)
    wide = request.get("wide") is not False
    asked = request.get("parts")
    parts = [str(one) for one in asked] if isinstance(asked, list) else ["strips", "year", "rows", "yield"]
    found: Json = {"count": len(log), "readings": sum(one.kind == READING for one in log),
                   "invented": sum(one.invented for one in log)}
    if "strips" in parts:
        found["strips"] = {"svg": strips.picture(bath, log, now, wide), "table": strips.table(bath, log, now),
                           "words": strips.sentence(bath, strips.series(bath, log, strips.start_of(now), now))}
    if "year" in parts:
        weeks = year.weeks(bath, log, now)
        found["year"] = {"svg": year.picture(bath, weeks, wide), "table": year.table(bath, weeks),
                         "words": year.sentence(bath, weeks)}
    if "rows" in parts:
        most = request.get("most")
        html, before = rows.table(bath, log, most if isinstance(most, int) and most > 0 else 14)
        found["rows"] = {"html": html, "before": before}
    if "yield" in parts:
        found["yield"] = harvests.as_json(bath, harvests.of_log(bath, log, now))
        if found["yield"]:
            found["yield"]["html"] = gains.table(found["yield"])
    return found


def invented_days(request: Json) -> Json:
    """The invented bath: its plan, its name, and sixty days of entries, each marked invented."""
    from .keeping import invented
    return {"plan": dict(invented.PLAN), "name": invented.NAME,
            "entries": [as_json(one) for one in invented.entries(_now(request), str(request.get("bath") or ""))]}


def reading_link(request: Json) -> Json:
    """A reading out of a fragment, ``reading=1&ph=5.9&temperature=21.5 C``, to be shown before it is kept."""
    from urllib.parse import parse_qsl
    bath = _DESK.bath(request)
    given = dict(parse_qsl(str(request.get("fragment", "")).lstrip("#")[:2000]))
    typed = {name: given[name] for name in OF_KIND[READING] if given.get(name, "").strip()}
    typed.setdefault("time", times.show(_now(request)))
    unknown = sorted(set(given) - set(OF_KIND[READING]) - {"reading"})
    try:
        entry = from_json({"typed": typed}, order=times.order_of(bath.system))
    except NotUnderstood as error:
        return {"error": str(error)}
    values = values_of(entry, bath.system)
    return {"typed": typed, "at": entry.at, "faults": dict(values.faults), "unknown": unknown,
            "count": len(values.numbers)}


def csv_write(request: Json) -> Json:
    """The log as CSV text."""
    separator = request.get("separator")
    return {"text": sheets.write(_DESK.log(request), separator if separator in incoming.SEPARATORS else ",")}


def _merged(mine: Iterable[Entry], theirs: Iterable[Entry], system: str) -> Json:
    """What merging would do: the entries to be written, and how many are new, changed and here already."""
    done = merge(mine, theirs, system)
    fresh = {*done.added, *done.changed}
    return {"added": len(done.added), "changed": len(done.changed), "known": len(done.known),
            "put": [as_json(one) for one in done.entries if one.id in fresh]}


def csv_read(request: Json) -> Json:
    """What a CSV file would bring: nothing is kept before the page has asked; see ``put`` for what to keep then.

    ``answers`` are those to ``questions`` (by id); ``mapping`` says by column head what a column is.
    """
    bath, log = _DESK.bath(request), _DESK.log(request)
    answers = {str(key): str(text) for key, text in (request.get("answers") or {}).items()}
    mapping = request.get("mapping") if isinstance(request.get("mapping"), Mapping) else None
    found = incoming.read(whole_characters(str(request.get("text", ""))), bath.system, answers, mapping,
                          [one.id for one in log])
    name = str(request.get("bath") or "")
    theirs = [one if one.bath or not name else replace(one, bath=name) for one in found.entries]
    return {"trouble": found.trouble, "rows": found.rows, "own": found.own, "told": found.told,
            "columns": [asdict(one) for one in found.columns], "aside": found.aside,
            "questions": [{"id": one.id, "words": one.words, "taken": one.taken,
                           "offers": [{"value": value, "words": words} for value, words in one.offers]}
                          for one in found.questions], **_merged(log, theirs, bath.system)}


def all_write(request: Json) -> Json:
    """Everything as one file's text."""
    given = request.get("mappings")
    return {"text": whole.write(_DESK.log(request), request.get("plans") or (), request.get("baths") or (),
                                given if isinstance(given, Mapping) else None, request.get("aside") or (),
                                str(request.get("now", "")))}


def all_read(request: Json) -> Json:
    """What a file of everything would bring."""
    bath = _DESK.bath(request)
    found = whole.read(whole_characters(str(request.get("text", ""))))
    return {"trouble": found.trouble, "newer": found.newer, "told": found.told, "plans": found.plans,
            "baths": found.baths, "mappings": found.mappings,
            "aside": [{"given": one, "why": why} for one, why in found.aside],
            **_merged(_DESK.log(request), found.entries, bath.system)}


OPERATIONS: dict[str, Callable[[Json], Json]] = {
    "log_open": log_open, "log_put": log_put, "log_fields": log_fields, "reading_ask": reading_ask,
    "today": today_list, "log_csv_write": csv_write, "log_csv_read": csv_read, "log_all_write": all_write,
    "log_all_read": all_read, "log_says": log_says, "trouble_signs": trouble_signs, "trouble": trouble,
    "log_pictures": log_pictures, "invented_days": invented_days, "reading_link": reading_link,
    "routine": routine_lists, "trouble_table": trouble_table}


def run(name: str, request: Json) -> Json:
    """One operation; what cannot be answered comes back as ``{"error": sentence}``."""
    try:
        return OPERATIONS[name](request)
    except NotUnderstood as told:
        return {"error": str(told)}
