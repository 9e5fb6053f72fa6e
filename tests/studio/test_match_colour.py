"""Matching from a studio: proof first, then predictions with what the witnesses say of their paints."""

from __future__ import annotations

from dataclasses import replace

import pytest

from halfpan.core.colour.screen import lab_to_hex
from halfpan.errors import BadRequest, NotLearnt
from halfpan.studio.match_colour import colour_in_words, find_match, identify_mixed, reach_of
from halfpan.studio.studio import Studio

from .mixed_studio import keep, measured, mixed_studio, truly


def test_a_colour_is_written_as_lab_or_as_a_screen_colour() -> None:
    assert colour_in_words("45, -20, 30") == (45.0, -20.0, 30.0)
    assert lab_to_hex(colour_in_words("#3a7f5c")) == "#3a7f5c"
    for odd in ("blue", "45,-20", "145,0,0", "45,0,900"):
        with pytest.raises(BadRequest):
            colour_in_words(odd)


def test_a_painted_box_comes_first_as_proof(studio: Studio) -> None:
    ids = mixed_studio(studio)
    wash = ((ids["Rose"], 2.0), (ids["Straw"], 4.0))
    answer = find_match(studio, truly([wash], ids)[0])
    assert answer.painted[0].observation.recipe.layers == (wash,)
    assert answer.painted[0].apart == pytest.approx(0, abs=1e-6)
    assert answer.reached
    assert answer.left_out == (ids["Moss"],)


def test_the_weakest_paint_in_light_speaks_for_the_mix(studio: Studio) -> None:
    ids = mixed_studio(studio)
    answer = find_match(studio, (50.0, 10.0, 10.0))
    assert len(answer.light) == len(answer.matches)
    assert all(set(told) == {"label", "literature", "proof"} for told in answer.light)
    assert all(told["label"] is None for told in answer.light)  # these labels print nothing
    assert all(answer.paints[p].id == p for match in answer.matches for p, _ in match.parts)
    assert ids["Moss"] not in {p for match in answer.matches for p, _ in match.parts}


def test_only_the_paints_named_are_used(studio: Studio) -> None:
    ids = mixed_studio(studio)
    answer = find_match(studio, (50.0, 10.0, 10.0), among="Rose, Straw", most=2)
    assert {p for match in answer.matches for p, _ in match.parts} <= {ids["Rose"], ids["Straw"]}


def test_too_many_paints_and_unread_paints_are_refused(studio: Studio) -> None:
    mixed_studio(studio)
    with pytest.raises(BadRequest):
        find_match(studio, (50.0, 0.0, 0.0), most=5)
    with pytest.raises(NotLearnt):
        find_match(studio, (50.0, 0.0, 0.0), among="Moss")


def test_two_paints_show_what_they_can_give(studio: Studio) -> None:
    ids = mixed_studio(studio)
    reach, names = reach_of(studio, "Rose", "Straw")
    assert (reach.first, names[reach.second]) == (ids["Rose"], "Straw")
    with pytest.raises(BadRequest):
        reach_of(studio, "Rose", "rose")


def test_a_mixed_paint_is_explained_by_single_ones(studio: Studio) -> None:
    ids = mixed_studio(studio)
    mixed = [((ids["Harbour Blue"], 2.0 * k), (ids["Straw"], 1.0 * k)) for k in (3.0, 1.0, 0.4)]
    read = measured(mixed, ids, "moss.csv")
    told = [(((ids["Moss"], k),), one.reading.lab) for k, one in zip((9.0, 3.0, 1.2), read, strict=True)]
    keep(studio, [
        replace(one, amounts=wash, reading=replace(one.reading, paint=ids["Moss"]))
        for one, (wash, _) in zip(read, told, strict=True)
    ])  # fmt: skip
    found, names = identify_mixed(studio, "Moss")
    assert found[0].apart < 2.0
    assert {names[p] for p, _ in found[0].parts} >= {"Harbour Blue", "Straw"}


def test_a_paint_nothing_was_read_of_cannot_be_explained(studio: Studio) -> None:
    mixed_studio(studio)
    with pytest.raises(NotLearnt, match="Moss"):
        identify_mixed(studio, "Moss")
