"""What the reader has of their own comes first: example rows step back, and what is named and bought is real.

An invented example cannot be bought, so it is called by what it does: flow against a head or a pressure.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ..data.pumps import AIR_PUMPS, WATER_PUMPS
from ..declare import Row
from ..errors import Unanswered

if TYPE_CHECKING:
    from ..sheet import Sheet


# Nobody sells these, also where the reader has put other figures behind one of the names.
INVENTED = frozenset(row["name"] for row in (*AIR_PUMPS, *WATER_PUMPS))


def is_named(row: Row) -> bool:
    """Whether a pump has a name by which it can be bought or found in a cupboard."""
    return not row["example"] and row["name"] not in INVENTED


def in_play(rows: list[Row]) -> list[Row]:
    """The rows that count: no example takes part once the reader has put in one."""
    own = [row for row in rows if not row["example"]]
    return own or rows


def called(row: Row, otherwise: str) -> str:
    """A pump in a sentence: by the name that the reader gave it, and an invented one by other words."""
    return str(row["name"]) if is_named(row) else otherwise


def names(rows: Sequence[Row]) -> str:
    """Several pumps in a sentence: those of the reader by name, the examples by their number."""
    own = [row["name"] for row in rows if is_named(row)]
    count = len(rows) - len(own)
    return ", ".join([*own, *([f"{count} of the invented examples"] if count else [])])


def running(sheet: Sheet) -> Row:
    """The water pump that runs, among those whose flow is known; raises Unanswered where none could be chosen."""
    row = next((row for row in sheet.result_rows("circulation.pump_flows") if row.get("runs")), None)
    if row is None:
        raise Unanswered("circulation.pump_name")
    return row


def water_duty(sheet: Sheet, row: Row) -> str:
    """What to ask of a water pump in a shop: its flow at the head it works against here."""
    return f"{sheet.shown_as('circulation.flow', row['flow'])} at {sheet.shown_as('circulation.head', row['head'])}"


def air_duty(sheet: Sheet, row: Row) -> str:
    """What to ask of an air pump in a shop: its flow against the pressure of depth, stone and hose."""
    return (f"{sheet.shown_as('air.delivered', row['delivered'])} against "
            f"{sheet.show(row['pressure'], 'pressure', 'psi', 'kPa')}")


def air_pumps(sheet: Sheet, count: int, row: Row) -> str:
    """Air pumps of one sort, as one asks for them: by the reader's own name, an example by what it gives."""
    many, each = ("pump", "gives") if count == 1 else ("pumps", "each give")
    return f"{count:,} x {row['name']}" if is_named(row) else f"{count:,} {many} that {each} {air_duty(sheet, row)}"
