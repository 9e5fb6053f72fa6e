"""The commands: same nouns and use cases as the page, no decisions."""
