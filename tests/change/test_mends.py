"""Mends of a lamp: for what they are looked for, and that they are told where findings are."""

import json

from stackview.change.mends import Mending, mends
from stackview.findings import Level
from stackview.study import Study
from tests.change.demos import DEMOS, mending, study


def test_a_lamp_from_no_file_has_no_mends() -> None:
    source = Study(study("moor-drum").lamp)
    assert any(finding.check == "bare light" for finding in source.findings)
    assert list(mends(source)) == []


def test_a_lamp_without_cautions_is_not_rebuilt() -> None:
    source = Study.read(DEMOS / "moor-drum.toml").changed({"groups.open-tier.ring.thickness": 9.9})
    assert all(finding.level < Level.CAUTION for finding in source.findings)
    quiet = Mending(source)
    assert all(quiet.of(finding) is None for finding in source.findings)
    assert quiet._bench is None


def test_one_change_that_serves_both_eyes_is_told_for_both() -> None:
    one, two = (mending("honeycomb").of(f) for f in study("honeycomb").findings if f.check == "bare light")
    assert one is not None
    assert two is not None
    assert [mend.changes for mend in one.mends] == [mend.changes for mend in two.mends]
    assert "one too" in one.note + two.note


def test_records_are_plain() -> None:
    for _, found in mends(study("moor-drum")):
        json.dumps([mend.record() for mend in found.mends], allow_nan=False)
