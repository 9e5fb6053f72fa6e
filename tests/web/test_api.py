"""The documents under /api, asked with whatever a program may send."""

from __future__ import annotations

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings

from halfpan.studio.studio import open_studio
from halfpan.web.app import create_app


def test_paints_and_geometry_are_the_documents_of_the_command(page, painted):
    assert {one["id"] for one in page.get("/api/paints").json()["paints"]} == {f"p{n}" for n in range(1, 9)}
    geometry = page.get(f"/api/charts/{painted.chart}").json()
    assert geometry["chart"] == painted.chart
    assert geometry["pages"][0]["boxes"][0]["zones"]


def test_a_refusal_is_a_sentence_in_json(page):
    answer = page.get("/api/paints/nobody")
    assert answer.status_code == 404
    assert "nobody" in answer.json()["refused"]


@pytest.fixture(scope="module")
def described(painted_once):
    app = create_app(painted_once.folder)
    app.state.studio = app.state.own_studio = open_studio(painted_once.folder)
    from halfpan.web.jobs import Jobs

    app.state.jobs, app.state.studio_name = Jobs(), "estuary"
    yield schemathesis.openapi.from_asgi("/api/openapi.json", app, headers={"host": "127.0.0.1"})
    app.state.jobs.close()
    app.state.studio.close()


def test_no_question_makes_the_page_fail(described):
    asked = []
    for found in described.get_all_operations():
        operation = found.ok()

        @given(case=operation.as_strategy())
        @settings(
            max_examples=12,
            deadline=None,
            derandomize=True,
            database=None,
            suppress_health_check=list(HealthCheck),
        )
        def ask(case):
            answer = case.call(headers={"host": "127.0.0.1"})
            assert answer.status_code < 500, case.as_curl_command()

        ask()
        asked.append(operation.path)
    assert "/api/paints" in asked
    assert len(asked) >= 40
