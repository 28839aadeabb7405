"""Days and the span of a show in words.

In: dates.  Out: text such as "5 December 2026".
"""

from datetime import date

from polestitch.showing.exhibition import Exhibition

MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)


def day(on: date) -> str:
    """The day, the month's name and the year."""
    return f"{on.day} {MONTHS[on.month - 1]} {on.year}"


def when(exhibition: Exhibition) -> str:
    """From when to when, as far as it is entered; else nothing."""
    opens, closes = exhibition.opens, exhibition.closes
    if opens and closes:
        first = f"{opens.day} {MONTHS[opens.month - 1]}" if opens.year == closes.year else day(opens)
        return f"{first} to {day(closes)}"
    if opens:
        return f"from {day(opens)}"
    return f"until {day(closes)}" if closes else ""


def made_in(begun: date | None, finished: date | None) -> str:
    """The year or years a piece was made in, as far as they are entered."""
    if finished is None:
        return f"begun {begun.year}" if begun else ""
    same = begun is None or begun.year == finished.year
    return f"{finished.year}" if same or begun is None else f"{begun.year} to {finished.year}"
