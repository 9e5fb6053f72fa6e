"""Mixes on the page: predicted with doubt, proof beside it, matched, planned, noted."""

from __future__ import annotations

import re
import shutil

import pytest
from PIL import Image

from halfpan.collection import swatches
from halfpan.studio.review import Which, accept
from halfpan.studio.studio import open_studio

from .conftest import NOW, Painted, page_over


@pytest.fixture(scope="module")
def accepted(painted_once, tmp_path_factory):
    """The painted studio with all its readings accepted, so that mixes can be learnt; not to be changed."""
    folder = tmp_path_factory.mktemp("mixes") / "estuary"
    shutil.copytree(painted_once.folder, folder)
    studio = open_studio(folder)
    accept(studio, Which(chart=painted_once.chart), now=NOW)
    studio.close()
    return Painted(folder, painted_once.chart, painted_once.scan)


@pytest.fixture
def mixing(accepted, tmp_path):
    folder = tmp_path / "mixing"
    shutil.copytree(accepted.folder, folder)
    with page_over(folder) as client:
        yield client


PAIR = "paint=p1&parts=2&paint=p2&parts=1"


def test_without_an_accepted_reading_the_page_says_what_is_missing(page):
    text = page.get("/mixes").text
    assert "There is nothing to work mixes out from yet" in text
    assert "Go to the charts" in text


def test_a_mix_is_drawn_as_a_smooth_wash_and_never_as_a_photograph(mixing):
    text = mixing.get(f"/mixes/predicted?{PAIR}").text
    band = text.split('class="band"')[1].split("</div>")[0]
    assert band.count('class="predicted"') == 3
    assert "<img" not in band
    assert re.search(r"within ΔE \d", text)
    assert "own box alone" in text


def test_the_ladder_of_the_page_is_that_of_the_document(mixing):
    told = mixing.get("/api/mixes/predict", params={"mix": "2 p1 + 1 p2"}).json()["predictions"]
    text = mixing.get(f"/mixes/predicted?{PAIR}").text
    L = f"{told[0]['lab'][0]:.0f}"
    assert f'Best guess</b><span class="cap num">L* {L} ' in text
    assert f"within ΔE {told[0]['within_delta_e00']:.1f} at full strength" in text


def test_the_mix_is_drawn_on_the_plane_with_its_doubt_and_what_it_is_made_of(mixing):
    text = mixing.get(f"/mixes/predicted?{PAIR}").text
    plot = text.split('class="plot sheet"')[1].split("</svg>")[0]
    assert plot.count('class="main dashed"') == plot.count('class="ladder-path dashed"') == 1
    assert plot.count('class="other"') == 2  # both paints as painted, whole lines
    assert plot.count('class="trust"') == 1
    assert "2 : 1, chosen" in plot
    assert "proof-mark" not in plot
    mixing.change("/mixes/log", {"mix": "2 p1 + 1 p2", "colour": "40,10,20"})
    text = mixing.get(f"/mixes/predicted?{PAIR}").text
    assert text.count("proof-mark") == 1
    steps = re.findall(
        r"L\* (\d+).{1,40}? ± (\d+\.\d)</span>", text.split('class="steps"')[1].split("</ol>")[0]
    )
    told = mixing.get("/api/mixes/predict", params={"mix": "2 p1 + 1 p2"}).json()["predictions"]
    assert [int(L) for L, _ in steps] == [round(one["lab"][0]) for one in told]
    assert [float(within) for _, within in steps] == [round(one["within_delta_e00"], 1) for one in told]


def test_flags_call_a_paint_by_its_name(mixing):
    told = mixing.get("/api/mixes/predict", params={"mix": "2 p1 + 1 p2"}).json()["predictions"][0]["flags"]
    names = {one["name"] for one in mixing.get("/api/paints").json()["paints"]}
    unknown = [flag for flag in told if flag.startswith("strength of ")]
    assert unknown  # six boxes of a chart tell nothing about strength
    assert all(any(name in flag for name in names) for flag in unknown)
    assert not any(re.search(r"\bp\d+\b", flag) for flag in told)


def test_a_mix_is_predicted_on_the_paper_that_was_chosen(mixing):
    usual = mixing.get(f"/mixes/predicted?{PAIR}").text
    assert "On which paper" not in mixing.get("/mixes").text  # no white was measured
    mixing.change("/papers/new", {"name": "Cream rag", "white": "88,2,14"})
    assert "Cream rag" in mixing.get("/mixes").text
    cream = mixing.get(f"/mixes/predicted?{PAIR}&paper=Cream+rag").text
    assert cream.split('class="steps"')[1] != usual.split('class="steps"')[1]
    assert "paper=Cream+rag" in cream  # goes on with every ratio
    asked = {"colour": "60,20,20", "paper": "Cream rag"}
    assert "paper=Cream+rag" in mixing.get("/mixes/match", params=asked).text
    assert 'role="alert"' in mixing.get(f"/mixes/predicted?{PAIR}&paper=nowhere").text


