"""Choosing, gaps, greys, mixing it yourself and lists, asked of one studio of invented paints."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest

from halfpan.core.arranging.demands import Demands
from halfpan.errors import BadRequest, NotLearnt
from halfpan.studio.choose_paints import choose_paints, demanded_ids
from halfpan.studio.class_list import children_list, class_list
from halfpan.studio.draw_tin import draw_reach, draw_ring, draw_tin
from halfpan.studio.find_greys import find_greys
from halfpan.studio.lay_tin import fill_tin, new_tin
from halfpan.studio.mix_yourself import mix_yourself
from halfpan.studio.reach_table import KEPT_AS, reaching
from halfpan.studio.see_gaps import see_gaps
from halfpan.studio.studio import open_studio

from .film_studio import NOW, chosen, fill
from .mixed_studio import mixed_studio


@pytest.fixture(scope="module")
def filled(tmp_path_factory):
    """Twelve painted paints, one that was not read, two wishes: one read off a dab, one not."""
    studio = open_studio(tmp_path_factory.mktemp("filled"))
    some = chosen(5)
    mixed = [one for one in some if len(one.paint.codes) > 1]
    singles = [one for one in some if len(one.paint.codes) == 1]
    owned = fill(studio, singles[:11], unread=[singles[10].paint.name])
    wished = fill(studio, [singles[11], *(mixed or [])][:2], unread=[], owned=False)
    yield studio, owned, wished
    studio.close()


def names(answer, ids):
    return {answer.paints[one].name for one in ids}


def test_a_choice_is_the_best_of_all_sets_of_that_size(filled):
    studio, _, _ = filled
    answer = choose_paints(studio, 3)
    with studio.look() as db:
        known = reaching(studio, db)
    best = max(known.table.count(some) for some in combinations(known.owned(), 3))
    assert answer.sets[0].choice.cells == best
    assert answer.sets[0].share_of_owned == pytest.approx(best / known.table.count(known.owned()))


def test_what_was_not_read_is_left_out_and_named(filled):
    studio, owned, _ = filled
    answer = choose_paints(studio, 4)
    assert len(answer.left_out) == 1
    unread = owned[next(iter(names(answer, answer.left_out)))]
    assert all(unread.id not in one.paints for one in answer.sets)
    with pytest.raises(BadRequest, match=f"Nothing was read of {unread.name}"):
        choose_paints(studio, 4, Demands(must=frozenset({unread.id})))


def test_the_answer_says_what_is_lost_and_what_to_add(filled):
    studio, _, _ = filled
    (first, *_) = choose_paints(studio, 3).sets
    assert first.lost
    assert first.lost_cells > 0
    again = choose_paints(studio, 4, Demands(must=frozenset({*first.paints, first.add_next[0]})))
    assert again.sets[0].choice.cells == first.choice.cells + first.add_next[1]


def test_wishes_come_in_only_when_asked(filled):
    studio, _, wished = filled
    everyone = {one.id for one in wished.values()}
    for one in choose_paints(studio, 6).sets:
        assert not everyone & set(one.paints)
    must = demanded_ids(studio, [next(iter(wished))])
    assert must <= set(choose_paints(studio, 3, Demands(must=must), wished=True).sets[0].paints)


def test_the_same_question_has_the_same_answer_and_the_table_is_kept(filled):
    studio, _, _ = filled
    first = choose_paints(studio, 5)
    kept = (studio.folder / KEPT_AS).stat().st_mtime_ns
    assert choose_paints(studio, 5).sets == first.sets
    assert (studio.folder / KEPT_AS).stat().st_mtime_ns == kept


def test_nothing_read_is_said_in_a_sentence(studio):
    with pytest.raises(NotLearnt, match="nothing to learn mixes from"):
        choose_paints(studio, 3)
    with pytest.raises(BadRequest, match="1 to 24"):
        choose_paints(studio, 30)


def test_gaps_of_a_tin_are_held_against_everything_owned(filled):
    studio, owned, _ = filled
    three = ",".join(one.id for one in list(owned.values())[:3])
    seen = see_gaps(studio, three)
    assert seen.wider == "everything owned"
    assert 0 < seen.share < 1
    assert seen.owned_would[0][1] >= seen.owned_would[-1][1] > 0
    assert seen.gaps[0].missing >= seen.gaps[-1].missing
    bigger = see_gaps(studio, f"{three},{seen.owned_would[0][0]}")
    assert bigger.share > seen.share


def test_the_whole_collection_is_held_against_the_wishes_that_were_read(filled):
    studio, _, wished = filled
    seen = see_gaps(studio)
    assert "wishes" in seen.wider
    assert {paint for paint, _ in seen.wished_would} <= {one.id for one in wished.values()}


def test_greys_are_foretold_with_their_doubt_and_opposites_stand_apart(filled):
    studio, _, _ = filled
    found = find_greys(studio, count=5)
    assert len(found.greys) == 5
    assert all(not mix.painted and mix.within_delta_e00 > 0 for mix in found.greys)
    chromas = [mix.chroma for mix in found.greys]
    assert chromas == sorted(chromas)
    assert [mix.lab[0] for mix in found.darks] == sorted(mix.lab[0] for mix in found.darks)
    assert all(pair.off <= 12 for pair in found.opposites)


def test_painted_mixes_stand_before_foretold_ones(studio):
    mixed_studio(studio)
    found = find_greys(studio, count=10)
    painted = [mix.painted for mix in found.greys]
    assert painted == sorted(painted, reverse=True)


def test_a_wished_mix_of_singles_one_owns_is_given_in_parts(studio):
    every = {one.paint.name: one for one in chosen(1)}
    mixed = next(one for one in every.values() if one.paint.name == "Estuary Grey")
    parts = [one for one in every.values() if one.paint.codes in {("PB29",), ("PBr7",)}]
    fill(studio, parts)
    fill(studio, [mixed], owned=False)
    (told,), paints = mix_yourself(studio)
    assert told.paint.name == "Estuary Grey"
    assert {code for code, ids in told.singles if ids} == {"PB29", "PBr7"}
    assert told.reaches is not None
    assert {paints[paint].codes for paint, _ in told.parts.parts} <= {("PB29",), ("PBr7",)}
    assert any("pigments against 2" in words for words in told.differs)


def test_a_wish_that_was_not_read_is_unknown_not_a_no(studio):
    every = {one.paint.name: one for one in chosen(1)}
    mixed = every["Estuary Grey"]
    fill(studio, [one for one in every.values() if one.paint.codes == ("PB29",)][:1])
    fill(studio, [mixed], owned=False, unread=["Estuary Grey"])
    (told,), _ = mix_yourself(studio)
    assert told.reaches is None
    assert told.parts is None
    assert "not read" in told.why_unknown


def test_a_class_list_names_what_is_owned_and_the_cheapest_tubes(studio):
    blues = [one for one in chosen(1) if one.paint.codes == ("PB29",)]
    dear = [replace(one, paint=replace(one.paint, price=9.0 - k)) for k, one in enumerate(blues)]
    owned = fill(studio, dear)
    made = class_list(studio, ["PB29", "PY3 / PY175"])
    assert {one.id for one in made.lines[0].owned} == {one.id for one in owned.values()}
    cheapest = min(owned.values(), key=lambda one: one.price)
    assert made.basket.tubes == ((0, cheapest.id),)
    assert made.basket.unmet == (1,)


def test_labels_speak_for_themselves_about_children(filled):
    studio, owned, _ = filled
    said, paints = children_list(studio)
    assert {one.paint for one in said} == {one.id for one in owned.values()} == set(paints)
    assert {one.answer for one in said} <= {
        "the label warns",
        "the label names children or a mark",
        "the label says nothing",
    }


def test_pictures_of_a_tin_name_what_they_show(filled):
    studio, owned, _ = filled
    new_tin(studio, "Small", ["6h"], now=NOW)
    fill_tin(studio, "Small", [one.id for one in list(owned.values())[:4]], now=NOW)
    name = next(iter(owned))
    assert f"A1 {name}" in draw_tin(studio, "Small")
    ring, shown = draw_ring(studio, "Small")
    assert name in ring
    assert name in shown.names.values()
    svg, seen = draw_reach(studio, "Small")
    assert f"{seen.share:.0%} of what everything owned reaches" in svg
