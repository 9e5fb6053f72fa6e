"""Light tests of the virtual painter: how near a read change is to the true one, how often its doubt holds.

Sheets of 15 paints are painted, hung up and pictured on days 0, 30 and 90; each paint keeps its colour or
loses 0.2, 0.6 or 2 % of it a day. The figures of ``core/fading/halves.py`` were set on seeds 0 to 9 of the
odd scanner and 0 to 7 of the simple camera, the doubling of flagged ones on 40 to 45; those here are others.
"""

from __future__ import annotations

import sys
from collections import defaultdict

import numpy as np

from halfpan.core.chart.label import BoxLabel
from halfpan.core.chart.light_sheet import HALVES, rule_light_chart
from halfpan.core.chart.sizes import sheet_of
from halfpan.core.colour.difference import delta_e_76, delta_e_2000
from halfpan.core.colour.spectra import reflectance_to_lab
from halfpan.core.fading.course import LIMITS
from halfpan.core.fading.halves import Halves, fading
from halfpan.core.measuring.change import change
from halfpan.core.measuring.locate import locate
from halfpan.core.measuring.page import measure_page
from halfpan.demo.camera import photograph
from halfpan.demo.film import film_at
from halfpan.demo.painter import paint_sheet
from halfpan.demo.scanner import odd_scanner, scan
from halfpan.demo.studio_paints import studio_paints
from halfpan.demo.window import faded_film, hung_in_light
from halfpan.errors import UnreadablePhoto
from halfpan.files.pdf import chart_pdf, page_picture, text_width
from halfpan.files.photo import open_pictures

DPI = 200
DAYS = (0, 30, 90)
RATES = (0.0, 0.002, 0.006, 0.02)
SEEDS = range(60, 66)
COVERED = "covered half, two pictures"
TAKEN = {
    "scanner": lambda sheet, rng: scan(sheet, rng=rng),
    "odd scanner": lambda sheet, rng: scan(sheet, rng=rng, scanner=odd_scanner(rng)),
    "simple camera": lambda sheet, rng: photograph(sheet, rng=rng),
}


def painted_sheet(rng):
    """Paint a sheet; return it with its truth, films by box and the share of colour each loses a day."""
    every = studio_paints()
    chosen = [every[i] for i in rng.permutation(len(every))[:15]]
    labels = [BoxLabel(one.paint.id, one.paint.name, one.paint.codes) for one in chosen]
    sheet = rule_light_chart(labels, sheet=sheet_of("A4"), chart_id="BNCH22", measure=text_width)
    page = sheet.chart.pages[0]
    picture = page_picture(chart_pdf(sheet), 1, DPI)
    films = {one.paint.id: one.film for one in chosen}
    painted, truth = paint_sheet(sheet.chart, page, picture, films, rng=rng, dpi=DPI)
    by_box = {box.box: films[box.paint] for box in page.boxes}
    return painted, truth, by_box, {box: float(rng.choice(RATES)) for box in by_box}


def looks(take, painted, rates, rng):
    """Return the readings of each day by box and zone."""
    found = {}
    for day in DAYS:
        left = {box: float(np.exp(-rate * day)) for box, rate in rates.items()}
        file = take(hung_in_light(painted, left), rng).file
        (picture,) = open_pictures(file, "look.jpg")
        read = measure_page(picture.photo, painted.page, located=locate(picture.photo))
        found[day] = {(one.box, one.zone): one for one in read.readings}
    return found


def compare(found, painted, truth, films, rates):
    """Yield (true dE*ab, error, half width, error 00, half width 00) of every wash and later day, by what."""
    for box, film in films.items():
        for kept, lit in HALVES.values():
            if any((box, zone) not in found[day] for zone in (kept, lit) for day in DAYS):
                continue
            start = Halves(found[0][box, kept], found[0][box, lit])
            load = truth.zone(box, kept).load
            for day in DAYS[1:]:
                now = Halves(found[day][box, kept], found[day][box, lit])
                faded = faded_film(film, float(np.exp(-rates[box] * day)))
                before, after = (reflectance_to_lab(film_at(f, load, painted.paper)) for f in (film, faded))
                for name, known in (("read at the start", start), ("not read", None)):
                    got = fading(now, known)
                    true_ab, true_00 = float(delta_e_76(after, before)), float(delta_e_2000(after, before))
                    ab, new = abs(got.delta_e_ab - true_ab), abs(got.delta_e_00 - true_00)
                    yield name, (true_ab, ab, got.within_ab, new, got.within_00, got.least)
                since = change(start.kept, now.kept)
                yield COVERED, (0.0, np.nan, np.nan, since.delta_e, since.within, 0.0)


def spread(values):
    """Return median and 95th percentile in words; a dash for what is not there."""
    if np.isnan(values).all():
        return "–"
    return f"{np.median(values):.2f} / {np.percentile(values, 95):.2f}"


def inside(pairs):
    """Return how many errors are within their half width; a dash for what is not there."""
    if np.isnan(pairs).all():
        return "–"
    return f"{np.mean(pairs[:, 0] <= pairs[:, 1]):.0%}"


def table(kind, rows):
    """Return the lines of one device."""
    lines = []
    for name, values in rows.items():
        every = np.array(values)
        parts = {"all": every[:, 0] >= 0}
        if name != COVERED:
            parts |= {
                "under 1": every[:, 0] < 1,
                "1 to 4": (every[:, 0] >= 1) & (every[:, 0] < 4),
                "4 and more": every[:, 0] >= 4,
            }
        for part, chosen in parts.items():
            one = every[chosen]
            if not len(one):
                continue
            ab, new = one[:, 1:3], one[:, 3:5]
            width = "–" if name == COVERED else f"{np.median(ab[:, 1]):.1f}"
            cells = (kind, name, part, str(len(one)), spread(ab[:, 0]), width, inside(ab), spread(new[:, 0]),
                     inside(new))  # fmt: skip
            lines.append("| " + " | ".join(cells) + " |")
    return lines


def accused(kind, rows):
    """Say how often a stroke is called changed that is not, and how often one that is."""
    every = np.array(rows["read at the start"])
    held, gone = every[:, 0] <= LIMITS[0], every[:, 0] > LIMITS[1]
    called = every[:, 5] > LIMITS[0]
    return (
        f"{kind}, read at the start: called changed {called[held].sum()} of {held.sum()} that truly moved "
        f"{LIMITS[0]:g} or less, {called[gone].sum()} of {gone.sum()} that moved more than {LIMITS[1]:g}"
    )


def main():
    seeds = SEEDS[:1] if "--quick" in sys.argv else SEEDS
    print("| picture | the start | true change, dE*ab | looks | error dE*ab p50 / p95 | half width | inside "
          "| error dE00 p50 / p95 | inside |")  # fmt: skip
    print("|---|---|---|---|---|---|---|---|---|")
    words = []
    for kind, take in TAKEN.items():
        rows, refused = defaultdict(list), 0
        for seed in seeds:
            rng = np.random.default_rng([seed, 5])
            painted, truth, films, rates = painted_sheet(rng)
            try:
                found = looks(take, painted, rates, rng)
            except UnreadablePhoto:
                refused += 1
                continue
            for name, values in compare(found, painted, truth, films, rates):
                rows[name].append(values)
        print("\n".join(table(kind, rows)), flush=True)
        words.append(accused(kind, rows))
        if refused:
            words.append(f"{kind}: {refused} sheets had a picture that was refused")
    print("\n" + "\n".join(words))


if __name__ == "__main__":
    main()
