"""Letting a phone in by a code, and nobody else."""

from __future__ import annotations

import pytest

from halfpan.errors import BadRequest
from halfpan.web.pairing import WRONG_TRIES, Pairing, new_code

from .conftest import NOW, TestClient, create_app


@pytest.fixture
def phone(painted):
    app = create_app(
        painted.folder,
        clock=lambda: NOW,
        hosts=frozenset({"192.168.1.20"}),
        pairing_code="1234 5678",
    )
    client = TestClient(app, base_url="http://192.168.1.20:8330", client=("192.168.1.77", 50_000))
    with client:
        yield client


def pair(phone, code: str):
    phone.get("/pair")
    return phone.post("/pair", data={"code": code, "token": phone.cookies["halfpan_token"]})


@pytest.mark.parametrize("address", ["/paints", "/api/paints", "/photos/1.webp", "/crops/1/1.webp"])
def test_a_phone_that_has_not_typed_the_code_sees_nothing(phone, address):
    answer = phone.get(address, follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"] == "/pair"


def test_a_phone_that_types_the_code_is_let_in(phone):
    assert pair(phone, "12345678").url.path == "/paints"
    assert phone.get("/api/paints").status_code == 200


def test_a_phone_is_let_in_to_a_studio_that_is_only_shown(painted):
    app = create_app(
        painted.folder, read_only=True, hosts=frozenset({"192.168.1.20"}), pairing_code="1234 5678"
    )
    with TestClient(app, base_url="http://192.168.1.20:8330", client=("192.168.1.77", 50_000)) as phone:
        assert pair(phone, "12345678").url.path == "/paints"
        asked = {"token": phone.cookies["halfpan_token"]}
        assert phone.post("/undo", data=asked).status_code == 403


def test_a_wrong_code_is_said_and_lets_nobody_in(phone):
    answer = pair(phone, "0000 0000")
    assert answer.status_code == 403
    assert "not the code" in answer.text
    assert phone.get("/paints", follow_redirects=False).status_code == 303


def test_after_ten_wrong_codes_the_right_one_is_no_use():
    door = Pairing("1234 5678")
    for _ in range(WRONG_TRIES):
        with pytest.raises(BadRequest, match="not the code"):
            door.pair("87654321")
    with pytest.raises(BadRequest, match="Too many"):
        door.pair("12345678")


def test_a_code_is_eight_digits_and_new_each_time():
    codes = {new_code() for _ in range(20)}
    assert len(codes) == 20
    assert all(len(code.replace(" ", "")) == 8 and code.replace(" ", "").isdigit() for code in codes)
