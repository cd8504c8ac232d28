"""The base of every form: its token against forged requests, and how a refusal reaches its field."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from flask import abort, request
from markupsafe import Markup
from werkzeug.datastructures import MultiDict
from werkzeug.exceptions import BadRequest
from wtforms import Form
from wtforms.csrf.core import CSRF, CSRFTokenField
from wtforms.validators import ValidationError

from app.services.errors import Refused, TooManyTries
from app.web import csrf
from app.web.errors import answer, wait_message

CSRF_HEADER = "X-CSRF-Token"

STALE_WITH_PHRASE = "This page had been open too long. Type the pass phrase again, then press the button."


class TokenField(CSRFTokenField):
    """Its control has one shape and no id: several forms on a page may not share one."""

    def __call__(self, **_: Any) -> Markup:
        return Markup('<input name="{}" type="hidden" value="{}">').format(self.name, self._value())


class Token(CSRF):
    """The token of `app.web.csrf` as WTForms asks for it."""

    field_class = TokenField

    def generate_csrf_token(self, csrf_token_field: Any) -> str:  # noqa: ARG002
        return csrf.new_token()

    def validate_csrf_token(self, form: Any, field: Any) -> None:
        problem = csrf.problem_of(field.data or "", stale=form.stale_message)
        if problem:
            raise ValidationError(problem)


class BaseForm(Form):
    """A form with a CSRF token kept in Flask's session.

    Use: `form = ClassForm(request.form)` on POST, `ClassForm()`, `ClassForm(obj=...)` or
    `ClassForm(data={...})` on GET;
    `with form.shows_refusals():` round the call of a service puts what it refuses beside the field.
    """

    stale_message = csrf.STALE
    status = 422
    """Of the answer that shows the form with its errors."""

    class Meta:
        csrf = True
        csrf_class = Token

    def __init__(
        self,
        formdata: MultiDict[str, str] | None = None,
        *,
        obj: Any = None,
        data: Mapping[str, Any] | None = None,
    ) -> None:
        super().__init__(formdata, obj, data=dict(data) if data else None)

    @contextmanager
    def shows_refusals(self) -> Iterator[None]:
        """Turn what a service refuses in the block into an error of its field; the block then ends early."""
        try:
            yield
        except Refused as refusal:
            self.add_error(refusal.field, refusal.message)
        except TooManyTries as waiting:
            self.status = 429
            self.add_error(None, wait_message(waiting))

    def add_error(self, name: str | None, message: str) -> None:
        """Show `message` at the field of that name, or over the whole form when there is none."""
        field = self._fields.get(name or "")
        if field is None:
            self.form_errors.append(message)
        else:
            field.errors = [*field.errors, message]


class SendForm(BaseForm):
    """A form that is only a button."""


def require_csrf_header() -> None:
    """Hold a JSON request to the same token, sent as X-CSRF-Token; 400 with a message when it fails."""
    problem = csrf.problem_of(request.headers.get(CSRF_HEADER, ""))
    if problem:
        abort(answer(400, problem))


def json_sent() -> Any:
    """What a JSON request says. 400 when it can't be read, also for nesting too deep for the reader; 415 when
    it isn't called JSON."""
    try:
        return request.get_json()
    except RecursionError as error:
        raise BadRequest from error
