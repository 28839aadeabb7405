"""The door: only this machine's own pages, nothing too large, every answer sealed."""

from typing import Any

import pytest
from fastapi.testclient import TestClient

from polestitch.studio.guard import MOST_BYTES, SEALS
from tests.studio.conftest import HERE, PAGE


@pytest.fixture
def client(bench: TestClient) -> TestClient:
    """One app for all: nothing here changes it."""
    return bench


@pytest.mark.parametrize(
    "host",
    [
        "evil.example",
        "evil.example:8647",
        "127.0.0.1.evil.example",
        "localhost.evil.example:80",
        "",
        "0.0.0.0:8647",
        "[::2]",
    ],
)
def test_a_name_that_is_not_this_machine_is_refused(client: TestClient, host: str) -> None:
    # DNS rebinding: a page of evil.example whose name now points here.
    for path in ("/api/designs", "/", "/assets/main-abc123.js"):
        answer = client.get(path, headers={"host": host})
        assert answer.status_code == 421
        assert "127.0.0.1" in answer.json()["what"]


@pytest.mark.parametrize("host", ["127.0.0.1:8647", "localhost:8647", "[::1]:8647", "localhost"])
def test_this_machine_may_call_itself_by_its_names(client: TestClient, host: str) -> None:
    assert client.get("/api/health", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", "https://127.0.0.1:8647", "http://127.0.0.1:9999", "file://"]
)
def test_another_page_cannot_post(client: TestClient, origin: str) -> None:
    before = client.get("/api/designs").json()
    for method, path in (("POST", "/api/designs"), ("PUT", "/api/designs/" + "0" * 32), ("GET", "/api/designs")):
        answer = client.request(method, path, headers={"origin": origin}, json={"from": "empty"})
        assert answer.status_code == 403
    assert client.get("/api/designs").json() == before


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_another_page_cannot_even_show_her_pictures(client: TestClient, site: str) -> None:
    assert client.get("/api/designs", headers={"sec-fetch-site": site}).status_code == 403
    assert client.get("/", headers={"sec-fetch-site": site}).status_code == 200  # a link to the studio works


def test_its_own_page_may(client: TestClient) -> None:
    answer = client.post(
        "/api/designs", json={"from": "empty"}, headers={"origin": HERE, "sec-fetch-site": "same-origin"}
    )
    assert answer.status_code == 201


def test_no_answer_allows_other_origins(client: TestClient) -> None:
    for path in ("/api/health", "/", "/nothing.js"):
        assert not [name for name in client.get(path).headers if name.startswith("access-control")]
    preflight = client.options("/api/designs", headers={"origin": HERE, "access-control-request-method": "PUT"})
    assert preflight.status_code in (404, 405)


@pytest.mark.parametrize("path", ["/api/health", "/", "/assets/main-abc123.js", "/api/nothing", "/nothing.js"])
def test_every_answer_is_sealed(client: TestClient, path: str) -> None:
    headers = client.get(path).headers
    assert {name: headers[name] for name in SEALS} == SEALS
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy


def test_too_much_is_refused_announced_or_not(client: TestClient) -> None:
    large = b'{"document": "' + b"x" * MOST_BYTES + b'"}'
    json_type = {"content-type": "application/json"}
    assert client.post("/api/build", content=large, headers=json_type).status_code == 413
    pieces = (large[k : k + 65536] for k in range(0, len(large), 65536))  # without a content-length
    assert client.post("/api/build", content=pieces, headers=json_type).status_code == 413


@pytest.mark.parametrize("length", ["-1", "1e3", "9" * 40])
def test_a_length_that_is_no_number_is_refused(client: TestClient, length: str) -> None:
    answer = client.post("/api/designs", content=b"{}", headers={"content-length": length})
    assert answer.status_code in (413, 422)


@pytest.mark.parametrize("path", ["/", "/bench/123", "/shelf"])
def test_every_address_of_the_front_end_is_its_page(client: TestClient, path: str) -> None:
    answer = client.get(path)
    assert answer.text == PAGE
    assert answer.headers["cache-control"] == "no-cache"


def test_files_with_their_content_in_their_name_are_kept_for_ever(client: TestClient) -> None:
    assert "immutable" in client.get("/assets/main-abc123.js").headers["cache-control"]
    assert client.get("/assets/gone.js").status_code == 404


@pytest.mark.parametrize(
    "path", ["/../data/studio.db", "/%2e%2e/data/studio.db", "/assets/..%2f..%2fdata/studio.db", "/..\\data\\studio.db"]
)
def test_no_path_leads_out_of_the_front_end(client: TestClient, path: str) -> None:
    answer = client.get(path)
    assert b"SQLite" not in answer.content


def test_mistakes_have_a_place_and_a_sentence(client: TestClient) -> None:
    answers: list[Any] = [
        client.get("/api/nothing"),
        client.delete("/api/designs"),
        client.post("/api/designs", content=b"{"),
        client.post("/api/build", json={"document": [], "question": "x"}),
    ]
    for answer in answers:
        assert set(answer.json()) == {"where", "what"}
        assert answer.status_code in (404, 405, 422)
