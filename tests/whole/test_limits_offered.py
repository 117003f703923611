"""Every length of a lamp's file a kilometre too long or too short: what is offered for it then is taken."""

import re
from collections.abc import Iterator

import pytest

from stackview.description.keys import every_table
from stackview.description.lamp_file import LampFile
from stackview.description.limits_tried import is_of_same
from stackview.errors import Fault, LampError
from tests.whole.random_lamps import FOLDER, random_lamp
from tests.whole.refusals import faults_of, offers

FAR_OUT = ("1000000 mm", "-1000000 mm")
LAMPS = 250
"""Random lamps, which together write every key."""
KEYS = [key for table in every_table() for key in table.keys]
WORDS = {key.name for key in KEYS}
LENGTHS = {key.name for key in KEYS if re.search(r"\blengths?\b", key.takes)}
LIMITS = {key.path for key in KEYS if key.path.startswith("limits.") and key.name in LENGTHS}


def refused(file: LampFile, whole: bool = False) -> tuple[Fault, ...]:
    """What a lamp is refused for while it is read, or until it is built and lit."""
    if whole:
        return faults_of(file.text())
    try:
        file.lamp()
    except LampError as wrong:
        return wrong.faults
    return ()


def lengths() -> Iterator[tuple[tuple[str, ...], LampFile, str]]:
    """Every length key of the file once, where it may stand: its words, a lamp that writes it, its path there."""
    known: set[tuple[str, ...]] = set()
    for number in range(LAMPS):
        file = LampFile.from_text(random_lamp(number), "lamp.toml", FOLDER)
        if refused(file):
            continue
        limits = [] if known else sorted(LIMITS)
        for path in [*(each.path for each in file.numbers() if each.is_length), *limits]:
            key = tuple(word for word in path.split(".") if word in WORDS)
            if key not in known:
                known.add(key)
                yield key, file, path


def with_length(file: LampFile, path: str, length: str, whole: bool = False) -> tuple[Fault, ...]:
    try:
        return refused(file.changed({path: length}), whole)
    except LampError as wrong:
        return wrong.faults


def test_no_length_that_is_offered_is_refused_for_a_tighter_reason() -> None:
    asked, tried = set(), 0
    for key, file, path in lengths():
        asked.add(key[-1])
        for far in FAR_OUT:
            faults = with_length(file, path, far)
            assert faults, f"{path} = {far}"
            for fault, offered in ((each, offer) for each in faults for offer in offers(each)):
                left = with_length(file, path, offered)
                assert not [one for one in left if is_of_same(one.where, fault.where)], (fault, left)
                tried += 1
    assert asked == LENGTHS
    assert tried > len(asked)


@pytest.mark.slow
def test_nor_while_the_lamp_is_built_and_lit() -> None:
    tried = 0
    for _, file, path in lengths():
        for far in FAR_OUT:
            faults = with_length(file, path, far, whole=True)
            for fault, offered in ((each, offer) for each in faults for offer in offers(each)):
                left = with_length(file, path, offered, whole=True)
                assert fault.where not in {one.where for one in left}, (fault, left)
                tried += 1
    assert tried > 100
