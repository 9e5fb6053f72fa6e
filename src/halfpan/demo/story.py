"""The demo's report: painted boxes cut out of the pictures, what was read of each, how far from the truth."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby
from pathlib import Path

import cv2
import numpy as np

from halfpan.core.colour.screen import lab_to_hex
from halfpan.core.paint.reading import Swatch
from halfpan.demo.compare import Compared, Score, compare, score
from halfpan.demo.fill import LEFT_BARE, Filled, ReadBack
from halfpan.demo.hung import Hung
from halfpan.files.report import Dot, Figure, Plot, Report, Section, Table, Tile, Wall, Words
from halfpan.studio.cut_crops import crop_file
from halfpan.studio.studio import Studio

_SHOWN_LONG_SIDE = 1100


def demo_report(studio: Studio, filled: Filled, places: Sequence[tuple[str, str]]) -> Report:
    """Return the report of a filled studio.

    Parameters
    ----------
    studio : Studio, filled
    filled : what `fill_studio` made
    places : what lies where: (what it is, its path)
    """
    pairs = [(back, compare(back)) for back in filled.back]
    scores = [score(back, compared) for back, compared in pairs]
    charts = [(b, c) for b, c in pairs if b.read.chart == filled.chart.chart]
    mixes = [(b, c) for b, c in pairs if b.read.chart == filled.mixes.chart]
    return Report(
        title="Estuary studio",
        lead=_lead(filled, scores),
        sections=(
            Section("What was made", (Words(terms=places),), "All of it in one go."),
            Section(
                "The pictures", _pictures(filled), "The first page, photographed and scanned; the mixes."
            ),
            Section("The wall", _walls(studio, filled, charts), WALL_NOTE),
            Section("Read and true", (_plot(charts, filled),), "Every masstone of the chart."),
            Section("How far from the truth", (_scores(scores), Words(_radius_words(scores))), SCORE_NOTE),
            Section("Over the black line", (_hiding(charts),), "Y over the line, divided by Y over paper."),
            Section("Mixes", _mix_walls(studio, mixes, filled), MIX_NOTE),
            Section("In the window", _window(filled.window), WINDOW_NOTE),
            Section("What is invented", (Words(INVENTED),)),
        ),
        foot="Colours are CIELAB, D50, 2 degree observer. ± is a 95 % radius in CIEDE2000.",
    )


WALL_NOTE = (
    "Each box is cut out of its picture and laid flat. Below it what Halfpan read, with its doubt, and how "
    "far that is from the truth (CIEDE2000). The black line marks a reading whose stated doubt does not "
    "reach the truth; beyond sRGB are colours that no such picture can hold."
)
SCORE_NOTE = (
    "ΔE is CIEDE2000 between the masstone read and the true colour at the load the painter aimed at. Median, "
    "nine in ten and what lies inside ± are over the colours that an sRGB picture can hold."
)
MIX_NOTE = "Halfpan planned these from the swatches of one tin; they teach most about all its mixes."
WINDOW_NOTE = (
    "Each stroke is half covered, half in light. Read is the change between its halves since the first day; "
    "true is what the invented light took. Below 1.7 a change can hardly be seen."
)
INVENTED = (
    "Larkspur Mill, Old Quarry and Tidewater do not exist, nor do their paints and prices. The codes are "
    "those of real pigments, but every spectrum is of our own making and fitted to no measurement; painter, "
    "scanner and camera are arithmetic. What is real is the reading: it saw nothing but the pictures."
)


def _lead(filled: Filled, scores: Sequence[Score]) -> str:
    boxes, wrong = sum(s.boxes for s in scores), sum(s.wrong for s in scores)
    assigned = "none was taken for another paint" if not wrong else f"{wrong} were taken for another paint"
    return (
        f"{len(filled.paints)} invented paints from three makers went in. A chart was ruled and printed, "
        "painted by a virtual painter, photographed beside a target by a tilted camera in uneven light, and "
        "scanned. "
        f"{boxes} painted boxes were read from {len(scores)} pictures; {assigned}."
    )


def _pictures(filled: Filled) -> list[Figure]:
    words = {"scan": "scanned", "photo": "photographed by hand, a 24-patch target beside it"}
    first = [b for b in filled.back if b.taken.page.page == 1]
    return [
        Figure(
            _small(back.taken.path),
            alt=f"The painted sheet, {words[back.taken.how]}",
            caption=f"{back.taken.path.name}: {words[back.taken.how]}.",
        )
        for back in first
    ]


def _window(hung: Hung) -> list[Figure | Table]:
    days, last = hung.pictures[-1]
    figure = Figure(
        _small(last),
        alt=f"The sheet of the light test after {days} days",
        caption=f"{last.name}: scanned after {days} days; the right half of each stroke was in light.",
    )
    rows = [
        (
            one.seen.paint.name if one.seen.paint else "",
            one.seen.strip.strength,
            f"{one.seen.now.delta_e_ab:.1f}\u00a0±\u00a0{one.seen.now.within_ab:.1f}",
            f"{one.true_delta_e_ab:.1f}",
            ", ".join(one.seen.ways) or "no sure change",
            one.seen.says.partition(":")[0],
        )
        for one in hung.strips
    ]
    rows += [
        (one.paint.name if one.paint else "", one.strength, "", "", "", f"to review: {', '.join(one.why)}")
        for one in hung.waiting
    ]
    headings = ("paint", "stroke", "ΔE*ab read", "true", "in light", "so it says")
    return [figure, Table(headings, rows, numbers=headings[2:4])]


def _small(path: Path) -> bytes:
    picture = np.asarray(cv2.imdecode(np.frombuffer(path.read_bytes(), np.uint8), cv2.IMREAD_COLOR))
    share = _SHOWN_LONG_SIDE / max(picture.shape)
    small = cv2.resize(picture, None, fx=share, fy=share, interpolation=cv2.INTER_AREA)
    return bytes(cv2.imencode(".webp", small, [cv2.IMWRITE_WEBP_QUALITY, 80])[1].tobytes())


def _walls(
    studio: Studio, filled: Filled, charts: Iterable[tuple[ReadBack, tuple[Compared, ...]]]
) -> list[Wall]:
    found = {one.paint: (back, one) for back, compared in charts for one in compared}
    walls = []
    for family, entries in groupby(filled.paints.items(), key=lambda item: item[1].family):
        tiles, bare = [], []
        for number, entry in entries:
            if number not in found:
                bare.append(entry.paint.name)
                continue
            back, one = found[number]
            tiles.append(
                Tile(
                    _crop(studio, back, one.box),
                    entry.paint.name,
                    (f"{' '.join(entry.paint.codes)} · {entry.paint.maker}", *_said(one)),
                    alt=f"Painted box of {entry.paint.name}, {entry.paint.maker}",
                    doubtful=not one.held,
                )
            )
        note = f"Not painted yet: {', '.join(bare)}." if set(bare) & set(LEFT_BARE) else ""
        walls.append(Wall(family.capitalize(), tiles, note))
    return walls


def _said(one: Compared) -> tuple[str, ...]:
    lightness, redness, yellowness = (f"{round(v)}".replace("-", "−") for v in one.lab)
    said = f"L* {lightness}  a* {redness}  b* {yellowness}", f"± {one.within:.1f}, truth {one.apart:.1f} off"
    return said if one.in_range else (*said, "beyond sRGB")


def _crop(studio: Studio, back: ReadBack, box: str) -> bytes:
    number = next(k.page_read for k in back.read.readings if k.reading.box == box)
    return crop_file(studio, number or 0, box, large=True).read_bytes()


def _plot(charts: Iterable[tuple[ReadBack, tuple[Compared, ...]]], filled: Filled) -> Plot:
    dots = [
        Dot(
            x=one.lab[1],
            y=one.lab[2],
            colour=lab_to_hex(one.lab),
            true=(one.true_lab[1], one.true_lab[2]),
            name=filled.paints[one.paint].paint.name if one.paint else one.box,
        )
        for _, compared in charts
        for one in compared
    ]
    return Plot(dots, "Dots: what was read. Rings: the truth. A line joins the two.")


def _scores(scores: Sequence[Score]) -> Table:
    headings = ("picture", "light settled by", "boxes", "ΔE median", "ΔE of nine in ten", "stated ± median",
                "truth inside ±", "unread", "wrong paint")  # fmt: skip
    rows = [
        (s.name, s.tier, str(s.boxes), f"{s.median:.2f}", f"{s.ninth:.2f}", f"{s.radius:.1f}",
         f"{s.held} of {s.in_range}", str(s.unread), str(s.wrong))
        for s in scores
    ]  # fmt: skip
    return Table(headings, rows, numbers=headings[2:])


def _radius_words(scores: Sequence[Score]) -> str:
    boxes, held = sum(s.in_range for s in scores), sum(s.held for s in scores)
    return (
        f"The truth lies inside the stated radius in {held} of {boxes} readings "
        f"({100 * held / max(boxes, 1):.0f} %). Errors inside one picture go together, "
        "so this is not as many independent trials."
    )


def _hiding(charts: Iterable[tuple[ReadBack, tuple[Compared, ...]]]) -> Table:
    rows = []
    for back, _ in charts:
        swatches = [kept.swatch for kept in back.read.swatches]
        off = [_off(swatch, back) for swatch in swatches]
        far = np.array([v for v in off if v is not None])
        words = [s.transparency for s in swatches if s.transparency]
        counts = ", ".join(f"{words.count(w)} {w}" for w in dict.fromkeys(words))
        rows.append((back.taken.path.name, str(len(far)), _three(far, 0.5), _three(far, 0.9), counts))
    headings = ("picture", "boxes", "median away from the truth", "nine in ten within", "words")
    return Table(headings, rows, numbers=headings[1:4])


def _off(swatch: Swatch, back: ReadBack) -> float | None:
    truth = back.taken.truth.box(swatch.box)
    if swatch.contrast_ratio is None or truth is None or truth.film is None:
        return None
    return abs(swatch.contrast_ratio - truth.contrast_ratio)


def _three(far: np.ndarray, share: float) -> str:
    return f"{np.quantile(far, share):.3f}" if far.size else "–"


def _mix_walls(
    studio: Studio, mixes: Iterable[tuple[ReadBack, tuple[Compared, ...]]], filled: Filled
) -> list[Wall]:
    parts = {box.box: box.mix for page in filled.mixes.pages for box in page.boxes}
    walls = []
    for back, compared in mixes:
        tiles = []
        for one in compared:
            names = [f"{part.parts:g} {filled.paints[part.paint].paint.name}" for part in parts[one.box]]
            tiles.append(
                Tile(
                    _crop(studio, back, one.box),
                    " + ".join(names),
                    ("masstone", *_said(one)),
                    alt=f"Painted mix of {' and '.join(names)}",
                    doubtful=not one.held,
                )
            )
        walls.append(Wall(f"Page {back.taken.page.page}", tiles))
    return walls
