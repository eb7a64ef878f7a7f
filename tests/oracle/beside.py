"""The judge that lies beside the repository on some machines."""

import importlib.util
import json
from pathlib import Path

import tomlkit
from tests.oracle.outline import Data

JUDGE = Path(__file__).parents[3] / "shared" / "verify_plan.py"


def other_judge(job: Data, plan: Data, folder: Path) -> list[str] | None:
    """What the judge beside the repository says, where there is one; None where there is none."""
    if not JUDGE.is_file():
        return None
    spec = importlib.util.spec_from_file_location("other_judge", JUDGE)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    job_file, plan_file = folder / "job.toml", folder / "plan.json"
    job_file.write_text(tomlkit.dumps(job), encoding="utf-8")
    plan_file.write_text(json.dumps(plan), encoding="utf-8")
    found: list[str] = module.judge(job_file, plan_file)[0]
    return found
