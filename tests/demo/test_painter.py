"""The virtual painter paints what the chart says, and its truth is what an instrument would find there."""

from __future__ import annotations

import numpy as np
import pytest

from halfpan.core.chart.mixes import MixLabel, rule_mix_chart
from halfpan.core.chart.sheet import Sheet
from halfpan.core.chart.trials import rule_test_chart
from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.screen import linear_srgb_to_xyz
from halfpan.core.colour.spaces import xyz_to_lab
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.demo.brush import Hand
from halfpan.demo.film import film_at, mix_films
from halfpan.demo.painter import paint_sheet, paper_of
from halfpan.demo.printed import box_labels, rule_studio_chart
from halfpan.demo.studio_paints import studio_films, studio_paints
from halfpan.demo.truth import area_lab
from halfpan.files.pdf import chart_pdf, page_picture, text_width

DPI = 150
EVEN = Hand(strength_sd=0, pool=0, streak=0, rim=0, ragged=0, grain=0)


@pytest.fixture(scope="module")
def printed():
    sheet = rule_studio_chart(studio_paints()[10:16], sheet=Sheet(148, 210), chart_id="TEST")
    return sheet.chart, page_picture(chart_pdf(sheet), 1, DPI)


def painted(printed, seed=1, **more):
    chart, picture = printed
    rng = np.random.default_rng(seed)
    return paint_sheet(chart, chart.pages[0], picture, studio_films(), rng=rng, dpi=DPI, **more)


def test_an_even_hand_leaves_the_colour_of_the_film_in_every_zone(printed):
    sheet, truth = painted(printed, hand=EVEN)
    for zone in truth.zones:
        if zone.zone in {"masstone", "black line", "bare", "bare line"}:
            assert delta_e_2000(zone.area_lab, zone.lab) < 0.35, (zone.box, zone.zone)
    assert len(truth.boxes) == len(sheet.page.boxes)


def test_the_truth_of_full_strength_is_the_film_over_this_paper(printed):
    paper = paper_of((94.0, 0.5, 3.0), 0.04)
    _, truth = painted(printed, hand=EVEN, paper=paper)
    first = studio_paints()[10]
    assert np.allclose(
        truth.zone("1", "masstone").lab, reflectance_to_lab(film_at(first.film, 1.0, paper.white))
    )
    assert np.allclose(truth.paper_lab, (94.0, 0.5, 3.0), atol=0.01)


def test_the_same_seed_paints_the_same_sheet_and_another_seed_another(printed):
    first, second, other = (painted(printed, seed)[0] for seed in (4, 4, 5))
    assert all(np.array_equal(a.level, b.level) for a, b in zip(first.patches, second.patches, strict=True))
    assert not np.array_equal(first.patches[0].level, other.patches[0].level)


def test_a_graded_stroke_fades_from_the_masstone_to_bare_paper(printed):
    sheet, truth = painted(printed)
    for box in truth.boxes:
        if box.film is not None:
            assert np.all(np.diff(box.graded_loads) <= 0)
    box = sheet.page.boxes[0]
    zone = box.zone("graded").rect
    ends = [area_lab(sheet, type(zone)(zone.x, y, zone.width, 0.5)) for y in (zone.y, zone.bottom - 0.5)]
    assert ends[1][0] > ends[0][0]


def test_boxes_left_out_and_spare_boxes_stay_bare(printed):
    sheet, truth = painted(printed, leave={"1"})
    assert truth.box("1").film is None
    assert delta_e_2000(area_lab(sheet, sheet.page.boxes[0].zone("masstone").rect), truth.paper_lab) < 0.5


def test_granulation_is_stronger_for_grainy_paints_and_absent_without_grain(printed):
    chart, picture = printed
    films = studio_films()
    grainy, smooth = films["potter-s-pink-old-quarry"], films["quinacridone-rose-tidewater"]
    spreads = []
    for film in (grainy, smooth):
        sheet, _ = paint_sheet(
            chart, chart.pages[0], picture, {}, rng=np.random.default_rng(2), dpi=DPI, box_films={"1": film}
        )
        level = sheet.patches[0].level
        core = level[level.shape[0] // 3 : level.shape[0] // 2, level.shape[1] // 3 : level.shape[1] // 2]
        spreads.append(core.std() / core.mean())
    assert spreads[0] > 3 * spreads[1]


def test_a_picture_of_a_real_wash_lies_in_the_box_as_it_is(printed):
    chart, picture = printed
    linear = np.random.default_rng(0).uniform(0.2, 0.6, (400, 400, 3)).astype(np.float32)
    _, truth = paint_sheet(
        chart,
        chart.pages[0],
        picture,
        {},
        rng=np.random.default_rng(2),
        dpi=DPI,
        paper=paper_of(),
        wash_pictures={"1": linear},
    )
    middle = xyz_to_lab(linear_srgb_to_xyz(linear.reshape(-1, 3).mean(axis=0)))
    assert delta_e_2000(truth.zone("1", "masstone").area_lab, middle) < 1.0


def test_a_sheet_of_tests_is_painted_as_its_names_say():
    paint = studio_paints()[21]
    ruled = rule_test_chart(box_labels([paint]), sheet=Sheet(210, 297), chart_id="TEST", measure=text_width)
    page = next(p for p in ruled.chart.pages if any(b.zone("step 1") for b in p.boxes))
    picture = page_picture(chart_pdf(ruled), page.page, DPI)
    _, truth = paint_sheet(
        ruled.chart, page, picture, studio_films(), rng=np.random.default_rng(3), dpi=DPI, hand=EVEN
    )
    light = {z.zone: z.area_lab[0] for z in truth.zones}
    assert light["step 1"] < light["step 2"] < light["step 3"] < light["step 4"]
    assert light["two coats"] < light["one coat"] - 5
    assert light["wash"] < light["lifted"]
    for zone in truth.zones:
        if zone.zone[:4] in {"step", "two ", "one ", "wash", "lift", "repe"}:
            assert delta_e_2000(zone.area_lab, zone.lab) < 0.6, zone.zone


def test_repeats_of_one_paint_differ_as_the_hand_does():
    paint = studio_paints()[21]
    ruled = rule_test_chart(
        box_labels([paint]), sheet=Sheet(210, 297), chart_id="TEST", measure=text_width, trials=("repeats",)
    )
    page = ruled.chart.pages[0]
    _, truth = paint_sheet(
        ruled.chart,
        page,
        page_picture(chart_pdf(ruled), 1, DPI),
        studio_films(),
        rng=np.random.default_rng(3),
        dpi=DPI,
    )
    loads = [z.load for z in truth.zones if z.zone.startswith("repeat")]
    assert len(loads) == len(set(loads)) == 3


def test_a_box_of_a_mix_holds_the_film_of_its_parts():
    yellow, blue = (e for e in studio_paints() if e.paint.name in {"Pure Yellow", "Prussian Blue"})
    labels = box_labels([yellow, blue])
    ruled = rule_mix_chart(
        [MixLabel([(labels[0], 3), (labels[1], 1)])],
        sheet=Sheet(148, 210),
        chart_id="TEST",
        measure=text_width,
    )
    page = ruled.chart.pages[0]
    _, truth = paint_sheet(
        ruled.chart,
        page,
        page_picture(chart_pdf(ruled), 1, DPI),
        studio_films(),
        rng=np.random.default_rng(3),
        dpi=DPI,
        hand=EVEN,
    )
    film = mix_films([yellow.film, blue.film], [0.75, 0.25])
    assert np.allclose(truth.box("1").film.absorption, film.absorption)
