"""Colour profiles against littleCMS (through Pillow) and the curves of ICC.1:2022."""

from __future__ import annotations

import io
import struct

import numpy as np
import pytest
from PIL import Image, ImageCms

from halfpan.core.colour.screen import encode_srgb, linear_srgb_to_xyz
from halfpan.core.colour.spaces import xyz_to_lab
from halfpan.core.measuring.photo import light_at
from halfpan.errors import UnreadablePhoto
from halfpan.files.photo import open_pictures
from halfpan.files.photo.profile import (
    curve_values,
    display_p3_profile,
    light_of_profile,
    parse_profile,
    profile_bytes,
)


def s15(*values):
    return struct.pack(f">{len(values)}i", *(round(v * 65536) for v in values))


def xyz_tag(values):
    return b"XYZ \x00\x00\x00\x00" + s15(*values)


def gamma_tag(value):
    return b"curv\x00\x00\x00\x00" + struct.pack(">IH", 1, round(value * 256))


def text_tag(text):
    raw = text.encode("ascii") + b"\x00"
    return b"desc\x00\x00\x00\x00" + struct.pack(">I", len(raw)) + raw + b"\x00" * 78


# primaries and D50 white of a wide matrix profile, columns XYZ (ISO 22028-2)
WIDE = np.array([[0.79767, 0.13519, 0.03135], [0.28804, 0.71187, 0.00009], [0.0, 0.0, 0.82490]])


def wide_profile():
    tags = {"desc": text_tag("Wide")} | {f"{c}XYZ": xyz_tag(WIDE[:, k]) for k, c in enumerate("rgb")}
    tags |= {f"{c}TRC": gamma_tag(1.8) for c in "rgb"}
    tags["wtpt"] = xyz_tag((0.9642, 1.0, 0.8249))
    return profile_bytes("mntr", "RGB ", "XYZ ", tags)


def ramp(n=12):
    axis = np.linspace(20, 235, n).round().astype(np.uint8)
    r, g, b = np.meshgrid(axis, axis, axis, indexing="ij")
    return np.stack([r, g, b], -1).reshape(n * 4, -1, 3)


def with_profile(pixels, icc, format_="PNG"):
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, format_, icc_profile=icc)
    return out.getvalue()


def lab_of(photo):
    rows, cols = photo.shape
    places = np.stack(np.meshgrid(np.arange(rows), np.arange(cols), indexing="ij"), -1).astype(float)
    return xyz_to_lab(linear_srgb_to_xyz(light_at(photo, places)[0]))


def lab_by_littlecms(pixels, icc):
    """Encoded sRGB by littleCMS, relative colorimetric: 8 bit, so half a step of doubt."""
    to = ImageCms.createProfile("sRGB")
    change = ImageCms.buildTransform(
        ImageCms.ImageCmsProfile(io.BytesIO(icc)), to, "RGB", "RGB", renderingIntent=1
    )
    return np.asarray(ImageCms.applyTransform(Image.fromarray(pixels), change)).astype(float)


@pytest.mark.parametrize("icc", [wide_profile(), display_p3_profile()], ids=["wide", "display p3"])
@pytest.mark.parametrize("format_", ["PNG", "TIFF", "JPEG"])
def test_curves_and_primaries_agree_with_littlecms_where_srgb_can_hold_the_colour(icc, format_):
    pixels = ramp()
    data = with_profile(pixels, icc, format_)
    pixels = np.asarray(Image.open(io.BytesIO(data)))
    (picture,) = open_pictures(data, "chart")
    rows, cols = picture.photo.shape
    places = np.stack(np.meshgrid(np.arange(rows), np.arange(cols), indexing="ij"), -1).astype(float)
    light = light_at(picture.photo, places)[0]
    inside = ((light > 0.002) & (light < 0.99)).all(-1)
    ours, theirs = encode_srgb(np.clip(light, 0, 1)) * 255, lab_by_littlecms(pixels, icc)
    assert inside.mean() > 0.2
    assert np.abs(ours - theirs)[inside].max() < (3.0 if format_ == "JPEG" else 1.0)


def test_a_colour_outside_srgb_is_kept():
    pixels = np.zeros((20, 20, 3), np.uint8)
    pixels[..., 1] = 200
    (picture,) = open_pictures(with_profile(pixels, wide_profile()), "chart")
    light = light_at(picture.photo, np.array([[5.0, 5.0]]))[0][0]
    assert light[0] < -0.05


def test_white_stays_white():
    for icc in (wide_profile(), display_p3_profile()):
        _, matrix = light_of_profile(parse_profile(icc, "x"), 256, "x")
        assert np.allclose(matrix.sum(axis=1), 1.0)


def test_the_five_parametric_curves_follow_the_standard():
    """ICC.1:2022 table 68, worked by hand at single points."""
    x = np.array([0.0, 0.02, 0.5, 1.0])

    def curve(kind, *parameters):
        return curve_values(b"para\x00\x00\x00\x00" + struct.pack(">HH", kind, 0) + s15(*parameters), x)

    assert curve(0, 2.0) == pytest.approx(x**2, abs=1e-4)
    assert curve(1, 2.0, 1.0, -0.1) == pytest.approx([0, 0, 0.16, 0.81], abs=1e-4)
    assert curve(2, 2.0, 1.0, -0.1, 0.05) == pytest.approx([0.05, 0.05, 0.21, 0.86], abs=1e-4)
    assert curve(3, 2.0, 1.0, 0.0, 0.1, 0.04) == pytest.approx([0, 0.002, 0.25, 1.0], abs=1e-4)
    assert curve(4, 2.0, 1.0, 0.0, 0.1, 0.04, 0.01, 0.02) == pytest.approx(
        [0.02, 0.022, 0.26, 1.01], abs=1e-4
    )


