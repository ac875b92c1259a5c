"""Tests, laid out as what they test."""
