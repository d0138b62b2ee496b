"""Measurements of the whole pipeline, for contributors."""
