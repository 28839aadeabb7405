"""Readings of pins are kept with their design, written over by no other window, and carried by the archive."""

import io
import zipfile
from pathlib import Path
from typing import Any

import pytest

from polestitch.errors import DesignError
from polestitch.store import designs
from polestitch.store.archive import take_archive, write_archive
from polestitch.store.designs import MissingError
from polestitch.store.store import Store, opened
from polestitch.store.surveys import KeptReading, KeptSurvey, keep_survey, kept_survey

MINE = KeptSurvey(
    readings=(
        KeptReading(first="N", second="obi 1", length="62,5"),
        KeptReading(first="N", second="S", length="12.5 cm", via="obi 3", aside=True),
    ),
    made=("Move the pin of obi 3 by 2 mm toward S.",),
    off_by_mm=0.3,
)


@pytest.fixture
def design(store: Store, lamp: dict[str, Any]) -> str:
    return designs.add_design(store, lamp).id


def archived(store: Store) -> io.BytesIO:
    file = io.BytesIO()
    write_archive(store, file)
    file.seek(0)
    return file


def test_readings_come_back_as_she_wrote_them(store: Store, design: str) -> None:
    assert kept_survey(store, design).survey == KeptSurvey()
    assert keep_survey(store, design, 0, MINE)[0]
    assert kept_survey(store, design).survey == MINE
    assert keep_survey(store, design, 0, MINE)[0]  # told again after a lost answer: kept once
    assert kept_survey(store, design).number == 1
    with pytest.raises(MissingError):
        kept_survey(store, "0" * 32)


def test_an_older_window_writes_over_nothing(store: Store, design: str) -> None:
    keep_survey(store, design, 0, MINE)
    done, now = keep_survey(store, design, 0, KeptSurvey(off_by_mm=1.0))
    assert not done
    assert now.survey == MINE
    assert keep_survey(store, design, 1, KeptSurvey(off_by_mm=1.0))[0]


def test_the_archive_carries_them_once(store: Store, design: str, tmp_path: Path) -> None:
    keep_survey(store, design, 0, MINE)
    file, other = archived(store), opened(tmp_path / "other")
    for _ in range(2):
        file.seek(0)
        take_archive(other, file)
    assert kept_survey(other, design).survey == MINE
    keep_survey(other, design, 1, KeptSurvey(off_by_mm=1.0))
    file.seek(0)
    take_archive(other, file)
    assert kept_survey(other, design).survey.off_by_mm == 1.0  # what is newer here stays
    other.close()


def test_changed_readings_are_refused_and_nothing_is_taken(store: Store, design: str, tmp_path: Path) -> None:
    keep_survey(store, design, 0, MINE)
    changed = io.BytesIO()
    with zipfile.ZipFile(archived(store)) as old, zipfile.ZipFile(changed, "w") as new:
        assert "surveys.json" in old.namelist()
        for name in old.namelist():
            data = old.read(name)
            new.writestr(name, data.replace(b"62,5", b"63,5") if name == "surveys.json" else data)
    other = opened(tmp_path / "other")
    changed.seek(0)
    with pytest.raises(DesignError, match="changed on its way"):
        take_archive(other, changed)
    other.close()
