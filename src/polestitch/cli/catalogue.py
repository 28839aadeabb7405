"""Commands that tell what there is: techniques, divisions, the document's schema."""

from typing import Annotated

import typer

from polestitch.cli.options import AsJson
from polestitch.cli.printing import print_json, show

OfShow = Annotated[bool, typer.Option("--show", help="Of a show file instead.")]


def techniques(as_json: AsJson = False) -> None:
    """List the techniques and their params."""
    from polestitch.cli.listing import technique_list

    listed = technique_list()
    if as_json:
        print_json({"techniques": listed})
        return
    from polestitch.cli.tables import technique_tables

    show(technique_tables(listed))


def divisions(as_json: AsJson = False) -> None:
    """List the divisions a ball can have."""
    from polestitch.cli.listing import division_list

    listed = division_list()
    if as_json:
        print_json({"divisions": listed})
        return
    from polestitch.cli.tables import division_tables

    show(division_tables(listed))


def schema(of_show: OfShow = False) -> None:
    """Print the JSON Schema of a design file, or of a show file with --show."""
    if of_show:
        from polestitch.showing.schema import show_schema

        print_json(show_schema())
        return
    from polestitch.document.schema import schema as published

    print_json(published())
