"""How much roughing leaves."""

from ovolo.plan.toolpath.clearing.leave import Leave


def test_less_is_left_step_by_step_and_then_less_than_the_allowance() -> None:
    leave: Leave | None = Leave()
    steps, allowances = [], []
    while leave is not None:
        steps.append(leave.step)
        allowances.append(leave.allowance)
        leave = leave.finer()
    assert steps == sorted(steps, reverse=True)
    assert allowances[0] == 1.0
    assert allowances[-1] < 0.5
    assert Leave(limits=0.83).lighter() is None
