"""Published physics, one short function each, with formula, units, range and source on the function."""

from . import air, electricity, floating, geometry, layout, overflow, pipe, pump, water
from .base import RELATIONS, Relation, relation

__all__ = ["RELATIONS", "Relation", "relation", "air", "electricity", "floating", "geometry", "layout", "overflow",
           "pipe", "pump", "water"]
