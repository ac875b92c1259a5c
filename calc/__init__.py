"""Raftwright's calculations: from what a grower typed to a whole raft-bath plan, in pure Python.

``Plan`` reads what was typed, ``solve`` works out all that it allows, and ``calc.relations`` holds the published
formulas one by one. ``calc.solve`` names the function; its module's other names come by ``from calc.solve import ...``.
"""

# The one place that says the version: the wheel, the pages, the command line, plan files and answers read it here.
__version__ = "0.1.0"

from . import relations
from .plan import Plan
from .solve import solve

__all__ = ["Plan", "__version__", "relations", "solve"]
