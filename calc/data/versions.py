"""What earlier versions of a plan meant, where it differs from today: one line for each change, none is ever removed.

Links and stored plans leave the defaults out, so a default that changes would change plans made before. Each released
version's defaults are therefore frozen in a table (``version_1.py``), and ``calc.history`` writes them out when a plan
of that version is opened.
"""

from __future__ import annotations

# The version that links, files and stored plans are written in. Raise it when a default changes after a release, and
# freeze the defaults of the version before (``python -m calc.history`` prints the module).
VERSION = 2

# Old key -> new key, of a field or of a whole table. Both are read, in plans of any version.
RENAMED: dict[str, str] = {}

# What a version before meant by a question that it did not ask yet, as (US, metric) text: needed where today's default
# says something else. By version, then key.
MEANT: dict[int, dict[str, tuple[str, str]]] = {
    1: {
        # It held every bath against the floor's allowance.
        "bath.stands_on": ("floor", "floor"),
        # Its boards had straight edges; their holes stay where they are.
        "board.notches": ("none", "none"),
        # Its inverter drew nothing for itself.
        "outage.inverter_idle": ("0 W", "0 W"),
    },
}

# Old key -> why it is no longer asked and what holds in its place.
GONE: dict[str, str] = {}
