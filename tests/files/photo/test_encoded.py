"""Plain picture files written here by other libraries (Pillow, OpenCV) and read back to the number."""

from __future__ import annotations

import io

import cv2
import numpy as np
import pytest
from PIL import Image
from PIL.PngImagePlugin import PngImageFile

from halfpan.errors import UnreadablePhoto
from halfpan.files.photo import load_photo, open_pictures
from halfpan.files.photo.encoded import jpeg_is_whole


def colours(rows=40, cols=60, top=255, dtype=np.uint8):
    rng = np.random.default_rng(5)
    return (rng.random((rows, cols, 3)) * top).astype(dtype)


def saved(pixels, format_, **options):
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, format_, **options)
    return out.getvalue()


@pytest.mark.parametrize("format_", ["PNG", "TIFF", "BMP", "WEBP"])
def test_a_picture_without_loss_comes_back_to_the_number_red_first(format_):
    pixels = colours()
    options = {"lossless": True} if format_ == "WEBP" else {}
    (picture,) = open_pictures(saved(pixels, format_, **options), "chart")
    assert np.array_equal(picture.photo.pixels, pixels)
    assert picture.photo.clip_level == 250


def test_a_jpeg_has_the_pixels_pillow_sees():
    smooth = cv2.GaussianBlur(colours(160, 160), (0, 0), 6)
    data = saved(smooth, "JPEG", quality=95)
    (picture,) = open_pictures(data, "chart.jpg")
    theirs = np.asarray(Image.open(io.BytesIO(data))).astype(int)
    assert np.abs(picture.photo.pixels.astype(int) - theirs).max() <= 2


@pytest.mark.parametrize("extension", [".png", ".tiff"])
def test_sixteen_bits_stay_sixteen_bits(extension):
    pixels = colours(top=65535, dtype=np.uint16)
    data = cv2.imencode(extension, pixels[..., ::-1])[1].tobytes()
    (picture,) = open_pictures(data, "chart")
    assert picture.photo.pixels.dtype == np.uint16
    assert np.array_equal(picture.photo.pixels, pixels)
    assert picture.photo.decode.shape == (65536, 3)
    assert picture.photo.clip_level > 60000


def test_a_grey_picture_has_three_equal_channels():
    grey = colours()[..., 0]
    (picture,) = open_pictures(saved(grey, "PNG"), "chart")
    assert np.array_equal(picture.photo.pixels, np.repeat(grey[..., None], 3, axis=-1))


def test_a_file_that_says_nothing_is_taken_as_srgb():
    (picture,) = open_pictures(saved(colours(), "PNG"), "chart")
    # IEC 61966-2-1: 10/255 is on the straight part, 188/255 is close to half the light
    assert picture.photo.decode[10, 0] == pytest.approx(10 / 255 / 12.92, rel=1e-5)
    assert picture.photo.decode[188, 1] == pytest.approx(0.5029, abs=1e-4)
    assert np.array_equal(picture.photo.matrix, np.eye(3))


@pytest.mark.parametrize("orientation", range(1, 9))
@pytest.mark.parametrize("format_", ["JPEG", "PNG", "TIFF"])
def test_a_picture_is_turned_upright_as_pillow_turns_it(orientation, format_):
    pixels = np.zeros((32, 48, 3), np.uint8)
    pixels[:8, :16] = (255, 0, 0)
    pixels[-8:, :8] = (0, 0, 255)
    exif = Image.Exif()
    exif[274] = orientation
    data = saved(
        pixels, format_, exif=exif, **({"quality": 100, "subsampling": 0} if format_ == "JPEG" else {})
    )
    from PIL import ImageOps

    upright = np.asarray(ImageOps.exif_transpose(Image.open(io.BytesIO(data)))).astype(int)
    (picture,) = open_pictures(data, "chart")
    assert picture.photo.pixels.shape == upright.shape
    assert np.abs(picture.photo.pixels.astype(int) - upright).max() <= 3


def test_every_page_of_a_tiff_is_a_picture():
    pages = [Image.fromarray(np.full((30 + k, 50, 3), 40 * k, np.uint8)) for k in range(3)]
    out = io.BytesIO()
    pages[0].save(out, "TIFF", save_all=True, append_images=pages[1:])
    pictures = open_pictures(out.getvalue(), "charts.tif")
    assert [p.page for p in pictures] == [1, 2, 3]
    assert [p.photo.shape[0] for p in pictures] == [30, 31, 32]
    assert [int(p.photo.pixels[0, 0, 0]) for p in pictures] == [0, 40, 80]
    assert pictures[1].photo.name == "charts.tif, page 2"


