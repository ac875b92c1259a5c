"""Numerical searches that know neither water nor plants: roots of functions, least squares, choices among pumps."""
