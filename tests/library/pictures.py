"""Pictures for tests, drawn here."""

import io

from PIL import Image


def picture(
    file_format: str = "PNG", *, size: tuple[int, int] = (60, 40), mode: str = "RGB", **how: object
) -> bytes:
    """A plain picture with one dark corner, as a file."""
    made = Image.new(mode, size, 200 if mode == "L" else (200, 180, 90, 128)[: len(mode)])
    made.paste(0 if mode == "L" else (10, 10, 10, 255)[: len(mode)], (0, 0, size[0] // 3, size[1] // 3))
    buffer = io.BytesIO()
    made.save(buffer, format=file_format, **how)
    return buffer.getvalue()


def opened(content: bytes) -> Image.Image:
    return Image.open(io.BytesIO(content))
