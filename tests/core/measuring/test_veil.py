"""Light that lies over the sheet, told by the black line."""

from __future__ import annotations

import numpy as np
import pytest

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.measuring.page import measure_page
from halfpan.core.measuring.photo import Photo
from halfpan.core.measuring.veil import Beside, Veil, hidden, veil_at, without_veil

from .small_sheet import SRGB, encode_srgb, paint

PLACES = np.stack(np.meshgrid(np.arange(20, 200, 30.0), np.arange(30, 260, 50.0)), -1).reshape(-1, 2)


def glare(points):
    return 0.10 * np.exp(-((points - (150, 80)) ** 2).sum(-1) / (2 * 45.0**2))


def test_a_glare_over_one_corner_is_measured_from_the_line():
    veil = glare(PLACES)
    line = 0.05 * (1 - veil) + veil
    between = PLACES[:-1] + np.array([12.0, 9.0])
    assert np.abs(veil_at(PLACES, line, between).share - glare(between)).max() < 0.006


def test_an_even_line_has_no_veil_however_light_the_ink():
    assert veil_at(PLACES, np.full(len(PLACES), 0.11), PLACES).share.max() == 0.0


def test_with_fewer_than_three_places_nothing_is_taken_off():
    assert veil_at(PLACES[:2], np.array([0.05, 0.20]), PLACES).share.tolist() == [0.0] * len(PLACES)


def test_taking_the_veil_off_undoes_laying_it_on():
    light = np.array([[0.5, 0.2, 0.05]])
    assert without_veil(light * 0.9 + 0.1, np.array([[0.1]])) == pytest.approx(light)


def under(painted, veil):
    """The page with some light laid over it, shape (rows, cols), as shares of full light."""
    chance = np.random.default_rng(5)
    stored = encode_srgb(np.clip((painted + veil[..., None]) * 0.8, 0, 1)) * 255
    stored = np.rint(stored + chance.normal(0, 0.7, stored.shape))
    return Photo(np.clip(stored, 0, 255).astype(np.uint8), SRGB)


def places(painted):
    return np.mgrid[: painted.shape[0], : painted.shape[1]] / painted.shape[0]


def test_a_page_under_glare_reads_nearly_as_well_as_without(page, painted, colours):
    rows, cols = places(painted)
    veil = 0.08 * np.exp(-((rows - 0.6) ** 2 + (cols - 0.4) ** 2) / 0.05)
    found = measure_page(under(painted, veil), page)
    read = {r.box: r for r in found.readings if r.zone == "masstone"}
    missed = [delta_e_2000(np.array(r.lab), colours[int(b) - 1]) for b, r in read.items()]
    assert len(read) == 16
    assert np.median(missed) < 0.5


def test_much_veil_hides_unless_it_is_known_well():
    """Left is 0.9 of the light: a doubt of 0.0071 is 0.0079 of that, 0.0073 is 0.0081."""
    veil = Veil(np.array([0.07, 0.1, 0.1]), np.array([0.03, 0.0071, 0.0073]))
    assert hidden(veil).tolist() == [False, False, True]


def test_grain_under_glare_is_read_as_grainy_as_without(page, colours):
    sheet = paint(page, list(colours), grain=0.3)
    rows, cols = places(sheet)
    veil = 0.1 * np.exp(-((rows - 0.6) ** 2 + (cols - 0.4) ** 2) / 0.05)
    clear, veiled = (
        {s.box: s.granulation for s in measure_page(under(sheet, over), page).swatches}
        for over in (0.0 * veil, veil)
    )
    ratios = [veiled[box] / clear[box] for box in clear if veiled.get(box) and clear[box]]
    assert len(ratios) >= 12
    assert np.abs(np.log(ratios)).max() < 0.1


def test_boxes_under_glare_in_patches_are_not_read(page, painted):
    rows, cols = places(painted)
    veil = 0.14 * (0.5 + 0.5 * np.sin(rows * 25) * np.sin(cols * 25))
    found = measure_page(under(painted, veil), page)
    glared = [one.box for one in found.unread if one.reason == "Glare lies over this box."]
    assert len(glared) >= 3


def test_the_doubt_of_the_veil_holds_what_is_missed_between_the_lines_places():
    veil = glare(PLACES)
    line = 0.05 * (1 - veil) + veil + np.random.default_rng(3).normal(0, 0.002, len(PLACES))
    between = PLACES[:-1] + np.array([12.0, 9.0])
    found = veil_at(PLACES, line, between)
    assert np.mean(np.abs(found.share - glare(between)) <= 1.96 * found.doubt) >= 0.9
    assert found.doubt.max() < 0.02


def test_a_line_that_jumps_from_place_to_place_leaves_the_veil_in_doubt():
    smooth = 0.05 + glare(PLACES)
    rough = smooth + np.random.default_rng(4).normal(0, 0.02, len(PLACES))
    assert veil_at(PLACES, rough, PLACES).doubt.min() > 1.5 * veil_at(PLACES, smooth, PLACES).doubt.max()


def test_a_target_that_lies_under_far_more_glare_than_the_sheet_does_not_blacken_the_ink_beyond_any_print():
    veil = 0.3 * glare(PLACES)
    line = 0.045 * (1 - veil) + veil
    beside = Beside(
        np.array([(280.0, 120.0), (305.0, 120.0), (280.0, 145.0)]), np.full(3, 0.09), np.full(3, 0.006)
    )
    found = veil_at(PLACES, line, PLACES, beside)
    far = PLACES[:, 0] < 80
    ink_left = without_veil(line[:, None], found.share[:, None])[far, 0]
    assert np.median(ink_left) > 0.02


def test_a_veil_over_the_whole_sheet_is_told_by_the_target_beside_it():
    veil = 0.05 + glare(PLACES)
    line = 0.045 * (1 - veil) + veil
    at = np.array([(280.0, 120.0), (305.0, 120.0), (280.0, 145.0)])
    found = veil_at(PLACES, line, PLACES, Beside(at, 0.05 + glare(at), np.full(3, 0.004)))
    alone = veil_at(PLACES, line, PLACES)
    assert np.abs(found.share - veil).mean() < 0.4 * np.abs(alone.share - veil).mean()
