"""Order, likeness, substitutes, choosing and seating."""
