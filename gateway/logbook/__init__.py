"""Entry format, hash chains, sealed parts, verification. Knows only plain data."""
