"""How well painted pages are read: the virtual painter before four virtual cameras, truth known.

Prints a markdown table and writes it to ``out/reading.md``. Three seeds a row by default; the figures of
docs/science/reading.md are those of ``--seeds 20``.
"""

from __future__ import annotations

import argparse
import pickle
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path

import cv2
import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent))

from halfpan.core.colour.difference import delta_e_2000
from halfpan.core.colour.screen import outside_srgb
from halfpan.core.colour.spaces import lab_to_xyz
from halfpan.core.measuring.flatten import to_picture
from halfpan.core.measuring.hiding import WORDS, hiding
from halfpan.core.measuring.locate import locate
from halfpan.core.measuring.page import measure_page, see_page
from halfpan.core.measuring.photo import light_and_ends
from halfpan.core.measuring.strength import MID, TINT, state_on_path
from halfpan.core.measuring.target import find_target, read_target
from halfpan.demo.truth import Truth
from halfpan.errors import HalfpanError
from halfpan.files.photo.picture import open_pictures
from halfpan.files.target_colours import published_target
from virtual.pictures import Taken, take
from virtual.plain_reader import read_plainly

OUT = Path(__file__).resolve().parent / "out"
ROWS = {
    "scan, paper only": ("scan", "paper"),
    "photo, paper only": ("photo", "paper"),
    "photo with a target": ("photo", "target"),
    "photo, eight known paints": ("photo", "known"),
    "hard photo with a target": ("hard", "target"),
}
IN_MIXED_LIGHT = {("phone", "photo with a target")}
"""Where the picture is another than for the other rows: who takes a target along has two kinds of lamp."""
CAMERAS = {
    "even": "simple, towards grey",
    "simple": "simple, leaking",
    "vivid": "simple, either way",
    "phone": "phone-like",
}
KNOWN = 8
WRONG_MM = 4.0


@dataclass
class Row:
    """Everything scored in one row; one entry a masstone inside the screen's range."""

    taken: int = 0
    refused: list = field(default_factory=list)
    painted: int = 0
    unread: int = 0
    wrong: int = 0
    found_target: int = 0
    entries: list = field(default_factory=list)
    plain: list = field(default_factory=list)
    contrast: list = field(default_factory=list)
    seconds: list = field(default_factory=list)
    thinner: list = field(default_factory=list)
    flagged: list = field(default_factory=list)
    words: list = field(default_factory=list)


def patches_in(photo, taken: Taken, row: Row):
    """Find the target by itself; else by its corners, as a person would give them."""
    found = find_target(photo, published_target())
    middles = taken.shot.target_places
    if found is not None:
        near = np.linalg.norm(found.patches.places[:, None] - middles[None], axis=-1).min(1)
        if near.max() < 0.5 * np.linalg.norm(middles[1] - middles[0]):
            row.found_target += 1
            return found.patches
    right, down = (middles[5] - middles[0]) / 5, (middles[18] - middles[0]) / 3
    ends = [(0, -1, -1), (5, 1, -1), (23, 1, 1), (18, -1, 1)]
    corners = np.array([middles[k] + 0.43 * (a * right + b * down) for k, a, b in ends])
    return read_target(photo, corners, published_target()).patches


def known_paints(sheet_read, truth: Truth, rng) -> dict:
    """Eight boxes well spread over what was seen, their colours known to an instrument's 0.3."""
    seen = {r.box: np.array(r.lab) for r in sheet_read.readings if r.zone == "masstone" and not r.flags}
    chosen = [max(seen, key=lambda b: seen[b][1] ** 2 + seen[b][2] ** 2)]
    while len(chosen) < min(KNOWN, len(seen)):
        rest = [b for b in seen if b not in chosen]
        chosen.append(max(rest, key=lambda b: min(np.linalg.norm(seen[b] - seen[c]) for c in chosen)))
    return {b: tuple(truth.zone(b, "masstone").lab + rng.normal(0, 0.3, 3)) for b in chosen}


def held_boxes(photo, taken: Taken) -> set:
    """Painted boxes whose true colour sRGB can show, and which this file did not cut off at an end."""
    held = set()
    for box in taken.truth.boxes:
        zone = taken.truth.zone(box.box, "masstone")
        if box.film is None or float(outside_srgb(zone.lab)) > 0:
            continue
        rect = next(b for b in taken.page.boxes if b.box == box.box).zone("masstone").rect
        x, y = np.meshgrid(np.linspace(rect.x, rect.right, 30), np.linspace(rect.y, rect.bottom, 15))
        places = taken.shot.view.place(np.stack([x.ravel(), y.ravel()], axis=-1))
        _, high, low = light_and_ends(photo, places)
        if max(high.mean(0).max(), low.mean(0).max()) < 0.3:
            held.add(box.box)
    return held


