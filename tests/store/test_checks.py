"""Measurements that are kept with a part."""

from ovolo.store import Store


def test_measurements_are_listed_the_newest_first(store: Store) -> None:
    job = store.add("job", {"title": "Pin"}, "made").id
    other = store.add("job", {"title": "Knob"}, "made").id
    store.checks.add(job, "z,d\n-3,13.5\n", "not good", "Cut again.")
    found = store.checks.add(job, "z,d\n-3,13.4\n", "good", "Nothing need be done.")
    assert [one["verdict"] for one in found] == ["good", "not good"]
    assert found[1]["readings"] == "z,d\n-3,13.5\n"
    assert store.checks.listed(other) == []
