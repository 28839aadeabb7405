"""Addresses of the bench: scenes, figures, looks, catalogues, things to take away."""

import io
import json
import struct
import time
from typing import Any

import numpy as np
import pypdf
import pytest
import trimesh
from fastapi.testclient import TestClient
from PIL import Image

from polestitch.document.codec import read
from polestitch.pipeline import build
from polestitch.scene import decoded, encoded, scene
from polestitch.studio.studio import Studio

pytestmark = pytest.mark.slow  # the first to ask starts a worker process
Raw = dict[str, Any]


def asked(bench: TestClient, raw: Raw, question: int, tab: str = "tab") -> Any:
    return bench.post("/api/build", json={"document": raw, "question": question, "tab": tab})


def test_a_document_comes_back_as_the_scene_of_its_build(bench: TestClient, bare: Raw) -> None:
    answer = asked(bench, bare, 1)
    assert answer.headers["content-type"] == "application/octet-stream"
    assert answer.content == encoded(scene(build(read(json.dumps(bare))), 1))


def test_a_design_that_cannot_be_made_shows_the_rest_and_says_where(bench: TestClient, lamps: Raw) -> None:
    lamps["layers"][1]["where"] = "the moon"
    shown = decoded(asked(bench, lamps, 2).content)
    assert shown.index["wrong"]["where"] == "layers[1].where"
    layers = shown.index["layers"]
    assert [layer["name"] for layer in layers] == [layer["name"] for layer in lamps["layers"]]
    assert [layer["motifs"] > 0 for layer in layers] == [True, False, True, True]
    assert set(shown.arrays["row_layer"].tolist()) == {0, 2, 3}


@pytest.mark.parametrize(
    ("change", "where"),
    [
        ({"layers": "none"}, "layers"),
        ({"threads": []}, "threads"),
        ({"marking": {"division": "S1"}}, "marking.division"),
        ({"ball": {"around": "1 mm"}}, "ball.around"),
        ({"ball": 5}, "ball"),
        ({"format": 99}, "format"),
        ({"colour of the moon": 1}, "colour of the moon"),
    ],
)
def test_whatever_is_wrong_there_is_a_scene_that_says_so(bench: TestClient, bare: Raw, change: Raw, where: str) -> None:
    answer = asked(bench, {**bare, **change}, 3)
    assert answer.status_code == 200
    shown = decoded(answer.content)
    assert shown.index["wrong"]["where"].startswith(where)
    assert shown.index["wrong"]["what"]


def test_an_empty_ball_shows_its_marking(bench: TestClient, bare: Raw) -> None:
    shown = decoded(asked(bench, {**bare, "layers": []}, 4).content)
    assert shown.index["wrong"] is None
    assert (shown.index["rows"], len(shown.index["guidelines"])) == (0, 3)


def test_an_older_question_is_told_that_it_came_too_late(bench: TestClient, bare: Raw) -> None:
    assert asked(bench, bare, 9, "late").status_code == 200
    answer = asked(bench, bare, 8, "late")
    assert (answer.status_code, answer.json()) == (409, {"where": "question", "what": "superseded"})
    assert asked(bench, bare, 8, "another window").status_code == 200


def test_figures_tell_findings_thread_hours_and_pins(bench: TestClient, lamps: Raw) -> None:
    lamps["layers"][0]["rows"] = "30 amber"
    told = bench.post("/api/figures", json={"document": lamps, "question": 1, "tab": "figures"}).json()
    assert {amount["name"] for amount in told["estimate"]["threads"]} == {t["name"] for t in lamps["threads"]}
    assert told["hours"]["low"] < told["hours"]["likely"] < told["hours"]["high"]
    assert 0 < told["cover"] <= 1
    assert told["pins"][0]["point"] == "N"
    overrun = next(finding for finding in told["findings"] if finding["kind"] == "overrun")
    assert np.linalg.norm(overrun["xyz"]) == pytest.approx(1, abs=1e-4)
    assert overrun["remedy"]["path"] == "layers[0].rows"


