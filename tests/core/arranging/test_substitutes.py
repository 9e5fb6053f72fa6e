"""The case of PY150 (ochre in masstone, lemon in tint): common practice of the trade, no source."""

from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.arranging.substitutes import Wanted, find_substitutes
from halfpan.core.paint.paint import Label, Paint
from halfpan.core.paint.reading import Swatch

CRIMSON = ((33.0, 50.0, 15.0), (57.0, 48.0, 0.0), (79.0, 22.0, -2.0))


def moved(labs, *shifts):
    return tuple(
        tuple(v + d for v, d in zip(lab, shift, strict=True)) for lab, shift in zip(labs, shifts, strict=True)
    )


def painted(key, codes=(), labs=CRIMSON, *, maker="Tidewater", **label):
    swatch = Swatch("A1", key, key, *labs) if labs else None
    return Painted(Paint(key, maker, "Ebb", key, tuple(codes), Label(**label)), swatch)


TARGET = painted("alizarin", ["PR83"])
NEAR = painted("anthraquinone", ["PR177"], moved(CRIMSON, (1, 2, 0), (1, 0, 1), (0, 1, 0)))
TINT_OFF = painted("masstone twin", ["PR179"], moved(CRIMSON, (0, 0, 0), (0, -25, 25), (0, -20, 20)))
FAR = painted("ultramarine", ["PB29"], ((30.0, 20.0, -55.0), (60.0, 5.0, -40.0), (85.0, -2.0, -15.0)))
REPEAT = Repeatability(3, 3, 3, 0.05, measured=3)


def ids(found):
    return [one.paint for one in found.found]


def test_the_nearest_at_all_strengths_comes_first():
    found = find_substitutes(TARGET, [FAR, TINT_OFF, NEAR, TARGET], REPEAT)
    assert ids(found) == ["anthraquinone", "masstone twin", "ultramarine"]
    assert [one.good for one in found.found] == [True, False, False]


def test_asking_for_few_gives_the_first_of_many():
    """Handling may put a far candidate before a near one: none may be passed over unasked."""
    words = ("transparent", "semi-transparent", "semi-opaque", "opaque")
    crowd = [
        painted(f"c{k:02}", ["PR177"], moved(CRIMSON, *[(0, k * 0.2, 0)] * 3), transparency=words[k * 7 % 4])
        for k in range(40)
    ]
    target = painted("clear", ["PR83"], transparency="transparent")
    many = ids(find_substitutes(target, crowd, REPEAT, most=40))
    assert many != sorted(many)
    for most in (1, 3, 10):
        assert ids(find_substitutes(target, crowd, REPEAT, most=most)) == many[:most]


def test_no_good_substitute_is_an_answer():
    assert "No good substitute" in find_substitutes(TARGET, [FAR, TINT_OFF], REPEAT).sentence


def test_filters_ask_the_witness_that_is_named():
    says_lasting = painted("says so", ["PR83"], lightfastness="excellent")
    by_label = find_substitutes(TARGET, [says_lasting], REPEAT, Wanted(lasting=True, by="label"))
    by_literature = find_substitutes(TARGET, [says_lasting], REPEAT, Wanted(lasting=True, by="literature"))
    assert ids(by_label) == ["says so"]
    assert ids(by_literature) == []


def test_a_silent_witness_is_counted_as_unknown_and_not_as_no():
    found = find_substitutes(TARGET, [NEAR], REPEAT, Wanted(transparent=True, by="label"))
    assert (ids(found), found.unknown) == ([], ("anthraquinone",))


def test_substances_makers_and_mixtures_can_be_left_out():
    cadmium = painted("cadmium", ["PR108"])
    mixed = painted("mixed", ["PR254", "PV19"])
    other = painted("quarry", ["PR177"], maker="Old Quarry")
    everything = [cadmium, mixed, other]
    assert "cadmium" not in ids(find_substitutes(TARGET, everything, REPEAT, Wanted(without=("cadmium",))))
    assert "mixed" not in ids(find_substitutes(TARGET, everything, REPEAT, Wanted(single=True)))
    assert ids(find_substitutes(TARGET, everything, REPEAT, Wanted(maker="old quarry"))) == ["quarry"]


def test_what_would_be_lost_is_said_in_words():
    opaque = painted("cadmium", ["PR108"], moved(CRIMSON, (8, -12, 0), (0, 0, 0), (0, 0, 0)))
    (one,) = find_substitutes(TARGET, [opaque], REPEAT).found
    assert "more opaque" in one.losses
    assert "holds better in light" in one.losses
    assert "contains cadmium" in one.losses
    assert any("go as dark" in loss for loss in one.losses)
    assert any("duller" in loss for loss in one.losses)


def test_without_a_reading_the_codes_speak_and_promise_no_look():
    unread = painted("unread", ["PR83"], None)
    found = find_substitutes(unread, [painted("twin", ["PR83"], None), NEAR], REPEAT)
    assert ids(found) == ["twin"]
    assert found.found[0].distance is None
    assert "no promise" in found.sentence
