"""A measured colour as a browser can show it, with an honest word where no screen can."""

from __future__ import annotations

import numpy as np

from halfpan.core.colour.screen import lab_to_hex, lab_to_p3, outside_p3, outside_srgb
from halfpan.core.paint.reading import Lab

VISIBLE = 1.0
"""CIEDE2000 above which clipping a colour is worth a word."""


def fill_of(lab: Lab) -> str:
    """Return the colour for a fill attribute: sRGB, or Display P3 where sRGB cannot hold it."""
    if float(outside_srgb(lab)) <= VISIBLE:
        return lab_to_hex(lab)
    red, green, blue = np.clip(lab_to_p3(lab), 0.0, 1.0)
    return f"color(display-p3 {red:.4f} {green:.4f} {blue:.4f})"


def beyond_screens(lab: Lab) -> float:
    """Return how far the colour lies outside Display P3 (CIEDE2000), 0 when a good screen can show it."""
    beyond = float(outside_p3(lab))
    return beyond if beyond > VISIBLE else 0.0
