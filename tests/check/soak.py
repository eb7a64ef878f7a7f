"""Simulated parts by the hundred, one cause at a time: `python -m tests.check.soak --parts 50`, or `make soak`.

Each part is made by the plan's own moves on a lathe with one thing wrong (or nothing), swept by the oracle, measured
with noise, checked, and cut again where a cut is proposed. Printed for every shape and cause: how many were named, how
many of those lay within their stated 95 %, how many corrections were tried and how many left the part in its limits.
"""

import argparse
import sys
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from tests.check.parts import MORE, SHAPES, Shape, places, shape
from tests.check.simulated import Made, Wrong, as_csv, make, measure
from tests.check.trial import corrected
from tests.oracle import set_up

from ovolo.check.checking import Checked, Found, check, limits_of
from ovolo.check.measuring import measuring_list
from ovolo.documents.check.readings import readings_from_text

CAUSES = ("nothing", "cross", "saddle", "nose", "taper", "height", "counts", "backlash", "setting")


class Told(NamedTuple):
    """What was said of one part. named: a cause at all. right: the true one and no other, within its stated 95 %.
    undecided: none named, but the true one among those that fit as well. said: for people."""

    cause: str
    named: bool
    right: bool
    undecided: bool
    false_verdict: bool
    cut: bool
    mended: bool
    said: str


class Planted(NamedTuple):
    """One thing wrong; the name that it has in check.json; its value; of a setting, its move from 0."""

    wrong: Wrong
    name: str
    value: float
    move: int | None = None


def planted(case: str, made: Shape, seed: int) -> Planted:
    """One thing wrong, of a size and sign by chance."""
    source = np.random.default_rng([seed, CAUSES.index(case)])
    sign, share = (1 if source.random() < 0.5 else -1), source.uniform(0.5, 1.5)
    bore = made.job["part"].get("surface") == "bore"
    if case == "cross":
        return Planted(Wrong(cross=0.08 * sign * share), "cross_offset", 0.08 * sign * share)
    if case == "saddle":
        return Planted(Wrong(saddle=0.15 * sign * share), "saddle_offset", 0.15 * sign * share)
    if case == "nose":
        by = 0.2 * sign * share
        return Planted(Wrong(nose={made.tool: by}), "nose_radius", by)
    if case == "taper":
        return Planted(Wrong(taper=0.003 * sign * share), "taper", 0.003 * sign * share)
    if case == "height":
        return Planted(Wrong(height=0.33 * share), "centre_height", 0.33 * share)
    if case == "counts":
        about = float(source.choice([0.0, made.plan.job.shop.stock.radius])) if not bore else 0.0
        twice = bool(about) and source.random() < 0.5
        return Planted(Wrong(counts=0.5 if twice else 2.0, about=about), "counts_twice" if twice else "counts_half", 1)
    if case == "backlash":
        slide = "cross" if source.random() < 0.5 else "saddle"
        way = ("in" if bore else "out") if slide == "cross" else "away"
        return Planted(Wrong(lag=(way, 0.15 * share)), "backlash", 0.15 * share)
    if case == "setting":
        return _one_setting(made, source, 0.12 * sign * share)
    return Planted(Wrong(), "", 0.0)


def _one_setting(made: Shape, source: np.random.Generator, by: float) -> Planted:
    """A figure of a finishing move that shapes a good stretch; any other is lost between two readings."""
    moves = made.moves["moves"]
    able = [n for n, move in enumerate(moves) if move["stage"] == "finish" and move["cuts"]]
    n = int(source.choice(able))
    return Planted(Wrong(at=(n, by)), "setting", by, n)


def read(name: str, part: Made, seed: int, close: bool) -> str:
    """Readings as a careful turner would take them; at the places that Ovolo lists, or spread over the curve."""
    source = np.random.default_rng(seed)
    u, u_z = float(source.choice([0.005, 0.01, 0.02])), float(source.choice([0.01, 0.02, 0.04]))
    where = places(name, int(source.choice([30, 60] if close else [14, 20, 30])))
    if source.random() < 0.3 and not close:
        plan = shape(name).plan
        where = [place.z for place in measuring_list(plan, limits_of(plan)).places]
    unit = 25.4 if shape(name).plan.job.units == "in" else 1.0
    rows = [(z / unit, d / unit) for z, d in measure(part, where, seed + 1, u=u, u_z=u_z)]
    return as_csv([(round(z, 5), round(d, 5)) for z, d in rows], u=u / unit, u_z=u_z / unit)


def told(name: str, case: str, seed: int) -> Told:
    """Make a part with one thing wrong, measure it, check it, and cut it again where that is proposed."""
    made, wrong = shape(name), planted(case, shape(name), seed)
    part = make(made.job, made.moves, wrong.wrong, seed)
    found = check(made.plan, readings_from_text(read(name, part, seed + 10_000, case == "setting"), made.plan.job))
    inside = part.above() <= found.limits.above and part.below() <= found.limits.below
    plan = found.correction.plan
    mended = plan is not None and _inside(name, found, corrected(found, part, wrong.wrong, seed))
    return Told(
        cause=case,
        named=bool(found.causes),
        right=_right(found, wrong),
        undecided=any(f.cause.name == wrong.name for each in found.undecided for f in each.between),
        false_verdict=found.verdict == ("not good" if inside else "good"),
        cut=plan is not None,
        mended=mended,
        said=_said(found, wrong, part),
    )


