"""The tables of a studio, to be read from top to bottom: paints, charts, readings, tins, tests, mixes.

What was measured is stored, what follows from it is recomputed or cached with the version that made it.
The numbered steps in ``schema/versions`` build exactly these tables; a test compares the two.
"""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import (
    JSON,
    Boolean,
    Column,
    Date,
    Dialect,
    Float,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    Table,
    Text,
    UniqueConstraint,
)
from sqlalchemy.types import TypeDecorator

metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "pk": "pk_%(table_name)s",
    }
)


class Moment(TypeDecorator[datetime]):
    """A point in time, kept as ISO 8601 text in UTC so that every store sorts and shows it alike."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> str | None:  # noqa: ARG002
        """Write a time that knows its zone."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("a time without a zone cannot be kept")
        return value.astimezone(UTC).isoformat(timespec="seconds")

    def process_result_value(self, value: str | None, dialect: Dialect) -> datetime | None:  # noqa: ARG002
        """Read it back in UTC."""
        return None if value is None else datetime.fromisoformat(value)


def _text(name: str) -> Column[str]:
    return Column(name, Text, nullable=False, default="", server_default="")


def _names_list(name: str) -> Column[list[str]]:
    return Column(name, JSON, nullable=False, default=list, server_default="[]")


def _paint(name: str = "paint", *, required: bool = True, key: bool = False) -> Column[str]:
    return Column(name, Text, ForeignKey("paints.id"), nullable=not required, primary_key=key)


# Numbers once given are never given again, so they are counted apart from the rows that carry them.
serials = Table(
    "serials", metadata, Column("noun", Text, primary_key=True), Column("last", Integer, nullable=False)
)

# ---- paints ------------------------------------------------------------------------------------------
makers = Table(
    "makers",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", Text, nullable=False, unique=True),
)

ranges = Table(
    "ranges",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("maker", Integer, ForeignKey("makers.id"), nullable=False),
    _text("name"),
    _text("scales"),
    UniqueConstraint("maker", "name"),
)

paints = Table(
    "paints",
    metadata,
    Column("id", Text, primary_key=True),
    Column("number", Integer, nullable=False, unique=True),
    Column("range", Integer, ForeignKey("ranges.id"), nullable=False),
    Column("name", Text, nullable=False),
    _names_list("other_names"),
    _text("series"),
    Column("favourite", Boolean, nullable=False, default=False),
    _names_list("tags"),
    _text("notes"),
    Column("owned", Boolean, nullable=False, default=True),
    _text("label_name"),
    _text("label_codes"),
    _text("label_lightfastness"),
    _text("label_transparency"),
    _text("label_granulation"),
    _text("label_staining"),
    _text("label_health"),
    _text("label_scales"),
    Column("added", Moment, nullable=False),
    Column("removed", Moment),
    Index(None, "range"),
)

paint_pigments = Table(
    "paint_pigments",
    metadata,
    _paint(key=True),
    Column("position", Integer, primary_key=True),
    Column("code", Text, nullable=False, index=True),
)

stock = Table(
    "stock",
    metadata,
    Column("id", Integer, primary_key=True),
    _paint(),
    _text("form"),
    Column("size_ml", Float),
    Column("price", Float),
    _text("currency"),
    _text("batch"),
    Column("bought", Date),
    Column("amount_left", Float),
    Column("weight_g", Float),
    Column("empty_g", Float),
    Column("hard", Boolean, nullable=False, default=False),
    Column("last_used", Date),
    _text("place"),
    Column("gone", Moment),
    Index(None, "paint"),
)

wishes = Table(
    "wishes",
    metadata,
    _paint(key=True),
    _text("why"),
    Column("added", Moment, nullable=False),
)

orders = Table(
    "orders",
    metadata,
    Column("name", Text, primary_key=True),
    Column("position", Integer, primary_key=True),
    _paint(),
)

# ---- paper, charts, photographs, readings ------------------------------------------------------------
papers = Table(
    "papers",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", Text, nullable=False, unique=True),
    _text("maker"),
    _text("surface"),
    Column("weight_gsm", Float),
    Column("lab_l", Float),
    Column("lab_a", Float),
    Column("lab_b", Float),
    Column("texture", Float),
    _text("notes"),
)

charts = Table(
    "charts",
    metadata,
    Column("id", Text, primary_key=True),
    Column("kind", Text, nullable=False),
    _text("title"),
    Column("geometry", JSON, nullable=False),
    Column("paper", Integer, ForeignKey("papers.id")),
    Column("made", Moment, nullable=False),
    Column("painted", Date),
    _text("place"),
    Column("removed", Moment),
)

boxes = Table(
    "boxes",
    metadata,
    Column("chart", Text, ForeignKey("charts.id"), primary_key=True),
    Column("page", Integer, primary_key=True),
    Column("box", Text, primary_key=True),
    _paint(required=False),
    _text("label"),
    Column("mix", JSON),
    Column("painted", Boolean, nullable=False, default=False),
    _text("note"),
    Index(None, "paint"),
)

photos = Table(
    "photos",
    metadata,
    Column("sha256", Text, primary_key=True),
    _text("name"),
    _text("format"),
    Column("bytes", Integer, nullable=False),
    _text("device"),
    Column("exif", JSON, nullable=False, default=dict, server_default="{}"),
    Column("taken", Moment),
    Column("kept", Moment, nullable=False),
)

devices = Table(
    "devices",
    metadata,
    Column("device", Text, primary_key=True),
    Column("profile", JSON, nullable=False),
    _text("version"),
    Column("seen", Moment, nullable=False),
)

