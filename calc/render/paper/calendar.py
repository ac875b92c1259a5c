"""The calendar as a wall sheet: a row a week, what to sow, move and cut by crop, and which sites are taken."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, timedelta
from html import escape

from ...declare import Row
from ...figures import count
from ...keeping import waterwork
from ...solve import Design
from . import boards, ink, leaf

WEEKS_A_PAGE, MOST_PAGES = 12, 4
# Wide and tall of the small raft in mm; of more sites a bar is drawn.
RAFT_WIDE, RAFT_TALL, MOST_SITES = 27.0, 13.0, 80
LINES = 3
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "June", "July", "Aug", "Sep", "Oct", "Nov", "Dec")
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass
class Week:
    """One row: counts by crop of what is done in it, sites taken at its end, and those taken anew."""

    start: date
    sow: dict[str, int] = field(default_factory=dict)
    move: dict[str, int] = field(default_factory=dict)
    apart: dict[str, int] = field(default_factory=dict)
    cut: dict[str, int] = field(default_factory=dict)
    taken: set[int] = field(default_factory=set)
    fresh: set[int] = field(default_factory=set)
    sites: int = 0
    water: list[str] = field(default_factory=list)


def say_day(day: date, system: str) -> str:
    """Mar 1, or 1 Mar, as the units go."""
    month = MONTHS[day.month - 1]
    return f"{month} {day.day}" if system == "us" else f"{day.day} {month}"


def _add(into: dict[str, int], row: Row, key: str) -> None:
    if row[key]:
        into[row["name"]] = into.get(row["name"], 0) + row[key]


def weeks_of(design: Design) -> list[Week]:
    """Every week from the first sowing to the last harvest; none where nothing is sown."""
    batches, start = design.value("schedule.batches") or [], design.value("schedule.start")
    if not batches or not isinstance(start, date):
        return []
    last = max(date.fromisoformat(row["harvest"]) for row in batches)
    found = [Week(start + timedelta(7 * at)) for at in range((last - start).days // 7 + 1)]

    def week(day: str) -> Week:
        return found[(date.fromisoformat(day) - start).days // 7]

    for row in batches:
        _add(week(row["sow"]).sow, row, "seeds")
        _add(week(row["transplant"]).move, row, "plants")
        if row["apart"]:
            _add(week(row["apart"]).apart, row, "plants")
        _add(week(row["harvest"]).cut, row, "heads")
    for busy, one in zip(design.value("schedule.busy") or [], found, strict=False):
        one.sites = int(busy["sites"])
    if not any(row["apart"] for row in batches):
        _sites(design, batches, found)
    _water(design, found)
    return found


def _sites(design: Design, batches: list[Row], weeks: list[Week]) -> None:
    """Which site each batch stands on: the first that are free, from the week it is moved until it is cut."""
    total = len(design.value("board.holes") or []) * int(design.value("bath.count") or 1)
    held: dict[int, str] = {}
    for one in weeks:
        end = one.start + timedelta(7)
        held = {site: until for site, until in held.items() if date.fromisoformat(until) > one.start}
        for row in batches:
            if not one.start <= date.fromisoformat(row["transplant"]) < end:
                continue
            free = [site for site in range(total) if site not in held][: row["plants"]]
            one.fresh |= set(free)
            held |= {site: row["free"] for site in free}
        one.taken = set(held)


def _water(design: Design, weeks: list[Week]) -> None:
    """When to fill, top up and change the water."""
    said = {"fill": "Fill, test day, mix", "readings": "EC, pH each day", "change": "Full change", "top-up": "Top up"}
    found = {one.work.code: one.days for one in waterwork.dated(design)}
    for code, words in said.items():
        for day in found.get(code, ()):
            at = (day - weeks[0].start).days // 7
            known = weeks[at].water if 0 <= at < len(weeks) else [words]
            if words not in known and not (code == "top-up" and said["change"] in known):
                known.append(words)


def _weeks_said(first: int, last: int) -> str:
    return f"Week {first}" if first == last else f"Weeks {first} to {last}"


def _counts(found: dict[str, int]) -> str:
    if not found:
        return '<span class="none">–</span>'
    lines = [f"{count(many)} {name}" for name, many in found.items()]
    if len(lines) > LINES:
        lines = [*lines[: LINES - 1], f"and {len(lines) - LINES + 1} more kinds"]
    return "".join(f"<span>{leaf.keep(one)}</span>" for one in lines)


def _raft(design: Design, week: Week) -> str:
    """The small raft with empty, new and growing sites, or a bar of how many are taken."""
    made, many = boards.of(design), len(design.value("board.holes") or [])
    total = int(design.value("schedule.sites_available") or 0)
    said = f"{week.sites} of {total} sites are taken"
    if not _pictured(design) or (week.sites and not week.taken):
        share = week.sites / total if total else 0.0
        parts = [ink.rect("part", 0.3, 4, RAFT_WIDE - 0.6, 5), ink.rect("grown", 0.3, 4, (RAFT_WIDE - 0.6) * share, 5)]
        return ink.drawing(RAFT_WIDE, RAFT_TALL, said, "", parts)
    places = _on_raft(design, made)
    low = min(x for x, _ in places.values()), min(y for _, y in places.values())
    high = max(x for x, _ in places.values()), max(y for _, y in places.values())
    per = min((RAFT_WIDE - 4.6) / max(high[0] - low[0], 1.0), (RAFT_TALL - 4.0) / max(high[1] - low[1], 1.0))
    wide, tall = (high[0] - low[0]) * per + 4.2, (high[1] - low[1]) * per + 3.6
    parts = [ink.rect("part", 0.2, 0.2, wide, tall)]
    for number, (x, y) in places.items():
        at = 2.3 + (x - low[0]) * per, tall - 1.6 - (y - low[1]) * per
        site = number - 1
        kind = "fresh" if site in week.fresh else "grown" if site in week.taken else "empty"
        parts.append(ink.circle(kind, *at, 1.1 if many <= 40 else 0.8))
        if kind == "fresh":
            parts.append(ink.circle("black", *at, 0.35))
    return ink.drawing(wide + 0.4, tall + 0.4, said, "", parts)


def _pictured(design: Design) -> bool:
    """Whether the sites are few enough, and of one bath, to be drawn one by one."""
    many = len(design.value("board.holes") or [])
    return 0 < many <= MOST_SITES and int(design.value("schedule.sites_available") or 0) == many and not any(
        row["apart"] for row in design.value("schedule.batches") or [])


def _by_hand(paper: leaf.Paper) -> str:
    """Where no dates can be worked out: why not, how long each crop takes, and lines to fill in by hand."""
    design = paper.design
    given = design.verdict("schedule")
    why = f"{given.lead} {given.text}" if given is not None else "No dates can be worked out for this plan yet."
    heads = "".join(f'<th scope="col">{one}</th>' for one in ("", "Crop, how many", "Sown", "Moved", "Cut"))
    box = '<td><span class="read-box"></span></td>' * 4
    rows = "".join(
        f'<tr><th scope="row"><b class="week-number">{at}</b></th>{box}</tr>' for at in range(1, WEEKS_A_PAGE)
    )
    body = (
        f"<p>{leaf.keep(why)} The planner’s step 6, Running it, has the questions. Until then, a sheet to fill in by "
        f'hand. {_note(design)}</p><table class="by-hand"><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>'
    )
    return leaf.leaf("Sow, move, cut", ["no dates yet", "a line for each sowing"], body, [
        ("Plan", paper.name), ("Calendar 1 of 1", "To fill in by hand"), ("Hang it", "by the bath"),
        ("Built by, date", "")], kind="from-top", first=True)


def _on_raft(design: Design, made: list[boards.Board]) -> dict[int, tuple[float, float]]:
    """Each site's place on the whole raft, in mm, by its number."""
    found = {}
    pieces = {int(one["board"]): one for one in design.value("board.pieces") or []}
    for number, row in enumerate(design.value("board.holes") or [], 1):
        piece = pieces[int(row["board"])]
        found[number] = (piece["x"] + row["x"]) * boards.MM, (piece["y"] + row["y"]) * boards.MM
    return found if made else {}


