"""What each command gives when nothing is wrong."""

import io
import json
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
from PIL import Image
from pypdf import PdfReader

from polestitch.cli.printing import patience
from polestitch.marking.divisions import COMBINATIONS
from polestitch.stitching.technique import names
from tests.cli.conftest import EXAMPLES
from tests.cli.terminal import Terminal

WORK_KEYS = [
    "ball",
    "marking",
    "layers",
    "threads",
    "crossings",
    "cover",
    "buildup_max",
    "findings",
    "symmetry",
    "hours",
]


@pytest.mark.slow
@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.json")), ids=lambda path: path.stem)
def test_work_prints_every_figure_of_a_demo(terminal: Terminal, path: Path) -> None:
    said = terminal.run("work", path, "--json")
    assert said.status == 0
    payload = json.loads(said.out)
    assert list(payload) == WORK_KEYS
    assert all(layer["rows"] > 0 for layer in payload["layers"])


def test_work_reads_well_without_json(terminal: Terminal, design: Path) -> None:
    said = terminal.run("work", design)
    raw = json.loads(design.read_text(encoding="utf-8"))
    assert said.status == 0
    assert raw["name"] in said.out
    assert all(layer["name"] in said.out for layer in raw["layers"])
    assert all(thread["name"] in said.out for thread in raw["threads"])
    assert "hours of work" in said.out


def test_a_measured_ball_takes_the_place_of_the_planned_one(terminal: Terminal, small: Path) -> None:
    planned = json.loads(terminal.run("work", small, "--json").out)
    measured = json.loads(terminal.run("work", small, "--around", "22 cm", "--json").out)
    assert (planned["ball"]["around_mm"], measured["ball"]["around_mm"]) == (200, pytest.approx(220))
    assert measured["layers"][0]["laid_mm"]["red"] > planned["layers"][0]["laid_mm"]["red"]


@pytest.mark.slow
def test_a_ball_that_is_only_marked_works_everywhere(terminal: Terminal, small: Path) -> None:
    raw = json.loads(small.read_text(encoding="utf-8"))
    small.write_text(json.dumps({**raw, "layers": []}), encoding="utf-8")
    assert json.loads(terminal.run("work", small, "--json").out)["layers"] == []
    assert terminal.run("work", small).status == 0
    for name in ("booklet.pdf", "ball.png", "ball.svg"):
        output = small.parent / name
        assert terminal.run("sheets" if name.endswith("pdf") else "picture", small, "-o", output).status == 0
        assert output.stat().st_size > 500


def test_check_prints_the_findings_of_work(terminal: Terminal, small: Path) -> None:
    found = json.loads(terminal.run("check", small, "--json").out)
    assert found["name"] == "Buoy"
    assert found["findings"] == json.loads(terminal.run("work", small, "--json").out)["findings"]


def test_check_says_what_to_do(terminal: Terminal, small: Path) -> None:
    text = small.read_text(encoding="utf-8").replace('"#b33"', '"#b33", "have": "10 mm"')
    small.write_text(text, encoding="utf-8")
    findings = json.loads(terminal.run("check", small, "--json").out)["findings"]
    said = " ".join(terminal.run("check", small).out.split())
    assert findings
    assert all(finding["sentence"] in said for finding in findings)


@pytest.mark.parametrize("division", ["S8", "s12+obi", "C10"])
def test_marking_prints_points_and_pins(terminal: Terminal, division: str) -> None:
    payload = json.loads(terminal.run("marking", division, "--around", "300mm", "--json").out)
    assert payload["around_mm"] == 300
    said = terminal.run("marking", division, "--around", "30 cm")
    assert said.status == 0
    assert all(pin["point"] in said.out for pin in payload["pins"])


def test_marking_tells_the_shortest_way_and_the_one_the_booklet_tells(terminal: Terminal) -> None:
    said = " ".join(terminal.run("marking", "C10", "--around", "300mm").out.split())
    # 15 circles of 300 mm, and 80 mm of ends a piece: all in one, or a thread for each of five centres.
    assert "4.6 m in 1 piece" in said
    assert "Centre by centre, as the booklet tells it: 4.9 m in 5 pieces." in said
    assert "Centre by centre" not in terminal.run("marking", "S7", "--around", "300mm").out


@pytest.mark.slow
def test_the_strip_is_a_pdf_of_the_asked_paper(terminal: Terminal, tmp_path: Path) -> None:
    assert terminal.run("strip", "S8", "--around", "300mm", "-o", tmp_path / "a.pdf", "--paper", "letter").status == 0
    page = PdfReader(tmp_path / "a.pdf").pages[0].mediabox
    # Letter is 8.5 by 11 inches of 72 points, by definition.
    assert (float(page.width), float(page.height)) == pytest.approx((612, 792))


