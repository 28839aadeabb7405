"""What is meant as it is, though a check would ask to decide: the kind of finding, and why.

In: nothing.  Out: the types of ``meant`` on a layer and on a thread.

Only findings that ask for a decision can be meant; what must be changed first is told however it was meant.
"""

from typing import Annotated, Literal

from pydantic import Field

Reason = Annotated[
    str, Field(min_length=10, max_length=200, description="Why it is meant, in a sentence that the check repeats")
]
OfLayer = Literal[
    "overrun",
    "motifs collide",
    "crowded centre",
    "blunt tip",
    "path does not close",
    "build-up",
    "mid-span gap",
    "hidden row",
    "band slips",
    "rule left open",
]
OfThread = Literal["low contrast"]
MeantOfLayer = Annotated[
    dict[OfLayer, Reason],
    Field(description="Findings about this layer that are meant, each with its reason: told as notes"),
]
MeantOfThread = Annotated[
    dict[OfThread, Reason],
    Field(description="Findings about this thread that are meant, each with its reason: told as notes"),
]
