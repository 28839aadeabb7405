"""What a technique must offer, and finding one by its file's name.

In: a name from the document.  Out: the technique's module, checked to have all its parts.
"""

import difflib
import importlib
import json
import pkgutil
from collections.abc import Iterable, Iterator
from functools import cache
from typing import Any, Protocol, cast

from pydantic import BaseModel, ValidationError

from polestitch.document.sentences import design_error
from polestitch.errors import DesignError
from polestitch.stitching import techniques
from polestitch.stitching.site import Kind, Site
from polestitch.stitching.stitches import Row


class Technique(Protocol):
    """A file in ``techniques/``: its docstring, its ``EXAMPLE``, its ``Params`` and its ``stitch``."""

    __doc__: str
    PLACE: Kind
    EXAMPLE: dict[str, Any]
    Params: type[BaseModel]

    def stitch(self, site: Site, params: Any, pitches: Iterable[float]) -> Iterator[Row]:
        """One row for each pitch, for as long as it is asked."""


def names() -> tuple[str, ...]:
    """All techniques, in alphabetical order."""
    return tuple(sorted(module.name for module in pkgutil.iter_modules(techniques.__path__)))


@cache
def technique(name: str) -> Technique:
    """The technique called ``name``; ``DesignError`` with the nearest names where there is none."""
    if name not in names():
        near = difflib.get_close_matches(name.lower(), names(), n=3, cutoff=0.4)
        hint = f"did you mean {' or '.join(near)}? " if near else ""
        raise DesignError("technique", f'"{name[:40]}" is no technique; {hint}there are {", ".join(names())}')
    return cast(Technique, importlib.import_module(f"{techniques.__name__}.{name}"))


def params(name: str, raw: dict[str, Any], where: str) -> BaseModel:
    """The technique's params read from raw JSON; ``DesignError`` at the field that is wrong."""
    model = technique(name).Params
    try:
        # As the document itself is read: through JSON, where "5" is no number and a list may be a tuple.
        return model.model_validate_json(json.dumps(raw), strict=True)
    except ValidationError as error:
        raise design_error(error, model, where) from None
