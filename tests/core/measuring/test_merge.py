"""Several pictures of one page."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.measuring.merge import DISAGREE, merge_reads
from halfpan.core.measuring.page import measure_page
from halfpan.core.measuring.photo import Photo
from halfpan.core.paint.reading import Light, Reading, SheetRead, Unread

from .small_sheet import shoot


def read_of(box, lab, radius, flags=(), tier="paper"):
    reading = Reading(box, "p", "masstone", lab, radius, tier, flags)
    return SheetRead(Light(tier), (reading,), (), ())


def test_one_picture_is_left_as_it_is():
    only = read_of("1", (50.0, 0.0, 0.0), 2.0)
    assert merge_reads([only]) is only


def test_each_box_comes_from_the_picture_with_fewest_flags_then_the_smallest_radius():
    glared = read_of("1", (52.0, 0.0, 0.0), 1.0, ("glare",))
    clean = read_of("1", (50.0, 0.0, 0.0), 3.0)
    cleaner = read_of("1", (50.5, 0.0, 0.0), 2.0)
    assert merge_reads([glared, clean, cleaner]).readings[0].lab == (50.5, 0.0, 0.0)


def test_pictures_that_contradict_each_other_are_said_to():
    merged = merge_reads([read_of("1", (50.0, 0.0, 0.0), 1.0), read_of("1", (70.0, 0.0, 0.0), 1.5)])
    assert merged.readings[0].flags == (DISAGREE,)


def test_a_box_is_unread_only_when_no_picture_could_read_it():
    lost = SheetRead(
        Light("paper"), (), (Unread("1", "Glare lies over it."), Unread("2", "Glare lies over it.")), ()
    )
    merged = merge_reads([lost, read_of("1", (50.0, 0.0, 0.0), 1.0)])
    assert [u.box for u in merged.unread] == ["2"]


def test_a_box_covered_in_one_picture_is_read_from_the_other(page, painted, colours):
    pictures = []
    for box in page.boxes[:2]:
        photo = shoot(painted, noise=0.7)
        k = 150 / 25.4
        rect = box.zone("masstone").rect
        pixels = photo.pixels.copy()
        pixels[round(rect.y * k) : round(rect.bottom * k), round(rect.x * k) : round(rect.right * k)] = 255
        pictures.append(replace(photo, pixels=pixels) if isinstance(photo, Photo) else photo)
    reads = [measure_page(p, page) for p in pictures]
    assert [[u.box for u in r.unread] for r in reads] == [["1"], ["2"]]
    merged = merge_reads(reads)
    assert merged.unread == ()
    first = next(r for r in merged.readings if r.box == "1" and r.zone == "masstone")
    assert delta_e_2000(np.array(first.lab), colours[0]) < 0.3
