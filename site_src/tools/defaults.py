"""What the page's scripts need of calc's declarations to write links and files themselves, before Python is there."""

from __future__ import annotations

from typing import Any


def declared() -> dict[str, Any]:
    """Version, systems of units, and of each question and table: defaults as (US, metric), units of bare numbers."""
    from calc import units
    from calc.data.versions import VERSION
    from calc.plan import FIELDS, MADE_WITH, TABLES, UNITS

    def bare(field) -> list[str] | None:
        """The units that a bare number takes, where a change of system writes them onto it."""
        kind = units.KINDS.get(field.kind)
        if kind is None or field.kind in ("whole", "money", "tariff"):
            return None
        found = [field.us or kind.us, field.metric or kind.metric]
        return found if all(found) else None

    def question(field) -> dict[str, Any]:
        found: dict[str, Any] = {"default": list(field.default)}
        if field.follows:
            found["follows"] = list(field.follows)
        if field.transient:
            found["transient"] = True
        if written := bare(field):
            found["units"] = written
        return found

    return {
        "version": VERSION, "made_with": MADE_WITH,
        "systems": [[choice.value, choice.label] for choice in UNITS.choices],
        "fields": {key: question(field) for key, field in FIELDS.items()},
        "tables": {key: {"most": table.max_rows, "columns": [column.key for column in table.columns],
                         "rows": [{name: cell if isinstance(cell, str) else list(cell) for name, cell in row.items()}
                                  for row in table.rows],
                         "units": {column.key: written for column in table.columns if (written := bare(column))}}
                   for key, table in TABLES.items()},
    }
