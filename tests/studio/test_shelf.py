"""Addresses of the shelf, one straight test each."""

import errno
import io
import json
import sqlite3
from collections.abc import Callable
from typing import Any

import pytest
from fastapi.testclient import TestClient
from PIL import Image

from polestitch.store import designs
from polestitch.store.backups import make_backup
from polestitch.store.store import Store
from polestitch.studio.examples import example_texts
from polestitch.studio.serve import furnish

Raw = dict[str, Any]


def made(client: TestClient, raw: Raw) -> Raw:
    answer = client.post("/api/designs/import", files={"file": ("ball.json", json.dumps(raw), "application/json")})
    assert answer.status_code == 201, answer.text
    return dict(answer.json())


def test_the_first_shelf_holds_harbour_lights(client: TestClient, store: Store) -> None:
    furnish(store)
    shelf = client.get("/api/designs").json()
    assert sorted(card["name"] for card in shelf["cards"]) == ["Quay lamps", "Salt squares", "Winter beacons"]
    assert shelf["tags"] == ["Harbour Lights"]
    assert all(card["wrong"] is None for card in shelf["cards"])


def test_an_emptied_shelf_is_not_filled_again(client: TestClient, store: Store, bare: Raw) -> None:
    card = made(client, bare)
    client.patch(f"/api/designs/{card['id']}", json={"away": True})
    furnish(store)
    assert client.get("/api/designs").json()["total"] == 0


@pytest.mark.parametrize("name", sorted(example_texts()))
def test_a_design_begins_from_an_example(client: TestClient, name: str) -> None:
    answer = client.post("/api/designs", json={"from": "example", "example": name})
    assert answer.status_code == 201
    assert answer.json()["wrong"] is None


def test_a_design_begins_from_a_measure(client: TestClient) -> None:
    card = client.post("/api/designs", json={"from": "empty", "around": " 9.7  in "}).json()
    assert card["around_mm"] == pytest.approx(9.7 * 25.4)
    opened = client.get(f"/api/designs/{card['id']}").json()
    assert opened["document"]["ball"]["around"] == "9.7 in"
    assert opened["base"] == 1


@pytest.mark.parametrize("around", ["5 mm", "long", "1/3 from obi", "9 km"])
def test_a_measure_no_ball_has_is_refused(client: TestClient, around: str) -> None:
    answer = client.post("/api/designs", json={"from": "empty", "around": around})
    assert answer.status_code == 422
    assert answer.json()["where"] == "around"


def test_a_design_begins_as_a_copy_of_an_old_version(client: TestClient, bare: Raw) -> None:
    card = made(client, bare)
    later = {**bare, "notes": "later"}
    client.put(f"/api/designs/{card['id']}", json={"base": 1, "document": later, "tab": "a"})
    copy = client.post("/api/designs", json={"from": "copy", "copy_of": card["id"], "revision": 1}).json()
    assert copy["name"] == "Buoy (copy)"
    assert "notes" not in client.get(f"/api/designs/{copy['id']}").json()["document"]


@pytest.mark.parametrize(
    "wanted", [{"from": "example", "example": "holiday"}, {"from": "copy"}, {"from": "elsewhere"}, {}]
)
def test_a_beginning_that_is_none_is_refused(client: TestClient, wanted: Raw) -> None:
    answer = client.post("/api/designs", json=wanted)
    assert answer.status_code == 422
    assert set(answer.json()) == {"where", "what"}


def test_a_file_that_cannot_be_made_is_kept_and_told(client: TestClient, bare: Raw) -> None:
    bare["layers"][0]["technique"] = 5
    card = made(client, bare)
    assert card["wrong"]["where"] == "layers[0].technique"
    assert client.get(f"/api/designs/{card['id']}").json()["document"] == bare


def test_a_document_with_an_unknown_technique_survives_a_round_trip(client: TestClient, bare: Raw) -> None:
    bare["layers"][0]["technique"] = "moon weaving"
    bare["layers"][0]["params"] = {"phase": [1, {"deep": None}]}
    card = made(client, bare)
    assert json.loads(client.get(f"/api/designs/{card['id']}/document.json").text) == bare


