"""Mends of electricity: what else hangs on the circuit, and lamps that give more light for their power."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import chain
from typing import TYPE_CHECKING

from .light import more_lamps, spare_watts
from .trying import Candidate, Said, known, number, typed

if TYPE_CHECKING:
    from ..solve import Design

LOAD = Said("energy.circuit_load", "all that may run on the circuit at one time")
SHARE = Said("energy.circuit_share", "the share of the limit used")


def other_circuit(design: Design) -> Iterable[Candidate]:
    """What has nothing to do with the bath on another circuit: part of it, or all."""
    found = known(design, "energy.circuit_load", "energy.circuit_limit", "energy.other_power")
    if found is None or found[2] <= 0.0:
        return
    load, limit, others = found
    left = others - max(load - 0.8 * limit, 0.0)
    if 0.0 < left < others:
        words = typed(design, "energy.other_power", left, False)
        yield Candidate({"energy.other_power": words}, f"Leave only {words} of other things on this circuit", (LOAD,))
    yield Candidate({"energy.other_power": "0 W"}, "Put the other things on another circuit", (LOAD, SHARE))


def lamps_elsewhere(design: Design) -> Iterable[Candidate]:
    """No more lamps than are needed, or lamps that draw less."""
    if number(design, "energy.circuit_share"):
        for one in chain(more_lamps(design), spare_watts(design)):
            yield Candidate(one.changes, one.act, (LOAD, SHARE))


MENDS = (other_circuit, lamps_elsewhere)
