"""What requests carry and what answers look like: JSON in, JSON out, faults in one shape."""

from __future__ import annotations

import json
import math
from collections.abc import Awaitable, Callable
from typing import Any, NoReturn

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from ovolo.app.workers import Busy, Mistake
from ovolo.errors import Fault, FaultsFound, JobFaults
from ovolo.store import Changed, Damaged, Kept, NotKept

__all__ = ["HANDLERS", "body_json", "body_text", "kept_as_data", "number_of"]


class BadRequest(Exception):
    """The request itself is wrong; carries the answer."""

    def __init__(self, status: int, fault: Fault) -> None:
        self.status, self.fault = status, fault
        super().__init__(str(fault))


def _refuse(status: int, where: str, value: object, limit: str, says: str, remedy: str) -> NoReturn:
    raise BadRequest(status, Fault(where, value, limit, says, remedy))


async def body_json(request: Request) -> Any:
    """The JSON of a request. Raises BadRequest where it is none, or is not said to be."""
    kind = request.headers.get("content-type", "").split(";")[0].strip().lower()
    if kind != "application/json":
        _refuse(415, "content-type", kind, "application/json", "this is not said to be JSON", "Set the header")
    try:
        data = json.loads(await request.body(), parse_constant=_no_constant, parse_float=_finite)
        _refuse_odd_text(data)
        return data
    except UnicodeDecodeError:
        _refuse(400, "body", None, "UTF-8", "it is not UTF-8 text", "Send it as UTF-8")
    except json.JSONDecodeError as wrong:
        place = f"body, line {wrong.lineno}, column {wrong.colno}"
        _refuse(400, place, None, "", f"this is not JSON: {wrong.msg[:1].lower()}{wrong.msg[1:]}", "Correct it there")
    except (RecursionError, ValueError):
        _refuse(400, "body", None, "", "it holds what JSON has no number for, or is nested too deeply", "Correct it")


def _finite(text: str) -> float:
    """A number as a float can hold it: 1e400 is none."""
    number = float(text)
    if not math.isfinite(number):
        raise ValueError(text)
    return number


def _refuse_odd_text(data: Any) -> None:
    """Refuse halves of characters and zero bytes: no file and no database keeps them."""
    text = json.dumps(data, ensure_ascii=False)
    if "\\u0000" in text:
        _refuse(400, "body", None, "", "a text in it holds a zero byte", "Leave it out")
    try:
        text.encode()
    except UnicodeEncodeError:
        _refuse(400, "body", None, "", "a text in it holds half of a character", "Send whole characters")


def _no_constant(name: str) -> NoReturn:
    raise ValueError(name)


async def body_text(request: Request) -> str:
    """The text of a request. Raises BadRequest where it is not UTF-8."""
    try:
        return (await request.body()).decode("utf-8-sig")
    except UnicodeDecodeError:
        _refuse(400, "body", None, "UTF-8", "it is not UTF-8 text", "Send it as UTF-8")


def table_of(data: Any, where: str = "body") -> dict[str, Any]:
    """The data as an object. Raises BadRequest."""
    if not isinstance(data, dict):
        _refuse(422, where, None, "an object", "something else stands where a table is wanted", "Send an object")
    return data


def number_of(data: dict[str, Any], name: str) -> int:
    """A whole number of the body. Raises BadRequest."""
    value = data.get(name)
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value < 2**31:
        _refuse(
            422, name, value, "a whole number", "the revision that the change was made to is missing", f"Send {name}"
        )
    return value


def kept_as_data(kept: Kept) -> dict[str, Any]:
    """A kept document as JSON."""
    return {
        "id": kept.id,
        "kind": kept.kind,
        "title": kept.title,
        "revision": kept.revision,
        "version": kept.version,
        "can_undo": kept.can_undo,
        "can_redo": kept.can_redo,
        "deleted": None if kept.deleted is None else kept.deleted.isoformat(),
        "document": kept.document,
    }


def faults(status: int, found: tuple[Fault, ...] | list[Fault], **more: Any) -> JSONResponse:
    """An answer that carries faults."""
    return JSONResponse({"faults": [fault.as_dict() for fault in found], **more}, status)


async def _faults_found(_: Request, wrong: Exception) -> Response:
    assert isinstance(wrong, FaultsFound)
    return faults(422, wrong.faults)


async def _bad_request(_: Request, wrong: Exception) -> Response:
    assert isinstance(wrong, BadRequest)
    return faults(wrong.status, [wrong.fault])


async def _not_kept(request: Request, wrong: Exception) -> Response:
    return faults(404, [Fault(request.url.path[:100], None, "", str(wrong), "")])


async def _changed(_: Request, wrong: Exception) -> Response:
    assert isinstance(wrong, Changed)
    fault = Fault("revision", None, str(wrong.current.revision), str(wrong), "")
    return faults(409, [fault], current=kept_as_data(wrong.current))


async def _busy(_: Request, wrong: Exception) -> Response:
    assert isinstance(wrong, Busy)
    answer = faults(503, list(wrong.faults))
    answer.headers["retry-after"] = "5"
    return answer


async def _damaged(_: Request, wrong: Exception) -> Response:
    assert isinstance(wrong, Damaged)
    return faults(409, list(wrong.faults))


async def _http(request: Request, wrong: Exception) -> Response:
    assert isinstance(wrong, HTTPException)
    says = {404: "there is nothing at this address", 405: "this address does not take that"}.get(wrong.status_code)
    fault = Fault(request.url.path[:100], request.method, "", says or wrong.detail, "Start from the list of jobs, /")
    return JSONResponse({"faults": [fault.as_dict()]}, wrong.status_code, headers=wrong.headers)


async def _mistake(_: Request, wrong: Exception) -> Response:
    says = f"Ovolo itself has made a mistake ({' '.join(str(wrong).split())[:200]})"
    return faults(500, [Fault("", None, "", says, "Please report it with the job")])


Handler = Callable[[Request, Exception], Awaitable[Response]]
HANDLERS: dict[Any, Handler] = {
    BadRequest: _bad_request,
    FaultsFound: _faults_found,
    JobFaults: _faults_found,
    NotKept: _not_kept,
    Changed: _changed,
    HTTPException: _http,
    Busy: _busy,
    Damaged: _damaged,
    Mistake: _mistake,
    Exception: _mistake,
}
"""What becomes of each thing that can go wrong."""
