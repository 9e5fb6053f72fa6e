"""Scans of real painted washes: their texture at many resolutions, and set into the boxes of a printed chart.

Run from the project's root; needs the scanned washes in ../shared/data/washes. Their true scale is unknown:
they are taken as scanned at 300 dots an inch.
"""

from __future__ import annotations

import argparse
from pathlib import Path

import cv2
import numpy as np

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.screen import encode_srgb, linear_srgb_to_xyz
from halfpan.core.colour.spaces import xyz_to_lab
from halfpan.core.measuring.locate import locate
from halfpan.core.measuring.page import measure_page
from halfpan.core.measuring.texture import texture_of
from halfpan.files.photo import load_photo, open_pictures

WASHES = Path(__file__).resolve().parents[2] / "shared" / "data" / "washes"
NEARLY_BARE = "beige_white_02"
DPI = 300
FIRST = 11
HOW = ("scan", "photo", "phone", "half")
"""Pictures of each sheet: scanned, by a simple and a phone-like camera, scanned at half of the resolution."""


def wash_light(path: Path) -> np.ndarray:
    """Return the linear light of one wash, shape (rows, cols, 3)."""
    photo = load_photo(path)
    return np.stack([photo.decode[photo.pixels[..., c], c] for c in range(3)], axis=-1).astype(float)


def at_resolution(light: np.ndarray, dpi: float, own_dpi: float) -> np.ndarray:
    """Return a wash as a coarser scan would hold it."""
    if dpi == own_dpi:
        return light
    return cv2.resize(light, None, fx=dpi / own_dpi, fy=dpi / own_dpi, interpolation=cv2.INTER_AREA)


def as_phone(light: np.ndarray, own_dpi: float, rng: np.random.Generator) -> tuple[np.ndarray, float]:
    """Return a wash as a phone would hold it: 8 pixels a mm, a little blur, noise, JPEG 85."""
    small = at_resolution(light, 8 * 25.4, own_dpi)
    small = cv2.GaussianBlur(small, (0, 0), 0.7) + rng.normal(0, 0.006, small.shape)
    pixels = np.rint(encode_srgb(np.clip(small, 0, 1)) * 255).astype(np.uint8)
    data = cv2.imencode(".jpg", pixels[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, 85])[1].tobytes()
    (picture,) = open_pictures(data, "wash.jpg")
    photo = picture.photo
    return np.stack([photo.decode[photo.pixels[..., c], c] for c in range(3)], axis=-1).astype(float), 8.0


def texture_table() -> list[tuple[str, list[float], float, float]]:
    """Granulation of each wash at 600, 300, 200 and 150 dots an inch and by phone; unevenness."""
    rows = []
    for path in sorted(WASHES.glob("*.jpg")):
        light = wash_light(path)
        by_dpi = [
            float(texture_of(at_resolution(light, dpi, 600), dpi / 25.4).granulation or 0)
            for dpi in (600, 300, 200, 150)
        ]
        phone, scale = as_phone(light, 600, np.random.default_rng(7))
        rows.append(
            (
                path.stem,
                by_dpi,
                float(texture_of(phone, scale).granulation or 0),
                float(texture_of(light, 600 / 25.4).unevenness or 0),
            )
        )
    return sorted(rows, key=lambda row: row[1][0])


def halved(file: bytes) -> bytes:
    """Return a scan as a scanner would hand it over at half of the resolution."""
    pixels = cv2.imdecode(np.frombuffer(file, np.uint8), cv2.IMREAD_COLOR)
    small = cv2.resize(pixels, None, fx=0.5, fy=0.5, interpolation=cv2.INTER_AREA)
    return cv2.imencode(".jpg", small, [cv2.IMWRITE_JPEG_QUALITY, 92])[1].tobytes()


