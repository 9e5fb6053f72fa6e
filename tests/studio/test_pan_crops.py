"""True crops of one's own painted boxes in the map of a tin and on its lid card."""

from __future__ import annotations

from halfpan.studio.draw_tin import draw_tin
from halfpan.studio.follow_tin import rule_lid_card
from halfpan.studio.lay_tin import fill_tin, new_tin
from halfpan.studio.read_chart import read_chart
from halfpan.studio.review import Which, accept


def test_own_painted_boxes_are_shown_and_a_lost_photo_is_said(painted, now, tmp_path):
    studio = painted.studio
    read_chart(studio, [painted.scan], now=now)
    accept(studio, Which(chart=painted.chart.chart), now=now)
    new_tin(studio, "Three", ["3h"], now=now)
    fill_tin(studio, "Three", list(painted.films), now=now)
    svg = draw_tin(studio, "Three")
    assert svg.count("<image") == 3
    assert "flat colour of its reading)" not in svg
    rule_lid_card(studio, "Three", tmp_path / "plain.pdf", now=now, labels=False)
    rule_lid_card(studio, "Three", tmp_path / "crops.pdf", now=now, labels=False, crops=True)
    assert b"/Image" in (tmp_path / "crops.pdf").read_bytes()
    assert b"/Subtype /Image" not in (tmp_path / "plain.pdf").read_bytes()
    for folder in (studio.folder / "crops", studio.photos):
        for file in folder.rglob("*"):
            if file.is_file():
                file.unlink()
    svg = draw_tin(studio, "Three")
    assert "<image" not in svg
    assert svg.count("(flat colour of its reading)") == 3
