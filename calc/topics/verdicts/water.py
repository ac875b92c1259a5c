"""Whether the water has a place to go when the pump stops, and a floor that carries it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from .. import scheme
from ..vessel import guessed_floor
from . import in_each, several

if TYPE_CHECKING:
    from ...sheet import Sheet

# Engineering judgment, no source: a wall lower than this is passed by a wave from lifting a board, and a reservoir
# fuller than this after a stop is within what a film or a level measured by eye may be off.
LOW_RIM_M, FULL_SHARE = 0.0125, 0.9


def judge(sheet: Sheet) -> None:
    """Room for what runs back, the floor, the rim; the worst of them is the verdict."""
    figure, unsaid = sheet.shown("water.working_volume"), brim_unsaid(sheet)
    rim = sheet.result("water.rim_to_water")
    _floor(sheet, figure, unsaid)
    if scheme.circulates(sheet):
        _stop(sheet, figure, unsaid)
    if rim < LOW_RIM_M:
        sheet.verdict("tight", f"The wall stands only {sheet.shown('water.rim_to_water')} above the water, and lifting "
                      f"a board makes waves. Keep the water lower.{unsaid}", figure, "Little wall above the water.")
    # A reservoir whose brim nobody measured has been told of as open.
    if not scheme.circulates(sheet) or sheet.result_if_any("water.reservoir_headroom") is not None:
        sheet.verdict("fits", _well(sheet), figure)


def _well(sheet: Sheet) -> str:
    weight = f"{'Each' if several(sheet) else 'A'} full bath weighs {sheet.shown('water.bath_mass')}"
    guess = guessed_floor(sheet, "bath")
    guess = guess and f" {guess}"
    if not scheme.circulates(sheet):
        return (f"{weight}, and the wall stands {sheet.shown('water.rim_to_water')} above the water"
                f"{in_each(sheet)}.{guess}")
    return (f"When the pump stops{_above(sheet)}, {sheet.shown('water.drain_back_volume')} runs back"
            f"{' from all baths' if several(sheet) else ''}, and the reservoir has room for "
            f"{sheet.shown('water.reservoir_headroom')}. {weight}{_carried(sheet)}.{guess}")


def _above(sheet: Sheet) -> str:
    """What the little that runs back rests on, where a bath is filled over the rim."""
    if sheet.text("bath.fill") != "rim" or sheet.result("water.drain_back_volume") <= 0.0:
        return ""
    return f" with {'each' if several(sheet) else 'the'} hose's end above the water"


def _carried(sheet: Sheet) -> str:
    return ", and the ground carries it" if sheet.text("bath.stands_on") == "ground" else ""


def _floor(sheet: Sheet, figure: str, unsaid: str) -> None:
    """A floor over a room: within its allowance, above it under the bath, or above it over the whole room."""
    pressure = sheet.result("water.floor_pressure")
    if sheet.text("bath.stands_on") == "ground":
        return
    allowed, room = sheet.result("water.floor_allowance"), sheet.result("water.room_pressure")
    allowance = sheet.shown("water.floor_allowance")
    if room > allowed:
        sheet.verdict("fails", f"All the water together is {sheet.shown('water.room_pressure')} over the whole room, "
                      f"and the floor is built for {allowance}. Put it on the ground, or have a structural engineer "
                      f"look at the floor before you fill it.{unsaid}", figure, "Too heavy for the floor.")
    elif pressure > allowed:
        sheet.verdict("tight", f"A full bath presses {sheet.shown('water.floor_pressure')} where it stands, and "
                      f"{allowance} is the allowance for the room as a whole, where it makes "
                      f"{sheet.shown('water.room_pressure')}. Ask a structural engineer before you fill it.{unsaid}",
                      figure, "Ask about the floor.")
    elif (sheet.result_if_any("water.reservoir_pressure") or 0.0) > allowed:
        sheet.verdict("tight", f"The reservoir's water presses {sheet.shown('water.reservoir_pressure')} where it "
                      f"stands, and {allowance} is the allowance for the room as a whole. Ask a structural engineer "
                      f"before you fill it, or take a wider, lower one.{unsaid}", figure, "Ask about the floor.")


def brim_unsaid(sheet: Sheet) -> str:
    """What to do where nobody can say whether the reservoir overflows at a stop; a worse verdict must not hide it."""
    if (not scheme.circulates(sheet) or (sheet.result_if_any("water.drain_back_volume") or 0.0) <= 0.0
            or sheet.text("reservoir.shape") != "known volume" or sheet.optional("reservoir.brim_volume") is not None):
        return ""
    return " Say also what the reservoir holds to the brim: nobody knows yet whether a stop floods the floor."


def _stop(sheet: Sheet, figure: str, unsaid: str) -> None:
    """What a stop of the pump does to reservoir and roots."""
    back = sheet.result("water.drain_back_volume")
    if back <= 0.0:
        return
    returns = sheet.shown("water.drain_back_volume")
    if sheet.text("bath.fill") == "floor":
        sheet.verdict("tight", "When the pump stops, the bath drains back through it until "
                      f"{sheet.shown('water.depth_after_stop')} of water is left. Fill over the rim, or fit a check "
                      f"valve.{unsaid}", figure, "Roots hang dry at a stop.")
    if unsaid:
        sheet.verdict("open", f"When the pump stops, {returns} runs back, and nobody can say whether the reservoir "
                      "overflows. Fill it to the brim once, and type what it holds.", figure,
                      "Room in the reservoir?")
        return
    room = sheet.result("water.reservoir_headroom")
    has_room = sheet.shown("water.reservoir_headroom")
    worst = sheet.result("water.drain_back_floor")
    if back > room:
        sheet.verdict("fails", f"When the pump stops, {returns} runs back, and the reservoir has room for {has_room}. "
                      "The rest goes on the floor: keep less water in the reservoir, or take a larger one.", figure,
                      "A stop floods the floor.")
    elif sheet.text("bath.fill") == "floor with check valve" and worst > room:
        sheet.verdict("tight", f"If grit holds the check valve open, {sheet.shown('water.drain_back_floor')} runs back "
                      f"into room for {has_room}. Fill over the rim, or keep less water in the reservoir.", figure,
                      "One valve keeps the floor dry.")
    elif back > FULL_SHARE * room:
        sheet.verdict("tight", f"When the pump stops, {returns} runs back, and the reservoir has room for just "
                      f"{has_room}. Keep a little less water in it.", figure, "Little room for a stop.")