@pytest.mark.parametrize("content", [b"", b"[]", b"GIF89a", b"{", b'{"a": NaN}', b"\xff\xfe{}", b'{"a": 1, "a": 2}'])
def test_a_file_that_is_no_document_is_refused(client: TestClient, content: bytes) -> None:
    answer = client.post("/api/designs/import", files={"file": ("ball.json", content)})
    assert answer.status_code == 422
    assert answer.json()["where"] == "ball.json"


def test_a_save_is_a_revision_with_a_name(client: TestClient, bare: Raw) -> None:
    card = made(client, bare)
    body = {"base": 1, "document": {**bare, "notes": "n"}, "tab": "a", "label": "first"}
    assert client.put(f"/api/designs/{card['id']}", json=body).json() == {"revision": 2}
    path = f"/api/designs/{card['id']}/revisions"
    timeline = client.get(path).json()["revisions"]
    assert [(entry["revision"], entry["label"]) for entry in timeline] == [(2, "first"), (1, None)]
    assert client.patch(f"{path}/1", json={"label": "bare"}).json() == {"label": "bare"}
    assert client.get(path).json()["revisions"][1]["label"] == "bare"
    assert client.get(f"{path}/1").json()["document"] == bare
    assert client.get(f"{path}/3").status_code == 404


def test_two_windows_keep_both_changes(client: TestClient, bare: Raw) -> None:
    card = made(client, bare)
    path = f"/api/designs/{card['id']}"
    client.put(path, json={"base": 1, "document": {**bare, "notes": "one"}, "tab": "one"})
    answer = client.put(path, json={"base": 1, "document": {**bare, "notes": "two"}, "tab": "two"})
    assert answer.status_code == 409
    parted = answer.json()
    assert parted["current"] == 2
    assert parted["kept_as"]["name"] == "Buoy (other window)"
    kept = client.get(f"/api/designs/{parted['kept_as']['id']}").json()["document"]
    assert (kept["notes"], client.get(path).json()["document"]["notes"]) == ("two", "one")


def test_tags_search_and_putting_away(client: TestClient, bare: Raw) -> None:
    card = made(client, bare)
    tagged = client.patch(f"/api/designs/{card['id']}", json={"tags": ["gift", "winter"]}).json()
    assert tagged["tags"] == ["gift", "winter"]
    assert client.get("/api/designs", params={"search": "buoy", "tag": "gift"}).json()["total"] == 1
    assert client.get("/api/designs", params={"search": "lamp"}).json()["total"] == 0
    away = client.patch(f"/api/designs/{card['id']}", json={"away": True}).json()
    assert away["away"]
    assert away["away_until"] is not None
    assert client.get("/api/designs").json()["total"] == 0
    assert client.get("/api/designs", params={"away": True}).json()["total"] == 1


@pytest.mark.slow
def test_a_picture_is_painted_once_and_is_of_its_revision(client: TestClient, bare: Raw) -> None:
    card = made(client, bare)
    first = client.get(card["picture"] + "&size=64")
    assert first.headers["content-type"] == "image/png"
    assert "immutable" in first.headers["cache-control"]
    picture = Image.open(io.BytesIO(first.content))
    assert picture.size == (64, 64)
    assert len(picture.convert("RGB").getcolors(64 * 64) or []) > 50  # a ball, not one flat colour
    bare["threads"][0]["colour"] = "#00ff00"
    client.put(f"/api/designs/{card['id']}", json={"base": 1, "document": bare, "tab": "a"})
    path = f"/api/designs/{card['id']}/picture.png"
    assert client.get(path, params={"r": 1, "size": 64}).content == first.content
    assert client.get(path, params={"r": 2, "size": 64}).content != first.content
    again = client.get(path, params={"r": 1, "size": 64}, headers={"if-none-match": first.headers["etag"]})
    assert again.status_code == 304
    without = client.get(path, params={"r": 1, "size": 64})
    assert (without.content, without.headers["cache-control"]) == (first.content, "private, no-cache")


