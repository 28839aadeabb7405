"""The published JSON Schema of a show, with the records in it.

In: nothing.  Out: a ``dict`` in the dialect of draft 2020-12.
"""

from typing import Any

from polestitch.showing.exhibition import Exhibition


def show_schema() -> dict[str, Any]:
    """JSON Schema of a show; what only the whole document can tell (numbers that must exist) is not in it."""
    made = Exhibition.model_json_schema()
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **made, "title": "Polestitch show"}
