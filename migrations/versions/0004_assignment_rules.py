"""Assignment rules.

Revision: 0004
"""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

# What assignments had before they had rules: (column, type, the rule they lived by).
FILLED = (
    ("counts", sa.String(7), "best"),
    ("late_percent_per_day", sa.Float(), "0"),
    ("late_floor_percent", sa.Float(), "0"),
    ("practice", sa.Boolean(), sa.false()),
    ("solutions", sa.String(17), "after the attempt"),
)
CHECKS = (
    ("closes_at", "closes_at >= due_at"),
    ("counts", "counts IN ('best', 'last', 'average')"),
    ("late_percent_per_day", "late_percent_per_day BETWEEN 0 AND 100"),
    ("late_floor_percent", "late_floor_percent BETWEEN 0 AND 100"),
    ("minutes", "minutes >= 1"),
    ("solutions", "solutions IN ('after the attempt', 'after closing')"),
    ("unlock_percent", "unlock_percent BETWEEN 0 AND 100"),
)
UNLOCK = "fk_assignment_unlock_after_id_assignment"


def upgrade() -> None:
    with op.batch_alter_table("assignment") as table:
        table.add_column(moment("closes_at"))
        table.add_column(number("minutes"))
        table.add_column(number("unlock_after_id"))
        table.add_column(sa.Column("unlock_percent", sa.Float(), nullable=True))
        for name, kind, was in FILLED:
            table.add_column(sa.Column(name, kind, nullable=False, server_default=was))
    with op.batch_alter_table("assignment") as table:
        for name, _, _ in FILLED:
            table.alter_column(name, server_default=None)
        for name, rule in CHECKS:
            table.create_check_constraint(op.f(f"ck_assignment_{name}"), rule)
        table.create_foreign_key(op.f(UNLOCK), "assignment", ["unlock_after_id"], ["id"])
    exceptions()


def exceptions() -> None:
    name = "assignment_exception"
    op.create_table(
        name,
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("assignment_id", sa.Integer(), nullable=False),
        sa.Column("person_id", sa.Integer(), nullable=False),
        moment("opens_at"),
        moment("due_at"),
        moment("closes_at"),
        number("attempts_allowed"),
        sa.Column("time_factor", sa.Float(), nullable=True),
        sa.Column("excused", sa.Boolean(), nullable=False),
        sa.Column("reason", sa.String(200), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("made_by", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f(f"pk_{name}")),
        sa.UniqueConstraint("assignment_id", "person_id", name=op.f(f"uq_{name}_assignment_id_person_id")),
        sa.CheckConstraint("attempts_allowed >= 1", name=op.f(f"ck_{name}_attempts_allowed")),
        sa.CheckConstraint("time_factor >= 1", name=op.f(f"ck_{name}_time_factor")),
        points_to(name, "assignment_id", "assignment"),
        points_to(name, "person_id", "person"),
        points_to(name, "made_by", "person"),
    )
    op.create_index(op.f(f"ix_{name}_person_id"), name, ["person_id"])


def downgrade() -> None:
    op.drop_table("assignment_exception")
    with op.batch_alter_table("assignment") as table:
        table.drop_constraint(op.f(UNLOCK), type_="foreignkey")
        for name, _ in CHECKS:
            table.drop_constraint(op.f(f"ck_assignment_{name}"), type_="check")
    with op.batch_alter_table("assignment") as table:
        for name in ("closes_at", "minutes", "unlock_after_id", "unlock_percent"):
            table.drop_column(name)
        for name, _, _ in FILLED:
            table.drop_column(name)


def moment(name: str) -> sa.Column:
    return sa.Column(name, sa.DateTime(timezone=True), nullable=True)


def number(name: str) -> sa.Column:
    return sa.Column(name, sa.Integer(), nullable=True)


def points_to(table: str, column: str, other: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([column], [f"{other}.id"], name=op.f(f"fk_{table}_{column}_{other}"))
