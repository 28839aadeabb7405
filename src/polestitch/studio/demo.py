"""The Harbour Lights show and its class: brought in with their designs when she asks for them.

In: an open store; the files of show and class and the designs beside them.  Out: the entry of the show; the class.
"""

import json
from pathlib import Path
from typing import Any

from polestitch.document.jsontext import json_object
from polestitch.errors import DesignError
from polestitch.showing.codec import read_show, written_record, written_show
from polestitch.store import classes, designs, entries, shelf
from polestitch.store.store import Store
from polestitch.studio.examples import TAG, example_folder
from polestitch.teaching.document import plain, read_class

Raw = dict[str, Any]
FOLDER = "harbour-lights"


def demo_class(store: Store) -> classes.Class:
    """The class, or the one that is there already."""
    folder, text = _file("class.json")
    body = plain(read_class(text))
    for found in classes.classes(store):
        if found.title == body["title"]:
            return found
    raw = json_object((folder / str(body["design"])).read_text(encoding="utf-8"), "design")
    return classes.add_class(store, {**body, "design": _design(store, raw, designs.sha_of(designs.document_text(raw)))})


def _file(name: str) -> tuple[Path, str]:
    """The demonstration's folder, and one of its files."""
    folder = example_folder() / FOLDER
    if not (folder / name).is_file():
        raise DesignError("demo", "Harbour Lights is not in this installation; install Polestitch again")
    return folder, (folder / name).read_text(encoding="utf-8")


def demo_show(store: Store) -> entries.Entry:
    """The show, or the one that is there already; ``DesignError`` where her own numbers are in the way."""
    folder, text = _file("show.json")
    show = read_show(text)
    for found in entries.entries(store, "show"):
        if found.name == show.title:
            return found
    mine = {each.name: each.body.get("title") for each in entries.entries(store, "piece")}
    for record in show.records:
        if mine.get(record.number, record.title) != record.title:
            raise DesignError("number", f"{record.number} is one of your own pieces; put it away, then open the show")
    for record in show.records:
        if record.number not in mine:
            _add_record(store, json_object(written_record(record), "record"), folder)
    body = json_object(written_show(show), "show")
    body.pop("records", None)
    return entries.add_entry(store, "show", entries.Keep(body))


def _add_record(store: Store, body: Raw, folder: Path) -> None:
    """The record under its design's id; photographs of the file are not the studio's, so they stay out."""
    body.pop("photos", None)
    text = None
    if body.get("design"):
        raw = json_object((folder / str(body["design"])).read_text(encoding="utf-8"), "design")
        text = designs.document_text(raw)
        body["design"] = _design(store, raw, designs.sha_of(text))
    entries.add_entry(store, "piece", entries.Keep(body, text=text))


def _design(store: Store, raw: Raw, sha: str) -> str:
    """The id of the design on the shelf, put there if it is not there."""
    wanted = shelf.Wanted(tag=TAG, count=1000)
    same = [card.id for card in shelf.shelf(store, wanted).cards if card.document == sha]
    return same[0] if same else designs.add_design(store, json.loads(json.dumps(raw)), (TAG,)).id
