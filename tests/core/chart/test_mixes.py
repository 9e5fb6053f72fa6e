import json

import jsonschema
import pytest

from halfpan.core.chart.ink import Words
from halfpan.core.chart.mixes import MixLabel, rule_mix_chart
from halfpan.core.chart.sheet import Part, chart_to_dict, dict_to_chart
from halfpan.core.chart.sizes import sheet_of

from .samples import labels, plain_width
from .test_layout import CONTRACT, grown


def mixes(count, paints=2):
    every = labels(15)
    return [
        MixLabel([(every[(k + 3 * j) % 15], j + 1 + k % 3) for j in range(paints)], f"doubt now ± {k}")
        for k in range(count)
    ]


def ruled(count=9, paints=2, sheet="A4"):
    return rule_mix_chart(
        mixes(count, paints), sheet=sheet_of(sheet), chart_id="M1X", measure=plain_width, title="Mixes"
    )


def test_each_box_tells_its_parts_and_the_document_keeps_them():
    drawn = ruled()
    box = drawn.chart.pages[0].boxes[1]
    assert box.paint is None
    assert box.mix == (Part("P2", 2), Part("P5", 3))
    assert box.label == "2 Bismuth Yellow + 3 Scarlet"
    document = chart_to_dict(drawn.chart)
    jsonschema.validate(document, json.loads((CONTRACT / "chart.schema.json").read_text("utf-8")))
    assert document["pages"][0]["boxes"][1]["mix"][0] == {"paint": "P2", "parts": 2}
    assert dict_to_chart(json.loads(json.dumps(document))).pages[0].boxes[1].mix == box.mix


def test_a_page_is_filled_up_with_boxes_for_mixes_of_ones_own():
    drawn = ruled(9)
    (page,) = drawn.chart.pages
    assert sum(bool(box.mix) for box in page.boxes) == 9
    assert len(page.boxes) == 16
    assert all(
        {"masstone", "graded", "black line", "bare", "bare line"} <= {z.zone for z in b.zones}
        for b in page.boxes
    )


@pytest.mark.parametrize(
    ("paints", "sheet"), [(2, "A4"), (3, "A4"), (6, "A3"), (2, "A5"), (2, "A4 landscape")]
)
def test_no_words_touch_one_another_or_a_zone(paints, sheet):
    drawn = ruled(20, paints, sheet)
    for page, ink in zip(drawn.chart.pages, drawn.ink, strict=True):
        words = [item for item in ink if isinstance(item, Words)]
        zones = [zone.rect for box in page.boxes for zone in box.zones]
        for k, item in enumerate(words):
            assert not any(grown(item.rect, -0.1).overlaps(z) for z in zones), item.text
            assert not any(item.rect.inset(0.2).overlaps(o.rect.inset(0.2)) for o in words[k + 1 :]), (
                item.text
            )