def test_a_page_that_is_not_there_is_refused(tmp_path):
    path = tmp_path / "chart.png"
    path.write_bytes(saved(colours(), "PNG"))
    assert load_photo(path).shape == (40, 60)
    with pytest.raises(UnreadablePhoto, match="1 page"):
        load_photo(path, page=2)


def test_a_missing_file_is_refused_in_one_sentence(tmp_path):
    with pytest.raises(UnreadablePhoto, match=r"none\.jpg cannot be opened: .*\.$"):
        load_photo(tmp_path / "none.jpg")


@pytest.mark.parametrize("format_", ["JPEG", "PNG", "TIFF"])
@pytest.mark.parametrize("kept", [0.3, 0.6, 0.95])
def test_a_file_cut_off_is_refused(format_, kept):
    exif = Image.Exif()
    exif[271] = "Somebody"
    data = saved(cv2.GaussianBlur(colours(300, 300), (0, 0), 3), format_, exif=exif)
    with pytest.raises(UnreadablePhoto, match=r"^chart .*\.$"):
        open_pictures(data[: int(len(data) * kept)], "chart")


def test_the_end_of_a_thumbnail_is_not_the_end_of_the_picture():
    whole = saved(colours(), "JPEG")
    thumbnail = b"\xff\xe1" + (2 + len(whole)).to_bytes(2, "big") + whole
    cut = whole[:2] + thumbnail + whole[2 : len(whole) // 2]
    assert jpeg_is_whole(whole)
    assert not jpeg_is_whole(cut)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"hello",
        b"\xff\xd8\xff",
        b"\x89PNG\r\n\x1a\n",
        b"II*\x00",
        b"%PDF-1.4",
        b"MM\x00*\xff\xff\xff\xff",
    ],
)
def test_what_is_no_picture_is_refused(data):
    with pytest.raises(UnreadablePhoto, match=r"^chart.*\.$"):
        open_pictures(data, "chart")


def test_bytes_knocked_over_never_end_in_anything_but_a_picture_or_a_refusal():
    rng = np.random.default_rng(11)
    for format_ in ("JPEG", "PNG", "TIFF"):
        good = saved(colours(), format_)
        for _ in range(60):
            bad = bytearray(good)
            for at in rng.integers(0, len(bad), 6):
                bad[at] = rng.integers(0, 256)
            try:
                pictures = open_pictures(bytes(bad), "chart")
            except UnreadablePhoto:
                continue
            assert pictures[0].photo.pixels.ndim == 3


def test_printing_inks_are_refused():
    with pytest.raises(UnreadablePhoto, match="printing inks"):
        open_pictures(in_inks(), "chart")


def in_inks():
    out = io.BytesIO()
    Image.new("CMYK", (40, 40)).save(out, "JPEG")
    return out.getvalue()


def test_too_many_pixels_are_refused_before_they_are_decoded():
    out = io.BytesIO()
    Image.new("1", (20000, 8000)).save(out, "TIFF", compression="group4")
    with pytest.raises(UnreadablePhoto, match="160 million pixels"):
        open_pictures(out.getvalue(), "chart")


@pytest.mark.parametrize(("side", "said"), [(13_000, "has 169 million"), (14_000, "more than 150 million")])
def test_a_picture_too_large_is_never_called_damaged_nor_decoded(side, said, monkeypatch):
    out = io.BytesIO()
    Image.new("1", (side, side)).save(out, "PNG", compress_level=1)
    decoded = []
    monkeypatch.setattr(PngImageFile, "load", lambda image: decoded.append(image.size))
    with pytest.raises(UnreadablePhoto, match=f"{said}.*Scan it at 600 dots an inch"):
        open_pictures(out.getvalue(), "chart")
    assert decoded == []


def test_a_picture_too_small_to_hold_a_chart_is_refused():
    with pytest.raises(UnreadablePhoto, match="too small"):
        open_pictures(saved(colours(8, 8), "PNG"), "chart")
