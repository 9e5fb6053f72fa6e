from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from halfpan.core.chart.sheet import dict_to_chart
from halfpan.demo.painter import paint_sheet, paper_of
from halfpan.demo.scanner import scan
from halfpan.demo.studio_paints import studio_paints
from halfpan.files.pdf import page_picture

CONTRACT = Path(__file__).parents[1] / "published" / "contract"
LIST = "name,codes\nStraw,PY150\nRose,PV19\n"


def schema(name: str) -> object:
    return json.loads((CONTRACT / f"{name}.schema.json").read_text())


def test_a_chart_is_ruled_painted_scanned_and_read_by_commands_alone(halfpan, tmp_path: Path) -> None:
    halfpan("paints", "add", "-", given=LIST)
    ruled = halfpan("chart", "new", "--sheet", "A5", "--out", str(tmp_path / "c.pdf"), "--json")
    geometry = json.loads(ruled.out)
    jsonschema.validate(geometry, schema("chart"))
    assert json.loads((tmp_path / "c.json").read_text()) == geometry
    chart = dict_to_chart(geometry)
    films = {f"p{n}": one.film for n, one in enumerate(studio_paints()[:2], 1)}
    printed = page_picture((tmp_path / "c.pdf").read_bytes(), 1, 200)
    painted, _ = paint_sheet(
        chart, chart.pages[0], printed, films, rng=np.random.default_rng(5), dpi=200, paper=paper_of()
    )
    (tmp_path / "scan.jpg").write_bytes(scan(painted, rng=np.random.default_rng(6)).file)
    read = halfpan("chart", "read", str(tmp_path / "scan.jpg"), "--json")
    assert (read.code, read.err) == (0, "")
    document = json.loads(read.out)
    jsonschema.validate(document, schema("read"))
    assert {one["name"] for one in document["paints"]} == {"Straw", "Rose"}
    listed = json.loads(halfpan("chart", "list", "--json").out)["charts"]
    assert [(one["chart"], one["painted"], one["reads"]) for one in listed] == [(chart.chart, 2, 1)]
    shown = halfpan("chart", "read", str(tmp_path / "scan.jpg"))
    assert "Straw" in shown.out
    assert "read before" in shown.err
    kept = json.loads(halfpan("readings", "list", "--chart", chart.chart, "--json").out)["readings"]
    assert len(kept) == len(document["readings"])


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("chart", "read", "absent.jpg"), "absent.jpg cannot be opened"),
        (("chart", "new", "--paints", "all"), "no paints in this studio yet"),
        (("chart", "new", "--sheet", "A9"), "A9"),
        (("chart", "assign", "ZZZ", "1", "p1"), "no chart “ZZZ”"),
    ],
)
def test_a_refusal_is_one_sentence_on_stderr_and_exit_code_1(
    halfpan, words: tuple[str, ...], sentence: str
) -> None:
    if "A9" in words:
        halfpan("paints", "add", "-", given=LIST)
    refused = halfpan(*words)
    assert (refused.code, refused.out) == (1, "")
    assert sentence in refused.err
    assert refused.err.count("\n") == 1


def test_corners_and_plans_that_are_none_are_wrong_usage(halfpan) -> None:
    assert halfpan("chart", "rule", "a.jpg", "--corners", "1,2 3,4").code == 2
    assert halfpan("chart", "new", "--plan", "4by4").code == 2


def test_every_kind_of_sheet_is_ruled_by_command_and_missing_letters_are_told(
    halfpan, tmp_path: Path
) -> None:
    halfpan("paints", "add", "-", given=LIST + "群青,PB29\n")
    out = ("--out", str(tmp_path / "c.pdf"))
    assert "3 paints" in (swatch := halfpan("chart", "new", "--scale", "1.5", *out)).out
    assert "群 青" in swatch.err
    assert "3 tests of 3 paints" in halfpan("chart", "new", "--kind", "tests", "--test", "lifting", *out).out
    mixes = halfpan("chart", "new", "--kind", "mixes", "--mix", "2 Rose + Straw", *out)
    assert (mixes.code, mixes.err) == (0, "")
    assert "1 mix and" in mixes.out
    assert halfpan("chart", "new", "--kind", "glazes", *out).code == 2
