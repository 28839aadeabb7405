"""The pin survey over the wire: what is kept, what is told, what is refused, tables and sheets."""

from typing import Any

import pytest
from fastapi.testclient import TestClient

READINGS = [("N", "obi 1", "50"), ("N", "obi 2", "5 cm"), ("N", "obi 3", "52,5"), ("obi 1", "obi 2", "33.5")]


def survey(*readings: tuple[str, str, str], **more: Any) -> dict[str, Any]:
    told = [{"first": first, "second": second, "length": length} for first, second, length in readings]
    return {"readings": told, **more}


@pytest.fixture
def design(client: TestClient, bare: dict[str, Any]) -> str:
    made = client.post("/api/designs", json={"from": "empty", "around": "20 cm"}).json()
    change = {"base": 1, "document": bare, "tab": "a"}
    assert client.put(f"/api/designs/{made['id']}", json=change).status_code == 200
    return str(made["id"])


def test_readings_are_kept_and_an_older_window_is_told(client: TestClient, design: str) -> None:
    address = f"/api/designs/{design}/survey"
    assert client.get(address).json()["number"] == 0
    kept = client.put(address, json={"base": 0, "survey": survey(*READINGS)}).json()
    assert kept["number"] == 1
    assert [one["length"] for one in client.get(address).json()["survey"]["readings"]] == ["50", "5 cm", "52,5", "33.5"]
    older = client.put(address, json={"base": 0, "survey": survey()})
    assert older.status_code == 422
    assert older.json()["where"] == "base"
    assert client.get("/api/designs/" + "0" * 32 + "/survey").status_code == 404


@pytest.mark.slow
def test_what_cannot_be_is_told_by_line_and_the_rest_is_answered(bench: TestClient, bare: dict[str, Any]) -> None:
    asked = survey(*READINGS, ("N", "obi 99", "50"), ("N", "obi 4", "soon"), ("N", "obi 5", "12"))
    answer = bench.post("/api/survey", json={"document": bare, "survey": asked, "question": 1, "tab": "t"})
    told = answer.json()
    assert answer.status_code == 200
    assert [one["line"] for one in told["refused"]] == [5, 6, 7]
    assert [one["line"] for one in told["readings"]] == [1, 2, 3, 4]
    assert told["readings"][1]["mm"] == 50
    assert {pin["point"] for pin in told["pins"]} >= {"N", "S", "obi 1"}


@pytest.mark.slow
def test_pins_can_be_surveyed_before_anything_can_be_stitched(bench: TestClient, bare: dict[str, Any]) -> None:
    unfinished = {**bare, "layers": [{"name": "half"}]}
    body = {"document": unfinished, "survey": survey(*READINGS), "question": 1, "tab": "u"}
    told = bench.post("/api/survey", json=body)
    assert told.status_code == 200
    assert told.json()["motifs"] == []
    no_ball = {**bare, "marking": {"division": "S1"}}
    wrong = bench.post("/api/survey", json={**body, "document": no_ball, "question": 2})
    assert wrong.status_code == 422
    assert "division" in wrong.json()["where"]


@pytest.mark.slow
def test_tables_and_sheets_come_with_the_design(client: TestClient, design: str) -> None:
    client.put(f"/api/designs/{design}/survey", json={"base": 0, "survey": survey(*READINGS, ("N", "=1+1", "9"))})
    table = client.get(f"/api/designs/{design}/survey.csv")
    assert "buoy-pins.csv" in table.headers["content-disposition"]
    assert "'=1+1" in table.text
    form = client.get(f"/api/designs/{design}/survey-form.csv").content
    assert b"should be" in form
    for name in ("survey.pdf", "survey-form.pdf"):
        assert client.get(f"/api/designs/{design}/{name}?paper=letter").content.startswith(b"%PDF")


def test_a_table_is_read_in_any_habit_or_refused_by_its_line(client: TestClient) -> None:
    def sent(content: bytes) -> Any:
        return client.post("/api/survey/csv", files={"file": ("pins.csv", content, "text/csv")})

    told = sent("\ufefffrom;to;mm\r\nN;obi 1;62,5\r\nN;obi 2;\r\n".encode()).json()
    assert [(one["second"], one["length"]) for one in told["readings"]] == [("obi 1", "62.5")]
    wrong = sent(b"from,to,mm\nN,obi 1,62.5\nN,obi 2,far\n")
    assert wrong.status_code == 422
    assert "line 3" in wrong.json()["where"]
