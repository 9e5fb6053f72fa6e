import json

import jsonschema
import pytest

from halfpan.core.chart.ink import Words
from halfpan.core.chart.sheet import Rect, chart_to_dict, dict_to_chart
from halfpan.core.chart.sizes import sheet_of
from halfpan.core.chart.trials import LADDER, rule_test_chart
from halfpan.errors import BadLayout

from .samples import labels, plain_width
from .test_layout import CONTRACT, grown


def ruled(sheet="A4", count=7, **options):
    return rule_test_chart(
        labels(count), sheet=sheet_of(sheet), chart_id="T3ST", measure=plain_width, **options
    )


def boxes_of(drawn, paint="P3"):
    return [box for page in drawn.chart.pages for box in page.boxes if box.paint == paint]


def test_each_paint_is_lifted_coated_twice_thinned_and_repeated():
    lifting, coats, ladder, repeats = boxes_of(ruled())
    assert [z.zone for z in lifting.zones][:2] == ["wash", "lifted"]
    assert [z.zone for z in coats.zones][:2] == ["one coat", "two coats"]
    assert [z.zone for z in ladder.zones][:4] == ["step 1", "step 2", "step 3", "step 4"]
    assert [z.zone for z in repeats.zones][:3] == ["repeat 1", "repeat 2", "repeat 3"]
    assert tuple(stroke.load for stroke in ladder.strokes) == LADDER


def test_the_second_coat_lies_on_the_right_half_alone():
    _, coats, *_ = boxes_of(ruled())
    first, second = coats.strokes
    assert first.rect.contains(second.rect)
    assert second.rect.contains(grown(coats.zone("two coats").rect, 1.499))
    assert not second.rect.overlaps(grown(coats.zone("one coat").rect, 1.499))


@pytest.mark.parametrize("sheet", ["A4", "A4 landscape", "A5", "A3", "Letter"])
def test_strokes_of_different_boxes_and_their_zones_stay_apart(sheet):
    for page in ruled(sheet).chart.pages:
        outer = []
        for box in page.boxes:
            left, right = min(s.rect.x for s in box.strokes), max(s.rect.right for s in box.strokes)
            first = box.strokes[0].rect
            outer.append(Rect(left, first.y, right - left, first.height))
            for zone in box.zones:
                if zone.zone.startswith("bare"):
                    assert not any(s.rect.overlaps(grown(zone.rect, 1.49)) for s in box.strokes)
                else:
                    assert any(s.rect.contains(grown(zone.rect, 1.49)) for s in box.strokes)
                assert min(zone.rect.width, zone.rect.height) >= 3
        for k, one in enumerate(outer):
            assert not any(grown(one, 2.49).overlaps(grown(other, 2.49)) for other in outer[k + 1 :])


def test_a_paint_is_not_cut_by_a_page():
    drawn = ruled("A5", 5)
    for paint in ("P1", "P2", "P3", "P4", "P5"):
        assert sum(any(box.paint == paint for box in page.boxes) for page in drawn.chart.pages) == 1


def test_the_document_keeps_to_the_contract_and_keeps_the_ladder():
    drawn = ruled()
    document = chart_to_dict(drawn.chart)
    jsonschema.validate(document, json.loads((CONTRACT / "chart.schema.json").read_text("utf-8")))
    assert dict_to_chart(json.loads(json.dumps(document))).pages[0].boxes[2].strokes[3].load == 0.125


def test_one_test_alone_can_be_asked_for():
    drawn = ruled(trials=("repeats",))
    boxes = [box for page in drawn.chart.pages for box in page.boxes]
    assert [box.paint for box in boxes] == [f"P{k + 1}" for k in range(7)]
    assert all(box.zone("repeat 3") for box in boxes)
    assert len({box.strokes[0].rect.x for box in boxes}) == 3
    with pytest.raises(BadLayout, match="No test"):
        ruled(trials=())


def test_no_words_touch_one_another_or_a_zone():
    drawn = ruled("A3 landscape", 11)
    for page, ink in zip(drawn.chart.pages, drawn.ink, strict=True):
        words = [item for item in ink if isinstance(item, Words)]
        zones = [zone.rect for box in page.boxes for zone in box.zones]
        for k, item in enumerate(words):
            assert not any(item.rect.inset(0.1).overlaps(z) for z in zones), item.text
            assert not any(item.rect.inset(0.2).overlaps(o.rect.inset(0.2)) for o in words[k + 1 :]), (
                item.text
            )


def test_a_sheet_too_narrow_is_refused():
    with pytest.raises(BadLayout, match="wider"):
        ruled("90x300")
