"""What a club comes to, as plain data: for scripts, and for the page."""

from __future__ import annotations

from typing import Any

from ..figures import count
from ..overview import figures
from ..render.paper import shop
from .buying import Buying, buying, key_of
from .record import Club, first_day, read
from .rota import Week, rota

Json = dict[str, Any]


def weeks_of(club: Club) -> list[Week]:
    """The rota of a club, by the members' ids; none without members or a first day."""
    if club.start is None:
        return []
    return rota(tuple(one.id for one in club.members), club.start, club.weeks, club.on_duty)


def names(club: Club) -> dict[str, str]:
    """The members' names by their ids."""
    return {one.id: one.name for one in club.members}


def verdict(club: Club, found: Buying) -> tuple[str, str, str]:
    """(state, lead, sentence): whether the club's sums are whole, and what they come to."""
    lacking = [words for words, there in (("members", club.members), ("baths", found.kinds), (
        "the first day of the rota", club.start)) if not there]
    if lacking:
        return "open", "The club needs answers.", f"Still open: {', '.join(lacking)}."
    many, members = found.baths, len(club.members)
    said = (f"{count(many)} {'bath' if many == 1 else 'baths'} for {count(members)} "
            f"{'member' if members == 1 else 'members'}: {found.shown(found.total)} in all, "
            f"{found.shown(found.total / many)} a bath, {found.shown(found.total / members)} a member.")
    if club.faults or found.faults:
        return "open", "Something cannot be read.", f"{said} Not counted is what is told below."
    if found.unpriced:
        lines = "1 line has" if found.unpriced == 1 else f"{count(found.unpriced)} lines have"
        return "open", "Priced in part.", f"{said} {lines} no price yet."
    return "fits", "All priced.", said


def as_json(given: object) -> Json:
    """All that a club comes to, from plain data; numbers of money are in the currency itself, not in hundredths."""
    club = read(given)
    found = buying(club)
    state, lead, words = verdict(club, found)
    known = names(club)
    return {
        "name": club.title, "units": club.system, "currency": found.money,
        "verdict": {"state": state, "lead": lead, "text": words},
        "faults": dict([*club.faults, *found.faults]), "notes": [*club.notes, *found.notes],
        "baths": [{"id": one.bath.id, "name": one.bath.name, "count": one.bath.count, "baths": one.baths,
                   "figures": dict(figures(one.design))} for one in found.kinds],
        "list": [_line(line, club, found) for line in found.lines],
        "cost": {"priced": found.priced / 100, "tax_and_postage": found.extra / 100, "total": found.total / 100,
                 "a_bath": round(found.total / 100 / found.baths, 2) if found.baths else None,
                 "a_member": round(found.total / 100 / len(club.members), 2) if club.members else None,
                 "lines_without_price": found.unpriced},
        "shops": [{"shop": name, "who": known.get(found.buyers.get(name, ""), ""), "cost": cost / 100}
                  for name, cost in found.costs.items()],
        "shares": [{"member": one.member.name, "part": one.part / 100, "pays_in_shops": one.paid / 100,
                    "balance": one.balance / 100} for one in found.shares],
        "transfers": [{"from": one.giver.name, "to": one.taker.name, "amount": one.amount / 100}
                      for one in found.transfers],
        "start": first_day(club),
        "rota": [{"week": one.number, "from": one.first.isoformat(), "to": one.last.isoformat(),
                  "on_duty": [known[who] for who in one.on_duty], "stand_in": known.get(one.stand_in, "")}
                 for one in weeks_of(club)],
    }


def _line(line: shop.Line, club: Club, found: Buying) -> Json:
    packs, size = shop.pack_of(line, club.system)
    return {"shop": line.shop, "thing": line.thing, "detail": line.detail, "key": key_of(line), "kind": line.kind,
            "need": line.need, "owned": line.owned, "packs": packs, "pack": size,
            "needed": shop.amount(line.need, line.kind, club.system), "buy": shop.to_buy(line, club.system),
            "price": line.price, "who": names(club).get(found.buyers.get(line.shop, ""), "")}