def test_a_sampled_curve_is_read_between_its_points():
    tag = b"curv\x00\x00\x00\x00" + struct.pack(">I3H", 3, 0, 16384, 65535)
    assert curve_values(tag, np.array([0.25, 0.5])) == pytest.approx([0.125, 0.25], abs=1e-4)
    assert curve_values(b"curv" + b"\x00" * 8, np.array([0.3])) == pytest.approx([0.3])


def test_a_profile_for_inks_or_without_curves_is_refused():
    inks = profile_bytes("prtr", "CMYK", "Lab ", {})
    bare = profile_bytes("mntr", "RGB ", "XYZ ", {})
    for icc in (inks, bare, wide_profile()[:200], b"rubbish" * 40):
        with pytest.raises(UnreadablePhoto, match=r"\.$"):
            open_pictures(with_profile(ramp(), icc), "chart")


def lut16(grid, table, *, entries=2):
    """lut16Type of ICC.1:2022 10.10 with straight curves."""
    straight = np.linspace(0, 65535, entries).astype(">u2").tobytes()
    head = b"mft2\x00\x00\x00\x00" + bytes([3, 3, grid, 0]) + s15(1, 0, 0, 0, 1, 0, 0, 0, 1)
    return (
        head
        + struct.pack(">HH", entries, entries)
        + straight * 3
        + table.astype(">u2").tobytes()
        + straight * 3
    )


def lut8(grid, table):
    straight = bytes(range(256))
    head = b"mft1\x00\x00\x00\x00" + bytes([3, 3, grid, 0]) + s15(1, 0, 0, 0, 1, 0, 0, 0, 1)
    return head + straight * 3 + table.astype(np.uint8).tobytes() + straight * 3


def newer(grid, table):
    """lutAToBType of ICC.1:2022 10.12 with a gamma in its first curves."""
    gamma, straight = b"para" + b"\x00" * 8 + s15(1.2), b"para" + b"\x00" * 8 + s15(1.0)
    clut = bytes([grid] * 3 + [0] * 13) + b"\x02\x00\x00\x00" + table.astype(">u2").tobytes()
    clut += b"\x00" * (-len(clut) % 4)
    b_at, clut_at = 32, 32 + 48
    a_at = clut_at + len(clut)
    head = b"mAB \x00\x00\x00\x00" + bytes([3, 3, 0, 0]) + struct.pack(">5I", b_at, 0, 0, clut_at, a_at)
    return head + straight * 3 + clut + gamma * 3


def scanner_profile(kind):
    """A made-up scanner: gamma 2, primaries a little mixed, as a table from device to Lab."""
    grid = 17
    axis = np.linspace(0, 1, grid)
    device = np.stack(np.meshgrid(axis, axis, axis, indexing="ij"), -1)
    mixed = device**2 @ np.array([[0.85, 0.1, 0.05], [0.08, 0.86, 0.06], [0.02, 0.1, 0.88]]).T
    lab = xyz_to_lab(linear_srgb_to_xyz(mixed))
    coded = (lab + np.array([0, 128, 128])) / np.array([100, 255, 255])
    tag = {
        "lut16": lambda: lut16(grid, np.rint(coded * 65280)),
        "lut8": lambda: lut8(grid, np.rint(coded * 255)),
        "newer": lambda: newer(grid, np.rint(coded * 65535)),
    }[kind]()
    tags = {"desc": text_tag("Made-up scanner"), "A2B0": tag, "wtpt": xyz_tag((0.9642, 1.0, 0.8249))}
    profile = bytearray(profile_bytes("scnr", "RGB ", "Lab ", tags))
    if kind != "newer":
        profile[8] = 2
    return bytes(profile)


@pytest.mark.parametrize("kind", ["lut16", "lut8", "newer"])
def test_a_scanners_table_agrees_with_littlecms(kind):
    pixels, icc = ramp(), scanner_profile(kind)
    (picture,) = open_pictures(with_profile(pixels, icc, "TIFF"), "chart")
    assert picture.photo.pixels.dtype == np.uint16
    assert picture.photo.device == "Made-up scanner"
    rows, cols = picture.photo.shape
    places = np.stack(np.meshgrid(np.arange(rows), np.arange(cols), indexing="ij"), -1).astype(float)
    light, burnt = light_at(picture.photo, places)
    inside = ((light > 0.02) & (light < 0.99)).all(-1)
    ours, theirs = encode_srgb(np.clip(light, 0, 1)) * 255, lab_by_littlecms(pixels, icc)
    # littleCMS walks tetrahedra, we go straight along the axes: the two differ inside a cell of the table
    assert np.abs(ours - theirs)[inside].max() < 3.0
    assert np.abs(ours - theirs)[inside].mean() < 0.5
    assert not burnt.any()


def test_what_a_scanner_burnt_out_stays_burnt_out_through_its_table():
    pixels = np.full((20, 20, 3), 120, np.uint8)
    pixels[:10] = 254
    (picture,) = open_pictures(with_profile(pixels, scanner_profile("lut16")), "chart")
    _, burnt = light_at(picture.photo, np.array([[3.0, 3.0], [15.0, 3.0]]))
    assert burnt.tolist() == [True, False]
