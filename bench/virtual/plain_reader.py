"""A plain reader, so that the pictures cannot be too easy: what one would write in an afternoon.

Four corner marks and a homography, the mean of each zone, a quadratic through the bare paper, and paper as
the only reference.
"""

from __future__ import annotations

import cv2
import numpy as np

from halfpan.core.colour.screen import linear_srgb_to_xyz, xyz_to_linear_srgb
from halfpan.core.colour.spaces import lab_to_xyz, xyz_to_lab
from halfpan.core.measuring.locate import locate
from halfpan.core.measuring.photo import light_at

PAPER = np.array([95.5, 0.0, 1.0])


def read_plainly(photo, page):
    """Lab of each box's masstone by name; raises when a corner mark is missing."""
    found = locate(photo, code=False).marks
    known = {m.id: np.array(m.corners) for m in page.marks}
    middles = np.array([c.mean(0) for c in known.values()])
    ids = list(known)
    corners = {ids[int((middles @ np.array(way)).argmin())] for way in ((1, 1), (-1, 1), (1, -1), (-1, -1))}
    points = np.concatenate([known[k] for k in corners])
    places = np.concatenate([found[k][:, ::-1] for k in corners])
    shape, _ = cv2.findHomography(points, places)

    def mean_light(rect):
        x, y = np.meshgrid(np.linspace(rect.x, rect.right, 40), np.linspace(rect.y, rect.bottom, 25))
        seen = cv2.perspectiveTransform(np.stack([x.ravel(), y.ravel()], -1)[:, None], shape)[:, 0, ::-1]
        return np.nanmean(light_at(photo, seen)[0], axis=0)

    bare = [box.zone("bare").rect for box in page.boxes]
    at = _terms(np.array([(r.x + r.width / 2, r.y + r.height / 2) for r in bare]))
    fit = np.linalg.lstsq(at, np.array([mean_light(r) for r in bare]), rcond=None)[0]
    white = xyz_to_linear_srgb(lab_to_xyz(PAPER))
    read = {}
    for box in page.boxes:
        rect = box.zone("masstone").rect
        here = _terms(np.array([(rect.x + rect.width / 2, rect.y + rect.height / 2)])) @ fit
        read[box.box] = xyz_to_lab(linear_srgb_to_xyz(mean_light(rect) / here[0] * white))
    return read


def _terms(points):
    x, y = points.T / 100.0
    return np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], axis=-1)
