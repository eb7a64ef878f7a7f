"""What is known about a plan beside its moves: operator steps, machine limits, broken rules, advice."""
