"""Colour plans over the wire: what can be planned, the dozen with pictures, one put in, shades."""

import base64
import io
import time
from typing import Any

import pytest
from fastapi.testclient import TestClient
from PIL import Image

Raw = dict[str, Any]
PETALS = {"by": "stripes", "layer": "amber petals", "threads": [{"name": n} for n in ("rust", "teal", "cream")]}


def finished(bench: TestClient, body: Raw) -> Any:
    """The file of a job once it is done."""
    job = bench.post("/api/plans", json=body).json()["job"]
    until = time.monotonic() + 60
    while time.monotonic() < until:
        report = bench.get(f"/api/jobs/{job}").json()
        if report["state"] not in ("waiting", "running"):
            return report, bench.get(f"/api/jobs/{job}/file") if report["file"] else None
        time.sleep(0.05)
    raise AssertionError("the job never ended")


@pytest.mark.slow
def test_the_dozen_comes_with_pictures(bench: TestClient, lamps: Raw) -> None:
    _, answer = finished(bench, {"document": lamps, "wishes": PETALS})
    told = answer.json()
    assert (told["different"], told["proven"]) == (18, True)  # 3 x 2 x 2 x 2 colourings of a path less 6 of two colours
    assert len(told["plans"]) == 12
    head, data = told["plans"][0]["front"].split(",", 1)
    assert head == "data:image/webp;base64"
    with Image.open(io.BytesIO(base64.b64decode(data))) as picture:
        assert (picture.size, picture.mode) == ((240, 240), "RGBA")
    assert told["plans"][0]["front"] != told["plans"][1]["front"]


@pytest.mark.slow
def test_the_dozen_comes_on_paper(bench: TestClient, lamps: Raw) -> None:
    report, answer = finished(bench, {"document": lamps, "wishes": PETALS, "file": "pdf"})
    assert report["name"] == "quay-lamps-colour-plans.pdf"
    assert answer.content.startswith(b"%PDF")


@pytest.mark.slow
def test_what_no_plan_can_keep_is_told(bench: TestClient, lamps: Raw) -> None:
    wishes = {**PETALS, "threads": [{"name": "rust", "least": 1}]}
    report, _ = finished(bench, {"document": lamps, "wishes": wishes})
    assert report["state"] == "failed"
    assert "no plan keeps these rules" in report["wrong"]["what"]


@pytest.mark.slow
def test_parts_of_every_layer_and_one_plan_put_in(bench: TestClient, lamps: Raw) -> None:
    parts = bench.post("/api/plans/parts", json={"document": lamps}).json()["layers"]
    assert [(p["name"], p["motifs"], p["stripes"], p["rows"]) for p in parts][:3] == [
        ("amber petals", 2, 4, 7),
        ("rust petals", 2, 4, 7),
        ("quay", 1, 3, 6),
    ]
    new = bench.post("/api/plans/applied", json={"document": lamps, "wishes": PETALS, "plan": 1}).json()
    assert new["document"]["layers"][0]["rows"] != lamps["layers"][0]["rows"]
    assert new["document"]["layers"][1:] == lamps["layers"][1:]
    assert bench.post("/api/plans/applied", json={"document": lamps, "wishes": PETALS, "plan": 12}).status_code == 200
    refused = bench.post("/api/plans/applied", json={"document": lamps, "wishes": {**PETALS, "layer": "x"}, "plan": 1})
    assert refused.status_code == 422
    assert "there is no layer" in refused.json()["what"]


@pytest.mark.slow
def test_shades_find_the_nearest_thread_of_the_drawer(bench: TestClient) -> None:
    bench.post("/api/threads", json={"name": "Mist", "colour": "#8fa9c4"})
    bench.post("/api/threads", json={"name": "Rust", "colour": "#8a3b1e"})
    told = bench.post("/api/shades", json={"ends": ["#1d2b5a", "#f4f1ea"], "count": 3}).json()["shades"]
    assert told[1]["nearest"]["name"] == "Mist"
    assert len(bench.post("/api/shades", json={"ends": ["#1d2b5a"], "count": 6}).json()["shades"]) == 6
    assert bench.post("/api/shades", json={"ends": [], "count": 6}).status_code == 422
