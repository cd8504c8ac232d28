"""Hands-on checks and timed heats.

Revision: 0007
"""

import sqlalchemy as sa
from alembic import op

revision = "0007"
down_revision = "0006"
branch_labels = None
depends_on = None

# Rows of these tables are written once.
FROZEN = ("hands_on_check", "heat_event")


def upgrade() -> None:
    checks()
    heats()
    freeze()


def checks() -> None:
    op.create_table(
        "hands_on_skill",
        number("id"),
        text("public_id", 20),
        number("class_id"),
        text("name", 120),
        text("code", 40, nullable=True),
        number("place"),
        moment("created_at"),
        moment("put_away_at", nullable=True),
        primary("hands_on_skill", "id"),
        unique("hands_on_skill", "public_id"),
        unique("hands_on_skill", "class_id", "name"),
        points_to("hands_on_skill", "class_id", "class"),
    )
    op.create_table(
        "hands_on_check",
        number("id"),
        number("skill_id"),
        number("person_id"),
        text("level", 9),
        sa.Column("note", sa.Text(), nullable=False),
        sa.Column("done_on", sa.Date(), nullable=False),
        text("key", 40),
        number("made_by"),
        moment("at"),
        primary("hands_on_check", "id"),
        unique("hands_on_check", "made_by", "key"),
        check("hands_on_check", "level", "level IN ('seen', 'with help', 'alone', 'undone')"),
        points_to("hands_on_check", "skill_id", "hands_on_skill"),
        points_to("hands_on_check", "person_id", "person"),
        points_to("hands_on_check", "made_by", "person"),
    )
    index("hands_on_check", "skill_id", "person_id")
    index("hands_on_check", "person_id")


def heats() -> None:
    op.create_table(
        "contest",
        number("id"),
        text("public_id", 20),
        number("class_id"),
        text("title", 120),
        moment("created_at"),
        primary("contest", "id"),
        unique("contest", "public_id"),
        points_to("contest", "class_id", "class"),
    )
    index("contest", "class_id")
    op.create_table(
        "contest_team",
        number("id"),
        text("public_id", 20),
        number("contest_id"),
        text("name", 60),
        number("place"),
        primary("contest_team", "id"),
        unique("contest_team", "public_id"),
        unique("contest_team", "contest_id", "name"),
        points_to("contest_team", "contest_id", "contest"),
    )
    op.create_table(
        "contest_member",
        number("team_id"),
        number("person_id"),
        primary("contest_member", "team_id", "person_id"),
        points_to("contest_member", "team_id", "contest_team"),
        points_to("contest_member", "person_id", "person"),
    )
    index("contest_member", "person_id")
    op.create_table(
        "heat",
        number("id"),
        text("public_id", 20),
        number("contest_id"),
        number("number"),
        moment("created_at"),
        primary("heat", "id"),
        unique("heat", "public_id"),
        unique("heat", "contest_id", "number"),
        points_to("heat", "contest_id", "contest"),
    )
    op.create_table(
        "heat_event",
        number("id"),
        number("heat_id"),
        text("act", 7),
        number("team_id", nullable=True),
        moment("at"),
        text("page", 40, nullable=True),
        sa.Column("page_ms", sa.Float(), nullable=True),
        sa.Column("penalty_s", sa.Float(), nullable=True),
        text("reason", 120),
        text("undoes", 40, nullable=True),
        text("key", 40),
        number("made_by"),
        primary("heat_event", "id"),
        unique("heat_event", "heat_id", "key"),
        check("heat_event", "act", "act IN ('start', 'lap', 'stop', 'penalty', 'undo')"),
        points_to("heat_event", "heat_id", "heat"),
        points_to("heat_event", "team_id", "contest_team"),
        points_to("heat_event", "made_by", "person"),
    )


def freeze() -> None:
    """Let the database itself refuse changes to these rows; PostgreSQL's function is that of 0001."""
    sqlite = op.get_bind().dialect.name == "sqlite"
    for table in FROZEN:
        if not sqlite:
            op.execute(
                f"CREATE TRIGGER {table}_refuses_change BEFORE UPDATE OR DELETE ON {table} "
                "FOR EACH ROW EXECUTE FUNCTION refuse_change()"
            )
            continue
        for act in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_refuses_{act.lower()} BEFORE {act} ON {table} "
                f"BEGIN SELECT RAISE(ABORT, '{table} is written once'); END"
            )


def downgrade() -> None:
    for table in (
        *("heat_event", "heat", "contest_member", "contest_team", "contest"),
        *("hands_on_check", "hands_on_skill"),
    ):
        op.drop_table(table)


def number(name: str, *, nullable: bool = False) -> sa.Column:
    return sa.Column(name, sa.Integer(), nullable=nullable)


def text(name: str, length: int, *, nullable: bool = False) -> sa.Column:
    return sa.Column(name, sa.String(length), nullable=nullable)


def moment(name: str, *, nullable: bool = False) -> sa.Column:
    return sa.Column(name, sa.DateTime(timezone=True), nullable=nullable)


def primary(table: str, *columns: str) -> sa.PrimaryKeyConstraint:
    return sa.PrimaryKeyConstraint(*columns, name=op.f(f"pk_{table}"))


def unique(table: str, *columns: str) -> sa.UniqueConstraint:
    return sa.UniqueConstraint(*columns, name=op.f(f"uq_{table}_{'_'.join(columns)}"))


def check(table: str, name: str, rule: str) -> sa.CheckConstraint:
    return sa.CheckConstraint(rule, name=op.f(f"ck_{table}_{name}"))


def points_to(table: str, column: str, other: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([column], [f"{other}.id"], name=op.f(f"fk_{table}_{column}_{other}"))


def index(table: str, *columns: str) -> None:
    op.create_index(op.f(f"ix_{table}_{'_'.join(columns)}"), table, list(columns))
