"""The description says what the routes do, and its references lead somewhere."""

import re
from typing import Any

import httpx
from starlette.routing import Route

from ovolo.app import devices, keeping, runs, scripting
from ovolo.app.openapi import description


def _described() -> set[tuple[str, str]]:
    paths: dict[str, dict[str, Any]] = description()["paths"]
    return {(path, method.upper()) for path, item in paths.items() for method in item if method != "parameters"}


def _routed() -> set[tuple[str, str]]:
    found = set()
    routes = [
        route
        for route in [*scripting.ROUTES, *keeping.ROUTES, *runs.ROUTES, *devices.ROUTES]
        if isinstance(route, Route)
    ]
    for route in (route for route in routes if route.path.startswith("/api/")):
        kinds = ("jobs", "shops") if "{kind:kept}" in route.path else ("",)
        for kind in kinds:
            path = re.sub(r"\{(\w+):\w+\}", r"{\1}", route.path.replace("{kind:kept}", kind))
            found |= {(path, method) for method in route.methods or () if method != "HEAD"}
    return found


def test_every_route_is_described_and_no_other() -> None:
    assert _described() == _routed()


def test_references_lead_somewhere() -> None:
    whole = description()

    def look(value: Any) -> None:
        if isinstance(value, dict):
            if "$ref" in value:
                place: Any = whole
                for step in value["$ref"].removeprefix("#/").split("/"):
                    place = place[step]
            for item in value.values():
                look(item)
        if isinstance(value, list):
            for item in value:
                look(item)

    look(whole)


def test_it_is_served(client: httpx.Client) -> None:
    assert client.get("/api/openapi.json").json()["openapi"].startswith("3.1")
