from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.ranges import counterparts, glance
from halfpan.core.arranging.repeat import Repeatability
from halfpan.core.colour.spaces import lch_to_lab
from halfpan.core.paint.paint import Label, Paint
from halfpan.core.paint.reading import Swatch

REPEAT = Repeatability()


def painted(key, codes=(), hue=None, **label):
    swatch = None
    if hue is not None:
        labs = [tuple(lch_to_lab(lch)) for lch in ((75, 95, hue), (85, 60, hue), (90, 30, hue))]
        swatch = Swatch("A1", key, key, *labs, transparency="transparent", contrast_ratio=0.2)
    return Painted(Paint(key, "Tidewater", "Ebb", key, tuple(codes), Label(**label)), swatch)


RANGE = [
    painted("lemon", ["PY3"], 100, transparency="opaque"),
    painted("cadmium", ["PR108"], 30),
    painted("blue", ["PB28"], 260),
    painted("blue too", ["PB29"], 260.5),
    painted("green mix", ["PG7", "PW6"]),
    painted("no codes"),
]


def count(question, witness):
    return next(
        (c.yes, c.no, c.unknown)
        for c in glance(RANGE, REPEAT).counts
        if (c.question, c.witness) == (question, witness)
    )


def test_the_counts_add_up_and_unknown_is_a_count_of_its_own():
    for one in glance(RANGE, REPEAT).counts:
        assert one.yes + one.no + one.unknown == len(RANGE)


def test_what_is_in_the_paints_is_counted():
    assert count("single-pigment", "label") == (4, 1, 1)
    assert count("contains white", "literature") == (1, 4, 1)
    assert count("contains cadmium", "literature") == (1, 4, 1)
    assert count("contains cobalt", "literature") == (1, 4, 1)


def test_each_witness_is_counted_apart():
    assert count("transparent", "label") == (0, 1, 5)
    assert count("transparent", "proof") == (4, 0, 2)
    assert count("doubtful in light", "proof") == (0, 0, 6)


def test_crowds_are_pairs_that_cannot_be_told_apart_and_gaps_are_empty_stretches_of_hue():
    seen = glance(RANGE, REPEAT)
    assert [(pair.first, pair.second) for pair in seen.crowds] == [("blue", "blue too")]
    assert (seen.gaps[0].first, seen.gaps[0].second) == ("blue", "lemon")
    assert 159 < seen.gaps[0].degrees < 161


def test_an_empty_range_is_no_trouble():
    seen = glance([], REPEAT)
    assert (seen.paints, seen.crowds, seen.gaps) == (0, (), ())


def test_each_paint_finds_its_nearest_in_the_other_range_and_what_differs():
    other = [painted("their blue", ["PB15:3"], 258), painted("their yellow", ["PY154"], 95)]
    found = {one.paint: one for one in counterparts(RANGE, other, REPEAT)}
    assert found["blue"].other == "their blue"
    assert found["lemon"].other == "their yellow"
    assert found["blue"].differs[0] == "pigments PB15:3 against PB28"
    assert found["no codes"].other is None


def test_a_paint_is_its_own_counterpart_without_a_difference():
    for one in counterparts(RANGE[:4], RANGE[:4], REPEAT):
        assert one.distance == 0
        assert one.good
