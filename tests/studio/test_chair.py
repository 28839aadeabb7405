"""The chair over the wire: a piece begins, is stitched on two devices, photographed, planned anew."""

import io
import json
from itertools import pairwise
from typing import Any

import pytest
from fastapi.testclient import TestClient
from PIL import Image

from polestitch.chair.pace import hours_left
from polestitch.errors import DesignError
from polestitch.picture.photograph import made_anew

pytestmark = pytest.mark.slow


@pytest.fixture
def design(bench: TestClient, bare: dict[str, Any]) -> str:
    return str(bench.post("/api/designs/import", files={"file": ("b.json", json.dumps(bare))}).json()["id"])


@pytest.fixture
def piece(bench: TestClient, design: str) -> dict[str, Any]:
    wanted = {"design": design, "name": "Mine", "around": "21 cm"}
    answer = bench.post("/api/pieces", json=wanted)
    assert answer.status_code == 201
    return dict(answer.json())


def event(n: int, **deed: Any) -> dict[str, Any]:
    plain = {"id": f"{n:032x}", "device": "tablet", "seq": n, "clock": n, "at": f"2026-12-06T10:{n % 60:02d}:00Z"}
    return {**plain, **deed}


def test_steps_cover_every_thread_once_and_in_order(bench: TestClient, piece: dict[str, Any]) -> None:
    address, count = f"/api/pieces/{piece['piece']['id']}", piece["counts"]["steps"]
    steps = [s for k in range(0, count, 7) for s in bench.get(f"{address}/steps?from={k}&count=7").json()["steps"]]
    assert [step["n"] for step in steps] == list(range(count))
    laid = [step["arcs"] for step in steps if step["arcs"] and step["arcs"][0] < step["arcs"][1]]
    assert all(one[1] == two[0] for one, two in pairwise(laid))
    assert laid[0][0] == 0
    for thread in piece["threads"]:
        used = sum(step["uses_mm"] for step in steps if step["thread"] == thread["name"])
        assert used == pytest.approx(thread["total_mm"], rel=0.01)


def test_it_is_planned_on_her_own_ball(piece: dict[str, Any]) -> None:
    assert piece["piece"]["around_mm"] == 210


def test_told_twice_is_once_and_thread_goes_down_once(bench: TestClient, piece: dict[str, Any]) -> None:
    address, count = f"/api/pieces/{piece['piece']['id']}", piece["counts"]["steps"]
    thread = bench.post("/api/threads", json={"name": "red", "left_mm": 50_000}).json()
    base = 1000 * (hash(address) % 1000 + 1)
    told = {"events": [event(base, kind="jump", to=count, between="done")]}
    for _ in range(3):
        answer = bench.post(f"{address}/events", json=told).json()
    assert answer["state"]["done"] == [[0, count]]
    left = {t["id"]: t["left_mm"] for t in bench.get("/api/threads").json()["threads"]}[thread["id"]]
    assert 50_000 - left == pytest.approx(piece["threads"][0]["total_mm"], rel=0.01)
    assert len(bench.get(f"{address}/events").json()["events"]) == 1
    time = bench.get(f"{address}/time").json()
    assert time["left"]["likely"] == 0


def test_a_photo_is_made_anew(bench: TestClient, piece: dict[str, Any]) -> None:
    picture = Image.new("RGB", (40, 20), "#aa3300")
    exif = Image.Exif()
    exif[0x0112], exif[0x010E] = 6, "where she lives"  # turned a quarter; a description
    file = io.BytesIO()
    picture.save(file, "JPEG", exif=exif)
    address = f"/api/pieces/{piece['piece']['id']}/photos"
    name = bench.post(address, files={"file": ("p.jpg", file.getvalue())}).json()["photo"]
    kept = bench.get(f"{address}/{name}").content
    with Image.open(io.BytesIO(kept)) as shown:
        assert shown.size == (20, 40)
        assert not shown.getexif()
    assert b"where she lives" not in kept


def test_no_photo_is_refused() -> None:
    with pytest.raises(DesignError):
        made_anew(b"<svg onload=alert(1)>")


def test_planned_anew_keeps_what_is_the_same(bench: TestClient, design: str, piece: dict[str, Any]) -> None:
    opened = bench.get(f"/api/designs/{design}").json()
    more = {**opened["document"], "layers": [{**opened["document"]["layers"][0], "rows": "3 red"}]}
    saved = bench.put(f"/api/designs/{design}", json={"base": opened["base"], "document": more, "tab": "t"}).json()
    address = f"/api/pieces/{piece['piece']['id']}"
    look = bench.post(f"{address}/replan", json={"revision": saved["revision"]}).json()
    assert bench.get(address).json()["counts"] == piece["counts"]  # only looked at
    assert look["new"] > 0
    assert any("more of red" in words for words in look["words"])
    done = bench.post(f"{address}/replan", json={"revision": saved["revision"], "apply": True}).json()
    now = bench.get(address).json()
    assert now["counts"]["steps"] == done["kept"] + done["new"] > piece["counts"]["steps"]
    assert now["revision"] == saved["revision"]


def test_hours_left_follow_her_own_pace() -> None:
    """A made-up maker who takes twice the estimate: the range comes to hold the truth, and narrows."""
    span, total, pace = (0.6, 1.7), 40.0, 2.0
    found = [(total - done, hours_left(total - done, done, done * pace, span)) for done in (0.0, 2.0, 8.0, 30.0)]
    assert all(left.low < left.likely < left.high for _, left in found)
    wide = [left.high / left.low for _, left in found]
    assert wide == sorted(wide, reverse=True)
    off = [abs(left.likely / (todo * pace) - 1) for todo, left in found]
    assert off == sorted(off, reverse=True)
    assert found[-1][1].low <= found[-1][0] * pace <= found[-1][1].high
