"""The invented winter show of a harbour town, for tests: ten balls, two cases.

In: nothing.  Out: plain data and an ``Exhibition``.
"""

import json
from typing import Any

from polestitch.showing.codec import read_show
from polestitch.showing.exhibition import Exhibition

BALLS: tuple[tuple[str, str, str, int], ...] = (
    ("Ferry Lamps", "eight-point star", "S8", 310),
    ("Salt on the Rail", "interlocked squares", "C8", 280),
    ("Tar and Tallow", "basket weave", "S8+obi", 265),
    ("Ice in the Rigging", "net", "S16", 330),
    ("The Pilot's Window", "cathedral windows", "C10", 300),
    ("Herring Silver", "fish", "S8+obi", 240),
    ("Low Water", "couched waves", "S12+obi", 295),
    ("First Star over the Mole", "great star", "C6", 350),
    ("Net Loft", "bamboo", "S10+obi", 220),
    ("Fog Bell", "interlaced spindles", "S12", 275),
)
TEXT = (
    "From the quay the ferry's lamps are the last thing to go. Two blues hold the dark; one thread of amber comes "
    "round eight times and meets itself at the pole."
)
FOREWORD = (
    "Every winter the harbour closes early, and the town goes indoors. These ten balls were stitched between the last "
    "herring and the first thaw.\n\n"
    "A temari is a ball of thread on thread. It is divided like a globe, with pins and a paper strip, and stitched "
    "without a drawing: the pattern is held by the hand that counts. None has a right way up. Walk round.\n\n"
    "They are lit low. Thread fades, and these are meant to be looked at for longer than one winter."
)


def record(k: int) -> dict[str, Any]:
    """The record of ball ``k``, counted from 0."""
    title, pattern, division, around = BALLS[k]
    return {
        "number": f"HL-{k + 1:02d}",
        "title": title,
        "pattern": pattern,
        "maker": "A. Quayside",
        "around": f"{around} mm",
        "weight_g": 150.0 + 7 * k,
        "division": division,
        "core": "dried rice hulls in wool yarn",
        "threads": [{"name": "pearl cotton 5", "colour": "navy", "fibre": "cotton"}, {"name": "silk 30/2, amber"}],
        "hours": 30.0 + k,
        "finished": f"2026-0{1 + k % 9}-12",
        "price": f"{200 + 10 * k} EUR",
        "insured": f"{250 + 10 * k} EUR",
        "text": TEXT,
        "plain": "The lamps of the ferry shine at night. Two blue threads are the dark.",
    }


def harbour(**rest: Any) -> dict[str, Any]:
    """The show as a document; ``rest`` replaces its parts."""
    plain = {
        "format": 1,
        "title": "Harbour Lights",
        "line": "Ten thread balls for the dark months",
        "venue": "The Old Net Loft\nLower Quay",
        "opens": "2026-12-05",
        "closes": "2027-01-06",
        "delivery": "2026-12-03",
        "collection": "2027-01-08",
        "curator": "B. Lantern",
        "foreword": FOREWORD,
        "lender": {"name": "A. Quayside", "contact": "3 Rope Walk"},
        "borrower": {"name": "The Old Net Loft"},
        "commission_percent": 20,
        "lux": 50,
        "hours_a_day": 6,
        "transport": "Each ball travels in its own box. The borrower carries the risk from door to door.",
        "cases": [
            {
                "name": "Window case",
                "width": "90 cm",
                "depth": "40 cm",
                "shelves": [{"clear": "25 cm", "from_floor": "115 cm"}, {"clear": "25 cm", "from_floor": "85 cm"}],
            },
            {"name": "Table", "width": "60 cm", "depth": "60 cm", "shelves": [{"clear": "40 cm"}]},
        ],
        "shown": [
            {
                "number": f"HL-{k + 1:02d}",
                "case": "Window case" if k < 7 else "Table",
                "shelf": 2 if 4 <= k < 7 else 1,
                "stand": "15 mm",
                "facing": "N" if k % 2 else "obi 1",
                "turn": "amber to the left" if k == 0 else "",
            }
            for k in range(len(BALLS))
        ],
        "records": [record(k) for k in range(len(BALLS))],
    }
    return {**plain, **rest}


def show(**rest: Any) -> Exhibition:
    """The show, read as from a file."""
    return read_show(json.dumps(harbour(**rest)))
