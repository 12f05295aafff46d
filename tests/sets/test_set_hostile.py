"""Any bytes at all are read or refused in words."""

from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from reformulate.errors import BadInput
from reformulate.sets import read_document, read_set
from reformulate.sets.reading import document_from
from reformulate.sets.writing import render
from tests.sets.set_documents import documents


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("fuzz")


def outcome(read):
    """Return what is read and the problems; anything but BadInput is let through."""
    try:
        return read(), ()
    except BadInput as error:
        return None, error.problems


def read_any(folder, data):
    """Read bytes as a recipe and as a set file: a value or problems, nothing else."""
    for name in ("dip.toml", "set.toml"):
        (folder / name).write_bytes(data)
    read, problems = outcome(lambda: read_document(folder / "dip.toml"))
    assert (read is None) is bool(problems)
    assert all("dip.toml" in p.where and p.what and p.fix for p in problems)
    found = read_set(folder)
    assert len(found.documents) + len(found.broken) in (1, 2)


@given(st.binary(max_size=300))
@example(b"\x00")
@example(b"\xff\xfe")
@example(b"a = 2020-99-99")
@example(b"a = " + b"9" * 5000)
@example(b'format = 1\ntitle = 1\n"" = 1\nline = [[[]]]')
def test_any_bytes_are_read_or_refused_in_words(folder, data):
    read_any(folder, data)


@given(st.data())
def test_a_file_cut_short_anywhere_is_read_or_refused_in_words(folder, data):
    whole = render(data.draw(documents()))
    read_any(folder, whole[: data.draw(st.integers(0, len(whole)))])


SHARDS = ["[", "]", "{", "}", '"', "=", ".", "\n", "[[line]]", "nan", "-", "[brief]", "'", "0x"]


@given(st.data())
def test_a_file_changed_anywhere_is_read_or_refused_in_words(folder, data):
    whole = render(data.draw(documents())).decode()
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(whole)))
        end = data.draw(st.integers(at, min(len(whole), at + 12)))
        shard = data.draw(st.sampled_from(SHARDS) | st.text(max_size=3))
        whole = whole[:at] + shard + whole[end:]
    read_any(folder, whole.encode("utf-8", "surrogatepass"))


VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=4),
    lambda inner: (
        st.lists(inner, max_size=2)
        | st.dictionaries(st.sampled_from(["food", "grams", "kind", "line", "goal", "x"]), inner)
    ),
    max_leaves=5,
)


@given(st.data())
def test_data_of_any_shape_under_our_keys_is_read_or_refused_in_words(data):
    base = {"format": 1, "title": "x", "servings": 2, "line": [{"food": "a", "grams": 1}]}
    keys = st.sampled_from([*base, "brief", "steps", "note", "moisture_loss_percent"])
    base |= data.draw(st.dictionaries(keys, VALUES.filter(lambda v: v is not None)))
    read, problems = outcome(lambda: document_from(base, Path("dip.toml")))
    assert (read is None) is bool(problems)
