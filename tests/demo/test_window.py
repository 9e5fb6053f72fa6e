"""A sheet in a window: only the half in light fades, and by as much as is said."""

import numpy as np
import pytest

from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.light_sheet import rule_light_chart
from halfpan.core.chart.sizes import sheet_of
from halfpan.demo.film import Film, film_at
from halfpan.demo.painter import paint_sheet, paper_of
from halfpan.demo.truth import area_lab
from halfpan.demo.window import faded_film, hung_in_light
from halfpan.files.pdf import chart_pdf, page_picture, text_width

DPI = 100
ROSE = Film(np.linspace(2.0, 0.1, 31), np.full(31, 0.05))


@pytest.fixture(scope="module")
def painted():
    labels = [BoxLabel(f"P{k}", f"Rose {k}") for k in range(2)]
    sheet = rule_light_chart(labels, sheet=sheet_of("A5"), chart_id="WNDW22", measure=text_width)
    page = sheet.chart.pages[0]
    picture = page_picture(chart_pdf(sheet), 1, DPI)
    films = {"P0": ROSE, "P1": ROSE}
    rng = np.random.default_rng(3)
    return paint_sheet(sheet.chart, page, picture, films, rng=rng, dpi=DPI, paper=paper_of())[0]


def colour(sheet, box, zone):
    found = next(one for one in sheet.page.boxes if one.box == box)
    return area_lab(sheet, found.zone(zone).rect)


def test_light_takes_colour_from_the_half_in_light_alone(painted):
    after = hung_in_light(painted, {"1": 0.5})
    for zone in ("kept", "kept thin"):
        assert colour(after, "1", zone) == pytest.approx(colour(painted, "1", zone))
    for zone in ("exposed", "exposed thin"):
        assert colour(after, "1", zone)[0] > colour(painted, "1", zone)[0] + 1
        assert colour(after, "2", zone) == pytest.approx(colour(painted, "2", zone))


def test_no_light_changes_nothing(painted):
    after = hung_in_light(painted, {"1": 1.0, "2": 1.0})
    assert colour(after, "1", "exposed") == pytest.approx(colour(painted, "1", "exposed"))


def test_a_film_all_whose_colour_is_gone_still_scatters():
    gone = faded_film(ROSE, 0.0)
    paper = np.full(31, 0.85)
    assert (film_at(gone, 1.0, paper) >= film_at(ROSE, 1.0, paper)).all()
    assert gone.scattering is ROSE.scattering
