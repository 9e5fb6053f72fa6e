"""Refusals: one root, each leaf a sentence a painter understands.

A refusal says what happened, to which file or paint, and what to try. It carries no status code, no HTML
and no exit code; the command line and the page translate it once, at their edge. A bug is any other
exception and is never turned into a message.
"""

from __future__ import annotations


class HalfpanError(Exception):
    """Something Halfpan declines to do, said in one plain sentence."""


class UnknownPaint(HalfpanError):
    """No paint, or more than one, answers to the id or name that was given."""


class UnknownChart(HalfpanError):
    """The chart that was named, or found on the sheet, is not in this studio."""


class UnreadablePhoto(HalfpanError):
    """A picture cannot be opened, or nothing on it can be promised."""


class UnreadableTable(HalfpanError):
    """A list or instrument file cannot be understood."""


class Unwritable(HalfpanError):
    """A file cannot be written where it was asked for."""


class BadLayout(HalfpanError):
    """What was asked for does not fit on the sheet."""


class StudioTrouble(HalfpanError):
    """The studio folder cannot be opened, is newer than this program, or is in use."""


class NotLearnt(HalfpanError):
    """The answer needs readings that this studio does not hold yet."""


class BadRequest(HalfpanError):
    """A value that was typed cannot be used."""
