"""An invented club, marked so wherever it shows: six who build four baths of the example and a longer one."""

from __future__ import annotations

from typing import Any

from .record import FORMAT, KIND

NAME = "Millrace growers (invented)"
CLUB: dict[str, Any] = {
    "kind": KIND, "format": FORMAT, "id": "invented", "name": NAME, "units": "us", "start": "2027-03-01", "weeks": "12",
    "on_duty": "1", "shared_tools": True, "extra": "18.50",
    "members": [{"id": f"m{at}", "name": name} for at, name in enumerate(
        ("Ana", "Bram", "Cleo", "Dov", "Edda", "Femi"), 1)],
    "baths": [
        {"id": "b1", "name": "Tote by the wash-house", "count": "4", "plan": {}, "version": 2},
        {"id": "b2", "name": "Long box on the bench", "count": "1", "version": 2, "plan": {
            "bath.length": "72 in", "bath.width": "24 in", "bath.depth": "12 in", "bath.water_depth": "10 in"}},
    ],
    # All that this club pays for a line; invented.
    "prices": {
        "Bath, opaque|48 x 24 x 12 in inside": "120", "Stand for the bath|carries 435 lb, 109 lb on each leg": "88",
        "Reservoir, opaque, with a cover|holds 26 gal to the brim": "95", "Hole saw|1 7/8 in": "14",
        "Goggles, dust mask, gloves|for saw, salts and acid": "54",
        "Foam sheet|96 in x 48 in, 1 1/2 in thick, class XPS IV": "140",
        "Bath, opaque|72 x 24 x 12 in inside": "46", "Stand for the bath|carries 643 lb, 161 lb on each leg": "31",
        "Water hose|3/4 in bore, opaque": "42", "Hose clamp|for hose of 3/4 in bore, to close on its outside": "7.50",
        "Air hose|3/8 in bore": "24", "GFCI (RCD) outlet|for every plug of the bath": "110",
        "Bottle A (invented)|for the first fill": "26", "Bottle B (invented)|for the first fill": "26",
        "pH meter|with its check liquids": "48", "EC meter|with its check liquid": "39",
        "Net pot|2 in across, all of one make": "30", "Leaf lettuce, seed|for the whole calendar": "9",
    },
}