def test_a_finding_turns_the_ball_to_its_worst_spot(bench: TestClient, lamps: Raw) -> None:
    # A kiku of 30 rows runs past the obi: its spot is the farthest tip, not the motif's middle at N.
    lamps["layers"][0]["rows"] = "30 amber"
    told = bench.post("/api/figures", json={"document": lamps, "question": 4, "tab": "spot"}).json()
    overrun = next(finding for finding in told["findings"] if finding["kind"] == "overrun")
    assert overrun["address"] == "N"
    assert overrun["xyz"][2] < 0


def test_pins_are_told_in_her_units(bench: TestClient, bare: Raw) -> None:
    def words(units: str, question: int) -> str:
        raw = {**bare, "maker": {"units": units}}
        told = bench.post("/api/figures", json={"document": raw, "question": question, "tab": "pins"}).json()
        return str(told["pins"][1]["words"])

    # S lies half way round a ball of 20 cm: 100 mm, and 3 15/16 in on a ruler with sixteenths.
    assert words("mm", 1) == "100 mm from N"
    assert words("in", 2) == "3 15/16 in (100.0 mm) from N"


def test_the_remedy_of_a_finding_cures_it(bench: TestClient, lamps: Raw) -> None:
    lamps["layers"][0]["rows"] = "30 amber"
    first = bench.post("/api/figures", json={"document": lamps, "question": 2, "tab": "cure"}).json()
    overrun = next(finding for finding in first["findings"] if finding["kind"] == "overrun")
    lamps["layers"][0]["rows"] = overrun["remedy"]["value"]
    second = bench.post("/api/figures", json={"document": lamps, "question": 3, "tab": "cure"}).json()
    cured = [f for f in second["findings"] if f["kind"] == "overrun" and f["layer"] == 0]
    assert cured == []


def test_findings_of_half_a_design_carry_the_document_s_layer_numbers(bench: TestClient, lamps: Raw) -> None:
    lamps["layers"].insert(0, {"name": "moon", "technique": "star", "where": "the moon", "rows": "1 amber"})
    lamps["layers"][1]["rows"] = "30 amber"
    told = bench.post("/api/figures", json={"document": lamps, "question": 1, "tab": "half"}).json()
    overrun = next(finding for finding in told["findings"] if finding["kind"] == "overrun")
    assert (overrun["layer"], overrun["remedy"]["path"]) == (1, "layers[1].rows")
    assert told["wrong"]["where"] == "layers[0].where"


def test_a_look_is_a_picture_of_its_size_clear_round_the_ball(bench: TestClient, bare: Raw) -> None:
    answer = bench.post("/api/look", params={"size": 48}, json={"document": bare})
    picture = Image.open(io.BytesIO(answer.content))
    assert (picture.size, picture.mode) == ((48, 48), "RGBA")
    assert np.asarray(picture)[0, 0, 3] == 0
    assert np.asarray(picture)[22, 24, 3] == 255


def test_techniques_bring_their_forms_and_places(bench: TestClient) -> None:
    listed = bench.get("/api/techniques", params={"division": "C10"}).json()
    uwagake = next(entry for entry in listed if entry["name"] == "uwagake")
    assert uwagake["place"] == "centre"
    assert {"outer", "inner"} <= set(uwagake["schema"]["properties"])
    assert "all triangles" in uwagake["where"]
    band = next(entry for entry in listed if entry["name"] == "band")
    assert "all equators" in band["where"]
    assert all(entry["sentence"] for entry in listed)


def test_every_place_offered_can_be_worked(bench: TestClient, bare: Raw) -> None:
    offered = set()
    # Some techniques need six lines or faces: each must be at home on one of these.
    for division in ("S8+obi", "C8", "S6+obi"):
        for entry in bench.get("/api/techniques", params={"division": division}).json():
            offered |= {entry["name"]} if entry["where"] else set()
            for where in entry["where"]:
                layer = {"name": "x", "technique": entry["name"], "where": where, "rows": "1 red"}
                raw = {**bare, "marking": {"division": division}, "layers": [layer]}
                wrong = decoded(asked(bench, raw, 5, f"{division} {where}").content).index["wrong"]
                assert wrong is None or not wrong["where"].startswith("layers[0].where"), wrong
    assert offered == {entry["name"] for entry in bench.get("/api/techniques").json()}


