"""The whole job on the invented studio, read back by the same use cases as a painter's own."""

from __future__ import annotations

import json
import re
import shlex
import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest

from halfpan.cli.app import main
from halfpan.collection import charts, paints, readings, swatches, tins
from halfpan.demo import fill, run
from halfpan.demo.fill import IN_THE_TIN, LEFT_BARE, TIN
from halfpan.demo.hung import DAYS, LEFT
from halfpan.demo.run import run_demo
from halfpan.demo.studio_paints import studio_paints
from halfpan.errors import BadRequest
from halfpan.studio.ask_witnesses import ask_witnesses
from halfpan.studio.studio import open_studio

NOW = datetime(2026, 3, 1, 12, tzinfo=UTC)


@pytest.fixture(scope="module")
def done(tmp_path_factory):
    """A quicker demo: a third of the paints, coarser pictures."""
    patch = pytest.MonkeyPatch()
    chosen = {*IN_THE_TIN, *LEFT_BARE, *LEFT, "Lemon Yellow", "Potter's Pink", "Titanium White"}
    few = tuple(entry for entry in studio_paints() if entry.paint.name in chosen)
    patch.setattr(fill, "studio_paints", lambda: few)
    patch.setattr(fill, "DPI", 200)
    try:
        yield run_demo(tmp_path_factory.mktemp("demo") / "out", now=NOW)
    finally:
        patch.undo()


def test_no_painted_box_goes_unread_or_to_another_paint(done):
    assert sum(score.boxes for score in done.scores) >= 40
    assert sum(score.wrong for score in done.scores) == 0
    assert sum(score.unread for score in done.scores) <= 2


def test_the_readings_lie_near_the_truth_and_most_truths_inside_the_radius(done):
    for score in done.scores:
        assert score.median < (0.6 if "scan" in score.name else 0.9), score
    held, inside = (sum(getattr(s, what) for s in done.scores) for what in ("held", "in_range"))
    assert held >= 0.85 * inside


def test_the_window_shows_which_paints_light_took_colour_from(done):
    strips = {(one.seen.paint.name, one.seen.strip.strength): one for one in done.window.strips}
    assert {name for name, _ in strips} == set(LEFT)
    assert sum(one.held for one in strips.values()) >= len(strips) - 1
    for (name, _), one in strips.items():
        assert [look.days for look in one.seen.strip.looks] == list(DAYS)
        if LEFT[name][-1] == 1.0:
            assert one.true_delta_e_ab == pytest.approx(0, abs=1e-9)
            assert one.seen.ways == ()
    assert "paler" in strips["Alizarin Crimson", "thin"].seen.ways


def test_of_two_strokes_that_fade_the_one_that_surely_changed_most_is_the_proof(done):
    both = [one.seen for one in done.window.strips if one.seen.paint.name == "Alizarin Crimson"]
    assert {one.level for one in both} == {1.0}
    studio = open_studio(done.folder / "studio")
    try:
        said = ask_witnesses(studio, "Alizarin Crimson").statements
    finally:
        studio.close()
    light = next(one for one in said if one.property == "light")
    assert light.proof.text == max(both, key=lambda one: one.now.least).says


def test_what_the_readme_shows_can_be_typed(done, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    shutil.copytree(done.folder, tmp_path / "out" / "demo")
    monkeypatch.setenv("HALFPAN_STUDIO", "out/demo/studio")
    monkeypatch.delenv("HALFPAN_DATABASE", raising=False)
    readme = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
    typed = [line.split("   ")[0] for line in readme.splitlines() if re.match(r"halfpan [a-z-]+ [a-z]", line)]
    assert len(typed) >= 9
    for line in typed:
        with pytest.raises(SystemExit) as stop:
            main(shlex.split(line)[1:])
        assert stop.value.code == 0, line
        assert capsys.readouterr().out.strip(), line


def test_everything_lies_where_it_is_said_to_lie(done):
    for what, path in done.places:
        assert list(path.parent.glob(path.name)), what
    assert json.loads((done.folder / "chart.json").read_text(encoding="utf-8"))["kind"] == "swatch"
    assert "Potter&#x27;s Pink" in (done.folder / "report.html").read_text(encoding="utf-8")


def test_the_studio_holds_paints_charts_readings_a_tin_and_painted_mixes(done):
    studio = open_studio(done.folder / "studio")
    try:
        with studio.look() as db:
            held = paints.listed(db)
            counting = swatches.counting(db)
            unpainted = {one.name for one in held if one.id not in counting}
            assert set(LEFT_BARE) <= unpainted
            assert len(unpainted) <= len(LEFT_BARE) + 3
            assert {state.chart for state in charts.listed(db)}
            mixed = [one for one in readings.listed(db, state="accepted") if len(one.amounts) == 2]
            assert len({(one.chart, one.reading.box) for one in mixed}) >= 12
            assert [tin.name for tin in tins.listed(db)] == [TIN]
    finally:
        studio.close()


def test_a_folder_with_something_else_in_it_is_refused_and_left_alone(tmp_path):
    (tmp_path / "own.txt").write_text("mine", encoding="utf-8")
    with pytest.raises(BadRequest, match="--out"):
        run_demo(tmp_path, now=NOW)
    assert [path.name for path in tmp_path.iterdir()] == ["own.txt"]


def test_a_demo_that_fails_leaves_the_earlier_one_and_nothing_beside_it(tmp_path, monkeypatch):
    out = tmp_path / "out"
    out.mkdir()
    (out / run.MARK).write_text(run.MARKED, encoding="utf-8")

    def fail(*_, **__):
        raise KeyboardInterrupt

    monkeypatch.setattr(run, "fill_studio", fail)
    with pytest.raises(KeyboardInterrupt):
        run_demo(out, now=NOW)
    assert [path.name for path in tmp_path.iterdir()] == ["out"]
    assert (out / run.MARK).exists()
