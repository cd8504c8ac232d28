"""An index of the marks that an instructor has yet to give: few among very many.

Revision: 0009
"""

import sqlalchemy as sa
from alembic import op

revision = "0009"
down_revision = "0008"
branch_labels = None
depends_on = None

WAITING = sa.text("verdict = 'waiting' AND superseded_at IS NULL")


def upgrade() -> None:
    op.create_index(
        op.f("ix_mark_waiting"),
        "mark",
        ["attempt_id"],
        sqlite_where=WAITING,
        postgresql_where=WAITING,
    )


def downgrade() -> None:
    op.drop_index(op.f("ix_mark_waiting"), "mark")
