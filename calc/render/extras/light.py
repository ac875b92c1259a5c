"""What the light topic shows beside its rows of answers."""

from __future__ import annotations

from ... import units
from ...solve import Design
from ..pieces import rows_table


def extra(design: Design) -> str:
    """The factors behind the sums."""
    return _tables(design)


def _tables(design: Design) -> str:
    factors = [{"source": row["source"], "lux": units.number(row["lux"]), "umol": f"{row['umol']:.4f}",
                "range": f"{row['low']:.0f} to {row['high']:.0f}", "from": row["from"]}
               for row in design.value("light.factors") or []]
    lamps = [{"lamp": row["lamp"], "from": row["from"],
              "efficacy": " to ".join(dict.fromkeys(f"{row[end]:.2f}" for end in ("low", "high")))}
             for row in design.value("light.efficacies") or []]
    text = "".join(rows_table(caption, columns, rows) for caption, columns, rows in (
        ("What a lux is worth", [("source", "Light"), ("lux", "Lux for 1 µmol/m²/s"), ("range", "Range seen"),
                                 ("umol", "µmol/m²/s for 1 lux"), ("from", "Source")], factors),
        ("What lamps give for their power", [("lamp", "Lamp"), ("efficacy", "µmol/J"), ("from", "Source")], lamps),
    ) if rows)
    return (f'<details class="more" data-keep="light-tables"><summary>What a lux is worth, and what lamps '
            f"give</summary>{text}</details>") if text else ""
