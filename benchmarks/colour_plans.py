"""Speed of a dozen pictures of colour plans, against taking each picture on its own in the same run."""

import json
from pathlib import Path

from benchmarks.building import in_process
from polestitch.colouring.counting import different_plans
from polestitch.colouring.rules import Rules
from polestitch.document.codec import read
from polestitch.picture.render import image
from polestitch.picture.subject import subject
from polestitch.picture.view import view_of
from polestitch.pipeline import Build, build
from polestitch.recolouring.coloured import coloured
from polestitch.recolouring.dozen import dozen
from polestitch.recolouring.pictures import FRONT, pictures
from polestitch.recolouring.wishes import Wishes, wished_threads

DESIGN = Path(__file__).parents[1] / "examples" / "winter-beacons.json"
ASKED = {"layer": "buoys", "threads": [{"name": name} for name in ("snow", "ice", "lamp red")]}


def rows() -> list[tuple[str, float, float]]:
    """(goal, ratio, aim) for each line; a line beginning with '<=' is met when the ratio is at most the aim."""
    made, wishes = build(read(json.dumps(json.loads(DESIGN.read_text())))), Wishes.model_validate(ASKED)
    plans = dozen(made, wishes)
    alone = in_process(lambda: image(subject(made), view_of(FRONT), 240, 480))
    return [
        ("<= 24 pictures of 12 colour plans : one picture", in_process(lambda: pictures(made, plans)) / alone, 12.0),
        ("<= count of the plans of 20 motifs in 3 threads : one picture", counted(made, wishes) / alone, 1.0),
    ]


def counted(made: Build, wishes: Wishes) -> float:
    """Seconds to count the plans."""
    parts, threads = coloured(made, wishes), wished_threads(made.design, wishes)
    rules = Rules(len(threads), ((1, len(parts.parts)),) * len(threads))
    return in_process(lambda: different_plans(parts.parts, rules, parts.ways))