def test_every_part_of_a_pair_shows_proof_where_it_was_painted(mixing):
    text = mixing.get(f"/mixes/predicted?{PAIR}").text
    rows = text.split('class="ratios"')[1]
    assert len(re.findall(r"<li[ >]", rows)) == 7
    assert len(re.findall(r"<img", rows)) == 2  # the two paints alone were painted, no mix of them was
    assert rows.count("not painted") == 5
    assert rows.count('aria-current="true"') == 1


def test_four_paints_can_be_mixed_and_five_parts_of_nothing_cannot(mixing):
    four = "&".join(f"paint=p{n}&parts=1" for n in range(1, 5))
    assert 'class="band"' in mixing.get(f"/mixes/predicted?{four}").text
    nothing = mixing.get("/mixes/predicted?paint=&parts=0").text
    assert "A mix takes one to four paints" in nothing


def test_a_paint_that_was_not_read_is_refused_in_a_sentence(mixing):
    text = mixing.get("/mixes/predicted?paint=p1&parts=1&paint=p8&parts=1").text
    assert 'role="alert"' in text


def test_a_mix_that_is_noted_stands_in_the_log_and_counts_as_painted(mixing):
    answer = mixing.change("/mixes/log", {"mix": "2 p1 + 1 p2", "name": "Low tide", "colour": "40,10,20"})
    assert "Low tide" in answer.text
    (one,) = mixing.get("/api/mixes").json()["mixes"]
    assert one["lab"] == [40.0, 10.0, 20.0]
    predicted = mixing.get(f"/mixes/predicted?{PAIR}").text
    assert "You have painted 2 : 1 of these" in predicted
    near = mixing.get("/mixes/log?near=41,10,20").text
    assert "ΔE 0." in near or "ΔE 1." in near


def test_a_picture_of_a_mix_stands_in_the_log(mixing, tmp_path):
    Image.new("RGB", (60, 40), (90, 110, 60)).save(tmp_path / "mix.png")
    fields = {**mixing.form, "mix": "2 p1 + 1 p2"}
    picture = {"photo": ("mix.png", (tmp_path / "mix.png").read_bytes())}
    assert 'src="/mixes/log/1.webp"' in mixing.post("/mixes/log", data=fields, files=picture).text
    assert mixing.get("/mixes/log/1.webp").headers["content-type"] == "image/webp"
    refused = mixing.post("/mixes/log", data=fields, files={"photo": ("mix.png", b"no picture")})
    assert refused.status_code == 422
    assert "mix.png" in refused.text
    assert mixing.get("/mixes/log/2.webp").status_code == 422


def test_a_colour_of_a_painted_paint_is_matched_by_that_paint(mixing):
    studio = mixing.app.state.studio
    with studio.look() as db:
        box = swatches.counting(db)["p3"].swatch
    asked = ",".join(f"{v:.2f}" for v in box.masstone)
    found = mixing.get("/api/mixes/match", params={"colour": asked, "paints": 1}).json()
    nearest = found["matches"][0]
    assert box.name.startswith(nearest["parts"][0]["paint"])
    assert nearest["delta_e00"] < nearest["within_delta_e00"]
    text = mixing.get("/mixes/match", params={"colour": asked, "paints": 1}).text
    assert text.count('class="match"') >= 1
    assert "Expected to reach it" in text or "Perhaps" in text


def test_words_that_are_no_colour_are_refused_and_files_are_not_read(mixing):
    for address in ("/mixes/match?colour=sea", "/mixes/log?near=sea"):
        answer = mixing.get(address)
        assert answer.status_code == 422
        assert "“sea” is not a colour" in answer.text
        assert 'value="sea"' in answer.text  # what was typed stands there still
    answer = mixing.get("/mixes/match", params={"colour": "40,10,10", "among": "paints.csv"})
    assert answer.status_code == 422
    assert "There is no tin" in answer.text


def test_the_next_boxes_are_planned_and_ruled_as_a_chart(mixing):
    text = mixing.get("/mixes/next?boxes=3").text
    assert text.count("See what is predicted</a>") == 3
    answer = mixing.change("/mixes/next/print", {"boxes": "3", "sheet": "A5"})
    chart = answer.url.path.split("/")[-1]
    geometry = mixing.get(f"/api/charts/{chart}").json()
    assert geometry["kind"] == "mixes"
    assert sum(box["label"] != "" for one in geometry["pages"] for box in one["boxes"]) == 3
    assert mixing.get(f"/charts/{chart}.pdf").content.startswith(b"%PDF")
