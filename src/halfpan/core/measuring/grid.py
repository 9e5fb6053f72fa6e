"""Grids that people rule by hand: boxes in rows and columns, by corners or found by themselves.

A grid has its own millimetres: unless a box's true width is given, the distance between boxes counts as
20 mm. Corners are the outer corners of the field of boxes, in order round it from the first box, as
(row, col) in the picture.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from halfpan.core.chart.sheet import Box, Page, Rect, Stroke, Zone
from halfpan.core.measuring.edges import looking_grid, patch_edges
from halfpan.core.measuring.field import divisions, field_corners, flat_field, straightened
from halfpan.core.measuring.flatten import Flattening, from_points, to_picture
from halfpan.core.measuring.photo import Array, Photo, light_at
from halfpan.errors import UnreadablePhoto

USUAL_BOX_MM = 20.0
MARGIN_MM = 12.0
ROUNDS = 3
FEWEST_SEEN = 6
READ_SHARE = 0.56
"""The middle of a box that is read: brush edges and pencil lines are left out."""


@dataclass(frozen=True, slots=True, eq=False)
class Grid:
    """Boxes in rows and columns on a sheet.

    Attributes
    ----------
    flattening : Flattening, from the grid's own millimetres to the picture
    rects : the boxes' rectangles in mm, row by row
    rows, columns : how many
    present : array of bool, shape (rows, columns): False where no box was drawn or painted
    """

    flattening: Flattening
    rects: tuple[Rect, ...]
    rows: int
    columns: int
    present: NDArray[np.bool_]

    def name(self, k: int) -> str:
        """Return the name of the k-th box: letter of its row, number of its column."""
        return box_name(k // self.columns, k % self.columns)


def box_name(row: int, column: int) -> str:
    """Return a box's name, A1 at the top left; rows after Z go on with AA."""
    letters = chr(65 + row % 26)
    return f"{letters if row < 26 else chr(64 + row // 26) + letters}{column + 1}"


def rule_grid(
    photo: Photo,
    corners: Array,
    rows: int,
    columns: int,
    *,
    box_mm: float = USUAL_BOX_MM,
    settle: bool = True,
) -> Grid:
    """Lay a grid by the four outer corners of its boxes.

    Parameters
    ----------
    photo : Photo
    corners : array, shape (4, 2), (row, col), in order round the field from the first box
    rows, columns : how many boxes
    box_mm : distance between the boxes of a row
    settle : move each row and column to where its boxes are seen to end (unequal gaps)

    Raises
    ------
    UnreadablePhoto
        When the corners do not go round a field in this picture.
    """
    corners = np.asarray(corners, dtype=np.float64)
    refuse_bad_corners(photo, corners, rows, columns)
    width_px = np.linalg.norm(corners[1] - corners[0]) + np.linalg.norm(corners[2] - corners[3])
    height_px = np.linalg.norm(corners[3] - corners[0]) + np.linalg.norm(corners[2] - corners[1])
    row_mm = box_mm * float((height_px / rows) / (width_px / columns))
    size = np.array([columns * box_mm, rows * row_mm])
    field = MARGIN_MM + np.array([[0, 0], [size[0], 0], size, [0, size[1]]])
    flattening = from_points(field, corners)
    left = MARGIN_MM + np.arange(columns) * box_mm
    top = MARGIN_MM + np.arange(rows) * row_mm
    across = np.column_stack([left, left + box_mm])
    down = np.column_stack([top, top + row_mm])
    for _ in range(ROUNDS if settle else 0):
        edges = _edges(photo, flattening, across, down)
        across, down = _moved(edges, across, 0), _moved(edges.transpose(1, 0, 2), down, 1)
        flattening = _straightened(flattening, field, edges, across, down)
    return grid_of(flattening, across, down, np.ones((rows, columns), dtype=bool))


