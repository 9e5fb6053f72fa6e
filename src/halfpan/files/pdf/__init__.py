"""Charts on paper: PDF documents that carry their own fonts, and pictures of their pages."""

from halfpan.files.pdf.draw import chart_pdf, write_chart
from halfpan.files.pdf.fonts import text_width, unprintable
from halfpan.files.pdf.picture import page_picture

__all__ = ["chart_pdf", "page_picture", "text_width", "unprintable", "write_chart"]
