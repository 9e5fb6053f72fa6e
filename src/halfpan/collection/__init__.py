"""SQL: one module a noun, plain functions of a connection."""
