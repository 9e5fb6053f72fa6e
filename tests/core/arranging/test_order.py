"""The measured washes: Chen, Huang, Chang, Ouhyoung 2019 (arXiv 1904.00275), reflectance of real paints.

Which paint belongs to which family is common practice of the trade, no source.
"""

import csv

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfpan.core.arranging.order import FAMILIES, OrderRule, in_order, place, places
from halfpan.core.arranging.painted import Painted
from halfpan.core.colour.spaces import lch_to_lab
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch


def painted(name, mid=None, *, masstone=None, codes=()):
    mid = tuple(lch_to_lab(mid)) if mid is not None else None
    mass = tuple(lch_to_lab(masstone)) if masstone is not None else None
    swatch = Swatch("A1", name, name, masstone=mass or mid, mid=mid) if mid or mass else None
    return Painted(Paint(name, "Tidewater", "Ebb", name, tuple(codes)), swatch)


def names(paints, rule=None):
    return [placed.paint for placed in in_order(paints, rule)]


def test_brights_run_round_the_wheel_and_earths_neutrals_blacks_and_whites_follow():
    paints = [
        painted("white", (96, 3, 100)),
        painted("black", (52, 3, 50), masstone=(22, 2, 40)),
        painted("grey", (60, 9, 280), masstone=(45, 8, 280)),
        painted("burnt sienna", (65, 35, 40), masstone=(35, 45, 32)),
        painted("phthalo green", (75, 50, 180)),
        painted("turquoise", (75, 45, 210)),
        painted("ultramarine", (60, 60, 265)),
        painted("violet", (55, 60, 310)),
        painted("magenta", (60, 60, 340)),
        painted("cadmium red", (50, 70, 25)),
        painted("orange", (65, 80, 50)),
        painted("lemon", (92, 85, 100)),
    ]
    assert names(paints) == [
        "lemon", "orange", "cadmium red", "magenta", "violet", "ultramarine", "turquoise",
        "phthalo green", "burnt sienna", "grey", "black", "white",
    ]  # fmt: skip


def test_red_and_rose_are_neighbours_across_the_zero_of_the_hue_circle():
    paints = [painted(f"h{h}", (55, 60, h)) for h in (20, 8, 356, 345, 335)]
    assert names(reversed(paints)) == ["h20", "h8", "h356", "h345", "h335"]


@given(st.permutations(list(range(0, 360, 10))))
def test_the_order_does_not_depend_on_the_order_of_the_list(hues):
    paints = [painted(f"h{h:03}", (85, 90, h)) for h in hues]
    opens = OrderRule().opens
    assert names(paints) == [f"h{h:03}" for h in sorted(hues, key=lambda h: (opens - h) % 360)]


def test_a_brown_is_no_orange_though_the_hue_is_the_same():
    brown = painted("brown", (66, 35, 45), masstone=(36, 45, 40))
    orange = painted("orange", (70, 70, 45), masstone=(58, 92, 45))
    assert [p.family for p in in_order([brown, orange])] == ["orange", "earth"]


def test_an_olive_closes_the_greens_though_its_hue_is_a_yellow():
    greens = [painted("olive", (70, 40, 95), masstone=(40, 36, 90)), painted("bluish", (75, 50, 185))]
    assert names(greens) == ["bluish", "olive"]


def test_without_a_reading_the_pigment_group_places_it_and_says_so():
    placed = in_order([painted("Whatever", codes=["PB29"])])[0]
    assert (placed.family, placed.basis) == ("blue", "pigment group")


def test_without_codes_the_name_places_it_and_says_so():
    assert in_order([painted("Sap Green")])[0].basis == "name"
    assert in_order([painted("Sap Green")])[0].family == "green"
    assert in_order([painted("Moonlight")])[0].family == "unplaced"


def test_a_metallic_is_told_by_its_pigment_since_a_reading_cannot_see_it():
    assert in_order([painted("Glitter", (70, 50, 60), codes=["PW20"])])[0].family == "metallic"


