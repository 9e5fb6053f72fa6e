from halfpan.core.arranging.naming import name_pigment
from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch

BLUE = ((30.0, 20.0, -55.0), (60.0, 5.0, -40.0), (85.0, -2.0, -15.0))
GREEN = ((45.0, -50.0, 5.0), (70.0, -38.0, 0.0), (88.0, -15.0, -3.0))


def painted(key, codes, labs, shift=0.0):
    swatch = Swatch("A1", key, key, *(tuple(v + shift for v in lab) for lab in labs)) if labs else None
    return Painted(Paint(key, "Tidewater", "Ebb", key, tuple(codes)), swatch)


KNOWN = [
    painted("u1", ["PB29"], BLUE), painted("u2", ["PB29"], BLUE, 2.0), painted("g", ["PG7"], GREEN),
    painted("mix", ["PB29", "PG7"], BLUE, 0.5),
]  # fmt: skip
REPEAT = Repeatability()


def test_the_pigment_whose_paints_look_most_like_it_comes_first():
    named = name_pigment(painted("x", [], BLUE, 1.0), KNOWN, REPEAT)
    assert [guess.code for guess in named.guesses] == ["PB29", "PG7"]
    assert named.guesses[0].known == 2
    assert named.guesses[0].share > 0.8
    assert "A mixture could look the same" in named.sentence


def test_shares_and_none_of_these_make_up_the_whole():
    named = name_pigment(painted("x", [], BLUE, 1.0), KNOWN, REPEAT)
    assert abs(sum(guess.share for guess in named.guesses) + named.none_of_these - 1) < 1e-9


def test_what_looks_like_nothing_here_is_said_to():
    pink = ((50.0, 70.0, 0.0), (65.0, 50.0, -10.0), (85.0, 22.0, -6.0))
    named = name_pigment(painted("x", [], pink), KNOWN, REPEAT)
    assert named.none_of_these > 0.9
    assert "No single pigment known here" in named.sentence


def test_pigments_of_the_family_that_were_never_seen_here_are_listed():
    named = name_pigment(painted("x", [], BLUE), KNOWN, REPEAT)
    assert "PB28" in named.unseen
    assert "PB29" not in named.unseen


def test_without_readings_nothing_is_ranked():
    assert name_pigment(painted("x", [], None), KNOWN, REPEAT).guesses == ()
    assert name_pigment(painted("x", [], BLUE), [], REPEAT).none_of_these == 1.0
