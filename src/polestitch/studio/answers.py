"""What workers answer: scenes, figures, pictures.  Runs in a worker.

In: a document's text.  Out: bytes and plain data.
"""

from dataclasses import replace
from typing import Any

import numpy as np

from polestitch.checks import Finding
from polestitch.document.said import Units, listed, set_length
from polestitch.errors import DesignError
from polestitch.estimate import Estimate
from polestitch.marking.address import address
from polestitch.marking.pins import Pin
from polestitch.pipeline import Build
from polestitch.scene import Scene, empty_scene, encoded, scene
from polestitch.studio.shown import Shown, made, shown
from polestitch.workup import workup

Wrong = dict[str, str] | None


def scene_answer(text: str, question: int) -> bytes:
    """The scene of as much as can be made, on the wire."""
    found = shown(text)
    if found.build is None:
        return encoded(empty_scene(question, found.wrong or {}))
    laid_out = scene(found.build, question, found.wrong)
    return encoded(laid_out if found.wrong is None else _renumbered(laid_out, found))


def _renumbered(whole: Scene, found: Shown) -> Scene:
    """Layers under their numbers in the document; those left out have no motifs."""
    numbers = np.array(found.layers, dtype="<u2")
    arrays = dict(whole.arrays)
    if len(numbers):
        arrays["row_layer"] = numbers[arrays["row_layer"]]
    told = dict(zip(found.layers, whole.index["layers"]))
    empty = {"technique": "", "motifs": 0, "places": [], "rows": [], "spans": 0}
    layers = [told.get(k, {"name": name, **empty}) for k, name in enumerate(found.names)]
    return Scene({**whole.index, "layers": layers}, arrays)


def figures_answer(text: str, question: int) -> dict[str, Any]:
    """Findings, thread, hours, cover and pins of as much as can be made."""
    found = shown(text)
    if found.build is None:
        return {"question": question, "findings": [], "estimate": {"threads": []}, "hours": None, "wrong": found.wrong}
    build, known = found.build, workup(found.build)
    return {
        "question": question,
        "findings": [_finding(build, _in_document(finding, found.layers)) for finding in known.findings],
        **_amounts(known.estimate),
        "cover": round(float(build.cover.share), 5),
        "buildup": int(build.cover.buildup_max),
        "pins": [_pin(pin, build.design.maker.units) for pin in known.pins],
        "wrong": found.wrong,
    }


def wrong_answer(text: str) -> Wrong:
    """What is wrong where, if anything is."""
    return shown(text).wrong


def look_answer(text: str, size: int, facing: str, clear: bool) -> tuple[bytes, Wrong]:
    """A PNG of as much as can be made, and what is wrong; facing N where the address is not on the ball."""
    from polestitch.picture.render import image, png_of
    from polestitch.picture.subject import facing as view
    from polestitch.picture.subject import subject

    found = shown(text)
    if found.build is None:
        return png_of(np.zeros((size, size, 4), np.uint8), None), found.wrong
    try:
        seen = view(found.build, facing)
    except DesignError:
        seen = view(found.build, "N")
    return png_of(image(subject(found.build), seen, size), None if clear else "#ffffff"), found.wrong


def replan_answer(text: str, around_mm: float) -> tuple[dict[str, Any], tuple[str, ...]]:
    """The document for a ball of this size, and what changes."""
    from polestitch.document.jsontext import json_object
    from polestitch.fitting import replanned

    made(text)  # what cannot be made is told in the words of the build
    planned = replanned(json_object(text, "design"), around_mm)
    return planned.document, planned.changes


def wished_answer(text: str, wishes: dict[str, Any]) -> dict[str, Any]:
    """The document changed so that the wishes come true, and what was found."""
    from polestitch.document.jsontext import json_object
    from polestitch.fitting import fit_answer

    made(text)  # what cannot be made is told in the words of the build
    return fit_answer(json_object(text, "design"), wishes)


def _in_document(finding: Finding, layers: tuple[int, ...]) -> Finding:
    """The finding under the document's layer numbers."""
    if finding.layer is None or layers[finding.layer] == finding.layer:
        return finding
    number, remedy = layers[finding.layer], finding.remedy
    if remedy is not None:
        path = remedy["path"].replace(f"layers[{finding.layer}]", f"layers[{number}]", 1)
        remedy = {**remedy, "path": path}
    return replace(finding, layer=number, remedy=remedy)


def _finding(build: Build, finding: Finding) -> dict[str, Any]:
    return {
        "kind": finding.kind,
        "severity": finding.severity,
        "layer": finding.layer,
        "row": finding.row,
        "address": finding.address,
        "sentence": finding.sentence,
        "remedy": finding.remedy,
        "xyz": _place(build, finding.address) if finding.at is None else list(finding.at),
    }


def _place(build: Build, words: str | None) -> list[float] | None:
    if words is None:
        return None
    try:
        at = address(build.marking, words, build.ball).at
    except DesignError:
        return None
    return [value + 0.0 for value in np.round(at, 5).tolist()]


def _amounts(amounts: Estimate) -> dict[str, Any]:
    threads = [
        {
            "name": amount.name,
            "laid_mm": round(amount.laid_mm, 1),
            "total_mm": round(amount.total_mm, 1),
            "lengths": amount.lengths,
            "skeins": amount.skeins,
        }
        for amount in amounts.threads
    ]
    hours = amounts.hours
    span = {name: round(getattr(hours, name), 2) for name in ("low", "likely", "high")}
    return {"estimate": {"threads": threads}, "hours": span}


def _pin(pin: Pin, units: Units) -> dict[str, Any]:
    measured = [{"point": each.point, "mm": round(each.mm, 2)} for each in pin.measured]
    words = listed([f"{set_length(each.mm, units)} from {each.point}" for each in pin.measured])
    return {"point": pin.point, "on": pin.on, "measured": measured, "words": words}
