"""The shopping list as sheets of paper: shop by shop, boxes to tick, a line for each price, the sum at the end."""

from __future__ import annotations

from html import escape

from ...figures import count
from ...solve import Design
from .. import svg
from . import leaf, shop

# Heights in mm on a sheet of Letter, the shorter paper.
ROW, SECOND, HEAD, ROOM, TOTALS = 5.02, 4.2, 6.75, 226.0, 20.0
# Room in mm for the words of a line, and the size they are lettered in.
WORDS, LETTER = 98.0, 3.53

# The shops of one sheet, each with its lines.
Sheet = list[tuple[str, list[shop.Line]]]


def _lines_of(line: shop.Line) -> int:
    words = f"{line.thing}  {line.detail}"
    return max(len(svg.wrap(words, WORDS * 1.06, LETTER)), 1)


def _tall(line: shop.Line) -> float:
    return ROW + SECOND * (_lines_of(line) - 1)


def _groups(lines: list[shop.Line]) -> Sheet:
    return [(name, found) for name in shop.SHOPS if (found := [line for line in lines if line.shop == name])]


def _pages(groups: Sheet) -> list[Sheet]:
    """The shops by sheet: a shop is parted only where it is longer than a sheet; the totals stand with the last."""
    pages: list[Sheet] = [[]]
    left = ROOM
    for name, lines in groups:
        tall = HEAD + sum(map(_tall, lines))
        if tall > left and pages[-1] and tall <= ROOM:
            pages.append([])
            left = ROOM
        part: list[shop.Line] = []
        left -= HEAD
        for line in lines:
            if _tall(line) > left:
                pages[-1].append((name, part))
                pages.append([])
                part, left = [], ROOM - HEAD
            part.append(line)
            left -= _tall(line)
        pages[-1].append((name, part))
    if left < TOTALS:
        # The last shop goes with the sum, so that no sheet holds a sum alone.
        last = pages[-1].pop()
        pages = [page for page in pages if page] + [[last]]
    return _even(pages) if len(pages) == 2 else pages


def _even(pages: list[Sheet]) -> list[Sheet]:
    """Two sheets parted between shops so that the fuller one is as short as it can be."""
    groups = [group for page in pages for group in page]
    if len({name for name, _ in groups}) < len(groups):
        return pages
    tall = [HEAD + sum(map(_tall, lines)) for _, lines in groups]
    cut = min(range(1, len(groups)), key=lambda at: max(sum(tall[:at]), sum(tall[at:]) + TOTALS))
    return [groups[:cut], groups[cut:]]


def _row(at: int, line: shop.Line, design: Design) -> str:
    have = shop.pack_of(line, design.system)[0] == 0
    name = f"{line.thing}, {line.detail}" if line.detail else line.thing
    price = "" if line.price is None else f"{line.price:.2f}"
    some = f"; you own {shop.amount(line.owned, line.kind, design.system)}" if line.owned and not have else ""
    box = f'<input type="checkbox" aria-label="{escape(line.thing)}"{" checked" if have else ""}>'
    cell = "–" if have else (f'<input type="text" inputmode="decimal" maxlength="14" data-price value="{price}" '
                             f'autocomplete="off" aria-label="Price of {escape(name)}">')
    kind = ' class="have"' if have else ""
    return (f'<tr{kind}><td class="tick">{box}</td>'
            f'<td>{leaf.keep(line.thing)} <small>{leaf.keep(line.detail + some)}</small></td>'
            f'<td class="n">{leaf.keep(shop.amount(line.need, line.kind, design.system))}</td>'
            f'<td class="n"><b>{leaf.keep(shop.to_buy(line, design.system))}</b></td>'
            f'<td class="price">{cell}</td></tr>')


def _totals(paper: leaf.Paper, lines: list[shop.Line]) -> str:
    design = paper.design
    copies = int(design.value("parts.copies") or 1) * int(design.value("bath.count") or 1)
    cost = sum(line.price or 0.0 for line in lines)
    each = f'<tr><th scope="row">A bath, of {count(copies)}</th><td data-each>{design.money(cost / copies)}</td></tr>'
    whose = ('<label>A member, of <input type="text" inputmode="numeric" maxlength="4" class="few" data-members '
             'autocomplete="off"></label>')
    each += f'<tr><th scope="row">{whose}</th><td data-member></td></tr>'
    # On paper the lines without a price are filled in by hand, so that this sum is not yet what is paid.
    total = "Total" if all(line.price is not None for line in lines) else "Total so far"
    box = ('<input type="text" inputmode="decimal" maxlength="14" data-extra autocomplete="off" '
           'aria-label="Tax and postage">')
    return (f'<table class="totals" data-baths="{copies}"><tr><th scope="row">All priced lines</th>'
            f'<td data-sum>{design.money(cost)}</td></tr><tr><th scope="row">Tax, postage</th><td>{box}</td></tr>'
            f'<tr><th scope="row">{total}</th><td data-total>{design.money(cost)}</td></tr>'
            f"{each if copies > 1 else ''}</table>")


def _facts(design: Design, lines: list[shop.Line]) -> list[str]:
    baths, copies = int(design.value("bath.count") or 1), int(design.value("parts.copies") or 1)
    whom = ("one bath" if baths * copies == 1 else f"{count(copies)} copies of {count(baths)} baths" if min(
        baths, copies) > 1 else f"{count(max(baths, copies))} baths")
    owned = sum(shop.pack_of(line, design.system)[0] == 0 for line in lines)
    priced = [line.price for line in lines if line.price is not None]
    said = f"{count(owned)} owned, " if owned else ""
    some = f"{count(len(priced))} priced: {design.money(sum(priced))}" if priced else "none priced yet"
    return [f"{count(len(lines))} lines for {whom}", said + some]


def sheets(paper: leaf.Paper) -> str:
    """The whole list."""
    design = paper.design
    lines = shop.lines(design)
    pages = _pages(_groups(lines))
    made, at = [], 0
    money = str(design.value("energy.money") or "")
    for number, page in enumerate(pages, 1):
        body = ('<table class="list"><thead><tr><th colspan="2" scope="col">Thing, and size as sold</th>'
                '<th scope="col" class="n">You need</th><th scope="col" class="n">Buy</th>'
                f'<th scope="col" class="n">Price{f", {escape(money)}" if money else ""}</th></tr></thead>')
        for name, found in page:
            rows = ""
            for line in found:
                rows += _row(at, line, design)
                at += 1
            body += (f'<tbody><tr class="shop"><th colspan="5" scope="rowgroup">{escape(name)}</th></tr>{rows}</tbody>')
        body += "</table>"
        if number == len(pages):
            note = ("A cross means owned. Take the bulkhead to the pipe, and the net pot to the hole saw: fit them in "
                    "the shop. Pack sizes are common ones; your shop’s may differ."
                    + (" Prices marked invented are examples: type your own." if any(
                        "invented" in line.detail for line in lines) else ""))
            body += f'<div class="sum"><p>{note}</p>{_totals(paper, lines)}</div>'
        made.append(leaf.leaf("Shopping list", _facts(design, lines), body, [
            ("Plan", paper.name), (f"List {number} of {len(pages)}", "Shopping list"),
            ("Prices", f"in {money}" if money else "as typed"), ("Shopped by, date", "")], kind="shopping",
            first=number == 1))
    return "".join(made)
