"""Light as numbers; has never heard of paint."""