def grid_of(flattening: Flattening, across: Array, down: Array, present: NDArray[np.bool_]) -> Grid:
    """Return the grid of some columns (left, right) and rows (top, bottom), in mm."""
    rects = tuple(
        Rect(float(x0), float(y0), float(x1 - x0), float(y1 - y0)) for y0, y1 in down for x0, x1 in across
    )
    return Grid(flattening, rects, len(down), len(across), present)


def refuse_bad_corners(photo: Photo, corners: Array, rows: int, columns: int) -> None:
    """Refuse corners that do not go round a field large enough to read."""
    if corners.shape != (4, 2) or not np.isfinite(corners).all():
        raise UnreadablePhoto("Four corners are needed, each as x,y in pixels of the picture.")
    if rows < 1 or columns < 1 or rows * columns > 2000:
        raise UnreadablePhoto(f"A grid of {rows} rows and {columns} columns cannot be read.")
    if (corners < -1).any() or (corners > np.array(photo.shape)).any():
        raise UnreadablePhoto(
            f"A corner lies outside {photo.name}, which is {photo.shape[1]} x {photo.shape[0]} pixels."
        )
    sides = np.roll(corners, -1, axis=0) - corners
    turns = sides[:, 1] * np.roll(sides, -1, axis=0)[:, 0] - sides[:, 0] * np.roll(sides, -1, axis=0)[:, 1]
    if not ((turns > 0).all() or (turns < 0).all()):
        raise UnreadablePhoto("The four corners cross over: give them in order round the field of boxes.")
    smallest = np.linalg.norm(sides, axis=1).min()
    if smallest / max(rows, columns) < 3:
        raise UnreadablePhoto(
            f"Boxes would be under 3 pixels wide in {photo.name}: check the corners, or scan finer."
        )


def _edges(photo: Photo, flattening: Flattening, across: Array, down: Array) -> Array:
    """Where each box is seen to end: left, top, right, bottom in mm; (rows, columns, 4), NaN if unseen."""
    pitch = np.array([np.diff(across.mean(1)).mean(), np.diff(down.mean(1)).mean()])
    pitch = np.where(np.isfinite(pitch), pitch, [np.ptp(across[0]), np.ptp(down[0])])
    middles = np.array([(x, y) for y in down.mean(1) for x in across.mean(1)])
    light, _ = light_at(photo, to_picture(flattening, middles[:, None, :] + looking_grid() * pitch))
    edges = np.full((len(middles), 4), np.nan)
    for k, one in enumerate(light):
        found = patch_edges(one)
        if found is not None and _like_a_box(found):
            edges[k] = np.tile(middles[k], 2) + found * np.tile(pitch, 2)
    return edges.reshape(len(down), len(across), 4)


