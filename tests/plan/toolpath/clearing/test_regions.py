"""Regions: the allowance and the limits are kept, little stands over what could go."""

import math

import numpy as np
import pytest
from tests.documents.jobs import Data
from tests.plan.toolpath.clearing.benches import NOSES, bench_for

from ovolo.plan.sweep.sweep import sweep
from ovolo.plan.toolpath.clearing.ground import Share
from ovolo.plan.toolpath.clearing.regions import clear
from ovolo.shop.limits import limit_of


@pytest.mark.parametrize("tool", NOSES, ids=lambda t: str(t["name"]))
def test_a_cleared_blank_keeps_the_allowance_and_the_limits(tool: Data) -> None:
    frame, bench = bench_for(tool)
    blank = bench.metal.height
    clear(bench, Share())
    assert (bench.metal.height >= np.minimum(bench.ground.target, blank) - 0.02).all()
    shop = frame.job.shop
    for step, took in zip(bench.walk.steps, sweep(frame, bench.walk.steps).moves, strict=True):
        assert took.bite <= limit_of(shop, step.tool, step.slide, rough=True).widest * 1.03 + 0.02


@pytest.mark.parametrize("tool", NOSES[:2], ids=lambda t: str(t["name"]))
def test_no_step_is_higher_than_it_should_be(tool: Data) -> None:
    _, bench = bench_for(tool)
    clear(bench, Share())
    assert bench.left(-math.inf, math.inf) < 0.3


def test_what_is_no_share_of_a_tool_it_does_not_touch() -> None:
    _, bench = bench_for(NOSES[0])
    clear(bench, Share(opened=False))
    assert not bench.cuts
