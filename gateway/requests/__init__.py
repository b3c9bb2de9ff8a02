"""The life of one request to switch something: allowed, authority, confirmation, interlocks, carrying out, proof."""
