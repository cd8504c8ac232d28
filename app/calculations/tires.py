"""Calculations that read a tire's sidewall."""

import re
from dataclasses import asdict
from datetime import date
from typing import Annotated

from pydantic import AfterValidator, BeforeValidator, Field

from app.calculations.registry import calculation
from app.calculations.wire import Answer, Given
from app.compute.errors import WrongCountError
from app.compute.tire_dates import FORM as TIN_FORM
from app.compute.tire_dates import read_tin_date
from app.compute.tires import LONGEST_DESIGNATION, parse_designation

DATE_CODE = "[0-9]{3,4}"
LONGEST_TYPED_TIN = 60  # with "DOT" and any spaces


def _iso_date(value: object) -> object:
    """Only YYYY-MM-DD, the one form in which a date is written the same everywhere."""
    if not isinstance(value, str) or not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", value):
        raise ValueError("Give a date like 2024-05-31.")
    try:
        return date.fromisoformat(value)
    except ValueError:
        raise ValueError("Give a day that the calendar has, like 2024-05-31.") from None


def _three_or_four_digits(code: str) -> str:
    if not re.fullmatch(DATE_CODE, code):
        raise ValueError("Give four digits, or three for a tire made before July 2000, like 5107.")
    return code


IsoDate = Annotated[date, BeforeValidator(_iso_date), Field(examples=["2024-05-31"])]
Tin = Annotated[str, Field(max_length=LONGEST_TYPED_TIN, examples=[TIN_FORM])]
DateCode = Annotated[
    str,
    AfterValidator(_three_or_four_digits),
    Field(examples=["5107", "517"], json_schema_extra={"pattern": f"^{DATE_CODE}$"}),
]


class TireSizeGiven(Given):
    designation: Annotated[
        str, Field(max_length=LONGEST_DESIGNATION, examples=["P205/65R15 92H", "225/40ZR18 92Y XL"])
    ]


@calculation("tire-size", "Dimensions, load and speed that a tire's size designation stands for")
def tire_size(given: TireSizeGiven) -> Answer:
    """Section 2.18 of the wheel model."""
    return asdict(parse_designation(given.designation))


class TireDateGiven(Given):
    tin: Tin | None = None
    date_code: DateCode | None = None
    service_date: IsoDate


@calculation("tire-date", "Week of manufacture and age of a tire from its identification number or date code")
def tire_date(given: TireDateGiven) -> Answer:
    """Section 2.19 of the wheel model."""
    if given.tin is not None and given.date_code is None:
        found = read_tin_date(given.tin, given.service_date)
    elif given.date_code is not None and given.tin is None:
        found = read_tin_date(given.date_code, given.service_date, field="date_code")
    else:
        raise WrongCountError("tin", "Give either tin or date_code.")
    return asdict(found) | {
        "built_from": found.built_from.isoformat(),
        "built_to": found.built_to.isoformat(),
    }
