"""A camera raw file made here, after the published DNG specification: no camera's own sample is at hand."""

from __future__ import annotations

import numpy as np
import pytest

from halfpan.core.measuring.photo import light_at
from halfpan.errors import UnreadablePhoto
from halfpan.files.photo import open_pictures
from halfpan.files.photo.raw import camera_to_srgb

from .dng import CAMERA, dng, mosaic_of


@pytest.mark.parametrize("colour", [(0.4, 0.4, 0.4), (0.5, 0.1, 0.1), (0.1, 0.4, 0.15), (0.1, 0.15, 0.5)])
def test_a_raw_file_gives_the_colour_that_the_sensor_saw(colour):
    (picture,) = open_pictures(dng(mosaic_of(colour)), "chart.dng")
    rows, cols = picture.photo.shape
    light = light_at(picture.photo, np.array([[rows / 2, cols / 2]]))[0][0]
    assert light / light.sum() == pytest.approx(np.array(colour) / sum(colour), abs=0.004)
    assert picture.photo.pixels.dtype == np.uint16
    assert picture.photo.kind == "photo"
    assert picture.photo.device == "Tarn Two"


def test_light_of_a_raw_file_is_linear():
    lights = []
    for level in (0.1, 0.2, 0.4):
        (picture,) = open_pictures(dng(mosaic_of((level,) * 3)), "chart.dng")
        lights.append(light_at(picture.photo, np.array([[100.0, 150.0]]))[0][0, 1])
    assert lights[1] / lights[0] == pytest.approx(2.0, rel=0.01)
    assert lights[2] / lights[1] == pytest.approx(2.0, rel=0.01)


def test_a_sensor_that_is_full_counts_as_burnt_out():
    (picture,) = open_pictures(dng(np.full((200, 300), 65535)), "chart.dng")
    assert light_at(picture.photo, np.array([[100.0, 150.0]]))[1][0]


def test_white_stays_white_through_a_cameras_matrix():
    assert camera_to_srgb(CAMERA).sum(axis=1) == pytest.approx([1, 1, 1])


def test_a_camera_without_a_matrix_and_a_raw_file_cut_off_are_refused():
    with pytest.raises(np.linalg.LinAlgError):
        camera_to_srgb(np.zeros((3, 3)))
    whole = dng(mosaic_of((0.4, 0.4, 0.4)))
    with pytest.raises(UnreadablePhoto, match=r"^chart\.dng .*\.$"):
        open_pictures(whole[: len(whole) // 2], "chart.dng")
