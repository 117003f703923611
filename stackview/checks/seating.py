"""Seating: every layer drops into the recess made for it, with play but not too much."""

from stackview.checks.held import over, under
from stackview.checks.proposals import wider_recess
from stackview.checks.subject import Check, Subject
from stackview.findings import Finding, Level
from stackview.stack.seating import Seat


def seating(subject: Subject) -> tuple[Finding, ...]:
    """Faults of layers that do not seat or are carried by nothing; play that is too little or a lot.

    A seat with less play than "clearance_least" is a caution, a loose one a note, and the play of
    the others a fact.
    """
    return (*does_not_seat(subject), *(_play(subject, seat) for seat in subject.stack.seats))


def does_not_seat(subject: Subject) -> tuple[Finding, ...]:
    """Faults of layers that do not drop in, or that nothing carries, as the stack found them."""
    return tuple(finding for finding in subject.stack.findings if finding.check in ("seat", "support"))


def _given(subject: Subject, seat: Seat) -> float:
    """The clearance per side that the file gives the recess [mm]; nothing where it takes its plate by chance."""
    host = next(layer for layer in subject.lamp.layers if layer.name == seat.host)
    return max((recess.clearance for recess in host.recesses if recess.fitted_to == seat.layer), default=0.0)


def _play(subject: Subject, seat: Seat) -> Finding:
    units, least, most = (
        subject.lamp.units,
        subject.limits["clearance_least"],
        subject.limits["clearance_most"],
    )
    clearance = seat.clearance
    tight, loose = under(clearance, least.value), over(clearance, most.value)
    what = f"{units.show(clearance)} of play per side at the tightest place"
    advice = ""
    if tight:
        what += ": it will need force, or not drop in"
        advice = "Give the recess more clearance per side, or make the plate smaller."
    elif loose:
        what += ": it lies loose, and the gap shows"
        advice = "Give the recess less clearance per side."
    return Finding(
        check="seat",
        level=Level.CAUTION if tight else Level.NOTE if loose else Level.FACT,
        where=f"{seat.layer} in {seat.host}",
        what=what,
        value=clearance,
        unit="mm",
        limit=most.value if loose else least.value,
        bound=most.bound if loose else least.bound,
        source=most.source if loose else least.source,
        advice=advice,
        parts=(seat.layer, seat.host),
        ways=wider_recess(subject.lamp, seat, _given(subject, seat) + least.value - clearance)
        if tight
        else (),
        cause="tight" if tight else "loose" if loose else f"play of {units.show(clearance)}",
    )


CHECK = Check(
    name="seat",
    question="Does every layer drop into its recess, corners and all, and with how much play?",
    formula="a sharp corner of angle θ needs c ≥ r (1 − sin(θ/2)); any outline by its exact distance from the wall; "
    "a relief of radius r bulges r (1 − sin(θ/2)) past each wall",
    source="plane geometry",
    limits=("clearance_least", "clearance_most"),
    run=seating,
)
