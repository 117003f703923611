"""The order of work in words that terminal and page share."""

from stackview.shop.step import WorkOrder, WorkStep

FIRST = "Local codes and licensed practice come first; so do the instructions of machines, cutters, glues and finishes."
GUIDANCE = (
    "Cutting figures are guidance by common practice, for a firmly held part: the cutter's maker comes first. "
    "v = π·D·n, feed = n·z·f_z."
)
NUMBERS = "Places, corner radii and index marks are on the drawings: stackview drawings."


def headline(order: WorkOrder) -> str:
    """How many steps, from which end, and how long glue and finish keep the bench waiting."""
    steps = f"{len(order.steps)} step{'' if len(order.steps) == 1 else 's'}"
    end = "put together upside down, from the top" if order.from_top else "put together from the bottom up"
    waiting = order.hours_waiting
    wait = f"; glue and finish take {waiting:.0f} h, each waited for by itself" if waiting >= 0.5 else ""
    return f"{steps}, {end}{wait}."


def after_words(order: WorkOrder, step: WorkStep) -> tuple[str, ...]:
    """What must come before a step and why: "after 1, 3 and 5: it is cut"; reasons that are alike told once."""
    by_why: dict[str, list[int]] = {}
    for one in step.after:
        by_why.setdefault(one.why, []).append(order.number(one.key))
    return tuple(f"after {_listed(sorted(set(numbers)))}: {why}" for why, numbers in by_why.items())


def in_a_screen(order: WorkOrder) -> tuple[tuple[str, str], ...]:
    """The whole order in a screen: numbers, and what is done; steps of one kind in a row are one line."""
    found = []
    for first, last in order.runs:
        steps = order.steps[first - 1 : last]
        numbers = str(first) if first == last else f"{first}–{last}"
        if first == last:
            found.append((numbers, steps[0].title))
        elif steps[0].told_with == "cut":
            found.append((numbers, f"Cut and saw: {'; '.join(step.brief for step in steps)}"))
        else:
            ml = sum(step.glue_ml for step in steps)
            glue = f", {ml:.2f} ml of glue" if ml else ""
            found.append((numbers, f"Set in their place{glue}: {'; '.join(step.brief for step in steps)}"))
    return tuple(found)


def _listed(numbers: list[int]) -> str:
    said = [str(number) for number in numbers]
    return " and ".join(filter(None, (", ".join(said[:-1]), said[-1])))
