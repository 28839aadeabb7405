"""The table of what changes with the size of the ball, for the terminal."""

from collections.abc import Iterator
from typing import Any

from rich.table import Table


def sizes_tables(told: dict[str, Any]) -> Iterator[Any]:
    """Layers and threads down, sizes across; then what is new to know on each size."""
    sizes = told["sizes"]
    table = Table(title="If your ball comes out different", title_justify="left")
    table.add_column("")
    for size in sizes:
        table.add_column(f"{size['size']}\n{size['around_mm']:.1f} mm", justify="right")
    plan = next(size for size in sizes if size["size"] == "as planned")
    for k, layer in enumerate(plan["layers"]):
        table.add_row(layer["name"], *(_layer(size["layers"][k]) if size["layers"] else "–" for size in sizes))
    for k, thread in enumerate(plan["threads"]):
        table.add_row(
            thread["id"],
            *(f"{size['threads'][k]['total_mm'] / 1000:.1f} m" if size["threads"] else "–" for size in sizes),
        )
    yield table
    for size in sizes:
        for sentence in filter(None, [size["impossible"], *size["new_findings"]]):
            yield f"{size['size']}: {sentence}"


def _layer(layer: dict[str, Any]) -> str:
    gap, look = layer["gap_mm"], layer["rows_for_look"]
    rows = f"{layer['rows']} row{'' if layer['rows'] == 1 else 's'}"
    better = "" if look == layer["rows"] else f"\n{look} look alike"
    room = "" if gap is None else f"\n{gap:.1f} mm left" if gap >= 0 else f"\n{-gap:.1f} mm over"
    return rows + room + better
