"""How much water there is, what it weighs, and where it goes when the pump stops."""

from __future__ import annotations

from typing import TYPE_CHECKING

from ..declare import Choice, Field, Result, Verdict, only_when
from ..relations import geometry
from ..relations import water as physics
from . import liner, scheme
from .vessel import (
    HALF_DRUM,
    KNOWN,
    OVAL,
    ROUND,
    TAPERED_BOX,
    TAPERED_ROUND,
    at_floor,
    base_width,
    check_depth,
    guessed_floor,
    half_drum_depth,
    oval_length,
    vessel_fields,
    volume_to,
)
from .verdicts.water import judge

if TYPE_CHECKING:
    from ..sheet import Sheet

NAME = "water"
TITLE = "Water"
QUESTION = "How much water, how heavy, and where does it go when the pump stops?"
VERDICT = Verdict("Water", {"fits": "The water has its place.", "tight": "Water tight for room.",
                            "fails": "The water does not fit.", "open": "Water needs an answer."})

# Opening over mean area: walls that lean out make it larger, few as much as this; smaller only by careless measuring.
LEAST_OPENING, MOST_OPENING = 0.85, 1.7
# What of half a drum's width is flat enough for stones: engineering judgment, no source.
CRADLE = 0.5
GROUND, FLOOR, BENCH = "ground", "floor", "bench"
HANGING = (("bath.stands_on", (FLOOR, BENCH)),)
FLOOR_SOURCE = ("International Residential Code 2000, table R301.4 (later R301.5), as printed in a California building "
                "department's interpretation")
# Live loads in Pa by the kind of room, printed in pounds on a square foot. They are for people and furniture.
PSF = 47.880259
ROOMS = {"bedroom": 30.0 * PSF, "room": 40.0 * PSF, "garage": 50.0 * PSF, "deck": 40.0 * PSF, "balcony": 60.0 * PSF}


FIELDS = (scheme.FIELD, *vessel_fields(
    "bath", "Bath",
    {"length": ("48 in", "120 cm"), "width": ("24 in", "60 cm"), "base_length": ("44 in", "110 cm"),
     "base_width": ("", ""), "diameter": ("24 in", "60 cm"), "base_diameter": ("20 in", "50 cm"),
     "depth": ("12 in", "30 cm"), "water_depth": ("10 in", "25 cm"), "known_volume": ("50 gal", "180 L")},
    "box", ("shape", "length", "width", "base_length", "diameter", "base_diameter", "depth",
            "water_depth", "known_volume"),
), *only_when(scheme.WITH_RESERVOIR, vessel_fields(
    "reservoir", "Reservoir",
    {"length": ("24 in", "60 cm"), "width": ("16 in", "40 cm"), "base_length": ("21 in", "53 cm"),
     "base_width": ("", ""), "diameter": ("22 in", "55 cm"), "base_diameter": ("18 in", "45 cm"),
     "depth": ("16 in", "40 cm"), "water_depth": ("10 in", "25 cm"), "known_volume": ("16 gal", "60 L")},
    KNOWN, ("known_volume",),
)),
    *only_when(scheme.WITH_RESERVOIR, (Field(
        "reservoir.brim_volume", "volume", "Reservoir holds to the brim", ("26 gal", "98 L"), 1e-4, 1000.0, "gal",
        "L",
        help="filled to the very rim, counted by the jug; tells if it can spill", optional=True,
        why="part of the invented example, and only of that one: count your own",
        when=(("reservoir.shape", (KNOWN,)),), follows=("reservoir.known_volume",)),)),
    *liner.FIELDS,
    Field("bath.count", "whole", "Number of equal baths", ("1", "1"), 1, 200,
          help="of this size, on one reservoir where there is one", why="one bath to begin with"),
    *only_when(scheme.WITH_RESERVOIR, (Field("bath.fill", "choice", "How the bath is filled", ("rim", "rim"), choices=(
        Choice("rim", "Over the rim, above the water"),
        Choice("floor", "Below the water, no check valve"),
        Choice("floor with check valve", "Below the water, check valve"),
    ), help="decides what drains back when the pump stops", why="over the rim is the safe way"),
    Field("bath.inlet_height", "length", "Inlet height over the floor", ("0", "0"), 0.0, 5.0, "in", "cm",
          help="to the lower edge of the fitting the water comes in through",
          why="a fitting flush with the floor drains the most",
          when=(("bath.fill", ("floor", "floor with check valve")),)),
    Field("bath.film", "length", "Water over the overflow rim", ("1/2 in", "12 mm"), 0.0, 0.2, "in", "mm",
          help="how far it stands above the rim of the overflow, pump on",
          why="half an inch is a usual film; common practice, no published source"))),
    Field("bath.tank_mass", "mass", "Empty mass of one bath", ("20 lb", "9 kg"), 0.0, 50000.0, "lb",
          "kg", help="with its stand, board and pots, but without water",
          why="invented example; weigh or look up your own"),
    Field("bath.legs", "whole", "Legs under one bath", ("4", "4"), 0, 200,
          help="0 when the bath stands flat on the floor", why="a bench with four legs"),
    Field("bath.stands_on", "choice", "What the bath stands on", (GROUND, GROUND), choices=(
        Choice(GROUND, "The ground, or a slab on it"), Choice(FLOOR, "A floor over a room"),
        Choice(BENCH, "A bench or stand on such a floor"),
    ), help="the ground carries any bath; a floor over a room may not",
        why="most first baths stand in a yard, garage or greenhouse"),
    *only_when(HANGING, (
        Field("bath.room", "choice", "Kind of room", ("room", "room"), choices=(
            Choice("bedroom", "Bedroom"), Choice("room", "Any other room"), Choice("garage", "Garage for cars"),
            Choice("deck", "Deck"), Choice("balcony", "Balcony outdoors")),
            help="its floor is built for what such rooms hold", why="most rooms are not bedrooms"),
        Field("bath.floor_allowance", "pressure", "Floor allowance", ("", ""), 0.0, 1e6, "psf", "kPa", optional=True,
              help="from the plans of the house; empty: by the kind of room",
              why=f"empty: bedroom 30, other rooms 40, garage 50, deck 40, balcony 60 psf: {FLOOR_SOURCE}"),
        Field("bath.room_area", "area", "Floor of that room", ("120 ft2", "11 m2"), 0.1, 1e5, "ft2", "m2",
              help="wall to wall; all that stands in it counts, not only the bath",
              why="an invented room of 10 by 12 ft; measure your own"))),
    Field("water.temperature", "temperature", "Water temperature", ("68 F", "20 C"), 0.0, 40.0, "F", "C",
          help="of the water in the bath", why="20 °C, where most tables are printed"),
)
TABLES = ()

