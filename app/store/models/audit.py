"""Who changed what, and when."""

from datetime import datetime
from typing import Any

from sqlalchemy import ForeignKey
from sqlalchemy.orm import Mapped, mapped_column

from app.store.models.base import Base, Frozen, Key, Name, Word


class Audit(Frozen, Base):
    """`person_id` is None for the command line. `subject` is what was changed: "class:<public_id>"."""

    __tablename__ = "audit"

    id: Mapped[Key]
    at: Mapped[datetime] = mapped_column(index=True)
    person_id: Mapped[int | None] = mapped_column(ForeignKey("person.id"), index=True)
    action: Mapped[Word]
    subject: Mapped[Name] = mapped_column(index=True)
    detail: Mapped[dict[str, Any]]
