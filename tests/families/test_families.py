"""Every family of patterns: told in full, built on every division at three sizes, and with nothing to be ashamed of."""

import io
import json
import re
from functools import cache

import numpy as np
import pytest
from pypdf import PdfReader

from polestitch.checks import Finding
from polestitch.document.codec import read
from polestitch.document.said import listed, near_length
from polestitch.errors import DesignError
from polestitch.families.family import families, families_json, family, family_names, family_of, starter
from polestitch.picture.render import png_of
from polestitch.pipeline import Build, build
from polestitch.sheets.booklet import booklet
from polestitch.sheets.told import told
from polestitch.stitching.technique import names
from polestitch.workup import workup
from tests.families.repertoire import REPERTOIRE, Published
from tests.whole import NO_FIGURE, wanting
from tools.family_gallery import GALLERY, PICTURES, checksums, manifest, pages

SMALL_MM, LARGE_MM = 200.0, 320.0
SIZES_MM = (180.0, 273.0, 400.0, 266.7)  # 10.5 in the last
PHOTOGRAPH = png_of(np.full((8, 8, 4), 255, np.uint8))  # the gallery paints every family; here the words matter
DIVISIONS = [(name, division) for name in family_names() for division in family(name).divisions]
every_family = pytest.mark.parametrize("name", family_names())
every_division = pytest.mark.parametrize(("name", "division"), DIVISIONS, ids=[" on ".join(one) for one in DIVISIONS])


@cache
def made(name: str, division: str, around_mm: float | None = None) -> Build:
    return build(read(json.dumps(starter(name, around_mm, division))))


def serious(made: Build) -> list[Finding]:
    """Findings that ask for a change or a decision."""
    return [finding for finding in workup(made).findings if finding.severity != "note"]


def test_the_repertoire_is_there() -> None:
    # "At least 55 traditional pattern families" is the goal set for this release.
    assert len(family_names()) >= 55


@pytest.mark.parametrize("row", REPERTOIRE, ids=lambda row: row.called)
def test_every_published_family_can_be_found(row: Published) -> None:
    for name in row.families:
        told = family(name)
        plain = {division.removesuffix("+obi") for division in told.divisions}
        assert not row.divisions or plain & set(row.divisions), plain
        assert set(row.techniques) <= set(told.techniques)
        assert set(row.sources) & set(told.sources), told.sources


@every_family
def test_a_family_is_told_in_full(name: str) -> None:
    told = family(name)
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", name)
    assert told.sentence.endswith(".")
    assert told.look.endswith(".")
    assert all(re.fullmatch(r"https?://[\w.-]+(:\d+)?/\S*", source) for source in told.sources)
    assert len(set(told.sources)) == len(told.sources)
    assert told.design["marking"]["division"] == told.divisions[0]
    assert set(told.by_division) <= set(told.divisions)
    assert set(told.techniques) <= set(names())
    assert all(layer["name"] for layer in told.design["layers"])
    assert "level" in told.design
    assert told.design["notes"]


def test_no_two_families_have_the_same_title_or_design() -> None:
    told = families()
    assert len({one.title for one in told.values()}) == len(told)
    assert len(set(checksums().values())) == len(told)


@pytest.mark.slow
@every_division
def test_it_stitches_on_every_division(name: str, division: str) -> None:
    assert serious(made(name, division)) == []


@pytest.mark.slow
@every_family
@pytest.mark.parametrize("around_mm", SIZES_MM)
def test_an_untouched_family_leaves_nothing_to_decide_at_any_size(name: str, around_mm: float) -> None:
    ball = build(read(json.dumps(starter(name, around_mm))))
    assert ball.ball.around_mm == pytest.approx(around_mm)
    assert serious(ball) == []


@pytest.mark.slow
@every_division
@pytest.mark.parametrize("around_mm", [SMALL_MM, LARGE_MM])
def test_it_fits_a_smaller_and_a_larger_ball(name: str, division: str, around_mm: float) -> None:
    ball = made(name, division, around_mm)
    assert ball.ball.around_mm == pytest.approx(around_mm)
    assert all(motif.rows for motif in ball.motifs)
    stops = [finding for finding in serious(ball) if finding.severity == "stop"]
    assert stops == []


