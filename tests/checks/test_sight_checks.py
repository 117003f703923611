import subprocess
import sys
from dataclasses import replace

from stackview.checks.all_checks import ALL_CHECKS
from stackview.checks.sight_checks import SIGHT_CHECKS
from stackview.checks.subject import run_checks
from stackview.description.lamp import Core, Layer
from stackview.findings import Level
from tests.checks.subjects import ASH, subject_of
from tests.stack.layers import circle, plate, pocket, ring, square


def test_a_fault_of_the_stack_is_found_by_all_and_by_sight() -> None:
    recess = replace(pocket(square(60.0), 2.0, 0.0, 3.0), fitted_to="plate")
    host = Layer("host", ASH, 10.0, circle(120.0), recesses=(recess,))
    subject = subject_of(host, plate("plate", square(60.0)))
    for checks in (ALL_CHECKS, SIGHT_CHECKS):
        faults = [one for one in run_checks(subject, checks) if one.level == Level.FAULT]
        assert [one.check for one in faults] == ["seat"]


def test_parts_in_one_place_are_a_clash() -> None:
    base = Layer("base", ASH, 10.0, circle(120.0))
    subject = subject_of(base, ring("ring", 120.0, 40.0), core=Core(ASH, circle(42.0), 30.0, "base", None))
    (fault,) = [one for one in run_checks(subject, SIGHT_CHECKS) if one.level == Level.FAULT]
    assert (fault.check, fault.where) == ("overlap", "ring and core")


def test_a_part_that_stands_on_nothing_is_found_by_sight() -> None:
    base = ring("base", 120.0, 60.0)
    subject = subject_of(base, core=Core(ASH, circle(42.0), 30.0, "base", None))
    (fault,) = [one for one in run_checks(subject, SIGHT_CHECKS) if one.level == Level.FAULT]
    assert (fault.check, fault.where) == ("support", "core")


def test_no_other_check_is_imported_for_them() -> None:
    code = (
        "import sys\nfrom stackview.checks.sight_checks import SIGHT_CHECKS\nfrom stackview.study import Study\n"
        "print([name for name in sys.modules if name.startswith('stackview.checks.')])"
    )
    told = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True).stdout
    for other in ("all_checks", "glue", "heat", "strip", "walls"):
        assert f"'stackview.checks.{other}'" not in told
    assert "'stackview.checks.seating'" in told
