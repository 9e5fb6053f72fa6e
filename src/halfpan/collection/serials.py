"""Numbers that are given once and never again, so that what is written on a tube stays true."""

from __future__ import annotations

from sqlalchemy import Connection, insert, select, update

from halfpan.collection.tables import serials


def take(db: Connection, noun: str, count: int = 1) -> range:
    """Return the next ``count`` numbers of a noun; they are spent whether or not they are used."""
    last = db.execute(select(serials.c.last).where(serials.c.noun == noun)).scalar()
    if last is None:
        db.execute(insert(serials).values(noun=noun, last=count))
        return range(1, count + 1)
    db.execute(update(serials).where(serials.c.noun == noun).values(last=last + count))
    return range(last + 1, last + count + 1)
