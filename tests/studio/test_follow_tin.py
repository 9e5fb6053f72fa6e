"""Charts and lid cards that follow tins."""

from __future__ import annotations

import json

import pytest

from halfpan.core.arranging.sides import SideRule
from halfpan.errors import BadRequest
from halfpan.studio.follow_tin import rule_lid_card, rule_tin_chart, stale_charts
from halfpan.studio.lay_tin import fill_tin, move_pan, new_tin, show_tin, take_out
from halfpan.studio.seat_tin import seat_tin
from halfpan.studio.seat_wishes import wishes_for
from halfpan.studio.split_tins import fill_by_side, split_paints

from .film_studio import NOW, chosen, fill


@pytest.fixture
def tins(studio):
    """Two tins, one of them with a blank and a full pan."""
    owned = list(fill(studio, chosen(6)).values())
    new_tin(studio, "Small", ["4h", "2h-f"], now=NOW)
    new_tin(studio, "Round", ["3h"], now=NOW)
    fill_tin(studio, "Small", [one.id for one in owned[:6]], now=NOW)
    fill_tin(studio, "Round", [one.id for one in owned[6:9]], now=NOW)
    return studio, owned


def laid(chart):
    return [box.paint for page in chart.pages for box in page.boxes]


def test_a_chart_has_its_boxes_as_the_pans_sit(tins, tmp_path):
    studio, owned = tins
    chart, geometry = rule_tin_chart(studio, ["Small"], tmp_path / "c.pdf", now=NOW)
    ids = [one.id for one in owned]
    assert laid(chart) == [*ids[:4], *ids[4:6], None, None]
    assert json.loads(geometry.read_text())["chart"] == chart.chart
    assert (tmp_path / "c.pdf").read_bytes().startswith(b"%PDF")


def test_turned_round_the_last_seat_comes_first(tins, tmp_path):
    studio, _ = tins
    upright, _ = rule_tin_chart(studio, ["Small"], tmp_path / "a.pdf", now=NOW)
    turned, _ = rule_tin_chart(studio, ["Small"], tmp_path / "b.pdf", now=NOW, upside_down=True)
    assert laid(turned) == laid(upright)[::-1]


def test_two_tins_lie_on_one_sheet_each_in_its_own_rows(tins, tmp_path):
    studio, owned = tins
    chart, _ = rule_tin_chart(studio, ["Small", "Round"], tmp_path / "c.pdf", now=NOW)
    assert len(chart.pages) == 1
    assert laid(chart)[8:] == [*[one.id for one in owned[6:9]], None]


def test_a_moved_pan_names_every_sheet_that_no_longer_matches(tins, tmp_path):
    studio, owned = tins
    both, _ = rule_tin_chart(studio, ["Small", "Round"], tmp_path / "c.pdf", now=NOW)
    card, _ = rule_lid_card(studio, "Small", tmp_path / "lid.pdf", now=NOW)
    rule_tin_chart(studio, ["Round"], tmp_path / "r.pdf", now=NOW)
    assert stale_charts(studio) == ()
    move_pan(studio, "Small", "A1", "A3", now=NOW)
    stale = {one.chart: one for one in stale_charts(studio, "Small")}
    assert set(stale) == {both.chart, card.chart}
    moved = {one.seat: (one.was, one.now) for one in stale[card.chart].moved}
    assert moved == {"A1": (owned[0].id, owned[2].id), "A3": (owned[2].id, owned[0].id)}
    move_pan(studio, "Small", "A3", "A1", now=NOW)
    assert stale_charts(studio) == ()
    take_out(studio, "Round", owned[6].id, now=NOW)
    assert len(stale_charts(studio, "Round")) == 2
    assert stale_charts(studio, "Small") == ()


def test_a_lid_card_of_an_empty_tin_is_refused_and_no_file_is_left(studio, tmp_path):
    new_tin(studio, "Empty", ["3h"], now=NOW)
    with pytest.raises(BadRequest, match="is empty"):
        rule_lid_card(studio, "Empty", tmp_path / "lid.pdf", now=NOW)
    assert not (tmp_path / "lid.pdf").exists()


def test_strong_paints_go_into_half_pans_when_a_tin_is_seated(tins):
    studio, owned = tins
    strong = owned[0]
    move_pan(studio, "Small", "A1", "B4", now=NOW)
    from halfpan.studio.lay_tin import lock_seats

    lock_seats(studio, "Small", ["B4"], locked=False, now=NOW)
    wishes = wishes_for(studio, "Small", strong=[strong.id])
    seat_tin(studio, "Small", now=NOW, wishes=wishes, spare_anywhere=True)
    kept, _ = show_tin(studio, "Small")
    (seat,) = (seat for seat, held in kept.held.items() if held.paint == strong.id)
    assert kept.tin.seat(seat).size == "half"


def test_the_most_used_paint_takes_the_full_pan(tins):
    studio, owned = tins
    wishes = wishes_for(studio, "Small", most_used=[owned[1].id])
    seat_tin(studio, "Small", now=NOW, wishes=wishes, spare_anywhere=True)
    kept, _ = show_tin(studio, "Small")
    assert kept.held["B4"].paint == owned[1].id


def test_a_boundary_parts_paints_over_two_tins_and_can_be_moved(studio):
    owned = fill(studio, chosen(6))
    new_tin(studio, "Warm", ["9h"], now=NOW)
    new_tin(studio, "Cool", ["9h"], now=NOW)
    parted = split_paints(studio)
    first, second = fill_by_side(studio, parted, ("Warm", "Cool"), now=NOW)
    assert set(first.paints) == set(parted.side("warm"))
    assert set(second.paints) == set(parted.side("cool"))
    assert (first.side, second.side) == ("warm", "cool")
    assert [show_tin(studio, name)[0].side for name in ("Warm", "Cool")] == ["warm", "cool"]
    undecided = [one for one in parted.sided if one.side is None]
    assert len(first.paints) + len(second.paints) + len(undecided) == len(owned)
    wider = split_paints(studio, rule=SideRule(end=200.0))
    assert set(wider.side("warm")) > set(parted.side("warm"))


def test_what_does_not_fit_moves_nothing(studio):
    fill(studio, chosen(6))
    new_tin(studio, "Warm", ["1h"], now=NOW)
    new_tin(studio, "Cool", ["9h"], now=NOW)
    with pytest.raises(BadRequest, match="free seats"):
        fill_by_side(studio, split_paints(studio), ("Warm", "Cool"), now=NOW)
    assert show_tin(studio, "Cool")[0].paints == ()
    with pytest.raises(BadRequest, match="different"):
        fill_by_side(studio, split_paints(studio), ("Warm", "Warm"), now=NOW)
