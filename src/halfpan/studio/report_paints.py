"""All that is known of a collection on one page that can be kept, printed and sent."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from halfpan.core.arranging.kin import find_kin
from halfpan.core.arranging.likeness import find_likenesses, in_words
from halfpan.core.arranging.order import FAMILY_WORDS, Placed, in_order
from halfpan.core.arranging.painted import Painted
from halfpan.core.arranging.ranges import Glance, glance
from halfpan.core.colour.screen import lab_to_hex
from halfpan.core.paint.cautions import DEFER, cautions
from halfpan.files.report import Dot, Plot, Report, Section, Table, Words, write_report
from halfpan.studio.check_labels import check_paint
from halfpan.studio.paint_names import names_of
from halfpan.studio.painted_paints import Gathered, gather_painted
from halfpan.studio.studio import Studio


def report_paints(studio: Studio, path: Path, *, now: datetime) -> Path:
    """Write the report of the owned paints and return where it lies."""
    with studio.look() as db:
        known = gather_painted(db)
    write_report(path, paints_report(known, now=now))
    return path


def paints_report(known: Gathered, *, now: datetime) -> Report:
    """Return the report of some gathered paints: order, labels, witnesses, likeness, cautions, counts."""
    mine = known.owned()
    named = names_of(known.paints().values())
    seen = glance(mine, known.repeat)
    placed = in_order(mine)
    lead = (
        f"{seen.paints} paints, {seen.read} of them painted and read. Label, literature and proof are kept "
        "apart; what nobody says is left open."
    )
    sections = (
        Section(
            "In order", _order(placed, known, named), "By hue at mid strength. A proposal, not your own."
        ),
        Section("At a glance", (_counts(seen),), "Each witness is counted apart."),
        Section("They disagree", _disagreements(mine), "Where two witnesses can be compared and differ."),
        Section("Alike", _alike(mine, known, named), known.repeat.in_words()),
        Section("Labels to look at", _labels(mine), "Nothing was changed."),
        Section("Cautions", _cautions(mine), DEFER),
    )
    day = f"{now.day} {now:%B %Y}"
    return Report("Your paints", lead, sections, f"{day}. Screen colours are approximate.")


def _order(placed: Sequence[Placed], known: Gathered, named: dict[str, str]) -> list[Plot | Table]:
    dots = []
    for one in placed:
        swatch = known.painted[one.paint].swatch
        if swatch is not None and swatch.masstone is not None:
            lab = swatch.masstone
            dots.append(Dot(lab[1], lab[2], lab_to_hex(lab), name=named[one.paint]))
    families = {one.family: [p for p in placed if p.family == one.family] for one in placed}
    rows = [
        (FAMILY_WORDS[family], str(len(members)), " · ".join(named[p.paint] for p in members))
        for family, members in families.items()
    ]
    table = Table(("family", "paints", "in this order"), rows, ("paints",))
    note = "Every paint at full strength, as it was read; rest the pointer on a dot for its name."
    return [Plot(dots, note), table] if dots else [table]


def _counts(seen: Glance) -> Table:
    rows = [(c.question, c.witness, str(c.yes), str(c.no), str(c.unknown)) for c in seen.counts]
    return Table(("", "by", "yes", "no", "unknown"), rows, ("yes", "no", "unknown"))


def _disagreements(mine: Sequence[Painted]) -> list[Table | Words]:
    rows = [
        (one.paint.name, one.paint.maker, told.property, told.disagreement)
        for one in mine
        for told in one.statements()
        if told.disagreement
    ]
    return [Table(("paint", "maker", "about", ""), rows)] if rows else [Words("No two witnesses differ.")]


def _alike(mine: Sequence[Painted], known: Gathered, named: dict[str, str]) -> list[Table | Words]:
    pairs = [
        (named[one.first], named[one.second], one.kind, in_words(one, known.repeat))
        for one in find_likenesses(mine, known.repeat)
    ]
    groups = [
        (" · ".join(named[p] for p in kin.paints), kin.kind, kin.sentence)
        for kin in find_kin(mine, known.repeat)
    ]
    matter: list[Table | Words] = []
    if pairs:
        matter.append(Table(("paint", "and", "kind", ""), pairs))
    if groups:
        matter.append(Table(("paints", "kind", ""), groups))
    return matter or [Words("Nothing is alike.")]


def _labels(mine: Sequence[Painted]) -> list[Table | Words]:
    rows = [
        (one.paint.name, remark.about, remark.text, remark.proposal or "")
        for one in mine
        for remark in check_paint(one.paint).remarks
        if remark.level == "asked"
    ]
    headings = ("paint", "printed", "what", "perhaps")
    return [Table(headings, rows)] if rows else [Words("No label asks a question.")]


def _cautions(mine: Sequence[Painted]) -> list[Table | Words]:
    rows = [
        (one.paint.name, caution.witness, caution.text, caution.source)
        for one in mine
        for caution in cautions(one.paint)
    ]
    quiet = sum(1 for one in mine if not cautions(one.paint))
    words = Words(f"For {quiet} paints no caution is recorded here. That is no statement about them.")
    return [Table(("paint", "witness", "caution", "source"), rows), words] if rows else [words]
