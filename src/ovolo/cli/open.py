"""`ovolo open`: the web pages, served on this machine."""

from importlib import import_module
from pathlib import Path

import click

from ovolo.store import Store
from ovolo.store.opening import data_folder

__all__ = ["open"]


@click.command()
@click.option("--port", type=click.IntRange(0, 65535), metavar="N", help="Port to serve at; 0 for any free one.")
@click.option("--no-browser", is_flag=True, help="Only print the address.")
@click.option("--data", type=click.Path(path_type=Path, file_okay=False), metavar="FOLDER", help="Where jobs are kept.")
@click.option("--database", metavar="URL", envvar="OVOLO_DATABASE", help="Keep them in this database instead.")
@click.option("--lan", is_flag=True, help="Let paired devices on the network see runs at the lathe.")
def open(port: int | None, no_browser: bool, data: Path | None, database: str | None, lan: bool) -> None:
    """Open the pages Part, Shop, Plan, Turn and Check in the browser.

    They are served to this machine only. With --lan the network is served too: a phone at the lathe, say. Only devices
    that you pair by a QR code are let in, and what they are sent is not encrypted. Jobs are kept in your own data
    folder, or where you say.
    """
    if data is not None and database is not None:
        raise click.UsageError("--data and --database: each says where jobs are kept. Give one of them.")
    store = Store.at(database) if database else Store.in_folder(data or data_folder())
    # The pages are a program of their own, next to the commands: found by name, for neither room builds on the other.
    serve = import_module("ovolo.app.serving").serve
    try:
        serve(store, port, click.echo, browser=not no_browser, lan=lan)
    finally:
        store.close()
