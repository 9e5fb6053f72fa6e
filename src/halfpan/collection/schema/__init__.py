"""The numbered steps that built the tables, oldest first."""
