"""Published physics, one short function each, with formula, units, range and source on the function.

Arguments and answers are in SI units and degrees Celsius; outside its range a relation raises ``OutOfRange``.

>>> from calc import relations
>>> round(relations.geometry.box_volume(length_m=1.2, width_m=0.6, depth_m=0.25), 6)
0.18
>>> found = relations.RELATIONS["geometry.box_volume"]
>>> found.formula, found.result.unit
('V = L W h', 'm³')
>>> found.source
'Solid geometry (Euclid, Elements XI and XII); definition'
"""

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
    phosphate,
    pipe,
    pump,
    roots,
    schedule,
    use,
    water,
)
from .base import RELATIONS, Relation, relation

__all__ = ["RELATIONS", "Relation", "relation", "acidity", "air", "atmosphere", "electricity", "feed", "floating",
           "geometry", "heat", "layout", "light", "outage", "overflow", "oxygen", "phosphate", "pipe", "pump", "roots",
           "schedule", "use", "water"]
