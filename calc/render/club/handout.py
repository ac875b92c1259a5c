"""The handout of a club: two printed pages, always two. What is too long for them is counted, never cut in silence."""

from __future__ import annotations

from datetime import date
from html import escape

from ...club.answer import names, weeks_of
from ...club.buying import Buying, Kind
from ...club.record import Club
from ...figures import count
from ...overview import figures, standings
from .. import miniature, signs, svg
from ..paper import cover, leaf, shop

# Heights in mm on a sheet of Letter, the shorter paper; and the size of letters.
ROOM, LINE, LETTER = 222.0, 5.5, 4.06
# Drawings at most, and how tall they may be by how many there are.
MOST_DRAWN, DRAWN_TALL = 3, {1: 46.0, 2: 36.0, 3: 25.0}
MOST_DANGERS_TALL, HALF = 100.0, 76.0
# A link of more letters makes a code too fine to be read off paper: the page draws none.
LONGEST_LINK = 420
# Room for names in the rota: who is on duty, who stands in.
ON_DUTY, STANDS_IN = 30.0, 25.0
MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split()
EVERYONE = ("Everyone brings: goggles, a dust mask, gloves, closed shoes, a tape measure, a pencil, a rag, water to "
            "drink. Hair tied back, no loose sleeves near a saw.")
ROUND = ("The daily round, five minutes a bath: every stone bubbles; the level stands over its mark; leaves and roots "
         "look firm; floor and cords are dry. Pull the plug before a hand goes into the water.")


def day(when: date, system: str) -> str:
    """A day of the year as a reader writes it: Mar 1, or 1 Mar."""
    month = MONTHS[when.month - 1]
    return f"{month} {when.day}" if system == "us" else f"{when.day} {month}"


def sheets(club: Club, found: Buying, links: dict[str, str], codes: dict[str, str]) -> str:
    """Both pages; ``links`` and ``codes`` by the baths' ids, where there are any."""
    return _first(club, found, links, codes) + _second(club, found)


def _facts(club: Club, found: Buying) -> list[str]:
    baths, members = found.baths, len(club.members)
    said = [f"{count(baths)} {'bath' if baths == 1 else 'baths'} for {count(members)} "
            f"{'member' if members == 1 else 'members'}"]
    return said + ([f"from {day(club.start, club.system)}, {club.start.year}"] if club.start else [])


def _clipped(text: str, room: float) -> str:
    """Text on one line of so many mm."""
    return svg.shorten(text, room, LETTER)


# --- what we build, what to bring ------------------------------------------------------------------------------------


def _first(club: Club, found: Buying, links: dict[str, str], codes: dict[str, str]) -> str:
    body = _build(found, links, codes) + _bring(club, found) + _who(club)
    return leaf.leaf(_clipped(club.title, 80), _facts(club, found), body, [
        ("Club", _clipped(club.title, 90)), ("Handout 1 of 2", "What we build, what to bring"), ("We meet at", ""),
        ("Questions to", "")], kind="handout from-top")


def _build(found: Buying, links: dict[str, str], codes: dict[str, str]) -> str:
    shown, more = found.kinds[:MOST_DRAWN], found.kinds[MOST_DRAWN:]
    drawn = [one for one in (miniature.draw(kind.design) for kind in shown) if one is not None]
    per_meter = min([52.0 / one.wide for one in drawn] + [DRAWN_TALL[len(shown)] / one.tall for one in drawn] + [30.0])
    rows = "".join(_kind(kind, per_meter, links.get(kind.bath.id, ""), codes.get(kind.bath.id, "")) for kind in shown)
    rest = ""
    if more:
        said = ", ".join(f"{count(one.bath.count)} × {one.bath.name}" for one in more)
        lines = svg.wrap(said, 165.0, LETTER)[:2]
        rest = f'<p class="said">Also: {escape(" ".join(lines))}{"" if " ".join(lines) == said else " …"}</p>'
    if not shown:
        rest = "<p>No baths are chosen yet.</p>"
    return leaf.block("What we build", f"{rows}{rest}", "drawings to one scale" if len(shown) > 1 else "", "builds")


