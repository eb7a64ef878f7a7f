"""Thousands of random jobs by seed: `make soak EXAMPLES=20000`, or `python -m tests.properties.soak --help`.

A dome for every even seed, another outline for every odd one; of 100, one has a form tool in the drawer and one doubles
back. Each is planned and judged as in test_plans. Can be stopped at any time and goes on where it stopped; jobs that
fall short are kept as files, to be tried again.
"""

import argparse
import json
import sys
import time
from collections import Counter
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from multiprocessing import Pool
from pathlib import Path

from tests.properties.cases import Seeded, dome, outline, with_form_tool
from tests.properties.trial import attempt
from tests.properties.undercuts import undercut

BITE_SHARE = 0.04
"""So many may be refused for their bite, as in test_plans."""


FORM, DOUBLES_BACK = 9, 4
"""Seeds that leave this over 100 have a form tool in the drawer, or an outline that doubles back."""


def one(seed: int) -> tuple[int, str, str]:
    """(seed, outcome, what falls short): "crashed" for what should never be raised."""
    make = {FORM: with_form_tool, DOUBLES_BACK: undercut}.get(seed % 100, outline if seed % 2 else dome)
    try:
        trial = attempt(make(Seeded(seed)))
    except Exception as surprise:  # whatever it is, it is a find and no reason to stop
        return seed, "crashed", f"{type(surprise).__name__}: {surprise}\n"
    return seed, trial.outcome, "" if trial.outcome == "planned" else trial.complaint()


@contextmanager
def results(seeds: Iterable[int], processes: int) -> Iterator[Iterator[tuple[int, str, str]]]:
    """One after the other, or several at once; in order, so that a run can be taken up again."""
    if processes == 1:
        yield map(one, seeds)
        return
    with Pool(processes) as pool:
        yield pool.imap(one, seeds, chunksize=4)


def run(first: int, cases: int, processes: int, folder: Path) -> Counter[str]:
    """Try the cases that are left of `cases` from seed `first`; how they fared, those of earlier runs counted in."""
    state = folder / f"soak-{first}.json"
    at, fared, began = first, Counter[str](), time.monotonic()
    if state.exists():
        kept = json.loads(state.read_text(encoding="utf-8"))
        at, fared = kept["next"], Counter(kept["outcomes"])
    seeds = range(at, first + cases)
    with results(seeds, processes) as found:
        for seed, outcome, words in found:
            fared[outcome] += 1
            if words:
                (folder / f"soak-{seed}-{outcome.replace(' ', '-')}.txt").write_text(words, encoding="utf-8")
            state.write_text(json.dumps({"next": seed + 1, "outcomes": fared}), encoding="utf-8")
            _progress(seed - first + 1, cases, seed - at + 1, time.monotonic() - began, fared)
    return fared


def _progress(done: int, cases: int, here: int, seconds: float, fared: Counter[str]) -> None:
    left = (cases - done) * seconds / here
    tally = ", ".join(f"{count} {outcome}" for outcome, count in sorted(fared.items()))
    end = "\n" if done == cases or (not sys.stdout.isatty() and done % 100 == 0) else "\r"
    if end == "\n" or sys.stdout.isatty():
        print(f"{done} of {cases}: {tally}; {left / 60:.0f} min left   ", end=end, flush=True)


def bad(fared: Counter[str]) -> bool:
    """Whether anything falls short, or more is refused for its bite than may be."""
    return bool(fared["wrong"] or fared["crashed"]) or fared["bite"] > BITE_SHARE * max(fared.total(), 25)


def main() -> int:
    """Read the options, run, and say how it went; 1 where something falls short."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--cases", type=int, default=2000, help="how many (2000)")
    parser.add_argument("--first", type=int, default=0, help="the first seed (0)")
    parser.add_argument("--processes", type=int, default=2, help="how many at once (2)")
    parser.add_argument("--folder", type=Path, default=Path("out/soak"), help="where findings are kept (out/soak)")
    options = parser.parse_args()
    options.folder.mkdir(parents=True, exist_ok=True)
    try:
        fared = run(options.first, options.cases, options.processes, options.folder)
    except KeyboardInterrupt:
        print(f"\nstopped; the same command goes on from there. Findings: {options.folder}")
        return 130
    print(f"findings: {options.folder}" if fared.total() > fared["planned"] else "every one planned")
    return int(bad(fared))


if __name__ == "__main__":
    sys.exit(main())
