"""An address as a QR code (ISO/IEC 18004) in SVG."""

from io import BytesIO

from app.exports.errors import ExportError, require_visible


def qr_code(address: str) -> str:
    """Raises ExportError for an address that shows nothing or is too long for a code."""
    import segno  # slow to load, and codes are seldom printed

    require_visible("address", address, "give the address that students open, like http://192.168.1.20:8000")
    try:
        code = segno.make_qr(address)
    except segno.DataOverflowError as error:
        raise ExportError("address", "the address is too long for a QR code; use a shorter one") from error
    picture = BytesIO()
    code.save(picture, kind="svg", xmldecl=False, omitsize=True)
    return picture.getvalue().decode()
