"""The page of a club in HTML: what it comes to, the shared list, shares, rota and handout; one renderer for all."""

from __future__ import annotations

from html import escape
from typing import Any

from ...club.answer import Json, names, verdict, weeks_of
from ...club.buying import TOOLS, Buying, buying, key_of
from ...club.record import Club, read
from ...figures import count
from ...overview import figures, standings
from ...solve import Design
from .. import miniature, signs
from ..paper import leaf, shop
from . import handout

# The widest drawing on the page, in pixels; all of them are drawn to one scale.
WIDEST = 210.0


def parts(given: object, links: dict[str, str] | None = None, codes: dict[str, str] | None = None) -> Json:
    """The pieces of the page by name, from a club as plain data; ``links`` and ``codes`` are those of its baths by id.

    Whatever was typed stands in them as text.
    """
    club = read(given)
    found = buying(club)
    return {"verdict": _verdict(club, found), "kinds": _kinds(found), "sums": _sums(club, found),
            "list": _list(club, found), "shares": _shares(club, found), "rota": _rota(club),
            "list_said": _list_said(found), "shares_said": _shares_said(found), "rota_said": _rota_said(club),
            "handout": handout.sheets(club, found, links or {}, codes or {}),
            "faults": dict([*club.faults, *found.faults])}


def _verdict(club: Club, found: Buying) -> str:
    state, lead, words = verdict(club, found)
    told = [sentence for _, sentence in (*club.faults, *found.faults)] + [*club.notes, *found.notes]
    listed = "".join(f"<li>{escape(one)}</li>" for one in told)
    return (f'<div class="verdict" data-state="{state}">{signs.sign(state)}<div><p><span class="visually-hidden">'
            f'{signs.SPOKEN[state]}: </span><strong class="{state}">{escape(lead)}</strong> {escape(words)}</p>'
            f"{f'<ul>{listed}</ul>' if listed else ''}</div></div>")


def small(design: Design, across: float, unit: str, per_meter: float) -> str:
    """The small drawing of a plan at a scale, no wider than ``across``."""
    drawn = miniature.draw(design)
    if drawn is None:
        return ""
    wide = min(drawn.wide * per_meter, across)
    tall = drawn.tall * wide / drawn.wide
    return drawn.svg.replace("<svg ", f'<svg width="{wide:.1f}{unit}" height="{tall:.1f}{unit}" ', 1)


def scale(designs: list[Design], across: float, high: float) -> float:
    """So many pixels or millimeters to the meter that the longest and the highest drawing have room."""
    drawn = [one for one in map(miniature.draw, designs) if one is not None]
    return min([across / one.wide for one in drawn] + [high / one.tall for one in drawn] + [200.0])


def _kinds(found: Buying) -> str:
    per_meter = scale([one.design for one in found.kinds], WIDEST, 150.0)
    rows = ""
    for kind in found.kinds:
        facts = "".join(f"<div><dt>{label}</dt><dd>{escape(shown)}</dd></div>" for label, shown in figures(kind.design))
        said = "".join(f'<span class="word {one.state}">{signs.sign(one.state)}<span>{escape(one.words)}</span></span>'
                       for one in standings(kind.design))
        rows += (f'<li data-kind="{escape(kind.bath.id)}"><div class="miniature">'
                 f"{small(kind.design, WIDEST, 'px', per_meter)}</div>"
                 f'<div class="about"><h3>{escape(kind.bath.name)}</h3><p>{_times(kind.bath.count, kind.baths)}</p>'
                 f'<p class="standings">{said}</p></div><dl class="glance">{facts}</dl></li>')
    return f'<ul class="kinds">{rows}</ul>' if rows else '<p class="none">No baths yet: add one above.</p>'


def _times(many: int, baths: int) -> str:
    said = "built once" if many == 1 else f"built {count(many)} times"
    return said if baths == many else f"{said}, {count(baths)} baths in all"


def _sums(club: Club, found: Buying) -> str:
    members = len(club.members)
    rows = [("Baths", count(found.baths), "in all"), ("All of it", found.shown(found.total), "with tax and postage")]
    if found.baths:
        rows.append(("A bath", found.shown(found.total / found.baths), f"of {count(found.baths)}"))
    if members:
        rows.append(("A member", found.shown(found.total / members), f"of {count(members)}, before shares"))
    cells = "".join(f'<div class="key"><dt>{label}</dt><dd><b>{escape(shown)}</b><small>{escape(note)}</small></dd>'
                    "</div>" for label, shown, note in rows)
    return f'<dl class="club-sums">{cells}</dl>'


def _options(club: Club, chosen: str) -> str:
    options = "".join(f'<option value="{escape(one.id)}"{" selected" if one.id == chosen else ""}>{escape(one.name)}'
                      "</option>" for one in club.members)
    return options or '<option value="">nobody yet</option>'


def _list(club: Club, found: Buying) -> str:
    if not found.lines:
        return '<p class="none">The list begins with the first bath.</p>'
    money = f", {escape(found.money)}" if found.money else ""
    body = ""
    for at, name in enumerate(shop.SHOPS):
        lines = [line for line in found.lines if line.shop == name]
        if not lines:
            continue
        who = ""
        if name in found.costs:
            who = (f'<label class="goes">goes there: <select data-buyer="{escape(name)}" id="buyer-{at}">'
                   f"{_options(club, found.buyers.get(name, ''))}</select></label>")
        rows = "".join(_row(line, club, found) for line in lines)
        body += (f'<tbody><tr class="shop"><th colspan="4" scope="rowgroup"><span>{escape(name)}</span>{who}</th></tr>'
                 f"{rows}</tbody>")
    return ('<table class="club-list"><thead><tr><th scope="col">Thing, and size as sold</th><th scope="col" class="n">'
            f'For all</th><th scope="col" class="n">Buy</th><th scope="col" class="n">Price{money}</th></tr></thead>'
            f"{body}</table>{_below(club, found)}")


