"""Published physics, one short function each, with formula, units, range and source on the function."""

from . import (
    acidity,
    air,
    atmosphere,
    electricity,
    feed,
    floating,
    geometry,
    heat,
    layout,
    light,
    outage,
    overflow,
    oxygen,
    pipe,
    pump,
    roots,
    schedule,
    use,
    water,
)
from .base import RELATIONS, Relation, relation

__all__ = ["RELATIONS", "Relation", "relation", "acidity", "air", "atmosphere", "electricity", "feed", "floating",
           "geometry", "heat", "layout", "light", "outage", "overflow", "oxygen", "pipe", "pump", "roots", "schedule",
           "use", "water"]