def misplaced(photo, taken: Taken, located, boxes: set) -> int:
    """How many boxes were looked at somewhere else than where they lie."""
    seen = see_page(photo, taken.page, located=located, sheet=taken.sheet)
    rects = [b.zone("masstone").rect for b in taken.page.boxes if b.box in boxes]
    middles = np.array([(r.x + r.width / 2, r.y + r.height / 2) for r in rects]).reshape(-1, 2)
    off = np.linalg.norm(to_picture(seen.flattening, middles) - taken.shot.view.place(middles), axis=1)
    return int((off / seen.flattening.pixels_per_mm > WRONG_MM).sum())


def thinner(read, taken: Taken, box: str) -> dict:
    """Misses of mid and tint against the same states on the true graded stroke."""
    true = taken.truth.box(box)
    path = true.graded_lab[np.argsort(-true.graded_loads)]
    masstone = taken.truth.zone(box, "masstone").lab
    misses = {}
    for name, left in (("mid", MID), ("tint", TINT)):
        state = state_on_path(path, masstone, taken.truth.paper_lab, left)
        seen = next((r for r in read.readings if r.box == box and r.zone == name), None)
        if state is not None and seen is not None:
            misses[name] = (float(delta_e_2000(np.array(seen.lab), state)), seen.within_delta_e00)
    return misses


def hiding_words(swatch, truth: Truth, box: str) -> tuple:
    """Return the word a box was given, and that of the true light over paper and line, free of doubt."""
    over = [float(lab_to_xyz(truth.zone(box, zone).lab)[1]) for zone in ("masstone", "black line")]
    grounds = [float(lab_to_xyz(lab)[1]) for lab in (truth.paper_lab, truth.black_lab)]
    return swatch.transparency, hiding(*over, *grounds, doubt=(1e-6, 1e-6)).word


def score(taken: Taken, tier: str, row: Row, paper=None) -> None:
    row.taken += 1
    start = time.process_time()
    photo = open_pictures(taken.shot.file, taken.name)[0].photo
    inside = held_boxes(photo, taken)
    row.painted += len(inside)
    known = {}
    try:
        located = locate(photo)
        reference = None
        if tier == "target":
            reference = patches_in(photo, taken, row)
        elif tier == "known":
            first = measure_page(photo, taken.page, located=located, sheet=taken.sheet)
            reference = known = known_paints(first, taken.truth, np.random.default_rng(row.taken))
        read = measure_page(
            photo, taken.page, reference=reference, paper=paper, located=located, sheet=taken.sheet
        )
    except HalfpanError as refusal:
        row.refused.append(f"{taken.name}: {refusal}")
        return
    finally:
        row.seconds.append(time.process_time() - start)
    for reading in read.readings:
        box = taken.truth.box(reading.box)
        if reading.zone == "masstone" and box is not None and box.film is not None:
            lab = taken.truth.zone(reading.box, "masstone").lab
            row.flagged.append((taken.name, float(delta_e_2000(np.array(reading.lab), lab)), reading.flags))
    masstones = {r.box: r for r in read.readings if r.zone == "masstone"}
    row.unread += len(inside - set(masstones))
    row.wrong += misplaced(photo, taken, located, set(masstones))
    swatches = {s.box: s for s in read.swatches}
    for box in inside & set(masstones) - set(known):
        reading, zone = masstones[box], taken.truth.zone(box, "masstone")
        miss = float(delta_e_2000(np.array(reading.lab), zone.lab))
        area = float(delta_e_2000(np.array(reading.lab), zone.area_lab))
        row.entries.append(
            (miss, area, reading.within_delta_e00, reading.flags, taken.name, box, reading.spread)
        )
        row.thinner.append(thinner(read, taken, box))
        true = taken.truth.box(box).contrast_ratio
        row.words.append(hiding_words(swatches[box], taken.truth, box))
        if swatches[box].contrast_ratio is not None:
            row.contrast.append(
                (abs(swatches[box].contrast_ratio - true), swatches[box].contrast_ratio_within)
            )
    try:
        plain = read_plainly(photo, taken.page)
    except (HalfpanError, KeyError):
        return
    row.plain += [
        float(delta_e_2000(plain[b], taken.truth.zone(b, "masstone").lab)) for b in inside - set(known)
    ]


def pair(values) -> str:
    values = np.array(list(values) or [np.nan])
    return f"{np.median(values):.2f} / {np.quantile(values, 0.9):.2f}"


def line(name: str, row: Row) -> str:
    if not row.entries:
        return f"| {name} | nothing read; {len(row.refused)} of {row.taken} refused |"
    miss, area, radius = (np.array([e[k] for e in row.entries]) for k in range(3))
    contrast = np.array(row.contrast or [(np.nan, np.nan)])
    cells = [
        name,
        pair(miss),
        pair(area),
        pair(row.plain),
        f"{np.median(radius):.1f}",
        f"{100 * np.mean(miss <= radius):.0f} %",
        f"{100 * np.mean(area <= radius):.0f} %",
        pair(t["mid"][0] for t in row.thinner if "mid" in t),
        pair(t["tint"][0] for t in row.thinner if "tint" in t),
        f"{len(row.refused)} of {row.taken}",
        f"{100 * row.unread / max(row.painted, 1):.1f} %",
        f"{row.wrong}",
        f"{np.median(contrast[:, 0]):.3f} / {np.quantile(contrast[:, 0], 0.9):.3f}",
        f"{100 * np.mean(contrast[:, 0] <= contrast[:, 1]):.0f} %",
        f"{np.median(row.seconds):.2f}",
        f"{len(miss)}",
    ]
    return "| " + " | ".join(cells) + " |"


