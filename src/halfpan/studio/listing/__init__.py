"""A typed or pasted list on its way into the collection: which column is what, what each line says."""
