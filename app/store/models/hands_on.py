"""What is seen at the machine: skills of a class, checks of them, and timed heats of teams."""

from datetime import date, datetime

from sqlalchemy import ForeignKey, Index, String, Text, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column, relationship

from app.domain.hands_on import Level
from app.domain.heats import Act
from app.store.models.base import Base, Frozen, Key, Name, PublicId, Word, one_of
from app.store.models.people import Person


class HandsOnSkill(Base):
    """`code` is the number of the skill in a task list that the school works by. A skill that is put away
    keeps its checks."""

    __tablename__ = "hands_on_skill"
    __table_args__ = (UniqueConstraint("class_id", "name"),)

    id: Mapped[Key]
    public_id: Mapped[PublicId]
    class_id: Mapped[int] = mapped_column(ForeignKey("class.id"))
    name: Mapped[Name]
    code: Mapped[str | None] = mapped_column(String(40))
    place: Mapped[int]
    created_at: Mapped[datetime]
    put_away_at: Mapped[datetime | None]


class HandsOnCheck(Frozen, Base):
    """One tap: the newest of a student and a skill stands. `key` is made by the page that sent it, so that
    sending it again changes nothing; `done_on` is the day at the machine, in the class's time zone."""

    __tablename__ = "hands_on_check"
    __table_args__ = (UniqueConstraint("made_by", "key"), Index(None, "skill_id", "person_id"))

    id: Mapped[Key]
    skill_id: Mapped[int] = mapped_column(ForeignKey("hands_on_skill.id"))
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"), index=True)
    level: Mapped[Level] = mapped_column(one_of(Level, "level"))
    note: Mapped[str] = mapped_column(Text)
    done_on: Mapped[date]
    key: Mapped[str] = mapped_column(String(40))
    made_by: Mapped[int] = mapped_column(ForeignKey("person.id"))
    at: Mapped[datetime]


class Contest(Base):
    """A job that teams of a class do against the clock, in one heat or several."""

    __tablename__ = "contest"

    id: Mapped[Key]
    public_id: Mapped[PublicId]
    class_id: Mapped[int] = mapped_column(ForeignKey("class.id"), index=True)
    title: Mapped[Name]
    created_at: Mapped[datetime]


class ContestTeam(Base):
    __tablename__ = "contest_team"
    __table_args__ = (UniqueConstraint("contest_id", "name"),)

    id: Mapped[Key]
    public_id: Mapped[PublicId]
    contest_id: Mapped[int] = mapped_column(ForeignKey("contest.id"))
    name: Mapped[Word]
    place: Mapped[int]


class ContestMember(Base):
    __tablename__ = "contest_member"

    team_id: Mapped[int] = mapped_column(ForeignKey("contest_team.id"), primary_key=True)
    person_id: Mapped[int] = mapped_column(ForeignKey("person.id"), primary_key=True, index=True)

    person: Mapped[Person] = relationship()


class Heat(Base):
    __tablename__ = "heat"
    __table_args__ = (UniqueConstraint("contest_id", "number"),)

    id: Mapped[Key]
    public_id: Mapped[PublicId]
    contest_id: Mapped[int] = mapped_column(ForeignKey("contest.id"))
    number: Mapped[int]
    created_at: Mapped[datetime]

    contest: Mapped[Contest] = relationship()


class HeatEvent(Frozen, Base):
    """One thing that the timekeeper pressed. `at` is the server's clock when it arrived; `page` names the
    opened page and `page_ms` that page's own clock, which no network delays. `key` as in HandsOnCheck."""

    __tablename__ = "heat_event"
    __table_args__ = (UniqueConstraint("heat_id", "key"),)

    id: Mapped[Key]
    heat_id: Mapped[int] = mapped_column(ForeignKey("heat.id"))
    act: Mapped[Act] = mapped_column(one_of(Act, "act"))
    team_id: Mapped[int | None] = mapped_column(ForeignKey("contest_team.id"))
    at: Mapped[datetime]
    page: Mapped[str | None] = mapped_column(String(40))
    page_ms: Mapped[float | None]
    penalty_s: Mapped[float | None]
    reason: Mapped[str] = mapped_column(String(120))
    undoes: Mapped[str | None] = mapped_column(String(40))
    key: Mapped[str] = mapped_column(String(40))
    made_by: Mapped[int] = mapped_column(ForeignKey("person.id"))
