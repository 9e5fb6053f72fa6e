"""Pages for people: one file a noun, each route parse, one use case, present."""
