"""Several baths on one reservoir: a header with a branch to each, so that each gets its part of the flow."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from ..data.fittings import (
    BALL_VALVES,
    EXIT_K,
    SMOOTH_ROUGHNESS_M,
    TEE_RUN_K,
    TEES,
    mains,
    nearest_size,
)
from ..declare import Field, Result, only_when
from ..relations import overflow, pipe
from ..relations import water as water_physics
from . import scheme

if TYPE_CHECKING:
    from ..sheet import Sheet

# Friction in smooth pipe grows with this power of the flow (Blasius).
SMOOTH_EXPONENT = 1.75
# Handbooks of chemical engineering ask that a branch lose ten times what the header does, for 5 % between the branches.
BRANCH_OVER_HEADER = 10.0
EVEN_SOURCE = ("a branch that loses ten times what the header does keeps all branches within 5 %: a rule of chemical "
               "engineering handbooks, from memory, not verified; the 5 % follow from the root of 1.1")
HALF_FULL_SOURCE = ("a round pipe running half full carries half of what it carries full at the same fall (Manning's "
                    "equation: same hydraulic radius, half the area)")

FIELDS = only_when(scheme.SEVERAL, (
    Field("circulation.header_bore", "length", "Header bore", ("2 in", "50 mm"), 0.005, 0.5, "in", "mm",
          help="inside diameter of the pipe that runs past all the baths",
          why="engineering judgment: a pipe much wider than a branch, so that the far baths get as much as the near"),
    Field("circulation.header_step", "length", "Header between two baths", ("4 ft", "1.2 m"), 0.01, 100.0, "ft",
          "m", help="from one branch to the next; as much leads to the first",
          why="an invented example; measure your own"),
    Field("circulation.branch_bore", "length", "Branch bore", ("1/2 in", "13 mm"), 0.002, 0.5, "in", "mm",
          help="inside diameter of the hose from the header to each bath",
          why="narrow beside the header, which evens out the flow: engineering judgment"),
    Field("circulation.branch_length", "length", "Length of one branch", ("3 ft", "1 m"), 0.01, 100.0, "ft", "m",
          help="from the header to the end of the hose in the bath", why="an invented example; measure your own"),
    Field("circulation.main_fall", "length", "Fall of the return main", ("6 in", "15 cm"), 0.01, 50.0, "in", "cm",
          help="from its end at the farthest bath down to the reservoir",
          why="an invented example; measure your own"),
    Field("circulation.main_length", "length", "Length of the return main", ("20 ft", "6 m"), 0.01, 500.0, "ft", "m",
          help="from the farthest bath to the reservoir; it gathers all drains",
          why="an invented example; measure your own"),
))

RESULTS = (
    Result("circulation.branch_flow", "flow", "Flow into each bath", "gph", "L/h"),
    Result("circulation.header_loss", "length", "Head lost along the header", "ft", "m"),
    Result("circulation.branch_loss", "length", "Head lost in each branch", "ft", "m"),
    Result("circulation.branch_spread", "ratio", "The nearest bath gets more than the farthest, valves all open, by",
           "%", "%"),
    Result("circulation.header_words", "text", "Header size"),
    Result("circulation.header_length", "length", "Header pipe, all of it", "ft", "m"),
    Result("circulation.branches_length", "length", "Hose for all branches together", "ft", "m"),
    Result("circulation.main_flow", "flow", "Flow the return main must take, all baths together", "gph", "L/h"),
    Result("circulation.main_pipe", "text", "Return main, as sold"),
    Result("circulation.main_capacity", "flow", "What that main takes, running half full", "gph", "L/h"),
)


@dataclass(frozen=True)
class Fan:
    """A header with equal branches: sizes in m, and the loss coefficient of one branch with tee, valve and exit."""

    baths: int
    header_bore: float
    step: float
    branch_bore: float
    branch_length: float
    branch_k: float

    def header_head(self, flow: float, density: float, viscosity: float) -> float:
        """Head in m lost along the header, from the hose to the farthest branch, at a flow (m3/s) into it."""
        full = pipe.friction_head(flow_m3_s=flow, bore_m=self.header_bore, length_m=self.baths * self.step,
                                  roughness_m=SMOOTH_ROUGHNESS_M, density_kg_m3=density, viscosity_pa_s=viscosity)
        return (pipe.outlets_factor(outlets=self.baths, exponent=SMOOTH_EXPONENT) * full
                + pipe.fitting_head(velocity_m_s=pipe.velocity(flow_m3_s=flow, bore_m=self.header_bore),
                                    k_sum=self.run_k))

    @property
    def run_k(self) -> float:
        """Loss of the run through all tees but the last, in velocity heads at the header's inlet.

        The speed falls by an equal step at each tee: the sum of squares of 1/N to (N-1)/N.
        """
        return TEE_RUN_K * (self.baths - 1) * (2 * self.baths - 1) / (6 * self.baths)

    def branch_head(self, flow: float, density: float, viscosity: float) -> float:
        """Head in m lost in one branch, its valve fully open, when ``flow`` (m3/s) goes into all of them."""
        each = flow / self.baths
        friction = pipe.friction_head(flow_m3_s=each, bore_m=self.branch_bore, length_m=self.branch_length,
                                      roughness_m=SMOOTH_ROUGHNESS_M, density_kg_m3=density, viscosity_pa_s=viscosity)
        speed = pipe.velocity(flow_m3_s=each, bore_m=self.branch_bore)
        return friction + pipe.fitting_head(velocity_m_s=speed, k_sum=self.branch_k)

    def uneven(self, flow: float, density: float, viscosity: float) -> float:
        """Head in m by which the first and the last branch can differ: header loss, and the speed it gives back."""
        speed = pipe.velocity(flow_m3_s=flow, bore_m=self.header_bore)
        return self.header_head(flow, density, viscosity) + pipe.fitting_head(velocity_m_s=speed, k_sum=1.0)


def fan_of(sheet: Sheet, header_bore: float | None = None) -> Fan | None:
    """The header and branches of the plan; ``None`` with one bath."""
    if sheet["bath.count"] == 1:
        return None
    bore = sheet["circulation.branch_bore"]
    k_sum = nearest_size(bore, TEES).k + nearest_size(bore, BALL_VALVES).k + EXIT_K
    return Fan(sheet.whole("bath.count"), header_bore or sheet["circulation.header_bore"],
               sheet["circulation.header_step"],
               bore, sheet["circulation.branch_length"], k_sum)


def inlet_bore(sheet: Sheet) -> float:
    """Bore of the hose that ends in a bath."""
    return float(sheet["circulation.branch_bore" if sheet["bath.count"] > 1 else "circulation.hose_bore"])


def even(sheet: Sheet) -> None:
    """Whether the far baths get as much as the near ones."""
    if sheet["bath.count"] == 1 or not scheme.pumps_water(sheet):
        return
    baths, flow = sheet["bath.count"], sheet.result("circulation.flow")
    temperature = sheet["water.temperature"]
    fluid = (water_physics.water_density(temperature_c=temperature),
             water_physics.water_viscosity(temperature_c=temperature))
    fan = fan_of(sheet)
    assert fan is not None
    sheet.put("circulation.branch_flow", flow / baths, note="Flow, running, shared equally among the baths.")
    sheet.put("circulation.header_length", baths * fan.step, note="From the hose past every bath.")
    sheet.put("circulation.branches_length", baths * fan.branch_length, note="One branch to each bath.")
    sheet.put("circulation.header_loss", fan.header_head(flow, *fluid), pipe.outlets_factor,
              {"outlets": baths, "exponent": SMOOTH_EXPONENT},
              note="That share of the friction with all the flow to the end, and the run through the tees.")
    branch = fan.branch_head(flow, *fluid)
    sheet.put("circulation.branch_loss", branch, note="Friction, tee, valve fully open and exit, at its part of the "
              "flow.")
    uneven = fan.uneven(flow, *fluid)
    spread = sheet.work("circulation.branch_spread", pipe.branch_spread, header_m=uneven, branch_m=branch)
    shown = sheet.shown("circulation.branch_spread")
    if branch >= BRANCH_OVER_HEADER * uneven:
        words = f"Wide enough: with all valves open the nearest bath gets {shown} more than the farthest."
    else:
        wide = next((size for size in mains(sheet.system) if size.bore_m > fan.header_bore
                     and branch >= BRANCH_OVER_HEADER * _with(sheet, size.bore_m).uneven(flow, *fluid)), None)
        advice = f"take {wide.name} or wider" if wide else "no pipe on the list is wide enough: take narrower branches"
        words = (f"Narrow: with all valves open the nearest bath gets {shown} more than the farthest; for 5 % or "
                 f"less, {advice}.")
        sheet.caution("header-narrow", "warning" if spread > 0.25 else "note", f"Header {words[0].lower()}{words[1:]}",
                      lead="Narrow header",
                      brief=f"The nearest bath gets {shown} more than the farthest, all valves open.")
    sheet.put("circulation.header_words", words, note="A branch should lose ten times what the header does.",
              source=EVEN_SOURCE)
    sheet.caution("branch-valves", "note",
                  "Several baths: start with all branch valves open, then close the nearest bit by bit until each bath "
                  f"fills a jug in the same time, {sheet.shown('circulation.branch_flow')} each. Leave the farthest "
                  "open.", lead="Set the branches",
                  brief="Close the nearest valve bit by bit until each bath gets "
                        f"{sheet.shown('circulation.branch_flow')}.")


def _with(sheet: Sheet, header_bore: float) -> Fan:
    fan = fan_of(sheet, header_bore)
    assert fan is not None
    return fan


def return_main(sheet: Sheet) -> None:
    """The pipe that gathers the drains of all baths: never more than half full, so that air goes along."""
    if sheet["bath.count"] == 1 or not scheme.pumps_water(sheet):
        return
    fall, length = sheet["circulation.main_fall"], sheet["circulation.main_length"]
    if length < fall * (1 - 1e-9):
        sheet.fault("circulation.main_length", "Length of the return main is shorter than its fall: enter "
                                               f"{sheet.show(fall, 'length', 'ft', 'm')} or more.",
                    {"circulation.main_fall": ""})
    flow = sheet.result("circulation.flow_open")
    sheet.put("circulation.main_flow", flow, note="All that the pump gives with its valve fully open.")
    temperature = sheet["water.temperature"]
    fluid = {"roughness_m": SMOOTH_ROUGHNESS_M, "density_kg_m3": water_physics.water_density(temperature_c=temperature),
             "viscosity_pa_s": water_physics.water_viscosity(temperature_c=temperature)}
    for size in mains(sheet.system):
        arguments = {"fall_m": fall, "bore_m": size.bore_m, "length_m": length, "k_sum": 0.0, **fluid}
        half = 0.5 * overflow.gravity_drain_flow(**arguments)
        if half >= flow:
            break
    else:
        sheet.caution("main-too-small", "danger",
                      f"The return main is too small: it must take {sheet.shown('circulation.main_flow')}, and even "
                      f"{size.name} takes {sheet.shown_as('circulation.main_flow', half)} half full. Give it more "
                      "fall, use two mains, or pump less.", lead="Return main too small",
                      brief=f"It must take {sheet.shown('circulation.main_flow')}, more than the widest pipe does "
                            "half full.")
        return
    sheet.put("circulation.main_pipe", size.name, note="The smallest pipe on the list that stays half full or less.",
              source=size.source)
    sheet.put("circulation.main_capacity", half, overflow.gravity_drain_flow, arguments,
              note="Half of what the relation gives for the pipe running full.", source=HALF_FULL_SOURCE)
