"""What the pH topic shows beside its rows of answers: the curve of pH against mL, the doses, and the drift."""

from __future__ import annotations

from ...data import acids
from ...solve import Design
from .. import chart
from ..pieces import figure, rows_table

ML = 1e6


def _ml(design: Design, value: float) -> str:
    return design.shown_as("acidity.volume", value)


def _curve(design: Design) -> str:
    rows = design.value("acidity.titration") or []
    settled = design.value("acidity.titration_in_air") or []
    series = [chart.Line(words, [(row["volume"] * ML, row["ph"]) for row in found]) for words, found in (
        ("just after mixing", rows), ("once carbon dioxide has left, after days", settled)) if found]
    volume, target = design.value("acidity.volume"), design.value("acidity.target_ph")
    mark = None
    if volume:
        mark = (volume * ML, target, f"pH {target:g} at {_ml(design, volume)}")
    return figure(lambda wide: chart.lines(series, f"mL of: {design.value('acidity.product')}", "pH",
                                           "pH against product poured", mark=mark, y_least=None, wide=wide),
                  "The flat part is alkalinity being used up; then the pH falls fast. Carbon dioxide that "
                  "leaves later lifts it again.")


def extra(design: Design) -> str:
    """Titration curve, doses in halves and the drift of a day."""
    doses = [{"share": row["share"], "volume": _ml(design, row["volume"]), "poured": _ml(design, row["poured"]),
              "ph": f"{row['ph']:.1f}"} for row in design.value("acidity.doses") or []]
    drift = [{"case": row["case"], "eaten": f"{row['eaten']:+.1f} meq", "charge": f"{row['all']:+.1f} meq",
              "ph": f"{row['ph']:.1f}",
              "volume": "" if row["volume"] is None else _ml(design, row["volume"])}
             for row in design.value("acidity.drift") or []]
    shown = rows_table("Doses: pour, mix, wait, measure, and stop when the meter says so",
                       [("share", "Dose"), ("volume", "Pour"), ("poured", "Poured in all"), ("ph", "pH expected")],
                       doses) if doses else ""
    tables = ""
    if drift:
        tables = rows_table("A day's drift, in meq for the whole bath. Low and high are far apart because "
                            "little is known",
                            [("case", "Guess"), ("eaten", "From what plants eat"),
                             ("charge", "With the alkalinity of the top-up"), ("ph", "pH a day later"),
                             ("volume", "Acid to undo it")], drift)
        tables = (f'<details class="more" data-keep="acidity-drift">'
                  "<summary>How the pH drifts as plants eat and you top up</summary>"
                  f"{tables}<p>{acids.DRIFT_SOURCE[:1].upper()}{acids.DRIFT_SOURCE[1:]}.</p></details>")
    return _curve(design) + shown + tables
