"""Go through the labels of a studio: codes that cannot be read, do not exist, or do not fit the name."""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.collection import paints
from halfpan.core.paint.checking import Checked, check_label
from halfpan.core.paint.contents import Contents, contents
from halfpan.core.paint.paint import Paint
from halfpan.studio.studio import Studio


@dataclass(frozen=True, slots=True)
class PaintChecked:
    """One paint, the remarks on its label, and what is in it by its codes as they stand now."""

    paint: Paint
    checked: Checked
    contents: Contents


def check_labels(studio: Studio) -> list[PaintChecked]:
    """Return every paint with its remarks; nothing is changed.

    A label that was corrected is checked as it stands now: the correction is the answer to what its
    print asked.
    """
    with studio.look() as db:
        everything = paints.listed(db)
    return [PaintChecked(one, check_paint(one), contents(one.name, one.codes)) for one in everything]


def check_paint(paint: Paint) -> Checked:
    """Return the remarks on one paint."""
    printed = check_label(paint.name, paint.label.codes or " + ".join(paint.codes))
    unread = tuple(code.canonical or code.as_written for code in printed.read)
    if paint.codes in {printed.codes, unread}:
        return printed
    return check_label(paint.name, " + ".join(paint.codes))
