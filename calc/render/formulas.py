"""Formulas as MathML, made from each relation's LaTeX when the site is built; without them, LaTeX is shown as code."""

from __future__ import annotations

import json
from functools import cache
from html import escape

from ..relations.base import Relation

_MATHML: dict[str, str] = {}


def load(mapping: dict[str, str]) -> None:
    """Take MathML by relation name."""
    _MATHML.clear()
    _MATHML.update(mapping)


@cache
def load_packaged() -> None:
    """Take the MathML that the build packed beside this file, if there is any: with the first formula, not before."""
    from importlib import resources
    packed = resources.files(__package__).joinpath("formulas.json")
    if packed.is_file():
        load(json.loads(packed.read_text(encoding="utf-8")))


def formula(relation: Relation) -> str:
    """The relation's formula as HTML."""
    if not _MATHML:
        load_packaged()
    return _MATHML.get(relation.name) or f"<code>{escape(relation.formula)}</code>"
