"""What the pages say and do, without a browser."""

from __future__ import annotations

import re
import time
from types import SimpleNamespace

import cv2
import pytest

from halfpan.collection import readings, swatches
from halfpan.core.paint.finding import Finding
from halfpan.files.tables import parse_table
from halfpan.files.words import words
from halfpan.studio.add_paints import add_paints
from halfpan.studio.keep_finding import keep_finding
from halfpan.studio.keep_page import DOUBTFUL
from halfpan.studio.lay_tin import fill_tin, new_tin
from halfpan.studio.mix_log import log_mix
from halfpan.studio.review import Which, accept
from halfpan.studio.studio import open_studio
from halfpan.web.static import static_files

from .conftest import NOW, page_over

LIST = "Tidewater, Ultramarine, PB29\nOld Quarry, Burnt Sienna, PBr7\nLarkspur Mill, Permanent Rose, PV91\n"


def finished(page, answer):
    """Follow a job to its end and return where it leads."""
    address = str(answer.url.path)
    for _ in range(200):
        job = page.get(f"/api{address}").json()
        if job["state"] in {"done", "failed", "stopped"}:
            return job
        time.sleep(0.05)
    raise AssertionError(job)


def test_an_empty_studio_offers_three_ways_in_and_no_blank_wall(empty_page):
    text = empty_page.get("/").text
    assert "Type or paste your paints" in text
    assert 'type="file"' in text


def test_a_pasted_list_is_shown_line_by_line_before_anything_is_kept(empty_page):
    seen = empty_page.change("/paints/list", {"text": LIST})
    assert "PV91" in seen.text
    assert "Add 3 paints" in seen.text
    assert empty_page.get("/api/paints").json()["paints"] == []


def test_a_list_is_kept_once_and_can_be_undone(empty_page):
    seen = empty_page.change("/paints/list", {"text": LIST})
    added = empty_page.change(f"{seen.url.path}/add")
    assert added.url.path == "/paints"
    assert "Ultramarine" in added.text
    again = empty_page.change("/paints/list", {"text": LIST})
    assert "There is nothing new in this list" in again.text
    empty_page.change("/undo")
    assert empty_page.get("/api/paints").json()["paints"] == []


def test_a_column_can_be_corrected(empty_page):
    seen = empty_page.change(
        "/paints/list", {"text": "Ultramarine;Tidewater;PB29\nBurnt Sienna;Old Quarry;PBr7\n"}
    )
    corrected = empty_page.get(seen.url.path, params={"column_name": "1", "column_maker": "2"})
    assert re.search(r"Ultramarine<span class=\"cap\">Tidewater", corrected.text)


