import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from halfpan.core.arranging.kin import find_kin
from halfpan.core.arranging.likeness import compare, find_likenesses, in_words, nearest
from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.repeat import Repeatability, repeatability_from
from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch

BLUE = ((30.0, 20.0, -55.0), (60.0, 5.0, -40.0), (85.0, -2.0, -15.0))


def painted(name, labs=BLUE, codes=("PB29",), *, paint_name=None, ratio=0.2, shift=(0.0, 0.0, 0.0)):
    swatch = None
    if labs is not None:
        moved = [tuple(np.add(lab, shift).tolist()) if lab is not None else None for lab in labs]
        swatch = Swatch("A1", name, name, *moved, contrast_ratio=ratio)
    return Painted(Paint(name, "Tidewater", "Ebb", paint_name or name, tuple(codes)), swatch)


REPEAT = Repeatability(3.0, 3.0, 3.0, 0.05, measured=4)


def test_same_codes_and_same_look_is_a_duplicate():
    found = compare(painted("a"), painted("b", shift=(1, 0, 0)), REPEAT)
    assert found.kind == "duplicate"
    assert not found.one_light
    assert "not told apart" in in_words(found, REPEAT)


def test_same_codes_and_another_look_is_a_cousin():
    assert compare(painted("a"), painted("b", shift=(15, 0, 10)), REPEAT).kind == "cousin"


def test_other_codes_and_the_same_look_is_a_look_alike_with_a_warning_of_the_light():
    found = compare(painted("a"), painted("b", codes=["PB28"]), REPEAT)
    assert found.kind == "look-alike"
    assert found.one_light
    assert "one light only" in in_words(found, REPEAT)


def test_a_match_at_one_strength_only_is_no_match():
    other = (BLUE[0], (70.0, -20.0, -20.0), (90.0, -12.0, -5.0))
    assert compare(painted("a"), painted("b", other), REPEAT).kind == "cousin"


def test_the_same_name_with_other_pigments_is_the_same_name_only():
    first = painted("a", paint_name="Sap Green")
    second = painted("b", shift=(20, -30, 40), codes=["PG7", "PY110"], paint_name="SAP GREEN")
    assert compare(first, second, REPEAT).kind == "same name only"


def test_nothing_joins_two_unlike_paints():
    assert compare(painted("a"), painted("b", shift=(20, -30, 40), codes=["PG7"]), REPEAT) is None


def test_unread_paints_are_not_called_duplicates():
    assert compare(painted("a"), painted("b", None), REPEAT).kind == "same codes, look unknown"
    assert compare(painted("a", None, ()), painted("b", None, ()), REPEAT) is None


def test_the_order_of_the_codes_does_not_matter():
    found = compare(painted("a", codes=["PB29", "PW6"]), painted("b", codes=["PW6", "PB29"]), REPEAT)
    assert found.kind == "duplicate"


def test_a_difference_in_hiding_is_told_and_makes_no_other_kind():
    found = compare(painted("a"), painted("b", ratio=0.6), REPEAT)
    assert found.kind == "duplicate"
    assert "hide differently" in in_words(found, REPEAT)


def test_what_was_not_read_is_told():
    found = compare(painted("a"), painted("b", (BLUE[0], None, BLUE[2])), REPEAT)
    assert found.differences[1] is None
    assert "Not every strength" in in_words(found, REPEAT)


def test_until_repeats_are_painted_the_measure_is_called_a_guess():
    assert "is not measured yet" in Repeatability().in_words()
    assert "assumed" in in_words(compare(painted("a"), painted("b"), Repeatability()), Repeatability())


def test_repeatability_comes_from_the_painters_own_repeats():
    rng = np.random.default_rng(3)
    groups = [
        [painted(f"{g}{i}", shift=(float(rng.normal(0, 1.0)), 0, 0)) for i in range(3)] for g in range(200)
    ]
    found = repeatability_from(groups)
    pairs = [float(delta_e_2000(group[0].swatch.mid, group[1].swatch.mid)) for group in groups]
    within = np.mean(np.array(pairs) <= found.mid)
    assert found.measured == 200
    assert 0.92 <= within <= 0.98
    assert repeatability_from([[painted("lone")]]).measured == 0


