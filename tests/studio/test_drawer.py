"""The drawer over the wire: lists in the habits of several spreadsheets, nearest colours, what designs need."""

import csv
import io
import json
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient

from polestitch.store.drawer import Thread, Words
from polestitch.studio.needs import nearest
from polestitch.studio.thread_lists import read_list, thread_list

PUBLISHED = Path(__file__).parents[1] / "reference" / "ciede2000.csv"
NAVY = {"name": "Navy", "colour": "#1d2b45", "size": "pearl 5", "skein_mm": 25000.0, "left_mm": 12500.0, "price": 3.2}
HABITS = {
    "semicolon, decimal comma, mark of byte order": (
        "\ufeffPrice;Thread;Colour;Size;Skein (m);Left (m)\r\n3,20;Navy;#1d2b45;pearl 5;25;12,5\r\n".encode()
    ),
    "tab, sixteen bits": "Name\tHex\tSize\tSkein length mm\tAmount\tCost\n"
    "Navy\t1d2b45\tpearl 5\t25000\t12.5 m\t3.20\n\t\t\t\t\t\n".encode("utf-16"),
    "comma, quotes, two-byte line ends": b'"Color","Name","Size","Skein","In stock","Price"\r\n'
    b'"#1d2b45","Navy","pearl 5","25 m","1,250 cm","3.20"\r\n',
}


@pytest.mark.parametrize("habit", HABITS)
def test_lists_are_read_in_the_habit_they_were_saved_in(habit: str) -> None:
    lines, faults = read_list(HABITS[habit])
    assert not faults
    assert [line.said for line in lines] == [NAVY]


def test_what_is_wrong_is_told_by_line_and_column() -> None:
    lines, faults = read_list(b"name,colour,skein_mm\nGood,#112233,5\n,#112233,\nBad,blue,\nWorse,,a lot\n")
    assert [line.said["name"] for line in lines] == ["Good"]
    assert [(fault.line, fault.column) for fault in faults] == [(3, "name"), (4, "colour"), (5, "skein_mm")]


def _thread(name: str, colour: str = "#112233", **words: Any) -> Thread:
    return Thread("a" * 32, Words(name, colour=colour, **words), 1234.5, False, "")


def test_our_own_list_comes_back_as_it_was_and_runs_nothing() -> None:
    sly = _thread('=HYPERLINK("http://x")', lot="+1", note='two\nlines, "quoted"; and more', price=2.5)
    data = thread_list([sly])
    cells = list(csv.reader(io.StringIO(data.decode("utf-8-sig"))))[1]
    assert not any(cell.startswith(("=", "+", "-", "@")) for cell in cells)
    (line,), _ = read_list(data)
    assert (line.said["name"], line.said["lot"], line.said["note"]) == (sly.words.name, sly.words.lot, sly.words.note)
    assert (line.said["price"], line.said["left_mm"]) == (2.5, 1234.5)


def test_differences_are_those_published() -> None:
    """Sharma, Wu and Dalal, "The CIEDE2000 color-difference formula", test data: the pairs and their differences."""
    from coloraide import Color

    with PUBLISHED.open() as file:
        for row in csv.DictReader(file):
            one, two = (Color("lab-d65", [float(row[f"{c}{k}"]) for c in ("L", "a", "b")]) for k in (1, 2))
            assert one.delta_e(two, method="2000") == pytest.approx(float(row["delta_e_00"]), abs=1e-4)


def test_the_nearest_comes_first() -> None:
    owned = [_thread("red", "#ff0000"), _thread("orange", "#ff8000"), _thread("blue", "#0000ff")]
    found = nearest("#fe0100", owned)
    assert [thread.words.name for thread, _ in found] == ["red", "orange", "blue"]
    assert found[0][1] < 1


def test_a_list_is_looked_at_before_it_is_taken(client: TestClient) -> None:
    def asked(apply: bool) -> Any:
        file = {"file": ("threads.csv", HABITS["tab, sixteen bits"])}
        return client.post(f"/api/threads/csv?apply={apply}", files=file).json()

    assert [row["action"] for row in asked(False)["read"]] == ["add"]
    assert client.get("/api/threads").json()["threads"] == []
    asked(True)
    assert [row["action"] for row in asked(True)["read"]] == ["same"]
    (thread,) = client.get("/api/threads").json()["threads"]
    assert (thread["name"], thread["left_mm"]) == ("Navy", 12500.0)


@pytest.mark.slow
def test_the_drawer_says_what_is_short(bench: TestClient, bare: dict[str, Any]) -> None:
    card = bench.post("/api/designs/import", files={"file": ("buoy.json", json.dumps(bare))}).json()
    needed = f"/api/threads/needed?designs={card['id']}"
    (before,) = bench.get(needed).json()["threads"]
    bench.post("/api/threads", json={"name": "Red", "colour": "#b5472b", "left_mm": 100, "skein_mm": 500})
    (after,) = bench.get(needed).json()["threads"]
    span = after["needed_mm"]
    assert before["thread"] is None
    assert before["left_mm"] == 0
    assert span["low"] < span["likely"] < span["high"]
    assert after["short_mm"] == pytest.approx(span["high"] - 100, abs=0.2)
    assert after["skeins"] * 500 >= after["short_mm"] > (after["skeins"] - 2) * 500
