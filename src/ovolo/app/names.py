"""What may stand in an address: the two kinds of things kept, and the name of one of them. Nothing else, so no path."""

from __future__ import annotations

from starlette.convertors import Convertor, register_url_convertor

__all__ = ["KEPT", "NAME"]


class _Kept(Convertor[str]):
    """Jobs or shops."""

    regex = "jobs|shops"

    def convert(self, value: str) -> str:
        return value

    def to_string(self, value: str) -> str:
        return value


class _Name(_Kept):
    """The name of something kept; nothing that could be a path."""

    regex = "[A-Za-z0-9_-]{1,40}"


register_url_convertor("kept", _Kept())
register_url_convertor("name", _Name())

KEPT, NAME = "{kind:kept}", "{id:name}"
"""The two as they stand in a route."""
