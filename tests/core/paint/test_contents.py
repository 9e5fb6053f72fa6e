"""Facts of the trade: common practice, no source."""

from halfpan.core.paint.contents import contents, same_pigment


def test_a_single_pigment_is_counted_once_however_often_it_stands():
    assert contents("Burnt umber", ["PBr7", "PBr7"]).single is True
    assert contents("Sap green", ["PG7", "PY110"]).single is False


def test_without_codes_what_is_in_it_is_unknown():
    found = contents("Sap green", [])
    assert found.single is None
    assert found.names == ()


def test_white_and_black_inside_are_named():
    found = contents("Naples yellow", ["PW6", "PY42", "PBk7"])
    assert (found.whites, found.blacks) == (("PW6",), ("PBk7",))


def test_a_hue_says_so_itself_and_a_plain_name_does_not_keep_its_word():
    (hue,) = contents("Cobalt blue hue", ["PB29", "PW6"]).names
    assert hue.kept is False
    assert "says so itself" in hue.sentence
    (plain,) = contents("Cobalt blue", ["PB29", "PW6"]).names
    assert plain.kept is False
    assert "PB28" in plain.sentence


def test_a_name_that_keeps_its_word_is_said_to():
    (kept,) = contents("Phthalo blue green shade", ["PB15:3"]).names
    assert kept.kept is True


def test_a_plain_code_may_be_any_of_its_forms_but_two_forms_differ():
    assert same_pigment("PB15", "PB15:3")
    assert not same_pigment("PB15:1", "PB15:3")
    assert not same_pigment("PY1", "PY110")


def test_pairs_solid_solutions_and_codes_with_many_faces_have_their_remark():
    assert "PY43" in contents("Yellow ochre", ["PY42"]).remarks[0]
    assert any("solid solution" in remark for remark in contents("Maroon", ["PR206"]).remarks)
    assert any("siennas and umbers" in remark for remark in contents("Earth", ["PBr7"]).remarks)
    assert any("rose to violet" in remark for remark in contents("Rose", ["PV19"]).remarks)
    assert any("transparent to opaque" in remark for remark in contents("Oxide", ["PR101"]).remarks)


def test_an_unknown_code_is_listed_as_unknown():
    assert contents("Red", ["PR192"]).unknown == ("PR192",)