RESULTS = (
    Result("water.bath_volume", "volume", "Water in one bath", "gal", "L"),
    Result("water.reservoir_volume", "volume", "Water in the reservoir while running", "gal", "L"),
    Result("water.working_volume", "volume", "Working water, all of it", "gal", "L"),
    Result("water.opening_shape", "text", "Shape of the opening at the water line"),
    Result("water.opening_length", "length", "Opening at the water line, length", "in", "cm", 16),
    Result("water.opening_width", "length", "Opening at the water line, width", "in", "cm", 16),
    Result("water.surface_area", "area", "Water surface of one bath", "ft2", "m2"),
    Result("water.rim_to_water", "length", "Rim of the bath down to the water", "in", "cm", 16),
    Result("water.density", "density", "Density of the water", "lb/ft3", "kg/m3"),
    Result("water.mass", "mass", "Mass of all the water", "lb", "kg"),
    Result("water.bath_mass", "mass", "Mass of one full bath", "lb", "kg"),
    Result("water.floor_length", "length", "Bath at its floor, length", "in", "cm", 16),
    Result("water.floor_width", "length", "Bath at its floor, width", "in", "cm", 16),
    Result("water.footprint", "area", "Floor under one bath", "ft2", "m2"),
    Result("water.floor_pressure", "pressure", "Load on the floor under one bath", "psf", "kPa"),
    Result("water.floor_allowance", "pressure", "What the floor is built for", "psf", "kPa"),
    Result("water.reservoir_pressure", "pressure", "Load on the floor under the reservoir, its water alone", "psf",
           "kPa"),
    Result("water.room_pressure", "pressure", "All the water, spread over the whole room", "psf", "kPa"),
    Result("water.leg_load", "mass", "Load on each leg", "lb", "kg"),
    Result("water.hose_volume", "volume", "Water standing in all hoses", "gal", "L"),
    Result("water.drain_back_rim", "volume", "Returns from all baths when the pump stops: filled over the rim", "gal",
           "L"),
    Result("water.drain_back_floor", "volume", "Returns from all baths when the pump stops: filled below the water, no "
           "check valve", "gal", "L"),
    Result("water.drain_back_volume", "volume", "Returns from all baths when the pump stops: as you fill them", "gal",
           "L"),
    Result("water.reservoir_capacity", "volume", "Reservoir, full to the rim", "gal", "L"),
    Result("water.reservoir_headroom", "volume", "Room left in the reservoir while running", "gal", "L"),
    Result("water.depth_after_stop", "length", "Water left in each bath after a stop", "in", "cm", 16),
    *liner.RESULTS,
)


