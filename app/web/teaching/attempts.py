"""Routes of one attempt: what was answered, saved and marked, and marking an answer in words by hand."""

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.services import bench, handing_in, review
from app.services.bench import Run
from app.web import current
from app.web.access import Rule, access
from app.web.images import show_images_of_version
from app.web.teaching import blueprint
from app.web.teaching.attempt_pages import answer_in_words, attempt_page


@blueprint.get("/attempts/<public_id:attempt_id>")
@access(Rule.INSTRUCTOR)
def attempt(attempt_id: str) -> ResponseReturnValue:
    return render_template(
        "teaching/attempt.html", page=attempt_page(_own_attempt(attempt_id), _own_bench(attempt_id))
    )


@blueprint.post("/attempts/<public_id:attempt_id>/marks/<task_id>")
@access(Rule.INSTRUCTOR)
def mark_text(attempt_id: str, task_id: str) -> ResponseReturnValue:
    page = attempt_page(_own_attempt(attempt_id), _own_bench(attempt_id), {task_id: request.form})
    answer = answer_in_words(page, task_id)
    form = answer.form
    if form.validate():
        with form.shows_refusals():
            review.mark_text(
                current.database(),
                attempt_id=attempt_id,
                instructor=current.someone(),
                task_id=task_id,
                points=form.earned,
                comment=form.comment.data,
                now=current.now(),
            )
            flash(f"The mark for “{answer.question.title}” is saved.")
            return redirect(
                url_for("teaching.attempt", attempt_id=attempt_id, _anchor=f"marked-{task_id}"), 303
            )
    return render_template("teaching/attempt.html", page=page), form.status


def _own_attempt(attempt_id: str) -> review.AttemptReview:
    handing_in.hand_in_what_is_over(current.database(), now=current.now(), attempt_id=attempt_id)
    found = review.attempt(current.database(), attempt_id=attempt_id, instructor=current.someone())
    show_images_of_version(found.result.lab.version_id)
    return found


def _own_bench(attempt_id: str) -> Run | None:
    return bench.reviewed(current.database(), attempt_id=attempt_id, instructor=current.someone())
