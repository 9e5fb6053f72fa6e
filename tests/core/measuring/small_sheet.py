"""A small painted sheet and a plain camera for tests: truth is known because it was put there."""

from __future__ import annotations

import cv2
import numpy as np

from halfpan.core.chart.sheet import Box, Mark, Page, Rect, Stroke, Zone
from halfpan.core.colour.screen import decode_srgb, encode_srgb, xyz_to_linear_srgb
from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.measuring.photo import Photo

WIDTH, HEIGHT = 148.0, 210.0
MARK = 8.0
PAPER = np.array([95.5, 0.0, 1.0])
INK = np.array([22.0, 0.5, 1.0])
SRGB = np.repeat(decode_srgb(np.arange(256) / 255.0)[:, None], 3, axis=1).astype(np.float32)


def _mark(number, x, y):
    return Mark(number, ((x, y), (x + MARK, y), (x + MARK, y + MARK), (x, y + MARK)))


def box_at(name, x, y, paint):
    return Box(
        box=name,
        paint=paint,
        label=name,
        strokes=(
            Stroke(Rect(x, y, 20, 22), "full"),
            Stroke(Rect(x, y + 22, 20, 14), "graded", "down"),
        ),
        zones=(
            Zone("masstone", Rect(x + 2, y + 13, 16, 7), "paper"),
            Zone("black line", Rect(x + 2, y + 6, 16, 3), "black"),
            Zone("graded", Rect(x + 2, y + 23.5, 16, 12), "paper", "down"),
            Zone("bare", Rect(x + 21.5, y + 13, 3, 14)),
            Zone("bare line", Rect(x + 21.5, y + 5.5, 3.5, 4)),
        ),
    )


def small_page(paints, columns=4):
    """A5, eight marks, boxes of 20 x 36 mm with a black line of 7 mm."""
    right, bottom = WIDTH - 6 - MARK, HEIGHT - 6 - MARK
    places = [
        (6, 6), (WIDTH / 2 - 4, 6), (right, 6), (right, HEIGHT / 2 - 4),
        (right, bottom), (WIDTH / 2 - 4, bottom), (6, bottom), (6, HEIGHT / 2 - 4),
    ]  # fmt: skip
    marks = tuple(_mark(n, *p) for n, p in enumerate(places))
    boxes, lines = [], []
    for k, paint in enumerate(paints):
        x, y = 18.0 + (k % columns) * 29.0, 18.0 + (k // columns) * 44.0
        boxes.append(box_at(f"{k + 1}", x, y, paint))
        lines.append(Rect(x - 1.5, y + 4, 28, 7))
    printed = (*lines, *(Rect(*m.corners[0], MARK, MARK) for m in marks))
    return Page(1, marks, tuple(boxes), printed)


def linear(lab):
    return xyz_to_linear_srgb(lab_to_xyz(np.asarray(lab, float)))


def over_black(lab, hiding):
    """What the black line looks like under a paint that hides so much of it."""
    return linear(INK) * (1 - hiding) * linear(lab) / linear(PAPER) + hiding * linear(lab)


def paint(page, colours, *, dpi=150, hiding=0.1, paper=PAPER, ink=INK, seed=0, grain=0.0):
    """Linear light of the painted page; ``colours`` are the masstone Lab of each box, None for unpainted."""
    chance = np.random.default_rng(seed)
    k = dpi / 25.4
    shape = (round(HEIGHT * k), round(WIDTH * k))
    light = np.empty((*shape, 3))
    light[:] = linear(paper)
    span = lambda a, b: slice(round(a * k), round(b * k))  # noqa: E731
    for rect in page.printed:
        light[span(rect.y, rect.bottom), span(rect.x, rect.right)] = linear(ink)
    words = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    for mark in page.marks:
        (x, y), side = mark.corners[0], MARK
        rows, cols = span(y, y + side), span(x, x + side)
        picture = cv2.resize(
            cv2.aruco.generateImageMarker(words, mark.id, 60),
            (cols.stop - cols.start, rows.stop - rows.start),
            interpolation=cv2.INTER_AREA,
        )
        light[rows, cols] = linear(ink) + (picture[..., None] / 255.0) * (linear(paper) - linear(ink))
    for box, colour in zip(page.boxes, colours, strict=True):
        if colour is None:
            continue
        film = np.maximum(linear(colour), 1e-3) / linear(paper)
        for stroke in box.strokes:
            rows, cols = span(stroke.rect.y, stroke.rect.bottom), span(stroke.rect.x, stroke.rect.right)
            load = np.ones(rows.stop - rows.start)
            if stroke.strength == "graded":
                load = np.linspace(1, 0, len(load))
            amount = load[:, None, None] * np.ones((1, cols.stop - cols.start, 1))
            if grain:
                amount = amount * np.exp(grain * chance.standard_normal(amount.shape))
            under = light[rows, cols]
            bare = under / linear(paper)
            light[rows, cols] = under * film**amount + hiding * amount * linear(colour) * (1 - bare)
    return light


def shoot(
    light, *, homography=None, size=None, field=None, mix=None, blur=0.0, noise=0.0, seed=0, exposure=0.8
):
    """A plain camera: perspective, uneven light, mixed primaries, blur, noise, 8 bits."""
    chance = np.random.default_rng(seed)
    seen = np.asarray(light, dtype=np.float32)
    if homography is not None:
        seen = cv2.warpPerspective(seen, homography, size, flags=cv2.INTER_AREA, borderValue=(0.1, 0.1, 0.1))
    rows, cols = np.mgrid[0 : seen.shape[0], 0 : seen.shape[1]]
    if field is not None:
        seen = seen * field(rows / seen.shape[0], cols / seen.shape[1])[..., None]
    if mix is not None:
        seen = seen @ np.asarray(mix, dtype=np.float32).T
    if blur:
        seen = cv2.GaussianBlur(seen, (0, 0), blur)
    stored = encode_srgb(np.clip(seen * exposure, 0, 1)) * 255
    stored = stored + noise * chance.standard_normal(stored.shape)
    return Photo(np.clip(np.rint(stored), 0, 255).astype(np.uint8), SRGB)


def tilted(light, k=1.0, lean=0.12, turn_deg=0.0):
    """A homography that leans and turns the sheet inside a picture, and the picture's (cols, rows)."""
    rows, cols = light.shape[:2]
    corners = np.array([(0, 0), (cols, 0), (cols, rows), (0, rows)], dtype=np.float32)
    middle = corners.mean(0)
    angle = np.radians(turn_deg)
    turn = np.array([(np.cos(angle), np.sin(angle)), (-np.sin(angle), np.cos(angle))])
    leaned = (corners - middle) * k
    leaned[:2, 0] *= 1 - lean
    moved = (leaned @ turn).astype(np.float32)
    moved += np.float32(30) - moved.min(0)
    size = tuple(int(v) for v in np.ceil(moved.max(0) + 30))
    return cv2.getPerspectiveTransform(corners, moved), size