def in_boxes(seed: int = 11) -> list[tuple[str, str, float, float, float, bool, float]]:
    """Washes laid into a printed chart, scanned and photographed; one row a box and picture.

    Returns
    -------
    (how, wash, distance of the masstone to the mean of the wash under its zone, radius, granulation, whether
    no other wash is nearer, stated half width of the granulation, its upper limit where it has no figure)
    """
    from halfpan.demo.camera import photograph, simple_camera, simple_setting
    from halfpan.demo.painter import paint_sheet, paper_of
    from halfpan.demo.phone import phone_camera, phone_setting
    from halfpan.demo.printed import rule_studio_chart
    from halfpan.demo.scanner import scan
    from halfpan.demo.studio_paints import studio_paints
    from halfpan.files.pdf import chart_pdf, page_picture
    from halfpan.files.target_colours import published_target

    paths = [p for p in sorted(WASHES.glob("*.jpg")) if p.stem != NEARLY_BARE]
    ruled = rule_studio_chart(list(studio_paints())[: len(paths)])
    page = ruled.chart.pages[0]
    boxes = [box for box in page.boxes if box.paint][: len(paths)]
    ppm = DPI / 25.4
    laid, truth = {}, {}
    for box, path in zip(boxes, paths, strict=False):
        light = wash_light(path)
        stroke = box.strokes[0].rect
        rows, cols = round(stroke.height * ppm) + 1, round(stroke.width * ppm) + 1
        piece = light[400 : 400 + rows, 300 : 300 + cols]
        laid[box.box] = piece
        zone = box.zone("masstone").rect
        top, left = round((zone.y - stroke.y) * ppm), round((zone.x - stroke.x) * ppm)
        under = piece[top : top + round(zone.height * ppm), left : left + round(zone.width * ppm)]
        truth[box.box] = xyz_to_lab(linear_srgb_to_xyz(under.reshape(-1, 3).mean(0)))
    rng = np.random.default_rng(seed)
    painted, _ = paint_sheet(
        ruled.chart,
        page,
        page_picture(chart_pdf(ruled), 1, DPI),
        {},
        rng=rng,
        dpi=DPI,
        paper=paper_of(),
        wash_pictures=laid,
    )
    target = published_target()
    shots = {
        "scan": scan(painted, rng=rng).file,
        "photo": photograph(
            painted, rng=rng, camera=simple_camera(rng), setting=simple_setting(rng), target=target
        ).file,
        "phone": photograph(
            painted, rng=rng, camera=phone_camera(rng), setting=phone_setting(rng), target=target
        ).file,
    }
    shots["half"] = halved(shots["scan"])
    names = {box.box: path.stem for box, path in zip(boxes, paths, strict=False)}
    rows_out = []
    for how, shot in shots.items():
        (picture,) = open_pictures(shot, how)
        reference = None
        if how in {"photo", "phone"}:
            from halfpan.core.measuring.target import find_target

            found = find_target(picture.photo, target)
            reference = found.patches if found is not None else None
        sheet = (ruled.chart.sheet.width_mm, ruled.chart.sheet.height_mm)
        located = locate(picture.photo, code=False)
        read = measure_page(picture.photo, page, reference=reference, located=located, sheet=sheet)
        grain = {s.box: (s.granulation, s.granulation_within, s.granulation_up_to) for s in read.swatches}
        by_box = {r.box: r for r in read.readings if r.zone == "masstone"}
        for box in boxes:
            if box.box not in by_box or box.box not in truth:
                continue
            reading = by_box[box.box]
            value, within, limit = (np.nan if v is None else v for v in grain.get(box.box, [None] * 3))
            away = {b: float(delta_e_2000(np.array(reading.lab), lab)) for b, lab in truth.items()}
            rows_out.append(
                (
                    how,
                    names[box.box],
                    away[box.box],
                    reading.within_delta_e00,
                    float(value),
                    min(away, key=away.get) == box.box,
                    float(within),
                    float(limit),
                )
            )
    return rows_out


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sheets", type=int, default=3, help="sheets that the washes are laid into")
    parser.add_argument("--first", type=int, default=FIRST, help="seed of the first of them")
    given = parser.parse_args()
    if not WASHES.is_dir():
        print("the scanned washes in ../shared/data/washes are absent: nothing to do")
        return
    cv2.setNumThreads(1)
    print("| wash | granulation at 600 dpi | 300 | 200 | 150 | phone | phone / 600 | unevenness |")
    print("|---|---|---|---|---|---|---|---|")
    for name, dpi, phone, uneven in texture_table():
        shown = " | ".join(f"{v:.4f}" for v in dpi)
        print(f"| {name} | {shown} | {phone:.4f} | {phone / dpi[0]:.2f} | {uneven:.3f} |")
    rows = [(seed, *row) for seed in range(given.first, given.first + given.sheets) for row in in_boxes(seed)]
    print("\n| picture | boxes read | median dE00 | p90 | worst | inside radius | no other wash nearer |")
    print("|---|---|---|---|---|---|---|")
    for how in HOW:
        chosen = [r for r in rows if r[1] == how]
        miss = np.array([r[3] for r in chosen])
        inside = np.mean([r[3] <= r[4] for r in chosen])
        print(
            f"| {how} | {len(chosen)} | {np.median(miss):.2f} | {np.quantile(miss, 0.9):.2f} "
            f"| {miss.max():.2f} | {100 * inside:.0f} % | {sum(r[6] for r in chosen)} |"
        )
    grain = {(seed, how, name): g for seed, how, name, _, _, g, *_ in rows}
    print("\n| wash in its box | granulation by scan, median | photo / scan | phone / scan | half / scan |")
    print("|---|---|---|---|---|")
    for name in dict.fromkeys(r[2] for r in rows):
        scans = [g for (_, how, n), g in grain.items() if (how, n) == ("scan", name)]
        shown = [f"{np.median(scans):.4f}", *(spread_of(grain, how, name) for how in HOW[1:])]
        print(f"| {name} | {' | '.join(shown)} |")
    print(
        "\n| picture | boxes | with a figure | against the scan's | within 15 % | within 10 % "
        "| inside the half width | half width | limits that hold |"
    )
    print("|---|---|---|---|---|---|---|---|---|")
    for how in HOW[1:]:
        print(line_of([(grain[r[0], "scan", r[2]], *r[5:]) for r in rows if r[1] == how], how))


def line_of(boxes: list, how: str) -> str:
    """Say how many boxes have a figure and how near it lies to the scan's, and how many limits hold.

    Each box is the scan's granulation, the granulation, whether no other wash is nearer, half width, limit.
    """
    scans, values, _, widths, limits = np.array(boxes, dtype=float).T
    told = np.isfinite(values)
    off, width = (values / scans - 1)[told], (widths / scans)[told]
    held = f"{np.sum(limits >= scans)} of {np.sum(~told)}" if not told.all() else ""
    return (
        f"| {how} | {len(boxes)} | {told.sum()} | {100 * off.min():+.0f} to {100 * off.max():+.0f} % "
        f"| {np.sum(np.abs(off) <= 0.15)} | {np.sum(np.abs(off) <= 0.10)} | {np.sum(np.abs(off) <= width)} "
        f"| {np.median(widths[told] / values[told]):.2f} | {held} |"
    )


def spread_of(grain: dict, how: str, name: str) -> str:
    """Least and greatest granulation of one wash by one camera, over the scan's."""
    ratios = [g / grain[seed, "scan", n] for (seed, h, n), g in grain.items() if (h, n) == (how, name)]
    told = [ratio for ratio in ratios if np.isfinite(ratio)]
    return f"{min(told):.2f} to {max(told):.2f}" if told else ""


if __name__ == "__main__":
    main()
