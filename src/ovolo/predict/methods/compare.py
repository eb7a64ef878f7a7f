"""The ways to turn one curve side by side, and which is the quickest that is true enough, for one part and for many.

The comparison is meant to be fair: every way is judged on the same curve, by the same pace and with its own usual
errors, and a fixture may well win where many balls are wanted.
"""

from collections.abc import Callable
from typing import NamedTuple

from ovolo.cutting.pace import Pace
from ovolo.plan.model import Plan
from ovolo.predict.forecast.outlook import Forecast, forecast
from ovolo.predict.methods.coarse import coarse_way
from ovolo.predict.methods.special_ways import filing, fixture, form_tool
from ovolo.predict.methods.ways import Ground, Method, both_slides, facets, steps

__all__ = ["AS_TRUE", "MANY", "Methods", "compare", "quickest"]

AS_TRUE = 1.25
"""A method whose error is at most this times that of the steps counts as true as they are (our choice)."""

MANY = 20
"""How many parts are many."""

_WAYS: tuple[Callable[[Ground], Method], ...] = (steps, coarse_way, both_slides, facets, form_tool, fixture, filing)


class Methods(NamedTuple):
    """All methods, the steps of the plan first; the quickest that is as true as they are, for one part and for many."""

    methods: tuple[Method, ...]
    for_one: Method
    for_many: Method


def compare(plan: Plan, expected: Forecast | None = None, pace: Pace | None = None) -> Methods:
    """Every method on the curve of a plan.

    expected: what `forecast` says of the plan, where it is known already. pace: the user's own; left out, the job's.
    """
    ground = Ground(plan, expected or forecast(plan, pace), pace or plan.job.shop.pace)
    found = tuple(way(ground) for way in _WAYS)
    return Methods(found, quickest(found, 1), quickest(found, MANY))


def quickest(methods: tuple[Method, ...], parts: int) -> Method:
    """The quickest for a number of parts of all that are as true as the first, the steps; these themselves if none is.

    >>> from ovolo.predict.methods.ways import Said
    >>> slow = Method("steps", True, Said(""), (), (), error=0.08, first=15.0, each=15.0)
    >>> fixture = Method("fixture", True, Said(""), (), (), error=0.06, first=50.0, each=10.0)
    >>> quickest((slow, fixture), 1).name, quickest((slow, fixture), 20).name
    ('steps', 'fixture')
    """
    measure = methods[0]
    limit = AS_TRUE * (measure.error or 0.0)
    true = [method for method in methods if method.can and method.error is not None and method.error <= limit]
    return min(true, key=lambda method: method.minutes(parts) or 0.0, default=measure)
