"""Arguments and options that several commands share, each said once."""

from pathlib import Path
from typing import Annotated

import typer

DesignFile = Annotated[Path, typer.Argument(help="A design file (JSON).")]
Division = Annotated[str, typer.Argument(help="How the ball is divided: S8, S12+obi, C6, C8, C10 …")]
MeasuredAround = Annotated[
    str | None,
    typer.Option("--around", metavar="LENGTH", help="Circumference you measured: 247mm, 24.7cm or 9.7in."),
]
Around = Annotated[
    str, typer.Option("--around", metavar="LENGTH", help="Circumference of the ball: 300mm, 30cm or 11.8in.")
]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON for other programs.")]
Output = Annotated[Path, typer.Option("-o", "--output", metavar="FILE", help="File to write.")]
Paper = Annotated[str, typer.Option("--paper", metavar="a4|letter", help="Paper size.")]