def test_unread_paints_stand_behind_the_read_ones_of_their_family():
    paints = [painted("unread", codes=["PB29"]), painted("read", (60, 60, 265))]
    assert names(paints) == ["read", "unread"]


def test_a_border_case_goes_where_its_pigment_belongs_and_says_so():
    rule = OrderRule()
    edge = painted("Carmine", (60, 60, rule.hues[3] - 2), codes=["PR177"])
    placed = in_order([edge])[0]
    assert (placed.family, placed.basis) == ("red", "reading and pigment")
    far = painted("Rosy", (60, 60, rule.hues[3] - 10), codes=["PR177"])
    assert in_order([far])[0].family == "rose"


COLOUR = st.tuples(st.floats(5, 99), st.floats(0, 90), st.floats(0, 359))
READ = st.one_of(st.none(), COLOUR)
SOME = st.tuples(READ, READ, st.sampled_from([(), ("PB29",), ("PR177",), ("PW6",), ("PBr7", "PY42")]))


@given(st.lists(SOME, min_size=1, max_size=12))
def test_a_paint_is_placed_alike_alone_and_among_others(some):
    paints = [
        painted(f"p{at}", mid, masstone=mass, codes=codes) for at, (mid, mass, codes) in enumerate(some)
    ]
    assert places(paints, OrderRule()) == [place(one, OrderRule()) for one in paints]


def test_thresholds_can_be_turned():
    dull = painted("dull", (60, 18, 200))
    assert in_order([dull])[0].family != "neutral"
    assert in_order([dull], OrderRule(neutral_chroma=20))[0].family == "neutral"


def test_every_family_has_its_place():
    assert len(set(FAMILIES)) == 14


REAL = {
    "cadmium red": ("red", ["PR108"]), "alizarin crimson": ("red", ["PR83"]),
    "burnt sienna": ("earth", ["PBr7"]), "raw sienna": ("earth", ["PBr7"]), "lemon yellow": ("yellow", []),
    "cadmium yellow": ("yellow", ["PY37"]), "sap green": ("green", []), "cerulean blue": ("blue", ["PB35"]),
    "ivory black": ("black", ["PBk9"]), "chinese white": ("white", ["PW4"]),
    "cobalt blue": ("blue", ["PB28"]),
    "ultramarine": ("blue", ["PB29"]),
}  # fmt: skip
ROUND = ("yellow", "orange", "red", "rose", "violet", "blue", "turquoise", "green")


@pytest.fixture(scope="module")
def masstones(shared_data):
    films = {}
    with (shared_data / "watercolour_mixtures" / "films.csv").open(encoding="utf-8") as file:
        for row in csv.DictReader(file):  # the first of each paint is the thinnest, and still a full wash
            films.setdefault(row["paint"], [float(v) for key, v in row.items() if key.startswith("R_")])
    return {name: tuple(reflectance_to_lab(np.array(film))) for name, film in films.items()}


def real(masstones, *, with_codes):
    paints = [
        Painted(
            Paint(name, "", "", "A Paint", tuple(codes) if with_codes else ()),
            Swatch("A1", name, name, masstone=masstones[name]),
        )
        for name, (_, codes) in REAL.items()
    ]
    return {placed.paint: placed.family for placed in in_order(paints)}


@pytest.mark.shared
def test_real_full_washes_fall_into_the_families_a_painter_gives_them(masstones):
    assert real(masstones, with_codes=True) == {name: family for name, (family, _) in REAL.items()}


@pytest.mark.shared
def test_real_full_washes_by_colour_alone_fall_at_most_one_family_away(masstones):
    found = real(masstones, with_codes=False)
    for name, (family, _) in REAL.items():
        if family in ROUND and found[name] in ROUND:
            apart = abs(ROUND.index(family) - ROUND.index(found[name]))
            assert min(apart, len(ROUND) - apart) <= 1, name
        else:
            assert found[name] == family