def bath(sheet: Sheet) -> None:
    """Water in one bath."""
    volume, relation, arguments = volume_to(sheet, "bath", check_depth(sheet, "bath", "Bath"))
    sheet.put("water.bath_volume", volume, relation, arguments)
    _say_guessed(sheet, "bath")


def _say_guessed(sheet: Sheet, prefix: str) -> None:
    """Say what to measure where a vessel was typed by its rim alone."""
    if words := guessed_floor(sheet, prefix):
        sheet.caution(f"{prefix}-floor-guessed", "note", f"Water: the volume may be off by a tenth or more. {words}",
                      lead="Floor guessed", brief=words)


def opening(sheet: Sheet) -> None:
    """The opening where the raft floats: at the water line, not at the rim."""
    shape = sheet.text("bath.shape")
    water_depth = check_depth(sheet, "bath", "Bath")
    depth = sheet["bath.depth"]
    sheet.put("water.opening_shape", "round" if shape in (ROUND, TAPERED_ROUND) else "rectangle",
              note="From the shape of the bath.")
    sheet.put("water.rim_to_water", max(depth - water_depth, 0.0), note="Inside depth less water depth.")
    if shape == HALF_DRUM:
        _round_bottomed(sheet, water_depth)
    elif shape == OVAL:
        _oval(sheet)
    else:
        _straight(sheet, shape, water_depth)
    if shape == KNOWN:
        _hold_opening(sheet)


def _straight(sheet: Sheet, shape: str, water_depth: float) -> None:
    """The opening between walls that stand straight or slope."""
    round_bath = shape in (ROUND, TAPERED_ROUND)
    for side in ("length", "width"):
        top_key = "bath.diameter" if round_bath else f"bath.{side}"
        top = sheet[top_key]
        if shape == TAPERED_BOX and side == "width":
            base = base_width(sheet, "bath")
        else:
            tapered = shape in (TAPERED_BOX, TAPERED_ROUND)
            base = at_floor(sheet, "bath", "diameter" if round_bath else side) if tapered else top
        sheet.work(f"water.opening_{side}", geometry.size_at_depth, top_m=top, base_m=base,
                   full_depth_m=sheet["bath.depth"], depth_m=water_depth)
    long, wide = sheet.result("water.opening_length"), sheet.result("water.opening_width")
    if round_bath:
        sheet.work("water.surface_area", geometry.circle_area, diameter_m=long)
    else:
        sheet.work("water.surface_area", geometry.rectangle_area, length_m=long, width_m=wide)


def _round_bottomed(sheet: Sheet, water_depth: float) -> None:
    """The opening of half a drum: as long as it is, and as wide as its water."""
    sheet.put("water.opening_length", sheet["bath.length"], note="The ends of half a drum stand straight.")
    wide = sheet.work("water.opening_width", geometry.half_drum_width, rim_width_m=sheet["bath.width"],
                      full_depth_m=half_drum_depth(sheet, "bath"), depth_m=water_depth)
    sheet.work("water.surface_area", geometry.rectangle_area, length_m=sheet["bath.length"], width_m=wide)


def _oval(sheet: Sheet) -> None:
    """The opening of an oval: the largest rectangle in it, for boards are cut straight."""
    sizes = {"length_m": oval_length(sheet, "bath"), "width_m": sheet["bath.width"]}
    wide = sheet.work("water.opening_width", geometry.oval_board_width, **sizes)
    sheet.work("water.opening_length", geometry.oval_board_length, **sizes, board_width_m=wide)
    sheet.work("water.surface_area", geometry.oval_area, **sizes)
    sheet.caution("oval-ends", "note", "Oval: the raft is planned as the largest rectangle that fits, so open water is "
                  "left at the round ends. Cover it with dark film, or cut the ends of the outer boards to the curve.",
                  lead="Open ends", brief="Open water is left at the round ends: cover it with dark film.")


