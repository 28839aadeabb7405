"""Faces, widths and line breaks, against the font files themselves."""

from importlib import import_module
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from polestitch.sheets.lettering import FILES, lines, runs, text_box, width_mm
from polestitch.sheets.sheet import MM_PER_POINT, Face, Text

FACES: tuple[Face, ...] = ("serif", "serif italic", "serif bold", "sans", "sans bold")
FOLDER = Path(str(files("polestitch.fonts")))
BUDGET = 1_500_000  # bytes of all faces together
WORDS = st.lists(st.text(st.characters(codec="latin-1", exclude_categories=("Cc", "Zs")), min_size=1, max_size=12))


ttlib: Any = import_module("fontTools.ttLib")  # it ships no types


def opened(face: str) -> Any:
    return ttlib.TTFont(FOLDER / f"{FILES[face]}.ttf")


@pytest.mark.parametrize("face", FACES)
def test_figures_of_every_face_are_of_one_width(face: Face) -> None:
    assert len({width_mm(figure, face, 10) for figure in "0123456789"}) == 1


@pytest.mark.parametrize("face", FACES)
def test_a_text_runs_as_wide_as_its_glyphs(face: Face) -> None:
    text, font = "Salt pans, 12.5 mm; façade", opened(face)
    units = sum(font["hmtx"][font.getBestCmap()[ord(character)]][0] for character in text)
    assert width_mm(text, face, 12) == pytest.approx(units / font["head"].unitsPerEm * 12 * MM_PER_POINT)


@pytest.mark.parametrize("face", FACES)
def test_every_sign_the_sheets_use_is_in_the_face(face: str) -> None:
    assert not [sign for sign in "½¼¾°×·–—…“”’±éüñš" if ord(sign) not in opened(face).getBestCmap()]


def test_a_letter_the_sans_lacks_is_borrowed_from_the_serif() -> None:
    assert runs("Kōbe", "sans") == (("sans", "K"), ("serif", "ō"), ("sans", "be"))


@pytest.mark.parametrize(
    "term", ["上掛け千鳥かがり", "紡錘かがり", "巻きかがり", "星かがり", "升かがり", "三角", "五角", "六角", "手まり"]
)
def test_trade_terms_are_in_the_japanese_face(term: str) -> None:
    assert not [sign for sign in term if ord(sign) not in opened("japanese").getBestCmap()]


def test_a_text_of_two_scripts_changes_face_where_the_script_does() -> None:
    assert runs("kiku 菊 petals", "serif") == (("serif", "kiku "), ("japanese", "菊"), ("serif", " petals"))


def test_a_sign_no_face_has_stays_in_its_own() -> None:
    assert runs("a☃b", "sans") == (("sans", "a☃b"),)


def test_each_family_comes_with_its_open_licence_and_all_are_small() -> None:
    for family in ("PolestitchSerif", "PolestitchSans", "PolestitchMincho"):
        assert "SIL OPEN FONT LICENSE Version 1.1" in (FOLDER / f"{family}-OFL.txt").read_text(encoding="utf-8")
    assert sum(path.stat().st_size for path in FOLDER.glob("*.ttf")) < BUDGET


def test_no_face_wears_a_reserved_name() -> None:
    # Open Font License, condition 3; the copyright line, record 0, has to keep it.
    for face in FILES:
        names = [record for record in opened(face)["name"].names if record.nameID != 0]
        assert not [record for record in names if "Source" in record.toUnicode()]


@given(WORDS, st.floats(8.0, 120.0))
def test_lines_are_no_wider_than_asked_and_lose_no_letter(words: list[str], width: float) -> None:
    broken = lines(" ".join(words), "serif", 10.5, width)
    assert all(width_mm(line, "serif", 10.5) <= width + 1e-9 for line in broken)
    assert "".join(broken).replace(" ", "") == "".join(words)


def test_a_turned_text_fills_a_turned_box() -> None:
    level = text_box(Text(0.0, 0.0, "200 mm down", "sans", 8))
    turned = text_box(Text(0.0, 0.0, "200 mm down", "sans", 8, turn=90))
    assert turned[3] - turned[1] == pytest.approx(level[2] - level[0])
    assert turned[2] - turned[0] == pytest.approx(level[3] - level[1])
