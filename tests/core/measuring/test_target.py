"""A 24-patch target rendered here, and photographs of real ones."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from halfpan.core.colour.screen import encode_srgb, xyz_to_linear_srgb
from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.measuring.photo import Photo
from halfpan.core.measuring.target import find_target, patch_places, read_target
from halfpan.errors import UnreadablePhoto
from halfpan.files.photo import load_photo
from halfpan.files.photo.profile import srgb_decode
from halfpan.files.target_colours import published_target

PITCH, GAP, ORIGIN = 60, 8, (180, 140)


def target_photo(*, turn=0, tilt=0.0, covered=(), light=(0.6, 0.75, 0.9), noise=0.004):
    """A target on a grey table: its photo and the true middles of its patches, (row, col)."""
    known = np.clip(xyz_to_linear_srgb(lab_to_xyz(published_target())), 0.003, None)
    scene = np.full((620, 820, 3), 0.35)
    x0, y0 = ORIGIN
    scene[y0 - 20 : y0 + 4 * PITCH + 12, x0 - 20 : x0 + 6 * PITCH + 12] = 0.03
    middles = []
    for k, colour in enumerate(known):
        x, y = x0 + k % 6 * PITCH, y0 + k // 6 * PITCH
        scene[y : y + PITCH - GAP, x : x + PITCH - GAP] = (0.5, 0.3, 0.25) if k in covered else colour
        middles.append((x + (PITCH - GAP) / 2, y + (PITCH - GAP) / 2))
    scene = scene * np.array(light) * np.linspace(1.0, 0.85, 820)[None, :, None]
    view = np.vstack([cv2.getRotationMatrix2D((400, 300), turn, 1.0), [0, 0, 1]])
    view = np.array([[1, 0, 0], [0, 1, 0], [tilt / 820, tilt / 1600, 1]]) @ view
    scene = cv2.warpPerspective(scene, view, (820, 620), borderMode=cv2.BORDER_REPLICATE)
    scene = scene + np.random.default_rng(3).normal(0, noise, scene.shape)
    seen = cv2.perspectiveTransform(np.array([middles]), view)[0][:, ::-1]
    width, height = 6 * PITCH - GAP, 4 * PITCH - GAP
    ends = np.array([[[x0, y0], [x0 + width, y0], [x0 + width, y0 + height], [x0, y0 + height]]], float)
    corners = cv2.perspectiveTransform(ends, view)[0][:, ::-1]
    pixels = np.rint(encode_srgb(np.clip(scene, 0, 1)) * 255).astype(np.uint8)
    return Photo(pixels, srgb_decode(256), name="target.png"), seen, corners


@pytest.mark.parametrize("turn", [0, 8, 180, 172])
def test_a_target_is_found_by_itself_whichever_way_up(turn):
    photo, middles, _ = target_photo(turn=turn)
    found = find_target(photo, published_target())
    assert found is not None
    assert np.linalg.norm(patch_places(found.corners) - middles, axis=1).max() < 0.08 * PITCH
    assert len(found.patches.names) == 24


@pytest.mark.parametrize("first", range(4))
def test_corners_may_start_anywhere_and_go_either_way_round(first):
    photo, middles, corners = target_photo(tilt=0.25)
    for given in (np.roll(corners, -first, axis=0), np.roll(corners[::-1], -first, axis=0)):
        found = read_target(photo, given, published_target())
        assert np.linalg.norm(patch_places(found.corners) - middles, axis=1).max() < 0.08 * PITCH


def test_corners_pointed_at_roughly_settle_on_the_patches():
    photo, middles, corners = target_photo(tilt=0.2, turn=5)
    rough = corners + np.array([[9, -7], [-8, 9], [10, 8], [-9, -9]])
    found = read_target(photo, rough, published_target())
    assert np.linalg.norm(patch_places(found.corners) - middles, axis=1).max() < 0.08 * PITCH


def test_covered_patches_are_left_out_and_the_others_kept():
    covered = (0, 1, 6, 7, 12)
    photo, _, corners = target_photo(covered=covered)
    found = read_target(photo, corners, published_target())
    names = {f"{'ABCD'[k // 6]}{k % 6 + 1}" for k in covered}
    assert not names & set(found.patches.names) - {"A2"}  # a skin-coloured cover may pass for light skin
    assert len(found.patches.names) >= 18


def test_light_of_a_patch_is_the_light_it_has_in_the_photo():
    photo, _, corners = target_photo(light=(0.6, 0.75, 0.9), noise=0.0)
    patches = read_target(photo, corners, published_target()).patches
    known = np.clip(xyz_to_linear_srgb(lab_to_xyz(patches.lab)), 0.003, None)
    ratio = patches.light / known / np.array([0.6, 0.75, 0.9])
    bright = known.min(1) > 0.05
    assert np.ptp(ratio[bright] / ratio[bright].mean(1, keepdims=True), axis=1).max() < 0.05


def test_a_burnt_out_patch_says_so():
    photo, _, corners = target_photo(light=(1.3, 1.3, 1.3))
    patches = read_target(photo, corners, published_target()).patches
    clipped = dict(zip(patches.names, patches.clipped, strict=True))
    assert clipped["D1"] > 0.9
    assert clipped["D4"] < 0.1


def test_where_there_is_no_target_none_is_found():
    pixels = np.random.default_rng(1).integers(90, 160, (400, 600, 3)).astype(np.uint8)
    photo = Photo(cv2.GaussianBlur(pixels, (0, 0), 3), srgb_decode(256))
    assert find_target(photo, published_target()) is None
    with pytest.raises(UnreadablePhoto, match="24-patch target"):
        read_target(photo, np.array([[50, 50], [50, 500], [350, 500], [350, 50]], float), published_target())


def test_published_colours_are_those_of_the_reference_library():
    """colour-science 0.4.7, published reference of 2005, in its own white (D50)."""
    colour = pytest.importorskip("colour")
    theirs = colour.CCS_COLOURCHECKERS["ColorChecker 2005"]
    lab = [colour.XYZ_to_Lab(colour.xyY_to_XYZ(xyy), theirs.illuminant) for xyy in theirs.data.values()]
    assert np.abs(published_target() - np.array(lab)).max() < 6e-4


@pytest.mark.shared
@pytest.mark.parametrize(
    ("name", "corners"),
    [
        ("photo_passport_warm.png", [(554, 480), (561, 219), (734, 224), (736, 485)]),
        ("photo_passport_cloth.jpg", [(1314, 955), (1713, 942), (1733, 1222), (1302, 1235)]),
    ],
)
def test_targets_in_real_photographs_are_found_where_they_are(shared_data, name, corners):
    """Corners pointed at by hand in the photographs' own description."""
    photo = load_photo(shared_data / "target_photos" / name)
    found = find_target(photo, published_target())
    assert found is not None
    assert len(found.patches.names) == 24
    by_hand = patch_places(np.array(corners, float)[:, ::-1])
    pitch = np.linalg.norm(by_hand[1] - by_hand[0])
    assert np.linalg.norm(patch_places(found.corners) - by_hand, axis=1).max() < 0.4 * pitch
