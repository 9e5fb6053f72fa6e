"""Who may use the page, and what an answer may do."""

from __future__ import annotations

import pytest

from .conftest import page_over

OURS = {"origin": "http://127.0.0.1:8330"}


@pytest.mark.parametrize("host", ["evil.example", "evil.example:8330", "127.0.0.1.evil.example", ""])
def test_a_name_that_is_not_this_computer_is_refused(page, host):
    assert page.get("/paints", headers={"host": host}).status_code == 400


@pytest.mark.parametrize("host", ["127.0.0.1:8330", "localhost:8330", "[::1]:8330"])
def test_this_computer_is_let_in_under_all_its_names(page, host):
    assert page.get("/paints", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", "http://127.0.0.1:9999", "https://localhost"]
)
def test_a_change_from_elsewhere_changes_nothing(page, origin):
    before = page.get("/history").text
    answer = page.change("/undo", headers={"origin": origin})
    assert answer.status_code == 403
    assert page.get("/history").text == before


def test_a_change_that_the_browser_calls_cross_site_is_refused(page):
    assert page.change("/undo", headers={"sec-fetch-site": "cross-site"}).status_code == 403
    assert page.change("/undo", headers={"sec-fetch-site": "same-site"}).status_code == 403


@pytest.mark.parametrize("token", [None, "", "wrong", "x" * 43])
def test_a_change_without_the_token_is_refused(page, token):
    page.get("/paints")
    answer = page.post("/undo", data={} if token is None else {"token": token}, headers=OURS)
    assert answer.status_code == 403
    assert "nothing was changed" in answer.text


def test_a_change_with_the_token_passes_as_field_and_as_header(page):
    assert page.change("/undo", headers=OURS, follow_redirects=False).status_code == 303
    header = {**OURS, "x-halfpan-token": page.form["token"]}
    assert page.post("/undo", headers=header, follow_redirects=False).status_code == 303


def test_read_only_refuses_every_change(painted):
    with page_over(painted.folder, read_only=True) as page:
        assert page.change("/undo").status_code == 403
        assert '<form method="post" action="/paints' not in page.get("/paints").text
        assert page.get("/paints").status_code == 200


def test_an_upload_above_the_limit_is_refused_before_it_is_read(painted):
    with page_over(painted.folder, upload_bytes=1000) as page:
        answer = page.post("/charts/read", content=b"x" * 5000, headers={"content-type": "text/plain"})
        assert answer.status_code == 413


def test_an_upload_that_hides_its_length_is_cut_off(painted):
    with page_over(painted.folder, upload_bytes=1000) as page:
        pieces = (b"text=" + b"x" * 600 for _ in range(4))
        headers = {
            "content-type": "application/x-www-form-urlencoded",
            "x-halfpan-token": page.form["token"],
        }
        answer = page.post("/paints/list", content=pieces, headers=headers)
        assert answer.status_code == 413
        assert "Nothing was kept" in answer.text


def test_every_answer_carries_the_policy(page):
    for address in ("/paints", "/api/paints", "/nowhere", "/charts"):
        policy = page.get(address).headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert "http" not in policy


def test_the_token_cookie_is_kept_from_scripts_and_other_sites(page):
    cookie = page.get("/paints").headers["set-cookie"]
    assert "HttpOnly" in cookie
    assert "samesite=strict" in cookie.lower()
