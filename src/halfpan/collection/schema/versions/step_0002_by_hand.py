"""What a person set on a page before it was read has a column of its own; it stood in the version before."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"

MARK = " corners by hand"


def upgrade() -> None:
    """Add the column, and move into it what the version said."""
    op.add_column("page_reads", sa.Column("by_hand", sa.JSON(), nullable=True))
    reads = sa.table(
        "page_reads",
        sa.column("id", sa.Integer),
        sa.column("version", sa.Text),
        sa.column("by_hand", sa.JSON),
    )
    db = op.get_bind()
    marked = sa.select(reads.c.id, reads.c.version).where(reads.c.version.like(f"%{MARK}"))
    for number, version in db.execute(marked).all():
        values = {"version": version.removesuffix(MARK), "by_hand": {"corners": True, "moved": {}}}
        db.execute(sa.update(reads).where(reads.c.id == number).values(**values))
