"""A report is one file that needs nothing outside itself, has no colour of its own, escapes every word."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import cv2
import numpy as np
import pytest

from halfpan.files.report import Dot, Figure, Plot, Report, Section, Table, Tile, Wall, Words, write_report

PICTURE = cv2.imencode(".png", np.zeros((4, 4, 3), np.uint8))[1].tobytes()


@pytest.fixture
def written(tmp_path):
    tiles = [
        Tile(PICTURE, "<b>Rose & Co</b>", ("PV19", "L* 50", "± 1.0"), alt='Box of "Rose"', doubtful=True),
        Tile(PICTURE, "Blue", ("PB29",)),
    ]
    matter = (
        Words("Told.", (("where", "here"),)),
        Wall("Reds", tiles, note="One to paint."),
        Figure(PICTURE, "A sheet", "chart.jpg"),
        Table(("picture", "boxes"), [("a.jpg", "12")], numbers=("boxes",)),
        Plot((Dot(10, 20, "#aa0000", (11, 19), "Rose"),), "Read and true."),
    )
    path = tmp_path / "report.html"
    write_report(path, Report("Studio", "A lead.", [Section("All", matter, "note")], "foot"))
    return path.read_text(encoding="utf-8")


class Tags(HTMLParser):
    VOID = ("meta", "img", "br", "link", "input")

    def __init__(self):
        super().__init__()
        self.open, self.images, self.sources = [], [], []

    def handle_starttag(self, tag, attrs):
        if tag not in self.VOID:
            self.open.append(tag)
        if tag == "img":
            self.images.append(dict(attrs))
        self.sources += [value for name, value in attrs if name in {"src", "href"}]

    def handle_startendtag(self, tag, attrs):
        pass

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def test_every_tag_is_closed_and_every_picture_has_words(written):
    tags = Tags()
    tags.feed(written)
    assert tags.open == []
    assert len(tags.images) == 3
    assert all(image["alt"] for image in tags.images)


def test_it_asks_for_nothing_outside_itself(written):
    tags = Tags()
    tags.feed(written)
    assert all(source.startswith("data:") for source in tags.sources)
    assert all(url.startswith("data:") for url in re.findall(r"url\(([^)]*)\)", written))
    assert "http" not in re.sub(r"base64,[A-Za-z0-9+/=]*", "", written)


def test_what_a_painter_typed_is_shown_as_typed(written):
    assert "&lt;b&gt;Rose &amp; Co&lt;/b&gt;" in written
    assert "Box of &quot;Rose&quot;" in written


def test_the_style_has_no_colour_of_its_own(written):
    style = re.sub(r"base64,[A-Za-z0-9+/=]*", "", written[: written.index("</style>")])
    for value in re.findall(r"#([0-9a-f]{6}|[0-9a-f]{3})\b", style):
        digits = value if len(value) == 6 else "".join(c * 2 for c in value)
        assert digits[:2] == digits[2:4] == digits[4:], value


def test_a_doubtful_box_is_marked_by_the_black_line(written):
    assert written.count('class="tile doubtful"') == 1
