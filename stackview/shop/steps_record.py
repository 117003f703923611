"""The order of work as plain values, for programs."""

from typing import Any

from stackview.shop.cutting_figures import CuttingFigures
from stackview.shop.step import WorkOrder, WorkStep

_PLACES = 6


def steps_record(order: WorkOrder) -> dict[str, Any]:
    """All of it; steps refer to each other by number, lengths in millimetres, glue in millilitres, times in minutes."""
    return {
        "lamp": order.lamp,
        "from_top": order.from_top,
        "hours_waiting": round(order.hours_waiting, _PLACES),
        "faults": [finding.record() for finding in order.faults],
        "steps": [_step(order, number, step) for number, step in enumerate(order.steps, 1)],
        "cutting": [_figures(figures) for figures in order.figures],
    }


def _step(order: WorkOrder, number: int, step: WorkStep) -> dict[str, Any]:
    return {
        "number": number,
        "phase": step.phase,
        "title": step.title,
        "parts": list(step.parts),
        "tools": list(step.tools),
        "do": list(step.do),
        "after": [{"step": order.number(one.key), "why": one.why} for one in step.after],
        "places": list(step.places),
        "needs": list(step.needs),
        "seals": list(step.seals),
        "waits_minutes": round(step.minutes, _PLACES),
        "glue_ml": round(step.glue_ml, _PLACES),
        "findings": [finding.record() for finding in step.findings],
        "cautions": list(step.cautions),
    }


def _figures(figures: CuttingFigures) -> dict[str, Any]:
    return {
        "material": figures.kind,
        "cutter_mm": round(figures.diameter, _PLACES),
        "flutes": figures.flutes,
        "rev_per_minute": round(figures.rpm, _PLACES),
        "surface_m_per_minute": round(figures.speed, _PLACES),
        "outside_usual": figures.outside or None,
        "feed_mm_per_minute": [round(feed, _PLACES) for feed in figures.feed],
        "pass_mm": round(figures.pass_depth, _PLACES),
        "source": figures.source,
    }
