"""Phone pictures: read to the colours they were made from, turned once; what is said where they cannot be."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.screen import decode_srgb, linear_p3_to_xyz, linear_srgb_to_xyz
from halfpan.core.colour.spaces import xyz_to_lab
from halfpan.core.measuring.photo import light_at
from halfpan.errors import UnreadablePhoto
from halfpan.files.photo import open_pictures

HEIC = b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + b"\x00" * 64
WRITTEN = Path(__file__).parent / "phone"
PATCHES = np.array(
    [(200, 60, 40), (240, 200, 70), (60, 120, 60), (40, 60, 130), (128, 128, 128), (236, 234, 226)]
)
"""Written by another library's encoder (phone/SOURCES.md): these are the colours it was given."""


def opened(name):
    pytest.importorskip("pi_heif", reason="the extra [phone] is not installed")
    (picture,) = open_pictures((WRITTEN / name).read_bytes(), name)
    return picture


def seen(picture, side):
    middles = np.array([(row, col) for row in (0.5, 1.5, 2.5) for col in (0.5, 1.5)]) * side
    around = np.stack(np.meshgrid(np.arange(-20, 21), np.arange(-20, 21)), axis=-1)
    places = np.floor(middles)[:, None, None] + around
    light, _ = light_at(picture.photo, places.astype(float))
    return xyz_to_lab(linear_srgb_to_xyz(light.mean((1, 2))))


@pytest.mark.parametrize(
    ("name", "side", "to_xyz"),
    [
        ("upright.heic", 64, linear_srgb_to_xyz),
        ("turned.heic", 61, linear_p3_to_xyz),
        ("ten-bits.heic", 64, linear_srgb_to_xyz),
    ],
)
def test_a_phone_picture_gives_the_colours_it_was_made_from_the_right_way_up(name, side, to_xyz):
    """Other pictures are opened in between: the pixels have to be the picture's own, not the decoder's."""
    picture, *_ = [opened(name), opened("upright.heic"), opened("turned.heic")]
    assert picture.photo.shape == (3 * side, 2 * side)
    given = xyz_to_lab(to_xyz(decode_srgb(PATCHES / 255)))
    assert delta_e_2000(seen(picture, side), given).max() < 1.0


def test_a_picture_turned_by_its_own_box_is_not_turned_again_by_its_exif():
    data = (WRITTEN / "turned.heic").read_bytes()
    assert b"irot" in data
    assert orientation_in(data) == 6
    picture = opened("turned.heic")
    assert picture.photo.shape == (183, 122)
    assert picture.taken.orientation == 1


def test_exif_orientation_alone_does_not_turn_a_phone_picture():
    """ISO/IEC 23008-12: only transformative item properties (irot, imir) turn a picture."""
    pytest.importorskip("pi_heif", reason="the extra [phone] is not installed")
    data = (WRITTEN / "upright.heic").read_bytes()
    at, order = orientation_at(data)
    lying = data[:at] + (6).to_bytes(2, order) + data[at + 2 :]
    assert (orientation_in(data), orientation_in(lying)) == (1, 6)
    (picture,) = open_pictures(lying, "lying.heic")
    assert picture.photo.shape == (192, 128)


def orientation_at(data):
    """Where the value of the EXIF entry 0x0112, a SHORT, stands, and in which byte order."""
    big, little = data.find(b"\x01\x12\x00\x03"), data.find(b"\x12\x01\x03\x00")
    return (big + 8, "big") if big >= 0 else (little + 8, "little")


def orientation_in(data):
    at, order = orientation_at(data)
    return int.from_bytes(data[at : at + 2], order)


def test_ten_bits_keep_their_levels_and_white_is_white():
    picture = opened("ten-bits.heic")
    assert picture.photo.pixels.dtype == np.uint16
    grey = picture.photo.pixels[128 + 32, 32]
    assert grey / 65535 == pytest.approx(128 / 255, abs=0.002)


def test_what_the_phone_says_of_the_picture_is_kept():
    taken = opened("turned.heic").taken
    assert (taken.device, taken.exposure_s, taken.iso, taken.kind) == ("Tarn One", 0.02, 100, "photo")


def test_without_the_extra_the_refusal_says_what_to_install(monkeypatch):
    monkeypatch.setitem(sys.modules, "pi_heif", None)
    with pytest.raises(UnreadablePhoto, match=r"halfpan\[phone\].*JPEG"):
        open_pictures(HEIC, "chart.heic")


def test_a_damaged_phone_picture_is_refused():
    pytest.importorskip("pi_heif", reason="the extra [phone] is not installed")
    with pytest.raises(UnreadablePhoto, match="damaged"):
        open_pictures(HEIC, "chart.heic")
    whole = (WRITTEN / "turned.heic").read_bytes()
    with pytest.raises(UnreadablePhoto, match="damaged"):
        open_pictures(whole[: len(whole) // 2], "chart.heic")
