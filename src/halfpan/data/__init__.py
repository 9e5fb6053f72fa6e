"""Packaged tables; their sources stand in SOURCES.md."""