def test_divisions_are_told_in_plain_words(bench: TestClient) -> None:
    listed = {entry["name"]: entry for entry in bench.get("/api/divisions").json()}
    assert listed["C10"]["plain"] == "12 centres in pentagons, 20 triangles, 30 diamonds"
    assert listed["C10"]["counts"] == {"centre": 12, "triangle": 20, "diamond": 30}
    one = bench.get("/api/divisions/C8", params={"around": "250 mm"}).json()
    assert (one["around_mm"], len(one["points"]), one["plain"]) == (250.0, 26, listed["C8"]["plain"])
    assert bench.get("/api/divisions/C9").status_code == 422
    many = bench.get("/api/divisions/C10%2F32", params={"around": "300 mm"}).json()
    assert (
        many["division"]
        == bench.get("/api/divisions/C10/32", params={"around": "300 mm"}).json()["division"]
        == "C10/32"
    )


def begun(bench: TestClient, kind: str, raw: Raw, **options: Any) -> str:
    answer = bench.post("/api/jobs", json={"kind": kind, "document": raw, "options": options})
    assert answer.status_code == 201, answer.text
    return str(answer.json()["job"])


def ended(bench: TestClient, job: str) -> Raw:
    for _ in range(1200):
        report = dict(bench.get(f"/api/jobs/{job}").json())
        if report["state"] not in ("waiting", "running"):
            return report
        time.sleep(0.05)
    raise AssertionError("the job does not end")


def taken(bench: TestClient, kind: str, raw: Raw, **options: Any) -> tuple[str, bytes]:
    job = begun(bench, kind, raw, **options)
    report = ended(bench, job)
    assert (report["state"], report["share"]) == ("done", 1.0), report
    answer = bench.get(report["file"])
    assert report["name"] in answer.headers["content-disposition"]
    return answer.headers["content-type"], answer.content


def test_the_booklet_opens_as_pdf(bench: TestClient, bare: Raw) -> None:
    media, data = taken(bench, "booklet", bare, paper="letter")
    pages = pypdf.PdfReader(io.BytesIO(data)).pages
    assert media == "application/pdf"
    assert float(pages[0].mediabox.width) == pytest.approx(8.5 * 72, abs=0.1)
    assert "Buoy" in "".join(page.extract_text() for page in pages)


def test_the_strip_opens_as_pdf(bench: TestClient, bare: Raw) -> None:
    _, data = taken(bench, "strip", bare)
    assert "200 mm" in "".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages)


def test_charts_come_as_pdf_or_svg(bench: TestClient, bare: Raw) -> None:
    media, data = taken(bench, "charts", bare)
    assert media == "application/pdf"
    assert "petals" in pypdf.PdfReader(io.BytesIO(data)).pages[0].extract_text()
    media, data = taken(bench, "charts", bare, format="svg")
    assert media.startswith("image/svg+xml")
    assert data.startswith(b"<svg")


def test_a_picture_has_her_size_and_a_clear_page(bench: TestClient, bare: Raw) -> None:
    _, data = taken(bench, "picture", bare, size=200, transparent=True, facing="S")
    picture = Image.open(io.BytesIO(data))
    assert (picture.size, picture.mode) == ((200, 200), "RGBA")
    assert np.asarray(picture)[0, 0, 3] == 0


def test_the_model_opens_in_other_readers_at_true_size(bench: TestClient, bare: Raw) -> None:
    media, data = taken(bench, "model", bare)
    assert media == "model/gltf-binary"
    # glTF 2.0, section 4.4 (binary layout, from memory): magic, version, length; then the JSON chunk.
    assert struct.unpack_from("<4sII", data) == (b"glTF", 2, len(data))
    length, kind = struct.unpack_from("<I4s", data, 12)
    told = json.loads(data[20 : 20 + length])
    assert kind == b"JSON"
    assert len(told["meshes"]) == 2  # the ground, and one thread
    assert all("NORMAL" in mesh["primitives"][0]["attributes"] for mesh in told["meshes"])
    loaded = trimesh.load_scene(io.BytesIO(data), file_type="glb")
    radius = 0.2 / (2 * np.pi)  # metres: the ball is 20 cm round
    assert loaded.extents.max() / 2 == pytest.approx(radius, rel=0.05)
    assert loaded.extents.min() / 2 >= radius * 0.999
    colours = [geometry.visual.material.baseColorFactor for geometry in loaded.geometry.values()]
    assert len({tuple(np.asarray(colour).tolist()) for colour in colours}) == 2


