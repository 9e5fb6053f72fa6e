import json
from pathlib import Path

import jsonschema
import pytest

from halfpan.core.chart.ink import Fill, Rule, Words, inked
from halfpan.core.chart.layout import rule_swatch_chart
from halfpan.core.chart.sheet import Rect, chart_to_dict, dict_to_chart
from halfpan.core.chart.sizes import sheet_of
from halfpan.errors import BadLayout

from .samples import labels, plain_width

CONTRACT = Path(__file__).parents[2] / "published" / "contract"
SHEETS = [
    "A5", "A5 landscape", "A4", "A4 landscape", "A3", "A3 landscape", "A2", "Letter", "Letter landscape",
    "Quarter Imperial", "Eighth Imperial landscape", "250x350",
]  # fmt: skip


def ruled(sheet, count=15, **options):
    return rule_swatch_chart(
        labels(count), sheet=sheet_of(sheet), chart_id="K7Q2M", measure=plain_width, **options
    )


def boxes_of(drawn):
    return [(page, box) for page in drawn.chart.pages for box in page.boxes]


@pytest.fixture(params=SHEETS, scope="module")
def drawn(request):
    return ruled(request.param)


def grown(rect, by):
    return Rect(rect.x - by, rect.y - by, rect.width + 2 * by, rect.height + 2 * by)


def test_the_document_keeps_to_the_contract_and_comes_back_the_same(drawn):
    document = chart_to_dict(drawn.chart)
    jsonschema.validate(document, json.loads((CONTRACT / "chart.schema.json").read_text("utf-8")))
    assert chart_to_dict(dict_to_chart(json.loads(json.dumps(document)))) == document


def test_every_box_has_a_flat_zone_of_5_by_10_and_a_bare_end_of_3_by_4_of_the_line(drawn):
    for _, box in boxes_of(drawn):
        flat, bare = box.zone("masstone").rect, box.zone("bare line").rect
        assert flat.width >= 10 - 1e-9
        assert flat.height >= 5 - 1e-9
        assert bare.width >= 3
        assert bare.height >= 4 - 1e-9


def test_boxes_stand_at_least_5_mm_apart_both_ways(drawn):
    for page in drawn.chart.pages:
        outer = [
            Rect(s[0].rect.x, s[0].rect.y, s[0].rect.width, s[1].rect.bottom - s[0].rect.y)
            for s in (box.strokes for box in page.boxes)
        ]
        for k, one in enumerate(outer):
            assert not any(grown(one, 2.499).overlaps(grown(other, 2.499)) for other in outer[k + 1 :])


def test_a_painted_zone_lies_clear_of_the_edge_of_its_stroke(drawn):
    for _, box in boxes_of(drawn):
        strokes = [s.rect for s in box.strokes]
        whole = Rect(strokes[0].x, strokes[0].y, strokes[0].width, strokes[1].bottom - strokes[0].y)
        for name in ("masstone", "black line"):
            assert strokes[0].contains(grown(box.zone(name).rect, 1.5))
        assert strokes[1].contains(grown(box.zone("graded").rect, 1.5))
        for name in ("bare", "bare line"):
            assert not grown(box.zone(name).rect, 1.499).overlaps(whole)


def test_nothing_is_printed_within_a_millimetre_and_a_half_of_a_zone_on_paper(drawn):
    for page, box in boxes_of(drawn):
        for zone in box.zones:
            if zone.ground == "paper":
                near = grown(zone.rect, 0.9 if zone.zone == "bare" else 1.499)
                strips = [r for r in page.printed if r.overlaps(near)]
                # ticks end inside the clear edge of the stroke and stay outside the zone itself
                assert all(r.height < 0.3 and not r.overlaps(zone.rect) for r in strips), (box.box, zone.zone)


def test_a_zone_on_black_lies_wholly_on_one_black_area_and_no_number_touches_it(drawn):
    for page, ink in zip(drawn.chart.pages, drawn.ink, strict=True):
        black = [r for item in ink if isinstance(item, Fill) and not item.white for r in item.rects]
        white = [item.rect for item in ink if isinstance(item, Words) and item.white]
        for box in page.boxes:
            for zone in box.zones:
                if zone.ground == "black":
                    assert any(r.contains(grown(zone.rect, 1.49)) for r in black), (box.box, zone.zone)
                    assert not any(r.overlaps(grown(zone.rect, 1.0)) for r in white)


def test_no_words_touch_other_words_or_stand_in_a_zone_or_off_the_page(drawn):
    page_rect = Rect(0, 0, drawn.sheet.width_mm, drawn.sheet.height_mm).inset(4)
    for page, ink in zip(drawn.chart.pages, drawn.ink, strict=True):
        words = [item for item in ink if isinstance(item, Words) and item.text.strip()]
        marks = [
            Rect(*m.corners[0], m.corners[1][0] - m.corners[0][0], m.corners[2][1] - m.corners[1][1])
            for m in page.marks
        ]
        zones = [zone.rect for box in page.boxes for zone in box.zones]
        for k, item in enumerate(words):
            assert page_rect.contains(item.rect), item.text
            assert not any(item.rect.overlaps(z) for z in zones), item.text
            assert not any(item.rect.overlaps(m) for m in marks), item.text
            for other in words[k + 1 :]:
                assert not item.rect.inset(0.12).overlaps(other.rect.inset(0.12)), (item.text, other.text)


