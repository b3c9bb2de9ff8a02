"""Values that every room passes on. Frozen, typed, and free of any idea of how the world is reached."""
