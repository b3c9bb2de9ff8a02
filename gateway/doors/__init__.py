"""The world, one file per outside library. Thin: foreign objects in, own values out, own errors only."""
