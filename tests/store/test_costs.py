"""Her costs are kept as she said them, travel in an archive, and are never overwritten by one."""

import io
import json
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from polestitch.errors import DesignError
from polestitch.store.archive import take_archive, write_archive
from polestitch.store.blobs import sha_of
from polestitch.store.costs import COSTS, keep_costs, kept_costs
from polestitch.store.store import Store, opened

SAID = {"rate": "18 EUR", "items": [{"name": "box, “large”", "cost": "3 EUR"}]}


@pytest.fixture
def archived(store: Store) -> io.BytesIO:
    keep_costs(store, SAID)
    file = io.BytesIO()
    write_archive(store, file)
    return file


def test_the_last_word_stands(store: Store) -> None:
    assert kept_costs(store) is None
    keep_costs(store, {"rate": "15 EUR"})
    keep_costs(store, SAID)
    assert kept_costs(store) == SAID


def test_they_come_back_from_an_archive(archived: io.BytesIO, tmp_path: Path) -> None:
    other = opened(tmp_path / "other")
    for _ in range(2):
        take_archive(other, archived)
    assert kept_costs(other) == SAID
    again = io.BytesIO()
    write_archive(other, again)
    assert zipfile.ZipFile(again).read(COSTS) == zipfile.ZipFile(archived).read(COSTS)
    other.close()


def test_what_she_said_here_stays(archived: io.BytesIO, tmp_path: Path) -> None:
    other = opened(tmp_path / "other")
    keep_costs(other, {"rate": "30 USD"})
    take_archive(other, archived)
    assert kept_costs(other) == {"rate": "30 USD"}
    other.close()


def test_a_store_without_costs_writes_none(store: Store) -> None:
    file = io.BytesIO()
    write_archive(store, file)
    assert COSTS not in zipfile.ZipFile(file).namelist()


def changed(archived: io.BytesIO, change: Callable[[dict[str, Any]], object]) -> io.BytesIO:
    """The same archive with other costs, its list mended to match."""
    made = io.BytesIO()
    with zipfile.ZipFile(archived) as old, zipfile.ZipFile(made, "w") as new:
        data = json.dumps(change(json.loads(old.read(COSTS)))).encode()
        index = json.loads(old.read("archive.json"))
        index["work"][COSTS] = [sha_of(data), len(data)]
        new.writestr("archive.json", json.dumps(index))
        new.writestr(COSTS, data)
    return made


@pytest.mark.parametrize(
    "change",
    [
        lambda told: {**told, "said": "[1, 2]"},
        lambda told: {**told, "said": "{"},
        lambda told: {**told, "changed": "yesterday"},
        lambda told: {**told, "more": 1},
        lambda told: [told],
    ],
)
def test_costs_that_are_none_are_refused_whole(
    archived: io.BytesIO, tmp_path: Path, change: Callable[[dict[str, Any]], object]
) -> None:
    other = opened(tmp_path / "other")
    with pytest.raises(DesignError, match="cannot read"):
        take_archive(other, changed(archived, change))
    assert kept_costs(other) is None
    other.close()


def test_too_much_is_refused(store: Store) -> None:
    with pytest.raises(DesignError, match="longer than can be kept"):
        keep_costs(store, {"rate": "x" * 200_000})
