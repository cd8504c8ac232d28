"""Pictures come in as three kinds of file and are kept as pixels alone."""

import io
import struct
import time
import zlib

import pytest
from PIL import Image

from app.library.images import (
    LARGEST_UPLOAD,
    LONGEST_SIDE,
    UnusableImage,
    fault_in_alt,
    fault_in_name,
    picture_of,
)
from tests.library.pictures import opened, picture


@pytest.mark.parametrize(
    ("file_format", "media_type"), [("PNG", "image/png"), ("JPEG", "image/jpeg"), ("WEBP", "image/webp")]
)
def test_a_picture_keeps_its_kind_and_its_size(file_format: str, media_type: str) -> None:
    kept = picture_of(picture(file_format))
    assert (kept.media_type, kept.width, kept.height) == (media_type, 60, 40)
    assert opened(kept.content).format == file_format


def test_a_picture_is_made_to_fit_a_sheet() -> None:
    kept = picture_of(picture("JPEG", size=(3200, 800)))
    assert (kept.width, kept.height) == (LONGEST_SIDE, 400)


def test_holes_in_a_picture_stay() -> None:
    assert opened(picture_of(picture("PNG", mode="RGBA")).content).mode == "RGBA"


def test_where_a_phone_was_is_dropped_and_which_way_it_was_held_is_not() -> None:
    exif = Image.Exif()
    exif[0x010F] = "Maker of a phone"
    exif[0x0112] = 6  # held upright: to be turned by 90 degrees (Exif 2.32, table 4)
    exif.get_ifd(0x8825)[1] = "N"
    kept = picture_of(picture("JPEG", exif=exif.tobytes()))
    assert (kept.width, kept.height) == (40, 60)
    assert b"Maker" not in kept.content
    assert dict(opened(kept.content).getexif()) == {}


@pytest.mark.parametrize("file_format", ["PNG", "WEBP"])
def test_comments_profiles_and_what_stands_behind_the_end_are_dropped(file_format: str) -> None:
    how = {"icc_profile": b"a profile " * 20} if file_format == "WEBP" else {}
    kept = picture_of(picture(file_format, **how) + b"<script>go()</script>")
    assert b"script" not in kept.content
    assert b"a profile" not in kept.content


def test_of_a_moving_picture_the_first_one_is_kept() -> None:
    buffer = io.BytesIO()
    frames = [Image.new("RGB", (20, 20), (shade, 0, 0)) for shade in (0, 100, 200)]
    frames[0].save(buffer, format="WEBP", save_all=True, append_images=frames[1:])
    kept = opened(picture_of(buffer.getvalue()).content)
    assert getattr(kept, "n_frames", 1) == 1


def png_that_claims(width: int, height: int) -> bytes:
    """A tiny file whose header names a huge picture."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", header)
        + chunk(b"IDAT", zlib.compress(b"\0"))
        + chunk(b"IEND", b"")
    )


HOSTILE = {
    "nothing": b"",
    "words": b"not a picture",
    "a drawing with a script": b"<svg xmlns='http://www.w3.org/2000/svg'><script>go()</script></svg>",
    "another kind of picture": picture("GIF", mode="L"),
    "half a picture": picture("PNG")[:60],
    "a picture of noise": b"\x89PNG\r\n\x1a\n" + b"\xff" * 400,
    "a picture of 10^10 pixels": png_that_claims(100_000, 100_000),
    "a header that promises more than comes": png_that_claims(4000, 4000),
    "too large a file": b"\x89PNG\r\n\x1a\n" + b"\0" * LARGEST_UPLOAD,
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_file_that_is_no_usable_picture_is_refused_within_a_second(name: str) -> None:
    began = time.process_time()
    with pytest.raises(UnusableImage, match=r"^(Send|This picture)"):
        picture_of(HOSTILE[name])
    assert time.process_time() - began < 1


@pytest.mark.parametrize("name", ["", "Clip", "a b", "../a", "a--b", "x" * 41, "a/b", "-a"])
def test_a_name_that_an_address_could_not_hold_is_refused(name: str) -> None:
    assert fault_in_name(name)


def test_a_good_name_and_words_for_those_who_cannot_see_it_are_taken() -> None:
    assert fault_in_name("clip-on-the-lip") is None
    assert fault_in_alt("A clip on the lip of a rim") is None
    assert fault_in_alt("  ")
    assert fault_in_alt("x" * 301)