def _row(design: Design, number: int, week: Week) -> str:
    total = int(design.value("schedule.sites_available") or 0)
    move = _counts(week.move) if week.move or not week.apart else ""
    apart = f"<span>{count(sum(week.apart.values()))} move apart</span>" if week.apart else ""
    water = "".join(f'<span class="cal-water"><i class="tick-box"></i>{escape(one)}</span>' for one in week.water)
    return (
        f'<tr><th scope="row"><b class="week-number">{number}</b></th><td><span>{DAYS[week.start.weekday()]}</span>'
        f"<span>{leaf.keep(say_day(week.start, design.system))}</span></td><td>{_counts(week.sow)}</td>"
        f"<td>{move}{apart}</td><td>{_counts(week.cut)}</td><td>{_raft(design, week)}</td>"
        f"<td><b>{count(week.sites)}</b><span>of {count(total)}</span></td><td>{water}</td></tr>"
    )


def _total(weeks: list[Week]) -> str:
    cut: dict[str, int] = {}
    for week in weeks:
        for name, many in week.cut.items():
            cut[name] = cut.get(name, 0) + many
    return ", ".join(f"{count(many)} {name.lower()}" for name, many in list(cut.items())[:LINES])


def _dot(*circles: tuple[str, float]) -> str:
    drawn = "".join(ink.circle(kind, 1.5, 1.5, radius) for kind, radius in circles)
    return f'<svg class="mm" width="3mm" height="3mm" viewBox="0 0 3 3" aria-hidden="true">{drawn}</svg>'


