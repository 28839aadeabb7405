"""The heavy balls of the speed goals, as design documents: C = 240 mm, 0.6 mm a thread.

A: C10, on each of 12 centres a ten-point zigzag of 14 rows, and 6 bands of 12 turns.
B: C8, 6 squares of 24 rows and 8 triangles of 16 rows, row by row in turn.
A20k: as A with 0.2 mm thread, 42 rows and 41 turns a band (20 each side and one on the line).
"""

from typing import Any

from polestitch.document.design import Design, Maker
from polestitch.document.lengths import Length

AROUND = "240 mm"


def _design(name: str, pitch_mm: float, division: str, layers: list[dict[str, Any]]) -> Design:
    return Design.model_validate(
        {
            "name": name,
            "ball": {"around": AROUND},
            "threads": [{"name": "white", "colour": "#f4f1e8", "rows_per_cm": 10 / pitch_mm}],
            "marking": {"division": division},
            "layers": layers,
        }
    )


def _zigzags_and_bands(name: str, pitch_mm: float, rows: int, band: dict[str, Any]) -> Design:
    zigzags = {
        "name": "zigzags",
        "technique": "uwagake",
        "where": "all centres",
        "rows": f"{rows} white",
        "params": {"outer": "1/2 from centre", "inner": "1/5 from centre"},
    }
    bands = {"name": "bands", "technique": "band", "where": "all equators", **band}
    return _design(name, pitch_mm, "C10", [zigzags, bands])


def ball_a(rows: int = 14) -> Design:
    """12 zigzags of ``rows`` rows and 6 bands of 12 turns."""
    return _zigzags_and_bands("ball A", 0.6, rows, {"rows": "6 white"})


def ball_b() -> Design:
    """6 squares and 8 triangles, layered."""
    squares = {
        "name": "squares",
        "technique": "polygon",
        "where": "all centres",
        "rows": "24 white",
        "together": "kousa",
        "params": {"corners": 4, "at": "8 mm"},
    }
    triangles = {
        "name": "triangles",
        "technique": "polygon",
        "where": "all triangles",
        "rows": "16 white",
        "together": "kousa",
        "params": {"corners": 3, "at": "6 mm"},
    }
    return _design("ball B", 0.6, "C8", [squares, triangles])


def ball_a20k() -> Design:
    """Ball A in thread a third as wide, with 42 rows and 41 turns a band."""
    band = {"rows": "21 white", "params": {"first": "on"}}
    return _zigzags_and_bands("ball A20k", 0.2, 42, band)


def same_thread(spans: int) -> Design:
    """About ``spans`` spans that together are always as long: ten zigzags on all 15 circles of C10.

    The more bites the lower the zigzag, so its length stays; each has one bite more than the last,
    so that no two run alike.
    """
    bites = spans // 300
    layers = [
        {
            "name": f"zigzag {k}",
            "technique": "zigzag",
            "where": "all circles",
            "rows": "1 white",
            "params": {"bites": bites + k, "height": f"{100 / (bites + k):.6f} mm"},
        }
        for k in range(10)
    ]
    design = _design(f"{spans} spans", 0.1, "C10", layers)
    # The finest zigzag has a bite every 0.4 mm: bites of the usual width would run into each other.
    return design.model_copy(update={"maker": Maker(bite=Length("0.1 mm"))})
