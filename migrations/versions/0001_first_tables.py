"""The first tables.

Revision: 0001
"""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

# Rows of these tables are written once.
FROZEN = ("scenario_version", "event", "audit")


def upgrade() -> None:
    people()
    classes()
    scenarios()
    practice()
    op.create_table(
        "audit",
        key(),
        moment("at"),
        number("person_id", nullable=True),
        text("action", 60),
        text("subject", 120),
        sa.Column("detail", sa.JSON(), nullable=False),
        primary("audit"),
        points_to("audit", "person_id", "person"),
    )
    index("audit", "at")
    index("audit", "person_id")
    index("audit", "subject")
    freeze()


def people() -> None:
    op.create_table(
        "person",
        key(),
        text("public_id", 20),
        text("role", 10),
        text("display_name", 120),
        text("sort_name", 120),
        text("sign_in_name", 60),
        text("pass_phrase_hash", 255),
        number("failed_sign_ins"),
        moment("refused_until", nullable=True),
        moment("created_at"),
        primary("person"),
        unique("person", "public_id"),
        unique("person", "sign_in_name"),
        check("person", "role", "role IN ('instructor', 'student')"),
    )
    op.create_table(
        "sign_in",
        key(),
        number("person_id"),
        text("token_hash", 64),
        moment("created_at"),
        moment("last_seen_at"),
        moment("expires_at"),
        moment("revoked_at", nullable=True),
        primary("sign_in"),
        unique("sign_in", "token_hash"),
        points_to("sign_in", "person_id", "person"),
    )
    index("sign_in", "person_id")
    op.create_table(
        "setup_link",
        key(),
        text("token_hash", 64),
        moment("created_at"),
        moment("expires_at"),
        moment("used_at", nullable=True),
        primary("setup_link"),
        unique("setup_link", "token_hash"),
    )
    op.create_table(
        "unknown_name",
        key(),
        text("name_hash", 64),
        number("failed_sign_ins"),
        moment("refused_until", nullable=True),
        primary("unknown_name"),
        unique("unknown_name", "name_hash"),
    )
    index("unknown_name", "refused_until")


def classes() -> None:
    op.create_table(
        "class",
        key(),
        text("public_id", 20),
        text("name", 120),
        text("time_zone", 60),
        text("units", 6),
        sa.Column("calculators_on", sa.Boolean(), nullable=False),
        moment("created_at"),
        moment("archived_at", nullable=True),
        primary("class"),
        unique("class", "public_id"),
        check("class", "units", "units IN ('metric', 'us')"),
    )
    op.create_table(
        "teaching",
        number("class_id"),
        number("person_id"),
        primary("teaching", "class_id", "person_id"),
        points_to("teaching", "class_id", "class"),
        points_to("teaching", "person_id", "person"),
    )
    index("teaching", "person_id")
    op.create_table(
        "enrolment",
        key(),
        number("class_id"),
        number("person_id"),
        sa.Column("extra_time_factor", sa.Float(), nullable=False),
        moment("enrolled_at"),
        moment("dropped_at", nullable=True),
        primary("enrolment"),
        unique("enrolment", "class_id", "person_id"),
        check("enrolment", "extra_time_factor", "extra_time_factor >= 1"),
        points_to("enrolment", "class_id", "class"),
        points_to("enrolment", "person_id", "person"),
    )
    index("enrolment", "person_id")


def scenarios() -> None:
    op.create_table(
        "scenario",
        key(),
        text("public_id", 20),
        text("slug", 60),
        moment("created_at"),
        moment("archived_at", nullable=True),
        primary("scenario"),
        unique("scenario", "public_id"),
        unique("scenario", "slug"),
    )
    op.create_table(
        "scenario_version",
        key(),
        text("public_id", 20),
        number("scenario_id"),
        number("number"),
        sa.Column("content", sa.Text(), nullable=False),
        text("sha256", 64),
        moment("created_at"),
        primary("scenario_version"),
        unique("scenario_version", "public_id"),
        unique("scenario_version", "scenario_id", "number"),
        points_to("scenario_version", "scenario_id", "scenario"),
    )
    op.create_table(
        "assignment",
        key(),
        text("public_id", 20),
        number("class_id"),
        number("scenario_version_id"),
        text("title", 120),
        moment("opens_at"),
        moment("due_at"),
        number("attempts_allowed", nullable=True),
        moment("created_at"),
        number("created_by"),
        primary("assignment"),
        unique("assignment", "public_id"),
        check("assignment", "dates", "due_at >= opens_at"),
        check("assignment", "attempts_allowed", "attempts_allowed >= 1"),
        points_to("assignment", "class_id", "class"),
        points_to("assignment", "scenario_version_id", "scenario_version"),
        points_to("assignment", "created_by", "person"),
    )
    index("assignment", "class_id")
    index("assignment", "scenario_version_id")