KEY = (
    f'<p class="cal-key">{_dot(("empty", 1.1))} empty site {_dot(("fresh", 1.1), ("black", 0.35))} moved in this week '
    f"{_dot(('grown', 1.1))} growing</p>"
)


def sheets(paper: leaf.Paper) -> str:
    """All sheets of the calendar."""
    design, weeks = paper.design, weeks_of(paper.design)
    if not weeks:
        return _by_hand(paper)
    shown = weeks[: WEEKS_A_PAGE * MOST_PAGES]
    pages = [shown[at : at + WEEKS_A_PAGE] for at in range(0, len(shown), WEEKS_A_PAGE)]
    first = weeks[0].start
    facts = [
        f"{count(len(weeks))} weeks from {DAYS[first.weekday()]} {say_day(first, design.system)} {first.year}",
        f"cut in all: {_total(weeks)}",
    ]
    made = []
    heads = "".join(
        f'<th scope="col">{name}{f"<small>{more}</small>" if more else ""}</th>'
        for name, more in (
            ("Week", ""),
            ("From", ""),
            ("Sow", "in the nursery"),
            ("Move", "to the raft"),
            ("Cut", "by then"),
            ("The raft", ""),
            ("Sites", ""),
            ("Water", ""),
        )
    )
    for at, page in enumerate(pages):
        start = at * WEEKS_A_PAGE
        rows = "".join(_row(design, start + number, week) for number, week in enumerate(page, 1))
        note = _note(design)
        left = len(weeks) - len(shown)
        if at == len(pages) - 1 and left:
            note += f" {count(left)} weeks more are in the iCalendar file."
        body = (
            f'<table class="calendar"><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>'
            f'<div class="cal-foot">{KEY if _pictured(design) else ""}<p>{note}</p></div>'
        )
        made.append(
            leaf.leaf(
                "Sow, move, cut",
                facts,
                body,
                [
                    ("Plan", paper.name),
                    (f"Calendar {at + 1} of {len(pages)}", _weeks_said(start + 1, start + len(page))),
                    ("Hang it", "by the bath"),
                    ("Built by, date", ""),
                ],
                kind="from-top",
                first=not at,
            )
        )
    return "".join(made)


def _note(design: Design) -> str:
    said = []
    for row in (design.value("schedule.per_crop") or [])[:LINES]:
        said.append(
            f"{row['name']}: {count(row['nursery_days'])} days in the nursery, {count(row['raft_days'])} on the raft"
        )
    if not said:
        return "More seeds are sown than plants are moved: keep the even ones."
    work = waterwork.work_of(design)
    rounds = [work[code].summary.lower() for code in ("round", "strainer") if code in work]
    return (
        leaf.keep("; ".join(said)) + ". Late? Shift the whole row. More seeds are sown than plants are moved: keep the "
        f"even ones. Every {waterwork.ROUND_D} days: {', '.join(rounds)}. Every {work['meters'].every} days: "
        f"{work['meters'].summary.lower()}."
    )
