"""One entry of the table of words."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

_NONE: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True)
class Words:
    """label: what the field is called. help: what to fill in, where the label doesn't say it.

    unit: where the name's end doesn't tell it. options: labels of what may be chosen, where the choice itself
    is no good label. entry: one entry of a list, as in "Add a heavy spot". hidden: filled in by the program.
    late: stands behind the others of its sheet, because most authors leave it as it is.
    """

    label: str
    help: str = ""
    unit: str | None = None
    options: Mapping[str, str] = field(default_factory=lambda: _NONE)
    entry: str = "entry"
    hidden: bool = False
    late: bool = False
