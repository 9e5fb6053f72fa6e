import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from halfpan.core.arranging.odd import OddRule, odd_neighbours
from halfpan.core.arranging.order import OrderRule, place
from halfpan.core.arranging.painted import Painted
from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.spaces import lch_to_lab
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch


def painted(name, hue, lightness=60):
    lab = tuple(lch_to_lab((lightness, 60, hue)))
    return Painted(Paint(name, "Tidewater", "Ebb", name), Swatch("A1", name, name, masstone=lab, mid=lab))


BLUES = {f"b{hue}": painted(f"b{hue}", hue) for hue in range(275, 228, -5)}


def test_an_even_walk_has_no_odd_neighbours():
    assert odd_neighbours(list(BLUES), BLUES) == ()


def test_a_paint_out_of_its_place_is_found_and_the_move_home_is_proposed():
    order = list(BLUES)
    home = order.index("b270")
    moved = order[:home] + order[home + 1 : -1] + ["b270", order[-1]]
    odd = odd_neighbours(moved, BLUES)
    assert odd
    assert all("b270" in {pair.left, pair.right} for pair in odd)
    assert odd[0].step > 3 * odd[0].usual
    move = odd[0].move
    assert (move.paint, move.before, move.after) == ("b270", "b275", "b265")
    assert move.shorter > 0


def test_where_no_move_helps_none_is_proposed():
    lone = {**BLUES, "dark": painted("dark", 250, lightness=20)}
    order = [*BLUES, "dark"]
    odd = odd_neighbours(order, lone)
    assert odd
    assert all(pair.move is None for pair in odd)


def test_the_step_from_one_family_to_the_next_is_not_odd():
    paints = {**BLUES, **{f"y{hue}": painted(f"y{hue}", hue, 90) for hue in range(105, 80, -5)}}
    assert odd_neighbours(list(paints), paints) == ()


def test_unread_paints_are_passed_over():
    paints = {**BLUES, "unread": Painted(Paint("unread", "Tidewater", "Ebb", "unread"))}
    assert odd_neighbours([*list(BLUES)[:4], "unread", *list(BLUES)[4:]], paints) == ()


def test_the_rule_is_the_painters():
    rng = np.random.default_rng(5)
    order = list(BLUES)
    rng.shuffle(order)
    assert len(odd_neighbours(order, BLUES, OddRule(times=1.0, least=2.0))) > len(
        odd_neighbours(order, BLUES)
    )


def length(order, paints):
    mids = np.array([paints[name].swatch.mid for name in order])
    return float(delta_e_2000(mids[:-1], mids[1:]).sum())


def tried_one_by_one(order, paints, pair):
    """Return by how much the best of all moves of either paint shortens the walk, every order written out."""
    best = -np.inf
    family = {name: place(paints[name], OrderRule()).family for name in order}
    for moved in (pair.left, pair.right):
        rest = [name for name in order if name != moved]
        for gap in range(len(rest) + 1):
            if any(family[name] == family[moved] for name in rest[max(0, gap - 1) : gap + 1]):
                tried = [*rest[:gap], moved, *rest[gap:]]
                best = max(best, length(order, paints) - length(tried, paints))
    return best


@settings(max_examples=30, deadline=None)
@given(st.lists(st.integers(0, 359), min_size=5, max_size=24, unique=True))
def test_the_move_proposed_is_the_best_of_all_that_can_be_tried(hues):
    paints = {f"h{hue}": painted(f"h{hue}", hue, 40 + hue % 50) for hue in hues}
    for pair in odd_neighbours(list(paints), paints, OddRule(times=1.0, least=2.0)):
        best = tried_one_by_one(list(paints), paints, pair)
        if pair.move is None:
            assert best <= pair.step / 2 + 1e-9
        else:
            assert abs(pair.move.shorter - best) < 1e-9
            rest = [name for name in paints if name != pair.move.paint]
            at = 0 if pair.move.before is None else rest.index(pair.move.before) + 1
            tried = [*rest[:at], pair.move.paint, *rest[at:]]
            assert abs(length(list(paints), paints) - length(tried, paints) - pair.move.shorter) < 1e-9
            assert pair.move.after == (rest[at] if at < len(rest) else None)


def test_the_usual_step_is_the_median_of_the_steps_around_within_the_family():
    chance = np.random.default_rng(3)
    paints = {
        f"n{k}": painted(f"n{k}", float(chance.uniform(230, 320)), float(chance.uniform(40, 80)))
        for k in range(60)
    }
    order = list(paints)
    family = [place(paints[name], OrderRule()).family for name in order]
    mids = np.array([paints[name].swatch.mid for name in order])
    steps = delta_e_2000(mids[:-1], mids[1:])
    found = odd_neighbours(order, paints, OddRule(times=1e-9, least=0.0, most=60))
    assert len(found) > 10
    for pair in found:
        i = order.index(pair.left)
        near = [
            steps[j]
            for j in range(max(0, i - 4), min(len(steps), i + 5))
            if j != i and family[j] == family[j + 1]
        ]
        assert pair.usual == (np.median(near) if len(near) >= 2 else np.inf)
