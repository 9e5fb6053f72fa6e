"""The first tables."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    """Make the tables of an empty studio."""
    op.create_table(
        "changes",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("when", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), server_default="", nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("steps", sa.JSON(), nullable=False),
        sa.Column("undoes", sa.Integer(), nullable=True),
        sa.Column("undone_by", sa.Integer(), nullable=True),
        sa.ForeignKeyConstraint(["undoes"], ["changes.id"], name=op.f("fk_changes_undoes")),
        sa.ForeignKeyConstraint(["undone_by"], ["changes.id"], name=op.f("fk_changes_undone_by")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_changes")),
    )
    op.create_table(
        "devices",
        sa.Column("device", sa.Text(), nullable=False),
        sa.Column("profile", sa.JSON(), nullable=False),
        sa.Column("version", sa.Text(), server_default="", nullable=False),
        sa.Column("seen", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("device", name=op.f("pk_devices")),
    )
    op.create_table(
        "makers",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_makers")),
        sa.UniqueConstraint("name", name=op.f("uq_makers_name")),
    )
    op.create_table(
        "notes",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("about", sa.Text(), nullable=False),
        sa.Column("about_id", sa.Text(), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("written", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_notes")),
    )
    op.create_index(op.f("ix_notes_about_about_id"), "notes", ["about", "about_id"], unique=False)
    op.create_table(
        "papers",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("maker", sa.Text(), server_default="", nullable=False),
        sa.Column("surface", sa.Text(), server_default="", nullable=False),
        sa.Column("weight_gsm", sa.Float(), nullable=True),
        sa.Column("lab_l", sa.Float(), nullable=True),
        sa.Column("lab_a", sa.Float(), nullable=True),
        sa.Column("lab_b", sa.Float(), nullable=True),
        sa.Column("texture", sa.Float(), nullable=True),
        sa.Column("notes", sa.Text(), server_default="", nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_papers")),
        sa.UniqueConstraint("name", name=op.f("uq_papers_name")),
    )
    op.create_table(
        "photos",
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), server_default="", nullable=False),
        sa.Column("format", sa.Text(), server_default="", nullable=False),
        sa.Column("bytes", sa.Integer(), nullable=False),
        sa.Column("device", sa.Text(), server_default="", nullable=False),
        sa.Column("exif", sa.JSON(), server_default="{}", nullable=False),
        sa.Column("taken", sa.Text(), nullable=True),
        sa.Column("kept", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("sha256", name=op.f("pk_photos")),
    )
    op.create_table(
        "serials",
        sa.Column("noun", sa.Text(), nullable=False),
        sa.Column("last", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("noun", name=op.f("pk_serials")),
    )
    op.create_table(
        "tins",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("layout", sa.JSON(), server_default="{}", nullable=False),
        sa.Column("notes", sa.Text(), server_default="", nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_tins")),
        sa.UniqueConstraint("name", name=op.f("uq_tins_name")),
    )
    op.create_table(
        "charts",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("title", sa.Text(), server_default="", nullable=False),
        sa.Column("geometry", sa.JSON(), nullable=False),
        sa.Column("paper", sa.Integer(), nullable=True),
        sa.Column("made", sa.Text(), nullable=False),
        sa.Column("painted", sa.Date(), nullable=True),
        sa.Column("place", sa.Text(), server_default="", nullable=False),
        sa.Column("removed", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["paper"], ["papers.id"], name=op.f("fk_charts_paper")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_charts")),
    )
    op.create_table(
        "ranges",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("maker", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), server_default="", nullable=False),
        sa.Column("scales", sa.Text(), server_default="", nullable=False),
        sa.ForeignKeyConstraint(["maker"], ["makers.id"], name=op.f("fk_ranges_maker")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_ranges")),
        sa.UniqueConstraint("maker", "name", name=op.f("uq_ranges_maker_name")),
    )
    op.create_table(
        "light_tests",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("chart", sa.Text(), nullable=True),
        sa.Column("place", sa.Text(), server_default="", nullable=False),
        sa.Column("facing", sa.Text(), server_default="", nullable=False),
        sa.Column("glass", sa.Text(), server_default="", nullable=False),
        sa.Column("latitude_deg", sa.Float(), nullable=True),
        sa.Column("plan", sa.JSON(), server_default="{}", nullable=False),
        sa.Column("started", sa.Date(), nullable=False),
        sa.Column("ended", sa.Date(), nullable=True),
        sa.Column("notes", sa.Text(), server_default="", nullable=False),
        sa.ForeignKeyConstraint(["chart"], ["charts.id"], name=op.f("fk_light_tests_chart")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_light_tests")),
        sa.UniqueConstraint("name", name=op.f("uq_light_tests_name")),
    )
    op.create_table(
        "page_reads",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("chart", sa.Text(), nullable=False),
        sa.Column("page", sa.Integer(), nullable=False),
        sa.Column("photo", sa.Text(), nullable=True),
        sa.Column("tier", sa.Text(), nullable=False),
        sa.Column("check_delta_e00", sa.Float(), nullable=True),
        sa.Column("unread", sa.JSON(), server_default="[]", nullable=False),
        sa.Column("corners", sa.JSON(), nullable=True),
        sa.Column("version", sa.Text(), server_default="", nullable=False),
        sa.Column("read", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["chart"], ["charts.id"], name=op.f("fk_page_reads_chart")),
        sa.ForeignKeyConstraint(["photo"], ["photos.sha256"], name=op.f("fk_page_reads_photo")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_page_reads")),
    )
    op.create_index(op.f("ix_page_reads_chart_page"), "page_reads", ["chart", "page"], unique=False)
    op.create_table(
        "paints",
        sa.Column("id", sa.Text(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.Column("range", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("other_names", sa.JSON(), server_default="[]", nullable=False),
        sa.Column("series", sa.Text(), server_default="", nullable=False),
        sa.Column("favourite", sa.Boolean(), nullable=False),
        sa.Column("tags", sa.JSON(), server_default="[]", nullable=False),
        sa.Column("notes", sa.Text(), server_default="", nullable=False),
        sa.Column("owned", sa.Boolean(), nullable=False),
        sa.Column("label_name", sa.Text(), server_default="", nullable=False),
        sa.Column("label_codes", sa.Text(), server_default="", nullable=False),
        sa.Column("label_lightfastness", sa.Text(), server_default="", nullable=False),
        sa.Column("label_transparency", sa.Text(), server_default="", nullable=False),
        sa.Column("label_granulation", sa.Text(), server_default="", nullable=False),
        sa.Column("label_staining", sa.Text(), server_default="", nullable=False),
        sa.Column("label_health", sa.Text(), server_default="", nullable=False),
        sa.Column("label_scales", sa.Text(), server_default="", nullable=False),
        sa.Column("added", sa.Text(), nullable=False),
        sa.Column("removed", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["range"], ["ranges.id"], name=op.f("fk_paints_range")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_paints")),
        sa.UniqueConstraint("number", name=op.f("uq_paints_number")),
    )
    op.create_index(op.f("ix_paints_range"), "paints", ["range"], unique=False)
    op.create_table(
        "boxes",
        sa.Column("chart", sa.Text(), nullable=False),
        sa.Column("page", sa.Integer(), nullable=False),
        sa.Column("box", sa.Text(), nullable=False),
        sa.Column("paint", sa.Text(), nullable=True),
        sa.Column("label", sa.Text(), server_default="", nullable=False),
        sa.Column("mix", sa.JSON(), nullable=True),
        sa.Column("painted", sa.Boolean(), nullable=False),
        sa.Column("note", sa.Text(), server_default="", nullable=False),
        sa.ForeignKeyConstraint(["chart"], ["charts.id"], name=op.f("fk_boxes_chart")),
        sa.ForeignKeyConstraint(["paint"], ["paints.id"], name=op.f("fk_boxes_paint")),
        sa.PrimaryKeyConstraint("chart", "page", "box", name=op.f("pk_boxes")),
    )
    op.create_index(op.f("ix_boxes_paint"), "boxes", ["paint"], unique=False)
    op.create_table(
        "findings",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("paint", sa.Text(), nullable=False),
        sa.Column("property", sa.Text(), nullable=False),
        sa.Column("value", sa.Text(), nullable=False),
        sa.Column("scale", sa.Text(), server_default="", nullable=False),
        sa.Column("paper", sa.Integer(), nullable=True),
        sa.Column("seen", sa.Date(), nullable=False),
        sa.Column("note", sa.Text(), server_default="", nullable=False),
        sa.ForeignKeyConstraint(["paint"], ["paints.id"], name=op.f("fk_findings_paint")),
        sa.ForeignKeyConstraint(["paper"], ["papers.id"], name=op.f("fk_findings_paper")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_findings")),
    )
    op.create_index(op.f("ix_findings_paint"), "findings", ["paint"], unique=False)
    op.create_table(
        "orders",
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("paint", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["paint"], ["paints.id"], name=op.f("fk_orders_paint")),
        sa.PrimaryKeyConstraint("name", "position", name=op.f("pk_orders")),
    )
    op.create_table(
        "paint_pigments",
        sa.Column("paint", sa.Text(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["paint"], ["paints.id"], name=op.f("fk_paint_pigments_paint")),
        sa.PrimaryKeyConstraint("paint", "position", name=op.f("pk_paint_pigments")),
    )
    op.create_index(op.f("ix_paint_pigments_code"), "paint_pigments", ["code"], unique=False)
    op.create_table(
        "readings",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("page_read", sa.Integer(), nullable=True),
        sa.Column("chart", sa.Text(), nullable=True),
        sa.Column("box", sa.Text(), server_default="", nullable=False),
        sa.Column("paint", sa.Text(), nullable=True),
        sa.Column("amounts", sa.JSON(), nullable=True),
        sa.Column("zone", sa.Text(), nullable=False),
        sa.Column("ground", sa.Text(), server_default="", nullable=False),
        sa.Column("lab_l", sa.Float(), nullable=False),
        sa.Column("lab_a", sa.Float(), nullable=False),
        sa.Column("lab_b", sa.Float(), nullable=False),
        sa.Column("reflectance", sa.JSON(), nullable=True),
        sa.Column("within_delta_e00", sa.Float(), nullable=False),
        sa.Column("spread", sa.Float(), nullable=True),
        sa.Column("count", sa.Integer(), nullable=False),
        sa.Column("flags", sa.JSON(), server_default="[]", nullable=False),
        sa.Column("tier", sa.Text(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("reason", sa.Text(), server_default="", nullable=False),
        sa.Column("chosen", sa.Boolean(), nullable=False),
        sa.Column("paper", sa.Integer(), nullable=True),
        sa.Column("paper_lab", sa.JSON(), nullable=True),
        sa.Column("source", sa.Text(), server_default="", nullable=False),
        sa.Column("source_row", sa.Text(), server_default="", nullable=False),
        sa.Column("condition", sa.Text(), server_default="", nullable=False),
        sa.Column("version", sa.Text(), server_default="", nullable=False),
        sa.Column("taken", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["chart"], ["charts.id"], name=op.f("fk_readings_chart")),
        sa.ForeignKeyConstraint(["page_read"], ["page_reads.id"], name=op.f("fk_readings_page_read")),
        sa.ForeignKeyConstraint(["paint"], ["paints.id"], name=op.f("fk_readings_paint")),
        sa.ForeignKeyConstraint(["paper"], ["papers.id"], name=op.f("fk_readings_paper")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_readings")),
    )
    op.create_index(op.f("ix_readings_chart_box"), "readings", ["chart", "box"], unique=False)
    op.create_index(op.f("ix_readings_page_read"), "readings", ["page_read"], unique=False)
    op.create_index(op.f("ix_readings_paint_zone"), "readings", ["paint", "zone"], unique=False)
    op.create_table(
        "seats",
        sa.Column("tin", sa.Integer(), nullable=False),
        sa.Column("seat", sa.Text(), nullable=False),
        sa.Column("paint", sa.Text(), nullable=True),
        sa.Column("locked", sa.Boolean(), nullable=False),
        sa.Column("note", sa.Text(), server_default="", nullable=False),
        sa.ForeignKeyConstraint(["paint"], ["paints.id"], name=op.f("fk_seats_paint")),
        sa.ForeignKeyConstraint(["tin"], ["tins.id"], name=op.f("fk_seats_tin")),
        sa.PrimaryKeyConstraint("tin", "seat", name=op.f("pk_seats")),
    )
    op.create_table(
        "stock",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("paint", sa.Text(), nullable=False),
        sa.Column("form", sa.Text(), server_default="", nullable=False),
        sa.Column("size_ml", sa.Float(), nullable=True),
        sa.Column("price", sa.Float(), nullable=True),
        sa.Column("currency", sa.Text(), server_default="", nullable=False),
        sa.Column("batch", sa.Text(), server_default="", nullable=False),
        sa.Column("bought", sa.Date(), nullable=True),
        sa.Column("amount_left", sa.Float(), nullable=True),
        sa.Column("weight_g", sa.Float(), nullable=True),
        sa.Column("empty_g", sa.Float(), nullable=True),
        sa.Column("hard", sa.Boolean(), nullable=False),
        sa.Column("last_used", sa.Date(), nullable=True),
        sa.Column("place", sa.Text(), server_default="", nullable=False),
        sa.Column("gone", sa.Text(), nullable=True),
        sa.ForeignKeyConstraint(["paint"], ["paints.id"], name=op.f("fk_stock_paint")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_stock")),
    )
    op.create_index(op.f("ix_stock_paint"), "stock", ["paint"], unique=False)
    op.create_table(
        "swatches",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("page_read", sa.Integer(), nullable=True),
        sa.Column("chart", sa.Text(), nullable=True),
        sa.Column("box", sa.Text(), server_default="", nullable=False),
        sa.Column("paint", sa.Text(), nullable=True),
        sa.Column("measures", sa.JSON(), nullable=False),
        sa.Column("state", sa.Text(), nullable=False),
        sa.Column("chosen", sa.Boolean(), nullable=False),
        sa.Column("version", sa.Text(), server_default="", nullable=False),
        sa.Column("taken", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["chart"], ["charts.id"], name=op.f("fk_swatches_chart")),
        sa.ForeignKeyConstraint(["page_read"], ["page_reads.id"], name=op.f("fk_swatches_page_read")),
        sa.ForeignKeyConstraint(["paint"], ["paints.id"], name=op.f("fk_swatches_paint")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_swatches")),
    )
    op.create_index(op.f("ix_swatches_page_read"), "swatches", ["page_read"], unique=False)
    op.create_index(op.f("ix_swatches_paint"), "swatches", ["paint"], unique=False)
    op.create_table(
        "wishes",
        sa.Column("paint", sa.Text(), nullable=False),
        sa.Column("why", sa.Text(), server_default="", nullable=False),
        sa.Column("added", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(["paint"], ["paints.id"], name=op.f("fk_wishes_paint")),
        sa.PrimaryKeyConstraint("paint", name=op.f("pk_wishes")),
    )
    op.create_table(
        "exposures",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("light_test", sa.Integer(), nullable=False),
        sa.Column("paint", sa.Text(), nullable=True),
        sa.Column("box", sa.Text(), server_default="", nullable=False),
        sa.Column("kept_reading", sa.Integer(), nullable=True),
        sa.Column("exposed_reading", sa.Integer(), nullable=True),
        sa.Column("days", sa.Float(), nullable=True),
        sa.Column("dose", sa.JSON(), server_default="{}", nullable=False),
        sa.Column("looked", sa.Text(), nullable=False),
        sa.Column("note", sa.Text(), server_default="", nullable=False),
        sa.ForeignKeyConstraint(
            ["exposed_reading"], ["readings.id"], name=op.f("fk_exposures_exposed_reading")
        ),
        sa.ForeignKeyConstraint(["kept_reading"], ["readings.id"], name=op.f("fk_exposures_kept_reading")),
        sa.ForeignKeyConstraint(["light_test"], ["light_tests.id"], name=op.f("fk_exposures_light_test")),
        sa.ForeignKeyConstraint(["paint"], ["paints.id"], name=op.f("fk_exposures_paint")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_exposures")),
    )
    op.create_index(op.f("ix_exposures_light_test"), "exposures", ["light_test"], unique=False)
    op.create_table(
        "mixes",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), server_default="", nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("paper", sa.Integer(), nullable=True),
        sa.Column("photo", sa.Text(), nullable=True),
        sa.Column("reading", sa.Integer(), nullable=True),
        sa.Column("painted", sa.Text(), nullable=False),
        sa.Column("notes", sa.Text(), server_default="", nullable=False),
        sa.ForeignKeyConstraint(["paper"], ["papers.id"], name=op.f("fk_mixes_paper")),
        sa.ForeignKeyConstraint(["photo"], ["photos.sha256"], name=op.f("fk_mixes_photo")),
        sa.ForeignKeyConstraint(["reading"], ["readings.id"], name=op.f("fk_mixes_reading")),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_mixes")),
    )
    op.create_table(
        "mix_parts",
        sa.Column("mix", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.Column("paint", sa.Text(), nullable=False),
        sa.Column("parts", sa.Float(), nullable=False),
        sa.ForeignKeyConstraint(["mix"], ["mixes.id"], name=op.f("fk_mix_parts_mix")),
        sa.ForeignKeyConstraint(["paint"], ["paints.id"], name=op.f("fk_mix_parts_paint")),
        sa.PrimaryKeyConstraint("mix", "position", name=op.f("pk_mix_parts")),
    )
