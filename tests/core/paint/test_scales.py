"""ASTM D4303 / D5067: categories I and II are the ones accepted for artists' paints; the rest is ours."""

import pytest

from halfpan.core.paint.scales import PROPERTIES, WORDS, level_of, scale_of

NUMBERS = (
    "light: 5 to 1, 5 lasts longest; body: 1 to 4, 4 covers most; "
    "grain: yes or no; stain: 0 to 2, 2 stains most"
)
LETTERS = "light: L1 to L4, L1 lasts longest, body: open, half, closed, grain: 0 to 2, 2 grains most"


@pytest.mark.parametrize(
    ("prop", "printed", "scales", "level"),
    [
        ("light", "5", NUMBERS, 0.0),
        ("light", "1", NUMBERS, 1.0),
        ("light", "L1", LETTERS, 0.0),
        ("light", "L4", LETTERS, 1.0),
        ("transparency", "4", NUMBERS, 1.0),
        ("transparency", "1", NUMBERS, 0.0),
        ("transparency", "4", "transparency: 4 = transparent to 0 = opaque", 0.0),
        ("transparency", "0", "transparency: 4 = transparent to 0 = opaque", 1.0),
        ("transparency", "1", "opacity: 1 to 4, 1 = opaque", 1.0),
        ("granulation", "2", LETTERS, 1.0),
        ("granulation", "no", NUMBERS, 0.0),
        ("staining", "0", NUMBERS, 0.0),
        ("light", "passing", "light: lasting, fair, passing, short-lived", pytest.approx(2 / 3)),
    ],
)
def test_a_scale_with_a_stated_direction_is_read_in_it(prop, printed, scales, level):
    assert level_of(prop, printed, scales) == level


def test_the_same_number_means_opposite_things_in_opposite_scales():
    up = level_of("transparency", "4", "transparency: 1 to 4, 4 is transparent")
    down = level_of("transparency", "4", "transparency: 1 to 4, 4 is opaque")
    assert (up, down) == (0.0, 1.0)


def test_a_scale_without_a_direction_is_not_guessed():
    assert level_of("light", "4") is None
    assert level_of("light", "4", "light: 1 to 8") is None
    assert level_of("transparency", "open", LETTERS) is None


def test_plain_words_need_no_scale():
    assert level_of("transparency", "semi-opaque") == pytest.approx(2 / 3)
    assert level_of("transparency", "ST") == pytest.approx(1 / 3)
    assert level_of("granulation", "G") == 1.0


def test_astm_words_count_only_where_astm_is_named():
    assert level_of("light", "ASTM II") == pytest.approx(0.1)
    assert level_of("light", "III", "light: ASTM D4303") == 0.5
    assert level_of("light", "II") is None


def test_each_scale_is_found_in_one_line_of_them_all():
    assert scale_of("transparency", LETTERS) == "open, half, closed"
    assert scale_of("staining", LETTERS) == ""


def test_all_words_stand_on_the_line():
    assert all(0 <= level <= 1 for prop in PROPERTIES for level in WORDS[prop].values())
