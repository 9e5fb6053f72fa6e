"""Pictures as SVG: well-formed, told in words, and nothing by colour alone."""

from __future__ import annotations

from xml.etree import ElementTree as ET

import numpy as np

from halfpan.core.arranging.ring import OnRing, ring_gaps
from halfpan.core.colour.spaces import lch_to_lab
from halfpan.core.paint.tin import tin_of_rows
from halfpan.files.drawing import Pan, hue_ring, reach_slices, tin_map

SVG = "{http://www.w3.org/2000/svg}"


def parsed(svg):
    return ET.fromstring(svg)


def told(svg):
    return parsed(svg).find(f"{SVG}desc").text


def on(name, hue, chroma=40.0, lightness=60.0):
    lab = tuple(float(v) for v in lch_to_lab((lightness, chroma, hue)))
    return OnRing(name, hue, chroma, lab, 30.0, 90.0)


def test_a_tin_map_shows_true_crops_and_says_where_there_are_none():
    tin = tin_of_rows("Sketch <box>", ["2h-", "f"])
    pans = {
        "A1": Pan("Rose & Grey", "PV19", crop=b"\x89PNG rest", locked=True),
        "A2": Pan("Straw", lab=(80.0, 0.0, 60.0)),
        "B1": Pan("Moss"),
    }
    svg = tin_map(tin, pans)
    root = parsed(svg)
    assert root.find(f"{SVG}title").text == "Sketch <box>"
    (image,) = root.findall(f"{SVG}image")
    assert image.get("href").startswith("data:image/png;base64,")
    said = told(svg)
    assert "A1 Rose & Grey;" in said
    assert "A2 Straw (flat colour of its reading)" in said
    assert "B1 Moss (not painted)" in said


def test_an_empty_tin_is_drawn_seat_by_seat():
    svg = tin_map(tin_of_rows("t", ["3h"]), {})
    assert told(svg) == "A1 empty; A2 empty; A3 empty"


def test_greyish_paints_are_squares_and_gaps_are_hatched():
    ring = [on("a", 10), on("b", 60), on("grey", 80, chroma=4), on("c", 300)]
    svg = hue_ring(ring, ring_gaps(ring), {one.paint: one.paint.upper() for one in ring})
    root = parsed(svg)
    marks = [one for one in root.iter() if one.get("stroke-width") == "1"]
    assert [one.tag.removeprefix(SVG) for one in marks] == ["circle", "circle", "rect", "circle"]
    hatched = [one for one in root.iter() if one.get("fill") == "url(#none)"]
    assert len(hatched) == len(ring_gaps(ring)) == 3
    assert "no paint from 60° to 300°" in told(svg)


def test_dark_paints_lie_nearer_the_middle_than_light_ones():
    ring = [on("dark", 0, lightness=30), on("light", 180, lightness=85)]
    circles = list(parsed(hue_ring(ring, (), {"dark": "d", "light": "l"})).iter(f"{SVG}circle"))
    dark, light = (c for c in circles if c.get("r") == "6")
    middle = float(circles[0].get("cx"))
    assert abs(float(dark.get("cx")) - middle) < abs(float(light.get("cx")) - middle)


def test_names_on_the_ring_do_not_touch():
    from halfpan.files.drawing.hue_ring import _apart

    rng = np.random.default_rng(0)
    hues = sorted(rng.uniform(40, 70, 12).tolist())
    turns = _apart(hues)
    assert np.diff(turns).min() > 2.9
    assert abs(np.mean(turns) - np.mean(hues)) < 1


def test_reach_marks_what_is_missed_by_a_cross_not_a_colour():
    cells = lch_to_lab([[52.0, 16.0, 22.5], [52.0, 32.0, 22.5], [52.0, 32.0, 187.5]])
    svg = reach_slices(cells, [True, False, False], [True, True, False], title="Six", wider="all")
    paths = list(parsed(svg).iter(f"{SVG}path"))
    filled = [p for p in paths if p.get("fill", "none") != "none"]
    crosses = [p for p in paths if p.get("stroke") == "#141414"]
    assert (len(filled), len(crosses)) == (2, 2)  # C* 0 to 10 and on to 16; at 21 and 31
    assert "50% of what all reaches" in told(svg)
