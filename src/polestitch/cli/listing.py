"""What there is, as plain data: techniques from their files, divisions from their markings.

In: nothing.  Out: lists of dicts, ready for JSON or a table.
"""

from collections import Counter
from collections.abc import Iterator
from typing import Any

from polestitch.marking.divisions import COMBINATIONS, FEWEST, MOST, marked
from polestitch.marking.summary import line_counts
from polestitch.stitching.technique import Technique, names, technique

# "line" joins a place and its neighbour; "edge" and "arc" words stay with the techniques themselves.
PLACES = {
    "centre": "round a centre",
    "arc": "along a line between two points",
    "circle": "along a circle right round the ball",
}


def technique_list() -> list[dict[str, Any]]:
    """Every technique in alphabetical order."""
    return [_technique(name, technique(name)) for name in names()]


def _technique(name: str, module: Technique) -> dict[str, Any]:
    sentence = module.__doc__.splitlines()[0]
    return {"name": name, "is": sentence, "place": module.PLACE, "params": list(_params(module))}


def _params(module: Technique) -> Iterator[dict[str, Any]]:
    properties = module.Params.model_json_schema().get("properties", {})
    for name, field in properties.items():
        limits = {key: field[key] for key in ("minimum", "maximum", "enum") if key in field}
        yield {"name": name, "is": field.get("description", ""), "default": field.get("default"), **limits}


def division_list() -> list[dict[str, Any]]:
    """One entry a kind of division: simple ones by example, combinations one by one."""
    simple = (f"S{FEWEST}", "S8", "S8+obi", f"S{MOST}")
    return [_division(name) for name in (*simple, *(f"C{n}" for n in COMBINATIONS))]


def _division(name: str) -> dict[str, Any]:
    marking = marked(name)
    whole, half = line_counts(marking)
    ways = Counter(point.ways for point in marking.points)
    return {
        "name": name,
        "points": len(marking.points),
        "ways": {str(number): ways[number] for number in sorted(ways, reverse=True)},
        "circles": whole,
        "half_circles": half,
        "triangles": marking.triangles,
    }
