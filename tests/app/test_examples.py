"""The examples are there the first time, and only then."""

from pathlib import Path

from ovolo.app.examples import FIRST, add_examples, example_folder
from ovolo.documents.reading import job_from_data, read_job
from ovolo.store import Store


def test_examples_come_once(tmp_path: Path) -> None:
    store = Store.in_folder(tmp_path)
    folder = example_folder()
    assert folder is not None
    many = add_examples(store)
    assert many == len(list(folder.glob("*.toml"))) > 2
    listed = store.listed("job")
    assert listed[0].title == read_job(folder / f"{FIRST}.toml").title
    for summary in listed:
        job_from_data(store.get(summary.id).document)
        store.delete(summary.id)
    assert add_examples(store) == 0
    assert store.listed("job") == []
    store.close()
