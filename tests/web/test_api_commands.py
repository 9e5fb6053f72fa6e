"""Every document of a command can be had from the page too, and is the same one; or it says why not."""

from __future__ import annotations

import json
import shutil
from importlib import import_module

import pytest
import typer

from halfpan.cli.app import NOUNS, main
from halfpan.collection.stock import Item
from halfpan.core.paint.finding import Finding
from halfpan.core.paint.paint import Paint
from halfpan.studio.keep_finding import keep_finding
from halfpan.studio.lay_tin import fill_tin, new_tin
from halfpan.studio.mix_log import log_mix
from halfpan.studio.review import Which, accept
from halfpan.studio.stock import add_item
from halfpan.studio.studio import open_studio
from halfpan.studio.wish import wish_for
from halfpan.web.routes import ROUTERS

from .conftest import NOW, page_over

SAME = {
    "paints list": ("", "/api/paints?owned=true"),
    "paints show": ("p2", "/api/paints/p2"),
    "paints check": ("", "/api/labels"),
    "paints cautions": ("", "/api/cautions"),
    "paints witnesses": ("p2", "/api/paints/p2/witnesses"),
    "paints own": ("PB29", "/api/own?what=PB29"),
    "paints duplicates": ("", "/api/duplicates"),
    "paints substitute": ("p2 --single --count 3", "/api/paints/p2/substitutes?single=true&count=3"),
    "paints identify": ("p2", "/api/paints/p2/identify"),
    "paints order": ("", "/api/order"),
    "paints place": ("p8", "/api/paints/p8/place"),
    "paints compare-ranges": ("Tidewater", "/api/ranges?name=Tidewater"),
    "paints changes": ("p2", "/api/paints/p2/history"),
    "pigments list": ("", "/api/pigments"),
    "pigments show": ("PB29", "/api/pigments/PB29"),
    "findings list": ("", "/api/findings"),
    "chart list": ("", "/api/charts"),
    "readings list": ("--chart TEST23", "/api/readings?chart=TEST23"),
    "papers list": ("", "/api/papers"),
    "tin list": ("", "/api/tins"),
    "tin show": ("Harbour", "/api/tins/Harbour"),
    "tin odd": ("Harbour", "/api/tins/Harbour/odd"),
    "tin stale": ("", "/api/tins/stale"),
    "tin choose": ("2 --sets 1", "/api/choose?count=2&sets=1"),
    "tin gaps": ("Harbour", "/api/gaps?among=Harbour"),
    "tin greys": ("--count 3", "/api/greys?count=3"),
    "tin split": ("", "/api/tins/split"),
    "mix learn": ("", "/api/mixes/learnt"),
    "mix match": ("40,10,20 --paints 2 --count 12", "/api/mixes/match?colour=40,10,20&paints=2"),
    "mix plan": ("--boxes 3", "/api/mixes/plan?boxes=3"),
    "mix reach": ("p1 p2", "/api/mixes/reach?first=p1&second=p2"),
    "mix log list": ("", "/api/mixes"),
    "glaze predict": ("p1|over|p2", "/api/mixes/glaze?glaze=p1+over+p2"),
    "light-test list": ("", "/api/light"),
    "light-test due": ("", "/api/light/due"),
    "stock list": ("", "/api/stock"),
    "wish list": ("", "/api/wishes"),
    "wish mix": ("", "/api/wishes/mixed"),
    "lists class": ("PB29", "/api/class-list?code=PB29"),
    "lists children": ("", "/api/children"),
}
"""Command, what is asked of it, and where the same document is."""

