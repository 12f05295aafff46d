"""What the tests of reading share: the problems of a recipe file, in words."""

import pytest

from reformulate.errors import BadInput
from reformulate.sets import read_document


@pytest.fixture
def faults(tmp_path):
    """Return a function that reads a file of a text and returns its problems as text."""

    def read(text):
        path = tmp_path / "dip.toml"
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        with pytest.raises(BadInput) as caught:
            read_document(path)
        return [str(problem) for problem in caught.value.problems]

    return read
