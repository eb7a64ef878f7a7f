"""`ovolo schema`: the JSON Schema of a document."""

from typing import Literal

import click

from ovolo.documents.schema import schema_as_json

__all__ = ["schema"]


@click.command()
@click.argument("document", type=click.Choice(["job", "plan"]))
def schema(document: Literal["job", "plan"]) -> None:
    """Print the JSON Schema of a job or of a plan."""
    click.echo(schema_as_json(document), nl=False)
