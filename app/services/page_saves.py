"""Which save of which opened page an answer came with.

A page that is being closed sends what is not saved yet all at once, and the newer may arrive first. The page
therefore names itself at random when it is opened and counts its saves. Between two pages, and for a form
that is sent without its script, the save that arrives last counts.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class PageSave:
    page: str
    revision: int

    def is_overtaken_by(self, page: str | None, revision: int | None) -> bool:
        """Whether this page has got as far as this save already, or farther."""
        return self.page == page and revision is not None and self.revision <= revision
