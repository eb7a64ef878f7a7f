"""Print what was measured as ratios: `python -m benchmarks.ratios out/bench.json`.

Within a group each case is compared with the case whose `extra_info["baseline"]` is true, or with the fastest.
Where the cases of a group carry their size in `extra_info["n"]`, the growth between neighbours is printed as the
exponent p of n**p: 1 is in proportion, n log n lies a little above.
"""

import json
import math
import sys
from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple


class Case(NamedTuple):
    """One measured case: median seconds, its size and the time aimed at, ms, where it has them.

    `slow`: seconds that nineteen rounds of twenty keep, where an aim (`slow_aim`, ms) is meant for those.
    """

    name: str
    seconds: float
    is_baseline: bool
    size: float | None
    aim: float | None = None
    slow: float = 0.0
    slow_aim: float | None = None


def read(measured: dict[str, Any]) -> dict[str, list[Case]]:
    """The cases of a pytest-benchmark report by group; medians, since a busy machine spoils a mean."""
    groups: dict[str, list[Case]] = defaultdict(list)
    for case in measured["benchmarks"]:
        extra = case["extra_info"]
        seconds, aims = case["stats"]["median"], (extra.get("aim_ms"), _p95(case["stats"]), extra.get("aim_p95_ms"))
        groups[case["group"] or "single"].append(
            Case(case["name"], seconds, bool(extra.get("baseline")), extra.get("n"), *aims)
        )
    return groups


def _p95(stats: dict[str, Any]) -> float:
    """What nineteen rounds of twenty keep, s; the longest where the rounds are not in the report."""
    data = sorted(stats.get("data") or [stats["max"]])
    return float(data[math.ceil(0.95 * len(data)) - 1])


def ratios(cases: list[Case]) -> Iterator[str]:
    """One line a case, fastest first, each with its ratio to the baseline."""
    cases = sorted(cases, key=lambda case: case.seconds)
    base = next((case for case in cases if case.is_baseline), cases[0])
    for case in cases:
        ratio = f"{case.seconds / base.seconds:>9.2f} × {base.name}"
        yield f"  {case.name:<56} {1e3 * case.seconds:>10.4g} ms  {ratio}{_aim(case)}"


def _aim(case: Case) -> str:
    if case.slow_aim is not None:
        met = "met" if 1e3 * case.slow <= case.slow_aim else "MISSED"
        return f"  (p95 {1e3 * case.slow:.0f} ms, aim {case.slow_aim:g} ms: {met})"
    if case.aim is None:
        return ""
    return f"  (aim {case.aim:g} ms: {'met' if 1e3 * case.seconds <= case.aim else 'MISSED'})"


def growth(cases: list[Case]) -> Iterator[str]:
    """One line for each pair of neighbouring sizes, with the exponent of the growth between them."""
    sized = sorted((case.size, case.seconds) for case in cases if case.size is not None)
    for (n1, t1), (n2, t2) in pairwise(sized):
        if n2 > n1:
            yield f"  from n = {n1:g} to {n2:g}: grows as n^{math.log(t2 / t1) / math.log(n2 / n1):.2f}"
    if len(sized) > 2 and sized[-1][0] > sized[0][0]:
        (n1, t1), (n2, t2) = sized[0], sized[-1]
        # n log n, seen as a power between the same two sizes, is the steepest that is aimed at.
        steepest = 1 + math.log(math.log(n2) / math.log(n1)) / math.log(n2 / n1)
        whole = math.log(t2 / t1) / math.log(n2 / n1)
        yield f"  over all, from n = {n1:g} to {n2:g}: n^{whole:.2f}  (aim: no steeper than n log n, n^{steepest:.2f})"


def main(report: str) -> None:
    """Print every group of the report."""
    for group, cases in sorted(read(json.loads(Path(report).read_text(encoding="utf-8"))).items()):
        print("\n".join([group, *ratios(cases), *growth(cases)]))


if __name__ == "__main__":
    main(sys.argv[1])