def _hold_opening(sheet: Sheet) -> None:
    """A volume counted at a depth tells how large the water is on average; the opening may not be far from that."""
    depth = sheet.optional("bath.known_depth") or sheet["bath.water_depth"]
    mean, opening = sheet["bath.known_volume"] / depth, sheet.result("water.surface_area")
    if LEAST_OPENING * mean <= opening <= MOST_OPENING * mean:
        return
    poured, deep, seen, needed = (
        sheet.shown("bath.known_volume"), sheet.shown_as("bath.known_depth", depth),
        sheet.shown_as("water.surface_area", opening), sheet.shown_as("water.surface_area", mean))
    which = "small" if opening < mean else "large"
    sheet.caution("opening-clash", "warning",
                  f"Opening and volume do not belong together: {poured} that stands {deep} deep has a surface of about "
                  f"{needed}, and the length and width put in make {seen}. The raft is cut for that opening and the "
                  "oxygen reckoned with it, so measure the bath's length and width at the water line, or count the "
                  "water again.", lead=f"Opening too {which}",
                  brief=f"{poured} at {deep} has a surface of about {needed}; length and width make {seen}.")
    sheet.verdict("tight", f"{poured} that stands {deep} deep has a surface of about {needed}, and the length and "
                  f"width put in make {seen}. Measure them at the water line, or count the water again.", poured,
                  f"Opening too {which}.")


def reservoir(sheet: Sheet) -> None:
    """Water in the reservoir while the pump runs, and full to its rim."""
    if not scheme.circulates(sheet):
        return
    running = check_depth(sheet, "reservoir", "Reservoir")
    volume, relation, arguments = volume_to(sheet, "reservoir", running)
    sheet.put("water.reservoir_volume", volume, relation, arguments)
    _say_guessed(sheet, "reservoir")
    if sheet.text("reservoir.shape") == KNOWN:
        full = _brim(sheet, volume)
        if full is None:
            return
    else:
        full, relation, arguments = volume_to(sheet, "reservoir", sheet["reservoir.depth"])
        sheet.put("water.reservoir_capacity", full, relation, arguments)
    sheet.put("water.reservoir_headroom", max(full - volume, 0.0),
              note="Full to the rim, less the water in it while running.")


def _brim(sheet: Sheet, running: float) -> float | None:
    """What a reservoir known by its filling holds to the brim; without that answer nothing is made up."""
    brim = sheet.optional("reservoir.brim_volume")
    if brim is None:
        sheet.caution("reservoir-brim", "warning",
                      "Room in the reservoir is not known, so nobody can say whether it overflows when the pump stops. "
                      "Fill it to the brim once with a jug or a meter, and put that in as \"Reservoir holds to the "
                      "brim\".", lead="Room not known",
                      brief="Nobody can say whether it overflows: fill it to the brim once and measure.")
        return None
    if brim < running * (1 - 1e-9):
        sheet.fault("reservoir.brim_volume", "Reservoir holds to the brim: that is less than the "
                    f"{sheet.shown_as('reservoir.brim_volume', running)} in it while running; enter that or more.",
                    dict.fromkeys(("reservoir.known_depth", "reservoir.water_depth", "reservoir.known_volume"), ""))
    sheet.put("water.reservoir_capacity", brim, note="As you counted it.")
    return float(brim)


def working(sheet: Sheet) -> None:
    """All the water there is, and what it weighs."""
    baths = sheet.whole("bath.count")
    total = baths * sheet.result("water.bath_volume") + scheme.reservoir_m3(sheet)
    sheet.put("water.working_volume", total, note="Water in one bath, times the number of baths"
              + (", plus the reservoir." if scheme.circulates(sheet) else "."))
    density = sheet.work("water.density", physics.water_density, temperature_c=sheet["water.temperature"])
    sheet.work("water.mass", physics.water_mass, volume_m3=total, density_kg_m3=density)


