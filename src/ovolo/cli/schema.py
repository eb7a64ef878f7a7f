"""`ovolo schema`: the JSON Schema of a document."""

from typing import Literal

import click

__all__ = ["schema"]


@click.command()
@click.argument("document", type=click.Choice(["job", "plan"]))
def schema(document: Literal["job", "plan"]) -> None:
    """Print the JSON Schema of a job or of a plan."""
    from ovolo.documents.schema import schema_as_json

    click.echo(schema_as_json(document), nl=False)
