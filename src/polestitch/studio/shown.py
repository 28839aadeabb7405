"""What can be shown of a document, whatever is wrong with it.  Runs in a worker.

In: a document's text.  Out: ``Shown``: the build of as much as can be made, and what is wrong where.
The builds of the last documents are remembered, since findings and pictures are asked after the scene.
"""

import re
from collections import OrderedDict
from dataclasses import dataclass
from typing import Any

from polestitch.document.codec import read
from polestitch.document.design import Design
from polestitch.document.jsontext import json_object
from polestitch.errors import DesignError
from polestitch.pipeline import Build, build

REMEMBERED = 4
_LAYER = re.compile(r"layers\[(\d+)\]")
_known: OrderedDict[str, "Shown"] = OrderedDict()
Raw = dict[str, Any]


@dataclass(frozen=True, eq=False)
class Shown:
    """``layers`` gives for each built layer its index in the document; ``names`` are all layers of the document."""

    build: Build | None
    layers: tuple[int, ...]
    names: tuple[str, ...]
    wrong: dict[str, str] | None


def shown(text: str) -> Shown:
    """As much of the document as can be made; ``DesignError`` only where the text is no JSON object."""
    if text not in _known:
        _known[text] = _shown(text)
        while len(_known) > REMEMBERED:
            _known.popitem(last=False)
    _known.move_to_end(text)
    return _known[text]


def made(text: str) -> Build:
    """The whole design; ``DesignError`` where any of it cannot be made."""
    found = shown(text)
    if found.wrong is not None or found.build is None:
        raise DesignError(**(found.wrong or {"where": "", "what": "cannot be made"}))
    return found.build


def _shown(text: str) -> Shown:
    raw = json_object(text, "design")
    listed = raw.get("layers")
    layers: list[Any] = listed if isinstance(listed, list) else []
    names = tuple(_name(layer) for layer in layers)
    try:
        return Shown(build(read(text)), tuple(range(len(layers))), names, None)
    except DesignError as error:
        wrong = {"where": error.where, "what": error.what}
        made, kept = _without_wrong_layers(raw, layers, error)
        return Shown(made, kept, names, wrong)


def _without_wrong_layers(raw: Raw, layers: list[Any], error: DesignError) -> tuple[Build | None, tuple[int, ...]]:
    """The build without each layer that is in the way, or without all, or the bare ball, or nothing."""
    kept = list(range(len(layers)))
    while (found := _LAYER.match(error.where)) and int(found[1]) < len(kept):
        del kept[int(found[1])]
        try:
            return build(_design({**raw, "layers": [layers[k] for k in kept]})), tuple(kept)
        except DesignError as next_error:
            error = next_error
    for less in ({**raw, "layers": []}, _bare(raw), {**_bare(raw), "marking": {"division": "S4"}}):
        try:
            return build(_design(less)), ()
        except DesignError:
            continue
    return None, ()


def _design(raw: Raw) -> Design:
    import json

    return read(json.dumps(raw))


def _bare(raw: Raw) -> Raw:
    """The ball and its division, with nothing on it."""
    ball, marking = raw.get("ball"), raw.get("marking")
    return {
        "format": 1,
        "name": "ball",
        "ball": {"around": ball.get("around") if isinstance(ball, dict) else None},
        "threads": [{"name": "thread", "colour": "#f4f1e8"}],
        "marking": {"division": marking.get("division") if isinstance(marking, dict) else None},
    }


def _name(layer: Any) -> str:
    name = layer.get("name") if isinstance(layer, dict) else None
    return name[:60] if isinstance(name, str) else ""
