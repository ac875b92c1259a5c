"""Small pictures of where to measure, one beside each question that decides; drawn in the hand of the large pictures.

What is asked for is the violet line; ink and water only show where it lies. A question that has no picture of its own
gets the one of its kind. All of it says nothing to who cannot see it: the label and the hint say the same in words.
"""

from __future__ import annotations

from ..plan import FIELDS, TABLES

# The shapes that many pictures share; 44 wide, 32 tall.
_TOTE = "M6 8h4l3 19h18l3-19h4"
_BIN = "M11 7h3l1.5 20h13L30 7h3"
_PLATE = '<path class="ink" d="M6 9h26v17H6zM10 26v3M28 26v3"/><path class="dim" d="M11 14h16M11 18h16M11 22h9"/>'


def _ink(path: str) -> str:
    return f'<path class="ink" d="{path}"/>'


def _water(path: str) -> str:
    return f'<path class="water" d="{path}"/>'


def _mark(path: str) -> str:
    return f'<path class="dim" d="{path}"/>'


def _across(x1: float, x2: float, y: float) -> str:
    """A level dimension line."""
    return _mark(f"M{x1} {y}H{x2}M{x1 - 2} {y + 2}l4-4M{x2 - 2} {y + 2}l4-4")


def _up(x: float, y1: float, y2: float) -> str:
    """An upright dimension line."""
    return _mark(f"M{x} {y1}V{y2}M{x - 2} {y1 + 2}l4-4M{x - 2} {y2 + 2}l4-4")


def _tote(level: int = 13, more: str = "") -> str:
    """The bath, cut through, with water up to ``level``."""
    inset = 10 + 3 * (level - 8) / 19
    return _water(f"M{inset:.1f} {level}H{44 - inset:.1f}L31 27H13z") + _ink(_TOTE) + more


def _bin(level: int = 14, more: str = "") -> str:
    """The reservoir, cut through, with water up to ``level``."""
    return _water(f"M14.6 {level}h14.8L28.5 27h-13z") + _ink(_BIN) + more


def _from_above(inner: bool, more: str) -> str:
    return _ink("M7 5h30v22H7z" + ("M12 9h20v14H12zM7 5l5 4M37 5l-5 4M7 27l5-4M37 27l-5-4" if inner else "")) + more


def _discs(radii: tuple[float, ...], more: str) -> str:
    return "".join(f'<circle class="ink" cx="22" cy="16" r="{radius}"/>' for radius in radii) + more


def _bottle(more: str) -> str:
    return _ink("M18 4h8v5l4 5v14H14V14l4-5z") + more


def _board(holes: str, more: str = "") -> str:
    """A board from above; ``holes`` is a path of circles and crosses."""
    return '<path class="foam" d="M5 6h34v20H5z"/>' + _ink(holes) + more


def _hole(x: float, y: float, radius: float = 4.0) -> str:
    return (f"M{x - radius} {y}a{radius} {radius} 0 1 0 {2 * radius} 0a{radius} {radius} 0 1 0 {-2 * radius} 0"
            f"M{x - 1.5} {y}h3M{x} {y - 1.5}v3")


def _clock(more: str = "") -> str:
    return '<circle class="ink" cx="22" cy="16" r="12"/>' + _mark("M22 9v7l5 3") + more


def _thermometer(more: str = "") -> str:
    return (_ink("M19.5 18.5V6a2.5 2.5 0 0 1 5 0v12.5a5 5 0 1 1-5 0z") + _mark("M22 12v11") + _ink("M28 7h3M28 12h3M28 "
            "17h3") + more)


def _leaf(more: str = "") -> str:
    return ('<path class="leaf" d="M22 18c-9-1-10-8-9-11 5 0 9 4 9 11zM22 18c9-1 10-8 9-11-5 0-9 4-9 11z"/>'
            + _ink("M16 18h12l-2 10h-8z") + more)


def _bag(more: str = "") -> str:
    return _ink("M15 7h14l4 21H11zM15 7l2-3h10l2 3") + more


def _meter(more: str = "") -> str:
    return _ink("M15 3h14v17l-4 5v4h-6v-4l-4-5z") + _mark("M18 8h8v5h-8z") + more


def _lamp(more: str = "") -> str:
    return _ink("M8 8h28l-3 5H11zM22 3v5") + _mark("M14 17l-2 7M22 17v8M30 17l2 7") + more


def _calendar(more: str = "") -> str:
    return _ink("M10 7h24v21H10zM10 12h24M16 4v5M28 4v5") + more