def _kind(kind: Kind, per_meter: float, link: str, code: str) -> str:
    drawn = miniature.draw(kind.design)
    picture = ""
    if drawn is not None:
        wide, tall = drawn.wide * per_meter, drawn.tall * per_meter
        picture = drawn.svg.replace("<svg ", f'<svg width="{wide:.1f}mm" height="{tall:.1f}mm" ', 1)
    facts = "; ".join(f"{label.lower()} {shown}" for label, shown in figures(kind.design))
    said = " ".join(f'<span class="state {one.state}">{signs.sign(one.state)} {escape(one.words)}</span>'
                    for one in standings(kind.design)[:2])
    why = ("QR code: when the page has an address on the web" if not link else "QR code: not drawn yet"
           if len(link) <= LONGEST_LINK else "its link is too long for a QR code")
    beside = f'<div class="code">{code}</div>' if code else f'<p class="no-code">{why}</p>'
    name = f"{count(kind.bath.count)} × {_clipped(kind.bath.name, 70.0)}"
    each = " <small>each:</small>" if kind.bath.count > 1 else ""
    return (f'<div class="kind"><div class="drawn">{picture}</div><div class="words"><h4>{escape(name)}{each}</h4>'
            f"<p>{leaf.keep(facts)}</p><p>{said}</p></div>{beside}</div>")


def _bring(club: Club, found: Buying) -> str:
    known = names(club)
    rows = ""
    for name in shop.SHOPS:
        lines = [line for line in found.lines if line.shop == name and line.missing > 1e-9]
        if not lines:
            continue
        cost = found.shown(found.costs[name]) if found.costs.get(name) else "–"
        who = _clipped(known.get(found.buyers.get(name, ""), "nobody yet"), 40.0)
        rows += (f'<tr><td class="tick"><span class="tick-box"></span></td><td>{escape(name)}</td>'
                 f'<td class="n">{count(len(lines))}</td><td class="n">{escape(cost)}</td><td><b>{escape(who)}</b></td>'
                 "</tr>")
    table = ('<table class="brings"><thead><tr><th colspan="2" scope="col">From</th><th scope="col" class="n">Lines'
             '</th><th scope="col" class="n">About</th><th scope="col">Who brings it</th></tr></thead>'
             f"<tbody>{rows}</tbody></table>" if rows else "")
    return leaf.block("What to bring", f'{table}<p class="said">{leaf.keep(EVERYONE)}</p>{_money(club, found)}',
                      "the lines are on the shopping list")


def _who(club: Club) -> str:
    """The members' names, as many as stand on two lines; the rest is counted."""
    all_names = [one.name for one in club.members]
    shown = list(all_names)
    while shown and len(svg.wrap(", ".join(shown) + " and 60 more.", 160.0, LETTER)) > 2:
        shown.pop()
    left = len(all_names) - len(shown)
    said = ", ".join(shown) + (f" and {count(left)} more" if left else "")
    return leaf.block("Who builds", f"<p>{escape(said)}.</p>") if shown else ""


def _money(club: Club, found: Buying) -> str:
    if not club.members or not found.total:
        return ""
    equal = len({one.shares for one in club.members}) == 1
    what = (f"A share of the cost is {found.shown(found.total / len(club.members))}" if equal
            else "Shares of the cost differ and stand on the club’s page")
    left = f"; {count(found.unpriced)} lines have no price yet" if found.unpriced else ""
    return f'<p class="said">{leaf.keep(f"{what}{left}.")}</p>'


# --- dangers and rounds ----------------------------------------------------------------------------------------------


def dangers(found: Buying, whole: bool) -> list[tuple[str, str]]:
    """(lead, words) of every danger of all plans, those that a plan brings about itself first, each said once; in the
    ``whole`` of its words, or in brief."""
    own: dict[tuple[str, str], list[str]] = {}
    standing: dict[str, str] = {}
    for kind in found.kinds:
        for one in kind.design.cautions:
            if one.level != "danger":
                continue
            lead, words = one.lead.rstrip("."), cover.without_lead(one.text) if whole else one.brief
            if one.standing:
                # The same matter with other numbers is told once.
                standing.setdefault(lead, words)
            else:
                own.setdefault((lead, words), []).append(kind.bath.name)
    several = len(found.kinds) > 1
    told = [(f"{lead} ({_clipped(', '.join(names), 60.0)})" if several else lead, words)
            for (lead, words), names in own.items()]
    return told + list(standing.items())


