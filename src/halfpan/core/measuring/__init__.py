"""From pixels to readings with their doubt."""
