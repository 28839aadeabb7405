"""A small ball with everything the wire format carries: stitches, a wound band, thread that goes under."""

from polestitch.document.design import Design

SAMPLE = Design.model_validate(
    {
        "name": "Buoy",
        "ball": {"around": "200 mm", "colour": "#16233a"},
        "threads": [
            {"name": "cream", "colour": "#f3e6c8"},
            {"name": "gold", "colour": "#d9b24a", "size": "fine metallic", "metallic": True},
        ],
        "marking": {"division": "S6+obi"},
        "layers": [
            {"name": "petals", "technique": "uwagake", "where": "N", "rows": "1 cream, 1 gold"},
            {"name": "quay", "technique": "band", "where": "obi", "rows": "1 gold"},
            {
                "name": "rigging",
                "technique": "zigzag",
                "where": "obi",
                "rows": "1 cream",
                "params": {"height": "6 mm", "double": True},
                "under": [{"layer": "quay", "rule": "under first"}],
            },
        ],
    }
)
