"""One step a file; a step once released is never edited."""
