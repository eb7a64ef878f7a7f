"""`ovolo schema`: the JSON Schema of a document."""

from typing import Literal

import click

from ovolo.documents.schema import schema_as_json

__all__ = ["schema"]


@click.command()
@click.argument("document", type=click.Choice(["job", "plan", "check"]))
def schema(document: Literal["job", "plan", "check"]) -> None:
    """Print the JSON Schema of a job, a plan or a check."""
    click.echo(schema_as_json(document), nl=False)
