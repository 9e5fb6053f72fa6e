"""Learning from what a studio keeps: accepted readings only, boxes of charts too, kept until they change."""

from __future__ import annotations

from dataclasses import replace

import pytest

from halfpan.collection import readings
from halfpan.collection.readings import KeptReading
from halfpan.core.mixing.observation import BLACK_LINE, PLAIN_PAPER
from halfpan.core.mixing.predict import FULL_STRENGTH
from halfpan.core.paint.reading import Reading
from halfpan.errors import NotLearnt
from halfpan.files.learnt import read_learnt
from halfpan.studio.learn_mixes import KEPT_AS, learn_mixes, learnt_mixes
from halfpan.studio.painted_films import painted_films, usual_paper
from halfpan.studio.studio import Studio

from .mixed_studio import NOW, keep, ladders, measured, mixed_studio, with_paints


def box(paint: str, zone: str, **more: object) -> KeptReading:
    reading = Reading("A1", paint, zone, (40.0, 20.0, -10.0), 1.5, "paper", state="accepted")
    return KeptReading(reading, NOW, chart=None, source="photo", ground=str(more.pop("ground", "paper")))


def test_an_empty_studio_has_nothing_to_learn_from(studio: Studio) -> None:
    with pytest.raises(NotLearnt, match="halfpan readings add"):
        learn_mixes(studio)


def test_ladders_and_mixes_are_counted(studio: Studio) -> None:
    ids = mixed_studio(studio)
    lesson = learn_mixes(studio)
    assert (lesson.swatches, lesson.mixes) == (9, 9)
    assert set(lesson.learnt.paints) == {ids[n] for n in ("Harbour Blue", "Rose", "Straw")}
    assert lesson.without_readings == (ids["Moss"],)
    assert lesson.suspicious == ()


def test_readings_to_review_teach_nothing(studio: Studio) -> None:
    ids = with_paints(studio)
    waiting = [
        replace(one, reading=replace(one.reading, state="to review"))
        for one in measured(ladders(ids), ids, "swatches.csv")
    ]
    keep(studio, waiting)
    with pytest.raises(NotLearnt):
        learn_mixes(studio)


def test_a_swapped_box_is_named_with_its_row(studio: Studio) -> None:
    ids = mixed_studio(studio)
    wash = ((ids["Harbour Blue"], 4.0), (ids["Straw"], 4.0))
    odd = measured([wash], ids, "more.csv")[0]
    keep(studio, [replace(odd, reading=replace(odd.reading, lab=(90.0, 30.0, 60.0)))])
    (found,) = learn_mixes(studio).suspicious
    assert found[0].box == "more.csv row 1"
    assert found[1].layers == (wash,)


def test_what_was_learnt_is_kept_until_readings_change(studio: Studio) -> None:
    ids = mixed_studio(studio)
    with studio.look() as db:
        first = learnt_mixes(studio, db)
        kept = read_learnt(studio.folder / KEPT_AS, first.prior)
        again = learnt_mixes(studio, db)
    assert kept is not None
    assert [g.mark for g in kept.groups] == [g.mark for g in first.groups]
    assert again.coefficients.tolist() == first.coefficients.tolist()
    assert again.paints == first.paints
    assert again.prior == first.prior
    assert [g.members for g in again.groups] == [g.members for g in first.groups]
    keep(studio, measured([((ids["Rose"], 2.0), (ids["Straw"], 1.0))], ids, "one more.csv"))
    with studio.look() as db:
        assert learnt_mixes(studio, db).coefficients.tolist() != first.coefficients.tolist()


def test_a_broken_file_of_numbers_is_learnt_anew(studio: Studio) -> None:
    mixed_studio(studio)
    (studio.folder / KEPT_AS).write_bytes(b"not numbers")
    assert learn_mixes(studio).mixes == 9


def test_boxes_of_a_chart_are_films_of_guessed_strength(studio: Studio) -> None:
    ids = with_paints(studio)
    rose = ids["Rose"]
    keep(studio, [box(rose, "masstone"), box(rose, "tint"), box(rose, "black line", ground="black")])
    with studio.look() as db:
        films, unit = painted_films(db)
    assert unit is None
    by_amounts = [(f.amounts, f.recipe.layers[0][0][1], f.recipe.ground) for f in films]
    assert by_amounts[0] == ("full", FULL_STRENGTH, PLAIN_PAPER)
    assert by_amounts[1][0] == "graded"
    assert by_amounts[1][1] < FULL_STRENGTH / 4
    assert by_amounts[2] == ("full", FULL_STRENGTH, BLACK_LINE)
    assert films[0].wash == films[2].wash != films[1].wash
    assert learn_mixes(studio).unknown_strength[0].reason == "amounts unknown"


def test_the_reading_that_counts_is_the_one_learnt_from(studio: Studio) -> None:
    ids = with_paints(studio)
    keep(studio, [box(ids["Rose"], "masstone"), box(ids["Rose"], "masstone")])
    with studio.look() as db:
        films, _ = painted_films(db)
        assert len(films) == 1
        assert len(readings.listed(db)) == 2


def test_the_usual_paper_is_the_one_most_was_painted_on(studio: Studio) -> None:
    ids = with_paints(studio)
    cream = (90.0, 2.0, 14.0)
    washes = ladders(ids)
    keep(studio, measured(washes[:2], ids, "white.csv"))
    keep(studio, [replace(one, paper_lab=cream) for one in measured(washes[2:], ids, "cream.csv")])
    with studio.look() as db:
        films, _ = painted_films(db)
    assert usual_paper(films) == cream
    assert usual_paper(()) == PLAIN_PAPER


def test_a_disk_that_takes_nothing_more_still_answers(studio: Studio) -> None:
    mixed_studio(studio)
    (studio.folder / KEPT_AS).mkdir()  # stands for a place that cannot be written
    assert learn_mixes(studio).mixes == 9