def _right(found: Checked, wrong: Planted) -> bool:
    """Whether each cause that is named is the true one within twice its standard uncertainty, or 0 within it."""
    for each in found.causes:
        true = wrong.value if each.cause.name == wrong.name else 0.0
        value = each.value if each.cause.fixed is None else 1.0
        if each.cause.fixed is not None and each.cause.name != wrong.name:
            return False
        if each.cause.move is not None and each.cause.move != wrong.move:
            return False
        if abs(value - true) > 2 * each.u + 1e-9:
            return False
    return True


def _said(found: Checked, wrong: Planted, part: Made) -> str:
    named = " ".join(f"{_cause(f)} {f.value:.4f}±{2 * f.u:.4f}" for f in found.causes)
    doubts = ",".join(d.kind for d in found.doubts)
    rivals = "/".join(f"{_cause(f)} {f.value:.3f}" for each in found.undecided for f in each.between)
    lag = "" if wrong.wrong.lag is None else wrong.wrong.lag[0]
    plan = f"; plan {len(found.correction.plan.moves)}" if found.correction.plan else ""
    return (
        f"{wrong.name} {lag}{'' if wrong.move is None else wrong.move + 1} {wrong.value:.4f}: {named or '-'}; "
        f"{found.verdict}; fits {found.fits} doubts {doubts}; undecided {rivals}; "
        f"above {part.above():.3f} below {part.below():.3f}{plan}"
    )


def _cause(found: Found) -> str:
    cause = found.cause
    return f"{cause.name}{'' if cause.move is None else cause.move + 1}{'' if cause.slide is None else cause.slide[0]}"


def _inside(name: str, found: Checked, after: Made) -> bool:
    whole = Made(set_up(shape(name).job), after.rest)
    return whole.above() <= found.limits.above and whole.below() <= found.limits.below


def _falls_short(one: Told) -> str:
    """N nothing named, W wrongly named, F a false verdict, M not mended by its correction."""
    flags = ("N", one.cause != "nothing" and not one.named), ("W", one.named and not one.right)
    more = ("F", one.false_verdict), ("M", one.cut and not one.mended)
    return "".join(letter for letter, on in (*flags, *more) if on)


def _row(name: str, case: str, tried: Sequence[Told]) -> str:
    named, cut = [one for one in tried if one.named], [one for one in tried if one.cut]
    right, mended = sum(one.right for one in named), sum(one.mended for one in cut)
    unsure, false = sum(one.undecided for one in tried), sum(one.false_verdict for one in tried)
    return (
        f"{name:14} {case:9} {len(tried):4} parts: {len(named):4} named, {right:4} right, {unsure:4} undecided; "
        f"{false:3} false verdicts; {len(cut):4} cut, {mended:4} mended"
    )


def shortfalls(tried: Sequence[Told]) -> list[str]:
    """Which rates are not kept: 95 in 100, less what chance takes of so few (three standard deviations)."""
    named, good = [one for one in tried if one.named], [one for one in tried if one.cause == "nothing"]
    cut = [one for one in tried if one.cut]
    kept = {
        "named and within the stated 95 %": [one.right for one in named],
        "nothing named where nothing is wrong": [not one.named for one in good],
        "inside the limits after the correction": [one.mended for one in cut],
    }
    least = {what: 0.95 * len(ok) - 3 * (0.95 * 0.05 * len(ok)) ** 0.5 - 1e-9 for what, ok in kept.items()}
    return [f"{what}: {sum(ok)} of {len(ok)}" for what, ok in kept.items() if sum(ok) < least[what]]


def main(given: Sequence[str] | None = None) -> int:
    """Try parts of every shape and cause, print the rates; 1 where they fall short of what is stated."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--parts", type=int, default=30, help="how many of each shape and cause (30)")
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--shape", action="append", help="one shape, again for more (all)")
    parser.add_argument("--cause", action="append", help="one cause, again for more (all)")
    parser.add_argument("--loud", action="store_true", help="say what was said of each part")
    options = parser.parse_args(given)
    everything: list[Told] = []
    for name in options.shape or [*SHAPES, *MORE]:
        for case in options.cause or CAUSES:
            tried = []
            for seed in range(options.first, options.first + options.parts):
                tried.append(told(name, case, seed))
                if options.loud and _falls_short(tried[-1]):
                    print("   ", _falls_short(tried[-1]), seed, tried[-1].said, flush=True)
            print(_row(name, case, tried), flush=True)
            everything += tried
    short = shortfalls(everything)
    print("\n".join(short) or "every rate is kept")
    return int(bool(short))


if __name__ == "__main__":
    sys.exit(main())
