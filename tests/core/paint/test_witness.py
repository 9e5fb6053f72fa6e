from datetime import date

import pytest

from halfpan.core.paint.finding import Finding
from halfpan.core.paint.index import pigments
from halfpan.core.paint.paint import Label, Paint
from halfpan.core.paint.reading import Swatch
from halfpan.core.paint.scales import PROPERTIES, WORDS
from halfpan.core.paint.witness import (
    GrainRule,
    answers,
    findings_say,
    grain_word,
    label_says,
    literature_says,
    statements,
    swatch_says,
)


def paint(codes=(), **label):
    return Paint("p1", "Old Quarry", "Earth and Stone", "A Paint", tuple(codes), Label(**label))


def told(paint, prop, proof=None):
    return next(s for s in statements(paint, proof) if s.property == prop)


def test_every_word_of_the_index_stands_on_the_line_of_its_scale():
    for known in pigments().values():
        assert known.light.text in WORDS["light"]
        assert known.transparency.text in WORDS["transparency"]
        assert known.granulation.text in WORDS["granulation"]
        assert known.staining.text in WORDS["staining"]


def test_a_paint_without_label_codes_or_chart_is_all_silence():
    for statement in statements(paint()):
        assert (statement.label, statement.literature, statement.proof) == (None, None, None)
        assert statement.disagreement is None


def test_the_label_is_quoted_word_for_word():
    assert label_says(paint(transparency="Transp. ★★"), "transparency").text == "Transp. ★★"


def test_a_printed_number_stands_with_the_direction_of_its_scale():
    rated = paint(transparency="1", scales="body: 1 to 4, 4 covers most, grain: yes or no")
    assert label_says(rated, "transparency").text == "1 (1 to 4, 4 covers most)"
    assert label_says(rated, "granulation") is None


def test_a_label_that_promises_what_the_literature_doubts_is_told_in_words():
    statement = told(paint(["PR83"], lightfastness="lasting"), "light")
    assert "disagree" in statement.disagreement
    assert statement.by("label").text == "lasting"


def test_the_weakest_pigment_decides_in_light():
    assert literature_says(["PB29", "PR83"], "light").level == 1.0
    assert literature_says(["PB29", "PG7"], "light").level == 0.0


def test_a_mixture_of_unlike_pigments_has_no_one_transparency():
    assert literature_says(["PG7", "PW6"], "transparency").level is None
    assert literature_says(["PG7", "PB60"], "transparency").level == 0.0


def test_an_unknown_code_is_named_and_keeps_the_answer_open():
    said = literature_says(["PB29", "PR192"], "light")
    assert "PR192 unknown" in said.text
    assert said.level is None
    assert literature_says(["PR192"], "light") is None


def test_proof_keeps_its_doubt_and_is_set_against_the_label():
    swatch = Swatch(
        "A1", "p1", "A Paint", contrast_ratio=0.31, contrast_ratio_within=0.04, transparency="transparent"
    )
    statement = told(paint(transparency="opaque"), "transparency", swatch_says(swatch))
    assert "0.31 ± 0.04" in statement.proof.text
    assert "disagree" in statement.disagreement


def test_a_line_that_cannot_tell_is_not_called_untried():
    swatch = Swatch("A1", "p1", "A Paint", contrast_ratio=0.52, contrast_ratio_within=0.21)
    statement = told(paint(transparency="opaque"), "transparency", swatch_says(swatch))
    assert statement.proof.text == "cannot be told over the black line, contrast ratio 0.52 ± 0.21"
    assert statement.disagreement is None
    assert answers("transparency", statement.proof) is None
    assert "transparency" not in swatch_says(Swatch("A1", "p1", "A Paint"))


def test_neighbouring_words_differ_by_a_step_and_equal_ones_agree():
    step = told(paint(["PB29"], transparency="transparent"), "transparency")
    assert "differ by a step" in step.disagreement
    assert told(paint(["PB29"], transparency="semi-transparent"), "transparency").disagreement is None


def test_what_was_seen_by_eye_carries_date_paper_and_direction():
    seen = Finding("staining", "4", "0 to 5, 5 stains most", "rough 300 g", date(2026, 10, 9))
    said = findings_say([seen])["staining"]
    assert said.text == "4 (0 to 5, 5 stains most) by eye on rough 300 g, 9 October 2026"
    assert said.level == 0.8
    assert findings_say([Finding("re-wetting", "quick")]) == {}


def test_a_silent_witness_answers_neither_yes_nor_no():
    for prop in PROPERTIES:
        assert answers(prop, None) is None
    assert answers("transparency", literature_says(["PB60"], "transparency")) is True
    assert answers("light", literature_says(["PR83"], "light")) is True
    assert answers("granulation", literature_says(["PG7"], "granulation")) is False


@pytest.mark.parametrize(
    ("value", "within", "word"),
    [
        (0.010, 0.004, "smooth"),
        (0.020, 0.007, "smooth"),
        (0.020, 0.012, None),
        (0.024, 0.008, None),
        (0.030, 0.010, "granulating"),
        (0.030, 0.020, None),
        (0.046, None, "granulating"),
    ],
)
def test_grain_earns_a_word_only_where_its_doubt_allows(value, within, word):
    """Limits are Halfpan's own, set between even washes and granulating ones."""
    assert grain_word(value, within) == word


def test_a_limit_of_grain_is_smooth_or_nothing_and_says_why():
    low, high = (
        swatch_says(Swatch("A1", "p1", "x", granulation_up_to=limit))["granulation"]
        for limit in (0.019, 0.03)
    )
    assert low.text == "smooth, grain no more than 0.019, too faint for its photo to say how much"
    assert answers("granulation", low) is False
    assert high.text.startswith("cannot be told")
    assert answers("granulation", high) is None


def test_the_limits_of_grain_can_be_turned():
    swatch = Swatch("A1", "p1", "x", granulation=0.024, granulation_within=0.002)
    assert swatch_says(swatch)["granulation"].level is None
    strict = GrainRule(even_wash=0.01, smooth_up_to=0.015, granulating_from=0.02)
    assert answers("granulation", swatch_says(swatch, strict)["granulation"]) is True
