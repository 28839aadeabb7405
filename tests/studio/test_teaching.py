"""Classes over the wire: begun from a design, kept as they are typed, worked out, put away and brought back."""

import io
import time
from typing import Any

import pdfplumber
import pytest
from fastapi.testclient import TestClient

Raw = dict[str, Any]


@pytest.fixture
def design(client: TestClient) -> str:
    made = client.post("/api/designs", json={"from": "family", "family": "chrysanthemum", "around": "24 cm"})
    assert made.status_code == 201, made.text
    return str(made.json()["id"])


def begun(client: TestClient, design: str) -> Raw:
    answer = client.post("/api/classes", json={"design": design, "title": "Evening class"})
    assert answer.status_code == 201, answer.text
    return dict(answer.json())


def test_what_is_half_typed_is_kept_and_told(client: TestClient, design: str) -> None:
    made = begun(client, design)
    address = f"/api/classes/{made['card']['id']}"
    half = {**made["document"], "named": [{"name": "Oda", "around": "24x"}], "students": 3}
    kept = client.put(address, json={"document": half, "number": made["card"]["number"]})
    assert kept.status_code == 200
    assert kept.json()["wrong"]["where"] == "named[0].around"
    assert client.get(address).json()["document"] == half
    late = client.put(address, json={"document": half, "number": made["card"]["number"]})
    assert late.status_code == 409
    assert "another window" in late.json()["what"]


def test_put_away_comes_back(client: TestClient, design: str) -> None:
    made = begun(client, design)["card"]
    client.patch(f"/api/classes/{made['id']}", json={"away": True})
    assert client.get("/api/classes").json()["classes"] == []
    (away,) = client.get("/api/classes?away=true").json()["classes"]
    assert (away["title"], away["away"]) == ("Evening class", True)
    client.patch(f"/api/classes/{made['id']}", json={"away": False})
    assert len(client.get("/api/classes").json()["classes"]) == 1


@pytest.mark.slow
def test_a_class_is_worked_out_and_its_papers_are_made(client: TestClient, design: str) -> None:
    made = begun(client, design)
    address = f"/api/classes/{made['card']['id']}"
    wanted = {**made["document"], "students": 2, "left_handed": 1, "named": [{"name": "Oda", "around": "230 mm"}]}
    client.put(address, json={"document": wanted, "number": made["card"]["number"]})
    worked = client.get(f"{address}/worked").json()
    told = worked["told"]
    assert [seat["around_mm"] for seat in told["seats"]] == [230, 240]
    assert {len(steps) for steps in worked["steps"].values()} == {len(told["demonstration"])}
    bite = next(k for k, one in enumerate(told["demonstration"]) if one["kind"] == "first bite")
    right, left = (worked["steps"][hand][bite]["say"] for hand in ("right", "left"))
    assert ("from right to left" in right, "from left to right" in left) == (True, True)
    job = client.post(f"{address}/papers", json={"kind": "cut-list"}).json()["job"]
    for _ in range(200):
        report = client.get(f"/api/jobs/{job}").json()
        if report["state"] not in ("waiting", "running"):
            break
        time.sleep(0.1)
    assert report["state"] == "done", report
    assert report["name"] == "evening-class-cut-list.pdf"
    with pdfplumber.open(io.BytesIO(client.get(report["file"]).content)) as file:
        assert "Oda" in file.pages[0].extract_text()


def test_a_class_whose_design_is_gone_says_so(client: TestClient, design: str) -> None:
    made = begun(client, design)
    address = f"/api/classes/{made['card']['id']}"
    gone = {**made["document"], "design": "f" * 32}
    kept = client.put(address, json={"document": gone, "number": made["card"]["number"]}).json()
    assert kept["card"]["design_name"] is None
    answer = client.get(f"{address}/worked")
    assert answer.status_code == 404


def test_the_class_of_the_show_is_brought_in_once_when_it_is_asked_for(client: TestClient) -> None:
    assert client.get("/api/classes").json()["classes"] == []
    first, again = (client.post("/api/classes/demo", json={}).json() for _ in range(2))
    assert first["card"]["id"] == again["card"]["id"]
    assert first["wrong"] is None
    assert (first["card"]["design_name"], first["card"]["students"]) == ("Mooring star", 8)
