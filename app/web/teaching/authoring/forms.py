"""The small forms round a draft; its sheets have their controls from the scenario's classes."""

import re

from werkzeug.datastructures import MultiDict
from werkzeug.exceptions import BadRequest
from wtforms import FileField

from app.library.images import LONGEST_ALT, LONGEST_NAME
from app.services.authoring import LONGEST_TITLE
from app.services.authoring_publishing import LONGEST_NOTE
from app.services.errors import Refused
from app.services.page_saves import PageSave
from app.web.fields import TextField
from app.web.forms import BaseForm

_PAGE = re.compile(r"[0-9a-z]{8,40}")
_COUNT = re.compile(r"[0-9]{1,9}")


class StartForm(BaseForm):
    title = TextField(
        "Title",
        longest=LONGEST_TITLE,
        missing="Give the scenario a title.",
        hint="As students and you will see it. It can be changed later.",
    )


class PublishForm(BaseForm):
    note = TextField(
        "What is new",
        longest=LONGEST_NOTE,
        hint="For the history, like “wider tolerance in task 2”. May stay empty.",
    )


class FileForm(BaseForm):
    """A form that brings a file; what is in it is for the service to judge."""

    file = FileField("File", description="One that was saved here, or written by hand: .toml or .zip.")

    def need_file(self, content: bytes) -> None:
        """Raises Refused when no file was chosen."""
        if not content:
            raise Refused("file", "Choose a file first.")


class ImageForm(FileForm):
    file = FileField(
        "Picture", description="PNG, JPEG or WebP, at most 5 MB. What a phone adds to it is dropped."
    )
    alt = TextField(
        "What it shows",
        longest=LONGEST_ALT,
        missing="Say in words what the picture shows, for those who can’t see it.",
        hint="Read out to those who can’t see the picture.",
    )
    name = TextField(
        "Name",
        longest=LONGEST_NAME,
        hint="How texts call it: small letters, digits, hyphens. Left empty, it is the file’s own name.",
    )


def revision_in(sent: MultiDict[str, str]) -> int:
    """The revision that a form stands on; 400 for anything else."""
    typed = sent.get("revision", "")
    if not _COUNT.fullmatch(typed):
        raise BadRequest
    return int(typed)


def page_save_in(sent: MultiDict[str, str]) -> PageSave | None:
    """Which save of which page a form is; None without its script."""
    page, count = sent.get("page", ""), sent.get("page_revision", "")
    return PageSave(page, int(count)) if _PAGE.fullmatch(page) and _COUNT.fullmatch(count) else None
