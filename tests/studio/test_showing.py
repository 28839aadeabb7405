"""Pieces and shows over the wire: what is known is proposed, what she writes is kept, papers come out."""

import io
import json
import time
import zipfile
from typing import Any, get_args

import pytest
from fastapi.testclient import TestClient
from PIL import Image

from polestitch.sheets.show.papers import KINDS
from polestitch.studio.messages_showing import PaperKind
from polestitch.studio.records import from_design, next_number

pytestmark = pytest.mark.slow
Raw = dict[str, Any]


@pytest.fixture
def design(client: TestClient, bare: Raw) -> str:
    return str(client.post("/api/designs/import", files={"file": ("b.json", json.dumps(bare))}).json()["id"])


@pytest.fixture
def record(client: TestClient, design: str) -> Raw:
    answer = client.post("/api/records", json={"design": design})
    assert answer.status_code == 201
    return dict(answer.json())


def keep(client: TestClient, opened: Raw, tab: str = "one", **words: Any) -> Any:
    body = {"base": opened["version"], "record": {**opened["record"], **words}, "tab": tab}
    return client.put(f"/api/records/{opened['id']}", json=body)


def photo(colour: str = "#335577") -> bytes:
    """A photo that says where it was taken."""
    file = io.BytesIO()
    told = Image.Exif()
    told[0x010E] = "Taken on the quay"
    Image.new("RGB", (640, 480), colour).save(file, "JPEG", exif=told)
    return file.getvalue()


def with_photo(client: TestClient, record: Raw, colour: str = "#335577") -> Raw:
    answer = client.post(f"/api/records/{record['id']}/photos", files={"file": ("p.jpg", photo(colour))})
    assert answer.status_code == 201
    return dict(answer.json())


def show_of(client: TestClient, *numbers: str, **words: Any) -> Raw:
    opened = client.post("/api/shows", json={"title": "Winter quay"}).json()
    shown = [{"number": number, "case": "Window"} for number in numbers]
    case = {"name": "Window", "width": "60 cm", "depth": "30 cm", "shelves": [{"clear": "25 cm"}]}
    body = {**opened["show"], "cases": [case], "shown": shown, **words}
    answer = client.put(f"/api/shows/{opened['id']}", json={"base": opened["version"], "show": body, "tab": "one"})
    assert answer.status_code == 200, answer.text
    return dict(answer.json())


@pytest.mark.parametrize(
    ("numbers", "then"),
    [
        ((), "01"),
        (("HL-09",), "HL-10"),
        (("HL-09", "2026/3"), "2026/4"),
        (("HL-99",), "HL-100"),
        (("HL-02", "HL-03", "HL-01"), "HL-04"),
        (("7 b",), "8 b"),
        (("HL-09", "lamp"), "HL-10"),
        (("lamp",), "01"),
    ],
)
def test_the_next_number_goes_on_as_hers_do(numbers: tuple[str, ...], then: str) -> None:
    # "HL-02, HL-03, HL-01": after the last one given, the next that is free.
    assert next_number(numbers) == then


def test_only_what_the_design_says_is_known() -> None:
    assert from_design({"name": "Buoy"}) == {"title": "Buoy"}
    assert from_design({"threads": [{"name": "red", "colour": "#ff0000"}]}) == {
        "title": "Untitled",
        "threads": [{"name": "red"}],
    }


def test_a_record_begins_with_what_its_design_says(record: Raw, design: str) -> None:
    told = record["record"]
    assert (told["number"], told["title"], told["division"], told["pattern"]) == ("01", "Buoy", "S6", "Uwagake")
    assert (told["design"], record["design_name"]) == (design, "Buoy")
    assert told["threads"] == [{"name": "red", "fibre": "", "colour": ""}]
    # A plan is no measurement.
    assert told["around"] is None
    assert told["hours"] is None


