"""The order of work as one page to take to the bench, with a box to tick at every step."""

from collections.abc import Iterable
from html import escape

from stackview.description.units import Units
from stackview.shop.step import WorkOrder, WorkStep
from stackview.shop.step_words import FIRST, GUIDANCE, NUMBERS, after_words, headline

PAGE_MARK = "<!DOCTYPE html>\n<!-- stackview: order of work -->\n"
"""How every page of ours begins, so that no other file is ever replaced."""
_STYLE = """
body { font: 11pt/1.35 serif; color: #222; margin: 2em auto; max-width: 46em; padding: 0 1em; }
h1 { font-size: 1.5em; margin: 0; } h2 { break-after: avoid; font-size: 1.1em;
  border-bottom: 1px solid #999; margin: 1.2em 0 .4em; }
ol { list-style: none; padding: 0; margin: 0; } li.step { break-inside: avoid; margin: .7em 0; }
label { font-weight: bold; } .box { width: 1em; height: 1em; margin: 0 .5em 0 0; vertical-align: -.1em; }
ul { margin: .2em 0 0 1.9em; padding-left: 1em; } .small { font-size: .88em; color: #555; margin-left: 1.9em; }
.mind { font-size: .92em; margin: .2em 0 0 1.9em; padding-left: .5em; border-left: 3px solid #b8860b; }
.caution { font-size: .92em; margin: .2em 0 0 0; padding-left: .5em; border-left: 3px solid #a33; }
@media print { body { margin: 0; max-width: none; } }
"""


def steps_page(order: WorkOrder, units: Units) -> str:
    """The page as HTML that needs nothing else: no script, no picture, no other file."""
    title = escape(f"{order.lamp}: order of work")
    body = [f"<h1>{title}</h1>", _p(headline(order)), _p(NUMBERS), _p(FIRST)]
    if order.faults:
        body += ["<h2>Mend first</h2>", _list(f"{one.brief}. {one.advice}" for one in order.faults)]
    for spell in order.spells:
        body += [f"<h2>{escape(spell.heading)}</h2>", *map(_caution, spell.cautions)]
        steps = (_step(order, number, step) for number, step in enumerate(spell.steps, spell.first))
        body += [f'<ol start="{spell.first}">', *steps, "</ol>"]
    if order.figures:
        body += ["<h2>Cutting figures</h2>", _p(GUIDANCE), _list(one.words(units) for one in order.figures)]
    return (
        f'{PAGE_MARK}<html lang="en"><head><meta charset="utf-8">'
        f'<meta name="viewport" content="width=device-width"><title>{title}</title><style>{_STYLE}</style></head>\n'
        f"<body>\n{chr(10).join(body)}\n</body></html>\n"
    )


def _step(order: WorkOrder, number: int, step: WorkStep) -> str:
    lines = [
        f'<li class="step"><label><input type="checkbox" class="box">{number}. {escape(step.title)}</label>',
        _list(step.do) if step.do else "",
        _small(f"With {', '.join(step.tools)}.") if step.tools else "",
        _small("; ".join(after_words(order, step)).capitalize() + ".") if step.after else "",
        *(
            f'<div class="mind">{finding.level.word.capitalize()}: {escape(f"{finding.brief}. {finding.advice}")}</div>'
            for finding in step.findings
        ),
        "</li>",
    ]
    return "\n".join(line for line in lines if line)


def _caution(words: str) -> str:
    return f'<div class="caution">{escape(f"{words[:1].upper()}{words[1:]}.")}</div>'


def _p(words: str) -> str:
    return f"<p>{escape(words)}</p>"


def _small(words: str) -> str:
    return f'<div class="small">{escape(words)}</div>'


def _list(items: Iterable[str]) -> str:
    return f"<ul>{''.join(f'<li>{escape(item)}</li>' for item in items)}</ul>"