@pytest.mark.slow
def test_the_booklet_is_a_pdf_with_the_design_s_name(terminal: Terminal, small: Path) -> None:
    output = small.parent / "booklet.pdf"
    assert terminal.run("sheets", small, "-o", output).status == 0
    assert "Buoy" in PdfReader(output).pages[0].extract_text()


@pytest.mark.slow
def test_pictures_have_the_asked_kind_and_size(terminal: Terminal, small: Path) -> None:
    png, svg = small.parent / "ball.png", small.parent / "ball.svg"
    assert terminal.run("picture", small, "-o", png, "--size", "64", "--facing", "S").status == 0
    assert terminal.run("picture", small, "-o", svg).status == 0
    assert Image.open(io.BytesIO(png.read_bytes())).size == (64, 64)
    assert svg.read_text(encoding="utf-8").lstrip().startswith(("<?xml", "<svg"))


def test_techniques_are_all_listed_with_their_params(terminal: Terminal) -> None:
    said = terminal.run("techniques")
    listed = json.loads(terminal.run("techniques", "--json").out)["techniques"]
    assert [technique["name"] for technique in listed] == list(names())
    for technique in listed:
        assert technique["name"] in said.out
        assert all(param["name"] in said.out and param["is"] for param in technique["params"])


def test_divisions_are_listed_with_their_counts(terminal: Terminal) -> None:
    said = terminal.run("divisions")
    listed = {entry["name"]: entry for entry in json.loads(terminal.run("divisions", "--json").out)["divisions"]}
    # Mirrors, crossings and triangles of the (2,2,2), (2,3,3), (2,3,4) and (2,3,5) groups: Coxeter,
    # Regular Polytopes, from memory.
    assert {
        name: (entry["circles"], entry["points"], entry["triangles"]) for name, entry in listed.items()
    }.items() >= {
        "C4": (3, 6, 8),
        "C6": (6, 14, 24),
        "C8": (9, 26, 48),
        "C10": (15, 62, 120),
    }.items()
    assert all(f"C{number}" in said.out for number in COMBINATIONS)


def test_schema_is_the_one_the_demos_keep_to(terminal: Terminal) -> None:
    validator = jsonschema.Draft202012Validator(json.loads(terminal.run("schema").out))
    for path in EXAMPLES.glob("*.json"):
        validator.validate(json.loads(path.read_text(encoding="utf-8")))


@pytest.mark.slow
def test_the_demo_makes_every_file_and_a_summary(terminal: Terminal, small: Path) -> None:
    out = small.parent / "out"
    said = terminal.run("demo", "--out", out, "--examples", small.parent)
    assert said.status == 0
    assert "Buoy" in said.out
    made = {path.name for path in out.iterdir()}
    assert made == {"buoy-booklet.pdf", "buoy-strip.pdf", "buoy.png", "buoy.svg"}


@pytest.mark.slow
def test_help_loads_nothing_heavy() -> None:
    code = (
        "import sys; from polestitch.cli.app import exit_status; status = exit_status(['--help']);"
        "print(status, sorted({'numpy', 'pydantic', 'rich', 'scipy', 'reportlab', 'PIL'} & set(sys.modules)))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.splitlines()[-1] == "0 []"


def shell(line: str) -> subprocess.CompletedProcess[str]:
    """Run ``line`` with ``polestitch`` as a process of its own."""
    program = f'"{sys.executable}" -c "from polestitch.cli import main; main()"'
    bash = ["bash", "-o", "pipefail", "-c", line.replace("polestitch", program, 1)]
    return subprocess.run(bash, capture_output=True, text=True, check=False)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("line", "status", "err"),
    [
        ("polestitch marking S1 --around 300mm", 2, "DIVISION: a simple division has 2 to 64 lines, not 1; write S2\n"),
        ("polestitch schema | head -1", 0, ""),
        ("polestitch schema > /dev/full", 2, "the output: no space left on device\n"),
    ],
)
def test_a_process_ends_with_its_status_and_no_traceback(line: str, status: int, err: str) -> None:
    run = shell(line)
    assert (run.returncode, run.stderr) == (status, err)


def test_long_work_tells_a_terminal_how_far_it_is(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("polestitch.cli.printing.SILENT", -1.0)
    for terminal, told in ((True, "Sewing 2/3  gold"), (False, "")):
        monkeypatch.setattr("sys.stderr.isatty", lambda answer=terminal: answer)
        with patience("Sewing", 3) as done:
            done("navy")
            done("gold")
        out, err = capsys.readouterr()
        assert out == ""
        assert told in err
        assert bool(err) == terminal
