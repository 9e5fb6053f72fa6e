"""Kubelka-Munk films: learn paints from readings, predict mixes and glazes."""