def _tall(lead: str, words: str) -> float:
    return len(svg.wrap(f"{lead}. {words}", HALF, LETTER)) * LINE + 1.2


def _in_columns(found: list[tuple[str, str]]) -> tuple[int, float]:
    """After how many of them the first of two columns ends, and how tall the taller one is."""
    talls = [_tall(*one) for one in found]
    cut = min(range(len(found) + 1), key=lambda at: max(sum(talls[:at]), sum(talls[at:])))
    return cut, max(sum(talls[:cut]), sum(talls[cut:]))


def _dangers(found: Buying) -> tuple[str, float]:
    """The block of dangers and how tall it is: in full where there is room, else in brief, and those left counted."""
    told = dangers(found, True)
    if _in_columns(told)[1] > MOST_DANGERS_TALL:
        told = dangers(found, False)
    every = len(told)
    while _in_columns(told)[1] > MOST_DANGERS_TALL:
        told = told[:-1]
    cut, tall = _in_columns(told)
    columns = "".join("<div>" + "".join(
        f'<p class="hurt">{signs.sign("danger")}<span><strong class="danger">{escape(lead)}.</strong> '
        f"{leaf.keep(words)}</span></p>" for lead, words in part) + "</div>" for part in (told[:cut], told[cut:]))
    left = every - len(told)
    more = f" {count(left)} more are on the build sheets: read them before you begin." if left else ""
    below = ("All of it is on the build sheet of each plan and on the page Safety. Local codes, a licensed electrician "
             f"and a structural engineer outrank anything said here.{more}")
    return (leaf.block("What can hurt", f'<div class="cols two top ruled">{columns}</div><p>{leaf.keep(below)}</p>', "",
                       "dangers"), tall + 9.0 + LINE * len(svg.wrap(below, 172.0, LETTER)))


def _rounds(club: Club, room: float) -> str:
    """The rota, as many weeks as there is room for in two columns; the rest is counted."""
    weeks, known = weeks_of(club), names(club)
    if not weeks:
        return leaf.block("Who does the rounds", "<p>The rota comes with members and a first day.</p>")
    rows = []
    for one in weeks:
        who = ", ".join(known[name] for name in one.on_duty)
        stand = f"or {known[one.stand_in]}" if one.stand_in else ""
        lines = max(len(svg.wrap(who, ON_DUTY, LETTER)), len(svg.wrap(stand, STANDS_IN, LETTER)), 1)
        rows.append((lines * LINE + 1.6, f'<tr><td class="tick"><span class="tick-box"></span></td>'
                     f'<td>{leaf.keep(day(one.first, club.system))}</td><td><b>{escape(who)}</b></td>'
                     f"<td>{escape(stand)}</td></tr>"))
    half = (len(rows) + 1) // 2
    talls = [tall for tall, _ in rows]
    while half and max(sum(talls[:half]), sum(talls[half:2 * half])) > room - 32.0:
        half -= 1
    shown = rows[:2 * half]
    tables = "".join(f'<table class="turns"><tbody>{"".join(row for _, row in part)}</tbody></table>'
                     for part in (shown[:half], shown[half:]) if part)
    left = len(rows) - len(shown)
    more = f" The other {count(left)} weeks stand on the club’s page." if left else ""
    return leaf.block("Who does the rounds", f'<div class="cols two top">{tables}</div><p class="said">'
                      f"{leaf.keep(ROUND + more)}</p>", "weeks by their first day; behind, who stands in", "rounds")


def _second(club: Club, found: Buying) -> str:
    block, tall = _dangers(found)
    return leaf.leaf("Dangers, and the rounds", _facts(club, found), block + _rounds(club, ROOM - tall - 8.0), [
        ("Club", _clipped(club.title, 90)), ("Handout 2 of 2", "Dangers and rounds"),
        ("Doctor, fire service", ""), ("Who has the key", "")], kind="handout from-top")
