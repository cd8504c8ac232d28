"""Routes of hands-on checks: the overview, the pages to tap on, and keeping a tap."""

from typing import Any

from flask import Response, flash, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.exports.file_names import Extension, file_name
from app.exports.tables import csv_text
from app.exports.workbook import TableSheet, workbook
from app.services import hands_on
from app.services.errors import NotFound, Refused
from app.services.hands_on import Grid, Standing
from app.web import current
from app.web.access import Rule, access, own_path
from app.web.downloads import XLSX, download
from app.web.forms import SendForm, json_sent, require_csrf_header
from app.web.machine_words import standing_words
from app.web.teaching import blueprint
from app.web.teaching.hands_on.forms import TapForm, fresh_key, tap_sent
from app.web.teaching.hands_on.pages import (
    GridPage,
    HistoryPage,
    PickPage,
    Tap,
    TapsPage,
    grid_table,
    note_table,
    tap,
)


def own_grid(class_id: str) -> Grid:
    return hands_on.grid(
        current.database(), class_id=class_id, instructor=current.someone(), now=current.now()
    )


@blueprint.get("/classes/<public_id:class_id>/hands-on")
@access(Rule.INSTRUCTOR)
def hands_on_grid(class_id: str) -> ResponseReturnValue:
    return render_template("teaching/hands_on_grid.html", page=GridPage(own_grid(class_id)))


@blueprint.get("/classes/<public_id:class_id>/hands-on.csv")
@access(Rule.INSTRUCTOR)
def hands_on_csv(class_id: str) -> Response:
    grid = own_grid(class_id)
    heads, rows = grid_table(grid)
    content = csv_text(heads, rows, byte_order_mark=True).encode()
    return download(content, _name(grid, "csv"), "text/csv")


@blueprint.get("/classes/<public_id:class_id>/hands-on.xlsx")
@access(Rule.INSTRUCTOR)
def hands_on_xlsx(class_id: str) -> Response:
    grid = own_grid(class_id)
    sheets = [
        TableSheet(name, heads, tuple(rows))
        for name, (heads, rows) in (("Checks", grid_table(grid)), ("Notes", note_table(grid)))
    ]
    content = workbook(f"Hands-on checks: {grid.class_name}", sheets)
    return download(content, _name(grid, "xlsx"), XLSX)


def _name(grid: Grid, extension: Extension) -> str:
    return file_name("hands-on", grid.class_name, day=grid.today, extension=extension)


@blueprint.get("/classes/<public_id:class_id>/hands-on/check")
@access(Rule.INSTRUCTOR)
def pick_check(class_id: str) -> ResponseReturnValue:
    """Beside the machine: first who, or first what."""
    return render_template("teaching/hands_on_pick.html", page=PickPage(own_grid(class_id)))


@blueprint.get("/classes/<public_id:class_id>/hands-on/student/<public_id:student_id>")
@access(Rule.INSTRUCTOR)
def check_student(class_id: str, student_id: str) -> ResponseReturnValue:
    grid = own_grid(class_id)
    ids = [row.student_id for row in grid.rows]
    if student_id not in ids:
        raise NotFound("This student isn't in this class now.")
    row = grid.rows[ids.index(student_id)]
    taps = [
        tap(number, row, skill, standing, grid.today, key=fresh_key(), by="student")
        for number, (skill, standing) in enumerate(zip(grid.skills, row.standings, strict=True))
    ]
    neighbours = [(each.student_id, each.display_name) for each in grid.rows]
    page = _taps_page(grid, row.display_name, "student", taps, neighbours, ids.index(student_id), student_id)
    return render_template("teaching/hands_on_taps.html", page=page)


@blueprint.get("/classes/<public_id:class_id>/hands-on/skill/<public_id:skill_id>")
@access(Rule.INSTRUCTOR)
def check_skill(class_id: str, skill_id: str) -> ResponseReturnValue:
    grid = own_grid(class_id)
    ids = [skill.skill_id for skill in grid.skills]
    if skill_id not in ids:
        raise NotFound("This skill isn't on the list of this class.")
    place = ids.index(skill_id)
    taps = [
        tap(number, row, grid.skills[place], row.standings[place], grid.today, key=fresh_key(), by="skill")
        for number, row in enumerate(grid.rows)
    ]
    neighbours = [(each.skill_id, each.name) for each in grid.skills]
    page = _taps_page(grid, grid.skills[place].name, "skill", taps, neighbours, place, None)
    return render_template("teaching/hands_on_taps.html", page=page)


def _taps_page(
    grid: Grid,
    title: str,
    by: str,
    taps: list[Tap],
    neighbours: list[tuple[str, str]],
    place: int,
    history_of: str | None,
) -> TapsPage:
    return TapsPage(
        grid,
        title,
        by,
        taps,
        SendForm(),
        history_of,
        before=neighbours[place - 1] if place else None,
        after=neighbours[place + 1] if place + 1 < len(neighbours) else None,
        outbox=f"taps-{current.someone().public_id}-{grid.class_id}",
    )


@blueprint.post("/classes/<public_id:class_id>/hands-on/checks")
@access(Rule.INSTRUCTOR)
def keep_check(class_id: str) -> ResponseReturnValue:
    """One tap: of a script as JSON, with what now stands as the answer, or of a form."""
    today = hands_on.today_in(
        current.database(), class_id=class_id, instructor=current.someone(), now=current.now()
    )
    if request.is_json:
        require_csrf_header()
        standing = _kept(class_id, json_sent())
        words = standing_words(standing, today)
        return jsonify({"saved": True, "level": standing.level, "words": words, "note": standing.note})
    form = TapForm(request.form)
    back = own_path(request.form.get("back")) or url_for("teaching.pick_check", class_id=class_id)
    if not form.validate():
        flash(next(iter(form.errors.values()))[0], "error")
        return redirect(back, 303)
    try:
        _kept(class_id, request.form)
    except Refused as refusal:
        flash(refusal.message, "error")
    return redirect(back, 303)


def _kept(class_id: str, entries: Any) -> Standing:
    return hands_on.check(
        current.database(),
        class_id=class_id,
        instructor=current.someone(),
        now=current.now(),
        **tap_sent(entries),
    )


@blueprint.get("/classes/<public_id:class_id>/hands-on/history/<public_id:student_id>")
@access(Rule.INSTRUCTOR)
def hands_on_history(class_id: str, student_id: str) -> ResponseReturnValue:
    grid = own_grid(class_id)
    row = next((row for row in grid.rows if row.student_id == student_id), None)
    lines = hands_on.history(
        current.database(), class_id=class_id, instructor=current.someone(), student_id=student_id
    )
    if row is None:
        raise NotFound("This student isn't in this class now.")
    return render_template("teaching/hands_on_history.html", page=HistoryPage(grid, row, lines))
