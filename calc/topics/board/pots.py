"""The pots in the board: how deep they stand in the water, and how much growing medium fills them around the plug."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

from ...data import foam as foams
from ...declare import Choice, Field, Result
from ...relations import floating, geometry
from ..verdicts import counted
from .cutting import POTS, length_text, plant_mass

if TYPE_CHECKING:
    from ...sheet import Sheet

JUDGMENT = "engineering judgment, no source"
NO_MEDIUM = "none"
# Widths of pots differ; their slope hardly does.
BASE_SHARE = 0.7
MEDIA = (Choice(NO_MEDIUM, "None: the plug fills the pot"), Choice("clay", "Expanded clay pebbles"),
         Choice("perlite", "Coarse perlite"), Choice("other", "Another, rinsed"))
WORDS = {"clay": "expanded clay pebbles", "perlite": "coarse perlite", "other": "your medium"}
IN_POTS = (("board.holder", (POTS,)),)
FILLED = (*IN_POTS, ("board.medium", ("clay", "perlite", "other")))

FIELDS = (
    Field("board.pot_height", "length", "Net pot height", ("", ""), 0.01, 0.5, "in", "mm", optional=True,
          help="lip to base; empty: as tall as it is wide", why=f"empty: as tall as wide: {JUDGMENT}; measure one",
          when=IN_POTS),
    Field("board.pot_base", "length", "Net pot width at its base", ("", ""), 0.005, 0.5, "in", "mm", optional=True,
          help="inside, at the bottom; empty: 7 tenths of its size",
          why=f"empty: 7 tenths of its size: {JUDGMENT}; measure one", when=IN_POTS),
    Field("board.medium", "choice", "Medium around the plug", (NO_MEDIUM, NO_MEDIUM), choices=MEDIA,
          help="fills the pot beside the plug and holds the stem",
          why="a plug as wide as the pot needs none", when=IN_POTS),
    Field("board.plug_width", "length", "Seed plug, across", ("1 in", "25 mm"), 0.003, 0.5, "in", "mm",
          help="at its middle; a square one by its side", why="an invented example; measure yours", when=FILLED),
    Field("board.plug_height", "length", "Seed plug, tall", ("1 1/2 in", "40 mm"), 0.003, 0.5, "in", "mm",
          help="as it stands in the pot", why="an invented example; measure yours", when=FILLED),
)
RESULTS = (
    Result("board.pot_stands", "length", "Net pot under water, newly planted", "in", "mm", 16),
    Result("board.pot_stands_full", "length", "Net pot under water, at harvest", "in", "mm", 16),
    Result("board.pot_volume", "volume", "A net pot holds", "fl oz", "mL"),
    Result("board.medium_each", "volume", "Growing medium in a pot, around its plug", "fl oz", "mL"),
    Result("board.medium_total", "volume", "Growing medium to buy, with spares, for all baths", "L", "L"),
)


def _height(sheet: Sheet) -> float:
    typed = sheet.optional("board.pot_height")
    return sheet["board.pot"] if typed is None else typed


def depth_in_water(sheet: Sheet) -> None:
    """How far the base of a pot hangs under the water: its height, less what the board stands out of the water."""
    if sheet.text("board.holder") != POTS:
        return
    thickness, height = sheet["board.thickness"], _height(sheet)
    each = plant_mass(sheet) + sheet["board.pot_mass"]
    pots = sheet.result("board.load") * sheet["board.pot_mass"] / each if each > 0.0 else 0.0
    young = floating.draught(
        foam_density_kg_m3=foams.BY_KEY[sheet.text("board.foam")].density_kg_m3, thickness_m=thickness, load_kg_m2=pots,
        hole_share=sheet.result("board.hole_share"), water_density_kg_m3=sheet.result("water.density"))
    note = "Height of the pot under its lip, less the foam above the water"
    stands = height - (thickness - young)
    sheet.put("board.pot_stands", stands, note=f"{note}, with pots and plugs alone. Below 0 it hangs clear of it.",
              source=floating.ARCHIMEDES)
    sheet.put("board.pot_stands_full", height - (thickness - sheet.result("board.draught")),
              note=f"{note}, at harvest.")
    if stands <= 0.0:
        _warn_of_dry(sheet, length_text(sheet, -stands), height)


def _warn_of_dry(sheet: Sheet, dry: str, height: float) -> None:
    """Pots that hang clear of the water; where their height is a guess, that is a reason to measure one."""
    measured = sheet.optional("board.pot_height") is not None
    sheet.caution("pots-dry", "warning" if measured else "note",
                  f"Pots{'' if measured else ' as tall as wide'} hang {dry} above the water when newly planted, and a "
                  "young root does not reach it: the plug dries out. Take taller pots or a thinner board, or water by "
                  "hand until the roots hang in.", lead="Pots hang dry",
                  brief=f"Newly planted they hang {dry} above the water: "
                        + ("take taller pots." if measured else "measure one, and type its height."))
    if measured:
        sheet.verdict("tight", f"A pot {length_text(sheet, height)} tall hangs {dry} above the water in a board "
                      f"{sheet.shown('board.thickness')} thick, until the plants weigh it down. Take taller pots, or "
                      "water the young plants by hand.", counted(sheet.result("board.sites"), "site"),
                      "Pots hang dry.")


def medium(sheet: Sheet) -> None:
    """What a pot holds, the medium around its plug, and how much to buy."""
    if sheet.text("board.holder") != POTS:
        return
    pot, typed, height = sheet["board.pot"], sheet.optional("board.pot_base"), _height(sheet)
    if typed is not None and typed > pot * (1 + 1e-9):
        sheet.fault("board.pot_base", "Net pot width at its base is more than at its lip: enter "
                    f"{length_text(sheet, pot)} or less.", {"board.pot": "Net pot size is less than its width at the "
                    f"base: enter {length_text(sheet, typed)} or more."})
    base = BASE_SHARE * pot if typed is None else typed
    whole = sheet.work("board.pot_volume", geometry.frustum_volume, top_diameter_m=pot, base_diameter_m=base,
                       depth_m=height)
    if sheet.text("board.medium") == NO_MEDIUM:
        return
    tall = min(sheet["board.plug_height"], height)
    plug = geometry.cylinder_volume(diameter_m=sheet["board.plug_width"], depth_m=tall)
    if plug >= whole:
        sheet.fault("board.plug_width", "Seed plug, across: such a plug fills the whole pot; enter less, or choose no "
                    "medium.", {"board.plug_height": "", "board.medium": "", "board.pot": ""})
    sheet.put("board.medium_each", whole - plug, note="The pot's volume, less that of the plug in it.",
              source=geometry.cylinder_volume.relation.source)
    pots = ceil(sheet.result("board.sites", int) * sheet.whole("bath.count") * (1 + sheet["parts.spare_share"]) - 1e-9)
    sheet.put("board.medium_total", (whole - plug) * pots, note=f"In each of {pots:,} pots, the spare ones counted in. "
              "Bags are sold by the liter; rinse it before use.")
