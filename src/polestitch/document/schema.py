"""The published JSON Schema of a design document.

In: nothing.  Out: a ``dict`` in the dialect of draft 2020-12.
"""

from typing import Any

from polestitch.document.design import Design


def schema() -> dict[str, Any]:
    """JSON Schema of a design; what only the whole document can tell (names that must exist) is not in it."""
    made = Design.model_json_schema()
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **made,
        "title": "Polestitch design",
        # A design may be made in memory without it, but a document always says which format it is in.
        "required": ["format", *made["required"]],
    }
