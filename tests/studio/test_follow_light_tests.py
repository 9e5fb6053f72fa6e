"""A light test from its sheet to its proof, on a sheet whose fading is known."""

from __future__ import annotations

import shutil
from datetime import date

import pytest

from halfpan.collection import findings, light_tests, readings
from halfpan.collection.light_tests import LightTest
from halfpan.core.arranging.demands import Demands, conditions_of
from halfpan.core.paint.finding import Finding
from halfpan.errors import BadRequest
from halfpan.studio.ask_witnesses import ask_witnesses
from halfpan.studio.compare_ranges import compare_ranges
from halfpan.studio.follow_light_tests import due_now, follow_light_test, follow_light_tests
from halfpan.studio.hang_strip import correct_strip, days_to_look, end_strip, hang_strip, note_wool
from halfpan.studio.light_document import due_to_dict, light_test_to_dict
from halfpan.studio.measuring import ReadWish
from halfpan.studio.paint_history import paint_history
from halfpan.studio.painted_paints import gather_painted, painted_paints
from halfpan.studio.read_chart import read_chart
from halfpan.studio.review import Which, accept, set_aside
from halfpan.studio.rule_chart import ChartWish
from halfpan.studio.studio import open_studio
from halfpan.studio.undo import undo

from .light_studio import STARTED, at, hung_sheet, read_on


@pytest.fixture(scope="module")
def followed_template(tmp_path_factory):
    folder = tmp_path_factory.mktemp("light")
    studio = open_studio(folder / "studio")
    sheet = hung_sheet(studio, folder)
    shots = {days: sheet.shot(folder, days) for days in (0, 30, 90)}
    for days, path in shots.items():
        read_on(studio, path, days)
    studio.close()
    return folder / "studio", sheet, shots


@pytest.fixture
def hung(followed_template, tmp_path):
    folder, sheet, shots = followed_template
    shutil.copytree(folder, tmp_path / "studio")
    studio = open_studio(tmp_path / "studio")
    yield studio, sheet, shots
    studio.close()


def strips(studio, days=90):
    found = follow_light_test(studio, "South window", now=at(days)).strips
    return {(one.strip.box, one.strip.strength): one for one in found}


def test_readings_agree_with_the_true_change_within_the_stated_doubt(hung):
    studio, sheet, _ = hung
    found = strips(studio)
    assert len(found) == 6
    held = []
    for (box, strength), one in found.items():
        zone = {"full": "kept", "thin": "kept thin"}[strength]
        assert [look.days for look in one.strip.looks] == [0, 30, 90]
        for look in one.strip.looks:
            true = sheet.true_change(box, zone, int(look.days))
            held.append(abs(look.fading.delta_e_ab - true) <= look.fading.within_ab)
    assert sum(held) >= len(held) - 1  # 95 in 100 of 18


def test_a_paint_that_fades_is_told_and_one_that_holds_is_not_accused(hung):
    studio, _, _ = hung
    found = strips(studio)
    for strength in ("full", "thin"):
        assert found["1", strength].level is not None
        assert "paler" in found["1", strength].ways
        assert found["1", strength].passed[0].by in {30.0, 90.0}
        assert found["2", strength].level is None
        assert found["2", strength].ways == ()
        assert found["2", strength].passed[0].by is None


def test_the_change_becomes_the_proof_of_the_paint_in_light(hung):
    studio, sheet, _ = hung
    faded, kept = (sheet.chart.pages[0].boxes[k].paint for k in (0, 1))
    light = next(one for one in ask_witnesses(studio, faded).statements if one.property == "light")
    assert light.proof is not None
    assert light.proof.level is not None
    assert light.proof.level >= 0.5
    assert "in my window test, 90 days, paper not noted" in light.proof.text
    other = next(one for one in ask_witnesses(studio, kept).statements if one.property == "light")
    assert other.proof is not None
    assert other.proof.level is None
    assert other.proof.text.startswith("no sure change so far")


def test_a_measured_test_stands_before_the_eye_once_it_can_tell(hung):
    studio, sheet, _ = hung
    faded, kept = (sheet.chart.pages[0].boxes[k].paint for k in (0, 1))
    with studio.transaction() as db:
        for paint in (faded, kept):
            findings.add(db, paint, Finding("light", "holds", seen=STARTED))
    for paint, measured in ((faded, True), (kept, False)):
        light = next(one for one in ask_witnesses(studio, paint).statements if one.property == "light")
        assert ("window test" in light.proof.text) == measured


def test_what_is_set_aside_no_longer_counts(hung):
    studio, _, _ = hung
    with studio.look() as db:
        last = [one for one in light_tests.exposures(db) if one.box == "1"][-2:]
    which = Which(numbers=tuple(one.exposed.id for one in last))
    set_aside(studio, which, reason="a hair lay on it", now=at(91))
    assert [look.days for look in strips(studio)["1", "full"].strip.looks] == [0, 30]


