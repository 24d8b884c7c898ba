"""``moveplan schema``: the plan file as JSON Schema, or as tables of its keys."""

from __future__ import annotations

import json
from typing import Annotated

import typer

Table = Annotated[bool, typer.Option("--table", help="Print tables of every key instead, as Markdown.")]


OfFirm = Annotated[bool, typer.Option("--firm", help="Print the JSON Schema of a firm file instead.")]


def schema(as_table: Table = False, firm: OfFirm = False) -> None:
    """Print the JSON Schema of the plan file (2020-12), with which editors complete and check a plan.

    Example: moveplan schema > plan.schema.json
    """
    if firm:
        from moveplan.firm.file.schema import firm_schema

        typer.echo(json.dumps(firm_schema(), ensure_ascii=False, indent=2))
        return
    if as_table:
        from moveplan.planfile.reference import reference_table

        typer.echo(reference_table(), nl=False)
        return
    from moveplan.planfile.editor import plan_schema

    typer.echo(json.dumps(plan_schema(), ensure_ascii=False, indent=2))
