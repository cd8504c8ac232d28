"""What the templates of `auth/` receive as `page`."""

from dataclasses import dataclass

from app.services.devices import Device
from app.web.auth.forms import CodeForm, PassPhraseForm, SetupForm, SignInForm
from app.web.forms import SendForm


@dataclass(frozen=True)
class SignInPage:
    form: SignInForm
    action: str
    """Where the form goes: the sign-in with the page that was asked for."""
    over_tls: bool


@dataclass(frozen=True)
class SetupPage:
    form: SetupForm
    action: str


@dataclass(frozen=True)
class PassPhrasePage:
    form: PassPhraseForm
    sign_in_name: str
    """For the browser's own keeper of passwords."""
    devices: tuple[Device, ...]
    end_form: SendForm
    time_zone: str
    """In which times are shown: that of the person's first class, else UTC."""


@dataclass(frozen=True)
class CodePage:
    form: CodeForm


@dataclass(frozen=True)
class MadePhrasePage:
    """A pass phrase that was made for a student, shown this once."""

    display_name: str
    pass_phrase: str


@dataclass(frozen=True)
class AboutPage:
    over_tls: bool
