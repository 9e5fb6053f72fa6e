"""EXIF 2.32 words and the TIFF and DNG tag numbers."""

from __future__ import annotations

import io
import struct

import numpy as np
from PIL import Image

from halfpan.files.photo import open_pictures
from halfpan.files.photo.taken import Taken, taken_from_exif
from halfpan.files.photo.tiff_tags import has_raw_mosaic


def jpeg_with_exif():
    exif = Image.Exif()
    exif[271], exif[272] = "Tarn", "Tarn Two"
    directory = exif.get_ifd(0x8769)
    directory[33434] = 1 / 125
    directory[33437] = 2.8
    directory[34855] = 100
    directory[37386] = 26.0
    directory[41987] = 1
    directory[42036] = "Tarn 26 mm"
    directory[36867] = "2026:05:03 10:11:12"
    directory[37385] = 16
    out = io.BytesIO()
    Image.fromarray(np.full((40, 40, 3), 200, np.uint8)).save(out, "JPEG", exif=exif, dpi=(72, 72))
    return out.getvalue()


def test_what_the_camera_wrote_is_kept_beside_the_picture():
    (picture,) = open_pictures(jpeg_with_exif(), "chart.jpg")
    taken = picture.taken
    assert taken.device == picture.photo.device == "Tarn Two"
    assert abs(taken.exposure_s - 0.008) < 1e-6
    assert (taken.f_number, taken.iso, taken.focal_length_mm) == (2.8, 100, 26.0)
    assert (taken.white_balance, taken.lens, taken.flash) == ("fixed", "Tarn 26 mm", False)
    assert taken.when.isoformat() == "2026-05-03T10:11:12"
    assert taken.kind == picture.photo.kind == "photo"


def test_a_file_that_says_nothing_stays_silent():
    taken = taken_from_exif({}, {})
    assert taken == Taken()


def test_a_device_without_a_shutter_that_states_its_resolution_is_a_scanner():
    assert taken_from_exif({271: "Lowfell", 272: "Flat 3"}, {}, 300.0).kind == "scan"
    assert taken_from_exif({}, {41728: b"\x02"}).kind == "scan"
    assert taken_from_exif({}, {41728: b"\x03"}).kind == "photo"


def test_nonsense_in_the_file_is_no_knowledge():
    taken = taken_from_exif({274: 99, 306: "yesterday"}, {33434: (), 33437: "f", 34855: float("nan")})
    assert (taken.orientation, taken.when, taken.exposure_s, taken.f_number, taken.iso) == (
        1,
        None,
        None,
        None,
        None,
    )


def test_a_sensor_mosaic_makes_a_tiff_a_raw_file():
    def one_directory(order, *entries):
        body = struct.pack(order + "H", len(entries))
        for tag, kind, count, value in entries:
            body += struct.pack(order + "HHI", tag, kind, count) + value.ljust(4, b"\x00")
        mark = b"II*\x00" if order == "<" else b"MM\x00*"
        return mark + struct.pack(order + "I", 8) + body + b"\x00" * 4

    for order in "<>":
        assert has_raw_mosaic(one_directory(order, (262, 3, 1, struct.pack(order + "H", 32803))))
        assert has_raw_mosaic(one_directory(order, (50706, 1, 4, b"\x01\x04\x00\x00")))
        assert not has_raw_mosaic(one_directory(order, (262, 3, 1, struct.pack(order + "H", 2))))
    assert not has_raw_mosaic(b"II*\x00\x08\x00\x00\x00")
