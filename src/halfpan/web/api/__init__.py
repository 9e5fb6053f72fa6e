"""The same answers as documents for programs, under ``/api``; the documents of ``--json``."""
