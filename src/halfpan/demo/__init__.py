"""The invented studio, and a virtual painter and camera with the truth known."""