@pytest.mark.slow
def test_painting_tells_the_shelf_what_cannot_be_made(client: TestClient, bare: Raw) -> None:
    bare["layers"][0]["where"] = "the moon"
    card = made(client, bare)
    assert card["wrong"] is None  # the document alone does not know
    assert client.get(card["picture"] + "&size=64").status_code == 200
    told = client.get(f"/api/designs/{card['id']}").json()["card"]
    assert told["wrong"]["where"] == "layers[0].where"


def test_everything_goes_out_as_one_file_and_comes_back(client: TestClient, bare: Raw, store: Store) -> None:
    made(client, bare)
    data = client.get("/api/archive.zip").content
    assert [path for path in store.folder.iterdir() if path.suffix == ".part"] == []
    answer = client.post("/api/archive", files={"file": ("shelf.zip", data)})
    assert answer.json() == {"added": 0, "already": 1}
    refused = client.post("/api/archive", files={"file": ("shelf.zip", data[:-30])})
    assert refused.status_code == 422
    assert "nothing of it was taken" in refused.json()["what"]


def test_a_backup_brings_the_shelf_back(client: TestClient, bare: Raw, store: Store) -> None:
    furnish(store)
    name = make_backup(store, "of-the-test")
    made(client, bare)
    before = client.post(f"/api/backups/{name}/restore").json()["before"]
    assert client.get("/api/designs").json()["total"] == 3
    assert before in [backup["name"] for backup in client.get("/api/backups").json()["backups"]]
    assert client.post("/api/backups/2000-01-01.db/restore").status_code == 422


def test_a_full_disk_is_said_plainly_and_loses_nothing(client: TestClient, bare: Raw, store: Store) -> None:
    card = made(client, bare)
    with store.engine.connect() as connection:
        pages = connection.exec_driver_sql("PRAGMA page_count").scalar()
        connection.exec_driver_sql(f"PRAGMA max_page_count = {pages}")
    path = f"/api/designs/{card['id']}"
    answer = client.put(path, json={"base": 1, "document": {**bare, "notes": "n" * 15000}, "tab": "a"})
    assert answer.status_code == 507
    assert answer.json()["where"] == "disk"
    assert client.get(path).json()["document"] == bare

    with store.engine.connect() as connection:
        connection.exec_driver_sql("PRAGMA max_page_count = 100000")
    assert client.put(path, json={"base": 1, "document": {**bare, "notes": "room"}, "tab": "a"}).status_code == 200


def disk_full() -> OSError:
    return OSError(errno.ENOSPC, "No space left on device")


def database_full() -> sqlite3.Error:
    error = sqlite3.OperationalError("database or disk is full")
    error.sqlite_errorcode = sqlite3.SQLITE_FULL
    return error


@pytest.mark.parametrize("reason", [disk_full, database_full])
def test_a_backup_without_room_is_said_plainly_and_changes_nothing(
    client: TestClient, bare: Raw, store: Store, monkeypatch: pytest.MonkeyPatch, reason: Callable[[], Exception]
) -> None:
    name = make_backup(store, "of-the-test")
    made(client, bare)

    def full(*_: object) -> None:
        raise reason()

    monkeypatch.setattr("polestitch.store.backups.copy_database", full)
    answer = client.post(f"/api/backups/{name}/restore")
    assert (answer.status_code, answer.json()["where"]) == (507, "disk")
    assert client.get("/api/designs").json()["total"] == 1


def test_what_is_not_there_is_said_to_be_missing(client: TestClient) -> None:
    for path in ("designs/" + "0" * 32, "designs/" + "0" * 32 + "/revisions", "nothing", "jobs/" + "0" * 32):
        answer = client.get(f"/api/{path}")
        assert answer.status_code == 404
        assert answer.json()["what"]


def test_the_store_gives_back_what_the_address_took(client: TestClient, store: Store, bare: Raw) -> None:
    card = made(client, bare)
    assert designs.document(store, card["id"])[1] == bare
