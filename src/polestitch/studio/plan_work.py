"""Colour plans for the studio: what can be planned, the best dozen with pictures, one of them put in.

All of it runs in a worker.  In: a document's text and wishes.  Out: plain data, or a ``Takeaway``.
"""

import json
from base64 import b64encode
from collections import Counter
from collections.abc import Sequence
from typing import Any, Literal

from polestitch.colouring.shades import grade, ramp, shades_json
from polestitch.document.filenames import file_stem
from polestitch.document.jsontext import json_object
from polestitch.document.rows import row_list
from polestitch.document.upgrades import upgraded
from polestitch.recolouring.applied import applied
from polestitch.recolouring.coloured import stripe_of
from polestitch.recolouring.dozen import dozen
from polestitch.recolouring.pictures import pictures, plain_files, small_files
from polestitch.recolouring.told import dozen_json
from polestitch.recolouring.wishes import Wishes
from polestitch.studio.shown import made
from polestitch.studio.takeaway import PDF, Say, Takeaway

Paper = Literal["a4", "letter"]
SMALL, PRINTED = 240, 480


def layers_answer(text: str) -> dict[str, Any]:
    """What each layer has to colour: motifs, stripes, rows, and its threads."""
    build = made(text)
    count = Counter(motif.layer for motif in build.motifs)
    layers = []
    for k, layer in enumerate(build.design.layers):
        threads = row_list(layer.rows).threads
        layers.append(
            {
                "name": layer.name,
                "motifs": count[k],
                "stripes": max(stripe_of(threads)) + 1,
                "rows": len(threads),
                "threads": [name for name, _ in Counter(threads).most_common()],
            }
        )
    return {"layers": layers}


def plans_made(text: str, wishes: Wishes, say: Say) -> Takeaway:
    """The dozen as JSON, each plan with two small pictures as data addresses."""
    say(0.02, "Stitching the ball")
    build = made(text)
    say(0.1, "Looking for the best plans")
    found = dozen(build, wishes)
    pairs = pictures(build, found, SMALL, lambda share, words: say(0.3 + 0.65 * share, words))
    told = dozen_json(found, build.ball)
    shown = [{"front": _address(front), "back": _address(back)} for front, back in small_files(pairs)]
    told["plans"] = [{**plan, **sides} for plan, sides in zip(told["plans"], shown)]
    return Takeaway("plans.json", "application/json", json.dumps(told).encode())


def _address(webp: bytes) -> str:
    return f"data:image/webp;base64,{b64encode(webp).decode()}"


def plans_sheet(text: str, wishes: Wishes, paper: Paper, say: Say) -> Takeaway:
    """The dozen on paper."""
    from polestitch.sheets.plans_page import plans_pdf

    say(0.02, "Stitching the ball")
    build = made(text)
    found = dozen(build, wishes)
    pairs = pictures(build, found, PRINTED, lambda share, words: say(0.2 + 0.7 * share, words))
    say(0.92, "Writing the pages")
    name = build.design.name
    data = plans_pdf(name, dozen_json(found, build.ball), list(plain_files(pairs)), paper)
    return Takeaway(f"{file_stem(name)}-colour-plans.pdf", PDF, data)


def applied_answer(text: str, wishes: Wishes, number: int) -> dict[str, Any]:
    """The document in the colours of plan ``number``."""
    build = made(text)
    new = applied(upgraded(json_object(text, "design")), build, dozen(build, wishes), number)
    return {"document": new.document, "changed": new.changed, "said": list(new.said)}


def shades_answer(ends: Sequence[str], count: int, owned: Sequence[tuple[str, str, str]]) -> dict[str, Any]:
    """Shades between two colours, or of one, with the nearest thread owned."""
    found = grade(ends[0], ends[1], count, owned) if len(ends) == 2 else ramp(ends[0], count, owned)
    return {"shades": shades_json(found)}
