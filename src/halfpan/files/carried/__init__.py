"""Pages to carry away: one HTML file each, with all it needs inside, that asks for nothing else."""

from halfpan.files.carried.listed import Entry, Group, ListedPage, listed_html
from halfpan.files.carried.picture import smaller
from halfpan.files.carried.table import how_to, table_html

__all__ = ["Entry", "Group", "ListedPage", "how_to", "listed_html", "smaller", "table_html"]
