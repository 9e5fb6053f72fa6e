"""Sources: Colour Index notation as described at the index's own pages; the slips are those met on labels."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfpan.core.paint.codes import is_canonical, parse_code, parse_codes
from halfpan.core.paint.index import pigments

canonical = st.builds(
    lambda usage, hue, number, colon: f"{usage}{hue}{number}" + (f":{colon}" if colon else ""),
    st.sampled_from("PNBASVD"),
    st.sampled_from(["Br", "Bk", "Y", "O", "R", "V", "B", "G", "W"]),
    st.integers(1, 299),
    st.sampled_from([None, 1, 2, 3, 4, 6]),
)
separator = st.sampled_from([", ", ",", "; ", "+", " + ", "/", " / ", " & ", "\n", " and ", "  ", "|"])


def canonicals(text):
    return tuple(code.canonical for code in parse_codes(text, pigments().keys()))


@given(canonical)
def test_a_canonical_code_is_read_as_itself_without_a_word(code):
    read = parse_code(code)
    assert (read.canonical, read.as_written, read.problem, read.proposal) == (code, code, None, None)


@given(st.text(max_size=40))
def test_any_text_is_read_without_a_crash_and_keeps_what_was_written(text):
    for code in parse_codes(text, pigments().keys()):
        assert code.as_written in text
        assert code.canonical is None or is_canonical(code.canonical)
        assert code.canonical == code.as_written or code.problem


@given(st.text(alphabet="PBRYGOVWNkrI1l0O9:;,.-/ ()+", max_size=16))
def test_texts_made_of_the_letters_of_codes_never_change_in_silence(text):
    for code in parse_codes(text, pigments().keys()):
        assert code.as_written in text
        assert code.canonical == code.as_written or code.problem
        assert code.proposal is None or all(is_canonical(part) for part in code.proposal.split(" + "))


@given(st.lists(canonical, min_size=1, max_size=5), st.data())
def test_a_list_of_codes_is_read_whole_whatever_stands_between(codes, data):
    text = codes[0]
    for code in codes[1:]:
        text += data.draw(separator) + code
    assert canonicals(text) == tuple(codes)


@given(canonical)
def test_case_spaces_and_a_hyphen_before_the_number_are_read_and_told(code):
    letters = "".join(c for c in code if c.isalpha())
    number = code[len(letters) :]
    for written in (f"{letters} {number}", f"{letters}-{number}", f"C.I. {letters}{number}"):
        read = parse_code(written)
        assert read.canonical == code
        assert read.problem


@pytest.mark.parametrize(
    ("written", "code"),
    [
        ("PBK7", "PBk7"), ("PBK 7", "PBk7"), ("Pbk7", "PBk7"), ("PBR 7", "PBr7"), ("PB 29", "PB29"),
        ("PY-53", "PY53"), ("P.B. 29", "PB29"), ("CI PB29", "PB29"), ("C.I. Pigment Blue 15:3", "PB15:3"),
        ("pigment black 7", "PBk7"), ("PB15\uff1a3", "PB15:3"), ("PB 15 colon 3", "PB15:3"),
        ("PB15:0", "PB15"), ("PB 15 : 3", "PB15:3"), ("PB\u200b29", "PB29"), ("PB\u00a029", "PB29"),
        ("Natural Red 9", "NR9"), ("basic violet 10", "BV10"), ("PR101T", "PR101"), ("=PB29", "PB29"),
    ],
)  # fmt: skip
def test_a_clear_code_in_another_spelling_is_read_and_told(written, code):
    (read,) = parse_codes(written, pigments().keys())
    assert read.canonical == code
    assert read.as_written == written
    assert read.problem


@pytest.mark.parametrize(
    ("written", "proposal"),
    [
        ("PBI7", "PBk7"), ("PBl7", "PBk7"), ("PBlk7", "PBk7"), ("PBI 9", "PBk9"), ("PB15-3", "PB15:3"),
        ("PB15.3", "PB15:3"), ("PB15/3", "PB15:3"), ("PB15 3", "PB15:3"), ("P0 20", "PO20"),
        ("PR1O1", "PR101"), ("PYl50", "PY150"), ("PB2O", "PB20"), ("PBl5:3", "PB15:3"), ("B29", "PB29"),
        ("Br7", "PBr7"), ("PB029", "PB29"), ("\u0420\u041229", "PB29"), ("PB29PR101", "PB29 + PR101"),
        ("PB15:3PG7", "PB15:3 + PG7"), ("PY42/43", "PY42 + PY43"), ("PPB29", "PB29"), ("PBn7", "PBr7"),
        ("PB::29", "PB29"), ("P829", "PB29"), ("PGr7", "PG7"),
    ],
)  # fmt: skip
def test_a_slip_is_asked_about_and_never_taken_as_read(written, proposal):
    (read,) = parse_codes(written, pigments().keys())
    assert read.canonical is None
    assert read.problem
    assert read.proposal == proposal


def test_a_mixture_is_never_split_at_the_colon():
    for text in ("PB15:3+PG7", "PB15:3/PG7", "PB15:3, PG7"):
        assert canonicals(text) == ("PB15:3", "PG7")


def test_brown_and_black_are_not_read_as_blue():
    assert canonicals("PBr7 PBk7 PB27") == ("PBr7", "PBk7", "PB27")


def test_a_short_code_is_not_found_inside_a_longer_one():
    assert canonicals("PY110, PY1") == ("PY110", "PY1")


def test_a_constitution_number_beside_a_code_is_kept_as_its_check():
    for text in ("PB29 (77007)", "PB29 (C.I. 77007)", "PB29/77007"):
        (read,) = parse_codes(text)
        assert (read.canonical, read.constitution) == ("PB29", "77007")


def test_a_constitution_number_alone_is_no_code():
    (read,) = parse_codes("CI 77891")
    assert read.canonical is None
    assert "constitution number" in read.problem


def test_a_lone_digit_that_no_code_could_end_in_gets_no_proposal():
    assert [code.proposal for code in parse_codes("PB1,0")] == [None, None]


def test_silence_is_unknown_and_not_a_fault():
    for text in ("", "  ", "n/a", "-", "unknown", "?"):
        assert parse_codes(text) == ()
