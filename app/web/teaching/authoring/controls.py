"""From a document to the controls of a form, each with its words, its value and what is at fault with it."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from app.domain.authored.entries import Document, at, list_at, steps_of, with_entry
from app.domain.authored.shape import Field, Kind
from app.domain.faults import Fault
from app.domain.model import quantity_of
from app.domain.references import EVERY, UnknownReference, split_reference
from app.web.fields import made_visible
from app.web.teaching.authoring import offers
from app.web.teaching.authoring.sections import Section, fields_on_sheets
from app.web.teaching.authoring.words import unit_of, words_of

Options = tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Control:
    """One field of a form; the macro `control` of templates/teaching/authoring/_controls.html draws it.

    kind: of the field. name: the path, which the form sends. value: as the kind shows it, a text, a list of
    what is ticked, or a mapping for a drawn number and a reference. entries: of a list, with their controls.
    """

    name: str
    kind: Kind
    label: str
    help: str
    unit: str
    value: Any
    error: str | None
    options: Options = ()
    groups: Mapping[str, Options] | None = None
    controls: tuple["Control", ...] = ()
    entries: tuple["Entry", ...] = ()
    entry: str = ""
    may_be_left_out: bool = False
    there: bool = True
    folded: bool = False
    longest: int | None = None
    room: bool = True
    nothing_to_choose: bool = False

    @property
    def id(self) -> str:
        return "f-" + self.name.replace(".", "-")


@dataclass(frozen=True)
class Entry:
    """One entry of a list with its controls."""

    name: str
    title: str
    controls: tuple[Control, ...]
    is_first: bool
    is_last: bool

    @property
    def id(self) -> str:
        return "f-" + self.name.replace(".", "-")


def controls_of(section: Section, document: Document, faults: Sequence[Fault]) -> tuple[Control, ...]:
    """The controls of one sheet. faults: of the whole document; each shows at its field."""
    return tuple(
        _control(field, _join(section.base, field.name), document, faults) for field in section.fields
    )


def unplaced(section: Section, controls: Sequence[Control], faults: Sequence[Fault]) -> list[Fault]:
    """The faults of a sheet that no field of it shows, such as that two entries don't go together."""
    shown = {control.error for control in all_controls(controls)}
    return [fault for fault in faults if section.holds(fault.place) and fault.message not in shown]


def all_controls(controls: Sequence[Control]) -> Iterator[Control]:
    """These and all below them."""
    for control in controls:
        yield control
        yield from all_controls(control.controls)
        for entry in control.entries:
            yield from all_controls(entry.controls)


def _join(path: str, name: str | int) -> str:
    return f"{path}.{name}" if path else str(name)


def _control(field: Field, name: str, document: Document, faults: Sequence[Fault]) -> Control:
    words = words_of(field)
    value = at(document, name)
    common: dict[str, Any] = {
        "name": name,
        "kind": field.kind,
        "label": words.label,
        "help": _help(field, words.help),
        "unit": unit_of(field),
        "entry": words.entry,
        "longest": field.longest,
    }
    if field.kind is Kind.TABLE:
        return Control(**common, **_table(field, name, document, value, faults))
    as_tables = field.kind is Kind.WORDS_OR_TABLES and isinstance(value, list)
    if field.kind is Kind.TABLES or as_tables:
        return Control(**common | {"kind": Kind.TABLES}, **_tables(field, name, document, faults))
    shown = value if value is not None or field.default is None else field.default
    return Control(
        **common,
        value=_shown(field.kind, shown),
        error=_error(name, faults, below=True),
        options=(options := _options(field, name, document, shown)),
        nothing_to_choose=_name(field) in offers.DYNAMIC and not options,
        groups=offers.quantity_groups(at(document, name.rpartition(".")[0] + ".kind"))
        if field.kind in (Kind.REFERENCE, Kind.REFERENCES)
        else None,
    )


def _shown(kind: Kind, value: Any) -> Any:
    show: Callable[[Any], Any] = _SHOWN.get(kind, _as_text)
    return show(value)


def _help(field: Field, text: str) -> str:
    """The help with the bounds of a number, where they say something."""
    if (
        field.kind not in (Kind.NUMBER, Kind.WHOLE)
        or field.most is None
        or field.most >= 1e5
        or field.least is None
    ):
        return text
    bounds = f"{'Above' if field.above else 'From'} {field.least:g} to {field.most:g}."
    return text if f"{field.most:g}" in text else f"{text} {bounds}".strip()


def _table(
    field: Field, name: str, document: Document, value: Any, faults: Sequence[Fault]
) -> dict[str, Any]:
    shown = document
    if value is None and field.default is not None:
        shown = with_entry(document, name, field.default)
    there = not field.nullable or isinstance(value, dict)
    controls = _below(field, name, shown, faults) if there else ()
    return {
        "value": None,
        "error": _error(name, faults),
        "controls": controls,
        "may_be_left_out": field.nullable,
        "there": there,
        "folded": value is None
        and not field.required
        and not any(each.error for each in all_controls(controls)),
    }


