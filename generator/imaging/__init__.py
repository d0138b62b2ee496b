"""Pictures: decoded with care whoever sent them, made upright, sRGB and bare of metadata, and encoded for pages. Knows Pillow, no batches."""