def test_a_record_begins_with_what_was_written_down_at_the_chair(client: TestClient, design: str) -> None:
    wanted = {"design": design, "name": "First buoy", "measured": {"pole_to_pole": ["20.2 cm", "20.4 cm"]}}
    piece = client.post("/api/pieces", json=wanted).json()
    address, steps = f"/api/pieces/{piece['piece']['id']}", piece["counts"]["steps"]
    plain = {"device": "tablet", "at": "2026-12-06T10:00:00Z"}
    told = [
        {**plain, "id": "1" * 32, "seq": 1, "clock": 1, "kind": "sit", "what": "start"},
        {**plain, "id": "2" * 32, "seq": 2, "clock": 2, "kind": "jump", "step": 0, "to": steps, "between": "done"},
        {**plain, "id": "3" * 32, "seq": 3, "clock": 3, "kind": "hours", "sitting": "1" * 32, "minutes": 90},
    ]
    assert client.post(f"{address}/events", json={"events": told}).status_code == 200
    client.post(f"{address}/photos", files={"file": ("p.jpg", photo())})
    record = client.post("/api/records", json={"piece": piece["piece"]["id"]}).json()
    words = record["record"]
    assert (words["title"], words["around"], words["hours"]) == ("First buoy", "20.3 cm", 1.5)
    assert (words["begun"], words["finished"]) == (piece["piece"]["last"][:10], "2026-12-06")
    assert record["chair_photos"] == 1
    taken = client.post(f"/api/records/{record['id']}/photos/from-chair").json()
    assert (len(taken["record"]["photos"]), taken["chair_photos"]) == (1, 0)


def test_what_is_wrong_is_said_at_its_place_and_nothing_is_lost(client: TestClient, record: Raw) -> None:
    answer = keep(client, record, price="240")
    assert answer.status_code == 422
    assert answer.json()["where"] == "price"
    assert "240 EUR" in answer.json()["what"]
    assert client.get(f"/api/records/{record['id']}").json() == record


def test_two_windows_do_not_write_over_each_other(client: TestClient, record: Raw) -> None:
    assert keep(client, record, care="Dust it.").status_code == 200
    answer = keep(client, record, tab="two", care="Wash it.")
    assert answer.status_code == 409
    assert "another window" in answer.json()["what"]
    versions = client.get(f"/api/records/{record['id']}/versions").json()["versions"]
    assert [each["body"].get("care") for each in versions] == ["Dust it.", None]


def test_a_photo_keeps_nothing_but_its_pixels_and_comes_back(client: TestClient, record: Raw) -> None:
    opened = with_photo(client, with_photo(client, record), "#aa3311")
    first, second = (each["file"] for each in opened["record"]["photos"])
    data = client.get(f"/api/records/{record['id']}/photos/{first}").content
    assert b"quay" not in data
    assert not Image.open(io.BytesIO(data)).getexif()
    turned = keep(client, opened, photos=[{"file": second, "words": "From the left"}]).json()
    assert [each["file"] for each in turned["record"]["photos"]] == [second]
    assert turned["kept_photos"] == [first, second]
    back = keep(client, turned, photos=[{"file": second}, {"file": first}])
    assert back.status_code == 200
    assert keep(client, back.json(), photos=[{"file": "0" * 32}]).json()["where"] == "photos[0].file"


def test_a_card_shows_the_photo_else_the_design_else_nothing(client: TestClient, record: Raw) -> None:
    drawn = client.get(record["picture"] + "&size=64")
    assert drawn.headers["content-type"] == "image/png"
    assert Image.open(io.BytesIO(drawn.content)).size == (64, 64)
    shown = client.get(with_photo(client, record)["picture"] + "&size=64")
    assert shown.headers["content-type"] == "image/jpeg"
    assert Image.open(io.BytesIO(shown.content)).size == (64, 48)
    empty = client.post("/api/records", json={}).json()
    assert empty["picture"] is None
    assert client.get(f"/api/records/{empty['id']}/picture").status_code == 404


def test_put_away_and_brought_back(client: TestClient, record: Raw) -> None:
    client.patch(f"/api/records/{record['id']}", json={"away": True})
    assert client.get("/api/records").json() == {"records": [], "next_number": "01"}
    assert [card["title"] for card in client.get("/api/records?away=true").json()["records"]] == ["Buoy"]
    client.patch(f"/api/records/{record['id']}", json={"away": False})
    assert client.get("/api/records").json()["next_number"] == "02"


def test_a_show_tells_where_everything_stands(client: TestClient, record: Raw) -> None:
    keep(client, record, around="314.16 mm")
    show = show_of(client, "01", lux=50, hours_a_day=8, opens="2026-12-01", closes="2026-12-10")
    told = client.get(f"/api/shows/{show['id']}/check").json()
    ((case,), (ball,)) = told["cases"], told["cases"][0]["shelves"][0]["balls"]
    # 314.16 mm round is 100 mm across; alone on 60 cm it stands in the middle: geometry.
    assert (case["width"], ball["x"], ball["back"]) == (600, 300, 150)
    assert ball["diameter"] == pytest.approx(100, abs=0.01)
    assert told["lux_hours"] == 50 * 8 * 10