def _below(field: Field, name: str, document: Document, faults: Sequence[Fault]) -> tuple[Control, ...]:
    table = field.table_of(at(document, name)) or field.table
    return tuple(_control(each, _join(name, each.name), document, faults) for each in fields_on_sheets(table))


def _tables(field: Field, name: str, document: Document, faults: Sequence[Fault]) -> dict[str, Any]:
    shown = document
    if at(document, name) is None and field.default:
        shown = with_entry(document, name, field.default)
    count = len(list_at(shown, name))
    entries = tuple(
        Entry(
            name=_join(name, place),
            title=f"{words_of(field).entry.capitalize()} {place + 1}",
            controls=_below(field, _join(name, place), shown, faults),
            is_first=place == 0,
            is_last=place == count - 1,
        )
        for place in range(count)
    )
    return {
        "value": count,
        "error": _error(name, faults),
        "entries": entries,
        "options": tuple((kind, kind) for kind in field.kinds),
        "room": field.longest is None or count < field.longest,
    }


def _error(name: str, faults: Sequence[Fault], *, below: bool = False) -> str | None:
    """What is at fault with a field; with `below`, in its own parts too (the low end of a range)."""
    steps = steps_of(name)
    for fault in faults:
        place = steps_of(fault.place)
        if place == steps or (below and place[: len(steps)] == steps):
            end = {"low": "From: ", "high": "To: ", "step": "Step: "}.get(
                str(place[-1]) if place != steps else ""
            )
            return (end or "") + fault.message
    return None


def _options(field: Field, name: str, document: Document, value: Any) -> Options:
    if (dynamic := offers.DYNAMIC.get(_name(field))) is not None:
        return dynamic(document, name)
    labels = words_of(field).options
    options = tuple((option, labels.get(option, option)) for option in field.options)
    if field.kind is Kind.CHOICE and (not field.required and field.nullable):
        return (("", "not said"), *options)
    if field.kind is Kind.CHOICE and value not in field.options:
        return (("", "Choose"), *options)
    return options


def _name(field: Field) -> str:
    return f"{field.owner}.{field.name}"


def _as_text(value: Any) -> str:
    if value is None:
        return ""
    return made_visible(value) if isinstance(value, str) else digits(value)


def digits(value: Any) -> str:
    """A number as it is typed, without a needless point; anything else as text."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return made_visible(str(value))
    return str(int(value)) if float(value).is_integer() and abs(value) < 1e15 else repr(value)


def _numbers(value: Any) -> str:
    return ", ".join(map(_as_text, value)) if isinstance(value, list) else _as_text(value)


def _lines(value: Any) -> Any:
    return [_as_text(each) for each in value] if isinstance(value, list) else []


def _drawn(value: Any) -> Mapping[str, str]:
    """how: fixed, range or list; and the text of each of their boxes."""
    shown = {"how": "fixed", "fixed": "", "low": "", "high": "", "step": "", "one_of": ""}
    if isinstance(value, dict) and "one_of" in value:
        return shown | {"how": "list", "one_of": _numbers(value["one_of"])}
    if isinstance(value, dict):
        return shown | {"how": "range"} | {end: _as_text(value.get(end)) for end in ("low", "high", "step")}
    return shown | {"fixed": _as_text(value)}


def _drawn_line(value: Any) -> str:
    return "\n".join(_lines(value.get("one_of"))) if isinstance(value, dict) else _as_text(value)


def _reference(value: Any) -> Mapping[str, str]:
    """of: a letter or every; what: the quantity; formula: what is no plain quantity."""
    text = _as_text(value)
    try:
        letter, name = split_reference(text)
        quantity_of(text)
    except UnknownReference:
        return {"of": EVERY, "what": "", "formula": text}
    return {"of": letter or EVERY, "what": f"car.{name}" if letter is None else name, "formula": ""}


def _references(value: Any) -> list[Mapping[str, str]]:
    """Those that are chosen, and a free place for one more."""
    return [_reference(each) for each in [*(value if isinstance(value, list) else []), None]]


def _amounts(value: Any) -> str:
    if not isinstance(value, dict):
        return ""
    return "\n".join(f"{name} = {_as_text(amount)}" for name, amount in value.items())


_SHOWN: dict[Kind, Callable[[Any], Any]] = {
    Kind.DRAWN: _drawn,
    Kind.DRAWN_LINE: _drawn_line,
    Kind.NUMBERS: _numbers,
    Kind.LINES: _lines,
    Kind.CHOICES: _lines,
    Kind.REFERENCE: _reference,
    Kind.REFERENCES: _references,
    Kind.AMOUNTS: _amounts,
    Kind.YES_NO: bool,
}
