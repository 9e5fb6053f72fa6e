import numpy as np

from halfpan.core.arranging.odd import OddRule, odd_neighbours
from halfpan.core.arranging.painted import Painted
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
