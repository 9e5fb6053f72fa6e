import pytest

from halfpan.core.chart.ink import Picture, Words
from halfpan.core.chart.sheet import Rect
from halfpan.core.chart.sizes import sheet_of
from halfpan.core.chart.stickers import PAN_LABEL, butted, sheet_cuts
from halfpan.core.chart.tin_sheet import CARD, rule_tin_sheet
from halfpan.core.paint.tin import tin_of_rows
from halfpan.errors import BadLayout

from .samples import labels, plain_width
from .test_layout import grown

TIN = tin_of_rows("Estuary tin", ["8h", "fhhhhhh", "8h"])
SEATED = dict(zip([seat.name for seat in TIN.seats], labels(15), strict=False))


def ruled(sheet="A4", **options):
    wish = {"sheet": sheet_of(sheet), "chart_id": "L1D", "measure": plain_width} | options
    return rule_tin_sheet(TIN, SEATED, **wish)


def test_boxes_stand_in_the_order_of_the_seats_within_the_card():
    boxes = ruled().chart.pages[0].boxes
    assert [b.box for b in boxes] == [seat.name for seat in TIN.seats]
    assert [b.paint for b in boxes][:15] == [f"P{k + 1}" for k in range(15)]
    assert boxes[-1].paint is None
    left = min(b.strokes[0].rect.x for b in boxes)
    right = max(b.strokes[0].rect.right for b in boxes)
    low = max(b.strokes[1].rect.bottom for b in boxes)
    top = min(b.strokes[0].rect.y for b in boxes)
    assert right - left <= CARD[0] - 6
    assert low - top <= CARD[1] - 6


def test_a_full_pan_gets_the_wider_box():
    boxes = {b.box: b.strokes[0].rect.width for b in ruled().chart.pages[0].boxes}
    assert boxes["B1"] > 1.7 * boxes["B2"]


def test_boxes_do_not_touch_one_another():
    boxes = [b.strokes[0].rect for b in ruled().chart.pages[0].boxes]
    for k, one in enumerate(boxes):
        assert not any(grown(one, 0.5).overlaps(grown(other, 0.5)) for other in boxes[k + 1 :])


def test_a_paint_with_a_picture_gets_room_for_it_instead_of_an_outline():
    drawn = ruled(pictured={"P2", "P900"})
    rooms = [item for item in drawn.ink[0] if isinstance(item, Picture)]
    assert [room.name for room in rooms] == ["P2"]
    assert rooms[0].rect.x == drawn.chart.pages[0].boxes[1].strokes[0].rect.x


def test_a_card_of_pictures_alone_does_not_ask_to_be_painted():
    def foot(**wish):
        return next(i.text for i in ruled(**wish).ink[0] if isinstance(i, Words) and "100 mm" in i.text)

    everything = {label.paint for label in SEATED.values()}
    assert "Paint over the line" in foot()
    assert "Paint over the line" in foot(pictured={"P2"})
    assert "not your paint" in foot(pictured=everything)


def test_every_seated_paint_has_a_pan_label_and_a_tube_label_over_as_many_pages_as_needed():
    drawn = ruled("A5", card_mm=(118, 96))
    assert len(drawn.ink) > 1
    shown = [item.text for ink in drawn.ink for item in ink if isinstance(item, Words)]
    for paint in (f"P{k + 1}" for k in range(15)):
        assert shown.count(paint) == 2


@pytest.mark.parametrize("sheet", ["A4", "A5", "Letter"])
def test_no_words_touch_one_another(sheet):
    for ink in ruled(sheet).ink:
        words = [item for item in ink if isinstance(item, Words) and item.text]
        for k, item in enumerate(words):
            assert not any(item.rect.inset(0.2).overlaps(o.rect.inset(0.2)) for o in words[k + 1 :]), (
                item.text
            )


def test_labels_lie_edge_to_edge_and_each_edge_has_its_cutting_lines():
    places = butted(Rect(10, 10, 170, 40), PAN_LABEL, 22)
    assert len(places) == 22
    assert {r.x for r in places} == {10 + 16.0 * k for k in range(10)}
    uprights = {rule.x0 for rule in sheet_cuts(places) if rule.x0 == rule.x1}
    assert uprights == {10 + 16.0 * k for k in range(11)}


def test_a_card_too_small_for_its_tin_or_too_large_for_its_sheet_is_refused():
    with pytest.raises(BadLayout, match="too small"):
        ruled(card_mm=(60, 60))
    with pytest.raises(BadLayout, match="larger sheet"):
        ruled("A6")
