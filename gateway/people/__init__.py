"""Who: numbers, rights, hours."""
