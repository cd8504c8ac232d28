"""The pictures of a packet: each distinct one once, however often it is shown."""

from hashlib import sha256


class Pictures:
    """SVG texts by file name, as the typesetter takes them; equal pictures share one file."""

    def __init__(self) -> None:
        self.files: dict[str, str] = {}

    def add(self, svg: str) -> str:
        """The name of the file that holds this picture."""
        name = f"{sha256(svg.encode()).hexdigest()[:24]}.svg"
        self.files[name] = svg
        return name
