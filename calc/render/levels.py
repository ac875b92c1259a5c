"""Where bath, reservoir and floor stand in the section, to one scale as far as the page allows; no lettering here."""

from __future__ import annotations

from math import isfinite, sqrt

from ..solve import Design
from .drawing import length_of, vessel

TALL_WIDE, TALL_NARROW = 290.0, 240.0
LOW_WIDE, LOW_NARROW, LEAST_ACROSS = 38.0, 32.0, 64.0
RESERVOIR_LEAST, RESERVOIR_LOW, RESERVOIR_TALL = 52.0, 46.0, 180.0
GAP_LEAST, GAP_MOST = 15.0, 150.0
BESIDE_WIDE, BESIDE_NARROW = 40.0, 28.0
LEGS = 46.0
# A reservoir that stands higher than the bath still stays within the drawing.
HEADROOM = 30.0
# Share of the reservoir's water at which the pump runs dry, where the plan does not say.
LEAST_SHARE = 0.3
UNKNOWN_GAP = 0.3


class Reservoir:
    """The reservoir as drawn: corners of its rim, its floor and its levels, in places of the drawing."""

    def __init__(self, left: float, wide: float, rim: float, tall: float, taper: float, level: float | None):
        self.left, self.right, self.rim, self.floor = left, left + wide, rim, rim + tall
        self.taper, self.share = taper, level
        self.tall = tall

    def y(self, share: float) -> float:
        """The place of a level as a share of the depth."""
        return self.floor - min(max(share, 0.0), 1.0) * self.tall

    def inset(self, y: float) -> float:
        """How far the wall stands in at a place down the drawing."""
        return self.taper * (y - self.rim) / self.tall


