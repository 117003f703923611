"""Arrays are named in one leaf, and hold what their names say."""

import platform
import re
import subprocess
import sys

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


FAULTS = """
import resource
import numpy as np
from stackview.arrays import keep_freed_memory

def faults():
    before = resource.getrusage(resource.RUSAGE_SELF).ru_minflt
    for _ in range(50):
        np.ones(100_000)
    return resource.getrusage(resource.RUSAGE_SELF).ru_minflt - before

first = faults()
keep_freed_memory()
np.ones(100_000)
print(first, faults())
"""


@pytest.mark.skipif(platform.libc_ver()[0] != "glibc", reason="only this C library hands memory back at once")
def test_memory_freed_once_is_not_fetched_again_page_by_page() -> None:
    done = subprocess.run([sys.executable, "-c", FAULTS], check=True, capture_output=True, text=True)
    before, after = (int(word) for word in done.stdout.split())
    assert 2 * after < before
