"""Reading a page whose truth is known because the picture was made from it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.measuring.boxes import read_boxes
from halfpan.core.measuring.locate import locate
from halfpan.core.measuring.page import measure_page, respond, see_page
from halfpan.core.measuring.patches import Patches
from halfpan.core.measuring.photo import Photo, light_at
from halfpan.core.measuring.response import usual_prior, without_patches
from halfpan.core.measuring.veil import Beside
from halfpan.errors import UnreadablePhoto

from .small_sheet import SRGB, linear, paint, shoot, small_page, tilted

MIXED = np.eye(3) * 0.88 + 0.04


def masstones(read):
    return {r.box: r for r in read.readings if r.zone == "masstone"}


def misses(read, colours):
    found = masstones(read)
    return np.array([delta_e_2000(np.array(r.lab), colours[int(box) - 1]) for box, r in found.items()])


def test_a_faithful_flat_scan_reads_within_a_quarter(page, painted, colours):
    read = measure_page(shoot(painted, noise=0.7), page)
    assert len(masstones(read)) == 16
    assert misses(read, colours).max() < 0.25


@pytest.mark.parametrize("turn", [0, 90, 180, 270, 31])
def test_a_sheet_lying_any_way_round_gives_each_box_its_own_colour(page, painted, colours, turn):
    homography, size = tilted(painted, 1.0, 0.12, turn)
    photo = shoot(painted, homography=homography, size=size, noise=1.0, blur=0.6)
    read = measure_page(photo, page)
    assert len(masstones(read)) == 16
    assert misses(read, colours).max() < 0.3


def test_light_that_falls_off_by_a_third_is_evened_out(page, painted, colours):
    read = measure_page(shoot(painted, field=lambda r, c: 1 - 0.33 * c * c - 0.1 * r), page)
    assert misses(read, colours).max() < 0.3


def test_a_soft_shadow_is_evened_out(page, painted, colours):
    read = measure_page(shoot(painted, field=lambda r, c: 1 - 0.25 / (1 + np.exp((r - 0.5) * 14))), page)
    assert np.median(misses(read, colours)) < 0.5


def test_a_target_corrects_a_camera_that_mixes_its_primaries(page, painted, colours):
    photo = shoot(painted, mix=MIXED)
    plain = misses(measure_page(photo, page), colours)
    lab = np.array(
        [(L, 45 * np.cos(h), 45 * np.sin(h)) for L in (40, 60, 75) for h in np.arange(0, 6.2, 0.9)]
        + [(L, 0, 0) for L in (25, 45, 65, 85)]
    )
    light = linear(lab) @ MIXED.T * 0.8 * 0.9
    kept = (light > 0.002).all(1)
    patches = Patches(
        light, lab, np.array([(30.0, 20.0 * k) for k in range(len(lab))]), (~kept).astype(float)
    )
    read = measure_page(photo, page, reference=patches)
    assert read.light.tier == "target"
    assert read.light.check_delta_e00 < 1.0
    assert np.median(plain) > 1.5
    assert np.median(misses(read, colours)) < 0.3


def test_darks_that_a_target_would_make_too_dark_are_told_by_the_black_line(page, painted, colours):
    """A response fitted to a target under glare of its own takes 3 % of paper light off everything."""
    seen = see_page(shoot(painted, noise=0.5), page)
    mean = usual_prior().mean.copy()
    mean[8] = 0.03
    wrong = replace(without_patches(usual_prior(), "target"), mean=mean[:21])
    wrong = replace(wrong, covariance=wrong.covariance + np.diag(np.eye(21)[8]) * 0.015**2)
    nothing = Beside(np.empty((0, 2)), np.empty(0), np.empty(0))
    plain, told = (read_boxes(seen, page, replace(wrong, beside=beside)) for beside in (None, nothing))
    assert np.median(misses(told, colours)) < 0.6 * np.median(misses(plain, colours))


def test_known_paints_correct_the_others(page, painted, colours):
    photo = shoot(painted, mix=MIXED)
    known = {str(k): tuple(colours[k - 1]) for k in (1, 2, 3, 4, 5, 6, 11, 12)}
    read = measure_page(photo, page, reference=known)
    others = [r for b, r in masstones(read).items() if b not in known]
    missed = [delta_e_2000(np.array(r.lab), colours[int(r.box) - 1]) for r in others]
    assert read.light.tier == "known paints"
    assert np.median(missed) < 0.5


def test_a_device_seen_with_a_target_is_remembered(page, painted, colours):
    photo = shoot(painted, mix=MIXED)
    known = {str(k + 1): tuple(c) for k, c in enumerate(colours)}
    response = respond(see_page(photo, page), page, reference=known)
    later = shoot(painted, mix=MIXED, field=lambda r, c: 1 - 0.2 * r, seed=4)
    blind, wise = measure_page(later, page), measure_page(later, page, device=response)
    assert wise.light.tier == "paper"
    assert np.median(misses(wise, colours)) < 0.4 * np.median(misses(blind, colours))
    assert masstones(wise)["1"].within_delta_e00 < masstones(blind)["1"].within_delta_e00


def test_every_radius_holds_the_truth_on_a_mixed_camera(page, painted, colours):
    read = measure_page(shoot(painted, mix=MIXED, noise=1.0), page)
    radii = np.array([r.within_delta_e00 for r in masstones(read).values()])
    assert (misses(read, colours) <= radii).mean() >= 0.9


def test_a_measured_paper_narrows_the_doubt(page, painted):
    photo = shoot(painted)
    usual = masstones(measure_page(photo, page))["7"].within_delta_e00
    assert masstones(measure_page(photo, page, paper=(95.5, 0.0, 1.0)))["7"].within_delta_e00 < usual


def test_an_unpainted_box_is_unread_and_an_empty_spare_box_is_passed_over(colours):
    page = small_page(["a", "b", None, None, "e", "f"])
    shades = [colours[0], None, colours[2], None, colours[4], colours[5]]
    read = measure_page(shoot(paint(page, shades)), page)
    assert [(u.box, u.reason) for u in read.unread] == [("2", "Nothing seems to be painted in this box.")]
    assert {r.box for r in read.readings} == {"1", "3", "5", "6"}


def test_a_white_paint_shows_over_the_black_line(page):
    white = np.array([95.3, 0.0, 1.2])
    shades = [white, None] + [np.array([60.0, 10.0, 20.0])] * 14
    read = measure_page(shoot(paint(page, shades, hiding=0.6)), page)
    assert "1" in masstones(read)
    assert [u.box for u in read.unread] == ["2"]


def test_a_blank_sheet_evens_out_light_that_paper_cannot_show(page, painted, colours):
    ripple = lambda r, c: 1 - 0.2 * np.cos(2 * np.pi * 6 * c) ** 2 - 0.2 * r  # noqa: E731
    photo = shoot(painted, field=ripple)
    blank = shoot(np.broadcast_to(linear((95.5, 0, 1)), painted.shape), field=ripple)
    with_blank = misses(measure_page(photo, page, blank=blank), colours)
    assert np.median(with_blank) < 0.6 * np.median(misses(measure_page(photo, page), colours))


def test_a_blank_sheet_of_another_size_is_refused(page, painted):
    blank = shoot(painted[:-10])
    with pytest.raises(UnreadablePhoto, match="another size"):
        measure_page(shoot(painted), page, blank=blank)


def test_a_burnt_out_picture_is_refused(page, painted):
    with pytest.raises(UnreadablePhoto, match="less exposure"):
        measure_page(shoot(painted, exposure=1.35), page)


def test_a_picture_without_a_chart_is_refused(page):
    photo = Photo(np.full((300, 400, 3), 128, dtype=np.uint8), SRGB, name="cat.jpg")
    with pytest.raises(UnreadablePhoto, match=r"No chart was found in cat\.jpg"):
        measure_page(photo, page)


def test_a_sheet_with_too_few_marks_in_the_picture_is_refused(page, painted):
    half = shoot(painted)
    cut = Photo(half.pixels[: half.pixels.shape[0] // 3], half.decode)
    with pytest.raises(UnreadablePhoto, match="corner marks"):
        measure_page(cut, page)


def test_another_chart_is_refused_by_where_its_marks_lie(page, painted):
    moved = small_page(["a", "b"])
    wrong = type(page)(
        1,
        tuple(
            type(m)(
                m.id, tuple((x * (1.4 if m.id in {2, 4} else 1.0), y + 12 * (m.id % 3)) for x, y in m.corners)
            )
            for m in moved.marks
        ),
        moved.boxes,
        moved.printed,
    )
    with pytest.raises(UnreadablePhoto, match="another chart"):
        measure_page(shoot(painted), wrong)


def test_a_sixteen_bit_picture_reads_like_an_eight_bit_one(page, painted, colours):
    eight = shoot(painted, noise=0.7)
    table = np.interp(np.arange(65536) / 257.0, np.arange(256), SRGB[:, 0]).astype(np.float32)
    sixteen = Photo(eight.pixels.astype(np.uint16) * 257, np.repeat(table[:, None], 3, 1), clip_level=64250)
    read = measure_page(sixteen, page)
    assert misses(read, colours).max() < 0.25


def test_places_outside_the_picture_are_unknown():
    photo = Photo(np.zeros((4, 5, 3), dtype=np.uint8), SRGB)
    light, burnt = light_at(photo, np.array([(-3.0, 0.0), (1.0, 4.4), (1.0, 4.6)]))
    assert np.isnan(light[:, 0]).tolist() == [True, False, True]
    assert burnt.tolist() == [True, False, True]


def test_a_sheet_knows_how_it_lies(painted):
    homography, size = tilted(painted, 1.0, 0.1, 180)
    found = locate(shoot(painted, homography=homography, size=size), code=False)
    assert found.upside_down


def test_a_box_with_something_lying_beside_it_is_not_read(page, painted):
    photo = shoot(painted, noise=0.7)
    k = 150 / 25.4
    rect = page.boxes[5].zone("bare").rect
    pixels = photo.pixels.copy()
    pixels[
        round(rect.y * k) - 20 : round(rect.bottom * k) + 20, round(rect.x * k) : round(rect.right * k)
    ] = (
        170,
        120,
        90,
    )
    read = measure_page(Photo(pixels, SRGB), page)
    assert [u.box for u in read.unread] == ["6"]
    assert "lies over" in read.unread[0].reason
