"""What a lamp's text is answered with: everything that is known, true of the lamp, or one clear refusal."""

from collections import Counter

from stackview.description.lamp_file import LampFile
from stackview.drawings.album import draw_view
from stackview.drawings.part_page import draw_part_page
from stackview.drawings.title_block import PageNote
from stackview.errors import LampError, StackviewError
from stackview.findings import Level
from stackview.sheets.plan import sheet_plan
from stackview.shop.part_sheet import part_sheets
from stackview.sight.record import record
from stackview.study import Study
from tests.whole.drawings_true import check_drawings, check_parts, check_sheets, check_steps
from tests.whole.random_lamps import FOLDER
from tests.whole.records_true import check_record
from tests.whole.refusals import check_offers, check_refusal
from tests.whole.sight_true import check_sightlines
from tests.whole.solids_true import check_models, check_solids

REFUSED, ANSWERED = "refused", "answered"
_BEARINGS, _FILE = 36, "lamp.toml"
_PAGES, _PICTURES = 20, 60
"""One lamp in so many is drawn on paper, and one as a picture."""
_VIEWS = ("plan", "section", "elevation", "room", "map", "half", "spread", "studio")


def answer(text: str, number: int = 1, tally: Counter[str] | None = None) -> str:
    """Ask everything about a lamp; returns whether it was refused or answered.

    ``number`` says which pictures are drawn; ``tally`` counts what was tried. Raises AssertionError
    for an answer that is not true of the lamp, and whatever else the program does by mistake.
    """
    tally = Counter() if tally is None else tally
    try:
        study = Study(LampFile.from_text(text, _FILE, FOLDER), bearings=_BEARINGS)
        _ = study.stack, study.light, study.sightlines
    except LampError as refused:
        check_refusal(refused, _FILE)
        tally["numbers offered"] += check_offers(text, refused.faults)
        return REFUSED
    check_solids(study)
    tally["lines judged"] += check_sightlines(study, number)
    check_parts(study)
    check_drawings(study)
    check_models(study)
    _check_findings(study)
    check_steps(study)
    _check_sheets(study, tally)
    _draw(study, number, tally)
    return ANSWERED


def _check_findings(study: Study) -> None:
    for finding in (*study.findings, *study.facts):
        assert finding.level <= Level.FAULT
        assert "could not be made" not in finding.what, finding
        assert str(finding).isprintable(), finding
    check_record("check", [finding.record() for finding in (*study.findings, *study.facts)])
    check_record("sight", record(study.stack, study.sightlines, study.findings))


def _check_no_place(refusal: str) -> None:
    """It names the part, every sheet of its material and by how much each is short."""
    assert refusal.startswith(f"{_FILE}: parts of "), refusal
    assert "that no sheet of it holds" in refusal, refusal


def _check_sheets(study: Study, tally: Counter[str]) -> None:
    if not study.lamp.sheets:
        return
    try:
        plan = sheet_plan(study, 1, longest=0.2)
    except LampError as refused:
        check_refusal(refused, _FILE)
        return
    except StackviewError as refused:
        _check_no_place(str(refused))
        return
    check_sheets(plan, study)
    tally["sheets laid"] += len(plan.sheets)


def _draw(study: Study, number: int, tally: Counter[str]) -> None:
    if number % _PAGES == 0:
        sheets = part_sheets(study)
        for place, sheet in enumerate(sheets, 1):
            note = PageNote(study.lamp.name, 1.0, place, len(sheets), "part", study.lamp.units.alone)
            lamp = study.lamp
            pages, _ = draw_part_page(
                sheet, note, paper="a4", cutter=lamp.cutter, chord_error=lamp.chord_error
            )
            assert pages
            tally["pages drawn"] += len(pages)
    if number % _PICTURES == 0:
        view = _VIEWS[number // _PICTURES % len(_VIEWS)]
        drawn = draw_view(study, view, size=(640, 480))
        assert drawn.shape[:2] == (480, 640)
        assert drawn.std() > 0.0, view
        tally["pictures drawn"] += 1
