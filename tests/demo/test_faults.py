"""Each fault is really in the picture."""

from __future__ import annotations

import numpy as np
import pytest

from halfpan.core.chart.sheet import Sheet
from halfpan.demo.camera import photograph
from halfpan.demo.faults import FAULTS, faulty_picture
from halfpan.demo.painter import paint_sheet
from halfpan.demo.printed import rule_studio_chart
from halfpan.demo.studio_paints import studio_films, studio_paints
from halfpan.files.pdf import chart_pdf, page_picture


@pytest.fixture(scope="module")
def painted():
    sheet = rule_studio_chart(studio_paints()[10:16], sheet=Sheet(148, 210), chart_id="TEST")
    picture = page_picture(chart_pdf(sheet), 1, 100)
    chart = sheet.chart
    return paint_sheet(chart, chart.pages[0], picture, studio_films(), rng=np.random.default_rng(1), dpi=100)[
        0
    ]


def test_chance_draws_one_or_two_faults_and_in_time_all_of_them():
    drawn = [faulty_picture(np.random.default_rng(seed))[0] for seed in range(60)]
    assert {len(faults) for faults in drawn} == {1, 2}
    assert {fault for faults in drawn for fault in faults} == set(FAULTS)


def test_a_sheet_laid_upside_down_shows_its_top_at_the_foot_of_the_picture(painted):
    rng = np.random.default_rng(2)
    _, camera, setting = faulty_picture(rng, ("upside down", "small"))
    shot = photograph(painted, rng=rng, camera=camera, setting=setting)
    top, foot = shot.view.place([(74, 5), (74, 205)])
    assert top[0] > foot[0]
    assert shot.rgb.shape[0] < 2000


def test_a_covered_picture_hides_a_part_of_the_sheet_behind_one_colour(painted):
    rng = np.random.default_rng(3)
    _, camera, setting = faulty_picture(rng, ("covered", "small"))
    shot = photograph(painted, rng=rng, camera=camera, setting=setting)
    rows, cols = shot.rgb.shape[:2]
    sides = [
        shot.rgb[rows // 2 - 20 : rows // 2 + 20, s].reshape(-1, 3)
        for s in (slice(0, 20), slice(cols - 20, cols))
    ]
    assert min(side.std(axis=0).max() for side in sides) < 8


def test_a_coarse_file_is_smaller_than_a_fine_one_of_the_same_picture(painted):
    sizes = []
    for faults in (("coarse", "small"), ("small",)):
        rng = np.random.default_rng(4)
        _, camera, setting = faulty_picture(rng, faults)
        sizes.append(len(photograph(painted, rng=rng, camera=camera, setting=setting).file))
    assert sizes[0] < 0.8 * sizes[1]
