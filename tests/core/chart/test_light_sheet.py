import json

import jsonschema
import pytest

from halfpan.core.chart.ink import Words
from halfpan.core.chart.light_sheet import THIN, rule_light_chart
from halfpan.core.chart.sheet import Rect, chart_to_dict, dict_to_chart
from halfpan.core.chart.sizes import sheet_of
from halfpan.errors import BadLayout

from .samples import labels, plain_width
from .test_layout import CONTRACT, grown


def ruled(sheet="A4", count=20, **options):
    return rule_light_chart(
        labels(count), sheet=sheet_of(sheet), chart_id="L3GHT", measure=plain_width, **options
    )


def test_each_paint_has_two_strokes_that_run_across_both_halves():
    box = ruled().chart.pages[0].boxes[0]
    assert [zone.zone for zone in box.zones] == [
        "kept", "exposed", "kept thin", "exposed thin", "bare", "bare line",
    ]  # fmt: skip
    full, thin = box.strokes
    assert (full.load, thin.load) == (1.0, THIN)
    for stroke, names in ((full, ("kept", "exposed")), (thin, ("kept thin", "exposed thin"))):
        for name in names:
            assert stroke.rect.contains(grown(box.zone(name).rect, 1.49))
    assert not full.rect.overlaps(thin.rect)


def test_what_is_kept_lies_left_of_what_is_exposed_all_down_a_column():
    """One strip of tape covers the left halves of a whole column."""
    boxes = ruled("A4", 12).chart.pages[0].boxes
    columns = {}
    for box in boxes:
        columns.setdefault(box.strokes[0].rect.x, []).append(box)
    assert max(map(len, columns.values())) > 1
    for column in columns.values():
        covered = max(box.zone(z).rect.right for box in column for z in ("kept", "kept thin"))
        lit = min(box.zone(z).rect.x for box in column for z in ("exposed", "exposed thin"))
        assert lit - covered == pytest.approx(3.0)


@pytest.mark.parametrize("sheet", ["A4", "A4 landscape", "A5", "A3", "Letter"])
def test_zones_are_large_enough_and_boxes_stay_apart(sheet):
    drawn = ruled(sheet)
    assert sum(len(page.boxes) for page in drawn.chart.pages) == 20
    for page in drawn.chart.pages:
        outer = []
        for box in page.boxes:
            full, thin = (stroke.rect for stroke in box.strokes)
            outer.append(Rect(full.x, full.y, full.width, thin.bottom - full.y))
            for zone in box.zones:
                assert min(zone.rect.width, zone.rect.height) >= 3
                if zone.zone.startswith("bare"):
                    assert not any(s.rect.overlaps(grown(zone.rect, 1.49)) for s in box.strokes)
        for k, one in enumerate(outer):
            assert not any(grown(one, 2.49).overlaps(grown(other, 2.49)) for other in outer[k + 1 :])


@pytest.mark.parametrize("sheet", ["A4", "A5", "A3 landscape"])
def test_no_words_touch_one_another_or_a_zone(sheet):
    drawn = ruled(sheet, 11)
    for page, ink in zip(drawn.chart.pages, drawn.ink, strict=True):
        words = [item for item in ink if isinstance(item, Words)]
        zones = [zone.rect for box in page.boxes for zone in box.zones]
        for k, item in enumerate(words):
            assert not any(item.rect.inset(0.1).overlaps(z) for z in zones), item.text
            assert not any(item.rect.inset(0.2).overlaps(o.rect.inset(0.2)) for o in words[k + 1 :]), (
                item.text
            )


def test_the_sheet_says_how_to_cover_and_hang_it():
    said = " ".join(item.text for item in ruled("A4", 3).ink[0] if isinstance(item, Words))
    for word in ("opaque metal tape", "glass, not acrylic", "dark", "date", "Kept covered", "In light"):
        assert word in said


def test_the_document_keeps_to_the_contract():
    drawn = ruled()
    document = chart_to_dict(drawn.chart)
    jsonschema.validate(document, json.loads((CONTRACT / "chart.schema.json").read_text("utf-8")))
    assert dict_to_chart(json.loads(json.dumps(document))).kind == "light"


def test_a_sheet_too_narrow_is_refused():
    with pytest.raises(BadLayout, match="wider"):
        ruled("90x300")
