"""Pictures that authors upload: decoded, made small enough and encoded anew.

What is kept holds the pixels alone: no metadata (a phone writes where it was), no second frame, nothing
behind the end of the file.
"""

import io
import re
from dataclasses import dataclass
from typing import Any

from PIL import Image, ImageOps, UnidentifiedImageError

Image.MAX_IMAGE_PIXELS = None  # the pixels are counted below, before any is decoded

LARGEST_UPLOAD = 5 * 1024 * 1024
MOST_PIXELS = 40_000_000
LONGEST_SIDE = 1600
"""Pixels that are kept: sharp across the sheet, also on paper."""
LARGEST_KEPT = 1024 * 1024
LONGEST_NAME, LONGEST_ALT = 40, 300
NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")

MEDIA_TYPES = {"PNG": "image/png", "JPEG": "image/jpeg", "WEBP": "image/webp"}
ENDINGS = {"image/png": "png", "image/jpeg": "jpg", "image/webp": "webp"}
_HOW: dict[str, dict[str, Any]] = {
    "PNG": {"optimize": True},
    "JPEG": {"quality": 85},
    "WEBP": {"quality": 85},
}


class UnusableImage(ValueError):  # noqa: N818 -- says what is so
    """A file that can't be kept as a picture; the message says what to send instead."""


@dataclass(frozen=True)
class Picture:
    """A picture as it is kept."""

    media_type: str
    width: int
    height: int
    content: bytes


@dataclass(frozen=True)
class NamedPicture:
    """A picture under the name by which texts call it, with its alternative text."""

    name: str
    alt: str
    picture: Picture


def picture_of(upload: bytes) -> Picture:
    """The picture in a PNG, JPEG or WebP file, encoded anew. Raises UnusableImage."""
    if len(upload) > LARGEST_UPLOAD:
        raise UnusableImage(f"Send a picture of at most {LARGEST_UPLOAD // 1024 // 1024} MB.")
    try:
        with Image.open(io.BytesIO(upload), formats=tuple(MEDIA_TYPES)) as opened:
            if opened.width * opened.height > MOST_PIXELS:
                raise UnusableImage(f"Send a picture of at most {MOST_PIXELS // 1_000_000} million pixels.")
            return _encoded(opened, str(opened.format))
    except UnidentifiedImageError as error:
        raise UnusableImage("Send a PNG, JPEG or WebP picture.") from error
    except (OSError, ValueError, SyntaxError, EOFError, MemoryError) as error:
        if isinstance(error, UnusableImage):
            raise
        raise UnusableImage(
            "This picture is damaged. Open it in a program, save it again and send that."
        ) from error


def _encoded(opened: Image.Image, file_format: str) -> Picture:
    upright = ImageOps.exif_transpose(opened)
    has_holes = upright.mode in ("RGBA", "LA", "PA") or "transparency" in upright.info
    plain = upright.convert("RGBA" if has_holes and file_format != "JPEG" else "RGB")
    plain.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
    clean = Image.new(plain.mode, plain.size)
    clean.paste(plain)
    buffer = io.BytesIO()
    clean.save(buffer, format=file_format, **_HOW[file_format])
    content = buffer.getvalue()
    if len(content) > LARGEST_KEPT:
        raise UnusableImage(
            "This picture has too much detail for its kind of file. Save it as JPEG and send that."
        )
    return Picture(MEDIA_TYPES[file_format], clean.width, clean.height, content)


def fault_in_name(name: str) -> str | None:
    """Why a name can't be used, as a sentence."""
    if len(name) > LONGEST_NAME or not NAME.fullmatch(name):
        return "Use small letters, digits and single hyphens, like clip-on-the-lip."
    return None


def fault_in_alt(alt: str) -> str | None:
    """Why an alternative text can't be used, as a sentence."""
    if not alt.strip():
        return "Say in words what the picture shows, for those who can’t see it."
    return f"Shorten this to {LONGEST_ALT} characters." if len(alt) > LONGEST_ALT else None