def practice() -> None:
    op.create_table(
        "attempt",
        key(),
        text("public_id", 20),
        number("assignment_id"),
        number("person_id"),
        number("number"),
        text("seed", 20),
        number("drawing_version"),
        number("scenario_version_id"),
        text("units", 6),
        text("state", 9),
        moment("started_at"),
        moment("handed_in_at", nullable=True),
        sa.Column("points", sa.Float(), nullable=True),
        sa.Column("out_of", sa.Float(), nullable=True),
        primary("attempt"),
        unique("attempt", "public_id"),
        unique("attempt", "assignment_id", "person_id", "number"),
        check("attempt", "units", "units IN ('metric', 'us')"),
        check("attempt", "state", "state IN ('open', 'handed in')"),
        points_to("attempt", "assignment_id", "assignment"),
        points_to("attempt", "person_id", "person"),
        points_to("attempt", "scenario_version_id", "scenario_version"),
    )
    index("attempt", "person_id")
    index("attempt", "scenario_version_id")
    op.create_table(
        "event",
        key(),
        number("attempt_id"),
        number("number"),
        text("kind", 7),
        sa.Column("body", sa.JSON(), nullable=False),
        moment("at"),
        primary("event"),
        check("event", "kind", "kind IN ('answer', 'action', 'hand in')"),
        unique("event", "attempt_id", "number"),
        points_to("event", "attempt_id", "attempt"),
    )
    op.create_table(
        "mark",
        key(),
        number("attempt_id"),
        text("task_id", 60),
        text("source", 10),
        sa.Column("points", sa.Float(), nullable=False),
        sa.Column("out_of", sa.Float(), nullable=False),
        text("verdict", 60),
        sa.Column("detail", sa.JSON(), nullable=False),
        moment("made_at"),
        number("made_by", nullable=True),
        moment("superseded_at", nullable=True),
        primary("mark"),
        check("mark", "source", "source IN ('machine', 'instructor')"),
        points_to("mark", "attempt_id", "attempt"),
        points_to("mark", "made_by", "person"),
    )
    index("mark", "attempt_id", "task_id")
    op.create_table(
        "reflection",
        key(),
        number("assignment_id"),
        number("person_id"),
        text("prompt_id", 60),
        sa.Column("text", sa.Text(), nullable=False),
        text("page", 40, nullable=True),
        number("page_revision", nullable=True),
        moment("saved_at"),
        primary("reflection"),
        unique("reflection", "assignment_id", "person_id", "prompt_id"),
        points_to("reflection", "assignment_id", "assignment"),
        points_to("reflection", "person_id", "person"),
    )
    index("reflection", "person_id")


def freeze() -> None:
    """Let the database itself refuse changes to rows that are written once."""
    if op.get_bind().dialect.name == "sqlite":
        for table in FROZEN:
            for act in ("UPDATE", "DELETE"):
                op.execute(
                    f"CREATE TRIGGER {table}_refuses_{act.lower()} BEFORE {act} ON {table} "
                    f"BEGIN SELECT RAISE(ABORT, '{table} is written once'); END"
                )
        return
    op.execute(
        "CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS "
        "$$BEGIN RAISE EXCEPTION '% is written once', TG_TABLE_NAME USING ERRCODE = '23001'; END$$"
    )
    for table in FROZEN:
        op.execute(
            f"CREATE TRIGGER {table}_refuses_change BEFORE UPDATE OR DELETE ON {table} "
            "FOR EACH ROW EXECUTE FUNCTION refuse_change()"
        )


def downgrade() -> None:
    for table in (
        *("audit", "reflection", "mark", "event", "attempt", "assignment", "scenario_version", "scenario"),
        *("enrolment", "teaching", "class", "unknown_name", "setup_link", "sign_in", "person"),
    ):
        op.drop_table(table)
    if op.get_bind().dialect.name != "sqlite":
        op.execute("DROP FUNCTION refuse_change()")


def key() -> sa.Column:
    return sa.Column("id", sa.Integer(), nullable=False)


def number(name: str, *, nullable: bool = False) -> sa.Column:
    return sa.Column(name, sa.Integer(), nullable=nullable)


def text(name: str, length: int, *, nullable: bool = False) -> sa.Column:
    return sa.Column(name, sa.String(length), nullable=nullable)


def moment(name: str, *, nullable: bool = False) -> sa.Column:
    return sa.Column(name, sa.DateTime(timezone=True), nullable=nullable)


def primary(table: str, *columns: str) -> sa.PrimaryKeyConstraint:
    return sa.PrimaryKeyConstraint(*(columns or ("id",)), name=op.f(f"pk_{table}"))


def unique(table: str, *columns: str) -> sa.UniqueConstraint:
    return sa.UniqueConstraint(*columns, name=op.f(f"uq_{table}_{'_'.join(columns)}"))


def check(table: str, name: str, rule: str) -> sa.CheckConstraint:
    return sa.CheckConstraint(rule, name=op.f(f"ck_{table}_{name}"))


def points_to(table: str, column: str, other: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([column], [f"{other}.id"], name=op.f(f"fk_{table}_{column}_{other}"))


def index(table: str, *columns: str) -> None:
    op.create_index(op.f(f"ix_{table}_{'_'.join(columns)}"), table, list(columns))