def test_a_list_that_names_nothing_is_answered_in_a_sentence(empty_page):
    answer = empty_page.post(
        "/paints/list",
        data=empty_page.form,
        files={"file": ("x.csv", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 old")},
    )
    assert answer.status_code == 422
    assert "save it as .xlsx" in answer.text


def test_the_wall_shows_true_crops_and_quiet_places_for_the_rest(page):
    text = page.get("/paints").text
    assert len(re.findall(r'src="/crops/\d+/', text)) == 6
    assert text.count('class="unpainted"') == 2


def test_words_narrow_the_wall_and_say_how_far(page):
    some = page.get("/api/paints/narrow", params={"find": "PR"}).json()
    assert 0 < len(some["paints"]) < 8
    assert some["says"].startswith(str(len(some["paints"])))


def test_a_clash_of_filters_names_the_nearest_miss(page):
    asked = {"find": "no such paint at all", "only": "transparent", "by": "label"}
    nothing = page.get("/api/paints/narrow", params=asked).json()
    assert nothing["paints"] == []
    assert "no such paint at all" in nothing["clash"]


def test_a_filter_asks_only_the_witness_that_was_chosen(page):
    label = page.get("/api/paints/narrow", params={"only": "transparent", "by": "label"}).json()["paints"]
    proof = page.get("/api/paints/narrow", params={"only": "transparent", "by": "proof"}).json()["paints"]
    assert label
    assert proof == []  # nothing was accepted yet, so proof says nothing


def test_a_paint_put_before_another_stands_there_in_the_painters_own_order(page):
    page.change("/paints/order", {"paint": "p5", "before": "p1"})
    text = page.get("/paints", params={"sort": "mine"}).text
    order = re.findall(r'data-paint="(p\d+)"', text)
    assert order.index("p5") + 1 == order.index("p1")
    assert len(order) == 8


def test_a_paint_page_names_its_three_witnesses_and_its_silences(page):
    text = page.get("/paints/p2").text
    for word in ("Label", "Literature", "Proof", "not tried yet", "nobody has looked at the reading"):
        assert word in text


def test_an_unknown_paint_is_a_page_that_says_so(page):
    answer = page.get("/paints/p999")
    assert answer.status_code == 404
    assert "No paint answers" in answer.text


@pytest.mark.parametrize(
    ("referer", "back"),
    [
        ("http://127.0.0.1:8330/charts/TEST23/review?did=3", "/charts/TEST23/review?did=3"),
        ("http://127.0.0.1:8330//elsewhere.example/", "/"),
        ("http://elsewhere.example/charts", None),
        ("", None),
    ],
)
def test_a_refused_change_leads_back_to_the_page_it_was_asked_on(page, referer, back):
    asked = {"page_read": "1", "box": "99", "x_mm": "1"}
    answer = page.change("/charts/TEST23/nudge", asked, headers={"referer": referer})
    assert answer.status_code == 422
    found = re.search(r'<a class="btn go" href="([^"]+)">Go back', answer.text)
    assert (found and found[1]) == back


def test_notes_survive_and_undo_takes_them_back(page):
    page.change("/paints/p2/notes", {"notes": "Lovely over ochre.", "tags": "harbour, sky"})
    assert page.get("/api/paints/p2").json()["paint"]["tags"] == ["harbour", "sky"]
    page.change("/undo")
    assert page.get("/api/paints/p2").json()["paint"]["notes"] == ""


def test_notes_of_a_painter_cannot_become_markup(page):
    page.change("/paints/p2/notes", {"notes": "<script>alert(1)</script>", "tags": "<b>"})
    text = page.get("/paints/p2").text
    assert "<script>alert" not in text
    assert "&lt;script&gt;alert" in text


def test_a_crop_is_a_picture_of_the_box_and_is_cut_once(page, painted):
    found = re.search(r"/crops/\d+/1\.webp", page.get("/paints").text)[0]
    first = page.get(found)
    assert first.headers["content-type"] == "image/webp"
    assert first.content[8:12] == b"WEBP"
    made = next((painted.folder / "crops").rglob("1.webp")).stat().st_mtime_ns
    page.get(found)
    assert next((painted.folder / "crops").rglob("1.webp")).stat().st_mtime_ns == made


READ_ONLY = (
    "/paints", "/paints/p2", "/charts/TEST23", "/charts/TEST23/review", "/mixes", "/mixes/next", "/tins/1",
    "/mixes/match?colour=%235a6e3c", "/share/paints.html", "/light", "/stock", "/pigments/PB29", "/papers",
    "/history",
)  # fmt: skip


def test_a_page_that_is_only_looked_at_writes_nothing_into_the_studio(painted):
    studio = open_studio(painted.folder)
    accept(studio, Which(chart=painted.chart), now=NOW)
    new_tin(studio, "Harbour", ["3h"], now=NOW)
    fill_tin(studio, "Harbour", ["p1", "p2"], now=NOW)
    studio.close()

    def written():
        kept = (one for one in painted.folder.rglob("*") if one.is_file())
        return {one: one.stat().st_mtime_ns for one in kept if one.suffix not in {".db-wal", ".db-shm"}}

    before = written()
    with page_over(painted.folder, read_only=True) as page:
        pages = {address: page.get(address) for address in READ_ONLY}
        crop = page.get(re.search(r"/crops/\d+/1\.webp", pages["/paints"].text)[0])
        photo = page.get("/photos/1.webp")
    assert {address: answer.status_code for address, answer in pages.items()} == dict.fromkeys(READ_ONLY, 200)
    assert crop.content[8:12] == photo.content[8:12] == b"WEBP"
    assert written() == before


@pytest.mark.parametrize("box", ["..%2f..%2fhalfpan", "....", "nothing"])
def test_a_crop_address_cannot_leave_its_folder(page, box):
    page.get("/crops/1/1.webp")
    assert page.get(f"/crops/1/{box}.webp").status_code in {404, 422}


def test_a_new_chart_is_drawn_ruled_and_printed(page):
    drawn = page.get("/charts/new/preview", params={"which": "unpainted", "sheet": "A5"}).text
    assert drawn.count("<svg") == 1
    made = page.change("/charts/new", {"which": "unpainted", "sheet": "A5", "title": "Two more"})
    assert "Two more" in made.text
    pdf = page.get(f"{made.url.path}.pdf")
    assert pdf.content.startswith(b"%PDF")


def test_a_chart_that_does_not_fit_is_said_in_the_place_of_the_sheet(page):
    answer = page.get("/charts/new/preview", params={"which": "chosen"})
    assert answer.status_code == 200
    assert "nothing to print" in answer.text


def test_a_photo_is_read_as_a_job_and_nothing_counts_before_it_is_accepted(page, painted):
    files = {"photo": ("six.jpg", painted.scan.read_bytes(), "image/jpeg")}
    started = page.post("/charts/read", data=page.form, files=files)
    job = finished(page, started)
    assert job["result"] == f"/charts/{painted.chart}/review"
    studio = open_studio(painted.folder)
    with studio.look() as db:
        assert swatches.counting(db) == {}
    studio.close()


def readings_kept(painted):
    studio = open_studio(painted.folder)
    with studio.look() as db:
        count = len(readings.listed(db))
    studio.close()
    return count


def test_a_photo_of_another_page_than_was_said_is_refused_and_so_is_no_page(page, painted):
    files = {"photo": ("six.png", painted.scan.read_bytes(), "image/jpeg")}
    said = {**page.form, "chart": painted.chart}
    job = finished(page, page.post("/charts/read", data={**said, "page": "1"}, files=files))
    assert job["state"] == "done"
    before = readings_kept(painted)
    blank = cv2.imencode(".png", cv2.imread(str(painted.scan))[4:])[1].tobytes()
    job = finished(
        page, page.post("/charts/read", data={**said, "page": "2"}, files={"photo": ("2.png", blank)})
    )
    assert job["words"] == "2.png shows page 1, not 2; nothing was kept."
    assert page.post("/charts/read", data={**said, "page": "two"}, files=files).status_code == 422
    assert readings_kept(painted) == before


def test_without_anything_learnt_the_next_boxes_are_not_refused_but_said_how_to_begin(empty_page):
    answer = empty_page.get("/mixes/next")
    assert answer.status_code == 200
    assert "There is nothing to work mixes out from yet." in answer.text


def test_a_picture_that_is_no_chart_fails_with_a_sentence_and_keeps_nothing(page):
    started = page.post("/charts/read", data=page.form, files={"photo": ("x.jpg", b"not a picture")})
    job = finished(page, started)
    assert job["state"] == "failed"
    assert "x.jpg" in job["words"]


def test_accepting_what_is_sure_fills_the_wall_with_proof(page, painted):
    review = page.get(f"/charts/{painted.chart}/review").text
    numbers = re.search(r'name="readings" value="([\d ]+)"', review)[1]
    page.change(f"/charts/{painted.chart}/accept", {"readings": numbers})
    studio = open_studio(painted.folder)
    with studio.look() as db:
        assert swatches.counting(db)
    studio.close()


def test_a_box_that_is_moved_is_read_again_and_the_older_reading_is_set_aside(page, painted):
    asked = {"page_read": "1", "box": "2", "x_mm": "0.6", "y_mm": "0.4"}
    answer = page.change(f"/charts/{painted.chart}/nudge", asked)
    assert answer.status_code == 200
    studio = open_studio(painted.folder)
    with studio.look() as db:
        boxes = [one for one in readings.listed(db, chart=painted.chart) if one.reading.box == "2"]
    studio.close()
    old = [one for one in boxes if one.page_read == 1]
    new = [one for one in boxes if one.page_read != 1]
    assert {one.reading.state for one in old} == {"set aside"}
    assert {one.reading.state for one in new} == {"to review"}
    assert {one.reason for one in old} == {"box 2 moved by 0.6, 0.4 mm"}


def test_corners_set_by_hand_read_nearly_the_same_colours(page, painted):
    studio = open_studio(painted.folder)
    with studio.look() as db:
        from halfpan.collection import page_reads

        corners = page_reads.find(db, 1).corners
        before = {one.reading.box: one.reading.lab for one in readings.listed(db, page_read=1)
                  if one.reading.zone == "masstone"}  # fmt: skip
    text = " ".join(f"{col},{row}" for row, col in corners)
    page.change(f"/charts/{painted.chart}/nudge", {"page_read": "1", "corners": text})
    with studio.look() as db:
        after = {one.reading.box: one.reading.lab for one in readings.listed(db, page_read=2)
                 if one.reading.zone == "masstone"}  # fmt: skip
    studio.close()
    assert before.keys() == after.keys()
    assert max(abs(a - b) for box in before for a, b in zip(before[box], after[box], strict=True)) < 1.5


def test_a_job_can_be_stopped():
    from halfpan.web.jobs import Jobs

    jobs = Jobs()

    def work(job):
        for step in range(1000):
            job.step(step, 1000)
            time.sleep(0.01)
        return "/"

    job = jobs.start("counting", work)
    jobs.stop(job.id)
    for _ in range(100):
        if job.over:
            break
        time.sleep(0.02)
    jobs.close()
    assert job.state == "stopped"


def test_a_bug_in_a_job_is_said_as_one_and_written_where_the_page_is_served(caplog):
    from halfpan.web.jobs import Jobs

    jobs = Jobs()
    job = jobs.start("dividing", lambda _: str(1 / 0))
    jobs.close()
    assert job.state == "failed"
    assert "inside Halfpan itself" in job.words
    assert "ZeroDivisionError" in caplog.text


def test_every_flag_that_asks_for_a_look_has_a_sentence():
    assert {flag for flag in DOUBTFUL if f"review.why.{flag}" not in words()} == set()


def test_the_chrome_is_true_grey():
    for name, content in static_files().items():
        if not name.endswith((".css", ".svg")):
            continue
        for found in re.findall(r"#([0-9a-fA-F]{6}|[0-9a-fA-F]{3})\b", content.decode()):
            digits = found if len(found) == 6 else "".join(c * 2 for c in found)
            assert digits[:2] == digits[2:4] == digits[4:], f"{name}: #{found}"
        assert not re.search(r"\b(red|green|blue|orange|crimson|navy|teal)\b\s*[;}]", content.decode())


def test_no_page_asks_anything_of_another_computer(page):
    for address in ("/paints", "/charts", "/paints/p2", "/charts/new", "/history", "/paints/add"):
        text = page.get(address).text
        assert not re.findall(r'(?:src|href|action)="https?:', text)
        assert " style=" not in text
        assert "<script>" not in text


def test_a_picture_of_a_number_beyond_all_numbers_is_refused_like_any_other_that_is_not_there(page):
    for address in ("/crops/{}/1.webp", "/crops/{}/1/large.webp", "/photos/{}.webp"):
        assert (
            page.get(address.format(10**20)).status_code == page.get(address.format(10**6)).status_code == 422
        )


def test_the_home_page_weighs_less_than_300_kb_before_pictures(page):
    text = page.get("/paints").text
    sent = len(text.encode())
    assets = set(re.findall(r'/static/[0-9a-f]+/([^"]+)', text))
    assets |= {"js/frame.js", *(name for name in static_files() if name.endswith("latin.woff2"))}
    assert sent + sum(len(static_files()[name]) for name in assets) < 300_000


def test_the_table_says_what_each_witness_thinks_of_light_doubts_first_of_all(empty_page):
    listing = "maker,range,name,codes\nA,B,Alizarin,PR83\nA,B,Ultramarine,PB29\nA,B,Nobody knows,\n"
    seen = empty_page.change("/paints/list", {"text": listing})
    assert empty_page.change(f"{seen.url.path}/add").status_code == 200
    rows = {
        name: next(r for r in empty_page.get("/paints?view=table").text.split("<tr") if name in r)
        for name in ("Alizarin", "Ultramarine", "Nobody knows")
    }
    assert "literature: doubtful" in rows["Alizarin"]
    assert "literature: holds" in rows["Ultramarine"]
    assert "literature" not in rows["Nobody knows"]
    doubtful = empty_page.get("/api/paints/narrow?only=doubtful+in+light&by=literature").json()
    assert doubtful["counts"]["doubtful in light"] == 1


def test_the_invented_studio_is_entered_and_left_and_leaves_ones_own_empty(empty_page, monkeypatch):
    def fill_little(studio, *, now, tell):
        tell("adding the invented paints")
        table = parse_table(LIST)
        add_paints(studio, table, now=now)
        chart, pdf = SimpleNamespace(chart="NONE22"), studio.folder / "demo.pdf"
        pdf.write_bytes(b"%PDF")
        return SimpleNamespace(prints=((chart, pdf),))

    monkeypatch.setattr("halfpan.web.pages.invented.fill_invented_studio", fill_little)
    assert finished(empty_page, empty_page.change("/invented-studio"))["state"] == "done"
    there = empty_page.get("/paints").text
    assert "Ultramarine" in there
    assert "nothing here is yours" in there
    empty_page.change("/own-studio")
    assert empty_page.get("/api/paints").json()["paints"] == []


def test_what_your_eye_saw_your_tins_and_your_mixes_stand_on_a_paints_page(painted):
    studio = open_studio(painted.folder)
    keep_finding(studio, "p8", Finding("granulation", "granulating"), now=NOW)
    new_tin(studio, "Harbour", ["3h"], now=NOW)
    fill_tin(studio, "Harbour", ["p8"], now=NOW)
    log_mix(studio, "3 p8 + 1 p2", now=NOW, name="Wet slate")
    studio.close()
    with page_over(painted.folder) as page:
        text = page.get("/paints/p8").text
        assert "Harbour</a>, seat A1" in text
        assert "Wet slate: 3 " in text
        assert "Wet slate" not in page.get("/paints/p3").text
        asked = {"only": "granulating", "by": "proof"}
        assert "p8" in str(page.get("/api/paints/narrow", params=asked).json()["paints"])
