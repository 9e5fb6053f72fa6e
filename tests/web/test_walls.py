"""The wall that is kept is the wall as it stands, whoever changed the studio and however."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from halfpan.core.paint.finding import Finding
from halfpan.core.paint.paint import Label, Paint
from halfpan.errors import HalfpanError
from halfpan.studio import review
from halfpan.studio.add_paints import add_paint
from halfpan.studio.arrange_paints import move_paint
from halfpan.studio.correct_paint import correct_paint, remove_paint
from halfpan.studio.keep_finding import keep_finding
from halfpan.studio.list_paints import list_paints
from halfpan.studio.see_wall import WallPaint, see_wall
from halfpan.studio.studio import Studio, open_studio
from halfpan.studio.undo import undo
from halfpan.web.pages.paints import draw_each
from halfpan.web.walls import Walls
from web.conftest import NOW, Painted, page_over

ASKED = ("/paints", "/paints?view=table", "/paints?sort=mine", "/paints?find=blue&sort=newest")


def some_paint(studio: Studio, n: int) -> str:
    everything = list_paints(studio, owned=True)
    return everything[n % len(everything)].id


def add(studio: Studio, n: int) -> None:
    label = Label(transparency="transparent", scales="transparency: words")
    add_paint(studio, Paint("", "Larkspur Mill", "Field", f"Blue {n}", ("PB29",), label), now=NOW)


def rename(studio: Studio, n: int) -> None:
    correct_paint(studio, some_paint(studio, n), now=NOW, name=f"Called {n}", notes="blue, perhaps")


def recode(studio: Studio, n: int) -> None:
    correct_paint(studio, some_paint(studio, n), codes=("PG7", "PR101, PY42", "PW6")[n % 3], now=NOW)


def remove(studio: Studio, n: int) -> None:
    remove_paint(studio, some_paint(studio, n), now=NOW)


def accept(studio: Studio, n: int) -> None:
    review.accept(studio, review.Which(paint=some_paint(studio, n)), now=NOW)


def set_aside(studio: Studio, n: int) -> None:
    review.set_aside(studio, review.Which(paint=some_paint(studio, n)), "a drip", now=NOW)


def see(studio: Studio, n: int) -> None:
    quality, value = (("transparency", "opaque"), ("staining", "staining"), ("flow", "runs"))[n % 3]
    keep_finding(studio, some_paint(studio, n), Finding(quality, value, seen=date(2026, 1, 2)), now=NOW)


def arrange(studio: Studio, n: int) -> None:
    move_paint(studio, see_wall(studio), some_paint(studio, n), some_paint(studio, n + 1), now=NOW)


def take_back(studio: Studio, n: int) -> None:
    undo(studio, None if n % 3 else 1 + n, now=NOW)


DOINGS: tuple[Callable[[Studio, int], None], ...] = (
    add, rename, recode, remove, accept, accept, set_aside, see, see, arrange, take_back, take_back,
)  # fmt: skip


def do(studio: Studio, chance: np.random.Generator) -> str:
    doing, n = DOINGS[int(chance.integers(len(DOINGS)))], int(chance.integers(1, 30))
    try:
        doing(studio, n)
    except HalfpanError:
        return f"{doing.__name__} was refused"
    return doing.__name__


def matter(text: str) -> str:
    """Return a page without its tokens, which differ from visit to visit."""
    return re.sub(r'(name="token" value=|data-token=)"[^"]*"', "", text)


@pytest.fixture
def studio(painted: Painted, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.delenv("HALFPAN_DATABASE", raising=False)
    opened = open_studio(painted.folder)
    yield opened
    opened.close()


def afresh(folder: Path) -> tuple[WallPaint, ...]:
    opened = open_studio(folder)
    try:
        return see_wall(opened)
    finally:
        opened.close()


@pytest.mark.parametrize("seed", range(3))
def test_the_kept_wall_is_the_wall_seen_afresh_after_any_change(studio: Studio, seed: int) -> None:
    chance, walls = np.random.default_rng(seed), Walls()
    other = open_studio(studio.folder)
    done = [do(other if chance.integers(2) else studio, chance) for _ in range(1)]
    for _ in range(25):
        done.append(do(other if chance.integers(2) else studio, chance))
        assert walls.see(studio) == afresh(studio.folder), done
    other.close()


def test_the_pages_drawn_from_what_was_kept_are_the_pages_drawn_afresh(
    painted: Painted, studio: Studio
) -> None:
    chance = np.random.default_rng(9)
    with page_over(painted.folder) as kept:
        for _ in range(8):
            done = do(studio, chance)
            with page_over(painted.folder) as new:
                for address in ASKED:
                    assert matter(kept.get(address).text) == matter(new.get(address).text), (done, address)


def test_only_the_box_of_the_paint_that_changed_is_drawn_again(studio: Studio) -> None:
    walls, drawn = Walls(), []

    def draw(one: WallPaint) -> str:
        drawn.append(one.paint.id)
        return one.paint.name

    wall = walls.see(studio)
    walls.each("wall", wall, draw)
    assert len(drawn) == len(wall)
    drawn.clear()
    rename(studio, 2)
    changed = some_paint(studio, 2)
    assert changed in {one.paint.id for one in walls.see(studio)}
    boxes = walls.each("wall", walls.see(studio), draw)
    assert drawn == [changed]
    assert boxes[changed] == "Called 2"


def test_what_was_drawn_of_a_wall_that_is_gone_is_not_kept(studio: Studio) -> None:
    walls = Walls()
    old = walls.see(studio)
    rename(studio, 2)
    new = walls.see(studio)
    assert walls.drawn(old, "all", lambda: "old") == "old"
    assert walls.drawn(new, "all", lambda: "new") == "new"
    assert walls.drawn(new, "all", lambda: "newer") == "new"


def test_grain_too_faint_for_its_photo_stands_in_the_table_as_a_limit(studio: Studio) -> None:
    shown = next(one for one in see_wall(studio) if one.box is not None)
    faint = replace(shown.box.swatch, granulation=None, granulation_within=None, granulation_up_to=0.019)
    limited = replace(shown, box=replace(shown.box, swatch=faint))
    (drawn,) = draw_each(Walls(), "table", [limited]).values()
    assert '<td class="num">≤ 0.019</td>' in drawn
