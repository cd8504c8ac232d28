"""Packets of a hundred and fifty sheets, with and without drawings; limits are stated for an idle machine.

Measured is the processor's time of all threads: never below what one waits on an idle machine, and nearly the
same on a busy one.
"""

import time
from collections.abc import Callable
from datetime import UTC, datetime

from app.domain.measures import UnitSystem
from app.domain.scenario import parse
from app.domain.variants import Variant, draw
from app.exports.reflection_packet import reflection_packet
from app.exports.reflection_sheets import Drawing, ReflectionSheet, Response
from app.exports.worksheets import Lab, worksheet_packet
from app.services.worksheets import Worksheet
from app.settings import SCENARIOS
from app.web.lab_sheet import cautions_of, parts_of
from app.web.teaching.packets import printed_drawing
from app.web.teaching.worksheet_sheets import printed_worksheet
from tests.benchmarks.rows import Row
from tests.exports.examples import HEADING, read, result, sheet

SHEETS = 150
LIMIT_SECONDS = 5.0


def rows() -> list[Row]:
    scenario = parse((SCENARIOS / "two-plane-balance" / "scenario.toml").read_text())
    variants = [draw(scenario, seed, UnitSystem.US) for seed in range(1, SHEETS + 1)]
    bare = [_reflection(number, ()) for number in range(SHEETS)]
    return [
        _row("reflection packet, words and results", lambda: reflection_packet(bare, heading=HEADING)),
        _row("reflection packet, two own drawings each", lambda: _drawn_packet(variants)),
        _row("worksheets of three pages, four drawings each", lambda: _worksheets(variants), pages_each=3),
    ]


def _row(what: str, make: Callable[[], bytes], *, pages_each: int = 2) -> Row:
    """Against five seconds for sheets of two pages."""
    started = time.process_time()
    pdf = make()
    seconds = time.process_time() - started
    pages = len(read(pdf).pages)
    note = f"{SHEETS} sheets, {pages} pages, {len(pdf) / 1e6:.1f} MB"
    return Row(what, seconds, LIMIT_SECONDS * pages_each / 2, "s", note)


def _reflection(number: int, drawings: tuple[Drawing, ...]) -> ReflectionSheet:
    words = 40 if drawings else 60
    responses = tuple(
        Response(f"Prompt {prompt}?", f"Student {number}: " + f"{number * prompt} mm and so on. " * words)
        for prompt in range(1, 5)
    )
    results = tuple(result(f"Task {task}", f"{number + task / 7:.2f} g") for task in range(6))
    return sheet(f"Student {number}", responses=responses, results=results, drawings=drawings)


def _drawn_packet(variants: list[Variant]) -> bytes:
    sheets = []
    for number, variant in enumerate(variants):
        measured = [each for part in parts_of(variant) for each in part.measurements]
        drawings = [drawing for each in measured for drawing in each.drawings][:2]
        sheets.append(_reflection(number, tuple(printed_drawing(drawing) for drawing in drawings)))
    return reflection_packet(sheets, heading=HEADING)


def _worksheets(variants: list[Variant]) -> bytes:
    scenario = variants[0].scenario
    lab = Lab(
        title="Lab 1",
        scenario_title=scenario.title,
        class_name="Auto 2",
        points_text="15 points",
        due_text=f"{datetime(2030, 3, 8, 15, tzinfo=UTC):%b %d %Y}",
        cautions=tuple((each.title, each.text) for each in cautions_of(scenario)),
        always="",
        address="http://192.168.1.20:8000/labs/assignments/aaaaaaaaaaaaaaaaaaaa",
    )
    sheets = [
        Worksheet(str(number), f"Student {number}", 1, variant) for number, variant in enumerate(variants)
    ]
    return worksheet_packet([printed_worksheet(each) for each in sheets], lab=lab)