def brute(paints, repeat):
    found = set()
    for i, first in enumerate(paints):
        for second in paints[i + 1 :]:
            one = compare(first, second, repeat)
            if one is not None and one.kind in {"duplicate", "look-alike"}:
                found.add((one.kind, one.first, one.second))
    return found


@settings(max_examples=20, deadline=None)
@given(st.integers(0, 10**6))
def test_the_quick_search_finds_what_comparing_every_pair_finds(seed):
    rng = np.random.default_rng(seed)
    base = rng.uniform([15, -60, -60], [95, 60, 60], (4, 3, 3))
    paints = []
    for k in range(24):
        labs = base[k % 4] + rng.normal(0, 2.5, (3, 3))
        whole = [tuple(lab.tolist()) if rng.random() > 0.05 else None for lab in labs]
        paints.append(painted(f"p{k:02}", whole, codes=[["PB29"], ["PB28"]][int(rng.random() > 0.5)]))
    quick = {(one.kind, one.first, one.second) for one in find_likenesses(paints, Repeatability())}
    slow = brute(paints, Repeatability())
    partly = {p.paint.id for p in paints if None in (p.swatch.masstone, p.swatch.mid)}
    across = {(k, a, b) for k, a, b in slow if k == "look-alike" and {a, b} & partly}
    assert quick == slow - across


def test_a_tint_that_was_not_read_does_not_hide_a_look_alike():
    whole, without_tint = painted("a"), painted("b", (BLUE[0], BLUE[1], None), codes=["PB28"])
    (found,) = find_likenesses([whole, without_tint], REPEAT)
    assert (found.kind, found.differences[2]) == ("look-alike", None)


def test_duplicates_come_before_look_alikes_and_near_before_far():
    paints = [
        painted("a"),
        painted("b", shift=(2, 0, 0)),
        painted("c", shift=(1, 0, 0)),
        painted("d", codes=["PB28"]),
    ]
    kinds = [one.kind for one in find_likenesses(paints, REPEAT)]
    assert kinds == ["duplicate"] * 3 + ["look-alike"] * 3
    worst = [one.worst for one in find_likenesses(paints, REPEAT)[:3]]
    assert worst == sorted(worst)


def test_one_paint_is_held_against_all_others():
    paints = [painted("b", shift=(1, 0, 0)), painted("c", codes=["PB28"]), painted("d", shift=(20, 0, 0))]
    found = nearest(painted("a"), paints, REPEAT)
    assert [(one.kind, one.second) for one in found] == [
        ("duplicate", "b"), ("look-alike", "c"), ("cousin", "d")
    ]  # fmt: skip


def test_cousins_namesakes_and_unread_paints_come_in_groups():
    paints = [
        painted("a", codes=["PBr7"], paint_name="Raw Umber"),
        painted("b", codes=["PBr7"], paint_name="Burnt Umber", shift=(20, 0, 0)),
        painted("c", None, codes=["PG7"], paint_name="Green"),
        painted("d", None, codes=["PG7"], paint_name="Other Green"),
        painted("e", None, codes=["PG36"], paint_name="Gréen"),
    ]
    kin = {one.kind: one for one in find_kin(paints, REPEAT)}
    assert kin["cousin"].paints == ("a", "b")
    assert kin["cousin"].farthest == pytest.approx(15, abs=8)
    assert kin["same codes, look unknown"].paints == ("c", "d")
    assert kin["same name only"].paints == ("c", "e")


def test_an_empty_or_unread_collection_has_no_likenesses():
    assert find_likenesses([], REPEAT) == ()
    assert find_likenesses([painted("a", None)], REPEAT) == ()
    assert find_kin([], REPEAT) == ()
