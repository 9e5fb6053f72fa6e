"""Arithmetic only: no files, clock, chance, network or printing."""
