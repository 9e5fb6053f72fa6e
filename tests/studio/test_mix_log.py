"""The log: what was painted is found again by colour and by paint, and teaches the model."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from halfpan.core.colour.difference import delta_e_2000
from halfpan.errors import UnknownPaint, UnreadablePhoto
from halfpan.files.originals import original
from halfpan.studio.learn_mixes import learn_mixes
from halfpan.studio.mix_log import log_mix, logged_mixes
from halfpan.studio.see_mix_photo import mix_photo
from halfpan.studio.studio import Studio

from .mixed_studio import NOW, mixed_studio, with_paints

GREEN = (45.0, -25.0, 20.0)


def test_what_was_used_for_a_green_is_found_by_its_colour(studio: Studio) -> None:
    ids = with_paints(studio)
    log_mix(studio, "3 Straw + 1 Harbour Blue", now=NOW, lab=GREEN, name="hedge")
    log_mix(studio, "2 Rose + 1 Straw", now=NOW, lab=(60.0, 40.0, 30.0))
    log_mix(studio, "1 Rose + 1 Moss", now=NOW)
    found, names = logged_mixes(studio, near=(47.0, -24.0, 22.0))
    assert [one.mix.name for one in found] == ["hedge", ""]
    assert found[0].mix.parts == ((ids["Straw"], 3.0), (ids["Harbour Blue"], 1.0))
    assert found[0].apart == pytest.approx(float(delta_e_2000(GREEN, (47.0, -24.0, 22.0))))
    assert names[ids["Straw"]] == "Straw"


def test_the_log_is_newest_first_and_narrowed_by_paint(studio: Studio) -> None:
    with_paints(studio)
    log_mix(studio, "Rose + Moss", now=NOW)
    log_mix(studio, "Rose + Straw", now=NOW)
    log_mix(studio, "Straw + Moss", now=NOW)
    assert [one.mix.id for one in logged_mixes(studio)[0]] == [3, 2, 1]
    assert [one.mix.id for one in logged_mixes(studio, paint="Rose")[0]] == [2, 1]


def test_a_photo_is_kept_as_it_is(studio: Studio, tmp_path: Path) -> None:
    with_paints(studio)
    Image.new("RGB", (60, 40), (90, 110, 60)).save(tmp_path / "mix.jpg")
    kept = log_mix(studio, "Rose + Moss", now=NOW, photo=tmp_path / "mix.jpg")
    assert kept.photo is not None
    assert original(studio.photos, kept.photo) == (tmp_path / "mix.jpg").read_bytes()
    with Image.open(mix_photo(studio, kept.id)) as seen:
        assert seen.size == (60, 40)
        assert np.abs(np.asarray(seen.convert("RGB")).mean(axis=(0, 1)) - (90, 110, 60)).max() < 4


def test_what_is_no_picture_is_not_kept_with_a_mix(studio: Studio, tmp_path: Path) -> None:
    with_paints(studio)
    (tmp_path / "mix.jpg").write_bytes(b"\xff\xd8 no picture")
    with pytest.raises(UnreadablePhoto, match=r"mix\.jpg"):
        log_mix(studio, "Rose + Moss", now=NOW, photo=tmp_path / "mix.jpg")
    assert logged_mixes(studio)[0] == ()
    kept = log_mix(studio, "Rose + Moss", now=NOW)
    with pytest.raises(UnreadablePhoto, match="No picture"):
        mix_photo(studio, kept.id)


def test_a_logged_colour_teaches_with_its_doubt(studio: Studio) -> None:
    ids = mixed_studio(studio, mixes=False)
    log_mix(studio, "2 Rose + 1 Straw", now=NOW, lab=(60.0, 40.0, 30.0))
    lesson = learn_mixes(studio)
    assert lesson.mixes == 1
    (film,) = [o for o in lesson.learnt.observations if not o.single]
    assert (film.amounts, film.within_delta_e00) == ("full", 5.0)
    assert dict(film.recipe.layers[0])[ids["Rose"]] == 2 * dict(film.recipe.layers[0])[ids["Straw"]]


def test_a_mix_of_an_unknown_paint_leaves_no_trace(studio: Studio) -> None:
    with_paints(studio)
    with pytest.raises(UnknownPaint):
        log_mix(studio, "Rose + Umber", now=NOW, lab=GREEN)
    assert logged_mixes(studio)[0] == ()


def test_a_logged_mix_can_be_taken_back(studio: Studio) -> None:
    mixed_studio(studio, mixes=False)
    log_mix(studio, "Rose + Straw", now=NOW, lab=GREEN)
    with studio.transaction() as db:
        from halfpan.collection import changes

        changes.undo(db, now=NOW)
    assert logged_mixes(studio)[0] == ()
    assert learn_mixes(studio).mixes == 0