def outline(sheet: Sheet) -> None:
    """The bath's outline at its floor: what stands on the ground, and where the stones lie."""
    shape = sheet.text("bath.shape")
    note = "As typed, or as the walls taper."
    if shape == OVAL:
        long, wide = sheet["bath.length"], sheet["bath.width"]
        area = geometry.oval_area(length_m=oval_length(sheet, "bath"), width_m=wide)
    elif shape == HALF_DRUM:
        long, wide = sheet["bath.length"], CRADLE * sheet["bath.width"]
        area = geometry.rectangle_area(length_m=long, width_m=sheet["bath.width"])
        note = "Half a drum lies in a cradle; stones are planned on the middle half of its width."
    elif shape in (ROUND, TAPERED_ROUND):
        long = wide = at_floor(sheet, "bath", "diameter") if shape == TAPERED_ROUND else sheet["bath.diameter"]
        area = geometry.circle_area(diameter_m=long)
    else:
        tapered = shape == TAPERED_BOX
        long = at_floor(sheet, "bath", "length") if tapered else sheet["bath.length"]
        wide = base_width(sheet, "bath") if tapered else sheet["bath.width"]
        area = geometry.rectangle_area(length_m=long, width_m=wide)
    sheet.put("water.floor_length", long, note=note)
    sheet.put("water.floor_width", wide, note=note)
    sheet.put("water.footprint", area, note="The bath's outline at its floor.")


def floor(sheet: Sheet) -> None:
    """The load on the floor and on each leg."""
    density = sheet.result("water.density")
    water_mass = physics.water_mass(volume_m3=sheet.result("water.bath_volume"), density_kg_m3=density)
    total = water_mass + sheet["bath.tank_mass"]
    sheet.put("water.bath_mass", total, note="Its water and its own empty mass.")
    area = sheet.result("water.footprint")
    pressure = sheet.work("water.floor_pressure", physics.floor_pressure, mass_kg=total, area_m2=area)
    if sheet.whole("bath.legs"):
        sheet.work("water.leg_load", physics.leg_load, mass_kg=total, legs=sheet.whole("bath.legs"))
    if sheet.text("bath.stands_on") == GROUND:
        return
    _hanging_floor(sheet, total, pressure)


def _allowance(sheet: Sheet) -> float:
    """What the floor is built for: as typed, or by the code for the kind of room."""
    typed = sheet.optional("bath.floor_allowance")
    found = ROOMS[sheet.text("bath.room")] if typed is None else typed
    sheet.put("water.floor_allowance", found, note="As you put it in." if typed is not None else
              "What a code asks of the floor of such a room, for people and furniture. Local codes differ: some ask 60 "
              "psf (2.87 kPa) of decks.", source="" if typed is not None else FLOOR_SOURCE)
    return found


def _hanging_floor(sheet: Sheet, bath_kg: float, pressure: float) -> None:
    """A floor over a room: the bath spread over its share of the room, and the lines under its legs."""
    allowance, density = _allowance(sheet), sheet.result("water.density")
    everything = (sheet.whole("bath.count") * bath_kg
                  + physics.water_mass(volume_m3=scheme.reservoir_m3(sheet), density_kg_m3=density))
    over_room = sheet.work("water.room_pressure", physics.floor_pressure, mass_kg=everything,
                           area_m2=sheet["bath.room_area"])

    def load(value: float) -> str:
        return sheet.shown_as("water.floor_pressure", value)
    legs = sheet.whole("bath.legs") if sheet.text("bath.stands_on") == BENCH else 0
    line = ""
    if legs >= 2:
        half = sheet.shown_as("water.mass", bath_kg / 2.0)
        line = f" Half of it, {half}, stands on the line under the legs of one side: set those lines across the joists."
    stands = f"a full bath presses {load(pressure)} where it stands, and {load(allowance)} is the allowance"
    if over_room > allowance:
        sheet.caution("floor-load", "danger",
                      f"Weight: all the water together is {load(over_room)} over the whole room, and the floor is "
                      f"built for {load(allowance)}. Do not fill it there: put it on the ground, or have a structural "
                      "engineer look at the floor first.", lead="Weight on floor",
                      brief=f"{load(over_room)} over the room, and the floor is built for {load(allowance)}.")
    elif pressure > allowance:
        sheet.caution("floor-load", "warning",
                      f"Weight: {stands} for the room as a whole, where it makes {load(over_room)}. That is tight: ask "
                      f"a structural engineer before you fill it, and keep it along a bearing wall.{line}",
                      lead="Weight on floor",
                      brief=f"{load(pressure)} where it stands, and {load(allowance)} is allowed: ask an engineer.")
    # Last, for an answer of the reservoir's that cannot be read must not hide what the bath weighs.
    beside = 0.0
    if scheme.circulates(sheet) and sheet.text("place.reservoir") != "buried":
        beside = sheet.work("water.reservoir_pressure", physics.hydrostatic_pressure,
                            depth_m=sheet["reservoir.water_depth"], density_kg_m3=density)
    if max(over_room, pressure) > allowance:
        return
    if beside > allowance:
        sheet.caution("floor-load", "warning",
                      f"Weight: the reservoir's water presses {load(beside)} where it stands, and {load(allowance)} is "
                      f"the allowance for the room as a whole, where all the water makes {load(over_room)}. Ask a "
                      f"structural engineer before you fill it, or take a wider, lower one.{line}",
                      lead="Weight on floor",
                      brief=f"The reservoir presses {load(beside)}, and {load(allowance)} is allowed: ask an engineer.")
    elif line:
        sheet.caution("floor-load", "note", f"Weight: {stands}.{line}", lead="Weight on floor",
                      brief=f"{half} stands under the legs of one side: set them across the joists.")



