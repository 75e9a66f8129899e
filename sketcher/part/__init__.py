"""The document: an immutable value, its binding kinds, edits, history, images and file store."""
