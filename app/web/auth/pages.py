"""What the templates of `auth/` receive as `page`."""

from dataclasses import dataclass

from app.web.auth.forms import PassPhraseForm, SetupForm, SignInForm


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


@dataclass(frozen=True)
class AboutPage:
    over_tls: bool
