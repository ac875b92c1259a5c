"""One shopping list for all baths of a club: what each plan asks for, summed, and only then rounded to packs."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from .. import currencies, units
from ..errors import UnreadableQuantity
from ..plan import Plan
from ..render.paper import shop
from ..solve import Design, solve
from ..switching import switched
from .record import Bath, Club, sentence
from .shares import Share, Transfer, given_out, settled, shares

COPIES, CURRENCY = "parts.copies", "energy.currency"
# What a club needs once, however many baths it builds: one is handed on.
TOOLS = ("Hole saw", "pH meter", "EC meter", "Scale", "Measuring jug", "Pool strips")
# One for each who builds, not for each bath.
WORN = "Goggles, dust mask, gloves"
MOST_KEPT = 40


@dataclass(frozen=True)
class Kind:
    """Baths alike, worked out: ``design`` is the plan in the club's units, for all its copies."""

    bath: Bath
    design: Design

    @property
    def baths(self) -> int:
        """How many baths there are of it: a plan may hold several."""
        return self.bath.count * int(self.design.value("bath.count") or 1)


@dataclass(frozen=True)
class Buying:
    """All that a club buys. Money is in hundredths of ``money``, the currency; ``faults`` as those of a club."""

    kinds: tuple[Kind, ...]
    lines: tuple[shop.Line, ...]
    money: str
    costs: dict[str, int]
    extra: int
    buyers: dict[str, str]
    shares: tuple[Share, ...]
    transfers: tuple[Transfer, ...]
    faults: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def baths(self) -> int:
        """How many baths in all."""
        return sum(one.baths for one in self.kinds)

    @property
    def priced(self) -> int:
        """What all priced lines cost, without tax and postage."""
        return sum(round((line.price or 0.0) * 100) for line in self.lines)

    @property
    def total(self) -> int:
        """The same with tax and postage."""
        return self.priced + self.extra

    @property
    def unpriced(self) -> int:
        """How many lines that are to be bought have no price."""
        return sum(line.price is None and line.missing > 1e-9 for line in self.lines)

    def shown(self, hundredths: float) -> str:
        """An amount in the club's currency."""
        return currencies.amount(hundredths / 100, self.money, 2)


@lru_cache(maxsize=MOST_KEPT)
def worked_out(answers: tuple[tuple[str, str], ...], system: str, copies: int) -> Design:
    """A plan in a club's units, for so many copies."""
    plan = Plan.from_mapping(dict(answers))
    text = plan.text if plan.system == system else switched(plan, system, solve)
    return solve(Plan({**text, "units": system, COPIES: str(copies)}))


def key_of(line: shop.Line) -> str:
    """By what a line's price is remembered."""
    return f"{line.thing}|{line.detail}"[:300]


def _once(line: shop.Line, need: float) -> shop.Line:
    """A line of which so many are enough, at the price of so many."""
    if need >= line.need:
        return line
    owned = min(line.owned, need)
    price = line.price
    if price is not None and line.missing > 0:
        price = price / line.missing * max(need - owned, 0.0)
    return replace(line, need=need, owned=owned, price=price)


def _for_the_club(line: shop.Line, club: Club) -> shop.Line:
    if line.thing == WORN:
        return replace(line, need=float(max(len(club.members), 1)))
    return _once(line, 1.0) if club.shared_tools and line.thing in TOOLS else line


def _amount(text: str, system: str) -> int:
    """Money as typed, in hundredths; raises UnreadableQuantity."""
    value = units.parse(text, "money", system)
    if value < 0:
        raise UnreadableQuantity("must not be less than 0")
    if value > 1e7:
        raise UnreadableQuantity("must be 10,000,000 at most")
    return round(value * 100)


def _lines(club: Club, kinds: tuple[Kind, ...], money: str) -> tuple[list[shop.Line], list[str]]:
    """What all kinds ask for, summed; prices in another currency than the club's are left out, and that is told."""
    lists, told = [], []
    for kind in kinds:
        found = shop.lines(kind.design)
        own = str(kind.design.value(CURRENCY) or "")
        if own != money and any(line.price for line in found):
            told.append(f"Prices of “{kind.bath.name}” are in {own}, those of the club in {money}: they are not in "
                        "the sum.")
            found = [replace(line, price=None) for line in found]
        lists.append(found)
    return [_for_the_club(line, club) for line in shop.merged(lists)], told


def _typed_prices(club: Club, lines: list[shop.Line]) -> tuple[list[shop.Line], list[tuple[str, str]]]:
    """The lines with the prices typed for them."""
    prices, faults, made = dict(club.prices), [], []
    for line in lines:
        text = prices.get(key_of(line), "")
        if text and line.missing > 1e-9:
            try:
                made.append(replace(line, price=_amount(text, club.system) / 100))
                continue
            except UnreadableQuantity as error:
                faults.append((f"prices.{key_of(line)}", sentence(f"Price of {line.thing}", error, text)))
                made.append(replace(line, price=None))
                continue
        made.append(line)
    return made, faults


def buying(club: Club) -> Buying:
    """All that a club buys, who brings it, and who owes whom how much."""
    kinds = tuple(Kind(bath, worked_out(bath.answers, club.system, bath.count)) for bath in club.baths)
    money = str(kinds[0].design.value(CURRENCY) or "") if kinds else ""
    summed, notes = _lines(club, kinds, money)
    lines, faults = _typed_prices(club, summed)
    extra = 0
    if club.extra:
        try:
            extra = _amount(club.extra, club.system)
        except UnreadableQuantity as error:
            faults.append(("extra", sentence("Tax and postage", error, club.extra)))
    costs: dict[str, int] = {}
    for line in lines:
        if line.missing > 1e-9:
            costs[line.shop] = costs.get(line.shop, 0) + round((line.price or 0.0) * 100)
    if extra and costs:
        # It is paid where most is paid.
        costs[max(costs, key=lambda one: costs[one])] += extra
    who = given_out(costs, club.members, dict(club.buyers))
    found = shares(costs, club.members, who)
    return Buying(kinds, tuple(lines), money, costs, extra, {name: one.id for name, one in who.items()}, tuple(found),
                  tuple(settled(found)), tuple(faults), tuple(notes))
