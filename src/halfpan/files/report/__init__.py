"""Reports: one HTML file that holds its pictures, letters and style, and asks for nothing outside itself."""

from halfpan.files.report.html import report_html, write_report
from halfpan.files.report.matter import Dot, Figure, Plot, Report, Section, Table, Tile, Wall, Words

__all__ = [
    "Dot",
    "Figure",
    "Plot",
    "Report",
    "Section",
    "Table",
    "Tile",
    "Wall",
    "Words",
    "report_html",
    "write_report",
]
