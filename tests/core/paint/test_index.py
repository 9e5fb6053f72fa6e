"""Constitution numbers: facts compiled with certainty S or A (check values of the project, section i).

Facts of the trade asserted below (PY53 pale and opaque, PW4 more transparent than PW6, PR83 and BV10
fugitive, ...): common practice, no source.
"""

import pytest

from halfpan.core.paint.codes import is_canonical, parse_code
from halfpan.core.paint.index import GROUPS, codes_by_constitution, pigment, pigment_names, pigments

SCALE = ("opaque", "semi-opaque", "semi-transparent", "transparent")


@pytest.mark.parametrize(
    ("code", "number"),
    [
        ("PB29", "77007"), ("PW6", "77891"), ("PW4", "77947"), ("PG7", "74260"), ("PG36", "74265"),
        ("PB15", "74160"), ("PB27", "77510"), ("PV19", "73900"), ("PV23", "51319"), ("PR254", "56110"),
        ("PR170", "12475"), ("PR112", "12370"), ("PY74", "11741"), ("PY151", "13980"), ("PY37", "77199"),
        ("PBk7", "77266"), ("PBk11", "77499"), ("PV16", "77742"), ("NR4", "75470"), ("PO73", "561170"),
    ],
)  # fmt: skip
def test_published_constitution_numbers_stand_in_the_index(code, number):
    assert number in pigment(code).constitution
    assert pigment(code).constitution_certainty == "published"


def test_every_code_of_the_index_is_canonical_and_has_a_group():
    assert len(pigments()) == 243
    for code, known in pigments().items():
        assert is_canonical(code)
        assert parse_code(code).canonical == code
        assert known.group in GROUPS


def test_every_fact_states_its_certainty_and_its_source():
    for known in pigments().values():
        for fact in (known.astm, known.light, known.transparency, known.granulation, known.staining):
            assert fact.text
            assert fact.certainty in {"published", "well known", "fairly sure", "weak or varies by make"}
            assert fact.source


def test_an_unknown_code_stays_unknown():
    assert pigment("PR192") is None
    assert pigment("PY999") is None


def test_one_structure_may_have_several_codes():
    assert set(codes_by_constitution()["77007"]) == {"PB29", "PV15", "PR259"}


def test_astm_words_and_other_tests_are_kept_apart():
    assert pigment("PR254").astm.text == "not listed"
    assert pigment("PR254").other_light.text == "I"
    assert pigment("PY40").astm.text == "II"
    assert pigment("PY40").other_light.text == "disputed"


def test_nickel_titanium_yellow_is_opaque_and_zinc_white_clearer_than_titanium_white():
    assert pigment("PY53").transparency.text == "opaque"
    zinc, titanium = pigment("PW4").transparency.text, pigment("PW6").transparency.text
    assert SCALE.index(zinc) > SCALE.index(titanium)


def test_alizarin_crimson_and_rhodamine_are_fugitive_and_quinacridone_magenta_is_not():
    assert pigment("PR83").light.text == "fugitive"
    assert pigment("BV10").light.text == "fugitive"
    assert pigment("PR122").light.text == "holds"


def test_the_phthalocyanine_blues_are_told_apart_by_shade():
    assert "green shade" in pigment("PB15:3").name
    assert "red shade" in pigment("PB15:6").name


def test_cobalt_stands_among_the_cautions_of_its_pigments():
    for code in ("PG50", "PB28", "PB35", "PB36", "PV14", "PG19", "PY40"):
        assert "Co" in pigment(code).hazards


def test_codes_promised_by_names_are_canonical():
    for named in pigment_names():
        assert all(is_canonical(code) for code in named.codes)
