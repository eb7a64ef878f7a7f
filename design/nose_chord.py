"""How finely the nose is flattened for the sweep: what a chord costs in time and in the ridge that is predicted.

Run: .venv/bin/python -m design.nose_chord
Why 0.2 µm: the prediction is then within 0.2 µm of a nose flattened a hundred times finer, far inside the 1.5 µm that
two honest computations may differ by; finer chords only cost time.
"""

import time
from pathlib import Path

from ovolo.documents.reading import read_job
from ovolo.plan.stations.choose_tools import assign, reach_of
from ovolo.plan.sweep import sweep
from ovolo.plan.toolpath.moves import predict
from ovolo.plan.toolpath.plan_moves import lay_down
from ovolo.plan.view.frame import Frame
from ovolo.shop.edges import nosed

CHORDS = (2e-6, 2e-5, 1e-4, 2e-4, 5e-4, 2e-3)


def main() -> None:
    """Print, for each chord, the corners of the nose, the time of a sweep and the highest ridge."""
    job = read_job(Path(__file__).parents[1] / "examples" / "bridge-pin.toml")
    frame = Frame(job)
    assignment = assign(frame, [reach_of(frame, tool, job.part.ridge) for tool in job.shop.tools], job.part.ridge)
    assert assignment is not None
    steps = lay_down(frame, assignment, job.shop.tools).steps
    print(f"{'chord µm':>9} {'corners':>8} {'sweep ms':>9} {'highest ridge µm':>17}")
    for chord in CHORDS:
        nosed.NOSE_CHORD = chord
        sweep.tool_shape.cache_clear()
        began = time.perf_counter()
        swept = sweep.sweep(frame, steps)
        spent = time.perf_counter() - began
        corners = len(sweep.tool_shape(steps[-1].tool))
        print(f"{chord * 1e3:9.3f} {corners:8d} {spent * 1e3:9.1f} {predict(frame, swept).ridge_max * 1e3:17.3f}")


if __name__ == "__main__":
    main()