def _pipe(more: str = "") -> str:
    """A standpipe under a film of water."""
    return _water("M5 9h34v19H5z") + '<path class="foam" d="M17 16h10v14H17z"/>' + more


def _scale(more: str = "") -> str:
    return _ink("M8 25h28v4H8zM12 21h20M22 21v4") + more


def _plain(more: str) -> str:
    return _ink("M11 5h22v22H11z") + more


_LINES = _mark("M15 11h14M15 16h14M15 21h9")
_COIL = "M6 22c0-14 10-14 10-6s-9 8-9 2 12-8 14 0 12 4 16-6"
_SLOPE = "M6 9l28 8M6 13l28 8"
_TWO = _ink("M5 9h2l1 9h9l1-9h2M25 9h2l1 9h9l1-9h2")
_RAYS = "M22 3v4M22 25v4M9 16h4M31 16h4M12.8 6.8l2.8 2.8M28.4 22.4l2.8 2.8M31.2 6.8l-2.8 2.8M15.6 22.4l-2.8 2.8"
_SUN = '<circle class="ink" cx="22" cy="16" r="6"/>' + _mark(_RAYS)
_GROUND = "M3 28h38M8 28l-3 3M16 28l-3 3M24 28l-3 3M32 28l-3 3M40 28l-3 3"
_BOLT = _mark("M24 4l-8 13h6l-3 11 9-14h-6z")
_ROW = _hole(13, 16) + _hole(31, 16)
_GRID = _hole(12, 11, 3) + _hole(22, 11, 3) + _hole(32, 11, 3) + _hole(12, 21, 3) + _hole(22, 21, 3) + _hole(32, 21, 3)

