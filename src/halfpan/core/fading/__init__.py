"""Kept against exposed: how far a paint changed in light, in a window of one's own, and since when."""
