"""Use cases, one verb a file: gather, decide, keep."""
