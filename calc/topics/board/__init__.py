"""How to cut the raft: its boards, where the holes go, and whether it floats with a harvest on it."""

from __future__ import annotations

from ...data import foam as foams
from ...declare import Choice, Field, Result, Table, Verdict
from ...relations.base import PRACTICE
from . import afloat, cutting, notches, pots, stock
from .cutting import MOST_SITES, PLUGS, POTS, WHOLE
from ..verdicts.board import judge

NAME = "board"
TITLE = "Board"
QUESTION = "How do I cut the raft, where do the holes go, and will it float?"
VERDICT = Verdict("Raft", {"fits": "The raft floats.", "tight": "The raft is tight.", "fails": "The raft sinks.",
                           "open": "The raft needs an answer."})
NUMBERED = (("board.split", ("number",)),)
INVENTED = "an invented example; weigh your own"
FIELDS = (
    Field("board.holder", "choice", "Plants stand in", (POTS, POTS), choices=(
        Choice(POTS, "Net pots"), Choice(PLUGS, "Plugs straight in the board")),
        help="a plug is pressed into a hole of its own width", why="pots can be lifted out and moved"),
    Field("board.pot", "length", "Net pot size", ("2 in", "50 mm"), 0.01, 0.5, "in", "mm",
          help="as sold, or its width under the lip; without a pot, the plug's width",
          why="the usual pot for lettuce and herbs"),
    Field("board.thickness", "length", "Board thickness", ("1 1/2 in", "40 mm"), 0.005, 0.3, "in", "mm",
          help="of the foam board", why=f"stiff enough and sold everywhere; {PRACTICE}"),
    Field("board.clearance", "length", "Gap at each side", ("1/4 in", "6 mm"), 0.0, 0.2, "in", "mm",
          help="between the board and the wall of the bath, at the water line",
          why=f"enough to lift the board out, not enough to let much light in; {PRACTICE}"),
    Field("board.margin", "length", "Board edge to hole edge", ("1 1/2 in", "40 mm"), 0.0, 0.5, "in", "mm",
          help="kept at every edge of every board, so at each side of a seam too",
          why=f"as much foam as the board is thick; {PRACTICE}"),
    Field("board.spacing", "length", "Spacing, center to center", ("", ""), 0.02, 3.0, "in", "mm",
          help="no two holes come closer than this", optional=True,
          why=f"empty: what the crops chosen ask for; 8 in or 200 mm for leaf lettuce, {PRACTICE}"),
    Field("board.pattern", "choice", "Pattern of the holes", ("best", "best"), choices=(
        Choice("best", "Whichever gives the most sites"), Choice("square", "Square rows"),
        Choice("staggered", "Staggered rows")),
        help="staggered rows are shifted by half a step", why="the most sites for the water you have"),
    Field("board.notches", "choice", "Notches in the edge", (notches.FROM_PIPES, notches.FROM_PIPES), choices=(
        Choice(notches.FROM_PIPES, "For this plan's pipes and hoses"),
        Choice(notches.NO_NOTCHES, "None, or I cut my own")),
        help="where standpipe, fill hose and air hoses pass the board",
        why="from the pipes and hoses of this plan"),
    Field("board.wanted", "whole", "Sites wanted in each bath", ("", ""), 1, MOST_SITES, optional=True,
          help="empty: as many as fit; a number is spread as wide as it goes",
          why="empty: the most that fit"),
    Field("board.hole", "length", "Your own hole size", ("", ""), 0.005, 0.5, "in", "mm", optional=True,
          help="measured on your pot or saw; empty: worked out from the pot",
          why="empty: from the pot and the saws in stock"),
    Field("board.split", "choice", "Boards in one raft", ("auto", "auto"), choices=(
        Choice("auto", "As few as one person can lift"), Choice(WHOLE, "As few as the foam sheets allow"),
        Choice("number", "My own number of boards")),
        help="a round raft is split through its center", why="fewest seams"),
    Field("board.boards_along", "whole", "Boards along the length", ("1", "1"), 1, 100,
          help="side by side along the longer side of the bath", why="one whole board", when=NUMBERED),
    Field("board.boards_across", "whole", "Boards across the width", ("1", "1"), 1, 100,
          help="side by side across the bath", why="one whole board", when=NUMBERED),
    Field("board.max_length", "length", "Longest board to handle", ("4 ft", "120 cm"), 0.1, 60.0, "in", "cm",
          help="a longer board bends and drips when it is lifted full", why=PRACTICE),
    Field("board.max_mass", "mass", "Heaviest board to lift", ("25 lb", "11 kg"), 0.1, 500.0, "lb", "kg",
          help="with plants at harvest, at arm's length over the bath", why=PRACTICE),
    Field("board.foam", "choice", "Foam", ("XPS IV", "XPS IV"), choices=tuple(
        Choice(one.key, one.name, f"at least {one.density_kg_m3:g} kg/m³; takes up at most "
               f"{one.absorption:.1%} of its volume in water") for one in foams.FOAMS),
        help="the class is printed on the board", why=f"closed cells, hardly takes up water: {foams.SOURCE}"),
    Field("board.plant_mass", "mass", "Plant at harvest, each", ("", ""), 0.0, 20.0, "oz", "g",
          help="its top and its hanging roots; empty: from the crop", optional=True,
          why="empty: the crop's fresh mass, and a third more for wet roots: engineering judgment, no source"),
    Field("board.pot_mass", "mass", "Pot with wet plug, each", ("2 oz", "60 g"), 0.0, 20.0, "oz", "g",
          help="net pot, plug and the water held in it", why=INVENTED),
    *pots.FIELDS,
    Field("board.sheet_length", "length", "Foam sheet length", ("8 ft", "250 cm"), 0.1, 10.0, "in", "cm",
          help="as sold near you", why="a usual size of sheet"),
    Field("board.sheet_width", "length", "Foam sheet width", ("4 ft", "120 cm"), 0.1, 10.0, "in", "cm",
          help="as sold near you", why="a usual size of sheet; in some countries 60 cm"),
    Field("board.kerf", "length", "Width of the saw cut", ("1/8 in", "3 mm"), 0.0, 0.02, "in", "mm",
          help="foam lost to each cut; 0 for a knife", why=f"a hand saw or jigsaw; {PRACTICE}"),
)
TABLES = (
    Table("board.keepouts", "Places to keep free of holes", (
        Field("name", "text", "What is there"),
        Field("x", "length", "From the left", ("0", "0"), 0.0, 60.0, "in", "cm",
              help="along the length, from one corner of the opening at the water line"),
        Field("y", "length", "From the front", ("0", "0"), 0.0, 60.0, "in", "cm",
              help="across the width, from the same corner"),
        Field("length", "length", "Length", ("6 in", "15 cm"), 0.001, 60.0, "in", "cm"),
        Field("width", "length", "Width", ("6 in", "15 cm"), 0.001, 60.0, "in", "cm"),
    ), help="fill pipe, overflow, access hatch: rectangles that no hole may cut into; for a round bath measured from "
       "the corner of the square round it", why="none to begin with"),
)
RESULTS = (
    Result("board.raft_length", "length", "Whole raft, length", "in", "mm", 16),
    Result("board.raft_width", "length", "Whole raft, width", "in", "mm", 16),
    Result("board.notch_rows", "rows", "Notches in the edge"),
    Result("board.fall_to_wedge", "length", "The water may fall before the raft wedges", "in", "mm", 16),
    Result("board.diameter", "length", "Disc to cut, across", "in", "mm", 16),
    Result("board.length", "length", "Each board, length", "in", "mm", 16),
    Result("board.width", "length", "Each board, width", "in", "mm", 16),
    Result("board.count", "count", "Boards in each bath"),
    Result("board.pieces", "rows", "Boards, with their places"),
    Result("board.seams", "rows", "Seams between boards"),
    Result("board.hole_diameter", "length", "Hole diameter", "in", "mm", 16),
    Result("board.saw", "text", "Hole saw"),
    Result("board.layout", "text", "Pattern used"),
    Result("board.spacing_used", "length", "Spacing used, center to center", "in", "mm", 16),
    Result("board.sites", "count", "Sites in each bath"),
    Result("board.sites_per_board", "count", "Sites on the fullest board"),
    Result("board.holes", "rows", "Hole centers, from one corner of each board"),
    Result("board.area", "area", "Area of the boards of one bath", "ft2", "m2"),
    Result("board.site_density", "site_density", "Sites to an area of board", "/ft2", "/m2"),
    Result("board.cover", "ratio", "Share of the water covered", "%", "%"),
    Result("board.hole_share", "ratio", "Share of the board cut away by holes", "%", "%"),
    Result("board.web", "length", "Foam left between two holes", "in", "mm", 16),
    Result("board.load", "area_mass", "Plants and pots at harvest, on an area of board", "lb/ft2", "kg/m2"),
    Result("board.capacity", "area_mass", "Load that just sinks it, on an area of board", "lb/ft2", "kg/m2"),
    Result("board.mass", "mass", "Heaviest board at harvest, with plants", "lb", "kg"),
    Result("board.draught", "length", "How deep it floats at harvest", "in", "mm", 16),
    Result("board.freeboard", "length", "Foam above the water at harvest", "in", "mm", 16),
    Result("board.draught_soaked", "length", "How deep it floats when the foam is soaked", "in", "mm", 16),
    Result("board.edge_draught", "length", "How deep the low edge goes with one half harvested", "in", "mm", 16),
    Result("board.spare_load", "mass", "What a board can still carry at harvest", "lb", "kg"),
    *pots.RESULTS,
    Result("board.r_value", "text", "Insulation of the board"),
    Result("board.pieces_per_sheet", "count", "Boards out of one foam sheet"),
    Result("board.sheets", "count", "Foam sheets to buy, for all baths"),
    Result("board.waste", "ratio", "Foam left over", "%", "%"),
)
STEPS = (
    cutting.raft, cutting.hole, cutting.boards, notches.notches, notches.sinking, afloat.coverage,
    afloat.float_at_harvest, afloat.on_standpipe, afloat.heel, pots.depth_in_water, pots.medium,
    stock.stock, stock.workbench, judge,
)
