"""The Harbour Lights show: brought in with its designs and pieces when she asks for it.

In: an open store; the show's file and the designs beside it.  Out: the entry of the show.
"""

import json
from pathlib import Path
from typing import Any

from polestitch.document.jsontext import json_object
from polestitch.errors import DesignError
from polestitch.showing.codec import read_show, written_record, written_show
from polestitch.store import designs, entries, shelf
from polestitch.store.store import Store
from polestitch.studio.examples import TAG, example_folder

Raw = dict[str, Any]
FOLDER = "harbour-lights"


def demo_show(store: Store) -> entries.Entry:
    """The show, or the one that is there already; ``DesignError`` where her own numbers are in the way."""
    folder = example_folder() / FOLDER
    if not (folder / "show.json").is_file():
        raise DesignError("demo", "the Harbour Lights show is not in this installation; install Polestitch again")
    show = read_show((folder / "show.json").read_text(encoding="utf-8"))
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
