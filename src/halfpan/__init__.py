"""Halfpan: know your watercolour paints from evidence."""

__version__ = "0.1.0"
