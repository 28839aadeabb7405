"""The door to the home network: nothing without a cookie, little with it, and codes that end."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from cryptography import x509
from cryptography.x509.verification import PolicyBuilder
from cryptography.x509.verification import Store as Roots
from fastapi.testclient import TestClient

from polestitch.errors import DesignError
from polestitch.store.store import Store
from polestitch.studio.app import application, porch_of
from polestitch.studio.certificates import is_home, papers
from polestitch.studio.pairing import MOST_IN_A_MINUTE, TRIES, Pairing, TooManyError
from polestitch.studio.studio import studio_of
from tests.studio.conftest import HERE, front_end

HOST = "192.168.1.20"
THERE = f"https://{HOST}:8647"
NOW = datetime(2026, 12, 6, 9, tzinfo=UTC)
OWN = ("/api/lan", "/api/designs", "/api/backups", "/api/archive.zip", "/api/techniques", "/api/openapi.json")


class Clock:
    time = NOW

    def __call__(self) -> datetime:
        return self.time


@pytest.fixture
def doors(store: Store, tmp_path: Path) -> Iterator[tuple[TestClient, TestClient]]:
    """The studio's own machine, and a tablet."""
    pairing = Pairing(store.clock, (f"{THERE}/",), (HOST,), b"der", "AA:BB")
    studio = studio_of(store, front_end(tmp_path / "static"), pairing)
    app = application(studio)
    with TestClient(app, base_url=HERE) as own:
        yield own, TestClient(porch_of(studio, app, (HOST,)), base_url=THERE)


def paired(own: TestClient, tablet: TestClient) -> str:
    code = own.get("/api/lan").json()["code"]
    answer = tablet.post("/api/lan/pair", json={"code": f"{code[:4]}-{code[4:]}".lower(), "name": "Tablet"})
    said = answer.headers["set-cookie"].lower()
    assert all(word in said for word in ("httponly", "secure", "samesite=strict", "max-age=7776000", "path=/"))
    return str(answer.json()["device"])


def test_a_stranger_sees_the_page_and_nothing_else(doors: tuple[TestClient, TestClient]) -> None:
    _, tablet = doors
    assert tablet.get("/").status_code == 200
    for path in ("/api/health", "/api/threads", "/api/pieces", *OWN):
        assert tablet.get(path).status_code == 401


def test_a_paired_device_reaches_the_chair_alone_until_it_is_shown_the_door(
    doors: tuple[TestClient, TestClient],
) -> None:
    own, tablet = doors
    device = paired(own, tablet)
    assert tablet.get("/api/pieces").status_code == 200
    assert tablet.get("/api/threads").status_code == 200
    assert {tablet.get(path).status_code for path in OWN} == {403}
    assert tablet.post("/api/threads", json={"name": "x"}).status_code == 403
    assert tablet.delete(f"/api/lan/devices/{device}").status_code == 403
    assert own.delete(f"/api/lan/devices/{device}").status_code == 204
    assert tablet.get("/api/pieces").status_code == 401


def test_a_code_is_good_once(doors: tuple[TestClient, TestClient]) -> None:
    own, tablet = doors
    code = own.get("/api/lan").json()["code"]
    assert tablet.post("/api/lan/pair", json={"code": code}).status_code == 200
    assert tablet.post("/api/lan/pair", json={"code": code}).status_code == 422
    assert own.get("/api/lan").json()["code"] != code


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({"host": "evil.example"}, 421),
        ({"host": "127.0.0.1:8647"}, 421),
        ({"origin": "https://evil.example"}, 403),
        ({"origin": f"http://{HOST}:8647"}, 403),
        ({"sec-fetch-site": "cross-site"}, 403),
    ],
)
def test_other_names_and_other_pages_stay_out(
    doors: tuple[TestClient, TestClient], headers: dict[str, str], status: int
) -> None:
    own, tablet = doors
    paired(own, tablet)
    assert tablet.get("/api/pieces", headers=headers).status_code == status


def test_a_code_ends_by_time_and_by_wrong_tries() -> None:
    clock = Clock()
    pairing = Pairing(clock)
    code, _ = pairing.code()
    clock.time += timedelta(minutes=5, seconds=1)
    with pytest.raises(DesignError):
        pairing.spend(code)
    clock.time += timedelta(minutes=2)
    code, _ = pairing.code()
    for _ in range(TRIES):
        with pytest.raises(DesignError):
            pairing.spend("22222222")
    with pytest.raises(DesignError):
        pairing.spend(code)


def test_nobody_tries_codes_all_day() -> None:
    pairing = Pairing(Clock())
    for _ in range(MOST_IN_A_MINUTE):
        with pytest.raises(DesignError):
            pairing.spend("")
    with pytest.raises(TooManyError):
        pairing.spend(pairing.code()[0])


def test_certificates_hold_for_home_and_for_nothing_else(tmp_path: Path) -> None:
    """Checked by the verifier of the cryptography library (RFC 5280 and the web's rules)."""
    made = papers(tmp_path, (HOST,), NOW)
    root = x509.load_der_x509_certificate(made.authority)
    leaf = x509.load_pem_x509_certificate(made.certificate.read_bytes())
    from ipaddress import ip_address

    verifier: Any = PolicyBuilder().store(Roots([root])).time(NOW)
    verifier.build_server_verifier(x509.IPAddress(ip_address(HOST))).verify(leaf, [])
    with pytest.raises(x509.verification.VerificationError):
        verifier.build_server_verifier(x509.IPAddress(ip_address("192.168.1.21"))).verify(leaf, [])
    assert made.key.stat().st_mode & 0o077 == 0
    assert not is_home("8.8.8.8")


def test_certificates_are_kept_and_made_anew_for_a_new_address(tmp_path: Path) -> None:
    first = papers(tmp_path, (HOST,), NOW)
    before = first.certificate.read_bytes()
    assert papers(tmp_path, (HOST,), NOW).certificate.read_bytes() == before
    second = papers(tmp_path, (HOST, "10.0.0.7"), NOW)
    assert second.certificate.read_bytes() != before
    assert second.authority == first.authority  # a tablet need not trust anew
