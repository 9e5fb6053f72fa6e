from __future__ import annotations

from datetime import date

import pytest

from halfpan.studio.listing import cells


@pytest.mark.parametrize(
    ("text", "ml"),
    [
        ("15", 15.0), ("15 ml", 15.0), ("14.5ML", 14.5), ("1,5 ml", 1.5), ("0.5 cl", 5.0),
        ("0.5 fl oz", 14.79),  # NIST Handbook 44, appendix C: 1 US fl oz = 29.5735 mL
        ("1.000,5", 1000.5),
    ],
)  # fmt: skip
def test_sizes_are_read_in_millilitres(text: str, ml: float) -> None:
    assert cells.size_ml(text) == (ml, None)


def test_a_weight_is_no_volume() -> None:
    value, problem = cells.size_ml("20 g")
    assert value is None
    assert problem is not None
    assert "weight" in problem.text


@pytest.mark.parametrize(
    ("text", "value", "currency"),
    [("£12.50", 12.5, "GBP"), ("12,50 €", 12.5, "EUR"), ("EUR 1.234,00", 1234.0, "EUR"), ("7", 7.0, "")],
)
def test_prices_keep_their_currency(text: str, value: float, currency: str) -> None:
    assert cells.price(text) == (value, currency, None)


def test_a_date_that_reads_two_ways_is_asked_about() -> None:
    value, problem = cells.day("03/04/2025")
    assert value is None
    assert problem is not None
    assert problem.proposal == "2025-04-03"


@pytest.mark.parametrize(
    "text", ["2025-04-23", "23.4.2025", "04/23/2025", "23/04/2025", "2025-04-23 00:00:00"]
)
def test_a_date_that_reads_one_way_is_taken(text: str) -> None:
    assert cells.day(text) == (date(2025, 4, 23), None)


def test_a_day_that_never_was_is_not_taken() -> None:
    assert cells.day("2025-02-30")[0] is None


@pytest.mark.parametrize(("text", "left"), [("full", 1.0), ("Half", 0.5), ("30 %", 0.3), ("0.25", 0.25)])
def test_what_is_left_is_a_step_or_a_share(text: str, left: float) -> None:
    assert cells.amount_left(text) == (left, None)


@pytest.mark.parametrize("text", ["lots", "30", "120%"])
def test_what_is_left_is_asked_about_when_it_is_neither(text: str) -> None:
    value, problem = cells.amount_left(text)
    assert value is None
    assert problem is not None


@pytest.mark.parametrize("text", ["half-pan", "1/2 pan", "Half Pan", "HP"])
def test_half_pans_have_many_spellings(text: str) -> None:
    assert cells.form(text) == ("half pan", None)


def test_a_form_not_known_is_kept_as_written_and_asked_about() -> None:
    value, problem = cells.form("crayon-ish")
    assert value == "crayon-ish"
    assert problem is not None
