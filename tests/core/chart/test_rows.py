from hypothesis import given
from hypothesis import strategies as st

from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.rows import in_plan, in_rows


def paints(*families):
    return [BoxLabel(f"{f}{k}", f"{f} {k}", family=f) for f, count in families for k in range(count)]


def test_paints_without_families_fill_the_boxes_one_by_one():
    (page,) = in_rows(paints(("", 7)), columns=3, rows=4)
    assert [cell is not None for cell in page] == [True] * 7 + [False] * 5


def test_a_family_starts_a_row_where_there_is_room_for_it():
    (page,) = in_rows(paints(("Yellows", 4), ("Reds", 5), ("Blues", 6)), columns=6, rows=3)
    assert [page[k].family for k in (0, 6, 12)] == ["Yellows", "Reds", "Blues"]
    assert page[4] is None
    assert page[5] is None


def test_families_run_on_rather_than_take_another_page():
    pages = in_rows(paints(("Yellows", 4), ("Reds", 4), ("Blues", 4)), columns=6, rows=2)
    assert len(pages) == 1


def test_boxes_asked_to_stay_free_stay_free():
    pages = in_rows(paints(("", 12)), columns=6, rows=2, spare=3)
    assert len(pages) == 2
    assert sum(cell is None for page in pages for cell in page) >= 3


def test_no_paint_at_all_gives_a_page_of_spare_boxes():
    assert in_rows([], columns=3, rows=2) == [(None,) * 6]


@given(
    st.lists(st.tuples(st.sampled_from("abcdefgh"), st.integers(1, 9)), max_size=12),
    st.integers(1, 7),
    st.integers(1, 6),
    st.integers(0, 9),
)
def test_every_paint_stands_in_one_box_in_the_order_given(families, columns, rows, spare):
    given_order = paints(*families)
    pages = in_rows(given_order, columns=columns, rows=rows, spare=spare)
    assert [cell for page in pages for cell in page if cell] == given_order
    assert all(len(page) == columns * rows for page in pages)
    assert sum(len(page) for page in pages) >= len(given_order) + spare


def test_a_tin_turned_round_puts_the_last_seat_first():
    seats = [*paints(("", 5)), None]
    (upright,) = in_plan(seats, columns=3, rows=2)
    (turned,) = in_plan(seats, columns=3, rows=2, upside_down=True)
    assert turned == upright[::-1]
    assert turned[0] is None