class Levels:
    """Where everything of the section stands; ``x`` and ``y`` turn metres from the rim's corner and the floor."""

    def __init__(self, design: Design, wide: bool, left: float, right: float, top: float, most_wide: float = 0.0):
        """``left`` to ``right`` is the room for the vessels; ``top`` the least place of the rim; ``most_wide`` what
        else is to be drawn to this scale, in metres, and has to fit."""
        length, base = vessel(design, "bath")
        depth = length_of(design, "bath.depth")
        if length is None or depth is None:
            raise ValueError("the bath has no size yet")
        self.design, self.length, self.base, self.depth = design, length, base or length, depth
        self.notes: list[str] = []
        self._water()
        self.legs = design.value("bath.legs") or 0
        self._reservoir_sizes()
        self._scale(wide, right - left, most_wide)
        self._stand(left, right, top)

    def _water(self) -> None:
        design = self.design
        water = length_of(design, "bath.water_depth")
        self.water = water if water is not None and water <= self.depth * (1 + 1e-9) else None
        self.thickness = length_of(design, "board.thickness")
        draught = design.value("board.draught")
        self.floats = (self.thickness is not None and self.water is not None and isinstance(draught, (int, float))
                       and isfinite(draught))
        self.sunk = min(max(draught, 0.0), self.water) if self.floats and self.water is not None else 0.0
        self.above = 0.0
        if self.floats and self.water is not None and self.thickness is not None:
            self.above = max(self.water + self.thickness - self.sunk - self.depth, 0.0)

    def _reservoir_sizes(self) -> None:
        """Sizes of the reservoir and how far its floor lies from the bath's, in metres."""
        design = self.design
        top, base = vessel(design, "reservoir")
        self.guessed = design.value("reservoir.shape") == "known volume"
        if self.guessed:
            held = length_of(design, "reservoir.known_volume")
            deep = length_of(design, "reservoir.known_depth") or length_of(design, "reservoir.water_depth")
            top = base = sqrt(held / deep) if held and deep else None
        depth = length_of(design, "reservoir.depth")
        self.has_reservoir = top is not None and depth is not None and design.value("water.scheme") in (
            None, "circulating")
        self.lift, self.lift_true, self.beside = length_of(design, "circulation.lift"), False, False
        if top is None or depth is None or not self.has_reservoir:
            return
        running = length_of(design, "reservoir.water_depth")
        self.r_top, self.r_base, self.r_depth = top, base or top, depth
        self.r_level = min(running / depth, 1.0) if running else None
        share = design.value("use.least")
        self.low_share = (self.r_level or 0.5) * (share if isinstance(share, float) and 0 <= share < 1
                                                  else LEAST_SHARE)
        self.fill = design.value("bath.fill") or "rim"
        self.inlet = self.depth if self.fill == "rim" else min(length_of(design, "bath.inlet_height") or 0.0,
                                                               self.depth)
        self.r_floor = (self.inlet - self.lift - self.low_share * depth if self.lift else -depth - UNKNOWN_GAP)
        self.beside = not self.legs or self.r_floor + depth > -0.03

    def _scale(self, wide: bool, room: float, most_wide: float) -> None:
        tall = TALL_WIDE if wide else TALL_NARROW
        self.between = BESIDE_WIDE if wide else BESIDE_NARROW
        across, high = self.length, self.depth + self.above
        if not self.has_reservoir:
            tall *= 0.7
        if self.has_reservoir:
            across = across + self.r_top if self.beside else max(across, self.r_top)
            high -= min(0.0, self.r_floor)
            high = max(high, self.r_floor + self.r_depth)
        room_across = room - (self.between if self.beside else 0.0)
        scale = min(room_across / across, tall / high)
        if most_wide:
            scale = min(scale, (180.0 if wide else 130.0) / most_wide)
        # A shallow bath would be a stroke: it is drawn larger, and its middle left out.
        low = min(LOW_WIDE if wide else LOW_NARROW, tall * self.depth / (self.depth + self.above))
        self.scale = self.across = max(scale, low / self.depth) if self.depth * scale < low else scale
        self.tall = tall

    def _stand(self, left: float, right: float, top: float) -> None:
        room = right - left
        wide = tall = 0.0
        if self.has_reservoir:
            wide, tall = self.r_top * self.scale, self.r_depth * self.scale
            most = room * 0.4 if self.beside else room * 0.94
            drawn = (min(max(wide, RESERVOIR_LEAST), most), min(max(tall, RESERVOIR_LOW), RESERVOIR_TALL))
            if abs(drawn[0] - wide) > 0.5 or abs(drawn[1] - tall) > 0.5:
                self.notes.append("Reservoir not to scale")
            elif self.guessed:
                self.notes.append("The reservoir's width is guessed from its volume")
            wide, tall = drawn
        bath_room = room - (wide + self.between if self.beside else 0.0)
        self.wide = self.length * self.scale
        self.broken = self.wide > bath_room * 1.001
        if self.broken:
            self.wide = bath_room
            self.notes.append("The middle of the bath's length is left out")
        elif self.wide < LEAST_ACROSS:
            self.wide = min(LEAST_ACROSS, bath_room)
            self.across = self.wide / self.length
            self.notes.append("Bath drawn longer than it is")
        together = self.wide + (wide + self.between if self.beside else 0.0)
        self.left = left + max((room - together) / 2, 0.0)
        self.right = self.left + self.wide
        self.rim = top + self.above * self.scale
        self.floor = self.rim + self.depth * self.scale
        # A taper wider than half of what is drawn would cross itself where a length is left out.
        self.slope = max(min((self.length - self.base) / 2 * self.across, self.wide * 0.4), -40.0)
        self.reservoir: Reservoir | None = None
        self.ground = self.floor + (LEGS if self.legs else 4.0)
        if self.has_reservoir:
            self._stand_reservoir(wide, tall)

    def _stand_reservoir(self, wide: float, tall: float) -> None:
        taper = max(min((self.r_top - self.r_base) / 2 * self.scale, wide * 0.3), -wide * 0.15)
        true_scale = abs(tall - self.r_depth * self.scale) < 0.5
        if self.beside:
            wished = self.floor - self.r_floor * self.scale
            bottom = min(max(wished, self.rim + tall * 0.4, tall + HEADROOM), self.floor + GAP_MOST)
            self.lift_true = bool(self.lift) and abs(bottom - wished) < 0.5 and true_scale
            rim, start = bottom - tall, self.right + self.between
            self.ground = self.floor + 4.0 if not self.legs else max(self.floor + LEGS * 0.3, bottom + 4.0)
        else:
            wished = -(self.r_floor + self.r_depth) * self.scale
            gap = min(max(wished, GAP_LEAST), GAP_MOST)
            self.lift_true = bool(self.lift) and abs(gap - wished) < 0.5 and true_scale
            rim = self.floor + gap
            start = (self.left + self.right) / 2 - wide / 2
            self.ground = rim + tall + 4.0
        if self.lift and not self.lift_true:
            self.notes.append("Height of the bath over the reservoir not to scale")
        self.reservoir = Reservoir(start, wide, rim, tall, taper, self.r_level)

    @property
    def lowest(self) -> float:
        """The lowest place of vessels and ground."""
        return max(self.ground, self.reservoir.floor + 4.0 if self.reservoir else 0.0)

    def y(self, height: float) -> float:
        """Place of a height above the bath's floor."""
        return self.floor - height * self.scale

    def x(self, along: float) -> float | None:
        """Place of a length along the rim; ``None`` where it falls in the part left out."""
        if not self.broken:
            return self.left + along * self.across
        half = self.wide / 2 - 10
        if along * self.across <= half:
            return self.left + along * self.across
        back = (self.length - along) * self.across
        return self.right - back if back <= half else None

    def inset(self, height: float) -> float:
        """How far the wall stands in from the rim's corner at a height above the floor."""
        return self.slope * (1 - min(max(height / self.depth, 0.0), 1.0))
