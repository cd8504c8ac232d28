"""What can go wrong in an export."""

import unicodedata


class ExportError(ValueError):
    """Something that cannot be put on paper or in a table: names the field and says what to do."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(f"{field}: {message}")
        self.field = field
        self.message = message


def require_visible(field: str, text: str, what_to_do: str) -> None:
    """Raise ExportError unless some character leaves ink: a heading of nothing cannot be read out."""
    if not any(unicodedata.category(sign)[0] in "LNPS" for sign in text):
        raise ExportError(field, what_to_do)