page_reads = Table(
    "page_reads",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("chart", Text, ForeignKey("charts.id"), nullable=False),
    Column("page", Integer, nullable=False),
    Column("photo", Text, ForeignKey("photos.sha256")),
    Column("tier", Text, nullable=False),
    Column("check_delta_e00", Float),
    Column("unread", JSON, nullable=False, default=list, server_default="[]"),
    Column("corners", JSON),
    _text("version"),
    Column("read", Moment, nullable=False),
    Column("by_hand", JSON),
    Index(None, "chart", "page"),
)

readings = Table(
    "readings",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("page_read", Integer, ForeignKey("page_reads.id"), index=True),
    Column("chart", Text, ForeignKey("charts.id")),
    _text("box"),
    _paint(required=False),
    Column("amounts", JSON),
    Column("zone", Text, nullable=False),
    _text("ground"),
    Column("lab_l", Float, nullable=False),
    Column("lab_a", Float, nullable=False),
    Column("lab_b", Float, nullable=False),
    Column("reflectance", JSON),
    Column("within_delta_e00", Float, nullable=False),
    Column("spread", Float),
    Column("count", Integer, nullable=False, default=0),
    _names_list("flags"),
    Column("tier", Text, nullable=False),
    Column("state", Text, nullable=False),
    _text("reason"),
    Column("chosen", Boolean, nullable=False, default=False),
    Column("paper", Integer, ForeignKey("papers.id")),
    Column("paper_lab", JSON),
    _text("source"),
    _text("source_row"),
    _text("condition"),
    _text("version"),
    Column("taken", Moment, nullable=False),
    Index(None, "paint", "zone"),
    Index(None, "chart", "box"),
)

swatches = Table(
    "swatches",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("page_read", Integer, ForeignKey("page_reads.id"), index=True),
    Column("chart", Text, ForeignKey("charts.id")),
    _text("box"),
    _paint(required=False),
    Column("measures", JSON, nullable=False),
    Column("state", Text, nullable=False),
    Column("chosen", Boolean, nullable=False, default=False),
    _text("version"),
    Column("taken", Moment, nullable=False),
    Index(None, "paint"),
)

# ---- tins, tests, mixes, what the eye saw ------------------------------------------------------------
tins = Table(
    "tins",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", Text, nullable=False, unique=True),
    Column("layout", JSON, nullable=False, default=dict, server_default="{}"),
    _text("notes"),
)

seats = Table(
    "seats",
    metadata,
    Column("tin", Integer, ForeignKey("tins.id"), primary_key=True),
    Column("seat", Text, primary_key=True),
    _paint(required=False),
    Column("locked", Boolean, nullable=False, default=False),
    _text("note"),
)

light_tests = Table(
    "light_tests",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("name", Text, nullable=False, unique=True),
    Column("chart", Text, ForeignKey("charts.id")),
    _text("place"),
    _text("facing"),
    _text("glass"),
    Column("latitude_deg", Float),
    Column("plan", JSON, nullable=False, default=dict, server_default="{}"),
    Column("started", Date, nullable=False),
    Column("ended", Date),
    _text("notes"),
)

exposures = Table(
    "exposures",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("light_test", Integer, ForeignKey("light_tests.id"), nullable=False),
    _paint(required=False),
    _text("box"),
    Column("kept_reading", Integer, ForeignKey("readings.id")),
    Column("exposed_reading", Integer, ForeignKey("readings.id")),
    Column("days", Float),
    Column("dose", JSON, nullable=False, default=dict, server_default="{}"),
    Column("looked", Moment, nullable=False),
    _text("note"),
    Index(None, "light_test"),
)

mixes = Table(
    "mixes",
    metadata,
    Column("id", Integer, primary_key=True),
    _text("name"),
    Column("kind", Text, nullable=False, default="mix"),
    Column("paper", Integer, ForeignKey("papers.id")),
    Column("photo", Text, ForeignKey("photos.sha256")),
    Column("reading", Integer, ForeignKey("readings.id")),
    Column("painted", Moment, nullable=False),
    _text("notes"),
)

mix_parts = Table(
    "mix_parts",
    metadata,
    Column("mix", Integer, ForeignKey("mixes.id"), primary_key=True),
    Column("position", Integer, primary_key=True),
    _paint(),
    Column("parts", Float, nullable=False),
)

findings = Table(
    "findings",
    metadata,
    Column("id", Integer, primary_key=True),
    _paint(),
    Column("property", Text, nullable=False),
    Column("value", Text, nullable=False),
    _text("scale"),
    Column("paper", Integer, ForeignKey("papers.id")),
    Column("seen", Date, nullable=False),
    _text("note"),
    Index(None, "paint"),
)

notes = Table(
    "notes",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("about", Text, nullable=False),
    Column("about_id", Text, nullable=False),
    Column("text", Text, nullable=False),
    Column("written", Moment, nullable=False),
    Index(None, "about", "about_id"),
)

# ---- who changed what, so that it can be undone ------------------------------------------------------
changes = Table(
    "changes",
    metadata,
    Column("id", Integer, primary_key=True),
    Column("when", Moment, nullable=False),
    _text("who"),
    Column("what", Text, nullable=False),
    Column("steps", JSON, nullable=False),
    Column("undoes", Integer, ForeignKey("changes.id")),
    Column("undone_by", Integer, ForeignKey("changes.id")),
)

KEPT_WITH_THEIR_OWNER = {makers, ranges, boxes, photos, page_reads}
"""Tables whose rows stay when the change that added them is taken back: they go with what they belong to."""
