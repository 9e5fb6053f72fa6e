from halfpan.core.arranging.owned import own
from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch

LOOK = ((30.0, 20.0, -55.0), (60.0, 5.0, -40.0), (85.0, -2.0, -15.0))


def painted(key, name, codes=(), labs=None):
    swatch = Swatch("A1", key, name, *labs) if labs else None
    return Painted(Paint(key, "Tidewater", "Ebb", name, tuple(codes)), swatch)


MINE = [
    painted("p1", "Indanthrone Blue", ["PB60"]),
    painted("p2", "Royal Blue", ["PB60", "PW6"]),
    painted("p3", "Phthalocyanine Blue", ["PB15:3"]),
    painted("p4", "Harbour", ["PB15"]),
    painted("p5", "Sap Green", ["PY150", "PG7"]),
    painted("p6", "Yellow Ochre", ["PY43"]),
    painted("p7", "Ultramarine", ["PB29"], LOOK),
    painted("p8", "Cobalt Blue", ["PB28"], LOOK),
]
REPEAT = Repeatability()


def test_by_codes_the_same_set_and_the_mixed_paints_are_kept_apart():
    found = own("PB 60", MINE, REPEAT)
    assert (found.codes, found.same_codes, found.among_others) == (("PB60",), ("p1",), ("p2",))
    assert own("PG7 + PY150", MINE, REPEAT).same_codes == ("p5",)


def test_another_form_or_twin_of_the_pigment_is_an_answer_of_its_own():
    found = own("PB15:3", MINE, REPEAT)
    assert found.same_codes == ("p3",)
    assert found.pigment_elsewhere == ("p4",)
    assert own("PY42", MINE, REPEAT).pigment_elsewhere == ("p6",)


def test_a_name_finds_its_variants_and_its_pigment_under_other_names():
    found = own("phthalo blue", MINE, REPEAT)
    assert found.name == ("p3",)
    assert found.pigment_elsewhere == ("p4",)


def test_a_typing_error_is_a_maybe():
    found = own("Indantrone Blue", MINE, REPEAT)
    assert found.name == ()
    assert "p1" in found.maybe


def test_by_look_is_answered_only_for_a_painted_and_read_paint():
    found = own("Ultramarine", MINE, REPEAT, like=MINE[6])
    assert [one.second for one in found.look] == ["p8"]
    assert own("Ultramarine", MINE, REPEAT).look == ()


def test_nothing_is_said_to_be_nothing():
    assert own("PR83", MINE, REPEAT).nothing
    assert not own("PB60", MINE, REPEAT).nothing
