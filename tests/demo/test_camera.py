"""Scanner and cameras put the sheet where their view says, and show its colours as they say they do."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from halfpan.core.chart.sheet import Sheet
from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.screen import srgb_to_lab
from halfpan.demo.camera import photograph, simple_camera, simple_setting
from halfpan.demo.lamp import faithful_weights
from halfpan.demo.painter import paint_sheet
from halfpan.demo.phone import phone_camera, phone_setting
from halfpan.demo.printed import rule_studio_chart
from halfpan.demo.scanner import odd_scanner, scan
from halfpan.demo.studio_paints import studio_films, studio_paints
from halfpan.files.pdf import chart_pdf, page_picture

DPI = 150
TARGET = np.column_stack([np.linspace(20, 96, 24), np.linspace(-30, 30, 24), np.linspace(30, -30, 24)])


@pytest.fixture(scope="module")
def painted():
    sheet = rule_studio_chart(studio_paints()[10:16], sheet=Sheet(148, 210), chart_id="TEST")
    picture = page_picture(chart_pdf(sheet), 1, DPI)
    chart = sheet.chart
    return paint_sheet(chart, chart.pages[0], picture, studio_films(), rng=np.random.default_rng(1), dpi=DPI)


def worst_mark(sheet, shot):
    """Largest distance in pixels between where a mark's middle is seen and where the view says it is."""
    words = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    parameters = cv2.aruco.DetectorParameters()
    parameters.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    grey = cv2.cvtColor(np.ascontiguousarray(shot.rgb), cv2.COLOR_RGB2GRAY)
    corners, ids, _ = cv2.aruco.ArucoDetector(words, parameters).detectMarkers(grey)
    marks = {mark.id: mark for mark in sheet.page.marks}
    seen = dict(zip(ids.ravel(), corners, strict=True))
    assert len(seen) >= 6
    off = [
        s[0][:, ::-1].mean(axis=0) - shot.view.place(marks[i].corners).mean(axis=0) for i, s in seen.items()
    ]
    return np.abs(off).max()


SHOTS = {
    "scan": lambda p, rng: scan(p, rng=rng),
    "scan, upside down, odd scanner": lambda p, rng: scan(
        p, rng=rng, scanner=odd_scanner(rng), upside_down=True, kind="png"
    ),
    "photograph": lambda p, rng: photograph(p, rng=rng, setting=simple_setting(rng, size=(2000, 1500))),
    "bent sheet": lambda p, rng: photograph(
        p, rng=rng, setting=simple_setting(rng, hard=True, size=(2000, 1500)), target=TARGET
    ),
}


@pytest.mark.parametrize("kind", SHOTS)
def test_marks_are_seen_where_the_view_places_them(painted, kind):
    sheet, _ = painted
    assert worst_mark(sheet, SHOTS[kind](sheet, np.random.default_rng(3))) < 0.6


@pytest.mark.parametrize("mixing", ["towards grey", "leaking", "either way"])
def test_a_simple_camera_keeps_white_white_and_mixes_each_primary_by_five_to_ten_percent(mixing):
    for seed in range(20):
        camera = simple_camera(np.random.default_rng(seed), mixing=mixing)
        mixed = np.linalg.lstsq(faithful_weights(), camera.weights, rcond=None)[0].T
        assert np.allclose(mixed.sum(axis=1), 1)
        strange = np.abs(mixed - np.diag(np.diag(mixed))).sum(axis=1)
        share = strange * 1.5 if mixing == "towards grey" else strange
        assert ((share > 0.0499) & (share < 0.1001)).all()
        assert (mixed >= 0).all() or mixing == "either way"


def test_a_place_on_the_sheet_and_back_is_the_same_place(painted):
    sheet, _ = painted
    shot = SHOTS["bent sheet"](sheet, np.random.default_rng(5))
    places = np.random.default_rng(0).uniform((0, 0), (148, 210), (50, 2))
    assert np.abs(shot.view.sheet_at(shot.view.place(places)) - places).max() < 0.01


def test_a_faithful_scan_shows_each_colour_as_it_is(painted):
    sheet, truth = painted
    shot = scan(sheet, rng=np.random.default_rng(3), kind="png")
    for box in sheet.page.boxes[:6]:
        rect = box.zone("masstone").rect
        row, col = shot.view.place([(rect.x + rect.width / 2, rect.y + rect.height / 2)])[0].astype(int)
        seen = np.median(shot.rgb[row - 9 : row + 9, col - 9 : col + 9].reshape(-1, 3), axis=0)
        true = truth.zone(box.box, "masstone").lab
        assert delta_e_2000(srgb_to_lab(seen / 255), true) < 2.5, box.label


def test_the_same_seed_takes_the_same_picture(painted):
    sheet, _ = painted
    files = [
        scan(sheet, rng=np.random.default_rng(seed), scanner=odd_scanner(np.random.default_rng(seed))).file
        for seed in (1, 1, 2)
    ]
    assert files[0] == files[1] != files[2]


def test_a_phone_shows_its_name_a_target_and_a_changed_sheet(painted):
    sheet, _ = painted
    rng = np.random.default_rng(8)
    shot = photograph(
        sheet, rng=rng, camera=phone_camera(rng), setting=phone_setting(rng, hard=True), target=TARGET
    )
    assert b"Saltmarsh" in shot.file[:400]
    inside = (shot.target_places >= 0).all() and (shot.target_places < shot.view.size).all()
    assert inside
    light = [shot.rgb[int(r) - 5 : int(r) + 5, int(c) - 5 : int(c) + 5].mean() for r, c in shot.target_places]
    assert np.corrcoef(light, TARGET[:, 0])[0, 1] > 0.9