def test_strokes_that_wait_for_review_are_named_with_their_doubt_and_count_once_accepted(tmp_path):
    studio = open_studio(tmp_path / "studio")
    sheet = hung_sheet(studio, tmp_path)
    for days in (0, 30):
        read_on(studio, sheet.shot(tmp_path, days), days, review=True)
    before = follow_light_test(studio, "South window", now=at(30))
    assert before.strips == before.unread == ()
    assert {(one.box, one.strength, one.looks) for one in before.waiting} == {
        (box, strength, 2) for box in "123" for strength in ("full", "thin")
    }
    assert before.looked == (0, 30)
    (written, *_) = light_test_to_dict(before)["waiting"]
    assert (written["box"], written["strength"], written["looks"]) == ("1", "full", 2)
    accept(studio, Which(chart=before.test.chart, box="1"), now=at(30))
    after = follow_light_test(studio, "South window", now=at(30))
    assert {one.strip.box for one in after.strips} == {"1"}
    assert {one.box for one in after.waiting} == {"2", "3"}
    set_aside(studio, Which(chart=before.test.chart, box="2"), "smudged", now=at(30))
    assert {one.box for one in follow_light_test(studio, "South window", now=at(30)).waiting} == {"3"}


def test_an_undone_reading_is_undone_here_too(hung):
    studio, _, _ = hung
    undo(studio, now=at(91))
    found = follow_light_test(studio, "South window", now=at(91))
    assert found.looked == (0, 30)


def test_the_same_photo_twice_is_one_look(hung):
    studio, _, shots = hung
    read_chart(studio, [shots[90]], ReadWish(target="none", again=True), now=at(95))
    assert [look.days for look in strips(studio, 95)["1", "full"].strip.looks] == [0, 30, 90]


def test_photos_of_several_days_read_at_one_go_are_looks_of_their_own(tmp_path):
    studio = open_studio(tmp_path / "late")
    late = hung_sheet(studio, tmp_path)
    paths = [late.shot(tmp_path, days) for days in (30, 90)]
    read_chart(studio, paths, ReadWish(target="none"), now=at(90))
    found = strips(studio)["1", "full"]
    assert len(found.strip.looks) == 2
    assert not found.now.from_start
    studio.close()


def test_a_day_can_be_told_for_a_photo_that_is_read_later(tmp_path):
    studio = open_studio(tmp_path / "studio")
    sheet = hung_sheet(studio, tmp_path)
    read_chart(studio, [sheet.shot(tmp_path, 30)], ReadWish(seen=date(2026, 3, 31)), now=at(200))
    assert follow_light_test(studio, "1", now=at(200)).looked == (30,)
    studio.close()


def test_a_photo_of_another_chart_is_refused_where_a_light_test_is_asked_for(painted, now):
    with pytest.raises(BadRequest, match="no sheet of a light test"):
        read_chart(painted.studio, [painted.scan], ReadWish(light_only=True), now=now)
    with painted.studio.look() as db:
        assert readings.listed(db) == []


def test_looks_fall_due_and_an_ended_test_is_left_in_peace(hung):
    studio, _, _ = hung
    assert follow_light_tests(studio, now=at(91))[0].due is None
    assert follow_light_tests(studio, now=at(91))[0].next == 120
    assert [one.test.name for one in due_now(studio, now=at(121)).look] == ["South window"]
    end_strip(studio, "south window", now=at(122))
    found = follow_light_test(studio, "South window", now=at(300))
    assert (found.days, found.due, found.next) == (122, None, None)
    with pytest.raises(BadRequest, match="already"):
        end_strip(studio, "South window", now=at(123))


def test_paints_in_a_running_test_are_not_on_the_list_to_test_first(hung):
    studio, sheet, _ = hung
    tested = {box.paint for box in sheet.chart.pages[0].boxes}
    assert not tested & {one.paint.id for one in due_now(studio, now=at(91)).first}
    end_strip(studio, "South window", now=at(91))
    first = due_now(studio, now=at(91)).first
    assert sheet.chart.pages[0].boxes[0].paint not in {one.paint.id for one in first}


def test_a_blue_wool_is_noted_beside_the_last_look_and_can_be_taken_back(hung):
    studio, sheet, _ = hung
    paint = sheet.chart.pages[0].boxes[0].paint
    note_wool(studio, "South window", paint, 2, now=at(91))
    assert strips(studio)["1", "thin"].sensitivity == "high"
    undo(studio, now=at(92))
    assert strips(studio)["1", "thin"].sensitivity is None
    with pytest.raises(BadRequest, match="1 to 8"):
        note_wool(studio, "South window", paint, 9, now=at(91))


