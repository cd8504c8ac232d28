"""Authoring: drafts, who published a version, images.

Revision: 0003
"""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

# Rows of these tables are written once.
FROZEN = ("publication", "image", "version_image")


def upgrade() -> None:
    op.create_table(
        "draft",
        number("id"),
        text("public_id", 20),
        number("person_id"),
        number("scenario_id", nullable=True),
        sa.Column("content", sa.Text(), nullable=False),
        number("revision"),
        text("page", 40, nullable=True),
        number("page_revision", nullable=True),
        moment("created_at"),
        moment("saved_at"),
        primary("draft", "id"),
        unique("draft", "public_id"),
        points_to("draft", "person_id", "person"),
        points_to("draft", "scenario_id", "scenario"),
    )
    op.create_table(
        "publication",
        number("scenario_version_id"),
        number("person_id"),
        text("note", 120),
        primary("publication", "scenario_version_id"),
        points_to("publication", "scenario_version_id", "scenario_version"),
        points_to("publication", "person_id", "person"),
    )
    op.create_table(
        "image",
        number("id"),
        text("sha256", 64),
        text("media_type", 60),
        number("width"),
        number("height"),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        primary("image", "id"),
        unique("image", "sha256"),
    )
    shown_in("draft_image", "draft")
    shown_in("version_image", "scenario_version")
    for table, column in (
        ("draft", "person_id"),
        ("draft", "scenario_id"),
        ("publication", "person_id"),
        ("draft_image", "image_id"),
        ("version_image", "image_id"),
    ):
        op.create_index(op.f(f"ix_{table}_{column}"), table, [column])
    freeze()


def shown_in(table: str, other: str) -> None:
    op.create_table(
        table,
        number(f"{other}_id"),
        text("name", 60),
        number("image_id"),
        text("alt", 300),
        primary(table, f"{other}_id", "name"),
        points_to(table, f"{other}_id", other),
        points_to(table, "image_id", "image"),
    )


def freeze() -> None:
    """Let the database itself refuse changes to rows that are written once."""
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
    for table in ("version_image", "draft_image", "image", "publication", "draft"):
        op.drop_table(table)


def number(name: str, *, nullable: bool = False) -> sa.Column:
    return sa.Column(name, sa.Integer(), nullable=nullable)


def text(name: str, length: int, *, nullable: bool = False) -> sa.Column:
    return sa.Column(name, sa.String(length), nullable=nullable)


def moment(name: str, *, nullable: bool = False) -> sa.Column:
    return sa.Column(name, sa.DateTime(timezone=True), nullable=nullable)


def primary(table: str, *columns: str) -> sa.PrimaryKeyConstraint:
    return sa.PrimaryKeyConstraint(*columns, name=op.f(f"pk_{table}"))


def unique(table: str, column: str) -> sa.UniqueConstraint:
    return sa.UniqueConstraint(column, name=op.f(f"uq_{table}_{column}"))


def points_to(table: str, column: str, other: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([column], [f"{other}.id"], name=op.f(f"fk_{table}_{column}_{other}"))
