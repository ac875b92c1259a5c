"""Raftwright's calculations: from what a grower typed to a whole raft-bath plan, in pure Python."""

__version__ = "0.1.0"
