"""Forms of signing in."""

from typing import Any

from wtforms.validators import StopValidation

from app.services.names import LONGEST_NAME, LONGEST_SIGN_IN_NAME
from app.web.fields import PassPhraseField, TextField
from app.web.forms import STALE_WITH_PHRASE, BaseForm


class SignInForm(BaseForm):
    stale_message = STALE_WITH_PHRASE

    sign_in_name = TextField(
        "Sign-in name",
        longest=LONGEST_SIGN_IN_NAME,
        missing="Type the sign-in name that stands on your card.",
    )
    pass_phrase = PassPhraseField(
        "Pass phrase",
        missing="Type the pass phrase that stands on your card.",
        hint="The words on your card, with spaces between them.",
    )


class _NewPassPhraseForm(BaseForm):
    """A pass phrase is typed twice: nobody can read it back to its owner."""

    stale_message = STALE_WITH_PHRASE

    def validate_pass_phrase_again(self, field: Any) -> None:
        if field.data != self._fields["pass_phrase"].data:
            raise StopValidation("The two pass phrases differ. Type the same one twice.")


class SetupForm(_NewPassPhraseForm):
    display_name = TextField(
        "Your name",
        longest=LONGEST_NAME,
        missing="Type the name that students know you by.",
        hint="As students know you.",
    )
    sign_in_name = TextField(
        "Sign-in name",
        longest=LONGEST_SIGN_IN_NAME,
        missing="Make up a short name to sign in with, like j.rivera.",
        hint="Short and without spaces, like j.rivera.",
    )
    pass_phrase = PassPhraseField(
        "Pass phrase",
        missing="Make up a pass phrase of several words.",
        hint="Several words that belong together only for you. At least 12 characters.",
    )
    pass_phrase_again = PassPhraseField("Pass phrase again", missing="Type the pass phrase a second time.")


class CodeForm(_NewPassPhraseForm):
    """The new pass phrase may stay empty: then one is made."""

    sign_in_name = TextField(
        "Sign-in name", longest=LONGEST_SIGN_IN_NAME, missing="Type the name that you sign in with."
    )
    code = TextField(
        "Code",
        longest=20,
        missing="Type the six digits that your instructor shows you.",
        hint="Six digits from your instructor, good for ten minutes.",
    )
    pass_phrase = PassPhraseField(
        "New pass phrase",
        hint="Several words, at least 8 characters. Leave both empty to be given three words.",
    )
    pass_phrase_again = PassPhraseField("New pass phrase again")


class PassPhraseForm(_NewPassPhraseForm):
    current_pass_phrase = PassPhraseField(
        "Pass phrase now", missing="Type the pass phrase you sign in with now."
    )
    pass_phrase = PassPhraseField(
        "New pass phrase",
        missing="Make up a pass phrase of several words.",
        hint="Several words that belong together only for you.",
    )
    pass_phrase_again = PassPhraseField(
        "New pass phrase again", missing="Type the new pass phrase a second time."
    )
