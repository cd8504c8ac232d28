"""Routes of a draft's images: uploading, looking, taking out."""

from flask import flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from app.domain.authored.starters import as_name
from app.services import authoring_images
from app.web import current
from app.web.access import Rule, access
from app.web.forms import SendForm
from app.web.images import shown
from app.web.teaching import blueprint
from app.web.teaching.authoring.drafts import own_draft
from app.web.teaching.authoring.forms import ImageForm
from app.web.teaching.authoring.pages import ImagesPage
from app.web.teaching.authoring.uploads import TOO_LARGE, allow_a_file, file_sent

PAGE = "teaching/authoring/draft_images.html"


@blueprint.get("/scenarios/drafts/<public_id:draft_id>/images")
@access(Rule.INSTRUCTOR)
def draft_images(draft_id: str) -> ResponseReturnValue:
    return render_template(PAGE, page=_page(draft_id, ImageForm()))


@blueprint.post("/scenarios/drafts/<public_id:draft_id>/images")
@access(Rule.INSTRUCTOR)
def add_image(draft_id: str) -> ResponseReturnValue:
    if not allow_a_file():
        form = ImageForm()
        form.add_error("file", TOO_LARGE)
        return render_template(PAGE, page=_page(draft_id, form)), 413
    form = ImageForm(request.form)
    file_name, content = file_sent()
    if form.validate():
        with form.shows_refusals():
            form.need_file(content)
            name = form.name.data or as_name(file_name.rpartition(".")[0])
            authoring_images.add(
                current.database(),
                draft_id=draft_id,
                author=current.someone(),
                name=name,
                alt=form.alt.data,
                upload=content,
                now=current.now(),
            )
            flash(f"The image {name} is there now.")
            return redirect(url_for("teaching.draft_images", draft_id=draft_id), 303)
    return render_template(PAGE, page=_page(draft_id, form)), form.status


@blueprint.post("/scenarios/drafts/<public_id:draft_id>/images/<name>/take-out")
@access(Rule.INSTRUCTOR)
def take_image_out(draft_id: str, name: str) -> ResponseReturnValue:
    form = SendForm(request.form)
    if form.validate():
        authoring_images.take_out(current.database(), draft_id=draft_id, author=current.someone(), name=name)
        flash("The image is taken out. Published versions that show it keep it.")
    else:
        flash(form.csrf_token.errors[0], "error")
    return redirect(url_for("teaching.draft_images", draft_id=draft_id), 303)


@blueprint.get("/scenarios/drafts/<public_id:draft_id>/images/<name>")
@access(Rule.INSTRUCTOR)
def draft_image(draft_id: str, name: str) -> ResponseReturnValue:
    return shown(
        authoring_images.image_of_draft(
            current.database(), draft_id=draft_id, author=current.someone(), name=name
        )
    )


def _page(draft_id: str, form: ImageForm) -> ImagesPage:
    images = authoring_images.of_draft(current.database(), draft_id=draft_id, author=current.someone())
    return ImagesPage(own_draft(draft_id), form, SendForm(), images)
