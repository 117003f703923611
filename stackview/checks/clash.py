"""Clashes: no two parts take the same space."""

from dataclasses import replace

from stackview.checks.line_up import interferences, wider_holes
from stackview.checks.subject import Check, Subject
from stackview.findings import Finding, Way
from stackview.stack.clashes import shared_by


def clash(subject: Subject) -> tuple[Finding, ...]:
    """Faults of parts that overlap, as the stack found them."""
    return tuple(
        replace(finding, ways=_ways(subject, finding))
        for finding in subject.stack.findings
        if finding.check == "overlap"
    )


def _ways(subject: Subject, finding: Finding) -> tuple[Way, ...]:
    """What stands up too far made shorter, or the hole wider that it stands in; none for two layers."""
    parts = {part.name: part for part in subject.stack.placed}
    one, other = (parts[name] for name in finding.parts)
    upright, through = (one, other) if one.is_upright else (other, one)
    if not upright.is_upright or not through.is_layer:
        return ()
    shared, lamp = shared_by(one, other), subject.lamp
    rise = shared.high[2] - shared.low[2] if shared is not None else 0.0
    post = next((post for post in lamp.posts if post.name == upright.name), None)
    above, under = upright.top < through.top - 1e-6, upright.underside > through.underside + 1e-6
    ways: list[Way] = []
    if post is not None and (above or under):
        low, high = post.inset
        shorter = (low, high + rise) if above else (low + rise, high)
        ways.append(Way(post.name, "inset", post.inset, shorter, along=f"inset of {post.name}"))
    elif upright.is_core and above:
        height = upright.top - upright.underside
        ways.append(Way("core", "height", height, height - rise))
    play = subject.limits.value("line_up_least")
    holes = [
        (each.layer, each.hole, each.by + play)
        for each in interferences(subject)
        if (each.upright, each.layer) == (upright.name, through.name)
    ]
    return (*ways, *wider_holes(upright.name, holes))


CHECK = Check(
    name="overlap",
    question="Do two parts take the same space?",
    formula="volume of the two solids' intersection",
    source="boolean intersection of the exact solids",
    limits=(),
    run=clash,
)