def test_a_show_names_only_pieces_that_have_a_record(client: TestClient, record: Raw) -> None:
    show = show_of(client, "01")
    body = {**show["show"], "shown": [{"number": "01"}, {"number": "02"}]}
    answer = client.put(f"/api/shows/{show['id']}", json={"base": show["version"], "show": body})
    assert (answer.status_code, answer.json()["where"]) == (422, "shown[1].number")


def finished(client: TestClient, job: str) -> Raw:
    for _ in range(600):
        report = client.get(f"/api/jobs/{job}").json()
        if report["state"] not in ("waiting", "running"):
            return dict(report)
        time.sleep(0.1)
    raise AssertionError("the papers take longer than a minute")


def papers(client: TestClient, show: Raw, *kinds: str) -> Raw:
    job = client.post(f"/api/shows/{show['id']}/papers", json={"kinds": kinds}).json()["job"]
    return finished(client, job)


def test_papers_come_as_one_file(client: TestClient, record: Raw) -> None:
    keep(client, record, around="24 cm", text="A buoy for the harbour mouth.")
    show = show_of(client, "01")
    report = papers(client, show, "labels", "reading-text")
    assert (report["state"], report["name"]) == ("done", "winter-quay-papers.zip"), report
    with zipfile.ZipFile(io.BytesIO(client.get(report["file"]).content)) as file:
        assert sorted(file.namelist()) == ["winter-quay-labels.pdf", "winter-quay-reading-text.txt"]
        assert "A buoy for the harbour mouth." in file.read("winter-quay-reading-text.txt").decode()


def test_papers_of_an_empty_show_say_what_is_missing(client: TestClient) -> None:
    report = papers(client, show_of(client), "labels")
    assert report["wrong"] == {"where": "shown", "what": "no piece is in the show yet; add one"}


def test_every_paper_can_be_asked_for() -> None:
    assert get_args(PaperKind) == KINDS


def listed(client: TestClient, content: bytes, apply: bool) -> Raw:
    answer = client.post(f"/api/records/csv?apply={apply}", files={"file": ("pieces.csv", content)})
    assert answer.status_code == 200, answer.text
    return dict(answer.json())


# RFC 4180; and the habit of where the comma is the decimal sign, with semicolons and a mark of byte order.
@pytest.mark.parametrize(
    "content",
    [
        b'Number,Title,Circumference,Price,Hours\r\n01,"Buoy, red",24.5 cm,"12.50 GBP",3.5\r\nX-2,Bell,,,\r\n',
        "\ufeffNumber;Title;around;price;hours\n01;Buoy, red;24,5 cm;12,50 GBP;3,5\nX-2;Bell;;;\n".encode(),
        "number\ttitle\taround\tprice\thours\n01\tBuoy, red\t24.5 cm\t12.50 GBP\t3.5\nX-2\tBell\n".encode("utf-16"),
    ],
)
def test_a_list_is_looked_at_before_it_is_taken(client: TestClient, record: Raw, content: bytes) -> None:
    looked = [{"number": "01", "title": "Buoy, red", "action": "change"}]
    looked.append({"number": "X-2", "title": "Bell", "action": "add"})
    assert listed(client, content, False) == {"read": looked, "wrong": []}
    assert client.get(f"/api/records/{record['id']}").json() == record
    listed(client, content, True)
    told = client.get(f"/api/records/{record['id']}").json()["record"]
    assert (told["around"], told["price"], told["hours"], told["division"]) == ("24.5 cm", "12.50 GBP", 3.5, "S6")
    assert [line["action"] for line in listed(client, content, True)["read"]] == ["same", "same"]


def test_a_list_that_was_saved_reads_back_as_it_is(client: TestClient, record: Raw) -> None:
    keep(client, record, text="=1+1, said the lamp\nand went out", place={"where": "lent", "with_whom": "The pilots"})
    saved = client.get("/api/records.csv").content
    assert [line["action"] for line in listed(client, saved, False)["read"]] == ["same"]


def test_what_cannot_be_read_is_said_by_line_and_column(client: TestClient, record: Raw) -> None:
    wrong = listed(client, b"number,title,price,shoe\n01,Buoy,240,9\n02,Bell,,\n02,Bell,,\n,Lamp,,\n", False)["wrong"]
    assert [(fault["line"], fault["column"]) for fault in wrong] == [
        (1, "shoe"),
        (2, "price"),
        (4, "number"),
        (5, "number"),
    ]
    answer = client.post("/api/records/csv", files={"file": ("a.csv", b"shoe\n9\n")})
    assert 'no column called "number"' in answer.json()["what"]
