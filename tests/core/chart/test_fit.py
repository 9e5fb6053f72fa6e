from hypothesis import given
from hypothesis import strategies as st

from halfpan.core.chart.fit import fit, one_line

from .samples import plain_width

SETTING = {"measure": plain_width, "face": "serif bold", "size": 8.0, "least": 6.5}


def test_a_short_name_keeps_its_size_on_one_line():
    setting = fit("Scarlet", 30, **SETTING)
    assert setting.lines == ("Scarlet",)
    assert setting.size == 8.0


def test_a_name_that_needs_a_little_less_room_is_set_smaller_before_it_is_wrapped():
    width = plain_width("Cadmium Orange", "serif bold", 7.6)
    assert fit("Cadmium Orange", width, **SETTING).lines == ("Cadmium Orange",)


def test_a_longer_name_is_wrapped_between_words_and_after_a_comma_where_it_may():
    width = plain_width("Phthalo Blue, g", "serif bold", 8)
    assert fit("Phthalo Blue, green shade", width, **SETTING).lines == ("Phthalo Blue,", "green shade")


def test_a_single_endless_word_is_cut_with_a_hyphen():
    width = plain_width("Quinacridone", "serif bold", 6.5)
    setting = fit("Quinacridonegoldochre", width, **SETTING)
    assert len(setting.lines) == 2
    assert setting.lines[0].endswith("-")
    assert "".join(setting.lines).replace("-", "") == "Quinacridonegoldochre"


def test_no_words_take_no_room():
    assert fit("   ", 20, **SETTING).lines == ()


@given(st.text(min_size=1, max_size=120), st.floats(8, 60))
def test_whatever_is_written_stays_within_its_width_and_loses_no_letter(text, width):
    setting = fit(text, width, **SETTING)
    assert all(plain_width(line, "serif bold", setting.size) <= width + 1e-9 for line in setting.lines)
    kept = "".join(setting.lines).replace("-", "").replace(" ", "")
    assert kept == "".join(text.split()).replace("-", "")
    assert len(setting.lines) <= 2


@given(st.text(min_size=1, max_size=200), st.floats(5, 60), st.booleans())
def test_one_line_ends_where_its_room_ends(text, width, to_right):
    words = one_line(text, 50, 10, width, measure=plain_width, face="sans", size=7, to_right=to_right)
    assert words.width <= width + 1e-9
    if to_right:
        assert abs(words.x + words.width - 50) < 1e-9