_DRAWN: dict[str, str] = {
    # The bath and the reservoir.
    "water.scheme": _water("M11.5 7h21l-.5 5H12zM17 22h10l-.5 7h-9z") + _ink("M8 4h3l1 8h20l1-8h3M15 19h2l.6 10h8.8L27 "
                                                                         "19h2M10 12v17M34 12v17")
                    + _mark("M24 27V16h12V6h-4"),
    "bath.shape": _ink("M4 8h2l2 16h10l2-16h2") + '<circle class="ink" cx="32" cy="16" r="8.5"/>' + _mark("M13 12v8"),
    "bath.length": _tote(13, _across(10, 34, 4)),
    "bath.width": _from_above(False, _up(22, 5, 27)),
    "bath.base_length": _tote(13, _across(13, 31, 30)),
    "bath.base_width": _from_above(True, _up(22, 9, 23)),
    "bath.diameter": _discs((13,), _across(9, 35, 16)),
    "bath.base_diameter": _discs((13, 9), _across(13, 31, 16)),
    "bath.depth": _tote(13, _up(22, 8, 27)),
    "bath.water_depth": _tote(13, _up(22, 13, 27)),
    "bath.known_volume": _tote(13, _mark("M10.8 13h22.4M22 3v6l-2-2M22 9l2-2")),
    "bath.known_depth": _tote(13, _up(22, 13, 27)),
    "reservoir.shape": _bin(14, _mark("M19 20h6")),
    "reservoir.length": _bin(14, _across(14, 30, 3)),
    "reservoir.width": _from_above(False, _up(22, 5, 27)),
    "reservoir.base_length": _bin(14, _across(15.5, 28.5, 30)),
    "reservoir.base_width": _from_above(True, _up(22, 9, 23)),
    "reservoir.diameter": _discs((13,), _across(9, 35, 16)),
    "reservoir.base_diameter": _discs((13, 9), _across(13, 31, 16)),
    "reservoir.depth": _bin(14, _up(22, 7, 27)),
    "reservoir.water_depth": _bin(14, _up(22, 14, 27)),
    "reservoir.known_volume": _bin(14, _mark("M14.6 14h14.8")),
    "reservoir.known_depth": _bin(14, _up(22, 14, 27)),
    "reservoir.brim_volume": _bin(7, _mark("M14 7h16")),
    "bath.count": _TWO + _mark("M10 24h24M10 22v4M34 22v4"),
    "bath.fill": _tote(13, _mark("M4 27V4h11v7l-2-2M15 11l2-2")),
    "bath.inlet_height": _tote(13, _ink("M30 20h8M30 23h8") + _up(22, 23, 27)),
    "bath.film": _pipe(_up(33, 9, 16) + _ink("M27 16h8")),
    "bath.tank_mass": _ink("M9 5h3l2 12h16l2-12h3") + _scale(_mark("M17 27h10")),
    "bath.legs": _ink("M8 4h3l1 9h20l1-9h3M7 13h30") + _mark("M11 13v15M33 13v15"),
    "bath.stands_on": _ink("M8 5h3l3 18h16l3-18h3") + _mark(_GROUND),
    "bath.floor_allowance": _ink("M4 20h36v3H4zM9 23v6M18 23v6M27 23v6M36 23v6") + _mark("M22 4v12l-4-4M22 16l4-4"),
    "bath.room_area": _ink("M5 4h34v24H28M16 28H5V4") + '<path class="water" d="M10 9h10v7H10z"/>'
                      + _mark("M8 22h28M32 7v18"),
    "water.temperature": _thermometer(),
    # Water up and back.
    "circulation.lift": _water("M6 21h14v8H6z") + _ink("M4 15v14h18V15M24 13h16M27 13V6h11v7M13 25V3h19v4")
                        + _mark("M23 3h-2M24 21h-4") + _up(22, 3, 21),
    "circulation.hose_bore": _discs((12, 8), _across(14, 30, 16)),
    "circulation.header_bore": _discs((12, 8), _across(14, 30, 16)),
    "circulation.branch_bore": _discs((10, 6), _across(16, 28, 16)),
    "circulation.hose_length": _ink(_COIL) + _across(6, 37, 29),
    "circulation.header_step": _TWO + _ink("M4 5h36") + _across(12, 32, 25),
    "circulation.branch_length": _ink("M4 6h36M22 6v9h9v10") + _mark("M25 6v6h9v13"),
    "circulation.main_fall": _ink(_SLOPE) + _up(39, 9, 21) + _mark("M6 9h30"),
    "circulation.main_length": _ink(_SLOPE) + _across(6, 34, 28),
    "circulation.drain_fall": _ink("M8 4v12h22v5M12 4v8h22v9") + _water("M22 25h20v4H22z") + _up(4, 4, 25),
    "circulation.drain_length": _ink("M8 4v12h22v5M12 4v8h22v9") + _mark("M10 4v10h22v11"),
    "circulation.rise": _pipe(_up(33, 9, 16) + _ink("M27 16h8")),
    "circulation.elbows": _ink("M8 24h14a8 8 0 0 0 8-8V4M8 28h16a10 10 0 0 0 10-10V4") + _mark("M22 24l5 5"),
    "circulation.elbow_kind": _ink("M8 20h14a6 6 0 0 0 6-6V4M8 28h18a8 8 0 0 0 8-8V4"),
    "circulation.tees": _ink("M5 18h34M5 26h12M27 26h12M17 26v4M27 26v4") + _mark("M12 22h10v8"),
    "circulation.turnover": _tote(14, _mark("M16 20a6 4 0 1 1 6 3l2 2M22 23l2-2")),
    "circulation.wanted_flow": _tote(14, _mark("M22 3v9M18 8l4 4 4-4")),
    "circulation.loading": _tote(14, _mark("M12 11h20l-3-3M32 11l-3 3")),
    "circulation.pump": _ink("M8 14h20v14H8z") + '<circle class="ink" cx="18" cy="21" r="4.5"/>'
                        + _mark("M28 17h6V5l-3 3M34 5l3 3"),
    "circulation.pumps": _PLATE + _mark("M19 9V2l-2 2M19 2l2 2M32 17h8l-2-2M40 17l-2 2"),
    "circulation.throttled": _ink("M4 16h10M30 16h10M14 10v12l16-12v12z") + _mark("M22 16V6M17 6h10"),
    "circulation.drains": _from_above(False, '<circle class="dim" cx="14" cy="16" r="3.5"/>'
                                             '<circle class="dim" cx="30" cy="16" r="3.5"/>'),
    "circulation.overflow_place": _tote(13, _mark("M27 13v17M30 13v17")),
    "circulation.blockage": _discs((12,), _mark("M11 13c6 2 8-2 12 1s6 0 10 1M12 20c5-2 8 2 11 0s5 0 9 0")),
    # The raft.
    "crops.rows": _leaf(), "oxygen.crop": _leaf(), "heat.crop": _leaf(),
    "board.pot": _ink("M12 9h20l-4 18H16zM15 15h14M16 21h12") + _across(12, 32, 4),
    "board.thickness": '<path class="foam" d="M5 12h26v10H5z"/>' + _up(37, 12, 22) + _mark("M33 12h7M33 22h7"),
    "board.clearance": _from_above(False, '<path class="foam" d="M12 9h20v14H12z"/>' + _mark("M3 16h4M16 16h-4M7 13v6"
                                                                                         "M12 13v6")),
    "board.margin": '<path class="foam" d="M7 5h40v30H7z"/>' + _ink(_hole(28, 18, 8)) + _across(7, 20, 18),
    "board.spacing": _board(_ROW, _across(13, 31, 29)),
    "board.hole": _board(_hole(22, 16, 7), _across(15, 29, 29)),
    "board.pattern": _board(_GRID), "board.wanted": _board(_GRID), "schedule.sites": _board(_GRID),
    "board.notches": '<path class="foam" d="M5 6h34v6h-7v8h7v6H5z"/>' + _mark("M39 12h-7v8h7"),
    "board.split": _board("M22 6v20", _mark("M22 3v26")),
    "board.boards_along": _board("M16.3 6v20M27.6 6v20", _across(5, 39, 29)),
    "board.boards_across": _board("M5 16h34", _up(41, 6, 26)),
    "board.holder": _board(_mark("M16 6h12l-2 14h-8z")),
    "board.max_length": _board("M9 12v8M35 12v8", _across(5, 39, 29)),
    "board.max_mass": '<path class="foam" d="M8 10h28v6H8z"/>' + _mark("M22 10V3l-3 3M22 3l3 3") + _scale(),
    "board.foam": '<path class="foam" d="M5 10h34v12H5z"/>' + _ink("M10 14h1M17 18h1M24 13h1M31 17h1M14 19h1M27 19h1"),
    "board.sheet_length": _board("", _across(5, 39, 29)),
    "board.sheet_width": _board("", _up(41, 6, 26)),
    "board.kerf": '<path class="foam" d="M4 10h15v12H4zM25 10h15v12H25z"/>' + _across(19, 25, 27),
    "board.plant_mass": _leaf(_mark("M8 30h28")), "board.pot_mass": _ink("M15 9h14l-3 12h-8z") + _scale(),
    "schedule.close_spacing": _board(_hole(17, 16) + _hole(27, 16), _across(17, 27, 29)),
    # Air and oxygen.
    "air.depth": _water("M4 6h36v24H4z") + _ink("M4 6h36") + '<path class="solid" d="M16 24h12v5H16z"/>'
                 + _up(22, 6, 24),
    "air.stone_height": _ink("M10 12h18v14H10zM19 12V4") + _up(36, 12, 26),
    "air.stone_area": _from_above(False, '<circle class="ink" cx="22" cy="16" r="3"/>' + _mark("M14 8h16v16H14z")),
    "air.stone_flow": _ink("M14 24h16v5H14z") + _mark("M19 18v.1M23 13v.1M20 8v.1M25 6v.1"),
    "air.pumps": _PLATE + _mark("M32 13h7l-2-2M39 13l-2 2"),
    "air.hose_bore": _discs((8, 4.5), _across(17.5, 26.5, 16)),
    "air.hose_length": _ink(_COIL) + _across(6, 37, 29),
    "air.aerated": _ink("M4 6h2l1 9h12l1-9h2M26 15h2l1 13h9l1-13h2") + _mark("M13 12v.1M15 9v.1M33 24v.1M35 20v.1"),
    "oxygen.reservoir_open": _from_above(False, _mark("M12 10h20v12H12z")),
    "oxygen.return_fall": _ink("M8 5h16v8") + _water("M4 24h36v6H4z") + _up(30, 13, 24),
    "oxygen.target": _tote(13, _mark("M18 22v.1M22 18v.1M26 22v.1M22 24v.1")),
    # Nutrients and pH.
    "feed.way": _bag(_mark("M17 14h10M17 19h10M17 24h6")),
    "acidity.alkalinity": _water("M18 14h8v12a2 2 0 0 1-2 2h-4a2 2 0 0 1-2-2z")
                          + _ink("M16 4h12M18 4v22a2 2 0 0 0 2 2h4a2 2 0 0 0 2-2V4") + _mark("M22 18v6M19 21h6"),
    "acidity.start_ph": _meter(), "acidity.target_ph": _meter(_mark("M34 4l3 3 5-6")), "today.ph": _meter(),
    "acidity.acid": _bottle(_mark("M17 19h10M17 23h10")), "acidity.base": _bottle(_mark("M17 21h10M22 16v10")),
    "acidity.strength_percent": _bottle(_mark("M25 16l-6 10M19 18v.1M25 24v.1")),
    "acidity.strength_by": _bottle(_mark("M17 19h10M17 23h6")), "acidity.base_percent": _bottle(_mark("M25 16l-6 10")),
    "feed.scale": _scale(_mark("M18 27h8")),
    # Light and warmth.
    "light.by": _lamp(), "light.have": _lamp(), "light.lamp_power": _lamp(_mark("M38 22v6M35 25h6")),
    "light.hours": _clock(), "light.sun": _SUN, "place.sun": _SUN, "place.sun_strength": _SUN,
    "place.setting": _ink("M6 16L22 4l16 12M10 14v14h24V14") + _mark("M18 28v-8h8v8"),
    "place.altitude": _ink("M3 28l12-17 6 8 6-10 12 19z") + _up(40, 9, 28),
    "place.reservoir": _bin(14, _mark(_GROUND)),
    "light.ppfd_reading": _meter(), "light.lux_reading": _meter(),
    # Running it.
    "energy.tariff": _ink("M13 3h18v26l-3-2-3 2-3-2-3 2-3-2-3 2z") + _mark("M24 7l-5 7h5l-3 7"),
    "energy.currency": _plain(_mark("M22 9v14M26 12h-6a2 2 0 0 0 0 4h4a2 2 0 0 1 0 "
                                                                    "4h-6")),
    "outage.hours": _clock(_ink("M36 4l-4 6h4l-3 6")), "outage.what": _BOLT, "outage.voltage": _ink("M8 10h28v18H8zM13 "
        "10V6h5v4M26 10V6h5v4") + _mark("M13 18h5M26 18h5M28.5 15.5v5"),
    "outage.own_charge": _ink("M8 10h28v18H8zM13 10V6h5v4M26 10V6h5v4") + _mark("M13 18h5M26 18h5M28.5 15.5v5"),
    "outage.backup": _ink("M8 10h28v18H8zM13 10V6h5v4M26 10V6h5v4") + _mark("M13 18h5M26 18h5M28.5 15.5v5"),
    "use.fall": _bin(11, _ink("M14.9 19h14.2") + _up(22, 11, 19)),
    "use.holiday": _calendar(_mark("M15 20h14l-3-3M29 20l-3 3")),
    "schedule.start": _calendar(_mark("M15 16h5v5h-5z")), "schedule.weeks": _calendar(_mark("M14 17h16M14 21h16M14 "
                                                                                          "25h9")),
    # Shop.
    "parts.copies": _ink("M6 11h18v18H6z") + _mark("M12 11V4h22v18h-7"),
    "parts.spare_share": _plain(_mark("M22 10v12M16 16h12")),
    "parts.years": _calendar(_mark("M15 20h14l-3-3M29 20l-3 3")),
    "parts.prices": _plain(_LINES), "parts.own_lines": _plain(_LINES + _mark("M32 22v8M28 26h8")),
    "parts.owned": _plain(_mark("M15 16l5 5 9-10")),
}

