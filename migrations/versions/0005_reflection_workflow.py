"""Reflection workflow: own prompts, sheets that are handed in and returned, texts kept beside newer ones.

Revision: 0005
"""

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

STATES = "state IN ('writing', 'handed in', 'returned', 'asked again')"


def upgrade() -> None:
    op.create_table(
        "reflection_rule",
        number("assignment_id"),
        sa.Column("out_of", sa.Float(), nullable=False),
        sa.PrimaryKeyConstraint("assignment_id", name=op.f("pk_reflection_rule")),
        check("reflection_rule", "out_of", "out_of > 0"),
        points_to("reflection_rule", "assignment_id", "assignment"),
    )
    op.create_table(
        "reflection_prompt",
        number("id"),
        number("assignment_id"),
        text("prompt_id", 60),
        sa.Column("text", sa.Text(), nullable=True),
        moment("added_at"),
        number("added_by"),
        moment("closed_at", nullable=True),
        primary("reflection_prompt"),
        unique("reflection_prompt", "assignment_id", "prompt_id"),
        points_to("reflection_prompt", "assignment_id", "assignment"),
        points_to("reflection_prompt", "added_by", "person"),
    )
    sheets()
    writing()


def sheets() -> None:
    op.create_table(
        "reflection_sheet",
        number("id"),
        number("assignment_id"),
        number("person_id"),
        text("state", 11),
        number("changes"),
        sa.Column("points", sa.Float(), nullable=True),
        primary("reflection_sheet"),
        unique("reflection_sheet", "assignment_id", "person_id"),
        check("reflection_sheet", "points", "points >= 0"),
        check("reflection_sheet", "state", STATES),
        points_to("reflection_sheet", "assignment_id", "assignment"),
        points_to("reflection_sheet", "person_id", "person"),
    )
    op.create_index(op.f("ix_reflection_sheet_person_id"), "reflection_sheet", ["person_id"])
    op.create_table(
        "reflection_step",
        number("id"),
        number("sheet_id"),
        number("number"),
        text("state", 11),
        sa.Column("comment", sa.Text(), nullable=False),
        sa.Column("points", sa.Float(), nullable=True),
        sa.Column("out_of", sa.Float(), nullable=True),
        sa.Column("texts", sa.JSON(), nullable=False),
        moment("made_at"),
        number("made_by"),
        primary("reflection_step"),
        unique("reflection_step", "sheet_id", "number"),
        check("reflection_step", "state", STATES),
        points_to("reflection_step", "sheet_id", "reflection_sheet"),
        points_to("reflection_step", "made_by", "person"),
    )


def writing() -> None:
    with op.batch_alter_table("reflection", recreate=recreate()) as batch:
        batch.add_column(text("opened_page", 40, nullable=True))
        batch.add_column(number("change_number", nullable=True))
    op.create_table(
        "reflection_aside",
        number("id"),
        number("reflection_id"),
        text("opened_page", 40),
        sa.Column("text", sa.Text(), nullable=False),
        text("page", 40, nullable=True),
        number("page_revision", nullable=True),
        moment("saved_at"),
        primary("reflection_aside"),
        unique("reflection_aside", "reflection_id", "opened_page"),
        points_to("reflection_aside", "reflection_id", "reflection"),
    )


def downgrade() -> None:
    for table in ("aside", "step", "sheet", "prompt", "rule"):
        op.drop_table(f"reflection_{table}")
    with op.batch_alter_table("reflection", recreate=recreate()) as batch:
        batch.drop_column("change_number")
        batch.drop_column("opened_page")


def recreate() -> str:
    """SQLite adds a column to the text of the table as it stands; made anew, it reads as the models do."""
    return "always" if op.get_bind().dialect.name == "sqlite" else "never"


def number(name: str, *, nullable: bool = False) -> sa.Column:
    return sa.Column(name, sa.Integer(), nullable=nullable)


def text(name: str, length: int, *, nullable: bool = False) -> sa.Column:
    return sa.Column(name, sa.String(length), nullable=nullable)


def moment(name: str, *, nullable: bool = False) -> sa.Column:
    return sa.Column(name, sa.DateTime(timezone=True), nullable=nullable)


def primary(table: str) -> sa.PrimaryKeyConstraint:
    return sa.PrimaryKeyConstraint("id", name=op.f(f"pk_{table}"))


def unique(table: str, *columns: str) -> sa.UniqueConstraint:
    return sa.UniqueConstraint(*columns, name=op.f(f"uq_{table}_{'_'.join(columns)}"))


def check(table: str, name: str, rule: str) -> sa.CheckConstraint:
    return sa.CheckConstraint(rule, name=op.f(f"ck_{table}_{name}"))


def points_to(table: str, column: str, other: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([column], [f"{other}.id"], name=op.f(f"fk_{table}_{column}_{other}"))