def test_the_document_comes_as_it_is(bench: TestClient, bare: Raw) -> None:
    bare["layers"][0]["technique"] = "moon weaving"  # it need not be possible to take it away
    _, data = taken(bench, "document", bare)
    assert json.loads(data) == bare


def test_a_job_that_cannot_be_done_says_why(bench: TestClient, bare: Raw) -> None:
    bare["layers"][0]["where"] = "the moon"
    report = ended(bench, begun(bench, "booklet", bare))
    assert report["state"] == "failed"
    assert report["wrong"]["where"] == "layers[0].where"
    assert bench.get(f"/api/jobs/{begun(bench, 'model', {**bare, 'layers': []})}").status_code == 200


def test_a_long_job_tells_how_far_it_is_and_stops_at_once(bench: TestClient, bare: Raw) -> None:
    job = begun(bench, "turntable", bare, size=64)
    shares = set[float]()
    while len(shares) < 3:
        report = bench.get(f"/api/jobs/{job}").json()
        assert report["state"] in ("waiting", "running")
        shares.add(report["share"])
        time.sleep(0.05)
    began = time.monotonic()
    assert bench.delete(f"/api/jobs/{job}").json()["state"] == "stopped"
    assert time.monotonic() - began < 1
    assert bench.get(f"/api/jobs/{job}/file").status_code == 404
    _, data = taken(bench, "document", bare)  # the next one gets a new worker
    assert json.loads(data) == bare


def test_a_job_whose_worker_dies_says_so_and_the_next_one_works(client: TestClient, studio: Studio, bare: Raw) -> None:
    job = begun(client, "turntable", bare, size=64)
    while client.get(f"/api/jobs/{job}").json()["share"] < 0.05:
        time.sleep(0.05)
    studio.makers._workers[0]._process.kill()
    report = ended(client, job)
    assert (report["state"], "your design is safe" in report["wrong"]["what"]) == ("failed", True)
    assert json.loads(taken(client, "document", bare)[1]) == bare


def photo(size: tuple[int, int] = (90, 60), kind: str = "PNG") -> bytes:
    picture = Image.new("RGB", size, "#16233a")
    picture.paste("#e0952f", (0, 0, size[0] // 3, size[1]))
    file = io.BytesIO()
    picture.save(file, kind)
    return file.getvalue()


def colours(bench: TestClient, data: bytes) -> Any:
    return bench.post("/api/palette", files={"file": ("photo.png", data)})


def test_a_photo_gives_its_colours_the_commonest_first(bench: TestClient) -> None:
    assert colours(bench, photo()).json() == {"colours": ["#16233a", "#e0952f"]}
    assert len(colours(bench, photo(kind="JPEG")).json()["colours"]) >= 2
    assert colours(bench, photo(kind="WEBP")).status_code == 200


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"not a photo",
        photo()[:60],
        b"GIF89a" + bytes(60),
        b"<svg xmlns='http://www.w3.org/2000/svg'><script/></svg>",
        b"%PDF-1.4 " + photo(),
    ],
    ids=["nothing", "text", "torn", "gif", "svg", "a PDF with a photo in it"],
)
def test_what_is_no_photo_is_refused(bench: TestClient, data: bytes) -> None:
    answer = colours(bench, data)
    assert answer.status_code == 422
    assert answer.json()["where"] == "file"


def test_a_picture_that_unfolds_to_a_giant_is_refused(bench: TestClient) -> None:
    bomb = photo((12000, 6000))
    assert len(bomb) < 1_000_000
    assert "60 million" in colours(bench, bomb).json()["what"]
    liar = bytearray(photo())
    liar[16:24] = (60000).to_bytes(4, "big") * 2  # width and height in the header of a PNG
    assert colours(bench, bytes(liar)).status_code == 422


def test_what_follows_a_photo_in_its_file_goes_nowhere(bench: TestClient) -> None:
    hidden = b"<script>alert(1)</script>"
    answer = colours(bench, photo() + hidden)
    assert answer.json() == {"colours": ["#16233a", "#e0952f"]}
