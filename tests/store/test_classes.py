"""Classes in the store, and in an archive."""

import io
import zipfile
from pathlib import Path

import pytest

from polestitch.errors import DesignError
from polestitch.store import classes
from polestitch.store.archive import take_archive, write_archive
from polestitch.store.entries import NewerError
from polestitch.store.store import Store, opened

RAW = {"format": 1, "title": "Evening class", "design": "a" * 32, "students": 4}


def archived(store: Store) -> io.BytesIO:
    file = io.BytesIO()
    write_archive(store, file)
    file.seek(0)
    return file


def test_words_that_build_on_old_ones_are_refused(store: Store) -> None:
    made = classes.add_class(store, RAW)
    saved = classes.save_class(store, made.id, {**RAW, "title": "Morning class"}, made.number)
    assert (saved.title, saved.number) == ("Morning class", 2)
    with pytest.raises(NewerError, match="another window"):
        classes.save_class(store, made.id, RAW, made.number)
    assert classes.class_of(store, made.id).title == "Morning class"


def test_a_class_of_any_shape_is_kept(store: Store) -> None:
    made = classes.add_class(store, {"title": 3, "design": ["no"]})
    assert (made.title, made.design) == (classes.UNTITLED, None)
    with pytest.raises(DesignError, match="larger"):
        classes.add_class(store, {"notes": "x" * classes.MOST_BYTES})


def test_an_archive_carries_classes_once_and_put_away_ones_too(store: Store, tmp_path: Path) -> None:
    made = classes.add_class(store, RAW)
    classes.put_class_away(store, classes.add_class(store, {**RAW, "title": "Old"}).id, True)
    file, other = archived(store), opened(tmp_path / "other")
    for _ in range(2):
        file.seek(0)
        take_archive(other, file)
    assert classes.classes(other) == (made,)
    assert [one.title for one in classes.classes(other, away=True)] == ["Old"]
    other.close()


def test_a_changed_class_is_refused_whole(store: Store, tmp_path: Path) -> None:
    classes.add_class(store, RAW)
    changed = io.BytesIO()
    with zipfile.ZipFile(archived(store)) as old, zipfile.ZipFile(changed, "w") as new:
        for name in old.namelist():
            new.writestr(name, old.read(name).replace(b"Evening", b"Morning"))
    other = opened(tmp_path / "other")
    with pytest.raises(DesignError, match="changed on its way"):
        take_archive(other, changed)
    assert classes.classes(other) == ()
    other.close()
