"""Values worked out once for all frames of a job, however far each carries the finish."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Generic, Protocol, TypeVar, overload

Value = TypeVar("Value")


class Keeps(Protocol):
    """What carries values from frame to frame: `dataclasses.replace` hands `kept` on as it is."""

    @property
    def kept(self) -> dict[str, Any]:
        """By the names of the properties."""


class shared(Generic[Value]):  # noqa: N801  # a decorator, as `property` is
    """A property that depends on the job alone, kept in `kept` and so for every frame made from this one."""

    def __init__(self, work_out: Callable[[Any], Value]) -> None:
        self.work_out, self.name = work_out, work_out.__name__
        self.__doc__ = work_out.__doc__

    @overload
    def __get__(self, frame: None, owner: type) -> shared[Value]: ...

    @overload
    def __get__(self, frame: Keeps, owner: type) -> Value: ...

    def __get__(self, frame: Keeps | None, owner: type) -> shared[Value] | Value:
        if frame is None:
            return self
        if self.name not in frame.kept:
            frame.kept[self.name] = self.work_out(frame)
        value: Value = frame.kept[self.name]
        return value
