"""Drawings for the page: plain SVG out of plain numbers; colours stand in fill attributes."""
