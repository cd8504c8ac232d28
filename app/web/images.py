"""Images of published versions, for instructors and for students who were given the version."""

from flask import Blueprint, Response
from flask.typing import ResponseReturnValue

from app.library.images import Picture
from app.services import authoring_images
from app.web import current
from app.web.access import Rule, access

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
