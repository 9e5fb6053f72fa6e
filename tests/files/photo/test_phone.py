"""Phone pictures: what is said without the extra, and of a damaged file."""

from __future__ import annotations

import sys

import pytest

from halfpan.errors import UnreadablePhoto
from halfpan.files.photo import open_pictures

HEIC = b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + b"\x00" * 64


def test_without_the_extra_the_refusal_says_what_to_install(monkeypatch):
    monkeypatch.setitem(sys.modules, "pi_heif", None)
    with pytest.raises(UnreadablePhoto, match=r"halfpan\[phone\].*JPEG"):
        open_pictures(HEIC, "chart.heic")


def test_a_damaged_phone_picture_is_refused():
    pytest.importorskip("pi_heif", reason="the extra [phone] is not installed")
    with pytest.raises(UnreadablePhoto, match="damaged"):
        open_pictures(HEIC, "chart.heic")
