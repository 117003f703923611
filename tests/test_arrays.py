"""Arrays are named in one leaf, and hold what their names say."""

import re

import numpy as np
import pytest

from stackview import arrays
from tests.test_architecture import FILES, name_of

KINDS = {"Floats": np.float64, "Singles": np.float32, "Whole": np.int64, "Ints": np.int32, "Yes": np.bool_}


@pytest.mark.parametrize(("name", "kind"), KINDS.items())
def test_a_name_says_one_kind(name: str, kind: type) -> None:
    assert getattr(arrays, name).__args__[1].__args__ == (kind,)


def test_no_other_file_names_a_kind_of_array() -> None:
    naming = [
        name_of(file)
        for file in FILES
        if re.search(r"^\w+ = NDArray\[[\w.]+\]$", file.read_text("utf-8"), re.MULTILINE)
    ]
    assert naming == ["arrays.py"]
