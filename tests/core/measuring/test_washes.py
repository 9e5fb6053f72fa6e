"""Real scanned washes laid into the boxes of a printed chart and scanned."""

from __future__ import annotations

import numpy as np
import pytest

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.screen import linear_srgb_to_xyz
from halfpan.core.colour.spaces import xyz_to_lab
from halfpan.core.measuring.page import measure_page
from halfpan.demo.painter import paint_sheet, paper_of
from halfpan.demo.printed import rule_studio_chart
from halfpan.demo.scanner import scan
from halfpan.demo.studio_paints import studio_paints
from halfpan.files.pdf import chart_pdf, page_picture
from halfpan.files.photo import load_photo, open_pictures

DPI = 200


@pytest.mark.shared
def test_a_real_wash_in_its_box_comes_back_as_its_own_pixels_are(shared_data):
    paths = [p for p in sorted((shared_data / "washes").glob("*.jpg")) if "white" not in p.stem]
    ruled = rule_studio_chart(list(studio_paints())[: len(paths)])
    page, ppm = ruled.chart.pages[0], DPI / 25.4
    laid, truth = {}, {}
    for box, path in zip((b for b in page.boxes if b.paint), paths, strict=False):
        photo = load_photo(path)
        light = np.stack([photo.decode[photo.pixels[..., c], c] for c in range(3)], axis=-1).astype(float)
        stroke, zone = box.strokes[0].rect, box.zone("masstone").rect
        piece = light[400 : 401 + round(stroke.height * ppm), 300 : 301 + round(stroke.width * ppm)]
        top, left = round((zone.y - stroke.y) * ppm), round((zone.x - stroke.x) * ppm)
        under = piece[top : top + round(zone.height * ppm), left : left + round(zone.width * ppm)]
        laid[box.box], truth[box.box] = piece, xyz_to_lab(linear_srgb_to_xyz(under.reshape(-1, 3).mean(0)))
    rng = np.random.default_rng(3)
    printed = page_picture(chart_pdf(ruled), 1, DPI)
    painted, _ = paint_sheet(
        ruled.chart, page, printed, {}, rng=rng, dpi=DPI, paper=paper_of(), wash_pictures=laid
    )
    (picture,) = open_pictures(scan(painted, rng=rng).file, "scan.jpg")
    read = {
        r.box: np.array(r.lab) for r in measure_page(picture.photo, page).readings if r.zone == "masstone"
    }
    away = {b: {o: float(delta_e_2000(read[b], lab)) for o, lab in truth.items()} for b in truth}
    assert all(min(others, key=others.get) == box for box, others in away.items())
    assert np.median([others[box] for box, others in away.items()]) <= 1.0
