"""What the server says of itself, for the front end's types: ``python -m polestitch.studio.openapi`` writes the file.

In: nothing.  Out: the OpenAPI description, as the running studio gives it at ``/api/openapi.json``.
"""

from typing import Any

from fastapi import FastAPI

from polestitch import __version__
from polestitch.studio.routes import router


def description() -> dict[str, Any]:
    """The OpenAPI description of every address."""
    app = FastAPI(title="Polestitch studio", version=__version__)
    app.include_router(router())
    return app.openapi()


if __name__ == "__main__":
    import json
    from pathlib import Path

    text = json.dumps(description(), indent=1, ensure_ascii=False)
    Path("web/openapi.json").write_text(text + "\n", encoding="utf-8")