def test_marks_and_code_have_a_white_margin(drawn):
    for page in drawn.chart.pages:
        for mark in page.marks:
            (x, y), (right, _), *_ = mark.corners
            own = Rect(x, y, right - x, right - x)
            quiet = grown(own, (right - x) / 6 * 0.99)
            others = [r for r in page.printed if not own.contains(r)]
            assert not any(r.overlaps(quiet) for r in others)


def test_every_page_carries_the_same_eight_marks():
    drawn = ruled("A5", 40)
    assert len(drawn.chart.pages) > 2
    assert {tuple(m.id for m in page.marks) for page in drawn.chart.pages} == {tuple(range(8))}
    assert len({page.marks for page in drawn.chart.pages}) == 1


def test_every_paint_has_one_box_and_every_box_its_own_number():
    drawn = ruled("A4", 137)
    boxes = [box for _, box in boxes_of(drawn)]
    assert [b.paint for b in boxes if b.paint] == [f"P{k + 1}" for k in range(137)]
    assert len({b.box for b in boxes}) == len(boxes)
    assert all(b.label == "" for b in boxes if b.paint is None)


def test_a_pale_paint_shows_itself_on_paper_and_on_black_side_by_side():
    drawn = ruled("A4")
    pale = [box for _, box in boxes_of(drawn) if box.zone("graded on black")]
    assert len(pale) == 2
    for box in pale:
        graded, black = box.zone("graded").rect, box.zone("graded on black").rect
        assert graded.y == black.y
        assert graded.height == black.height
        assert black.x >= graded.right + 3
        assert black.width >= 2


def test_a_chart_that_follows_a_tin_has_its_rows_and_columns_and_can_be_turned_round():
    seats = [*labels(11), None]
    options = {"sheet": sheet_of("A4"), "chart_id": "T1N", "measure": plain_width, "plan": (3, 4)}
    upright = rule_swatch_chart(seats, **options).chart.pages[0].boxes
    turned = rule_swatch_chart(seats, upside_down=True, **options).chart.pages[0].boxes
    assert len({b.strokes[0].rect.y for b in upright}) == 3
    assert len({b.strokes[0].rect.x for b in upright}) == 4
    assert {b.box: b.paint for b in upright} == {b.box: b.paint for b in turned}
    assert turned[0].box == "12"
    assert turned[-1].paint == "P1"


def test_a_plan_that_cannot_be_read_on_the_sheet_is_refused():
    with pytest.raises(BadLayout, match="larger sheet"):
        ruled("A5", plan=(2, 12))
    with pytest.raises(BadLayout, match="larger sheet"):
        ruled("A4", plan=(40, 2))


def test_a_line_to_be_ruled_by_hand_is_outlined_and_counts_as_black():
    drawn = ruled("A4", line="hand")
    lines = [r for item in drawn.ink[0] if isinstance(item, Fill) for r in item.rects if r.width > 100]
    assert not lines
    for page, box in boxes_of(drawn):
        assert any(r.contains(box.zone("black line").rect) for r in page.printed)
    assert not any(item.white for item in drawn.ink[0] if isinstance(item, Words))


def test_larger_sheets_get_larger_boxes_and_a4_keeps_those_of_the_hand():
    wide = [boxes_of(ruled(s, 60))[0][1].strokes[0].rect.width for s in ("A4", "A3", "A2")]
    assert wide[0] < 20
    assert min(wide[1:]) > 24


def test_the_same_wish_gives_the_same_chart():
    assert ruled("A4", 33) == ruled("A4", 33)


def test_lines_and_ticks_do_not_cross_words(drawn):
    for ink in drawn.ink:
        words = [item.rect for item in ink if isinstance(item, Words) and item.text.strip()]
        rules = [rect for item in ink if isinstance(item, Rule) for rect in inked((item,))]
        assert not any(rule.overlaps(word.inset(0.15)) for rule in rules for word in words)


def test_a_sheet_too_narrow_for_its_heading_is_refused():
    with pytest.raises(BadLayout, match="too narrow"):
        ruled("A6")


def test_a_narrow_sheet_gets_a_bar_of_50_mm_that_says_so():
    drawn = ruled("A5 landscape")
    assert any(isinstance(i, Words) and i.text.startswith("50 mm") for i in drawn.ink[0])
    assert any(isinstance(i, Rule) and abs(i.x1 - i.x0 - 50) < 1e-9 for i in drawn.ink[0])
