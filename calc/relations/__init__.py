"""Published physics, one short function each, with formula, units, range and source on the function."""

from . import air, atmosphere, electricity, feed, floating, geometry, layout, overflow, oxygen, pipe, pump, roots, water
from .base import RELATIONS, Relation, relation

__all__ = ["RELATIONS", "Relation", "relation", "air", "atmosphere", "electricity", "feed", "floating", "geometry",
           "layout", "overflow", "oxygen", "pipe", "pump", "roots", "water"]