def _film_volume(sheet: Sheet, film_m: float, floor_m: float) -> float:
    """Water of one bath above the overflow's rim.

    A vessel known by its filling may have any shape, so its film is its surface times the film's height: walls that
    bulge, as of half a drum, hold more up there than the volume in proportion.
    """
    if sheet.text("bath.shape") == KNOWN:
        return sheet.result("water.surface_area") * film_m
    return sheet.result("water.bath_volume") - volume_to(sheet, "bath", floor_m)[0]


def drain_back(sheet: Sheet) -> None:
    """What runs back to the reservoir when the pump stops, both ways of filling side by side."""
    if not scheme.circulates(sheet):
        return
    baths = sheet.whole("bath.count")
    water_depth = check_depth(sheet, "bath", "Bath")
    if not scheme.pumps_water(sheet):
        for key in ("rim", "floor", "volume"):
            sheet.put(f"water.drain_back_{key}", 0.0, note="No water is pumped, so none runs back.")
        sheet.put("water.depth_after_stop", water_depth, note="No pump stands still that would have run.")
        return
    # The film is part of the water above the overflow's rim, so it leaves by the overflow in either case.
    _check_inlet(sheet, water_depth)
    film_floor = max(water_depth - sheet["bath.film"], 0.0)
    film = _film_volume(sheet, water_depth - film_floor, film_floor)
    hose = _hoses(sheet)
    rim = baths * film + hose
    sheet.put("water.drain_back_rim", rim, note="The film above the overflow in every bath, and the water in the hose. "
              "That holds while the hose ends above the water, so that air breaks the siphon.")
    inlet = sheet.input_if_any("bath.inlet_height") or 0.0
    kept_floor = volume_to(sheet, "bath", min(inlet, film_floor))[0]
    floor_fill = baths * (sheet.result("water.bath_volume") - kept_floor) + hose
    sheet.put("water.drain_back_floor", floor_fill,
              note="All water above the inlet fitting in every bath, and the water in the hose.")
    open_floor = sheet.text("bath.fill") == "floor"
    sheet.put("water.drain_back_volume", floor_fill if open_floor else rim,
              note="By the way your bath is filled.")
    sheet.put("water.depth_after_stop", min(inlet, film_floor) if open_floor else film_floor,
              note="Down to the inlet fitting." if open_floor else "Down to the rim of the overflow.")
    _warn_of_stop(sheet, open_floor, rim, floor_fill)


def _check_inlet(sheet: Sheet, water_depth: float) -> None:
    """An inlet through floor or wall is under the water; what comes in above it is filled over the rim."""
    inlet = sheet.input_if_any("bath.inlet_height")
    if inlet is not None and inlet > water_depth:
        sheet.fault("bath.inlet_height", "Inlet height over the floor is more than the water in the bath is "
                    f"deep: enter {sheet.shown('bath.water_depth')} or less, or choose a bath filled over the rim.",
                    {"bath.water_depth": "Bath water depth does not reach the inlet: enter "
                                         f"{sheet.shown('bath.inlet_height')} or more, or choose a bath filled over "
                                         "the rim."})


