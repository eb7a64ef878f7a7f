"""`ovolo schema`."""

import json

import pytest

from ovolo.cli import main


@pytest.mark.parametrize("document", ["job", "plan"])
def test_it_prints_the_schema(document: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as end:
        main(["schema", document])
    assert end.value.code == 0
    assert json.loads(capsys.readouterr().out)["title"] == f"Ovolo {document}"
