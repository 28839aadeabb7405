"""Instructions as data: numbered steps, a table of distances for every row, and cautions."""

from polestitch.steps.instructions import Instructions, instructions
from polestitch.steps.step import Section, Step
from polestitch.steps.table import Distance, RowLine, RowTable, row_tables

__all__ = [
    "Distance",
    "Instructions",
    "RowLine",
    "RowTable",
    "Section",
    "Step",
    "instructions",
    "row_tables",
]