OTHERWISE = {
    "mix predict": "the page predicts five strengths at once, /api/mixes/predict; the command one",
    "mix identify": "/api/mixes/identify; the little studio of this test has read no mixed paint",
    "demo": "fills a folder; the page opens the invented studio by its own button",
    "paints add": "changes the studio: the page shows how each line is understood first, /paints/list",
    "paints report": "writes a file",
    "chart new": "changes the studio: /charts/new; its geometry is /api/charts/CHART",
    "chart read": "changes the studio: /charts/read answers with a job, its readings are /api/readings",
    "chart rule": "changes the studio: /charts/rule answers with a job, its readings are /api/readings",
    "readings add": "changes the studio, from a file of an instrument",
    "tin new": "changes the studio: /tins/new",
    "tin fill": "changes the studio: /tins/TIN/place",
    "tin move": "changes the studio: /tins/TIN/move",
    "tin seat": "changes the studio: /tins/TIN/seat",
    "tin lock": "changes the studio: /tins/TIN/lock",
    "tin take-out": "changes the studio: /tins/TIN/out",
    "tin chart": "changes the studio and writes a print; its geometry is /api/charts/CHART",
    "tin card": "changes the studio and writes a print: /tins/TIN/card",
    "tin map": "a picture: the page of the tin is that picture",
    "tin ring": "a picture, written to a file",
    "tin reach": "a picture, written to a file; its figures are /api/gaps",
    "light-test start": "changes the studio: /light/new; its document is /api/light/TEST",
    "light-test read": "changes the studio: /charts/read answers with a job; its document is /api/light/TEST",
    "light-test show": "/api/light/TEST; the little studio of this test has no sheet in a window",
    "mix log add": "changes the studio: /mixes/log",
}
"""Commands whose document is not under /api, with the reason."""


def verbs(command, words: str):
    """Return every command below one, as one types it."""
    inside = getattr(command, "commands", None)
    if inside is None:
        return {words: command}
    return {
        typed: found
        for verb, one in inside.items()
        for typed, found in verbs(one, words if verb == words else f"{words} {verb}").items()
    }


def with_json() -> set[str]:
    """Return the commands that know ``--json``, as one types them."""
    found: dict[str, object] = {}
    for noun in NOUNS:
        module = import_module(f"halfpan.cli.{noun.replace('-', '_')}")
        found |= verbs(typer.main.get_command(module.app), noun)
    return {
        typed
        for typed, one in found.items()
        if any("--json" in getattr(param, "opts", ()) for param in one.params)
    }


def test_every_command_with_a_document_has_an_address_or_a_reason():
    asked = with_json()
    assert len(asked) > 40
    assert asked - SAME.keys() - OTHERWISE.keys() == set()
    assert (SAME.keys() | OTHERWISE.keys()) - asked == set()


def test_every_reason_that_names_an_address_names_a_true_one(page):
    paths = {getattr(route, "path", "") for router in ROUTERS for route in router.routes}
    shaped = {
        path.replace("{tin}", "TIN").replace("{chart}", "CHART").replace("{test}", "TEST") for path in paths
    }
    for command, reason in OTHERWISE.items():
        for word in reason.replace(",", " ").replace(";", " ").split():
            if word.startswith("/"):
                assert word in shaped, (command, word)


@pytest.fixture(scope="module")
def full(painted_once, tmp_path_factory):
    """Fill a studio with a little of everything: readings, a tin, stock, a wish, a finding, a mix."""
    folder = tmp_path_factory.mktemp("full") / "estuary"
    shutil.copytree(painted_once.folder, folder)
    studio = open_studio(folder)
    accept(studio, Which(chart=painted_once.chart), now=NOW)
    new_tin(studio, "Harbour", ["4h"], now=NOW)
    fill_tin(studio, "Harbour", ["p1", "p2", "p3"], now=NOW)
    add_item(studio, "p2", Item(form="tube", size_ml=15.0, price=9.5, currency="EUR"), now=NOW)
    wish_for(studio, Paint("", "Larkspur Mill", "", "Hoped Violet", ("PV19", "PB29")), "skies", now=NOW)
    keep_finding(studio, "p2", Finding("granulation", "smooth"), now=NOW)
    log_mix(studio, "2 p1 + 1 p3", lab=(40.0, 5.0, 10.0), now=NOW)
    studio.close()
    return folder


@pytest.mark.parametrize("command", SAME)
def test_page_and_command_give_the_same_document(command, full, tmp_path, monkeypatch, capsys):
    more, address = SAME[command]
    for name in ("command", "page"):  # asking may keep what was worked out, so each asks a studio of its own
        shutil.copytree(full, tmp_path / name)
    monkeypatch.delenv("HALFPAN_DATABASE", raising=False)
    words = [word.replace("|", " ") for word in (more.split() if "|" not in more else [more])]
    with pytest.raises(SystemExit) as stop:
        main(["--studio", str(tmp_path / "command"), *command.split(), *words, "--json"])
    said = capsys.readouterr()
    assert not stop.value.code, said.err
    told = json.loads(said.out)
    with page_over(tmp_path / "page") as page:
        answer = page.get(address)
        assert answer.status_code == 200, answer.text
        assert answer.json() == told
