"""People: a school's own keys of students and classes, one-time codes, received lists, devices.

Revision: 0006
"""

from typing import Literal

import sqlalchemy as sa
from alembic import op

revision = "0006"
down_revision = "0005"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "person_key",
        number("id"),
        number("person_id"),
        text("kind", 14),
        text("value", 120),
        primary("person_key", "id"),
        points_to("person_key", "person_id", "person"),
        sa.UniqueConstraint("kind", "value", name=op.f("uq_person_key_kind_value")),
        sa.UniqueConstraint("person_id", "kind", name=op.f("uq_person_key_person_id_kind")),
        sa.CheckConstraint("kind IN ('student number', 'roster id')", name=op.f("ck_person_key_kind")),
    )
    op.create_table(
        "class_key",
        number("class_id"),
        text("roster_id", 120),
        primary("class_key", "class_id"),
        points_to("class_key", "class_id", "class"),
    )
    op.create_table(
        "pass_phrase_code",
        number("person_id"),
        text("code_hash", 255),
        number("made_by"),
        moment("expires_at"),
        primary("pass_phrase_code", "person_id"),
        points_to("pass_phrase_code", "person_id", "person"),
        points_to("pass_phrase_code", "made_by", "person"),
    )
    op.create_table(
        "received_file",
        number("id"),
        text("public_id", 20),
        number("person_id"),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        moment("received_at"),
        primary("received_file", "id"),
        sa.UniqueConstraint("public_id", name=op.f("uq_received_file_public_id")),
        points_to("received_file", "person_id", "person"),
    )
    op.create_index(op.f("ix_received_file_person_id"), "received_file", ["person_id"])
    with op.batch_alter_table("sign_in", recreate=on_sqlite()) as table:
        table.add_column(sa.Column("device", sa.String(60), nullable=True))


def downgrade() -> None:
    with op.batch_alter_table("sign_in", recreate=on_sqlite()) as table:
        table.drop_column("device")
    for name in ("received_file", "pass_phrase_code", "class_key", "person_key"):
        op.drop_table(name)


def on_sqlite() -> Literal["always", "never"]:
    """SQLite keeps a table's text as it was written: only a table made anew reads like the model's."""
    return "always" if op.get_bind().dialect.name == "sqlite" else "never"


def number(name: str) -> sa.Column:
    return sa.Column(name, sa.Integer(), nullable=False)


def text(name: str, length: int) -> sa.Column:
    return sa.Column(name, sa.String(length), nullable=False)


def moment(name: str) -> sa.Column:
    return sa.Column(name, sa.DateTime(timezone=True), nullable=False)


def primary(table: str, *columns: str) -> sa.PrimaryKeyConstraint:
    return sa.PrimaryKeyConstraint(*columns, name=op.f(f"pk_{table}"))


def points_to(table: str, column: str, other: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([column], [f"{other}.id"], name=op.f(f"fk_{table}_{column}_{other}"))