@pytest.mark.slow
@every_family
def test_a_booklet_can_be_stitched_from(name: str) -> None:
    ball = made(name, family(name).divisions[0])
    pdf = PdfReader(io.BytesIO(booklet(ball, "a4", PHOTOGRAPH)))
    assert len(pdf.pages) >= 4
    pages = [" ".join(page.extract_text().split()) for page in pdf.pages]
    text = " ".join(pages)
    assert family(name).design["name"] in pages[0]
    assert NO_FIGURE.findall(text) == []
    worked = told(ball)
    assert list(wanting(ball, worked.instructions)) == []
    for thread, amount in zip(ball.design.threads, worked.estimate.threads):
        # Name, what it is, and how much to have; nobody is sent for a thread that nothing is worked in.
        asked = rf"\b{re.escape(thread.name)} {re.escape(thread.size)}.*{re.escape(near_length(amount.total_mm))}"
        assert bool(re.search(asked, pages[1])) == (amount.total_mm > 0)
    for layer, entry in enumerate(ball.design.layers):
        assert f"{layer + 1} {entry.name}" in text
        places = [motif.place for motif in ball.motifs if motif.layer == layer]
        # Few places stand there by name, of many their number, the first and the last.
        many = f"{len(places)} places, first {places[0]}, last {places[-1]}."
        assert f"worked at {listed(places) + '.' if len(places) <= 6 else many}" in text
        for step in worked.instructions.of("layer", layer):
            assert "".join(step.text.split()) in "".join(text.split())


def test_an_unknown_family_is_told_with_the_nearest() -> None:
    with pytest.raises(DesignError, match="did you mean chrysanthemum"):
        family("chrysantemum")
    with pytest.raises(DesignError, match=r"did you mean .*chrysanthemum"):
        family("kiku")
    with pytest.raises(DesignError, match="lists them all"):
        family("zzzzzz")
    with pytest.raises(DesignError, match='did you mean "flowers"'):
        families("flower")


def test_a_division_it_was_not_tried_on_is_refused() -> None:
    with pytest.raises(DesignError, match="chrysanthemum works on S16"):
        starter("chrysanthemum", None, "S3")


def test_a_file_that_says_something_else_is_refused() -> None:
    raw = family("chrysanthemum").model_dump(mode="json")
    with pytest.raises(DesignError, match="did you mean"):
        family_of(json.dumps({**raw, "titel": "x"}), "x.json")
    with pytest.raises(DesignError, match="difficulty"):
        family_of(json.dumps({**raw, "difficulty": 6}), "x.json")


def test_what_one_does_to_a_starter_stays_hers() -> None:
    starter("chrysanthemum")["layers"].clear()
    assert starter("chrysanthemum")["layers"]


def test_the_shelf_gets_plain_data() -> None:
    listed = families_json()
    assert json.loads(json.dumps(listed)) == listed
    assert [one["name"] for one in families_json("flowers")] == list(families("flowers"))
    assert {one["name"] for one in listed} == set(family_names())


def test_a_starter_is_planned_for_her_ball() -> None:
    assert read(json.dumps(starter("chrysanthemum", LARGE_MM))).ball.around.mm == pytest.approx(LARGE_MM)
    with pytest.raises(DesignError, match="is not the size of a ball"):
        starter("chrysanthemum", 1.0)


def test_pictures_are_of_the_designs_as_they_are() -> None:
    assert manifest() == checksums(), "make gallery paints them anew"
    painted = {path.stem: path.stat().st_size for path in PICTURES.glob("*.jpg")}
    assert set(painted) == set(family_names())
    assert max(painted.values()) <= 40_000


def test_the_gallery_says_what_the_families_say() -> None:
    stale = [name for name, text in pages().items() if (GALLERY / name).read_text(encoding="utf-8") != text]
    assert stale == [], "make gallery writes them anew"


def test_the_gallery_asks_no_other_machine_for_anything() -> None:
    page = (GALLERY / "index.html").read_text(encoding="utf-8")
    assert re.findall(r'(?:src|url)\s*[=(]\s*"?https?:', page) == []
    assert len(re.findall(r"<img ", page)) == len(family_names()) == len(re.findall(r'alt="[^"]{20,}"', page))


def test_a_division_may_leave_its_equator_unsaid() -> None:
    assert starter("chrysanthemum", division="S12") == starter("chrysanthemum", division="S12+obi")
