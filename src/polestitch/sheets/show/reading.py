"""How large type has to be to be read from so far away.

In: a distance in mm.  Out: points, for the bundled serif.

A capital letter fills 22 minutes of arc: 20 to 22 are preferred and 16 the least for characters to be read (US Federal
Aviation Administration, Human Factors web training, "Character and symbol size"; the same figures are quoted from
ISO 9241-3, where the height is that of a capital without accent).  Then the x-height fills 0.26 degrees, above the
0.2 degrees from which on text is read at full speed (Legge and Bigelow, "Does print size matter for reading?",
Journal of Vision 11(5):8, 2011: 1.4 mm at 40 cm).  Never below 12 points, the least of clear print (Royal National
Institute of Blind People, clear print guidelines).
"""

import math

from polestitch.sheets.sheet import MM_PER_POINT

ARC_MINUTES = 22.0
CAPITAL, X_HEIGHT = 0.670, 0.475  # of the size: from the OS/2 table of the bundled serif
LEAST_POINTS = 12.0


def points_for(distance_mm: float) -> float:
    """The size of label text in points, up to the next half point."""
    capital_mm = 2 * distance_mm * math.tan(math.radians(ARC_MINUTES / 60) / 2)
    return max(LEAST_POINTS, math.ceil(2 * capital_mm / CAPITAL / MM_PER_POINT - 1e-9) / 2)
