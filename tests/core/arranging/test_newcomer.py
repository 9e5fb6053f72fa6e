from halfpan.core.arranging.newcomer import ChartOrder, Gap, outdated, place_newcomer
from halfpan.core.arranging.painted import Painted
from halfpan.core.colour.spaces import lch_to_lab
from halfpan.core.paint.paint import Paint
from halfpan.core.paint.reading import Swatch


def painted(name, hue=None, codes=()):
    swatch = None
    if hue is not None:
        swatch = Swatch("A1", name, name, mid=tuple(lch_to_lab((82, 90, hue))))
    return Painted(Paint(name, "Old Quarry", "Earth and Stone", name, tuple(codes)), swatch)


HUES = {"yellow": 95, "orange": 50, "red": 25, "violet": 310, "blue": 265, "green": 170}
OTHERS = {name: painted(name, hue) for name, hue in HUES.items()}


def test_a_new_paint_stands_between_its_nearest_neighbours():
    gap = place_newcomer(list(HUES), painted("new", 285), OTHERS)
    assert (gap.before, gap.after, gap.basis) == ("violet", "blue", "reading")


def test_the_painters_own_order_is_kept_whatever_it_is():
    own = ["green", "red", "yellow", "blue", "violet", "orange"]
    gap = place_newcomer(own, painted("new", 268), OTHERS)
    assert "blue" in {gap.before, gap.after}
    assert own == ["green", "red", "yellow", "blue", "violet", "orange"]


def test_a_place_is_found_across_the_zero_of_the_hue_circle():
    order = ["orange", "red", "violet"]
    gap = place_newcomer(order, painted("new", 350), {n: OTHERS[n] for n in order})
    assert (gap.before, gap.after) == ("red", "violet")


def test_without_a_reading_the_family_gives_the_place_and_says_so():
    gap = place_newcomer(list(HUES), painted("new", codes=["PG7"]), OTHERS)
    assert (gap.before, gap.after, gap.basis) == ("green", None, "family")
    gap = place_newcomer(list(HUES), painted("new", codes=["PO20"]), OTHERS)
    assert (gap.before, gap.after) == ("orange", "red")


def test_what_is_not_known_goes_to_the_end_and_says_so():
    gap = place_newcomer(list(HUES), painted("Moonlight"), OTHERS)
    assert (gap.before, gap.after, gap.basis) == ("green", None, "nothing")
    assert place_newcomer([], painted("first", 20), {}) == Gap(0, None, None, "nothing")


GAP = Gap(2, "b", "c", "reading")


def test_a_spare_box_needs_one_box_and_its_number_is_said():
    (repaint,) = outdated([ChartOrder("wall", ("a", "b", "c", "d", None))], "new", GAP)
    assert (repaint.fewest, repaint.in_place) == (1, 3)
    assert "box 5 is spare" in repaint.how


def test_a_spare_box_in_the_gap_is_its_place():
    (repaint,) = outdated([ChartOrder("wall", ("a", "b", None, "c"))], "new", GAP)
    assert repaint.in_place == 1


def test_a_spare_box_in_front_is_shifted_to_as_well():
    (repaint,) = outdated([ChartOrder("wall", ("a", None, "b", "c", "d", "e"))], "new", GAP)
    assert repaint.in_place == 2


def test_without_a_spare_box_a_sheet_of_one_box_is_the_least():
    (repaint,) = outdated([ChartOrder("wall", ("a", "b", "c", "d"))], "new", GAP)
    assert (repaint.fewest, repaint.in_place) == (1, 3)
    assert "sheet of its own" in repaint.how


def test_a_grid_needs_one_row_and_not_the_whole_grid():
    (repaint,) = outdated([ChartOrder("grid", tuple("abcdef"), grid=True)], "new", GAP)
    assert repaint.fewest == 7


def test_charts_that_never_showed_its_neighbours_or_show_it_already_stay():
    charts = [ChartOrder("other", ("x", "y")), ChartOrder("has it", ("b", "new", "c"))]
    assert outdated(charts, "new", GAP) == ()
