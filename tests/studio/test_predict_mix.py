"""Predicting from words and tables: what is asked is what is answered, row for row."""

from __future__ import annotations

import pytest

from halfpan.core.colour.difference import delta_e_2000
from halfpan.errors import BadRequest, NotLearnt, UnknownPaint, UnreadableTable
from halfpan.files.tables import parse_table
from halfpan.studio.predict_mix import LADDER, predict_glaze, predict_mix, predict_table
from halfpan.studio.studio import Studio

from .mixed_studio import mixed_studio, truly

TABLE = "paint_a,amount_a,paint_b,amount_b\nRose,2,Straw,3\nHarbour Blue,4,,\nStraw,3,Rose,2\n"


def test_a_table_is_answered_row_for_row(studio: Studio) -> None:
    ids = mixed_studio(studio)
    found = predict_table(studio, parse_table(TABLE)).predictions
    washes = [((ids["Rose"], 2.0), (ids["Straw"], 3.0)), ((ids["Harbour Blue"], 4.0),)]
    for prediction, lab in zip(found, truly(washes, ids), strict=False):
        assert delta_e_2000(prediction.lab, lab) < prediction.within_delta_e00
    assert len(found) == 3
    assert found[0].lab == pytest.approx(found[2].lab)


@pytest.mark.parametrize(
    ("table", "said"),
    [
        ("paint_a,amount_b\nRose,2\n", "needs the columns"),
        ("paint,amount\nRose,lots\n", "“lots” is not an amount"),
        ("paint,amount\nRose,\n", "Row 2 of the table of mixes has no paint"),
        ("", "is empty"),
    ],
)
def test_a_table_that_asks_nothing_is_refused_with_its_row(studio: Studio, table: str, said: str) -> None:
    mixed_studio(studio)
    with pytest.raises(UnreadableTable, match=said):
        predict_table(studio, parse_table(table))


def test_parts_make_a_full_wash_and_a_ladder_gets_lighter(studio: Studio) -> None:
    mixed_studio(studio)
    found = predict_mix(studio, "3 Rose + 1 Harbour Blue", strengths=LADDER).predictions
    lightness = [p.lab[0] for p in found]
    assert lightness == sorted(lightness)
    again = predict_mix(studio, "6 rose + 2 harbour blue").predictions[0]
    assert again.lab == pytest.approx(found[0].lab)


def test_the_order_of_layers_matters_and_is_written_from_the_top(studio: Studio) -> None:
    ids = mixed_studio(studio)
    one = predict_glaze(studio, "Rose over Straw").predictions[0]
    other = predict_glaze(studio, "Straw over Rose").predictions[0]
    assert [wash[0][0] for wash in one.recipe.layers] == [ids["Straw"], ids["Rose"]]
    assert delta_e_2000(one.lab, other.lab) > 1


def test_each_layer_may_have_its_own_strength(studio: Studio) -> None:
    mixed_studio(studio)
    thin = predict_glaze(studio, "Rose over Straw", strengths=[0.1, 1.0]).predictions[0]
    totals = [sum(amount for _, amount in wash) for wash in thin.recipe.layers]
    assert totals[0] == pytest.approx(10 * totals[1])


def test_parts_by_eye_are_less_sure(studio: Studio) -> None:
    mixed_studio(studio)
    sure = predict_mix(studio, "Rose + Straw").predictions[0]
    by_eye = predict_mix(studio, "Rose + Straw", by_eye=True).predictions[0]
    assert by_eye.lab == pytest.approx(sure.lab)
    assert by_eye.within_delta_e00 > sure.within_delta_e00


@pytest.mark.parametrize(
    ("words", "refusal"),
    [("0 Rose", BadRequest), ("Rose + Umber", UnknownPaint), ("", BadRequest), ("Moss", NotLearnt)],
)
def test_a_mix_that_cannot_be_understood_is_refused(studio: Studio, words: str, refusal: type) -> None:
    mixed_studio(studio)
    with pytest.raises(refusal):
        predict_mix(studio, words)


def test_a_glaze_of_one_layer_is_refused(studio: Studio) -> None:
    mixed_studio(studio)
    with pytest.raises(BadRequest, match="one layer only"):
        predict_glaze(studio, "Rose")


def test_a_strength_that_cannot_be_painted_is_refused(studio: Studio) -> None:
    mixed_studio(studio)
    with pytest.raises(BadRequest, match="cannot be painted"):
        predict_mix(studio, "Rose", strengths=[0.0])
