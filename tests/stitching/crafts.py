"""Whole designs for tests of one technique."""

from typing import Any

from polestitch.document.design import Design


def design_of(technique: str, division: str, **layer: Any) -> Design:
    """A 25 cm ball with one layer of ``technique``, at N unless the layer says where."""
    return Design.model_validate(
        {
            "name": technique,
            "ball": {"around": "250 mm"},
            "threads": [{"name": name, "colour": "#345"} for name in ("navy", "white", "gold")],
            "marking": {"division": division},
            "layers": [{"name": "one", "technique": technique, "where": "N", "rows": "1 navy", **layer}],
        }
    )
