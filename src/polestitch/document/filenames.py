"""Names for the files she takes away.

In: the name she gave.  Out: a name that every system can keep.
"""

import re

LONGEST = 60


def file_stem(name: str, otherwise: str = "ball") -> str:
    """Plain letters, digits and hyphens, at most sixty; ``otherwise`` where nothing of the name is left."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:LONGEST] or otherwise
