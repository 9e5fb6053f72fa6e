"""Which pigments hold which substance: check values of the project, section g (EU CLP, common practice)."""

import pytest

from halfpan.core.paint.cautions import DEFER, NONE_RECORDED, cautions, contains_substance, for_children
from halfpan.core.paint.index import pigments, substances
from halfpan.core.paint.paint import Label, Paint


def paint(codes=(), health=""):
    return Paint("p1", "Tidewater", "Ebb", "A Paint", tuple(codes), Label(health=health))


@pytest.mark.parametrize(
    ("substance", "codes"),
    [
        ("cadmium", ["PY35", "PY37", "PO20", "PR108", "PR108:1", "PR113"]),
        ("cobalt", ["PB28", "PB35", "PB36", "PB72", "PB74", "PV14", "PV49", "PG19", "PG50", "PY40", "PBk29"]),
        ("nickel", ["PY53", "PY150", "PY153", "PY157", "PG10", "PG50", "PO65"]),
        ("lead", ["PW1", "PY34", "PY41", "PR104", "PR105"]),
        ("mercury", ["PR106", "PR113"]),
        ("arsenic", ["PY39", "PG21", "PG22"]),
        ("hexavalent chromium", ["PY31", "PY32", "PY34", "PY36"]),
        ("trivalent chromium", ["PG17", "PG18", "PB36"]),
        ("manganese", ["PV16", "PB33", "PBr7", "PBr8"]),
        ("antimony", ["PY41", "PY53", "PBr24"]),
        ("copper", ["PB30", "PG20", "PY129"]),
        ("zinc", ["PW4", "PG19", "PY119"]),
    ],
)
def test_the_substances_of_the_check_values_are_named(substance, codes):
    for code in codes:
        assert contains_substance(paint([code]), substance) is True


def test_every_substance_of_the_index_has_its_caution_and_source():
    for known in pigments().values():
        for symbol in known.hazards:
            assert substances()[symbol].caution.text
            assert substances()[symbol].caution.source


def test_the_label_is_quoted_and_stands_first():
    first, second = cautions(paint(["PR108"], health="Do not spray apply."))
    assert (first.witness, first.text) == ("label", "“Do not spray apply.”")
    assert (second.witness, second.substance) == ("literature", "cadmium")
    assert "1272/2008" in second.source


def test_a_code_with_many_faces_says_of_which_the_caution_is():
    assert "umbers above all" in cautions(paint(["PBr7"]))[0].text


def test_no_caution_is_no_statement_about_the_paint():
    assert cautions(paint(["PB29"])) == ()
    assert "no statement" in NONE_RECORDED


def test_unknown_codes_leave_the_question_open():
    assert contains_substance(paint(), "cadmium") is None
    assert contains_substance(paint(["PR192"]), "cadmium") is None
    assert contains_substance(paint(["PB29"]), "cadmium") is False
    assert contains_substance(paint(["PR192", "PR108"]), "Cd") is True


@pytest.mark.parametrize(
    ("health", "answer"),
    [
        ("Keep out of reach of children.", "the label warns"),
        ("CL. Conforms to ASTM D4236", "the label warns"),
        ("Not suitable for use by children", "the label warns"),
        ("Not for children under 12 years", "the label warns"),
        ("AP", "the label names children or a mark"),
        ("Conforms to ASTM D4236", "the label says nothing"),
        ("", "the label says nothing"),
    ],
)
def test_a_class_list_is_gone_through_by_the_words_of_the_labels(health, answer):
    (row,) = for_children([paint(["PG50"], health)])
    assert (row.answer, row.quote) == (answer, health)
    assert row.substances == ("cobalt", "nickel")


def test_the_words_that_promise_too_much_are_nowhere():
    texts = [c.caution.text for c in substances().values()] + [NONE_RECORDED, DEFER]
    for text in texts:
        assert "non-toxic" not in text.casefold()
        assert " safe " not in f" {text.casefold()} ".replace("safety", "")
