"""What pens, fills and lettering look like without a style sheet: black ink, for paper.

On the web the same names are classes of `static/css/drawings.css`.
"""

BLACK = "#000"
GREY = "#767676"

PENS: dict[str, dict[str, str]] = {
    "outline": {"stroke": BLACK, "stroke-width": "1.8"},
    "thin": {"stroke": BLACK, "stroke-width": "0.9"},
    "light": {"stroke": GREY, "stroke-width": "0.8"},
    "hidden": {"stroke": BLACK, "stroke-width": "1.2", "stroke-dasharray": "6 4"},
    "centre": {"stroke": BLACK, "stroke-width": "0.8", "stroke-dasharray": "14 3 3 3"},
    "dimension": {"stroke": BLACK, "stroke-width": "0.8"},
    "leader": {"stroke": BLACK, "stroke-width": "0.8"},
    "hatch": {"stroke": GREY, "stroke-width": "0.7"},
    "computed": {"stroke": BLACK, "stroke-width": "2.4"},
    "own": {"stroke": BLACK, "stroke-width": "2", "stroke-dasharray": "7 4"},
    "other": {"stroke": BLACK, "stroke-width": "1.4", "stroke-dasharray": "2 3"},
    "limit": {"stroke": BLACK, "stroke-width": "1.4", "stroke-dasharray": "10 4"},
    "none": {"stroke": "none"},
}
# An arrow's head is never dashed, whatever its shaft is.
PENS |= {
    f"{pen}-head": {"stroke": BLACK, "stroke-width": PENS[pen]["stroke-width"]}
    for pen in ("thin", "dimension", "computed", "own", "other", "limit", "outline")
}

FILLS: dict[str, str] = {
    "none": "none",
    "paper": "#fff",
    "wash": "#eee",
    "ink": BLACK,
    "thin": BLACK,
    "outline": BLACK,
    "dimension": BLACK,
    "computed": BLACK,
    "own": BLACK,
    "other": BLACK,
    "limit": BLACK,
}

SIZES: dict[str, float] = {"label": 14.0, "strong": 14.0, "small": 12.0, "quiet": 12.0, "large": 18.0}
"""Lettering heights in drawing units; "strong" and "large" are bold, "quiet" is in the lighter ink."""

BOLD = frozenset({"strong", "large"})

# The last three come with the PDF writer, so that text is never dropped where the machine has no sans-serif.
FAMILIES = "Barlow, Liberation Sans, Arial, DejaVu Sans, Libertinus Serif, New Computer Modern, sans-serif"
