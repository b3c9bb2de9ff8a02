"""The desk without the world: what would be understood and answered, with nothing sent and nothing written. Pure."""
