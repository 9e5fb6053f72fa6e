"""The cases are slips of real labels and lists; the facts behind them are common practice of the trade."""

import pytest

from halfpan.core.paint.checking import check_label


def asked(name, codes):
    return [remark for remark in check_label(name, codes).remarks if remark.level == "asked"]


@pytest.mark.parametrize(
    ("name", "codes", "proposal"),
    [
        ("Phthalo Blue", "PB 2", "PB15"),
        ("Prussian Blue", "PB 15", "PB27"),
        ("Hansa Yellow", "PW 97", "PY97"),
        ("Phthalo Blue (green shade)", "PB15", "PB15:3"),
        ("Phthalo Blue Red Shade", "PB15", "PB15:6"),
        ("Natural Yellow Ochre", "PY42", "PY43"),
        ("Mars Yellow", "PY43", "PY42"),
        ("Ivory Black", "PBI 9", "PBk9"),
        ("Titanium white", "77891", "PW6"),
    ],
)
def test_a_code_that_does_not_fit_is_asked_about_with_a_proposal(name, codes, proposal):
    assert proposal in [remark.proposal for remark in asked(name, codes)]


def test_a_constitution_number_with_several_codes_gives_them_all_and_proposes_none():
    (remark,) = asked("Ultramarine", "77007")
    assert remark.proposal is None
    assert all(code in remark.text for code in ("PB29", "PV15", "PR259"))


def test_a_number_beside_a_code_that_is_not_its_own_is_asked_about():
    (remark,) = asked("Ultramarine", "PB29 (77346)")
    assert "PB28" in remark.text
    assert asked("Ultramarine", "PB29 (77007)") == []


def test_a_hue_with_the_genuine_code_is_asked_about():
    assert "PB28" in asked("Cobalt Blue Hue", "PB28")[0].text


def test_a_code_of_another_colour_than_the_name_is_asked_about():
    assert asked("Sky Blue", "PY3")
    for name, code in [("Perylene Green", "PBk31"), ("Green Gold", "PY129"), ("Caput Violet", "PR101")]:
        assert asked(name, code) == []


def test_an_unknown_code_is_kept_and_called_unknown():
    checked = check_label("Mystery", "PR192")
    assert checked.codes == ("PR192",)
    assert "unknown" in checked.remarks[0].text
    assert not checked.asks


def test_good_labels_get_no_question():
    good = [
        ("Ultramarine Finest", "PB29"), ("Phthalo Green", "PG7"), ("Quinacridone Rose", "PV19"),
        ("Burnt Sienna", "PBr7"), ("Cobalt Teal", "PG50"), ("Sap Green", "PG7, PY110"),
        ("Payne's Grey", "PB29 + PBk6"), ("Cerulean Blue Hue", "PB15:3/PW6"), ("Titanium White", "PW6"),
    ]  # fmt: skip
    for name, codes in good:
        checked = check_label(name, codes)
        assert not checked.asks, (name, checked.remarks)
        assert all(code.canonical for code in checked.read)


def test_no_code_is_noted_as_unknown_and_nothing_is_made_up():
    checked = check_label("Sap Green", "")
    assert checked.codes == ()
    assert [remark.level for remark in checked.remarks] == ["noted"]
