"""Shows on the command line: what they say, their papers, a record begun from a design."""

import io
import json
import re
import shutil
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from PIL import Image

from polestitch.sheets.show.papers import KINDS
from polestitch.showing.codec import read_record
from tests.cli.terminal import Terminal
from tests.sheets.show.measured import images, said
from tests.showing.harbour import harbour, record
from tests.test_summary import DOCS, keys

DESIGN = "examples/quay-lamps.json"


def written(folder: Path, **rest: Any) -> Path:
    path = folder / "show.json"
    path.write_text(json.dumps(harbour(**rest)), encoding="utf-8")
    return path


@pytest.mark.slow
def test_a_show_is_said_and_every_key_is_documented(terminal: Terminal, tmp_path: Path) -> None:
    case = {**harbour()["cases"][1], "width": "20 cm"}
    path = written(tmp_path, cases=[harbour()["cases"][0], case])
    told = json.loads(terminal.run("show", path, "--json").out)
    assert any("would overlap" in sentence for sentence in told["remarks"])
    part = next(part for part in DOCS.read_text(encoding="utf-8").split("\n## ") if "polestitch show SHOW" in part)
    assert set(keys(told)) == set(re.findall(r"^\| `([^`]+)` \|", part, re.MULTILINE))
    table = terminal.run("show", path).out
    for words in ("Harbour Lights", "10 pieces", "9,900 lux hours", "2450 EUR; 1960 EUR after", "! Table: HL-08"):
        assert words in table


@pytest.mark.slow
def test_every_paper_is_written(terminal: Terminal, tmp_path: Path) -> None:
    shutil.copy(DESIGN, tmp_path / "ball.json")
    file = io.BytesIO()
    Image.new("RGB", (300, 200), "#883322").save(file, "JPEG")
    (tmp_path / "photo.jpg").write_bytes(file.getvalue())
    records = [record(k) for k in range(10)]
    records[0] |= {"design": "ball.json"}
    records[1] |= {"photos": [{"file": "photo.jpg", "credit": "C. Wick"}], "design": "ball.json"}
    records[2] |= {"design": "0123456789abcdef"}  # one the studio keeps
    path = written(tmp_path, records=records)
    assert "10 papers written" in terminal.run("show-papers", path, "-o", tmp_path / "papers").out
    names = {name.name for name in (tmp_path / "papers").iterdir()}
    assert names == {f"harbour-lights-{kind}.{'txt' if kind == 'reading-text' else 'pdf'}" for kind in KINDS}
    catalogue = (tmp_path / "papers" / "harbour-lights-catalogue.pdf").read_bytes()
    assert images(catalogue)[0] == 2
    assert "Pictures of HL-01: drawn by Polestitch from the design." in said(catalogue)
    assert "Photographs of HL-02: C. Wick." in said(catalogue)


@pytest.mark.slow
def test_only_the_papers_asked_for_are_written(terminal: Terminal, tmp_path: Path) -> None:
    path = written(tmp_path)
    run = terminal.run(
        "show-papers", path, "-o", tmp_path, "--kind", "labels", "--kind", "price-list", "--paper", "letter"
    )
    assert run.out.startswith("2 papers written")
    assert {name.suffix for name in tmp_path.iterdir()} == {".json", ".pdf"}
    assert len(list(tmp_path.glob("*.pdf"))) == 2


@pytest.mark.slow
def test_mistakes_are_one_sentence_at_their_place(terminal: Terminal, tmp_path: Path) -> None:
    path, out = written(tmp_path), tmp_path / "papers"
    assert "--kind: 'poster'" in terminal.refused("show-papers", path, "-o", out, "--kind", "poster")
    assert "choose a4 or letter" in terminal.refused(
        "show-papers", path, "-o", out, "--kind", "labels", "--paper", "a3"
    )
    assert "is a file" in terminal.refused("show-papers", path, "-o", path)
    assert "there is no such file" in terminal.refused("show", tmp_path / "none.json")
    wrong: list[tuple[dict[str, Any], str]] = [
        ({"design": "none.json"}, 'records[0].design: "none.json" is not there'),
        ({"design": "../ball.json"}, "lies outside the folder of the show"),
        ({"photos": [{"file": "/etc/hostname"}]}, "records[0].photos[0].file: "),
        ({"photos": [{"file": "show.json"}]}, "records[0].photos[0].file: is no photo"),
        ({"design": "show.json"}, "records[0].design: "),
    ]
    for change, told in wrong:
        path = written(tmp_path, records=[{**record(k), **(change if k == 0 else {})} for k in range(10)])
        assert told in terminal.refused("show-papers", path, "-o", out, "--kind", "checklist")
    shutil.copy(DESIGN, tmp_path / "ball.json")
    records = [{**record(k), "design": "ball.json"} for k in range(10)]
    path = written(tmp_path, records=records, shown=[{"number": "HL-01", "facing": "the moon"}])
    assert "shown[0].facing: " in terminal.refused("show-papers", path, "-o", out, "--kind", "checklist")


@pytest.mark.slow
def test_a_record_begins_from_a_design(terminal: Terminal, tmp_path: Path) -> None:
    begun = read_record(terminal.run("record", DESIGN, "--number", "HL-01", "--title", "Ferry Lamps").out)
    assert (begun.number, begun.title, begun.design) == ("HL-01", "Ferry Lamps", "quay-lamps.json")
    assert begun.division == "S16+obi"
    assert begun.hours_estimated
    assert begun.around is None
    terminal.run("record", DESIGN, "--number", "HL-01", "-o", tmp_path / "record.json")
    assert read_record((tmp_path / "record.json").read_text()).title == "Quay lamps"
    assert "--number" in terminal.refused("record", DESIGN, "--number", " ")
    assert "--title" in terminal.refused("record", DESIGN, "--number", "1", "--title", "x" * 81)


@pytest.mark.slow
def test_the_schema_of_a_show_is_printed(terminal: Terminal) -> None:
    schema = json.loads(terminal.run("schema", "--show").out)
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(harbour(), schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(harbour(titel="x"), schema)
