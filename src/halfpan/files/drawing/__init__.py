"""Pictures as SVG that stand alone: a tin as it lies open, the hue ring, reach in slices of Lab."""

from halfpan.files.drawing.hue_ring import hue_ring
from halfpan.files.drawing.reach_slices import reach_slices
from halfpan.files.drawing.tin_map import Pan, tin_map

__all__ = ["Pan", "hue_ring", "reach_slices", "tin_map"]