# What a question without a picture of its own shows, by its kind.
_OF_KIND: dict[str, str] = {
    "length": _ink("M5 12h34v8H5zM11 12v3M17 12v3M23 12v3M29 12v3M35 12v3") + _across(5, 39, 26),
    "area": _from_above(False, _mark("M12 10h20v12H12z")), "volume": _bin(14, _mark("M14.6 14h14.8")),
    "temperature": _thermometer(), "time": _clock(), "clock": _clock(), "date": _calendar(_mark("M15 16h5v5h-5z")),
    "mass": _scale(_mark("M18 27h8")), "power": _BOLT, "voltage": _BOLT, "current": _BOLT, "tariff": _plain(_LINES),
    "conductivity": _meter(), "flow": _ink("M4 12h20M4 20h20") + _mark("M22 16h16l-4-4M38 16l-4 4"),
    "pressure": '<circle class="ink" cx="22" cy="17" r="11"/>' + _mark("M22 17l6-6"),
    "daily_light": _SUN, "photon_flux": _meter(), "illuminance": _meter(), "irradiance": _SUN,
    "concentration": _meter(), "alkalinity": _meter(), "ratio": _plain(_mark("M27 9L17 23M17 11v.1M27 21v.1")),
    "whole": _plain(_mark("M18 11l4-2v14M18 23h8")), "rows": _plain(_LINES),
}
_FALLBACK = _plain(_LINES)


def of(key: str) -> str:
    """The picture for a question, by its key: of this very size where there is one, else of its kind."""
    drawn = _DRAWN.get(key)
    if drawn is None:
        kind = FIELDS[key].kind if key in FIELDS else "rows" if key in TABLES else ""
        drawn = _OF_KIND.get(kind, _FALLBACK)
    return f'<svg class="pictogram" viewBox="0 0 44 32" aria-hidden="true">{drawn}</svg>'

