"""The studio page: same nouns and use cases as the commands, no decisions."""
