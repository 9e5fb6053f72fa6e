"""The things on the table: pigments, paints, labels, readings, tins."""