def _moved(edges: Array, places: Array, axis: int) -> Array:
    """Move each column (axis 0) to where its boxes are seen to end; one with few such boxes stays."""
    moved = places.copy()
    for k in range(len(places)):
        seen = edges[:, k][~np.isnan(edges[:, k, 0])]
        if len(seen) >= max(1, len(edges) // 4):
            moved[k] = np.median(seen[:, [axis, axis + 2]], axis=0)
    return moved


def _straightened(
    flattening: Flattening, field: Array, edges: Array, across: Array, down: Array
) -> Flattening:
    """Turn the sheet so that each box's own middle lies on its row and its column."""
    x, y = np.meshgrid(across.mean(1), down.mean(1))
    nominal = np.stack([x, y], axis=-1)
    seen = (edges[..., :2] + edges[..., 2:]) / 2
    usable = ~np.isnan(seen).any(-1)
    if usable.sum() < FEWEST_SEEN:
        return flattening
    reach = 0.06 * float(np.ptp(across) / len(across))
    found: tuple[Any, Any] = cv2.findHomography(nominal[usable], seen[usable], cv2.RANSAC, reach)
    if found[0] is None or found[1].sum() < max(FEWEST_SEEN, 0.4 * usable.sum()):
        return flattening
    corners = cv2.perspectiveTransform(field[None], np.asarray(found[0], dtype=np.float64))[0]
    return from_points(field, to_picture(flattening, np.asarray(corners, dtype=np.float64)))


def _like_a_box(edges: Array) -> bool:
    """Say whether a rectangle could be one box: not a sliver, and not two."""
    width, height = edges[2] - edges[0], edges[3] - edges[1]
    return bool(0.35 < width < 1.15 and 0.35 < height < 1.15)


def grid_page(grid: Grid, names: dict[str, str | None] | None = None) -> Page:
    """Return the grid as a page to be read: one zone of full strength in the middle of each box.

    Parameters
    ----------
    grid : Grid
    names : the paint of each box by the box's name; a box that is not named has no paint
    """
    boxes = []
    for k, rect in enumerate(grid.rects):
        if not grid.present.flat[k]:
            continue
        name = grid.name(k)
        paint = (names or {}).get(name)
        boxes.append(Box(name, paint, paint or name, (Stroke(rect, "full"),), (read_zone(rect),)))
    return Page(1, (), tuple(boxes))


def read_zone(rect: Rect) -> Zone:
    """Return the middle of a box, where it is read."""
    width, height = rect.width * READ_SHARE, rect.height * READ_SHARE
    return Zone(
        "masstone",
        Rect(rect.x + (rect.width - width) / 2, rect.y + (rect.height - height) / 2, width, height),
        ground="paper",
    )


def sheet_size(grid: Grid) -> tuple[float, float]:
    """Width and height, in mm, of what is looked at: the field and a margin round it."""
    right = max(r.right for r in grid.rects)
    bottom = max(r.bottom for r in grid.rects)
    return right + MARGIN_MM, bottom + MARGIN_MM


def outlines(grid: Grid) -> list[Array]:
    """Corners (4, 2), (row, col), of every box in the picture, for drawing over it."""
    shapes: list[Array] = []
    for r in grid.rects:
        points = np.array([[r.x, r.y], [r.right, r.y], [r.right, r.bottom], [r.x, r.bottom]])
        shapes.append(to_picture(grid.flattening, points))
    return shapes


def find_grid(photo: Photo, rows: int | None = None, columns: int | None = None) -> Grid:
    """Find a grid of painted boxes on paper by itself.

    It may be turned or tilted, its gaps unequal, its boxes touching or missing.

    Parameters
    ----------
    photo : Photo, with paper seen round the field of boxes
    rows, columns : how many; found from the picture where they are not given

    Raises
    ------
    UnreadablePhoto
        When no field of boxes stands out from the paper (give its corners by hand then).
    """
    corners = field_corners(photo)
    if corners is None:
        raise UnreadablePhoto(
            f"No grid of painted boxes can be found by itself in {photo.name}; "
            "give the four outer corners of its boxes."
        )
    for _ in range(ROUNDS):
        field = flat_field(photo, corners)
        across = divisions(field.light, field.paint, columns)
        down = divisions(field.light.transpose(1, 0, 2), field.paint.T, rows)
        used, corners = corners, straightened(field, corners, across, down)
    present = np.array([[_share(field.paint, one, row) > 0.5 for one in across] for row in down])
    pitch = float(np.mean(np.diff(across.mean(1)))) if len(across) > 1 else float(np.ptp(across))
    scale = USUAL_BOX_MM / pitch
    height, width = field.paint.shape
    ends = np.array([[0, 0], [width, 0], [width, height], [0, height]]) * scale + MARGIN_MM
    flattening = from_points(ends, used)
    return grid_of(flattening, across * scale + MARGIN_MM, down * scale + MARGIN_MM, present)


def _share(paint: NDArray[np.bool_], across: Array, down: Array) -> float:
    """Share of a cell that is painted."""
    cell = paint[
        int(down[0]) : max(int(down[0]) + 1, int(down[1])),
        int(across[0]) : max(int(across[0]) + 1, int(across[1])),
    ]
    return float(cell.mean())
