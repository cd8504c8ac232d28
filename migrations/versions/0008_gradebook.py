"""Gradebook: categories of assignments, and grades set by hand.

Revision: 0008
"""

import sqlalchemy as sa
from alembic import op

revision = "0008"
down_revision = "0007"
branch_labels = None
depends_on = None

TO_CATEGORY = "fk_assignment_category_id_category"


def upgrade() -> None:
    op.create_table(
        "category",
        number("id"),
        text("public_id", 20),
        number("class_id"),
        text("name", 60),
        sa.Column("weight", sa.Float(), nullable=False),
        number("drop_lowest"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_category")),
        sa.UniqueConstraint("public_id", name=op.f("uq_category_public_id")),
        sa.UniqueConstraint("class_id", "name", name=op.f("uq_category_class_id_name")),
        sa.CheckConstraint("weight > 0", name=op.f("ck_category_weight")),
        sa.CheckConstraint("drop_lowest >= 0", name=op.f("ck_category_drop_lowest")),
        points_to("category", "class_id", "class"),
    )
    with op.batch_alter_table("assignment") as table:
        table.add_column(number("category_id", nullable=True))
        table.create_foreign_key(op.f(TO_CATEGORY), "category", ["category_id"], ["id"])
    op.create_table(
        "hand_grade",
        number("id"),
        number("assignment_id"),
        number("person_id"),
        sa.Column("points", sa.Float(), nullable=True),
        text("reason", 200),
        text("comment", 1000),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        number("made_by"),
        sa.Column("superseded_at", sa.DateTime(timezone=True), nullable=True),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_hand_grade")),
        sa.CheckConstraint("points >= 0", name=op.f("ck_hand_grade_points")),
        points_to("hand_grade", "assignment_id", "assignment"),
        points_to("hand_grade", "person_id", "person"),
        points_to("hand_grade", "made_by", "person"),
    )
    op.create_index(
        op.f("ix_hand_grade_assignment_id_person_id"), "hand_grade", ["assignment_id", "person_id"]
    )
    op.create_index(op.f("ix_hand_grade_person_id"), "hand_grade", ["person_id"])


def downgrade() -> None:
    op.drop_table("hand_grade")
    with op.batch_alter_table("assignment") as table:
        table.drop_constraint(op.f(TO_CATEGORY), type_="foreignkey")
        table.drop_column("category_id")
    op.drop_table("category")


def number(name: str, *, nullable: bool = False) -> sa.Column:
    return sa.Column(name, sa.Integer(), nullable=nullable)


def text(name: str, length: int) -> sa.Column:
    return sa.Column(name, sa.String(length), nullable=False)


def points_to(table: str, column: str, other: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([column], [f"{other}.id"], name=op.f(f"fk_{table}_{column}_{other}"))
