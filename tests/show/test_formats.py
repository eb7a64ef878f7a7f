"""Every format of a plan has its writer, its media type and its place among the others."""

import pytest
from tests.show.plans import planned

from ovolo.show import writers
from ovolo.show.formats import FORMATS, MEDIA, write


def test_each_format_has_a_writer_and_each_writer_a_format() -> None:
    public = {name for name in vars(writers) if name.rpartition("_")[2] in MEDIA and "_as_" not in name}
    assert {name.replace(".", "_") for name in FORMATS} == public


def test_each_format_ends_as_something_known() -> None:
    assert {name.partition(".")[2] for name in FORMATS} <= set(MEDIA)


def test_the_groups_follow_one_another() -> None:
    groups = [each.group for each in FORMATS.values()]
    assert groups == sorted(groups, key=["On paper", "Drawings", "Data"].index)


def test_what_nothing_writes_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        write("plan.exe", planned("pivot"))
