"""What the bath yields, as a short list of figures: what was cut, and what each head and each kWh came to."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape
from typing import Any

from ...figures import number


def table(found: Mapping[str, Any]) -> str:
    """The figures of ``calc.keeping.harvests.as_json``, over how many days, and where each is from."""
    rows = "".join(f'<div data-yield="{escape(one["code"])}"><dt>{escape(one["label"])}</dt>'
                   f'<dd>{escape(one["words"])}</dd></div>' for one in found["rows"])
    days = number(round(found["days"]), 3)
    return f'<dl class="gains">{rows}</dl><p class="note">Over {days} days. {escape(found["note"])}</p>'
