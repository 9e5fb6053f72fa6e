"""Paper and disk: PDF, photographs, tables, instrument files, reports."""