def test_what_is_noted_can_be_put_right_and_moves_the_days(hung):
    studio, _, _ = hung
    correct_strip(studio, "South window", started=date(2026, 2, 27), facing="north", now=at(91))
    found = follow_light_test(studio, "South window", now=at(91))
    assert found.looked == (2, 32, 92)
    assert "faces north" in (found.remark or "")
    correct_strip(studio, "South window", lux=500.0, hours_a_day=10.0, now=at(91))
    assert follow_light_test(studio, "1", now=at(91)).dose == pytest.approx(500 * 10 * 93 / 1e6)


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"facing": "up"}, "faces one of"),
        ({"latitude_deg": 100.0}, "not on earth"),
        ({"lux": 500.0}, "needs both"),
        ({"lux": 9e9, "hours_a_day": 3.0}, "no light of a window"),
        ({"lux": 500.0, "hours_a_day": 30.0}, "hours of light"),
        ({"ended": date(2025, 1, 1)}, "it began on"),
        ({"ended": date(2036, 1, 1)}, "not come yet"),
        ({"name": " "}, "needs a name"),
    ],
)
def test_what_a_window_cannot_be_is_refused(hung, values, said):
    studio, _, _ = hung
    with pytest.raises(BadRequest, match=said):
        correct_strip(studio, "South window", now=at(91), **values)


def test_a_name_is_given_once_and_a_refusal_writes_nothing(hung, tmp_path):
    studio, _, _ = hung
    pdf = tmp_path / "again.pdf"
    with pytest.raises(BadRequest, match="already"):
        hang_strip(studio, LightTest("south WINDOW", STARTED), ChartWish(), pdf, now=at(1))
    assert not pdf.exists()
    assert len(follow_light_tests(studio, now=at(1))) == 1
    with pytest.raises(BadRequest, match="no light test"):
        follow_light_test(studio, "North window", now=at(1))


def test_a_test_that_was_just_begun_can_be_undone(studio, tmp_path):
    sheet = hung_sheet(studio, tmp_path)
    assert len(sheet.chart.pages[0].boxes) == 3
    undo(studio, now=at(0))
    assert follow_light_tests(studio, now=at(1)) == ()


def test_a_range_at_a_glance_counts_what_the_window_proved(hung):
    studio, _, _ = hung
    (seen,) = compare_ranges(studio, "all").ranges
    light = {one.witness: one for one in seen.glance.counts if one.question == "doubtful in light"}
    assert (light["proof"].yes, light["proof"].no, light["proof"].unknown) == (1, 0, 2)


def test_a_set_that_must_last_by_proof_refuses_what_faded_and_names_what_is_not_proved(hung):
    studio, sheet, _ = hung
    with studio.look() as db:
        painted = painted_paints(db)
    passed = conditions_of(painted, Demands(lasting=True, by="proof"), range(len(painted)))
    faded, *others = (box.paint for box in sheet.chart.pages[0].boxes)
    assert passed.refused == (faded,)
    assert set(passed.unknown) == set(others)


def test_what_was_done_to_a_paint_tells_of_its_light_test(hung):
    studio, sheet, _ = hung
    paint = sheet.chart.pages[0].boxes[0].paint
    note_wool(studio, "South window", paint, 2, now=at(91))
    told = [done.change.what for done in paint_history(studio, paint)]
    assert told[0].startswith("compared")
    assert f"read chart {sheet.chart.chart}" in told


def test_days_to_look_on_are_read_as_written():
    assert days_to_look("30, 7,90") == (7, 30, 90)
    assert days_to_look("") == (7, 14, 30, 60, 120)
    with pytest.raises(BadRequest, match="7, 14, 30"):
        days_to_look("soon")


def test_the_documents_hold_every_look_with_its_doubt(hung):
    studio, _, _ = hung
    document = light_test_to_dict(follow_light_test(studio, "South window", now=at(91)))
    strip = document["strips"][0]
    assert [look["days"] for look in strip["looks"]] == [0, 30, 90]
    assert all(look["within_ab"] > 0 for look in strip["looks"])
    assert [one["limit"] for one in strip["passed"]] == [1.7, 4.0]
    assert set(due_to_dict(due_now(studio, now=at(121)))) == {"look", "first"}


def test_whoever_asks_for_proof_of_many_paints_is_told_of_the_window_test(hung):
    studio, sheet, _ = hung
    with studio.look() as db:
        painted = gather_painted(db).painted
    light = painted[sheet.chart.pages[0].boxes[0].paint].proof()["light"]
    assert light.level is not None
    assert light.text.startswith(("changed", "fades"))
