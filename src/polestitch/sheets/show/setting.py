"""Running text set in lines that may part between pages.

In: text, a width in mm and a style.  Out: one block a line.
"""

from polestitch.sheets.blocks import Block, Style, paragraph

PARAGRAPH = 0.55  # of a line, free between paragraphs


def line_blocks(text: str, width: float, style: Style) -> list[Block]:
    """One block a line; an empty line of ``text`` parts paragraphs.  First and last line of one never stand alone."""
    blocks: list[Block] = []
    for part in [part for part in "\n".join(text.splitlines()).split("\n\n") if part.strip()]:
        whole = paragraph(part, width, style)
        count = max(1, round(whole.height / style.line_mm))
        for n in range(count):
            low, high = n * style.line_mm, (n + 1) * style.line_mm
            marks = tuple(mark.moved(0.0, -low) for mark in whole.marks if low <= getattr(mark, "y", 0.0) < high)
            last = n == count - 1
            height = style.line_mm * (1 + PARAGRAPH) if last else style.line_mm
            blocks.append(Block(height, marks, keep=not last and (n == 0 or n == count - 2)))
    return blocks
