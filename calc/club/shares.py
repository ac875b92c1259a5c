"""Who brings and who pays what: shops given out so that everyone spends about alike, then what is owed, to the cent."""

from __future__ import annotations

from dataclasses import dataclass

from .record import Member


@dataclass(frozen=True)
class Share:
    """What a member's part of the cost is, and what he or she has paid in the shops, in hundredths."""

    member: Member
    part: int
    paid: int

    @property
    def balance(self) -> int:
        """What the member gets back, in hundredths; less than nothing is what is still to pay."""
        return self.paid - self.part


@dataclass(frozen=True)
class Transfer:
    """Somebody gives somebody so many hundredths."""

    giver: Member
    taker: Member
    amount: int


def parts(total: int, weights: list[int]) -> list[int]:
    """A sum of hundredths in whole hundredths by weight: all of it, each within one of its exact part.

    What is left over by rounding down goes to the largest remainders, of equal ones to the first.

    >>> parts(1000, [1, 1, 1])
    [334, 333, 333]
    """
    whole = sum(weights)
    if whole <= 0:
        return [0] * len(weights)
    found = [total * weight // whole for weight in weights]
    by_rest = sorted(range(len(weights)), key=lambda at: (-(total * weights[at] % whole), at))
    for at in by_rest[:total - sum(found)]:
        found[at] += 1
    return found


def given_out(costs: dict[str, int], members: tuple[Member, ...], chosen: dict[str, str]) -> dict[str, Member]:
    """Who goes to which shop, by shop: as chosen, and the rest so that everyone spends about alike.

    ``costs`` are hundredths by shop; the dearest shop is given first, to whoever has the least so far for each of his
    or her shares (of equals, to whoever has the fewest shops, then to the first). Who has no share is only sent where
    that was chosen, unless nobody has one.
    """
    known = {one.id: one for one in members}
    found = {shop: known[who] for shop, who in chosen.items() if shop in costs and who in known}
    payers = [one for one in members if one.shares] or list(members)
    if not payers:
        return found
    spent = {one.id: sum(costs[shop] for shop, who in found.items() if who == one) for one in payers}
    shops = {one.id: sum(who == one for who in found.values()) for one in payers}
    for shop in sorted((one for one in costs if one not in found), key=lambda one: -costs[one]):
        who = min(payers, key=lambda one: (spent[one.id] / max(one.shares, 1), shops[one.id]))
        found[shop] = who
        spent[who.id] += costs[shop]
        shops[who.id] += 1
    return found


def shares(costs: dict[str, int], members: tuple[Member, ...], buyers: dict[str, Member]) -> list[Share]:
    """Each member's part of all that the shops cost, and what he or she pays in them."""
    due = parts(sum(costs.values()), [one.shares for one in members])
    if not any(one.shares for one in members):
        due = parts(sum(costs.values()), [1] * len(members))
    return [Share(one, part, sum(cost for shop, cost in costs.items() if buyers.get(shop) == one))
            for one, part in zip(members, due, strict=True)]


def settled(found: list[Share]) -> list[Transfer]:
    """Who gives whom how much so that nobody owes anything: at most one transfer less than there are members.

    Whoever owes most gives to whoever is owed most, again and again.
    """
    left = {one.member: one.balance for one in found}
    made: list[Transfer] = []
    while True:
        giver = min(left, key=lambda one: left[one], default=None)
        taker = max(left, key=lambda one: left[one], default=None)
        if giver is None or taker is None or left[giver] >= 0 or left[taker] <= 0:
            return made
        amount = min(-left[giver], left[taker])
        made.append(Transfer(giver, taker, amount))
        left[giver] += amount
        left[taker] -= amount