def _many(number: int, one: str, more: str = "") -> str:
    return f"{count(number)} {one if number == 1 else more or one + 's'}"


def _list_said(found: Buying) -> str:
    """What the list comes to, for those who keep it folded."""
    if not found.lines:
        return "nothing yet"
    shops = len({line.shop for line in found.lines})
    open_ = f"; {count(found.unpriced)} without a price" if found.unpriced else ""
    return escape(f"{_many(len(found.lines), 'line')} from {_many(shops, 'shop')}, {found.shown(found.total)}{open_}")


def _shares_said(found: Buying) -> str:
    if not found.shares or not found.costs:
        return "nothing yet"
    moves = f"; {_many(len(found.transfers), 'payment')} make it even" if found.transfers else "; nobody owes anything"
    parts = sorted({one.part for one in found.shares})
    each = (f"{found.shown(parts[-1])} each" if parts[-1] - parts[0] <= 1
            else f"{found.shown(parts[0])} to {found.shown(parts[-1])}")
    return escape(each + moves.replace("1 payment make", "1 payment makes"))


def _rota_said(club: Club) -> str:
    weeks = weeks_of(club)
    if not weeks:
        return "nothing yet"
    return escape(f"{_many(len(weeks), 'week')}, {handout.day(weeks[0].first, club.system)} to "
                  f"{handout.day(weeks[-1].last, club.system)}; first: "
                  f"{', '.join(names(club)[who] for who in weeks[0].on_duty)}")


def _row(line: shop.Line, club: Club, found: Buying) -> str:
    have = line.missing <= 1e-9
    key = key_of(line)
    text = dict(club.prices).get(key, "")
    guess = "" if line.price is None else f"{line.price:.2f}"
    name = f"{line.thing}, {line.detail}" if line.detail else line.thing
    once = "<small>; one for the club</small>" if club.shared_tools and line.thing in TOOLS and found.baths > 1 else ""
    box = (f'<input type="text" inputmode="decimal" maxlength="20" autocomplete="off" data-price="{escape(key)}" '
           f'value="{escape(text or guess)}" aria-label="Price of all: {escape(name)}">')
    return (f"<tr><td>{escape(line.thing)} <small>{escape(line.detail)}</small>{once}</td>"
            f'<td class="n">{escape(shop.amount(line.need, line.kind, club.system))}</td>'
            f'<td class="n"><b>{escape(shop.to_buy(line, club.system))}</b></td><td class="n">{"–" if have else box}'
            "</td></tr>")


def _below(club: Club, found: Buying) -> str:
    tools = ("Hole saws, meters and scale are counted once, to be handed on." if club.shared_tools
             else "Each bath has its own hole saw, meters and scale.")
    left = f" Lines without a price ({count(found.unpriced)}) are not in the sum." if found.unpriced else ""
    return (f'<p class="below">Quantities are summed over all baths, then rounded to packs. {tools} Foam sheets are '
            f"counted for each bath by itself. Pack sizes are common ones; your shop’s may differ.{left}</p>")


def _shares(club: Club, found: Buying) -> str:
    if not club.members or not found.costs:
        return '<p class="none">Shares come with members and baths.</p>'
    rows = ""
    for one in found.shares:
        shops = ", ".join(name for name in shop.SHOPS if found.buyers.get(name) == one.member.id) or "no shop"
        back = ("even" if not one.balance else f"gets {found.shown(one.balance)}" if one.balance > 0
                else f"pays {found.shown(-one.balance)}")
        rows += (f'<tr><th scope="row">{escape(one.member.name)}</th><td>{escape(shops)}</td>'
                 f'<td class="n">{escape(found.shown(one.paid))}</td><td class="n">{escape(found.shown(one.part))}</td>'
                 f'<td class="n"><b>{escape(back)}</b></td></tr>')
    moves = "".join(f"<li>{escape(one.giver.name)} gives {escape(one.taker.name)} <b>{escape(found.shown(one.amount))}"
                    "</b>.</li>" for one in found.transfers)
    said = f'<p class="below">Then nobody owes anything:</p><ul class="transfers">{moves}</ul>' if moves else ""
    return ('<table class="club-shares"><thead><tr><th scope="col">Member</th><th scope="col">Brings, from</th>'
            '<th scope="col" class="n">Pays there</th><th scope="col" class="n">Share</th><th scope="col" class="n">'
            f"In the end</th></tr></thead><tbody>{rows}</tbody></table>{said}")


def _rota(club: Club) -> str:
    known = names(club)
    rows = "".join(f'<tr><th scope="row">{one.number}</th><td>{leaf.keep(days(one.first, one.last, club.system))}</td>'
                   f'<td><b>{escape(", ".join(known[who] for who in one.on_duty))}</b></td>'
                   f'<td>{escape(known.get(one.stand_in, "–"))}</td></tr>' for one in weeks_of(club))
    if not rows:
        return '<p class="none">The rota comes with members and a first day.</p>'
    return ('<table class="club-rota"><thead><tr><th scope="col">Week</th><th scope="col">Days</th><th scope="col">On '
            f'duty</th><th scope="col">Stands in</th></tr></thead><tbody>{rows}</tbody></table>')


def days(first: Any, last: Any, system: str) -> str:
    """Two days as a reader writes them: Mar 1 to Mar 7, or 1 Mar to 7 Mar."""
    return f"{handout.day(first, system)} to {handout.day(last, system)}"
