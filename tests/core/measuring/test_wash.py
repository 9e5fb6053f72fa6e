"""How the washes of a page lie."""

from __future__ import annotations

import cv2
import numpy as np

from halfpan.core.measuring.light import bare_squares
from halfpan.core.measuring.page import measure_page, see_page
from halfpan.core.measuring.seen import coarser, flat_piece

from .small_sheet import paint, shoot


def test_a_grainy_wash_reads_rougher_than_a_flat_one(page, colours):
    flat = measure_page(shoot(paint(page, list(colours), dpi=200), noise=0.7), page)
    rough = measure_page(shoot(paint(page, list(colours), dpi=200, grain=0.25), noise=0.7), page)
    pairs = [(most(a), b.granulation) for a, b in zip(flat.swatches, rough.swatches, strict=True)]
    assert all(b > a for a, b in pairs)
    assert np.median([b for _, b in pairs]) > 3 * np.median([a for a, _ in pairs])


def most(swatch) -> float:
    """Grain, or what it is no greater than where it is too faint for a figure."""
    return swatch.granulation if swatch.granulation is not None else swatch.granulation_up_to


def test_a_picture_too_coarse_for_grain_leaves_it_unknown(page, colours):
    read = measure_page(shoot(paint(page, list(colours), dpi=70), noise=0.5), page)
    assert {s.granulation for s in read.swatches} == {None}


def test_grain_is_the_same_in_a_sharp_and_in_a_softer_picture(page, colours):
    sheet = cv2.GaussianBlur(paint(page, list(colours), dpi=200, grain=0.4), (0, 0), 1.0)
    sharp, soft = (
        {s.box: s.granulation for s in measure_page(shoot(sheet, noise=0.3, blur=blur), page).swatches}
        for blur in (0.0, 1.2)
    )
    ratios = [soft[box] / sharp[box] for box in soft.keys() & sharp.keys()]
    assert len(ratios) >= 10
    # the darkest boxes hold their grain in a step or two of the file: half of what that adds is in doubt
    assert np.quantile(np.abs(np.log(ratios)), 0.9) < 0.06
    assert np.abs(np.log(ratios)).max() < 0.14


def test_a_blurred_picture_leaves_grain_unknown(page, colours):
    read = measure_page(shoot(paint(page, list(colours), dpi=200, grain=0.25), noise=0.3, blur=2.2), page)
    assert {s.granulation for s in read.swatches} == {None}


def test_evenness_edges_and_separation_stand_in_every_swatch_with_their_doubt(page, painted):
    for swatch in measure_page(shoot(painted, noise=0.7), page).swatches:
        assert swatch.unevenness is not None
        assert swatch.unevenness < 0.05 + swatch.unevenness_within
        assert swatch.separation is not None
        assert 0 <= swatch.separation <= 1
        assert swatch.separation_within is not None
        assert swatch.separation_within >= 0
        # these boxes are flat to their ends, so there is no rim; a pale one leaves it untested
        assert swatch.edge is None or abs(swatch.edge) < 0.05 + swatch.edge_within


def test_grain_does_not_hang_on_how_a_camera_mixes_its_primaries(page, colours):
    leak = np.eye(3) * 0.8 + 0.2 / 3
    sheet = paint(page, list(colours), dpi=200, grain=0.25)
    known = {str(k + 1): tuple(lab) for k, lab in enumerate(colours)}
    plain = measure_page(shoot(sheet, noise=0.3), page)
    mixed = measure_page(shoot(sheet @ leak.T, noise=0.3), page, reference=known)
    ratios = [b.granulation / a.granulation for a, b in zip(plain.swatches, mixed.swatches, strict=True)]
    assert np.abs(np.log(ratios)).max() < 0.08


def test_bare_squares_lie_clear_of_print_and_strokes(page):
    squares = bare_squares(page)
    taken = [*page.printed, *(s.rect for b in page.boxes for s in b.strokes)]
    assert len(squares) > 20
    assert not any(square.overlaps(rect) for square in squares for rect in taken)


def test_a_smaller_picture_shows_the_same_piece_of_the_sheet(page, painted):
    seen = see_page(shoot(painted, noise=0.7), page)
    rect = page.boxes[2].zone("masstone").rect
    near, far = (flat_piece(s, rect, 2.5).mean((0, 1)) for s in (seen, coarser(seen, 2.5)))
    assert np.abs(near - far).max() < 0.004