COLUMNS = (
    "row", "dE00 to nominal load, median / p90", "to area mean", "plain reader", "median radius", "covered",
    "covered (area)", "mid", "tint", "photos refused", "boxes unread", "wrong box",
    "contrast ratio, median / p90 miss", "covered", "s a photo", "boxes",
)  # fmt: skip
HEAD = "| " + " | ".join(COLUMNS) + " |\n|" + "---|" * len(COLUMNS)


def flag_table(rows: list) -> str:
    """How often each flag fired, how often rightly, and how much of the worst twentieth it caught.

    A miss is relative to the median of its own photograph; the worst twentieth is over all boxes.
    """
    entries = []
    for row in rows:
        for name in {e[0] for e in row.flagged}:
            usual = np.median([e[1] for e in row.flagged if e[0] == name])
            entries += [(e[1] / usual, e[2]) for e in row.flagged if e[0] == name]
    if not entries:
        return ""
    worst = np.quantile([e[0] for e in entries], 0.95)
    lines = [
        "| flag | fired | of them in the worst 5 % | of the worst 5 % caught | median miss, flagged / rest |"
    ]
    lines.append("|---|---|---|---|---|")
    for flag in sorted({f for _, flags in entries for f in flags}):
        on = np.array([e[0] for e in entries if flag in e[1]])
        off = np.array([e[0] for e in entries if flag not in e[1]])
        bad = sum(e[0] > worst for e in entries)
        lines.append(
            f"| {flag} | {100 * len(on) / len(entries):.1f} % | {100 * np.mean(on > worst):.0f} % | "
            f"{100 * (on > worst).sum() / bad:.0f} % | {np.median(on):.1f} / {np.median(off):.1f} |"
        )
    return "\n".join(lines)


def word_table(rows: dict) -> str:
    """How often the word for hiding is the true one, and how many targets were found without help."""
    lines = ["| row | targets found by itself | word as true | next to it | further off | cannot tell |"]
    lines.append("|---|---|---|---|---|---|")
    for name, row in rows.items():
        told = [(WORDS.index(a), WORDS.index(b)) for a, b in row.words if a is not None and b is not None]
        off = np.array([abs(a - b) for a, b in told] or [np.nan])
        untold = np.mean([a is None for a, _ in row.words] or [np.nan])
        found = f"{row.found_target} of {row.taken}" if "target" in name else ""
        shares = [off == 0, off == 1, off > 1]
        cells = [f"{100 * share.mean():.0f} %" for share in shares]
        lines.append(f"| {name} | {found} | {' | '.join(cells)} | {100 * untold:.0f} % |")
    return "\n".join(lines)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seeds", type=int, default=3)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--camera", choices=[*CAMERAS, "all"], default="all")
    parser.add_argument("--row", choices=[*ROWS, "all"], default="all")
    parser.add_argument("--name", default="reading", help="of the files written to out/")
    parser.add_argument("--only-take", action="store_true", help="take the pictures and read nothing")
    parser.add_argument("--worst", type=int, default=0, help="list the worst readings of each row")
    given = parser.parse_args()
    cv2.setNumThreads(1)
    cameras = list(CAMERAS) if given.camera == "all" else [given.camera]
    lines, kept = [HEAD], {}
    print(HEAD)
    for camera in cameras:
        for name, (situation, tier) in ROWS.items():
            if given.row not in {name, "all"}:
                continue
            lit = "mixed" if (camera, name) in IN_MIXED_LIGHT else situation
            row = Row()
            for seed in range(given.first, given.first + given.seeds):
                taken = take(lit, camera, seed)
                if not given.only_take:
                    score(taken, tier, row)
            full = f"{CAMERAS[camera]}: {name}"
            kept[full] = row
            lines.append(line(full, row))
            print(lines[-1], flush=True)
            for refusal in row.refused:
                print("   ", refusal)
            for e in sorted(row.entries, key=lambda e: -e[0])[: given.worst]:
                print(f"    {e[4]} box {e[5]}: {e[0]:.2f} (area {e[1]:.2f}, within {e[2]:.1f}) {e[3]}")
    table = flag_table([row for name, row in kept.items() if "target" in name or "scan" in name])
    lines += ["", table, "", word_table(kept)]
    print("\n" + table + "\n\n" + lines[-1])
    OUT.mkdir(exist_ok=True)
    (OUT / f"{given.name}.md").write_text("\n".join(lines) + "\n", encoding="utf-8")
    (OUT / f"{given.name}.pickle").write_bytes(pickle.dumps(kept))


if __name__ == "__main__":
    main()