def _hoses(sheet: Sheet) -> float:
    """Water in m3 standing in the hose, and in header and branches where there are several baths."""
    hose = geometry.cylinder_volume(diameter_m=sheet["circulation.hose_bore"], depth_m=sheet["circulation.hose_length"])
    baths = sheet["bath.count"]
    if baths == 1:
        return float(sheet.work("water.hose_volume", geometry.cylinder_volume,
                                diameter_m=sheet["circulation.hose_bore"], depth_m=sheet["circulation.hose_length"]))
    for bore, length in (("header_bore", "header_step"), ("branch_bore", "branch_length")):
        hose += baths * geometry.cylinder_volume(diameter_m=sheet[f"circulation.{bore}"],
                                                 depth_m=sheet[f"circulation.{length}"])
    sheet.put("water.hose_volume", hose, note="The hose from the pump, the header and all branches.")
    return float(hose)


def _warn_of_stop(sheet: Sheet, open_floor: bool, rim: float, floor_fill: float) -> None:
    """Say loudly when a stop floods the room or leaves the roots dry."""
    def litres(value: float) -> str:
        return sheet.shown_as("water.drain_back_volume", value)
    if open_floor:
        left = sheet.show(sheet.result("water.depth_after_stop"), "length", "in", "cm", 8)
        sheet.caution("roots-dry", "warning",
                      f"Roots hang dry: when the pump stops, the bath drains back through the pump until {left} of "
                      "water is left. Fill over the rim, or fit a check valve and test it.", lead="Roots hang dry",
                      brief=f"At a stop {left} of water is left: fill over the rim, or fit a check valve.")
    if sheet.text("bath.fill") == "floor with check valve":
        sheet.caution("check-valve", "warning",
                      f"A check valve can stick open on one grain of grit. If it does, {litres(floor_fill)} comes back "
                      f"instead of {litres(rim)}. Test it with the pump off, and clean it with the bath.",
                      lead="Check valves stick",
                      brief=f"If grit holds it open, {litres(floor_fill)} comes back instead of {litres(rim)}: test "
                            "it.")
    room = sheet.result_if_any("water.reservoir_headroom")
    if sheet.text("bath.fill") == "rim":
        _warn_of_siphon(sheet, litres(floor_fill), None if room is None else floor_fill <= room)
    if room is None:
        return
    back = sheet.result("water.drain_back_volume")
    if back > room:
        sheet.caution("drain-back-flood", "danger",
                      f"Flood: when the pump stops, {litres(back)} runs back, and the reservoir has room for "
                      f"{litres(room)}. The rest goes on the floor. "
                      + ("Lower the running level, or take a larger reservoir." if sheet.text("bath.fill") == "rim" else
                         "Lower the running level, take a larger reservoir, or fill over the rim."),
                      lead="Flood at a stop",
                      brief=f"{litres(back)} runs back, and the reservoir has room for {litres(room)}.")
    elif sheet.text("bath.fill") == "floor with check valve" and floor_fill > room:
        sheet.caution("valve-flood", "danger",
                      f"Flood if the check valve leaks: {litres(floor_fill)} would run back into room for "
                      f"{litres(room)}. Filling over the rim takes that risk away.", lead="Flood by leaking valve",
                      brief=f"{litres(floor_fill)} would run back into room for {litres(room)}.")


def _warn_of_siphon(sheet: Sheet, most: str, has_room: bool | None) -> None:
    """A hose whose end slipped under the water is no longer filled over the rim."""
    then = {True: "leaves the roots dry", False: "floods the floor and leaves the roots dry",
            None: "leaves the roots dry and may flood the floor"}[has_room]
    each = "hose of each bath" if sheet.whole("bath.count") > 1 else "hose"
    sheet.caution("siphon", "warning",
                  f"Siphon: fix the end of the {each} above the water. If it slips under, a stop of the pump sucks the "
                  f"bath down to that end: up to {most} runs back, which {then}. A small hole under the hose's bend, "
                  "above the water, lets air in and stops it; keep it clear.", lead="Siphon",
                  brief=f"A hose's end under water sucks up to {most} back at a stop: fix it above the water.")


def open_water(sheet: Sheet) -> None:
    """Cautions that every bath deserves."""
    given = sheet.input_if_any("bath.water_depth", float)
    depth = "shallow water" if given is None else sheet.show(given, "length", "in", "cm", 8) + " of water"
    sheet.caution("open-water", "danger",
                  f"Open water: a small child can drown in {depth}. Keep the board on, keep it out of "
                  "children's reach, or cover and lock it.", lead="Open water",
                  brief=f"A small child can drown in {depth}: board on, covered, out of reach.", standing=True)


STEPS = (bath, opening, outline, reservoir, working, floor, drain_back, open_water, *liner.STEPS, judge)
