"""Physical models that topics stand on: they know relations and data, and nothing of plans."""
