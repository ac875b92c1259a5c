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

from importlib import import_module
from pkgutil import iter_modules

from .base import RELATIONS, Relation, relation

__all__ = ["RELATIONS", "Relation", "relation"]

# Every file of this folder, so that none can be forgotten: a relation is known once its module was imported.
for _module in sorted(found.name for found in iter_modules(__path__)):
    import_module(f"{__name__}.{_module}")
