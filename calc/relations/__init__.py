"""Published physics, one short function each, with formula, units, range and source on the function."""

from .base import RELATIONS, Relation, relation

__all__ = ["RELATIONS", "Relation", "relation"]
