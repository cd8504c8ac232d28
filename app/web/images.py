"""Images of published versions, for instructors and for students who were given the version."""

from collections.abc import Callable, Sequence

from flask import Blueprint, Response, url_for
from flask.typing import ResponseReturnValue

from app.library.images import Picture
from app.services import authoring_images
from app.services.authoring_images import ImageLine
from app.services.kept import Kept
from app.web import current
from app.web.access import Rule, access
from app.web.author_text import Picture as Shown
from app.web.author_text import use_pictures

blueprint = Blueprint("images", __name__, url_prefix="/images")


@blueprint.get("/<public_id:version_id>/<name>")
@access(Rule.SIGNED_IN)
def image(version_id: str, name: str) -> ResponseReturnValue:
    return shown(
        authoring_images.image_of_version(
            current.database(), version_id=version_id, person=current.someone(), name=name
        )
    )


def shown(picture: Picture) -> Response:
    """A picture as an answer; it holds what this program encoded and nothing else."""
    response = Response(picture.content, mimetype=picture.media_type)
    response.headers["Content-Disposition"] = "inline"
    return response


_of_versions: Kept[list[ImageLine]] = Kept(256)
"""A version keeps the images that it was published with."""


def show_images_of_version(version_id: str) -> None:
    """Let the texts of this request's page show the images of a version; without an id, none."""
    if version_id:
        lines = _of_versions.get(version_id)
        if lines is None:
            lines = authoring_images.of_version(current.database(), version_id=version_id)
            _of_versions.put(version_id, lines)
        _show(lines, lambda name: url_for("images.image", version_id=version_id, name=name))


def show_images_of_draft(draft_id: str) -> None:
    """Let the texts of this request's page show the images of a draft of the signed-in instructor."""
    lines = authoring_images.of_draft(current.database(), draft_id=draft_id, author=current.someone())
    _show(lines, lambda name: url_for("teaching.draft_image", draft_id=draft_id, name=name))


def _show(lines: Sequence[ImageLine], address_of: Callable[[str], str]) -> None:
    use_pictures({each.name: Shown(address_of(each.name), each.alt) for each in lines}.get)
