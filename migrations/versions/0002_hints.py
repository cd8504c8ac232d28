"""An event may say that a hint was shown.

Revision: 0002
"""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

RULE = "ck_event_kind"
BEFORE = "kind IN ('answer', 'action', 'hand in')"
WITH_HINTS = "kind IN ('answer', 'action', 'hand in', 'hint')"


def upgrade() -> None:
    allow(WITH_HINTS)


def downgrade() -> None:
    """Refused once a hint was shown: events are never erased, and the older release knows no such event."""
    shown = op.get_bind().scalar(sa.text("SELECT count(*) FROM event WHERE kind = 'hint'"))
    if shown:
        raise RuntimeError(f"{shown} hints were shown; the release before hints can't read these attempts")
    allow(BEFORE)


def allow(kinds: str) -> None:
    if op.get_bind().dialect.name != "sqlite":
        op.drop_constraint(op.f(RULE), "event", type_="check")
        op.create_check_constraint(op.f(RULE), "event", kinds)
        return
    # SQLite builds the table anew, without its check, which the batch doesn't read, and without its triggers.
    with op.batch_alter_table("event", recreate="always") as event:
        event.create_check_constraint(op.f(RULE), kinds)
    for act in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER event_refuses_{act.lower()} BEFORE {act} ON event "
            "BEGIN SELECT RAISE(ABORT, 'event is written once'); END"
        )
